package coverage

import (
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// edit makes one random change to the yard, of any kind that coverage reads.
func (y *yard) edit(r *rand.Rand) {
	ids := slices.Sorted(maps.Keys(y.Heads))
	var id plan.ID
	if len(ids) > 0 {
		id = ids[r.IntN(len(ids))]
	}
	h := y.Heads[id]
	switch k := r.IntN(100); {
	case k < 55 && id != "":
		h.X += units.Feet(6 * (r.Float64() - 0.5))
		h.Y += units.Feet(6 * (r.Float64() - 0.5))
		y.Heads[id] = h
	case k < 65 && id != "":
		h.StartDeg = units.Degrees(360 * r.Float64())
		y.Heads[id] = h
	case k < 70 && id != "" && h.SweepDeg > 0:
		h.SweepDeg = units.Degrees(10 + 350*r.Float64())
		y.Heads[id] = h
	case k < 75 && id != "":
		if y.Nozzles[h.Nozzle].Family == catalog.Spray {
			t := y.Nozzles[h.Nozzle].Rows[0].Throw * units.Feet(0.6+0.4*r.Float64())
			h.ThrowFt = &t
			y.Heads[id] = h
		}
	case k < 80 && id != "" && len(ids) > 3:
		delete(y.Heads, id)
	case k < 85 && len(ids) < 14:
		y.Heads[plan.ID("x"+string(rune('a'+r.IntN(26)))+string(rune('a'+r.IntN(26))))] = plan.Head{
			Nozzle: "spray", X: units.Feet(40 * r.Float64()), Y: units.Feet(30 * r.Float64()), SweepDeg: 180,
		}
	case k < 88:
		b := y.Barriers["fence"]
		b.HeightFt = units.Feet(1 + 6*r.Float64())
		b.Line = geom.Line{{X: 20 * r.Float64(), Y: 20 * r.Float64()}, {X: 20 * r.Float64(), Y: 20 * r.Float64()}}
		y.Barriers["fence"] = b
	case k < 90:
		if _, there := y.Barriers["hedge"]; there {
			delete(y.Barriers, "hedge")
		} else {
			y.Barriers["hedge"] = plan.Barrier{Line: geom.Line{{X: 5, Y: 5}, {X: 20, Y: 9}}, HeightFt: 2}
		}
	case k < 93:
		a := y.Areas["bed"]
		a.Watering = []plan.WateringKind{plan.Overhead, plan.PointSource, plan.NoWatering}[r.IntN(3)]
		y.Areas["bed"] = a
	case k < 95:
		a := y.Areas["house"]
		a.Outline = slices.Clone(a.Outline)
		a.Outline[0].X += r.Float64() - 0.5
		y.Areas["house"] = a
	case k < 97:
		y.lip(r.Float64())
	case k < 98:
		y.nozzle("spray", 12, 1+r.Float64(), linear)
	default:
		a := y.Areas["walk"]
		a.Kind = []plan.Kind{plan.Paving, plan.Ground, plan.Building}[r.IntN(3)]
		y.Areas["walk"] = a
	}
}

// thorough asks for long sweeps; else they are short ones of the same code.
func thorough() bool { return os.Getenv("EVENFALL_THOROUGH") != "" }

// After any edits the field holds, cell for cell, what a fresh one makes of the
// plan, and its Result is the same byte for byte.
func TestIncrementalEqualsFresh(t *testing.T) {
	const atOnce, every = 5, 125
	edits := 3000
	if thorough() {
		edits = 10000
	}
	if testing.Short() { // under the race detector, where each takes ten times as long
		edits = 1000
	}
	r := rand.New(rand.NewPCG(19, 23))
	y := randomYard(r)
	kept := New()
	for i := atOnce; i <= edits; i += atOnce {
		for range atOnce {
			y.edit(r)
		}
		got, _, err := kept.Update(context.Background(), &y.Plan)
		if err != nil {
			t.Fatal(err)
		}
		if i%every != 0 {
			continue
		}
		fresh := New()
		want, _, err := fresh.Update(context.Background(), &y.Plan)
		if err != nil {
			t.Fatal(err)
		}
		if n := differing(kept.grid.rate, fresh.grid.rate); n > 0 {
			t.Fatalf("after %d edits %d cells differ", i, n)
		}
		if n := differing(kept.grid.reach, fresh.grid.reach) + differing(kept.grid.amend, fresh.grid.amend); n > 0 {
			t.Fatalf("after %d edits %d counts or amendments differ", i, n)
		}
		if !bytes.Equal(kept.Cells(kept.frame.All()), fresh.Cells(fresh.frame.All())) {
			t.Fatalf("after %d edits the maps differ", i)
		}
		if a, b := asJSON(t, got), asJSON(t, want); !bytes.Equal(a, b) {
			t.Fatalf("after %d edits the results differ:\n%s\n%s", i, a, b)
		}
	}
}

func differing(a, b []int32) int {
	n := 0
	for i := range a {
		if a[i] != b[i] {
			n++
		}
	}
	return n
}

func asJSON(t testing.TB, r *Result) []byte {
	t.Helper()
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The dirty rectangle holds every map byte that an edit changed.
func TestChangedHoldsEveryChange(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 31))
	y := randomYard(r)
	f := New()
	if _, c, _ := f.Update(t.Context(), &y.Plan); !c.Frame || c.Cells != f.Frame().All() {
		t.Fatalf("the first update changed %+v", c)
	}
	before := f.Cells(f.Frame().All())
	for range 200 {
		frame := f.Frame()
		y.edit(r)
		_, c, err := f.Update(t.Context(), &y.Plan)
		if err != nil {
			t.Fatal(err)
		}
		after := f.Cells(f.Frame().All())
		if c.Frame != (frame != f.Frame()) {
			t.Fatalf("frame changed: told %v", c.Frame)
		}
		for i := range after {
			x, yy := i%frame.NX, i/frame.NX
			in := x >= c.Cells.X0 && x < c.Cells.X1 && yy >= c.Cells.Y0 && yy < c.Cells.Y1
			if !c.Frame && !in && after[i] != before[i] {
				t.Fatalf("byte %d, %d changed outside %+v", x, yy, c.Cells)
			}
		}
		if got := f.Cells(c.Cells); len(got) != (c.Cells.X1-c.Cells.X0)*(c.Cells.Y1-c.Cells.Y0) {
			t.Fatalf("%d bytes for %+v", len(got), c.Cells)
		}
		before = after
	}
}

