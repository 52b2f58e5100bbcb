package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// capsule is all ground within d of the segment, drawn as one: the independent
// way to an offset.
func capsule(a, b orb.Point, d float64) orb.MultiPolygon {
	turn := Bearing(a, b)
	var r orb.Ring
	const n = 64
	for k := 0; k <= n; k++ {
		sin, cos := math.Sincos((turn - 90 + 180*float64(k)/n) * math.Pi / 180)
		r = append(r, orb.Point{b[0] + d*cos, b[1] + d*sin})
	}
	for k := 0; k <= n; k++ {
		sin, cos := math.Sincos((turn + 90 + 180*float64(k)/n) * math.Pi / 180)
		r = append(r, orb.Point{a[0] + d*cos, a[1] + d*sin})
	}
	return orb.MultiPolygon{{append(r, r[0])}}
}

func capsules(mp orb.MultiPolygon, d float64) orb.MultiPolygon {
	var parts []orb.MultiPolygon
	for _, poly := range mp {
		for _, r := range poly {
			for i := 0; i+1 < len(r); i++ {
				parts = append(parts, capsule(r[i], r[i+1], d))
			}
		}
	}
	out, err := Union(parts...)
	if err != nil {
		panic(err)
	}
	return out
}

func TestOffsetOfASquare(t *testing.T) {
	for _, c := range []struct {
		name string
		op   func(orb.MultiPolygon, float64) (orb.MultiPolygon, error)
		d    float64
		want float64
	}{
		{"inset", Inset, 1, 64},
		{"inset of half", Inset, 4.9, 0.04},
		{"inset of all", Inset, 5, 0},
		{"inset beyond", Inset, 50, 0},
		{"inset by nothing", Inset, 0, 100},
		{"inset by NaN", Inset, math.NaN(), 100},
		{"outset", Outset, 1, 100 + 40 + math.Pi},
		{"outset by nothing", Outset, -1, 100},
	} {
		got, err := c.op(square(0, 0, 10), c.d)
		if err != nil || !near(Area(got), c.want, 0.02) {
			t.Errorf("%s: %v, %v; want %v", c.name, Area(got), err, c.want)
		}
	}
}

// The half capsules agree with whole ones on the concave lot with holes.
func TestOffsetAgreesWithCapsules(t *testing.T) {
	ground := lotPolygon()
	for _, d := range []float64{0.25, 0.5, 1, 3, 6, 10, 14} {
		around := capsules(ground, d)
		want, err := Difference(ground, around)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Inset(ground, d)
		if err != nil || !near(Area(got), Area(want), 0.6) {
			t.Errorf("inset %v: %v, %v; want %v", d, Area(got), err, Area(want))
		}
		want, err = Union(ground, around)
		if err != nil {
			t.Fatal(err)
		}
		got, err = Outset(ground, d)
		if err != nil || !near(Area(got), Area(want), 0.6) {
			t.Errorf("outset %v: %v, %v; want %v", d, Area(got), err, Area(want))
		}
	}
}

// Every place tells by itself whether an offset is right: it is in the inset
// just when it is inside and farther than d from every edge.
func TestOffsetPlaceByPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOutline(t)
		poly, err := Polygon(o, nil)
		if err != nil {
			t.Skip()
		}
		ground := orb.MultiPolygon{poly}
		d := rapid.Float64Range(0.1, 12).Draw(t, "d")
		in, err := Inset(ground, d)
		if err != nil {
			t.Fatal(err)
		}
		out, err := Outset(ground, d)
		if err != nil {
			t.Fatal(err)
		}
		for range 40 {
			p := orb.Point{rapid.Float64Range(-60, 60).Draw(t, "x"), rapid.Float64Range(-60, 60).Draw(t, "y")}
			far, _, _ := DistanceToEdge(p, poly[0])
			if math.Abs(far-d) < sagitta+4*Grid {
				continue
			}
			inside := PolygonContains(poly, p)
			if got, want := Contains(in, p), inside && far > d; got != want {
				t.Fatalf("inset %v holds %v: %v, want %v (%v from the edge)", d, p, got, want, far)
			}
			if got, want := Contains(out, p), inside || far < d; got != want {
				t.Fatalf("outset %v holds %v: %v, want %v (%v from the edge)", d, p, got, want, far)
			}
		}
	})
}

// Going in and out again never gains ground, going out and in never loses any;
// what differs is the rounding of corners.
func TestOffsetsInvertWithinBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		poly, err := Polygon(drawOutline(t), nil)
		if err != nil {
			t.Skip()
		}
		ground := orb.MultiPolygon{poly}
		d := rapid.Float64Range(0.1, 4).Draw(t, "d")
		slack := 2 * (sagitta + 4*Grid) * 600 // of perimeter
		if rapid.Bool().Draw(t, "inwards first") {
			if opened := through(t, ground, d, Inset, Outset); Area(opened) > Area(ground)+slack {
				t.Fatalf("area %v, in and out again %v", Area(ground), Area(opened))
			}
			return
		}
		if closed := through(t, ground, d, Outset, Inset); Area(closed) < Area(ground)-slack {
			t.Fatalf("area %v, out and in again %v", Area(ground), Area(closed))
		}
	})
}

func through(t *rapid.T, mp orb.MultiPolygon, d float64, ops ...func(orb.MultiPolygon, float64) (orb.MultiPolygon, error)) orb.MultiPolygon {
	t.Helper()
	for _, op := range ops {
		var err error
		if mp, err = op(mp, d); err != nil {
			t.Fatal(err)
		}
	}
	return mp
}

func BenchmarkInsetLot(b *testing.B) {
	ground := lotPolygon()
	for b.Loop() {
		if _, err := Inset(ground, 0.5); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkInsetAndOutsetLot6(b *testing.B) {
	ground := lotPolygon()
	for b.Loop() {
		if _, err := Inset(ground, 6); err != nil {
			b.Fatal(err)
		}
		if _, err := Outset(ground, 6); err != nil {
			b.Fatal(err)
		}
	}
}
