package coverage

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// finite walks a Result for numbers that are not.
func finite(t *testing.T, r *Result) {
	t.Helper()
	text := string(asJSON(t, r)) // encoding fails on NaN and infinities
	if strings.Contains(text, "null") {
		t.Errorf("a list is missing in %s", text)
	}
}

func TestPlansThatTurnUp(t *testing.T) {
	quarter := func() *yard { return corners(15) }
	for name, y := range map[string]*yard{
		"nothing":           {},
		"empty collections": newYard(),
		"a lot alone": func() *yard {
			y := newYard()
			y.Site.Lot = outline(0, 0, 80, 0, 80, 60, 0, 60)
			return y
		}(),
		"no planting": func() *yard { y := quarter(); delete(y.Areas, "lawn"); return y }(),
		"no heads":    func() *yard { y := quarter(); clear(y.Heads); return y }(),
		"a head far outside": func() *yard {
			y := quarter()
			y.head("n", 30000, -30000, 0, 360)
			return y
		}(),
		"two heads at one place": func() *yard {
			y := quarter()
			y.head("n", 0, 0, 0, 90)
			y.head("n", 0, 0, 45, 200)
			return y
		}(),
		"a head outside its table": func() *yard {
			y := quarter()
			h := y.Heads["h001"]
			far := units.Feet(99)
			h.ThrowFt = &far
			y.Heads["h001"] = h
			return y
		}(),
		"a head without nozzle": func() *yard {
			y := quarter()
			y.Heads["x"] = plan.Head{Nozzle: "gone", SweepDeg: 90}
			return y
		}(),
		"a nozzle without rows": func() *yard {
			y := quarter()
			n := y.Nozzles["n"]
			n.Rows = nil
			y.Nozzles["n"] = n
			return y
		}(),
		"a profile of zeros": func() *yard {
			y := quarter()
			y.nozzle("n", 15, 1.6, catalog.Profile{Kind: catalog.ProfileTable, Shares: []float64{0, 0, 0}})
			return y
		}(),
		"a table that names one point": func() *yard {
			y := quarter()
			y.nozzle("n", 15, 1.6, catalog.Profile{Kind: catalog.ProfileTable, Shares: []float64{1}})
			return y
		}(),
		"an area of no size": func() *yard { return quarter().area("line", plan.Planting, 3, 3, 9, 9, 3, 3) }(),
		"an area of two corners": func() *yard {
			return quarter().area("two", plan.Paving, 3, 3, 9, 9)
		}(),
		"an area under another": func() *yard {
			return quarter().area("house", plan.Building, -5, -5, 20, -5, 20, 20, -5, 20)
		}(),
		"a lip that eats the lawn": func() *yard { return quarter().lip(20) }(),
		"a lip of half a lawn":     func() *yard { return quarter().lip(7.4) }(),
		"a strip without width": func() *yard {
			y := quarter()
			y.stripNozzle("s", 15, 1, catalog.StripShape{Ahead: true})
			y.head("s", 5, 5, 0, 0)
			return y
		}(),
		"a head on a fence's end": func() *yard {
			y := quarter()
			y.Barriers["f"] = plan.Barrier{Line: geom.Line{{X: 0, Y: 0}, {X: 0, Y: 9}}, HeightFt: 6}
			return y
		}(),
		"a fence of no length": func() *yard {
			y := quarter()
			y.Barriers["f"] = plan.Barrier{Line: geom.Line{{X: 4, Y: 4}, {X: 4, Y: 4}}, HeightFt: 6}
			return y
		}(),
		"a head in the house": func() *yard {
			return quarter().area("house", plan.Building, -5, -5, 3, -5, 3, 3, -5, 3)
		}(),
		"a head in a trunk": func() *yard {
			y := quarter()
			y.Trees["t"] = plan.Tree{X: 0.1, Y: 0.1, TrunkIn: 20}
			return y
		}(),
		"a tiny cell": func() *yard { y := quarter(); y.Options.CellFt = 1e-6; return y }(),
		"a huge cell": func() *yard { y := quarter(); y.Options.CellFt = 500; return y }(),
	} {
		t.Run(name, func(t *testing.T) {
			f := New()
			for range 2 { // again, from the state it left
				r, _, err := f.Update(context.Background(), &y.Plan)
				if err != nil {
					t.Fatal(err)
				}
				finite(t, r)
				f.RateAt(orb.Point{3, 3})
				f.Cells(f.Frame().All())
			}
			if _, err := FieldEstimate(context.Background(), &y.Plan, 1, 2, nil); err != nil {
				t.Fatal(err)
			}
		})
	}
}

func TestRemovedThingsAreNotThere(t *testing.T) {
	y := corners(15)
	want := asJSON(t, compute(t, y))
	y.head("n", 5, 5, 0, 360)
	gone := y.Heads["h005"]
	gone.Status = plan.Remove
	y.Heads["h005"] = gone
	y.area("shed", plan.Building, 4, 4, 8, 4, 8, 8, 4, 8)
	a := y.Areas["shed"]
	a.Status = plan.Remove
	y.Areas["shed"] = a
	y.Barriers["f"] = plan.Barrier{Line: geom.Line{{X: 2, Y: 2}, {X: 9, Y: 2}}, HeightFt: 6, Status: plan.Remove}
	y.Trees["t"] = plan.Tree{X: 6, Y: 6, TrunkIn: 30, Status: plan.Remove}
	if got := asJSON(t, compute(t, y)); !slices.Equal(got, want) {
		t.Errorf("removed things change the result:\n%s\n%s", got, want)
	}
}

