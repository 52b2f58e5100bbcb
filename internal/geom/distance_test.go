package geom

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestDistanceToEdge(t *testing.T) {
	ring := sq10.Ring()
	for _, c := range []struct {
		p       orb.Point
		d       float64
		at      orb.Point
		segment int
	}{
		{orb.Point{5, 2}, 2, orb.Point{5, 0}, 0},
		{orb.Point{12, 5}, 2, orb.Point{10, 5}, 1},
		{orb.Point{13, 14}, 5, orb.Point{10, 10}, 1}, // a corner: the earlier edge
		{orb.Point{3, 10}, 0, orb.Point{3, 10}, 2},
		{orb.Point{5, 5}, 5, orb.Point{5, 0}, 0},
	} {
		d, at, segment := DistanceToEdge(c.p, ring)
		if !near(d, c.d, 1e-12) || at != c.at || segment != c.segment {
			t.Errorf("from %v: %v to %v on %d; want %v to %v on %d", c.p, d, at, segment, c.d, c.at, c.segment)
		}
	}
	if d, _, segment := DistanceToEdge(orb.Point{}, orb.LineString{{1, 1}}); !math.IsInf(d, 1) || segment != -1 {
		t.Errorf("distance to one place = %v on %d", d, segment)
	}
	if d, at, _ := DistanceToEdge(orb.Point{0, 1}, orb.LineString{{0, 0}, {0, 0}}); d != 1 || at != (orb.Point{}) {
		t.Errorf("distance to a segment without length = %v at %v", d, at)
	}
}

func TestContainsCountsItsEdges(t *testing.T) {
	ground := orb.MultiPolygon{{sq10.Ring(), corners(2, 2, 4, 2, 4, 4, 2, 4).Ring()}}
	for _, c := range []struct {
		p    orb.Point
		want bool
	}{
		{orb.Point{1, 1}, true}, {orb.Point{3, 3}, false}, {orb.Point{11, 3}, false},
		{orb.Point{0, 5}, true}, {orb.Point{10, 10}, true}, {orb.Point{0, 0}, true}, {orb.Point{5, 10}, true},
		{orb.Point{2, 3}, true}, {orb.Point{4, 4}, true}, {orb.Point{3, 2}, true},
		{orb.Point{-1, 0}, false}, {orb.Point{-1, 10}, false}, {orb.Point{12, 10}, false}, {orb.Point{5, 4}, true},
	} {
		if got := Contains(ground, c.p); got != c.want {
			t.Errorf("Contains(%v) = %v", c.p, got)
		}
	}
	if Contains(nil, orb.Point{}) || PolygonContains(nil, orb.Point{}) || RingContains(nil, orb.Point{}) {
		t.Error("nothing holds a place")
	}
	if !RingContains(sq10.Ring(), orb.Point{10, 3}) {
		t.Error("a ring holds its edge")
	}
}

// A ray must count each corner it passes once: places level with corners.
func TestContainsOnALevelWithCorners(t *testing.T) {
	//	    ╱╲          10
	//	  ╱    ╲__       5
	//	 ╱        ╲      5
	star := corners(0, 0, 10, 5, 20, 5, 25, 0, 25, 10, 12, 5.5, 5, 10).Ring()
	for _, c := range []struct {
		p    orb.Point
		want bool
	}{
		{orb.Point{-5, 5}, false}, {orb.Point{-5, 0}, false}, {orb.Point{-5, 10}, false},
		{orb.Point{5, 5}, true}, {orb.Point{22, 5}, true}, {orb.Point{26, 5}, false}, {orb.Point{20, 0}, false},
	} {
		if got := RingContains(star, c.p); got != c.want {
			t.Errorf("RingContains(%v) = %v", c.p, got)
		}
	}
}

func TestInsidePointIsInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outline := drawOutline(t)
		poly, err := Polygon(outline, nil)
		if err != nil {
			t.Skip()
		}
		if p := InsidePoint(poly); locate(poly[0], p) != inside {
			t.Fatalf("%v is not inside %v", p, outline)
		}
	})
}

