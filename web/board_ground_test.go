package web

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The ground between the spot heights is told as a few round levels, in the plan's
// own unit; where it is flat or not measured there is nothing to tell.
func TestContoursAreFewAndRound(t *testing.T) {
	p := &plan.Plan{Show: units.US, Elevations: map[plan.ID]plan.Elevation{
		"a": {X: 0, Y: 0, Z: -0.3}, "b": {X: 90, Y: 0, Z: 0}, "c": {X: 0, Y: 60, Z: 2.1}, "d": {X: 90, Y: 60, Z: 2.4},
	}}
	got := (&maker{p: p, sys: p.Show}).ground()
	var levels []string
	for _, c := range got {
		levels = append(levels, c.Level)
	}
	if s := strings.Join(levels, " "); s != `-3" 0" 3" 6" 9" 1' 0" 1' 3" 1' 6" 1' 9" 2' 0" 2' 3"` {
		t.Errorf("the levels are %s", s)
	}
	p.Show = units.Metric
	levels = nil
	for _, c := range (&maker{p: p, sys: p.Show}).ground() {
		levels = append(levels, c.Level)
	}
	if s := strings.Join(levels, ", "); s != "0.00 m, 0.10 m, 0.20 m, 0.30 m, 0.40 m, 0.50 m, 0.60 m, 0.70 m" {
		t.Errorf("the levels are %s", s)
	}
	for _, span := range []float64{0.01, 1, 2.7, 11, 40, 999, 32808 * 2} {
		for _, sys := range []units.System{units.US, units.Metric} {
			step := contourStep(sys, units.Feet(span))
			if n := span / float64(step); !(n <= mostContours) || step <= 0 {
				t.Errorf("%v ft has %v steps of %v ft", span, n, step)
			}
		}
	}
	for id, e := range p.Elevations {
		e.Z = 1
		p.Elevations[id] = e
	}
	if got := (&maker{p: p, sys: p.Show}).ground(); len(got) != 0 {
		t.Errorf("level ground has %v", got)
	}
	p.Elevations = nil
	if got := (&maker{p: p, sys: p.Show}).ground(); len(got) != 0 {
		t.Errorf("ground that was not measured has %v", got)
	}
}

// The lines lie on the ground that pipes and heads take their levels from.
func TestContoursAreOfTheGroundThatIsUsed(t *testing.T) {
	p := &plan.Plan{Show: units.US, Elevations: map[plan.ID]plan.Elevation{
		"a": {X: 0, Y: 0, Z: 0}, "b": {X: 80, Y: 5, Z: 3}, "c": {X: 10, Y: 70, Z: 1}, "d": {X: 90, Y: 60, Z: 7}, "e": {X: 40, Y: 30, Z: 5},
	}}
	relief := p.Relief()
	n := 0
	for _, c := range (&maker{p: p, sys: p.Show}).ground() {
		level, err := units.ParseCoordinate(c.Level, units.US)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range c.Lines {
			for _, at := range line {
				n++
				if z := heightAt(t, relief, at); math.Abs(z-float64(level)) > 0.01 {
					t.Errorf("the line of %s passes %v, at %v", c.Level, at, z)
				}
			}
		}
	}
	if n == 0 {
		t.Error("there are no lines")
	}
}

func heightAt(t *testing.T, r *geom.Relief, at orb.Point) float64 {
	t.Helper()
	z, ok := r.Height(at)
	if !ok {
		t.Fatal("no ground")
	}
	return z
}
