package packs

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/sheets"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
	"evenfall/internal/zones"
)

// What is printed is held here to the plan itself, and not to what a list in the making
// says of it.

// Every line of parts of every card is set, with its own count and item.
func TestEveryLineOfACardIsSet(t *testing.T) {
	t.Parallel()
	b := building(t, demoInput(t), Crew, Letter)
	said := writtenOn(oneSheet(t, demoInput(t), Crew, Letter, "C9"))
	lines := 0
	for _, c := range b.allCards() {
		rows := partsOf(c.parts, 1e4)
		if len(rows) != len(c.parts.Rows) {
			t.Fatalf("%s: %d lines of %d are set", c.title, len(rows), len(c.parts.Rows))
		}
		for i, r := range c.parts.Rows {
			lines++
			if item := strings.Join(rows[i].item, " "); item != r[0] || !strings.HasPrefix(rows[i].count, r[1]) {
				t.Errorf("%s: %q %q is set for %q", c.title, rows[i].count, item, r)
			}
			if !strings.Contains(said, rows[i].count+" "+r[0]) {
				t.Errorf("%s: %s %s is on no card", c.title, rows[i].count, r[0])
			}
		}
	}
	if lines < 40 {
		t.Errorf("only %d lines", lines)
	}
}

// Every sleeve of a plan stands in the list of sleeves with its length by the tape, and is
// drawn among all and larger beside the others of its crossing.
func TestEverySleeveIsListedAndDrawn(t *testing.T) {
	t.Parallel()
	for _, in := range []Input{demoInput(t), demoRouted(t, "demo")} {
		laid := sheets.LaidSleeves(in.Plan, in.Design.Digs)
		if len(laid) == 0 {
			t.Fatal("no sleeves")
		}
		pages := oneSheet(t, in, Crew, Letter, "C7")
		said, drawn := writtenOn(pages), map[string]int{}
		for _, w := range drawnWords(pages) {
			if n, is := strings.CutPrefix(w, "sleeve "); is {
				drawn[strings.TrimSuffix(n, ":")]++
			}
		}
		for i, s := range laid {
			n := itoa(i + 1)
			if !regexp.MustCompile(`\b` + n + ` ` + regexp.QuoteMeta(plan.Capital(s.Under)) + ` .{1,160}?` + regexp.QuoteMeta(in.Plan.Show.Length(s.Length()))).MatchString(said) {
				t.Errorf("sleeve %s under %s is not listed with its length %s", n, s.Under, in.Plan.Show.Length(s.Length()))
			}
			if drawn[n] < 2 {
				t.Errorf("sleeve %s is drawn %d times, want it among all and larger", n, drawn[n])
			}
		}
	}
}

// drawnWords are the texts of pages by themselves, those inside of views too.
func drawnWords(pages []*page) []string {
	var out []string
	for _, q := range pages {
		var look func(items []drawing.Item)
		look = func(items []drawing.Item) {
			for _, it := range items {
				switch v := it.(type) {
				case *drawing.Layer:
					look(v.Items)
				case *drawing.View:
					look(v.Items)
				case *drawing.Text:
					out = append(out, v.S)
				}
			}
		}
		look(q.Items)
	}
	return out
}

// The arrow of a sheet points where the plan itself says north is, whichever way the
// drawing is turned.
func TestTheArrowPointsNorth(t *testing.T) {
	t.Parallel()
	for _, deg := range []units.Degrees{0, 37, 90, -45, 180} {
		p := emptyPlan("Turned")
		p.Site.NorthDeg = deg
		b := bare(t, p, Asked{Paper: Letter, Scale: 120})
		if err := b.make(sheet{code: "C3", title: "Layout plan", make: func(b *builder) error {
			return b.planPages(planSheet{bounds: orb.Bound{Max: orb.Point{30, 20}}, fill: func(*page, *drawing.View) error { return nil }})
		}}); err != nil {
			t.Fatal(err)
		}
		var ring *drawing.Arc
		var letter *drawing.Text
		for _, it := range b.finish().Document.Pages[0].Items {
			switch v := it.(type) {
			case *drawing.Arc:
				ring = v
			case *drawing.Text:
				if v.S == "N" {
					letter = v
				}
			}
		}
		if ring == nil || letter == nil {
			t.Fatal("no arrow")
		}
		n := orb.Point{letter.At[0], letter.At[1] + 0.36*letter.Size}
		if got := p.Compass(ring.Centre, n); got != "north" {
			t.Errorf("a plan turned by %g degrees: its arrow points %s", float64(deg), got)
		}
	}
}

