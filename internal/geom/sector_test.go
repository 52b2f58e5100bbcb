package geom

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestSectorAreaIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := orb.Point{rapid.Float64Range(-1000, 1000).Draw(t, "x"), rapid.Float64Range(-1000, 1000).Draw(t, "y")}
		r := rapid.Float64Range(0.1, 100).Draw(t, "r")
		sweep := rapid.Float64Range(0.01, 360).Draw(t, "sweep")
		ring := Sector(at, r, rapid.Float64Range(-720, 720).Draw(t, "start"), sweep)
		want := r * r * sweep * math.Pi / 360
		if got := signedArea(ring); !near(got, want, 1e-9*r*r) {
			t.Fatalf("area %v, want %v", got, want)
		}
		if ring[0] != ring[len(ring)-1] {
			t.Fatal("ring is not closed")
		}
	})
}

func TestSectorShape(t *testing.T) {
	quarter := Sector(orb.Point{10, 20}, 15, 90, 90)
	if quarter[0] != (orb.Point{10, 20}) || len(quarter) != 32+3 {
		t.Errorf("quarter begins at %v with %d places", quarter[0], len(quarter))
	}
	if quarter[1][0] != 10 || quarter[len(quarter)-2][1] != 20 {
		t.Errorf("edges along the axes are off: %v, %v", quarter[1], quarter[len(quarter)-2])
	}
	if whole := Sector(orb.Point{}, 15, 0, 400); len(whole) != 129 {
		t.Errorf("whole circle has %d places, want 129 without the centre", len(whole))
	}
	for _, ring := range []orb.Ring{
		Sector(orb.Point{}, 0, 0, 90), Sector(orb.Point{}, 10, 0, 0), Sector(orb.Point{}, math.NaN(), 0, 90),
		Sector(orb.Point{}, 10, 0, math.NaN()), Sector(orb.Point{}, math.Inf(1), 0, 90),
	} {
		if ring != nil {
			t.Errorf("sector of nothing = %v", ring)
		}
	}
}

func TestStripRect(t *testing.T) {
	got := StripRect(orb.Point{5, 5}, 90, 15, 0, 4, 2)
	want := orb.Ring{{7, 5}, {7, 20}, {1, 20}, {1, 5}, {7, 5}}
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(0, 1e-12)); diff != "" {
		t.Errorf("strip (-want +got):\n%s", diff)
	}
	if signedArea(got) != 90 {
		t.Errorf("strip area %v, want 90 anticlockwise", signedArea(got))
	}
	if r := StripRect(orb.Point{}, 0, 0, 0, 4, 2); r != nil {
		t.Errorf("strip without length = %v", r)
	}
}

func TestNormDeg(t *testing.T) {
	for _, c := range []struct{ in, want float64 }{
		{0, 0}, {360, 0}, {-90, 270}, {725, 5}, {-1e-20, 0}, {math.NaN(), 0}, {math.Inf(1), 0}, {359.5, 359.5},
	} {
		got := NormDeg(c.in)
		if got != c.want || math.Signbit(got) {
			t.Errorf("NormDeg(%v) = %v, want %v", c.in, got, c.want)
		}
	}
}

func TestSweepContains(t *testing.T) {
	for _, c := range []struct {
		start, sweep, bearing float64
		want                  bool
	}{
		{0, 90, 45, true}, {0, 90, 0, true}, {0, 90, 90, true}, {0, 90, 91, false}, {0, 90, -1, false},
		{350, 20, 5, true}, {350, 20, 355, true}, {350, 20, 11, false}, {90, 360, 12, true},
		{-90, 180, 300, true}, {-90, 180, 180, false}, {0, 0, 0, false}, {0, -10, 355, false},
		{0.1, 0.2, 0.1 + 0.2, true}, {0, math.NaN(), 0, false},
	} {
		if got := SweepContains(c.start, c.sweep, c.bearing); got != c.want {
			t.Errorf("SweepContains(%v, %v, %v) = %v", c.start, c.sweep, c.bearing, got)
		}
	}
}

func TestBearing(t *testing.T) {
	at := orb.Point{10, 10}
	for _, c := range []struct {
		to   orb.Point
		want float64
	}{
		{orb.Point{20, 10}, 0}, {orb.Point{10, 20}, 90}, {orb.Point{0, 10}, 180}, {orb.Point{10, 0}, 270},
		{orb.Point{20, 20}, 45}, {at, 0},
	} {
		if got := Bearing(at, c.to); !near(got, c.want, 1e-12) {
			t.Errorf("Bearing to %v = %v, want %v", c.to, got, c.want)
		}
	}
}
