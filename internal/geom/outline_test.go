package geom

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestRingIsClosedSnappedAndAsDrawn(t *testing.T) {
	got := corners(0, 0, 10, 0, 10, 5.0001, 10, 5.0001, 0, 5).Ring()
	want := orb.Ring{{0, 0}, {10, 0}, {10, 5}, {0, 5}, {0, 0}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("ring (-want +got):\n%s", diff)
	}
	if got := (Outline{}).Ring(); got != nil {
		t.Errorf("ring of nothing = %v", got)
	}
	if got := corners(1, 2).Ring(); len(got) != 2 || got[0] != got[1] {
		t.Errorf("ring of one corner = %v", got)
	}
}

// drawArc draws the two ends and the bulge of an edge.
func drawArc(t *rapid.T) (a, b Vertex) {
	c := rapid.Float64Range(-500, 500)
	a = Vertex{X: c.Draw(t, "ax"), Y: c.Draw(t, "ay"), Bulge: rapid.Float64Range(-3, 3).Draw(t, "bulge")}
	b = Vertex{X: c.Draw(t, "bx"), Y: c.Draw(t, "by"), Bulge: -a.Bulge}
	return a, b
}

// Two neighbours draw their common edge from opposite ends: no gap, no overlap.
func TestNeighboursShareEveryPlaceOfAnArc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawArc(t)
		there := Line{a, b}.Points()
		back := Line{b, a}.Points()
		slices.Reverse(back)
		if diff := cmp.Diff(there, back); diff != "" {
			t.Fatalf("(-there +back):\n%s", diff)
		}
	})
}

// Every place of an arc's chords is within sagitta of the arc, and half the
// diagonal of a lattice square more for the snapping.
func TestArcStaysWithinItsSagitta(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawArc(t)
		if math.Abs(a.Bulge) < 1e-3 || math.Hypot(b.X-a.X, b.Y-a.Y) < 0.1 {
			t.Skip()
		}
		r := arcRadius(a.Point(), b.Point(), a.Bulge)
		if r > 2000 {
			t.Skip() // beyond where the cap on chords wins
		}
		c := arcCentre(a.Point(), b.Point(), a.Bulge)
		pts := Line{a, b}.Points()
		for i := 0; i+1 < len(pts); i++ {
			mid := orb.Point{(pts[i][0] + pts[i+1][0]) / 2, (pts[i][1] + pts[i+1][1]) / 2}
			for _, p := range []orb.Point{pts[i], mid} {
				off := math.Abs(math.Hypot(p[0]-c[0], p[1]-c[1]) - r)
				if off > sagitta+Grid*math.Sqrt2 {
					t.Fatalf("place %d is %v ft off an arc of radius %v", i, off, r)
				}
			}
		}
	})
}

// A positive bulge turns anticlockwise, so it lies to the right of the chord.
func TestBulgeSide(t *testing.T) {
	pts := Line{{X: 0, Y: 0, Bulge: 1}, {X: 10, Y: 0}}.Points()
	lowest := 0.0
	for _, p := range pts {
		lowest = min(lowest, p[1])
	}
	if !near(lowest, -5, sagitta) {
		t.Errorf("lowest place of a half circle below its chord = %v, want -5", lowest)
	}
}

func TestOutlineAreaAndPerimeter(t *testing.T) {
	circle := Outline{{X: -3, Y: 0, Bulge: 1}, {X: 3, Y: 0, Bulge: 1}}
	for _, c := range []struct {
		name            string
		o               Outline
		area, perimeter float64
	}{
		{"square", corners(0, 0, 10, 0, 10, 10, 0, 10), 100, 40},
		{"clockwise", corners(0, 10, 10, 10, 10, 0, 0, 0), 100, 40},
		{"circle", circle, 9 * math.Pi, 6 * math.Pi},
		{"half disc", Outline{{X: 0, Y: 0}, {X: 6, Y: 0, Bulge: 1}}, 4.5 * math.Pi, 6 + 3*math.Pi},
		{"square with a half circle bitten out", Outline{{X: 0, Y: 0, Bulge: -1}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}, 100 - 12.5*math.Pi, 30 + 5*math.Pi},
		{"nothing", nil, 0, 0},
	} {
		if got := c.o.Area(); !near(got, c.area, 1e-9) {
			t.Errorf("%s: area %v, want %v", c.name, got, c.area)
		}
		if got := c.o.Perimeter(); !near(got, c.perimeter, 1e-9) {
			t.Errorf("%s: perimeter %v, want %v", c.name, got, c.perimeter)
		}
		if got := RingArea(c.o.Ring()); !near(got, c.area, c.perimeter*(sagitta+Grid)) {
			t.Errorf("%s: area of the ring %v, want near %v", c.name, got, c.area)
		}
	}
}

// drawOutline draws a star-shaped outline about the origin, some edges arcs.
func drawOutline(t *rapid.T) Outline {
	n := rapid.IntRange(3, 12).Draw(t, "corners")
	var o Outline
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := rapid.Float64Range(5, 50).Draw(t, "reach")
		o = append(o, Vertex{X: r * cos, Y: r * sin, Bulge: rapid.SampledFrom([]float64{0, 0, 0.1, -0.1}).Draw(t, "bulge")})
	}
	return o
}

func reversed(o Outline) Outline {
	out := make(Outline, len(o))
	for i := range o {
		out[i] = o[len(o)-1-i]
		out[i].Bulge = -o[(2*len(o)-2-i)%len(o)].Bulge
	}
	return out
}

func TestAreaDoesNotDependOnHowItIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOutline(t)
		dx, dy := float64(rapid.IntRange(-9000, 9000).Draw(t, "dx")), float64(rapid.IntRange(-9000, 9000).Draw(t, "dy"))
		moved := slices.Clone(o)
		for i := range moved {
			moved[i].X, moved[i].Y = moved[i].X+dx, moved[i].Y+dy
		}
		k := rapid.IntRange(0, len(o)-1).Draw(t, "first corner")
		for name, other := range map[string]Outline{
			"reversed": reversed(o), "moved": moved, "begun elsewhere": append(slices.Clone(o[k:]), o[:k]...),
		} {
			if !near(o.Area(), other.Area(), 1e-7) || !near(o.Perimeter(), other.Perimeter(), 1e-8) {
				t.Fatalf("%s: area %v, %v; perimeter %v, %v", name, o.Area(), other.Area(), o.Perimeter(), other.Perimeter())
			}
			if !near(RingArea(o.Ring()), RingArea(other.Ring()), 2*o.Perimeter()*Grid) {
				t.Fatalf("%s: ring area %v, %v", name, RingArea(o.Ring()), RingArea(other.Ring()))
			}
			if (o.Validate() == nil) != (other.Validate() == nil) {
				t.Fatalf("%s: sound %v, %v", name, o.Validate(), other.Validate())
			}
		}
	})
}

func TestRingOfAnythingIsFinite(t *testing.T) {
	huge := Outline{{X: 1e300, Y: 0, Bulge: 1e300}, {X: -1e300, Y: 1e-300, Bulge: 1e-300}, {X: 5, Y: 5, Bulge: -1e-12}}
	if n := len(huge.Ring()); n > 3*mostSteps+1 {
		t.Errorf("ring has %d places", n)
	}
	for _, p := range (Outline{{X: 0, Y: 0, Bulge: 1e-12}, {X: 30000, Y: 1, Bulge: MaxBulge}, {X: 5, Y: 30000}}).Ring() {
		if math.IsNaN(p[0]) || math.IsNaN(p[1]) {
			t.Fatal("NaN in a ring")
		}
	}
}