// Whatever the device, its inlet is opened before its outlet and what shows that it is
// full is its own, at the first filling and in spring (trade.md E17).
func TestE17_EveryDeviceIsFilledAtItsInlet(t *testing.T) {
	t.Parallel()
	for id, full := range map[string]string{"backflow-pvb-1": "the breaker seats and stops spitting", "backflow-rp-1": "", "backflow-dc-1": "the device is full"} {
		d, ok := catalog.FindDevice(id)
		if !ok {
			t.Fatalf("no device %s", id)
		}
		in := changed(t, func(p *plan.Plan) {
			p.Devices[plan.ID(id)] = d
			p.Supply.BackflowDevice = plan.ID(id)
		})
		spring := strings.ToLower(writtenOn(oneSheet(t, in, Owner, Letter, "O4")))
		spring = spring[strings.Index(spring, "start again in spring"):]
		first := orderSaid(t, in)
		first = first[strings.Index(first, "first water"):]
		for when, text := range map[string]string{"first": first, "in spring": spring} {
			if full == "" {
				full = map[string]string{"first": "relief opening may spit; wait until it stops", "in spring": "until the relief opening stops running"}[when]
			}
			inOrder(t, text, "test cocks", "closed", "open the s", "then the inlet", full, "the outlet slowly", "air out", "licensed tester before the system is used")
			if i, o := strings.Index(text, "inlet"), strings.Index(text, "outlet"); i < 0 || o < i {
				t.Errorf("%s, %s: the inlet does not come first", id, when)
			}
			if d.Backflow == catalog.ReducedPressure {
				full = ""
			}
		}
	}
}

// The minutes of a day on the program card, over the days there are, are those of a week,
// to the whole minute, and their sum is printed.
func TestTheProgramCardSharesAWeekAmongItsDays(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	text := writtenOn(oneSheet(t, in, Owner, Letter, "O3"))
	week, days, sum := zones.PeakMinutes(in.Plan, in.Design.Coverage), len(in.Plan.Watering.Days), 0
	if days < 2 {
		t.Fatal("the demo waters on one day")
	}
	for _, id := range plan.SortedIDs(in.Plan.Zones) {
		var got, day int
		at := strings.Index(text, in.Plan.Zones[id].Name+" ")
		if _, err := fmt.Sscanf(text[at+len(in.Plan.Zones[id].Name):], "%d %d", &got, &day); err != nil {
			t.Fatal(err)
		}
		if m := week[id] / float64(days); float64(day) < m-1e-9 || float64(day) >= m+1 {
			t.Errorf("%s: %d minutes a day on %d days, %g a week", in.Plan.Zones[id].Name, day, days, week[id])
		}
		sum += day
	}
	if want := fmt.Sprintf("All, in turn %d", sum); !strings.Contains(text, want) {
		t.Errorf("%q is not said", want)
	}
}

// What a T point is said to be so far from is that far from it, and stands beside it.
func TestPointsBesideAFlagAreThatFarFromIt(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	b := building(t, in, Crew, Letter)
	g := b.digging()
	found := 0
	for k, v := range g.Points {
		m := regexp.MustCompile(`^([^A-Z]+) from flag (\S+?)\.?$`).FindStringSubmatch(b.pointFound(g, k))
		if m == nil {
			continue
		}
		found++
		i := slices.IndexFunc(b.staked().Flags, func(f stakeout.Flag) bool { return f.Tag == m[2] })
		if i < 0 {
			t.Errorf("%s is measured from flag %s, which there is not", v.Name, m[2])
			continue
		}
		far := math.Hypot(b.stake.Flags[i].At[0]-v.At[0], b.stake.Flags[i].At[1]-v.At[1])
		if said := readLength(t, m[1]); math.Abs(said-far) > 1./24+1e-9 || far > 2 {
			t.Errorf("%s is said to be %s from flag %s, and is %.2f ft", v.Name, m[1], m[2], far)
		}
	}
	if found == 0 {
		t.Error("no point stands beside a flag")
	}
}

