package proof

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/audit"
	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/testdata/plans"
)

func demoYard(t testing.TB) *plan.Plan {
	t.Helper()
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func offered(t testing.TB, p *plan.Plan, area plan.ID, by string, count int) CansOffer {
	t.Helper()
	o, err := OfferCans(p, area, by, count)
	if err != nil {
		t.Fatalf("cans on %s by %s: %v", area, by, err)
	}
	return o
}

// taken is the plan with the offer taken.
func takenUp(t testing.TB, p *plan.Plan, patch plan.Patch) *plan.Plan {
	t.Helper()
	next, err := plan.Preview(p.Encode(), patch)
	if err != nil {
		t.Fatalf("the patch is refused: %v\n%s", err, patch)
	}
	return next
}

// Whatever the area and the way: on its ground, off heads and edges, apart, a multiple of
// four, in a walk without leaps, and as an audit that a plan takes.
func TestCansStandWhereCansMay(t *testing.T) {
	t.Parallel()
	p := demoYard(t)
	for _, area := range []plan.ID{"front-lawn", "side-lawn", "back-lawn", "strip", "island", "entry-bed"} {
		for _, by := range []string{CansByGrid, CansByHeads} {
			for _, count := range []int{0, 40} {
				name := fmt.Sprintf("%s by %s, %d", area, by, count)
				o := offered(t, p, area, by, count)
				holdCans(t, name, p, o)
				next := takenUp(t, p, o.Patch)
				a := next.Proof.Audits[o.Audit]
				if a.Area != area || len(a.Cans) != len(o.Cans) || len(a.Runs) != len(o.Zones) || len(o.Zones) == 0 {
					t.Errorf("%s: the plan has an audit of %q with %d cans and %d zones", name, a.Area, len(a.Cans), len(a.Runs))
				}
				if count > 0 {
					continue
				}
				if again := offered(t, next, area, by, count); again.Audit == o.Audit {
					t.Errorf("%s: a second audit takes the id of the first", name)
				}
				if again := offered(t, p, area, by, count); !bytes.Equal(again.Patch, o.Patch) || again.Says != o.Says {
					t.Errorf("%s: asked again it answers otherwise", name)
				}
			}
		}
	}
}

func holdCans(t *testing.T, name string, p *plan.Plan, o CansOffer) {
	t.Helper()
	ground, frame, _ := coverage.GroundOf(p, o.Area)
	whole := map[int32]bool{}
	for k, c := range ground.Cells {
		whole[c] = ground.Weights[k] > 0.5
	}
	if n := len(o.Cans); n%4 != 0 || n < 4 {
		t.Errorf("%s: %d cans", name, n)
	}
	way, apart := 0.0, math.Sqrt(float64(ground.SqFt)/float64(len(o.Cans)))
	for i, c := range o.Cans {
		x, y, ok := frame.CellOf(orb.Point{float64(c.X), float64(c.Y)})
		if !ok || !whole[int32(y*frame.NX+x)] {
			t.Errorf("%s: can %d at (%v, %v) is off the ground of the area", name, c.Number, c.X, c.Y)
		}
		for _, id := range plan.SortedIDs(p.Heads) {
			if d := math.Hypot(float64(p.Heads[id].X-c.X), float64(p.Heads[id].Y-c.Y)); d < 1.5 { // 2 ft by the rule, less half of the raster
				t.Errorf("%s: can %d stands %.2f ft from head %s", name, c.Number, d, id)
			}
		}
		for _, b := range o.Cans[:i] {
			if d := math.Hypot(float64(b.X-c.X), float64(b.Y-c.Y)); d < 0.9 {
				t.Errorf("%s: cans %d and %d stand %.2f ft apart", name, b.Number, c.Number, d)
			}
		}
		if i > 0 {
			way += math.Hypot(float64(o.Cans[i-1].X-c.X), float64(o.Cans[i-1].Y-c.Y))
		}
		if c.Number != i+1 || c.ID != plan.ID(fmt.Sprintf("c%d", i+1)) {
			t.Errorf("%s: the can at place %d is %s, number %d", name, i+1, c.ID, c.Number)
		}
	}
	if most := 1.75 * apart * float64(len(o.Cans)); way > most {
		t.Errorf("%s: the walk is %.0f ft for %d cans %.1f ft apart, want at most %.0f", name, way, len(o.Cans), apart, most)
	}
}

// lawn is a rectangle with quarter, half and full circles at every spacing, head to head.
func lawn(w, h, spacing float64) *plan.Plan {
	p := plan.Empty("lawn", units.US)
	p.Areas, p.Heads = map[plan.ID]plan.Area{}, map[plan.ID]plan.Head{}
	p.Nozzles, p.Zones = map[plan.ID]catalog.Nozzle{}, map[plan.ID]plan.Zone{}
	p.Areas["lawn"] = plan.Area{Name: "Lawn", Kind: plan.Planting, Outline: geom.Outline{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}}
	d, err := plan.Decode(plans.Demo)
	if err != nil {
		panic(err)
	}
	n := d.Nozzles["stream-20"]
	n.Rows = slices.Clone(n.Rows)
	for i := range n.Rows {
		n.Rows[i].Throw = units.Feet(spacing)
		n.Rows[i].Flow = units.GPM(0.5 * spacing * spacing / 96.25)
	}
	n.ArcLeast, n.ArcMost, n.FlowFollowsArc = 45, 360, true
	p.Nozzles["n"] = n
	p.Bodies = map[plan.ID]catalog.Body{"b": d.Bodies["body-4-reg40"]}
	p.Zones["z"] = plan.Zone{Name: "Lawn", Station: 1}
	k := 0
	for y := 0.0; y <= h+0.1; y += spacing {
		for x := 0.0; x <= w+0.1; x += spacing {
			start, sweep := 0.0, 360.0
			switch left, right, low, high := x < 0.1, x > w-0.1, y < 0.1, y > h-0.1; {
			case left && low:
				start, sweep = 0, 90
			case right && low:
				start, sweep = 90, 90
			case right && high:
				start, sweep = 180, 90
			case left && high:
				start, sweep = 270, 90
			case low:
				start, sweep = 0, 180
			case right:
				start, sweep = 90, 180
			case high:
				start, sweep = 180, 180
			case left:
				start, sweep = 270, 180
			}
			k++
			p.Heads[plan.ID(fmt.Sprintf("h%02d", k))] = plan.Head{
				Tag: fmt.Sprintf("1-%d", k), Nozzle: "n", Body: "b", Zone: "z", X: units.Feet(x), Y: units.Feet(y),
				StartDeg: units.Degrees(start), SweepDeg: units.Degrees(sweep),
			}
		}
	}
	return p
}

// On a plain lawn the grid is one: equal ground for each can, so that the evenness
// predicted at the cans is the raster's, which has thousands of cells.
func TestGridReadsAsTheFieldDoes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ w, h, spacing float64 }{{60, 40, 20}, {45, 45, 15}, {90, 30, 15}} {
		p := lawn(c.w, c.h, c.spacing)
		r, err := coverage.Compute(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		o := offered(t, p, "lawn", CansByGrid, 48)
		catches := make([]float64, len(o.Cans))
		for i, can := range o.Cans {
			catches[i] = float64(can.OfMean)
		}
		f, err := audit.FiguresOf(catches)
		if err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(float64(f.DULowQuarter - r.Areas[0].DU)); off > 0.035 {
			t.Errorf("%g by %g: DU at %d cans %.3f, of the field %.3f", c.w, c.h, len(o.Cans), f.DULowQuarter, r.Areas[0].DU)
		}
	}
}

