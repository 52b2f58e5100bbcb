package packs

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Things that are there already and things that go are told apart without colour: by
// the width of their lines, and by a cross.
func TestStatusesShowWithoutColour(t *testing.T) {
	t.Parallel()
	c := newChart(designed(t, smallYard()), 7.2, 1)
	draw := func(s plan.Status) []drawing.Item {
		return c.headMark(orb.Point{}, zoneMark{number: "1"}, true, catalog.Spray, s)
	}
	width := func(items []drawing.Item) float64 { return items[0].(*drawing.Arc).Pen.Width }
	there, now, gone := draw(plan.Existing), draw(plan.New), draw(plan.Remove)
	if !(width(there) < 0.6*width(now)) {
		t.Errorf("what is there is drawn %.2f wide, what is new %.2f", width(there), width(now))
	}
	if len(gone) != len(now)+2 {
		t.Errorf("what goes has %d items, want a cross more than %d", len(gone), len(now))
	}
}

// Lines of one trench are drawn side by side at least as far apart as the main is wide.
func TestLinesOfOneTrenchAreApart(t *testing.T) {
	t.Parallel()
	in := demoRouted(t, "demo")
	c := newChart(in, 3.6, 1)
	l := c.lanesOf(true)
	shared := 0
	for i := range in.Design.Digs.Segments {
		var at []orb.Point
		for _, lanes := range l.pipe {
			for _, k := range lanes {
				if k.seg == i {
					at = append(at, k.offset)
				}
			}
		}
		if hasWire(&in.Design.Digs.Segments[i]) {
			at = append(at, l.wire[i])
		}
		if len(at) < 2 {
			continue
		}
		shared++
		for a := range at {
			for b := range a {
				if d := math.Hypot(at[a][0]-at[b][0], at[a][1]-at[b][1]) * c.perFoot; d < 2.1 {
					t.Errorf("segment %d: two lines are %.2f points apart", i, d)
				}
			}
		}
	}
	if shared < 5 {
		t.Errorf("only %d stretches are shared", shared)
	}
}

// The whole system for other programs: every layer, every head and pipe where it is.
func TestChartHasEverythingWhereItIs(t *testing.T) {
	t.Parallel()
	in := demoRouted(t, "demo")
	v := chartOf(in)
	layers := map[string]*drawing.Layer{}
	for _, i := range v.Items {
		l := i.(*drawing.Layer)
		if layers[l.Name] != nil {
			t.Errorf("layer %s comes twice", l.Name)
		}
		layers[l.Name] = l
	}
	for _, name := range []string{"BUILDING", "PAVING", "PLANTING", "LOT", "HEADS", "THROW", "PIPE_MAIN", "PIPE_LATERAL", "SLEEVES", "WIRE", "VALVES", "TEXT"} {
		if layers[name] == nil {
			t.Errorf("there is no layer %s", name)
		}
	}
	rings := 0
	for _, i := range layers["HEADS"].Items {
		if a, ok := i.(*drawing.Arc); ok && a.OnPaper {
			for _, h := range in.Plan.Heads {
				if a.Centre == (orb.Point{float64(h.X), float64(h.Y)}) {
					rings++
					break
				}
			}
		}
	}
	if rings < len(in.Plan.Heads)/3 {
		t.Errorf("only %d round marks stand where heads do", rings)
	}
	words := wordsIn(layers["TEXT"].Items)
	for _, h := range in.Plan.Heads {
		if !slices.Contains(words, h.Tag) {
			t.Errorf("%s is not written", h.Tag)
		}
	}
	for _, i := range layers["PIPE_MAIN"].Items {
		l, ok := i.(*drawing.Line)
		if !ok {
			continue
		}
		for _, q := range l.Points {
			if q[0] < -5 || q[0] > 121 || q[1] < -5 || q[1] > 113 {
				t.Errorf("the main goes to %v", q)
			}
		}
	}
	if a, b := fmt.Sprint(wordsIn(v.Items)), fmt.Sprint(wordsIn(chartOf(in).Items)); a != b {
		t.Error("two runs write other words")
	}
}

// Plans with nothing, or with little, or far out, come out all the same and say what is
// missing.
func TestPlansOfOddYardsComeOut(t *testing.T) {
	t.Parallel()
	far := smallYard()
	h := far.Heads["h-z01-01"]
	h.X, h.Y = 32000, -32000
	far.Heads["h-z01-01"] = h
	lone := plan.Empty("One head", units.Metric)
	lone.Heads, lone.Nozzles, lone.Bodies, lone.Zones = map[plan.ID]plan.Head{}, map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}, map[plan.ID]plan.Zone{}
	lone.Zones["z01"] = plan.Zone{Name: strings.Repeat("long ", 40)}
	setHead(lone, "z01", 1, "spray-10-h", 7, 7, 0, 180)
	for _, k := range []struct {
		name string
		p    *plan.Plan
		says []string
	}{
		{"empty", plan.Empty("", units.US), []string{"No area is drawn yet.", "No head is drawn yet.", "No zone is drawn yet.", "No pipe is drawn yet.", "The controller is not placed yet."}},
		{"far", far, []string{"No pipe is drawn yet."}},
		{"lone", lone, []string{"No area is drawn yet.", "No pipe is drawn yet."}},
	} {
		t.Run(k.name, func(t *testing.T) {
			t.Parallel()
			in := designed(t, k.p)
			var words []string
			for _, asked := range []Asked{{Kind: Crew}, {Kind: Owner}, {Kind: Crew, Paper: ArchD}} {
				b, _ := sheetsAlone(t, in, asked, "C3", "C4", "O1")
				for _, q := range b.pages {
					words = append(words, wordsIn(q.Items)...)
				}
			}
			for _, s := range k.says {
				if !slices.Contains(words, s) {
					t.Errorf("no sheet says %q", s)
				}
			}
			if v := chartOf(in); v.PerFoot <= 0 {
				t.Error("the chart has no scale")
			}
		})
	}
}