// Air comes into a zone that is open already, and is let off before the last one closes.
func TestRow31_AZoneIsOpenBeforeTheAirComes(t *testing.T) {
	t.Parallel()
	text := strings.ToLower(writtenOn(oneSheet(t, demoInput(t), Owner, Letter, "O4")))
	inOrder(t, text, "work of someone who does it for a living", "eye protection", "the system's shut-off is closed", "close the shut-offs of the backflow device",
		"join the hose to the blow-out port", "one zone from the controller before the air", "let the air on slowly", "never with all zones closed",
		"turn the air off while the last zone is still open", "test cocks half open, so that no water is held")
	if strings.Contains(text, "after the air") {
		t.Error("a zone is opened after the air")
	}
}

// The sums under the trench list are those of the digs.
func TestTheTrenchListSumsUpWhatIsDug(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	text, d := writtenOn(oneSheet(t, in, Crew, Letter, "C7")), in.Design.Digs.Totals
	for _, want := range []string{
		"all trench " + in.Plan.Show.Length(d.Trench), "under paving " + in.Plan.Show.Length(d.Sleeved),
		fmt.Sprintf("Soil: about %.1f cubic yards dug out", d.Spoil),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said", want)
		}
	}
	if d.Sleeved <= 0 || d.Trench <= d.Sleeved {
		t.Errorf("the demo digs %g ft and has %g ft under paving", float64(d.Trench), float64(d.Sleeved))
	}
}

// Whoever sets out is told by how much a check may be off: three inches, or 8 cm.
func TestE18_TheStakeOutSaysHowFarACheckMayBeOff(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		show units.System
		want []string
	}{
		{units.US, []string{`off by more than 3", read both again`, "nearest half inch", "no tape is longer than 100' 0\""}},
		{units.Metric, []string{"off by more than 0.08 m, read both again", "nearest centimetre"}},
	} {
		text := writtenOn(oneSheet(t, changed(t, func(p *plan.Plan) { p.Show = c.show }), Crew, Letter, "C5"))
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%q is not said", want)
			}
		}
	}
}

// Every permit and date that is noted stands on the office's cover as it was noted.
func TestPermitsAndDatesArePrinted(t *testing.T) {
	t.Parallel()
	text := writtenOn(oneSheet(t, changed(t, func(p *plan.Plan) {
		p.Site.LocateTicket, p.Site.LocateOn, p.Site.Permit, p.Site.PermitOn = "T-1", "2026-03-09", "P-7", "2026-04-02"
		p.Site.Licence, p.Site.AssociationOn, p.Site.RightOfWayOn, p.Site.BackflowTestedOn = "R. Vale 4711", "2026-04-03", "2026-04-04", "2026-06-05"
	}), Office, Letter, "F1"))
	for _, want := range []string{"T-1", "2026-03-09", "P-7", "2026-04-02", "R. Vale 4711", "2026-04-03", "2026-04-04", "2026-06-05"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is not said", want)
		}
	}
	if strings.Contains(text, "Still missing: The date") {
		t.Error("a date that is noted is asked for")
	}
}

// Where the plan does not say how high the breaker stands, it is drawn as high as it
// must be: a foot over the ground of the highest head.
func TestRow25_ABreakerIsDrawnAsHighAsItMustBe(t *testing.T) {
	t.Parallel()
	in := changed(t, func(p *plan.Plan) { p.Supply.BackflowHeightFt = nil })
	need, ok := pressure.BreakerHeight(in.Plan)
	if !ok || need.Need.Inches() < 13 {
		t.Fatalf("the demo's breaker needs %v", need)
	}
	if want := in.Plan.Show.Length(need.Need) + " above its ground"; !strings.Contains(writtenOn(oneSheet(t, in, Crew, Letter, "C10")), want) {
		t.Errorf("the detail does not say %q", want)
	}
}

// The main lies deeper than laterals, each at the plan's own figure.
func TestTheOrderOfWorkDigsTheMainDeeper(t *testing.T) {
	t.Parallel()
	if text := orderSaid(t, demoInput(t)); !strings.Contains(text, `16" of cover over the main and 10" over laterals`) {
		t.Error("the depths of main and laterals are not said, or changed about")
	}
}
