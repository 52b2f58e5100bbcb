package packs

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
)

// office is the office's pack of a plan with few draws, and the pages of one sheet of it.
func office(t testing.TB, in Input, code string, draws int) (*Made, []drawing.Page) {
	t.Helper()
	made, err := Make(context.Background(), in, Asked{Kind: Office, Draws: draws}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range made.Sheets {
		if s.Code == code {
			return made, made.Document.Pages[s.First : s.First+s.Pages]
		}
	}
	t.Fatalf("the pack has no sheet %s", code)
	return nil, nil
}

// each calls a function for every item of pages, layers and views, with the view it is
// in; nil on the page itself.
func each(pages []drawing.Page, do func(drawing.Item, *drawing.View)) {
	var walk func([]drawing.Item, *drawing.View)
	walk = func(items []drawing.Item, v *drawing.View) {
		for _, item := range items {
			do(item, v)
			switch it := item.(type) {
			case *drawing.Layer:
				walk(it.Items, v)
			case *drawing.View:
				walk(it.Items, it)
			}
		}
	}
	for i := range pages {
		walk(pages[i].Items, nil)
	}
}

// read is all words of pages in the order they are drawn.
func read(pages []drawing.Page) string {
	var words []string
	each(pages, func(item drawing.Item, _ *drawing.View) {
		if t, ok := item.(*drawing.Text); ok {
			words = append(words, t.S)
		}
	})
	return strings.Join(words, " ")
}

// The map on paper has the field's own cells, each as large as it is on the ground, and
// the ramp beside it every colour of it.
func TestA14_TheMapOnPaperIsTheFields(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	e := new(design.Engine)
	if _, err := e.Run(context.Background(), in.Plan); err != nil {
		t.Fatal(err)
	}
	frame, cells := e.Field().Frame(), e.Field().Cells(e.Field().Frame().All())
	_, pages := office(t, in, "F2", -1)
	var maps, ramps int
	each(pages, func(item drawing.Item, v *drawing.View) {
		img, ok := item.(*drawing.Image)
		switch {
		case !ok:
		case v == nil:
			ramps++
			if !slices.Equal(img.Inks, mapInks()) || img.Columns != 200 || img.Cells[0] != 1 || img.Cells[199] != 200 {
				t.Error("the ramp does not go through the colours of the map")
			}
		default:
			maps++
			x0, y0 := frame.Place(img.Box.Min)
			if float64(int(x0)) != x0 || float64(int(y0)) != y0 {
				t.Fatalf("the map starts at cell %v, %v", x0, y0)
			}
			if w := img.Box.Max[0] - img.Box.Min[0]; w != float64(img.Columns)*frame.Cell {
				t.Errorf("%d cells of %v ft are drawn %v ft wide", img.Columns, frame.Cell, w)
			}
			for row := range img.Rows {
				y := int(y0) + img.Rows - 1 - row
				want := cells[y*frame.NX+int(x0):][:img.Columns]
				if got := img.Cells[row*img.Columns:][:img.Columns]; !bytes.Equal(got, want) {
					t.Fatalf("row %d of the map is not the field's", row)
				}
			}
			if !slices.Equal(img.Inks, mapInks()) {
				t.Error("the map has other inks than its bytes stand for")
			}
			if seen := (orb.Bound{Min: v.ToPage(img.Box.Min), Max: v.ToPage(img.Box.Max)}); !seen.Intersects(v.Box) {
				t.Error("the map lies outside of its view")
			}
		}
	})
	if maps != 1 || ramps != 1 {
		t.Errorf("%d maps and %d ramps", maps, ramps)
	}
	words := read(pages)
	for _, k := range mapClasses() {
		if first, _, _ := strings.Cut(k.words, ":"); !strings.Contains(words, first) {
			t.Errorf("the legend lacks %q", k.words)
		}
	}
}

// Numbers stand on ground of their class, light lines over ground that gets more than
// the mean, and the hatch over water off its target: what is read without colour.
func TestA14_TheMapReadsWithoutColour(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	m, err := waterOf(context.Background(), in.Plan)
	if err != nil {
		t.Fatal(err)
	}
	wet := m.bound(m.wet())
	v := &drawing.View{Box: orb.Bound{Max: orb.Point{500, 450}}, Middle: wet.Center(), PerFoot: 3.6}
	byteAt := func(ft orb.Point) byte {
		x, y, ok := m.frame.CellOf(ft)
		if !ok {
			return 0
		}
		return m.at(x, y)
	}
	seen := map[string]int{}
	for _, item := range m.numbers(v, 1, nil) {
		text := item.(*drawing.Text)
		at := v.ToGround(orb.Point{text.At[0], text.At[1] + 0.36*text.Size})
		if got := itoa(classOf(byteAt(at))); got != text.S {
			t.Errorf("%s stands at %v on ground of class %s", text.S, at, got)
		}
		seen[text.S]++
	}
	if seen["1"] == 0 || seen["2"] == 0 || seen["4"] == 0 || seen["5"] == 0 || seen["3"] != 0 {
		t.Errorf("numbers on the demo's map: %v", seen)
	}
	for name, c := range map[string]struct {
		items []drawing.Item
		holds func(byte) bool
	}{
		"stripes": {m.stripes(v), func(b byte) bool { return classOf(b) > unnumbered }},
		"hatch":   {m.hatch(v), offMap},
	} {
		on, all := 0, 0
		for _, item := range c.items {
			l := item.(*drawing.Line)
			for k := range 9 {
				s := (float64(k) + 0.5) / 9
				all++
				if c.holds(byteAt(orb.Point{l.Points[0][0] + s*(l.Points[1][0]-l.Points[0][0]), l.Points[0][1] + s*(l.Points[1][1]-l.Points[0][1])})) {
					on++
				}
			}
		}
		if all < 100 || float64(on) < 0.93*float64(all) { // lines end within a quarter of a cell
			t.Errorf("%s: %d of %d places on their ground", name, on, all)
		}
	}
	if taken := m.numbers(v, 1, []orb.Bound{v.Box}); len(taken) != 0 {
		t.Errorf("%d numbers on what is taken", len(taken))
	}
}

// The field estimate and the windy day on paper are those the report asks for.
func TestTheFieldEstimateOnPaperIsTheReports(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	const draws = 3
	want, err := design.Ask(context.Background(), in.Plan, coverage.UsualSeed, draws)
	if err != nil {
		t.Fatal(err)
	}
	b, err := newBuilder(context.Background(), in, Asked{Kind: Office, Draws: draws})
	if err != nil {
		t.Fatal(err)
	}
	b.tell = func(string, float64) {}
	got, err := b.estimated()
	if err != nil {
		t.Fatal(err)
	}
	want.Windows = nil // not on paper
	if d := cmp.Diff(want, got); d != "" {
		t.Fatal(d)
	}
	_, pages := office(t, in, "F2", draws)
	words := read(pages)
	if !strings.Contains(words, "3 installations drawn from seed 1") {
		t.Error("draws and seed are not printed")
	}
	for _, e := range want.Estimate.Areas {
		var windy design.WindyArea
		for _, a := range want.Windy.Areas {
			if a.ID == e.ID {
				windy = a
			}
		}
		row := strings.Join([]string{in.Plan.Show.Percent(e.Mean), in.Plan.Show.Percent(e.P10), in.Plan.Show.Percent(windy.DU), in.Plan.Show.Percent(e.Off)}, " ")
		if !strings.Contains(words, row) {
			t.Errorf("%s: no row %q", in.Plan.AreaName(e.ID), row)
		}
	}
}

// A pack that is called off ends with its context; what it tells until then goes
// forward and names the installations drawn.
func TestAnOfficePackCanBeCalledOff(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	last := 0.0
	var steps []string
	_, err := Make(ctx, in, Asked{Kind: Office}, func(step string, share float64) {
		if share < last || share > 1 {
			t.Errorf("%q at %v after %v", step, share, last)
		}
		last = share
		steps = append(steps, step)
		if step == "Field estimate: 2 of 40 installations" {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("the error is %v", err)
	}
	if n := len(steps); n == 0 || steps[n-1] != "Field estimate: 2 of 40 installations" {
		t.Errorf("it went on: %q", steps)
	}
}

// Every finding of the demo is on its sheet, what to do about a cause once, and what
// was accepted with reason, name and date.
func TestEveryFindingIsOnPaper(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	_, pages := office(t, in, "F5", -1)
	words := read(pages)
	accepted := 0
	for _, f := range in.Design.Findings {
		for _, s := range []string{f.Title, f.Sentence, "Rule: " + f.Source} {
			if !strings.Contains(words, s) {
				t.Errorf("no %q", s)
			}
		}
		if a := f.Accepted; a != nil {
			accepted++
			if !strings.Contains(words, sheets.AcceptedWords(a)) {
				t.Errorf("%s: accepted without its reason", f.Code)
			}
		} else if n := strings.Count(words, "Do: "+f.Do); n != 1 {
			t.Errorf("%s: what to do is said %d times", f.Code, n)
		}
	}
	if accepted == 0 {
		t.Error("the demo has no accepted finding to look for")
	}
}

// What the plan notes of permits is on the cover, and what it lacks is named.
func TestTheCoverNamesWhatIsMissing(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Lot", units.US)
	p.Site = plan.Site{
		LocateOn: "2026-05-01", LocateTicket: "T-1", Address: "12 Elm Street", Permit: "P-7", PermitOn: "2026-04-02", Licence: "R. Vale, irrigator 4711",
		AssociationOn: "2026-04-03", RightOfWayOn: "2026-04-04", BackflowTestedOn: "2026-06-05",
	}
	if rows, missing := papersOf(p); len(missing) != 0 || len(rows) != 6 {
		t.Errorf("of a whole plan: %q, %q", rows, missing)
	}
	for name, c := range map[string]struct {
		change func(*plan.Site)
		says   string
	}{
		"locate":       {func(s *plan.Site) { s.LocateOn, s.LocateTicket = "", "" }, "No digging"},
		"locate date":  {func(s *plan.Site) { s.LocateOn = "" }, "date of the locate request"},
		"address":      {func(s *plan.Site) { s.Address = "" }, "address"},
		"permit":       {func(s *plan.Site) { s.Permit, s.PermitOn = "", "" }, "permit, where local law wants one"},
		"number":       {func(s *plan.Site) { s.Permit = "" }, "number of the permit"},
		"date":         {func(s *plan.Site) { s.PermitOn = "" }, "date of the permit"},
		"licence":      {func(s *plan.Site) { s.Licence = "" }, "licensed irrigator"},
		"association":  {func(s *plan.Site) { s.AssociationOn = "" }, "association"},
		"right of way": {func(s *plan.Site) { s.RightOfWayOn = "" }, "right of way"},
		"backflow":     {func(s *plan.Site) { s.BackflowTestedOn = "" }, "licensed tester"},
	} {
		q := *p
		c.change(&q.Site)
		if _, missing := papersOf(&q); len(missing) != 1 || !strings.Contains(missing[0], c.says) {
			t.Errorf("without %s: %q", name, missing)
		}
	}
}

// Whatever a plan lacks, its office pack comes out and says so.
func TestAnOfficePackOfLittle(t *testing.T) {
	t.Parallel()
	lone := drawnYard("One head", units.Metric, 30, 20)
	setHead(lone, addZone(lone, 1, "Only", 2, 3), 1, "spray-12-f", 10, 10, 0, 360)
	bare := plan.Empty("Bare", units.US)
	bare.Areas = map[plan.ID]plan.Area{"p": {Name: "Walk", Kind: plan.Paving, Outline: rectangle(0, 0, 9, 9), Status: plan.Existing}}
	for name, c := range map[string]struct {
		p    *plan.Plan
		says string
	}{
		"nothing":     {plan.Empty("", units.US), "Plan without a name"},
		"a walk":      {bare, "No planting is watered yet"},
		"one head":    {lone, "1 head and 1 zone"},
		"far from it": {farOff(), "Wherever"},
	} {
		in := designed(t, c.p)
		made, err := Make(context.Background(), in, Asked{Kind: Office, Draws: 1}, nil)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if words := read(made.Document.Pages); !strings.Contains(words, c.says) {
			t.Errorf("%s: the pack does not say %q", name, c.says)
		}
		var b bytes.Buffer
		if err := drawing.WritePDF(&b, made.Document, ""); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// farOff is a yard a long way from the origin.
func farOff() *plan.Plan {
	p := plan.Empty("Wherever", units.US)
	p.Areas = map[plan.ID]plan.Area{"a": {Name: "Lawn", Kind: plan.Planting, Outline: rectangle(30_000, -30_000, 30_030, -29_970), Status: plan.Existing}}
	return p
}

func BenchmarkOfficePack(b *testing.B) {
	in := designed(b, hundredHeads())
	for name, draws := range map[string]int{"without estimate": -1, "with estimate": 0} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Make(context.Background(), in, Asked{Kind: Office, Draws: draws}, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