// A plan ten kilometres wide with thousands of heads is read with coarse cells,
// in bounded memory, and can be cancelled.
func TestHugePlan(t *testing.T) {
	y := newYard().area("range", plan.Planting, -16000, -16000, 16000, -16000, 16000, 16000, -16000, 16000)
	y.nozzle("n", 40, 0.5, linear)
	r := rand.New(rand.NewPCG(113, 127))
	for range 3000 {
		y.head("n", 32000*(r.Float64()-0.5), 32000*(r.Float64()-0.5), 360*r.Float64(), 90)
	}
	res := compute(t, y)
	finite(t, res)
	if res.CellFt < 2 {
		t.Errorf("cells of %g ft", res.CellFt)
	}
	f := New()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := f.Update(ctx, &y.Plan); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: got %v", err)
	}
	sum := 0.0
	for _, h := range res.Heads {
		for _, l := range h.Landed {
			sum += float64(l.GPM)
		}
	}
	near(t, "landed over flow", sum/float64(res.FlowGPM), 1, 1e-9)
}

// Cell sizes by the size of the drawing.
func TestRasterBySize(t *testing.T) {
	for _, c := range []struct {
		side, asked, cell float64
	}{
		{0, 0, 0.25}, {100, 0, 0.25}, {170, 0, 0.25}, {200, 0, 0.5}, {380, 0, 0.5}, {500, 0, 1},
		{1000, 0, 2}, {3000, 0, 2}, {9000, 0, 8}, {100, 1, 1}, {100, 0.1, 0.1}, {1000, 0.1, 0.8}, {100, 0.3, 0.3},
	} {
		b := orb.Bound{Max: orb.Point{c.side, c.side}}
		f := frameOf(b, c.asked)
		if math.Abs(f.Cell-c.cell) > 1e-12 || f.Size() > mostCells {
			t.Errorf("%g ft wide, asked %g: %d cells of %g ft, want %g", c.side, c.asked, f.Size(), f.Cell, c.cell)
		}
		if in := f.Bound(); in.Min[0] > -margin || in.Max[1] < c.side+margin {
			t.Errorf("%g ft wide: the frame %v leaves no margin", c.side, in)
		}
	}
}

// A drag of a head never changes the frame once there is ground.
func TestFrameIsTheGroundsAlone(t *testing.T) {
	y := corners(15)
	f := New()
	if _, _, err := f.Update(t.Context(), &y.Plan); err != nil {
		t.Fatal(err)
	}
	before := f.Frame()
	h := y.Heads["h001"]
	h.X = -500
	y.Heads["h001"] = h
	if _, c, _ := f.Update(t.Context(), &y.Plan); c.Frame || f.Frame() != before {
		t.Error("moving a head changed the frame")
	}
}

func TestRateAtAndMap(t *testing.T) {
	y := corners(15).area("walk", plan.Paving, 15, 0, 18, 0, 18, 15, 15, 15)
	y.head("n", 15, 7, 270, 360)
	f := New()
	r, _, err := f.Update(t.Context(), &y.Plan)
	if err != nil {
		t.Fatal(err)
	}
	on, ok := f.RateAt(orb.Point{7, 7})
	if !ok || !on.OnTarget || on.Surface != "lawn" {
		t.Fatalf("in the lawn: %+v %v", on, ok)
	}
	near(t, "share of mean", float64(on.OfMean), float64(on.Rate)/float64(r.Areas[0].Mean), 1e-12)
	off, _ := f.RateAt(orb.Point{16, 7})
	if off.OnTarget || off.Surface != "walk" || off.Rate <= 0 || off.OfMean != 0 {
		t.Errorf("on the walk: %+v", off)
	}
	if _, ok := f.RateAt(orb.Point{1e6, 0}); ok {
		t.Error("a place outside the frame answers")
	}
	byteAt := func(p orb.Point) byte {
		x, yy, _ := f.Frame().CellOf(p)
		return f.Cells(geom.Cells{X0: x, Y0: yy, X1: x + 1, Y1: yy + 1})[0]
	}
	want := 1 + math.Round(100*float64(on.OfMean))
	if got := byteAt(orb.Point{7, 7}); math.Abs(float64(got)-want) > 0.5 {
		t.Errorf("the map shows %d on the lawn, want %g", got, want)
	}
	want = 201 + math.Round(20*float64(off.Rate/r.Areas[0].Mean))
	if got := byteAt(orb.Point{16, 7}); math.Abs(float64(got)-math.Min(want, 255)) > 0.5 {
		t.Errorf("the map shows %d on the walk, want %g", got, want)
	}
	if got := byteAt(orb.Point{-10, -10}); got != 0 {
		t.Errorf("the map shows %d where no water falls off target", got)
	}
	if n := len(f.Cells(geom.Cells{X0: -5, Y0: -5, X1: 3, Y1: 2})); n != 6 {
		t.Errorf("%d bytes for a rectangle half outside, want 6", n)
	}
}
