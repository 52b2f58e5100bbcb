package coverage

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"evenfall/internal/units"
)

// The typical installation is one of those the estimate was drawn from: no more
// than half come out less even and no more than half more even, the same seed
// gives the same map, cell for cell, and its heads run as they were drawn.
func TestTypicalInstallation(t *testing.T) {
	y := park()
	a, err := Install(t.Context(), &y.Plan, 5, 15, nil)
	if err != nil {
		t.Fatal(err)
	}
	e, err := drawAll(t.Context(), &y.Plan, 5, 15, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	du := float64(a.Typical.Result.Areas[0].DU) // one area: the plan's figure is its own
	less, more := 0, 0
	for _, v := range e.plans {
		if v < du-1e-9 {
			less++
		}
		if v > du+1e-9 {
			more++
		}
	}
	if less > 7 || more > 7 || less+more > 14 {
		t.Errorf("of 15 installations %d are less even than the typical one and %d more even", less, more)
	}
	if !slices.Equal(a.Areas, e.estimates()) || a.Draws != 15 {
		t.Error("the estimate with the map differs from that without")
	}
	b, err := Install(t.Context(), &y.Plan, 5, 15, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(a.Typical.Cells(), b.Typical.Cells()) || !reflect.DeepEqual(a.Typical.Result, b.Typical.Result) {
		t.Error("the same seed gives another map")
	}
	planned, offFlow := compute(t, y), 0.0
	for i, h := range a.Typical.Result.Heads {
		offFlow = math.Max(offFlow, math.Abs(float64(h.FlowGPM/planned.Heads[i].FlowGPM)-1))
		sum := float64(h.Stopped)
		for _, l := range h.Landed {
			sum += float64(l.GPM)
		}
		if math.Abs(sum-float64(h.FlowGPM)) > 1e-9 {
			t.Fatalf("head %s: its rows make %.9f gpm of %.9f", h.ID, sum, h.FlowGPM)
		}
	}
	if offFlow < 0.05 || offFlow > 0.2 {
		t.Errorf("the flow farthest off its table is off by %.3f, want some σ of 5 %%", offFlow)
	}
}

// A plan without heads, or without ground, has a map all the same.
func TestTypicalInstallationOfLittle(t *testing.T) {
	for name, y := range map[string]*yard{
		"nothing":  newYard(),
		"ground":   newYard().area("lawn", "planting", 0, 0, 20, 0, 20, 20, 0, 20),
		"one head": func() *yard { y := newYard().nozzles(); y.head("n", 3, 4, 0, 90); return y }(),
	} {
		in, err := Install(t.Context(), &y.Plan, 1, 3, nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		finite(t, in.Typical.Result)
		w, err := Windy(t.Context(), &y.Plan, Wind{8, 0}, nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		finite(t, w.Result)
	}
}

func (y *yard) nozzles() *yard { y.nozzle("n", 12, 1.6, linear); return y }

// Progress counts every installation and the map; calling it off stops it there.
func TestEstimateProgress(t *testing.T) {
	y := corners(15)
	var told []int
	if _, err := Install(t.Context(), &y.Plan, 1, 4, func(done, total int) {
		if total != 5 {
			t.Errorf("of %d steps, want 5", total)
		}
		told = append(told, done)
	}); err != nil || !slices.Equal(told, []int{1, 2, 3, 4, 5}) {
		t.Errorf("told %v, %v", told, err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	n := 0
	_, err := Install(ctx, &y.Plan, 1, 40, func(done, _ int) {
		if n = done; n == 3 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || n != 3 {
		t.Errorf("stopped after %d draws with %v", n, err)
	}
	if units.Ratio(Wind{Speed: 8}.Drift()) != 0.16 {
		t.Error("8 mph is not a drift of 0.16")
	}
}
