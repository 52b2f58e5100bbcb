package proof

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// moved is the demo with things measured in the ground.
func moved(t testing.TB) *plan.Plan {
	p, _ := demo(t)
	q := withOwn(p)
	for i, id := range plan.SortedIDs(q.Heads) {
		if i%3 == 0 {
			h := q.Heads[id]
			h.Built = &plan.Built{On: "2026-05-02", Was: &plan.Spot{X: h.X, Y: h.Y}}
			h.X += units.Feet(0.5)
			q.Heads[id] = h
		}
	}
	for _, id := range plan.SortedIDs(q.Zones) {
		if z := q.Zones[id]; z.ValveAt != nil {
			z.Built = &plan.Built{On: "2026-05-01", DepthIn: 9}
			q.Zones[id] = z
		}
	}
	q.Boxes = map[plan.ID]plan.Box{"b1": {X: 60, Y: 20, Built: &plan.Built{On: "2026-05-01", Note: "under the sod"}}}
	q.Sleeves = map[plan.ID]plan.Sleeve{"s1": {From: plan.Spot{X: 90, Y: 10}, To: plan.Spot{X: 110, Y: 10},
		Built: &plan.Built{On: "2026-05-01", WasTo: &plan.Spot{X: 110, Y: 12}}}}
	return q
}

// places are where a thing may be by its dimensions, found with no code of the stake-out:
// two circles cross twice; along an edge and off it there is one place on either side.
func places(dims []Dim) []orb.Point {
	a, b := dims[0], dims[1]
	d := math.Hypot(b.At[0]-a.At[0], b.At[1]-a.At[1])
	x := (d*d + float64(a.Feet*a.Feet) - float64(b.Feet*b.Feet)) / (2 * d)
	y := math.Sqrt(max(float64(a.Feet*a.Feet)-x*x, 0))
	u := orb.Point{(b.At[0] - a.At[0]) / d, (b.At[1] - a.At[1]) / d}
	return []orb.Point{
		{a.At[0] + u[0]*x - u[1]*y, a.At[1] + u[1]*x + u[0]*y},
		{a.At[0] + u[0]*x + u[1]*y, a.At[1] + u[1]*x - u[0]*y},
	}
}

func away(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// Measured again from its dimensions every thing is where it was built, within what
// rounding to half an inch does; what is along an edge is as far from its point.
func TestB12_BuiltThingsAreFoundByTheirDimensions(t *testing.T) {
	t.Parallel()
	p := moved(t)
	list := BuiltOf(p, nil)
	kinds := map[string]int{}
	for _, b := range list {
		kinds[b.Kind]++
		if len(b.Dims) == 0 {
			if !strings.HasPrefix(b.Says, "No tape reaches it.") {
				t.Errorf("%s: %q", b.What, b.Says)
			}
			continue
		}
		for _, d := range b.Dims {
			if d.Check && math.Abs(float64(d.Feet)-away(d.At, b.At)) > 1./24 {
				t.Errorf("%s: the check from %s is %g, it is %g away", b.What, d.From, d.Feet, away(d.At, b.At))
			}
			if d.From == "" {
				t.Errorf("%s is measured from nothing: %+v", b.What, d)
			}
		}
		if first := b.Dims[0]; first.Along != "" {
			if got, want := math.Hypot(float64(first.Feet), float64(first.Off)), away(first.At, b.At); math.Abs(got-want) > 0.06 {
				t.Errorf("%s: along and off come to %g, it is %g away", b.What, got, want)
			}
			continue
		}
		best := math.Inf(1)
		for _, q := range places(b.Dims) {
			best = min(best, away(q, b.At))
		}
		if best > 0.1 {
			t.Errorf("%s: its tapes cross %g ft off: %s", b.What, best, b.Says)
		}
		if !strings.Contains(b.Says, p.Show.Length(b.Dims[0].Feet)) || !strings.Contains(b.Says, b.Dims[1].From) {
			t.Errorf("%s says %q, with %+v", b.What, b.Says, b.Dims)
		}
	}
	if kinds["head"] != 16 || kinds["valve"] != 6 || kinds["box"] != 1 || kinds["sleeve"] != 2 {
		t.Errorf("%v", kinds)
	}
}

func TestBuiltThingsTellHowFarTheyWent(t *testing.T) {
	t.Parallel()
	p := moved(t)
	by := map[string]BuiltThing{}
	for _, b := range BuiltOf(p, nil) {
		by[b.What] = b
	}
	if b := by["Head 1-1"]; b.Moved != `6" east of where it was drawn` || b.Was == nil || b.On != "2026-05-02" {
		t.Errorf("%+v", b)
	}
	if b := by["Valve of zone 3 (Side lawn)"]; b.Moved != "" || b.Was != nil || b.Depth != 9 {
		t.Errorf("%+v", b)
	}
	if b := by["Sleeve s1, second end"]; b.Moved != `2' 0" south of where it was drawn` || by["Sleeve s1, first end"].Moved != "" {
		t.Errorf("%+v", b)
	}
}

// Paving and walls that were new stand once the system is built, so that it may be
// measured from them; heads are never measured from.
func TestBuiltThingsAreMeasuredFromWhatStandsNow(t *testing.T) {
	t.Parallel()
	p, _ := emptyPlan(t)
	square := func(x, y, w float64) plan.Area {
		return plan.Area{Kind: plan.Paving, Name: "New patio", Outline: rectangle(x, y, w)}
	}
	p.Areas = map[plan.ID]plan.Area{"a1": square(0, 0, 20)}
	p.Boxes = map[plan.ID]plan.Box{"b1": {X: 30, Y: 25, Built: &plan.Built{On: "2026-05-01"}}}
	b := BuiltOf(p, nil)[0]
	if len(b.Dims) < 2 || !strings.Contains(b.Says, "New patio") {
		t.Errorf("%+v", b)
	}
	if p.Areas["a1"].Status != "" {
		t.Error("the plan was changed")
	}
}

func BenchmarkBuiltOf(b *testing.B) {
	p := moved(b)
	for b.Loop() {
		BuiltOf(p, nil)
	}
}

func rectangle(x, y, w float64) geom.Outline {
	return geom.Outline{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + w}, {X: x, Y: y + w}}
}

// What is told as moved is what a tape shows: half an inch and more.
func TestMovedIsToldFromHalfAnInch(t *testing.T) {
	t.Parallel()
	p, _ := emptyPlan(t)
	from := orb.Point{10, 10}
	for _, c := range []struct {
		at   orb.Point
		want string
	}{{from, ""}, {orb.Point{10.04, 10}, ""}, {orb.Point{10.25, 10}, `3" east of where it was drawn`}, {orb.Point{10, 8}, `2' 0" south of where it was drawn`}} {
		if got := MovedWords(p, from, c.at); got != c.want {
			t.Errorf("at %v: %q, want %q", c.at, got, c.want)
		}
	}
}
