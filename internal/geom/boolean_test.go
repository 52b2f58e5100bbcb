package geom

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func square(x, y, side float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}}
}

func TestBooleansOfSquares(t *testing.T) {
	//	┌───────┐
	//	│ a ┌───┼───┐
	//	└───┼───┘ b │   a: 10 x 10 at the origin, b: at (5, 5)
	//	    └───────┘
	a, b := square(0, 0, 10), square(5, 5, 10)
	for _, c := range []struct {
		name string
		op   func() (orb.MultiPolygon, error)
		area float64
		n    int
	}{
		{"union", func() (orb.MultiPolygon, error) { return Union(a, b) }, 175, 1},
		{"intersection", func() (orb.MultiPolygon, error) { return Intersection(a, b) }, 25, 1},
		{"difference", func() (orb.MultiPolygon, error) { return Difference(a, b) }, 75, 1},
		{"the other difference", func() (orb.MultiPolygon, error) { return Difference(b, a) }, 75, 1},
		{"apart", func() (orb.MultiPolygon, error) { return Union(a, square(20, 0, 1)) }, 101, 2},
		{"meeting at a corner", func() (orb.MultiPolygon, error) { return Intersection(a, square(10, 10, 1)) }, 0, 0},
		{"sharing an edge", func() (orb.MultiPolygon, error) { return Intersection(a, square(10, 0, 10)) }, 0, 0},
		{"joined at an edge", func() (orb.MultiPolygon, error) { return Union(a, square(10, 0, 10)) }, 200, 1},
		{"hole", func() (orb.MultiPolygon, error) { return Difference(a, square(2, 2, 3)) }, 91, 1},
		{"itself", func() (orb.MultiPolygon, error) { return Difference(a, a) }, 0, 0},
		{"nothing", func() (orb.MultiPolygon, error) { return Union() }, 0, 0},
		{"with nothing", func() (orb.MultiPolygon, error) { return Union(a, nil) }, 100, 1},
		{"less nothing", func() (orb.MultiPolygon, error) { return Difference(a, nil) }, 100, 1},
		{"in nothing", func() (orb.MultiPolygon, error) { return Intersection(a, orb.MultiPolygon{}) }, 0, 0},
		{"three", func() (orb.MultiPolygon, error) { return Union(a, b, square(8, 0, 10)) }, 100 + 100 + 100 - 25 - 20 - 35 + 10, 1},
	} {
		got, err := c.op()
		if err != nil || !near(Area(got), c.area, 1e-9) || len(got) != c.n {
			t.Errorf("%s: %v in %d polygons, %v; want %v in %d", c.name, Area(got), len(got), err, c.area, c.n)
		}
	}
}

// Outlines run anticlockwise, holes clockwise, rings are closed.
func TestBooleanResultsAreOriented(t *testing.T) {
	got, err := Difference(square(0, 0, 10), square(2, 2, 3))
	if err != nil || len(got) != 1 || len(got[0]) != 2 {
		t.Fatalf("difference = %v, %v", got, err)
	}
	if signedArea(got[0][0]) != 100 || signedArea(got[0][1]) != -9 {
		t.Errorf("areas %v, %v; want 100, -9", signedArea(got[0][0]), signedArea(got[0][1]))
	}
}

func TestBooleansRefuseWhatIsNoPlace(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), 1e300} {
		bad := orb.MultiPolygon{{{{0, 0}, {v, 0}, {1, 1}, {0, 0}}}}
		if got, err := Union(bad); err == nil {
			t.Errorf("union with %v = %v", v, got)
		}
		if got, err := Difference(square(0, 0, 1), bad); err == nil {
			t.Errorf("difference with %v = %v", v, got)
		}
	}
}

func mustArea(t *rapid.T, mp orb.MultiPolygon, err error) float64 {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	a := Area(mp)
	if math.IsNaN(a) || a < 0 {
		t.Fatalf("area %v", a)
	}
	return a
}