// By heads every head has a can near it, and every two neighbours one between them.
func TestCansByHeadsStandByHeads(t *testing.T) {
	t.Parallel()
	p := lawn(45, 30, 15) // 4 by 3 heads, 17 pairs of neighbours
	o := offered(t, p, "lawn", CansByHeads, 0)
	near, between := 0, 0
	for _, c := range o.Cans {
		switch {
		case strings.HasPrefix(c.Where, "near "):
			near++
			off := math.Inf(1)
			for _, h := range p.Heads {
				off = min(off, math.Hypot(float64(h.X-c.X), float64(h.Y-c.Y)))
			}
			if off < 1.5 || off > 3.5 { // 2 to 3 ft off by the rule, in a raster of half a foot
				t.Errorf("can %d, %s, stands %.1f ft off", c.Number, c.Where, off)
			}
		case strings.HasPrefix(c.Where, "between "):
			between++
		}
	}
	if near != 12 || between != 17 || len(o.Cans) != 32 {
		t.Errorf("%d cans near the 12 heads, %d between the 17 pairs, %d in all", near, between, len(o.Cans))
	}
}

// How long zones run goes by the rate: 25 ml in 16 in² is 0.0953 in, which 0.5 in/h
// brings in 11.4 minutes (by hand), and a can of half the opening takes twice as long.
func TestMinutesForACatch(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ rate, throat, want float64 }{{0.5, 0, 12}, {0.5, 8, 23}, {1.6, 16, 5}, {0.01, 16, 60}, {0, 16, 0}} {
		if got := minutesFor(c.rate, c.throat); got != c.want {
			t.Errorf("at %g in/h with %g in²: %g minutes, want %g", c.rate, c.throat, got, c.want)
		}
	}
}

func TestCansRefusedInWords(t *testing.T) {
	t.Parallel()
	p := demoYard(t)
	tiny := lawn(45, 30, 15)
	a := tiny.Areas["lawn"]
	a.Outline = geom.Outline{{X: 0, Y: 0}, {X: 2, Y: 0}, {X: 2, Y: 2}, {X: 0, Y: 2}}
	tiny.Areas["lawn"] = a
	for _, c := range []struct {
		p     *plan.Plan
		area  plan.ID
		by    string
		count int
		want  string
	}{
		{p, "gone", CansByGrid, 0, "no area"},
		{p, "drive", CansByGrid, 0, "no planting"},
		{p, "bed-b", CansByHeads, 24, "no planting"},
		{p, "back-lawn", "luck", 24, "not by"},
		{p, "back-lawn", CansByGrid, -1, "-1 cans"},
		{p, "back-lawn", CansByGrid, 5000, "5000 cans"},
		{tiny, "lawn", CansByGrid, 0, "no can can stand"},
	} {
		if _, err := OfferCans(c.p, c.area, c.by, c.count); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("cans on %s by %s, %d: %v, want a sentence with %q", c.area, c.by, c.count, err, c.want)
		}
	}
}

func BenchmarkOfferCans(b *testing.B) {
	p := demoYard(b)
	for _, by := range []string{CansByGrid, CansByHeads} {
		b.Run(by, func(b *testing.B) {
			for b.Loop() {
				offered(b, p, "back-lawn", by, 0)
			}
		})
	}
}