// A cancelled update that was to change the frame or the scale keeps nothing from
// the next one's dirty rectangle.
func TestChangedAfterACancelledUpdate(t *testing.T) {
	y := corners(15)
	f := New()
	if _, _, err := f.Update(t.Context(), &y.Plan); err != nil {
		t.Fatal(err)
	}
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	y.area("walk", plan.Paving, 20, 0, 90, 0, 90, 4, 20, 4)
	if _, _, err := f.Update(cancelled, &y.Plan); err == nil {
		t.Fatal("a cancelled update gave no error")
	}
	if _, c, _ := f.Update(t.Context(), &y.Plan); !c.Frame || c.Cells != f.Frame().All() {
		t.Errorf("the new frame is not told: %+v", c)
	}
	// Heads by the hundred coarsen the grid's step; every byte that differs is told.
	before := f.Cells(f.Frame().All())
	for range 200 {
		y.head("n", 7, 7, 0, 360)
	}
	_, c, err := f.Update(t.Context(), &y.Plan)
	if err != nil || f.scale == usualScale {
		t.Fatalf("scale %d, error %v", f.scale, err)
	}
	for i, b := range f.Cells(f.Frame().All()) {
		x, yy := i%f.frame.NX, i/f.frame.NX
		if b != before[i] && (x < c.Cells.X0 || x >= c.Cells.X1 || yy < c.Cells.Y0 || yy >= c.Cells.Y1) {
			t.Fatalf("byte %d, %d changed outside %+v", x, yy, c.Cells)
		}
	}
}

// A cancelled update leaves the field able to answer the next one rightly.
func TestCancelledUpdate(t *testing.T) {
	y := corners(15)
	f := New()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := f.Update(ctx, &y.Plan); err == nil {
		t.Fatal("a cancelled update gave no error")
	}
	if _, ok := f.RateAt([2]float64{5, 5}); ok {
		t.Error("a cancelled field answers RateAt")
	}
	got, _, err := f.Update(context.Background(), &y.Plan)
	if err != nil {
		t.Fatal(err)
	}
	if want := compute(t, y); !bytes.Equal(asJSON(t, got), asJSON(t, want)) {
		t.Error("the update after a cancelled one differs from a fresh one")
	}
}
