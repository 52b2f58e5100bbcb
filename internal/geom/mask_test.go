package geom_test

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"evenfall/internal/geom"
)

// star is a random ring that every ray from its middle meets once.
func star(r *rand.Rand, at orb.Point, least, most float64) orb.Ring {
	n := 3 + r.IntN(60)
	ring := make(orb.Ring, 0, n+1)
	for k := range n {
		a := (float64(k) + 0.9*r.Float64()) / float64(n) * 2 * math.Pi
		d := least + (most-least)*r.Float64()
		ring = append(ring, orb.Point{at[0] + d*math.Cos(a), at[1] + d*math.Sin(a)})
	}
	return append(ring, ring[0])
}

func TestMaskAreaIsThePolygonsArea(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	f := geom.Frame{Origin: orb.Point{-40, -40}, Cell: 0.25, NX: 320, NY: 320}
	var m geom.Mask
	worst := 0.0
	for range 2000 {
		ring := star(r, orb.Point{20 * r.Float64(), 20 * r.Float64()}, 1, 19)
		if r.IntN(2) == 0 {
			ring.Reverse()
		}
		f.Fill(&m, ring)
		got, want := m.Cells()*f.CellArea(), math.Abs(planar.Area(ring))
		worst = max(worst, math.Abs(got-want)/want)
	}
	t.Logf("worst relative error %.2g", worst)
	if worst > 1e-9 {
		t.Errorf("worst relative area error %.3g, want at most 1e-9", worst)
	}
}

func TestMaskOfAPolygonWithAHole(t *testing.T) {
	f := geom.Frame{Cell: 0.5, NX: 40, NY: 40}
	outer := orb.Ring{{1.1, 1.2}, {18.3, 1.2}, {18.3, 15.7}, {1.1, 15.7}, {1.1, 1.2}}
	hole := orb.Ring{{5, 5}, {5, 9}, {11, 9}, {11, 5}, {5, 5}} // the other way round
	var m geom.Mask
	f.Fill(&m, outer, hole)
	want := 17.2*14.5 - 24
	if got := m.Cells() * f.CellArea(); math.Abs(got-want) > 1e-7 {
		t.Errorf("area %.9f, want %.9f", got, want)
	}
}

// Summing a shape's parts inside the frame and in frames beside it gives the
// whole: clipping loses nothing and adds nothing.
func TestMaskIsClippedToItsFrame(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		ring := star(r, orb.Point{10, 10}, 2, 14)
		sum := 0.0
		var m geom.Mask
		for x := -1; x < 3; x++ {
			for y := -1; y < 3; y++ {
				f := geom.Frame{Origin: orb.Point{8 * float64(x), 8 * float64(y)}, Cell: 0.5, NX: 16, NY: 16}
				f.Fill(&m, ring)
				sum += m.Cells() * f.CellArea()
				if b := m.Bound(); !b.Empty() && b != b.Within(f) {
					t.Fatalf("mask reaches %+v in a frame of 16 by 16", b)
				}
			}
		}
		want := math.Abs(planar.Area(ring))
		if math.Abs(sum-want) > 1e-6 {
			t.Fatalf("sixteen frames hold %.9f square feet, the ring has %.9f", sum, want)
		}
		f := geom.Frame{Origin: orb.Point{8, 8}, Cell: 0.5, NX: 4, NY: 4}
		f.FillWhole(&m, ring)
		if got := m.Cells() * f.CellArea(); math.Abs(got-want) > 1e-6 {
			t.Fatalf("FillWhole holds %.9f, want %.9f", got, want)
		}
	}
}

// The samples of a part are the sample places that the ring contains.
func TestSamplesAgreeWithAPointTest(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	f := geom.Frame{Cell: 1, NX: 24, NY: 24}
	var m geom.Mask
	for range 200 {
		ring := star(r, orb.Point{12, 12}, 2, 11)
		f.Fill(&m, ring)
		for i := range m.Rows() {
			_, parts := m.Row(i)
			for _, p := range parts {
				var want uint64
				for b := range 64 {
					x, y := geom.Sample(b)
					if planar.RingContains(ring, orb.Point{float64(p.X) + x, float64(m.Y0+i) + y}) {
						want |= 1 << b
					}
				}
				if p.Bits != want {
					t.Fatalf("cell %d,%d: samples %064b, want %064b", p.X, m.Y0+i, p.Bits, want)
				}
				if d := math.Abs(float64(bits.OnesCount64(want))/64 - p.Fraction()); d > 0.2 {
					t.Fatalf("cell %d,%d: share %.3f but %d of 64 samples", p.X, m.Y0+i, p.Fraction(), bits.OnesCount64(want))
				}
			}
		}
	}
}

func TestMaskOfNothing(t *testing.T) {
	f := geom.Frame{Cell: 1, NX: 10, NY: 10}
	nan := math.NaN()
	rings := map[string][]orb.Ring{
		"no ring":       nil,
		"empty ring":    {{}},
		"two points":    {{{1, 1}, {2, 2}}},
		"outside":       {{{20, 20}, {30, 20}, {30, 30}, {20, 20}}},
		"west":          {{{-20, 2}, {-10, 2}, {-10, 8}, {-20, 2}}},
		"a line":        {{{1, 1}, {5, 5}, {1, 1}}},
		"not a number":  {{{1, 1}, {nan, 5}, {5, 1}, {1, 1}}},
		"no cells east": {{{10, 0}, {12, 0}, {12, 5}, {10, 0}}},
	}
	for name, rr := range rings {
		var m geom.Mask
		f.Fill(&m, rr...)
		if got := m.Cells(); got != 0 {
			t.Errorf("%s: mask of %g cells, want none", name, got)
		}
	}
}

func TestTogether(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b uint64
		want float64
	}{
		{"same", 0xFF, 0xFF, 1},
		{"apart", 0xFF, 0xFF00, 0},
		{"half", 0xF0F0, 0xFF00, 0.5},
		{"nothing in a", 0, 0xFF, 8.0 / 64},
		{"nothing in b", 0xFF, 0, 0},
		{"nothing in both", 0, 0, 1},
	} {
		if got := geom.Together(c.a, c.b); got != c.want {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}

// BenchmarkFillSector makes the mask of a head of 15 ft and 270 degrees. The
// shortest round is reported, too: on a shared machine the mean measures the
// neighbours.
func BenchmarkFillSector(b *testing.B) {
	f := geom.Frame{Cell: 0.25, NX: 520, NY: 308}
	ring := geom.Sector(orb.Point{40.3, 30.1}, 15, 20, 270)
	var m geom.Mask
	best := time.Duration(math.MaxInt64)
	for b.Loop() {
		start := time.Now()
		f.FillWhole(&m, ring)
		best = min(best, time.Since(start))
	}
	b.ReportMetric(float64(best.Nanoseconds()), "best-ns")
}
