package geom

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestBadShapesAreNamed(t *testing.T) {
	for _, s := range badShapes() {
		err := ValidatePolygon(s.outline, s.holes)
		var f *Fault
		if !errors.As(err, &f) || f.Reason != s.reason || f.Vertex != s.vertex {
			t.Errorf("%s: %v; want %s at corner %d", s.name, err, s.reason, s.vertex)
			continue
		}
		checkFault(t, s.name, f)
		if poly, err := Polygon(s.outline, s.holes); err == nil || poly != nil {
			t.Errorf("%s: Polygon = %v, %v", s.name, poly, err)
		}
	}
}

// checkFault holds a fault to what every one must be: a finite place and a
// sentence that says what to do.
func checkFault(t interface {
	Helper()
	Errorf(string, ...any)
}, name string, f *Fault) {
	t.Helper()
	if math.IsNaN(f.At[0]-f.At[0]) || math.IsNaN(f.At[1]-f.At[1]) || math.Abs(f.At[0]) > Limit || math.Abs(f.At[1]) > Limit {
		t.Errorf("%s: at %v", name, f.At)
	}
	if f.Sentence == "" || !strings.HasSuffix(f.Sentence, ".") || strings.Count(f.Sentence, ". ")+strings.Count(f.Sentence, ": ") == 0 {
		t.Errorf("%s: sentence %q does not say what is wrong and what to do", name, f.Sentence)
	}
	for _, banned := range []string{"invalid", "illegal", "oops", "failed to parse", "something went wrong"} {
		if strings.Contains(strings.ToLower(f.Sentence), banned) {
			t.Errorf("%s: sentence %q", name, f.Sentence)
		}
	}
}

func TestSoundShapes(t *testing.T) {
	for _, s := range soundShapes() {
		poly, err := Polygon(s.outline, s.holes)
		if err != nil {
			t.Errorf("%s: %v", s.name, err)
			continue
		}
		if signedArea(poly[0]) <= 0 || len(poly) != 1+len(s.holes) {
			t.Errorf("%s: area %v in %d rings", s.name, signedArea(poly[0]), len(poly))
		}
		for _, hole := range poly[1:] {
			if signedArea(hole) >= 0 {
				t.Errorf("%s: hole of area %v", s.name, signedArea(hole))
			}
		}
	}
}

// The place of a crossing is given.
func TestFaultPlace(t *testing.T) {
	for _, c := range []struct {
		o    Outline
		want orb.Point
	}{
		{corners(0, 0, 10, 10, 10, 0, 0, 10), orb.Point{5, 5}},
		{corners(0, 0, 10, 0, 10, 5, 20, 5, 10, 5, 10, 10, 0, 10), orb.Point{20, 5}},
		{corners(0, 0, 10, 0, 10, 10, 5, 0, 0, 10), orb.Point{5, 0}},
		{corners(0, 0, 10, 0, 10, 0, 10, 10), orb.Point{10, 0}},
	} {
		var f *Fault
		if err := c.o.Validate(); !errors.As(err, &f) || f.At != c.want {
			t.Errorf("%v: %+v, want at %v", c.o, f, c.want)
		}
	}
}

func TestValidateSaysNilForSound(t *testing.T) {
	if err := sq10.Validate(); err != nil {
		t.Errorf("square: %v", err) // a typed nil would not be nil
	}
	if err := (Line{{X: 0}, {X: 5}}).Validate(); err != nil {
		t.Errorf("line: %v", err)
	}
}