func TestInsidePoint(t *testing.T) {
	u := corners(0, 0, 30, 0, 30, 20, 28, 20, 28, 4, 2, 4, 2, 20, 0, 20)
	for _, c := range []struct {
		name  string
		poly  orb.Polygon
		least float64 // from every edge
	}{
		{"square", orb.Polygon{sq10.Ring()}, 4.8},
		{"U", orb.Polygon{u.Ring()}, 1.7},
		{"ring", orb.Polygon{sq10.Ring(), corners(2, 2, 8, 2, 8, 8, 2, 8).Ring()}, 0.9},
		{"sliver", orb.Polygon{corners(0, 0, 9842, 0.01, 9842, 0.03).Ring()}, 1e-4},
	} {
		p := InsidePoint(c.poly)
		if !PolygonContains(c.poly, p) || clearance(c.poly, p) < c.least {
			t.Errorf("%s: %v, %v from the edge, want %v or more", c.name, p, clearance(c.poly, p), c.least)
		}
	}
	if p := InsidePoint(nil); p != (orb.Point{}) {
		t.Errorf("inside of nothing = %v", p)
	}
}

func TestCentroid(t *testing.T) {
	if got := Centroid(corners(1000, 0, 1006, 0, 1000, 3).Ring()); !near(got[0], 1002, 1e-9) || !near(got[1], 1, 1e-9) {
		t.Errorf("centroid of a triangle = %v", got)
	}
	if got := Centroid(nil); got != (orb.Point{}) {
		t.Errorf("centroid of nothing = %v", got)
	}
	if got := Centroid(orb.Ring{{3, 3}, {4, 4}, {3, 3}}); got != (orb.Point{3, 3}) {
		t.Errorf("centroid of a line = %v", got)
	}
}

func TestSegmentIntersection(t *testing.T) {
	for _, c := range []struct {
		name       string
		a, b, c, d orb.Point
		at         orb.Point
		meet       bool
	}{
		{"cross", orb.Point{0, 0}, orb.Point{4, 4}, orb.Point{0, 4}, orb.Point{4, 0}, orb.Point{2, 2}, true},
		{"end on the other", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{2, 0}, orb.Point{2, 5}, orb.Point{2, 0}, true},
		{"common end", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{4, 0}, orb.Point{9, 9}, orb.Point{4, 0}, true},
		{"on one line, overlapping", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{9, 0}, orb.Point{2, 0}, orb.Point{2, 0}, true},
		{"on one line, holding it", orb.Point{0, 0}, orb.Point{9, 0}, orb.Point{6, 0}, orb.Point{2, 0}, orb.Point{2, 0}, true},
		{"on one line, apart", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{2, 0}, orb.Point{3, 0}, orb.Point{}, false},
		{"on one line, end to end", orb.Point{0, 0}, orb.Point{1, 1}, orb.Point{2, 2}, orb.Point{1, 1}, orb.Point{1, 1}, true},
		{"level", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{0, 1}, orb.Point{4, 1}, orb.Point{}, false},
		{"short of it", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{2, 1}, orb.Point{2, 5}, orb.Point{}, false},
		{"boxes meet, they do not", orb.Point{0, 0}, orb.Point{4, 4}, orb.Point{3, 0}, orb.Point{4, 3}, orb.Point{}, false},
	} {
		at, meet := SegmentIntersection(c.a, c.b, c.c, c.d)
		if meet != c.meet || at != c.at {
			t.Errorf("%s: %v, %v; want %v, %v", c.name, at, meet, c.at, c.meet)
		}
		if _, other := SegmentIntersection(c.c, c.d, c.a, c.b); other != c.meet {
			t.Errorf("%s, the other way: %v", c.name, other)
		}
	}
}

func TestSnapIsExactAndStays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := orb.Point{rapid.Float64Range(-Limit, Limit).Draw(t, "x"), rapid.Float64Range(-Limit, Limit).Draw(t, "y")}
		s := Snap(p)
		if math.Abs(s[0]-p[0]) > Grid/2 || math.Abs(s[1]-p[1]) > Grid/2 {
			t.Fatalf("%v snapped to %v", p, s)
		}
		if diff := cmp.Diff(s, Snap(s)); diff != "" {
			t.Fatalf("snapped twice (-once +twice):\n%s", diff)
		}
		if spotOf(p).point() != s {
			t.Fatalf("%v: spot at %v, snapped to %v", p, spotOf(p).point(), s)
		}
	})
}
