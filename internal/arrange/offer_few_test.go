package arrange

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Of every shape of the page of layouts, and of plain yards, three to five layouts
// are offered, or a sentence says why not; no two of them are near twins.
func TestOffersAreThreeOrSaid(t *testing.T) {
	t.Parallel()
	type asked struct {
		name string
		p    *plan.Plan
		o    Options
	}
	var all []asked
	add := func(name string, p *plan.Plan, o Options) {
		if o.Effort = 200; thorough() {
			o.Effort = 15_000
		}
		all = append(all, asked{name, p, o})
	}
	for _, sh := range ownShapes {
		p := plan.Empty("shape", units.US)
		p.Areas = map[plan.ID]plan.Area{"a": lawn(sh.outline, sh.holes...)}
		add(sh.name, p, Usual())
		if o := Usual(); thorough() || sh.small {
			o.Families = []catalog.Family{catalog.Spray}
			add(sh.name+", sprays", p, o)
		}
	}
	for _, sh := range referenceShapes {
		add(sh.name, referencePlan(sh.outline, sh.holes), referenceOptions(catalog.Spray, 0.05))
	}
	o := Usual()
	o.Areas = []plan.ID{"lawn"}
	add("25x25, fence and bed", plainYard(25, 25, true, false, false, true, false), o)
	add("60x7", plainYard(60, 7, false, false, false, false, false), o)
	add("60x5, walk and drive", plainYard(60, 5, false, true, true, false, false), o)
	add("12x12 between everything", plainYard(12, 12, true, true, true, true, true), o)
	for _, v := range all {
		t.Run(v.name, func(t *testing.T) {
			t.Parallel()
			got, err := Propose(context.Background(), v.p, v.o, nil)
			if err != nil {
				t.Fatal(err)
			}
			fewIsSaid(t, got)
			noTwins(t, got)
		})
	}
}

// fewIsSaid holds that there are three to five offers, or it is said why not.
func fewIsSaid(t *testing.T, got *Proposal) {
	t.Helper()
	said := slices.ContainsFunc(got.Notes, func(s string) bool { return strings.HasPrefix(s, "Only ") })
	switch n := len(got.Offers); {
	case n == 0:
		for _, a := range got.Answers {
			if a.Why == "" {
				t.Errorf("%s: nothing, and no word why", a.Area)
			}
		}
	case n > 5:
		t.Errorf("%d offers", n)
	case said != (n < 3):
		t.Errorf("%d offers, and it is said: %q", n, got.Notes)
	}
}

// noTwins holds of any two layouts of an area that each is better than the other by
// something people choose by, or neater, or of another family; the first to take may
// be better by a shade of all.
func noTwins(t *testing.T, got *Proposal) {
	t.Helper()
	for _, a := range got.Answers {
		for i, l := range a.Layouts {
			for k, first := range a.Layouts[:i] {
				if why := speaks(&l, &first); why == "" {
					t.Errorf("%d is no better than %d by anything: %s | %s", i, k, l.Says, first.Says)
				}
			}
		}
	}
}

// speaks says what speaks for a layout beside another, "" for nothing. The steps are
// those of better, written apart.
func speaks(a, b *Layout) string {
	m, n := &a.Measures, &b.Measures
	switch {
	case a.Family != b.Family:
		return "another family"
	case a.Tidy && !b.Tidy:
		return "neater"
	case m.Heads < n.Heads && 25*(n.Heads-m.Heads) >= n.Heads:
		return "fewer heads"
	case m.FieldP10-n.FieldP10 > 0.01, m.DU-n.DU > 0.02:
		return "more even"
	case n.PastEdge-m.PastEdge > 0.01:
		return "less past the edge"
	case n.Settings-m.Settings >= 2:
		return "fewer settings"
	}
	return ""
}