func TestLineValidate(t *testing.T) {
	for _, c := range []struct {
		name string
		l    Line
		want Reason
	}{
		{"crossing itself is fine", Line(corners(0, 0, 10, 10, 10, 0, 0, 10)), ""},
		{"closed is fine", Line(corners(0, 0, 10, 10, 10, 0, 0, 0)), ""},
		{"one arc", Line{{Bulge: 1}, {X: 5}}, ""},
		{"one corner", Line(corners(0, 0)), TooFew},
		{"nothing", nil, TooFew},
		{"repeated", Line(corners(0, 0, 5, 5, 5, 5)), Repeated},
		{"NaN", Line{{X: nan}, {X: 1}}, NotFinite},
		{"far", Line(corners(0, 0, 0, -40000)), TooFar},
	} {
		err := c.l.Validate()
		if c.want == "" {
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		var f *Fault
		if !errors.As(err, &f) || f.Reason != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// slowFault compares every two edges: the oracle for the tree of boxes.
func slowContact(ring []spot) contact {
	worst := apart
	n := len(ring)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			kind := contactOf(ring[i], ring[i+1], ring[j], ring[(j+1)%n])
			if kind == cross || (kind != apart && worst == apart) {
				worst = kind
			}
		}
	}
	return worst
}

func TestChainFindsWhatEveryPairFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "n")
		var ring []spot
		x, y := 0, 0
		for range n { // a walk on a coarse lattice: crossings and touches abound
			x += rapid.IntRange(-3, 3).Draw(t, "dx")
			y += rapid.IntRange(-3, 3).Draw(t, "dy")
			s := spot{int64(x), int64(y)}
			if len(ring) == 0 || ring[len(ring)-1] != s {
				ring = append(ring, s)
			}
		}
		if len(ring) < 3 {
			t.Skip()
		}
		i, j, got := newChain(ring).selfContact()
		want := slowContact(ring)
		if (got == cross) != (want == cross) || (got == apart) != (want == apart) {
			t.Fatalf("found %v at %d, %d; every pair finds %v", got, i, j, want)
		}
	})
}

func FuzzOutline(f *testing.F) {
	for _, s := range badShapes()[7:] {
		if len(s.outline) >= 3 && len(s.outline) < 20 {
			v := s.outline
			f.Add(v[0].X, v[0].Y, v[0].Bulge, v[1].X, v[1].Y, v[1].Bulge, v[2].X, v[2].Y, v[2].Bulge, v[len(v)-1].X, v[len(v)-1].Y)
		}
	}
	f.Fuzz(func(t *testing.T, ax, ay, ab, bx, by, bb, cx, cy, cb, dx, dy float64) {
		o := Outline{{ax, ay, ab}, {bx, by, bb}, {cx, cy, cb}, {dx, dy, 0}}
		poly, err := Polygon(o, nil)
		if err != nil {
			var fault *Fault
			if !errors.As(err, &fault) {
				t.Fatalf("%v: %v is no fault", o, err)
			}
			checkFault(t, "fuzz", fault)
			return
		}
		area, exact := RingArea(poly[0]), o.Area()
		slack := (sagitta+Grid)*o.Perimeter() + 1
		if !near(area, exact, max(slack, 0.02*exact)) {
			t.Fatalf("%v: area of the ring %v, of the outline %v", o, area, exact)
		}
		if p := InsidePoint(poly); locate(poly[0], p) != inside {
			t.Fatalf("%v: %v is not inside", o, p)
		}
		ground := orb.MultiPolygon{poly}
		if got, err := Intersection(ground, ground); err != nil || !near(Area(got), area, 1e-6*max(1, area)) {
			t.Fatalf("%v: with itself %v, %v; want %v", o, Area(got), err, area)
		}
	})
}

func BenchmarkValidate5000(b *testing.B) {
	o := soundShapes()[9].outline
	for b.Loop() {
		if err := o.Validate(); err != nil {
			b.Fatal(err)
		}
	}
}

// A comb of long slanted teeth: every box meets every other.
func BenchmarkValidateComb10000(b *testing.B) {
	var o Outline
	for i := range 2499 {
		x := float64(i)
		o = append(o, Vertex{X: x, Y: 0}, Vertex{X: x + 5000, Y: 5000}, Vertex{X: x + 5000.5, Y: 5000}, Vertex{X: x + 0.5, Y: 0})
	}
	o = append(o, Vertex{X: 6000, Y: -10}, Vertex{X: -1, Y: -10})
	if err := o.Validate(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		_ = o.Validate()
	}
}

func BenchmarkValidateLot(b *testing.B) {
	outer, holes := lot()
	for b.Loop() {
		if err := ValidatePolygon(outer, holes); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRingLot(b *testing.B) {
	outer, holes := lot()
	for b.Loop() {
		outer.Ring()
		for _, h := range holes {
			h.Ring()
		}
	}
}
