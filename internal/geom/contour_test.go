package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// On a plane every contour is one straight line at its level, from rim to rim.
// Closed form: z = 0.1 y is level along x.
func TestContoursOfAPlaneAreStraight(t *testing.T) {
	at := []orb.Point{{0, 0}, {40, 0}, {40, 30}, {0, 30}, {17, 11}, {28, 19}, {9, 22}}
	z := make([]float64, len(at))
	for i, p := range at {
		z[i] = 0.1 * p[1]
	}
	got := NewRelief(at, z).Contours([]float64{-1, 0.5, 1, 2.5, 3.5})
	if len(got) != 3 {
		t.Fatalf("%d levels have lines, want the three between 0 and 3", len(got))
	}
	for _, c := range got {
		if len(c.Lines) != 1 {
			t.Fatalf("the level %v has %d lines, want 1", c.Z, len(c.Lines))
		}
		west, east := math.Inf(1), math.Inf(-1)
		for _, p := range c.Lines[0] {
			if math.Abs(p[1]-10*c.Z) > 1e-6 {
				t.Errorf("the level %v passes %v", c.Z, p)
			}
			west, east = min(west, p[0]), max(east, p[0])
		}
		if west > 1e-6 || east < 40-1e-6 {
			t.Errorf("the level %v goes from %v to %v, want from rim to rim", c.Z, west, east)
		}
	}
}

// Around a peak the line closes.
func TestContoursAroundAPeakClose(t *testing.T) {
	at := []orb.Point{{0, 0}, {20, 0}, {20, 20}, {0, 20}, {10, 10}}
	got := NewRelief(at, []float64{0, 0, 0, 0, 4}).Contours([]float64{1, 4})
	if len(got) != 2 || len(got[0].Lines) != 1 {
		t.Fatalf("got %v", got)
	}
	line := got[0].Lines[0]
	if first, last := line[0], line[len(line)-1]; first != last || len(line) != 5 {
		t.Errorf("the line around the peak is %v", line)
	}
	if _, _, ok := NewRelief(at[:2], []float64{0, 1}).Range(); ok {
		t.Error("there is ground between two heights")
	}
}

// Whatever the heights: every corner of a line lies at its level on the ground,
// and all lines together cross each face at most once. The oracle is Height.
func TestContoursLieOnTheGround(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 18))
	for round := range 300 {
		at := reliefs(rng, round)
		z := make([]float64, len(at))
		for i := range at {
			z[i] = math.Round(rng.Float64()*16) / 4 // many at a level, and alike
		}
		r := NewRelief(at, z)
		for _, c := range r.Contours([]float64{0.5, 1, 1.75, 3}) {
			stretches := 0
			for _, line := range c.Lines {
				stretches += len(line) - 1
				for i, p := range line {
					q := p
					if i > 0 {
						q = orb.Point{(p[0] + line[i-1][0]) / 2, (p[1] + line[i-1][1]) / 2}
					}
					for _, at := range []orb.Point{p, q} {
						got, ok := r.Height(at)
						if slack := 1e-3 * steepness(r); !ok || math.Abs(got-c.Z) > slack+1e-9 {
							t.Fatalf("round %d: the line at %v passes %v, which lies at %v", round, c.Z, at, got)
						}
					}
				}
			}
			if stretches > len(r.faces) {
				t.Fatalf("round %d: %d stretches on %d faces", round, stretches, len(r.faces))
			}
		}
	}
}

// steepness is the greatest rise over the least run there can be on this ground:
// places are told apart by 1/4096 ft.
func steepness(r *Relief) float64 {
	most := 1.0
	for _, f := range r.faces {
		a, b, c := r.at[f.corner[0]].point(), r.at[f.corner[1]].point(), r.at[f.corner[2]].point()
		area := math.Abs((b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]))
		side := max(math.Hypot(b[0]-a[0], b[1]-a[1]), math.Hypot(c[0]-b[0], c[1]-b[1]), math.Hypot(a[0]-c[0], a[1]-c[1]))
		most = max(most, 4*side/area)
	}
	return most
}