// |A| = |A∩B| + |A−B| and |A| + |B| = |A∪B| + |A∩B|, for heads about a concave
// lot with holes, some of them flush with its edges.
func TestBooleanIdentities(t *testing.T) {
	ground := lotPolygon()
	rapid.Check(t, func(t *rapid.T) {
		b := drawSector(t, "head")
		and, err := Intersection(ground, b)
		both := mustArea(t, and, err)
		less, err := Difference(ground, b)
		rest := mustArea(t, less, err)
		or, err := Union(ground, b)
		all := mustArea(t, or, err)
		settled, err := Union(b)
		head := mustArea(t, settled, err)
		if whole := Area(ground); !near(whole, both+rest, 1e-6) || !near(whole+head, all+both, 1e-6) {
			t.Fatalf("|A| %v, |B| %v, and %v, less %v, or %v", whole, head, both, rest, all)
		}
	})
}

// Adding one more head to a union of many adds exactly what it does not share.
func TestUnionOfManyAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []orb.MultiPolygon
		for range rapid.IntRange(1, 24).Draw(t, "heads") {
			parts = append(parts, drawSector(t, "head"))
		}
		last := drawSector(t, "last")
		before, err := Union(parts...)
		a := mustArea(t, before, err)
		after, err := Union(append(parts, last)...)
		b := mustArea(t, after, err)
		extra, err := Difference(last, before)
		c := mustArea(t, extra, err)
		// Intermediate unions are snapped: each of their places moves by up to
		// half a lattice square.
		if !near(b, a+c, 0.05) {
			t.Fatalf("union grew from %v to %v; the last head brings %v", a, b, c)
		}
	})
}

// Equal ground gives equal bytes, however the parts were listed or begun.
func TestBooleansAreDeterminate(t *testing.T) {
	ground := lotPolygon()
	var parts []orb.MultiPolygon
	for i := range 20 {
		parts = append(parts, orb.MultiPolygon{{Sector(orb.Point{float64(i%8) * 17.3, float64(i/8) * 23.1}, 9.7, float64(i*37), 180)}})
	}
	var first orb.MultiPolygon
	for k := range 5 {
		wet, err := Union(parts...)
		if err != nil {
			t.Fatal(err)
		}
		dry, err := Difference(ground, wet)
		if err != nil {
			t.Fatal(err)
		}
		if k == 0 {
			first = dry
		}
		if diff := cmp.Diff(first, dry); diff != "" {
			t.Fatalf("run %d (-first +now):\n%s", k, diff)
		}
	}
	a, err := Union(square(0, 0, 10), square(30, 0, 10))
	if err != nil {
		t.Fatal(err)
	}
	b, err := Union(square(30, 0, 10), square(0, 0, 10))
	if diff := cmp.Diff(a, b); err != nil || diff != "" {
		t.Errorf("order of the parts shows: %v\n%s", err, diff)
	}
}

// A lattice of heads overlapping as they do on a lawn, where a many-way union
// is known to go wrong: the area must be that of a fine count of places.
func TestUnionOfALattice(t *testing.T) {
	var parts []orb.MultiPolygon
	for i := range 8 {
		for j := range 8 {
			parts = append(parts, orb.MultiPolygon{{Sector(orb.Point{float64(i) * 10, float64(j) * 10}, 14, float64(90*(i+j)), float64(90*(1+(i*j)%4)))}})
		}
	}
	got, err := Union(parts...)
	if err != nil {
		t.Fatal(err)
	}
	const step = 0.3
	count := 0
	for x := -15 + step/2; x < 90; x += step {
		for y := -15 + step/2; y < 90; y += step {
			for _, p := range parts {
				if Contains(p, orb.Point{x, y}) {
					count++
					break
				}
			}
		}
	}
	if want := float64(count) * step * step; !near(Area(got), want, 6) {
		t.Errorf("area %v, want %v counted", Area(got), want)
	}
}

func BenchmarkIntersectionSector(b *testing.B) {
	ground := lotPolygon()
	head := orb.MultiPolygon{{Sector(orb.Point{60, 20}, 15, 30, 200)}}
	for b.Loop() {
		if _, err := Intersection(ground, head); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkUnion60Heads(b *testing.B) {
	var parts []orb.MultiPolygon
	for i := range 60 {
		parts = append(parts, orb.MultiPolygon{{Sector(orb.Point{float64(i%10) * 12, float64(i/10) * 12}, 14, float64(i*30), 180)}})
	}
	for b.Loop() {
		if _, err := Union(parts...); err != nil {
			b.Fatal(err)
		}
	}
}