// The part of a line inside a box is what sampling finds there.
func TestWhatIsSeenOfALine(t *testing.T) {
	t.Parallel()
	box := orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{10, 6}}
	rng := rand.New(rand.NewPCG(3, 7))
	met := 0
	for range 2000 {
		at := func() orb.Point { return orb.Point{rng.Float64()*30 - 10, rng.Float64()*26 - 10} }
		a, b := at(), at()
		if rng.IntN(5) == 0 {
			b[0] = a[0]
		}
		from, to, some := clippedTo(box, a, b)
		first, last, inside := 0.0, 0.0, false
		const steps = 4000
		for i := range steps + 1 {
			s := float64(i) / steps
			if box.Contains(orb.Point{a[0] + (b[0]-a[0])*s, a[1] + (b[1]-a[1])*s}) {
				if !inside {
					first, inside = s, true
				}
				last = s
			}
		}
		length := math.Hypot(b[0]-a[0], b[1]-a[1])
		slack := 3 * length / steps
		if inside && !some {
			t.Fatalf("%v to %v is said not to be seen", a, b)
		}
		if !inside {
			if some && math.Hypot(to[0]-from[0], to[1]-from[1]) > slack {
				t.Fatalf("%v to %v is said to be seen from %v to %v", a, b, from, to)
			}
			continue
		}
		met++
		for i, q := range []orb.Point{from, to} {
			s := []float64{first, last}[i]
			if math.Hypot(q[0]-a[0]-(b[0]-a[0])*s, q[1]-a[1]-(b[1]-a[1])*s) > slack {
				t.Fatalf("%v to %v is seen from %v to %v, sampling says %v to %v of it", a, b, from, to, first, last)
			}
		}
	}
	if met < 300 {
		t.Errorf("only %d lines meet the box", met)
	}
}

// Where much stands together and the plan is small, it is shown larger, every box of
// valves and the backflow device once.
func TestCrowdedPlacesAreShownLarger(t *testing.T) {
	t.Parallel()
	in := demoRouted(t, "demo")
	b, _ := sheetsAlone(t, in, Asked{Kind: Crew}, "C4")
	words := strings.Join(slices.Concat(sheetWords(b, "C4")...), "\n")
	for _, s := range []string{"V1 V2 V6", "V3 V4", "V5", "backflow device"} {
		n := 0
		for _, w := range strings.Split(words, "\n") {
			if strings.HasPrefix(w, "Larger: ") && strings.Contains(w, s) {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%s is shown larger %d times", s, n)
		}
	}
	b, _ = sheetsAlone(t, in, Asked{Kind: Crew, Scale: 60}, "C4")
	if words := strings.Join(slices.Concat(sheetWords(b, "C4")...), "\n"); strings.Contains(words, "Larger: ") {
		t.Error("places are shown larger though the plan is as large")
	}
}

// A plan on several tiles has every tag on one of them at least, and its legend beside
// each that has room.
func TestTilesHaveEveryTagAndALegend(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	b, _ := sheetsAlone(t, in, Asked{Kind: Crew, Scale: 120}, "C3")
	pages := sheetWords(b, "C3")
	if len(pages) < 4 {
		t.Fatalf("%d pages", len(pages))
	}
	all := slices.Concat(pages...)
	for _, id := range plan.SortedIDs(in.Plan.Heads) {
		if tag := in.Plan.Heads[id].Tag; !slices.Contains(all, tag) {
			t.Errorf("%s is on no tile", tag)
		}
	}
	for i, words := range pages {
		if !slices.Contains(words, "Signs") {
			t.Errorf("tile %d has no legend", i+1)
		}
	}
}

// What notes say stands beside the plan in full, however long, and none is lost.
func TestNotesAreSaidInFull(t *testing.T) {
	t.Parallel()
	p := smallYard()
	long := strings.Repeat("the gate sticks, lift it; ", 75)
	p.Notes["a"] = plan.Note{X: 4, Y: 4, Text: "Dog on Tuesdays"}
	p.Notes["b"] = plan.Note{X: 9, Y: 4, Text: strings.TrimSpace(long)}
	p.Notes["c"] = plan.Note{X: 9, Y: 9, Text: "gone", Status: plan.Remove}
	b, _ := sheetsAlone(t, designed(t, p), Asked{Kind: Crew}, "C3")
	words := strings.Join(slices.Concat(sheetWords(b, "C3")...), " ")
	for _, s := range []string{"note 1", "note 2", "Dog on Tuesdays"} {
		if !strings.Contains(words, s) {
			t.Errorf("the sheet does not say %q", s)
		}
	}
	if got := strings.Count(words, "sticks,"); got != 75 {
		t.Errorf("the long note is said in %d parts of 75", got)
	}
	if strings.Contains(words, "gone") || strings.Contains(words, "note 3") {
		t.Error("a note that goes is said")
	}
}
