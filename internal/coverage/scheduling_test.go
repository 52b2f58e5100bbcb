package coverage

import (
	"context"
	"math"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// A lawn has its four windows, of which a larger is never drier and the third is
// that of its reading; a bed without water has none.
func TestSchedulingCoefficientsByWindow(t *testing.T) {
	y := newYard().lip(0).area("lawn", plan.Planting, 0, 0, 40, 0, 40, 20, 0, 20).area("bed", plan.Planting, 60, 0, 70, 0, 70, 10, 60, 10)
	y.nozzle("n", 10, 1.6, catalog.Profile{Kind: catalog.ProfileFlat})
	for x := 0.0; x <= 40; x += 10 {
		y.head("n", x, 0, 0, 180)
		y.head("n", x, 20, 180, 180)
	}
	all, err := SchedulingCoefficients(context.Background(), &y.Plan)
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != 2 || all[0].ID != "bed" || all[1].ID != "lawn" {
		t.Fatalf("got %+v, want the bed and the lawn", all)
	}
	reading := compute(t, y).Areas
	if reading[0].Mean != 0 || len(all[0].Windows) > 0 {
		t.Errorf("a bed without water has windows: %+v", all[0].Windows)
	}
	shares, before := []float64{0.01, 0.02, 0.05, 0.1}, math.Inf(1)
	if len(all[1].Windows) != len(shares) {
		t.Fatalf("got %d windows, want %d", len(all[1].Windows), len(shares))
	}
	for k, w := range all[1].Windows {
		if float64(w.Share) != shares[k] || w.At == nil {
			t.Errorf("window %d: got %+v, want a share of %v and a place", k, w, shares[k])
		}
		if w.SC < 1 || w.SC > before {
			t.Errorf("window of %v: got %v after %v; a larger window is no drier", w.Share, w.SC, before)
		}
		before = w.SC
	}
	near(t, "5 %", all[1].Windows[2].SC, reading[1].SC, 1e-9)
}

// A window that lies wholly in ground of one rate has the mean over that rate
// for its coefficient, by hand for each size.
func TestWindowsOnTwoHalves(t *testing.T) {
	const nx, ny = 100, 40
	f := New()
	f.frame.Cell, f.frame.NX, f.frame.NY = 1, nx, ny
	f.blocks.x0, f.blocks.y0, f.blocks.side, f.blocks.nx, f.blocks.ny, f.blocks.stride = 0, 0, 1, nx, ny, nx+1
	f.blocks.ground, f.blocks.water = make([]float64, (nx+1)*(ny+1)), make([]float64, (nx+1)*(ny+1))
	for y := range ny {
		row := make([]int32, nx)
		for x := range row {
			row[x] = 900
			if x < nx/2 {
				row[x] = 300
			}
		}
		f.blocks.put(y, 0, row, 1)
	}
	f.blocks.sumUp()
	for _, w := range f.windows(600) {
		near(t, "SC", w.SC, 2, 1e-9)
	}
	if got := f.windows(0); len(got) != 0 {
		t.Errorf("without water: got %+v", got)
	}
}