// Of several areas it is said which have one layout and why.
func TestFewOffersOfSeveralAreas(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Narrow", "us")
	p.Areas = map[plan.ID]plan.Area{
		"a1": {Name: "Verge", Kind: plan.Planting, Outline: rect(0, 0, 60, 7)},
		"a2": {Name: "Corner", Kind: plan.Planting, Outline: rect(0, 40, 60, 47)},
	}
	got, err := Propose(context.Background(), p, quick(), nil)
	if err != nil {
		t.Fatal(err)
	}
	note := ""
	for _, s := range got.Notes {
		if strings.HasPrefix(s, "Only ") || strings.HasPrefix(s, "Every offer ") {
			note = s
		}
	}
	one := 0
	for _, a := range got.Answers {
		if len(a.Layouts) == 1 {
			one++
		}
	}
	if len(got.Offers) < 3 && !strings.HasPrefix(note, "Only ") || one > 0 && !strings.Contains(note, "Verge") {
		t.Errorf("%d offers, %d areas with one layout: %q", len(got.Offers), one, got.Notes)
	}
}

// What was found and is not offered is counted by the first reason that holds.
func TestWhatIsLeftOutIsCounted(t *testing.T) {
	t.Parallel()
	p, g := lawnPlan(40, 22)
	of := func(heads int, du, field, past units.Ratio, change func(f *finalist)) finalist {
		f := finalist{key: fmt.Sprint(heads, du, field, past), bare: past, m: Measures{Heads: heads, DU: du, FieldP10: field, PastEdge: past, HeadToHead: 1, Settings: 3}}
		if change != nil {
			change(&f)
		}
		return f
	}
	j := &job{p: p, o: Usual(), ground: g, kits: []*kit{{family: catalog.Stream}}, pool: []finalist{
		of(10, 0.90, 0.80, 0.01, nil),
		of(10, 0.91, 0.80, 0.08, nil),
		of(9, 0.80, 0.72, 0.01, nil),
		of(8, 0.86, 0.66, 0.01, nil),
		of(12, 0.90, 0.79, 0.01, func(f *finalist) { f.m.Blamed = 1 }),
		of(13, 0.90, 0.79, 0.01, func(f *finalist) { f.m.HeadToHead = 0.9 }),
		of(10, 0.905, 0.79, 0.01, nil),
	}}
	if got, want := j.leftOut(), [reasons]int{1, 1, 1, 1, 1, 1}; got != want {
		t.Errorf("left out %v, want %v", got, want)
	}
	if got, want := leftWords(p, [reasons]int{leftPast: 2, leftUneven: 1}), "of 3 others that were found, 2 wet more past the edge than may be and 1 is less than 85 % even."; got != want {
		t.Errorf("%q", got)
	}
	if got, want := leftWords(p, [reasons]int{leftApart: 1}), "the one other that was found has heads too far apart."; got != want {
		t.Errorf("%q", got)
	}
	if got := leftWords(p, [reasons]int{}); got != "the search found no other." {
		t.Errorf("%q", got)
	}
}

// Where layouts within a throw of each other are few, one within a tenth more is
// offered, and it is said.
func TestHeadsATenthApartAreOfferedAndSaid(t *testing.T) {
	t.Parallel()
	p, g := lawnPlan(40, 22)
	of := func(heads, apart int, field units.Ratio) finalist {
		return finalist{key: fmt.Sprint(heads), m: Measures{Heads: heads, DU: 0.9, FieldP10: field, FieldMean: field, HeadToHead: 1, Settings: 3, Apart: apart}}
	}
	j := &job{p: p, o: Usual(), ground: g, kits: []*kit{{family: catalog.Stream}}, pool: []finalist{of(10, 0, 0.80), of(8, 3, 0.78), of(9, 2, 0.765)}}
	c := j.choose()
	if len(c.list) != 2 || c.list[0].m.Heads != 10 || c.list[1].m.Heads != 8 || c.role[roleSpare] != 1 {
		t.Fatalf("%d layouts, roles %v", len(c.list), c.role)
	}
	if s := apartWords(&c.list[1].m); !strings.HasPrefix(s, " 3 heads stand up to a tenth of a throw farther than head to head") {
		t.Errorf("%q", s)
	}
	j.pool = append(j.pool, of(7, 0, 0.75), of(12, 0, 0.83))
	if c := j.choose(); len(c.list) != 3 || slices.ContainsFunc(c.list, func(f finalist) bool { return f.m.Apart > 0 }) {
		t.Errorf("%d layouts where three keep together", len(c.list))
	}
}
