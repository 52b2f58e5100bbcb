package coverage

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/testdata/plans"
)

func demoPlan(t testing.TB) *plan.Plan {
	t.Helper()
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func footprintsOf(t testing.TB, p *plan.Plan, w Wind) []Footprint {
	t.Helper()
	list, _, err := Footprints(p, nil, w)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// sumAt is what all heads bring a place, the mean over a cell about it so that the raster
// can be held against it: the raster has the mean of a cell that an edge crosses.
func sumAt(list []Footprint, at orb.Point, cell float64) float64 {
	const n = 8
	sum := 0.0
	for i := range n {
		for j := range n {
			q := orb.Point{at[0] + ((float64(i)+0.5)/n-0.5)*cell, at[1] + ((float64(j)+0.5)/n-0.5)*cell}
			for k := range list {
				sum += float64(list[k].RateAt(q, nil))
			}
		}
	}
	return sum / (n * n)
}

// Footprints together are the field: two ways that share only the figures of a head, on
// the demo with its house, fence, hedge, trees and strips, in calm air and in wind.
func TestFootprintsTogetherAreTheField(t *testing.T) {
	t.Parallel()
	p := demoPlan(t)
	r := rand.New(rand.NewPCG(9, 1))
	for _, w := range []Wind{{}, {Speed: 6, From: 200}} {
		picture, err := Windy(context.Background(), p, w, nil)
		if err != nil {
			t.Fatal(err)
		}
		list, frame := footprintsOf(t, p, w), picture.Frame()
		total, off, wet, worst := 0.0, 0.0, 0, 0.0
		for range 4000 {
			x, y := r.IntN(frame.NX), r.IntN(frame.NY)
			at := orb.Point{frame.Origin[0] + (float64(x)+0.5)*frame.Cell, frame.Origin[1] + (float64(y)+0.5)*frame.Cell}
			got, _ := picture.RateAt(at)
			if !got.OnTarget && got.Rate == 0 {
				continue
			}
			want := sumAt(list, at, frame.Cell)
			total += want
			off += math.Abs(want - float64(got.Rate))
			worst = max(worst, math.Abs(want-float64(got.Rate)))
			wet++
		}
		if wet < 500 || !(off/total < 0.006) {
			t.Errorf("wind %v: off by %.4f of the water at %d places, by %.3f in/h at the most", w.Speed, off/total, wet, worst)
		}
	}
}

// stretchedOff throws less far on one side and farther on the other.
func stretchedOff(deg, by float64) Stretch {
	return func(to units.Degrees) float64 { return 1 - by*math.Cos((float64(to)-deg)*math.Pi/180) }
}

// The water of a head is its flow however it is stretched, for that turns no water away
// from its direction; and its middle lies on the side it throws farther to.
func TestStretchingMovesWaterAndLosesNone(t *testing.T) {
	t.Parallel()
	y := newYard().lip(0).area("lawn", plan.Planting, -60, -60, 60, -60, 60, 60, -60, 60).nozzle("n", 20, 0.5, linear)
	y.head("n", 0, 0, 0, 360)
	y.head("n", 100, 0, 30, 135) // far from the first
	list := footprintsOf(t, &y.Plan, Wind{})
	for k := range list {
		f := &list[k]
		for _, c := range []struct{ deg, by float64 }{{}, {40, 0.1}, {200, 0.2}, {75, 0.3}} {
			l := stretchedOff(c.deg, c.by)
			if c.by == 0 {
				l = nil
			}
			sum, mx, my := 0.0, 0.0, 0.0
			const step = 0.1
			for x := -30.0; x < 30; x += step {
				for y := -30.0; y < 30; y += step {
					v := float64(f.RateAt(orb.Point{f.At()[0] + x + step/2, f.At()[1] + y + step/2}, l)) * step * step
					sum, mx, my = sum+v, mx+v*x, my+v*y
				}
			}
			near(t, "water of a stretched head over its flow", sum/96.25/float64(f.Run.Flow), 1, 0.003)
			if f.set.sweep < 360 || l == nil {
				continue
			}
			away := math.Atan2(my, mx)*180/math.Pi - c.deg
			if math.Cos(away*math.Pi/180) > -0.99 {
				t.Errorf("a head that throws less far towards %g°: its water has its middle %.0f° from there, want the other side", c.deg, away)
			}
		}
	}
}

// A wall shades what lies behind it, and nothing beside it; a building its other side.
func TestFootprintBehindAWall(t *testing.T) {
	t.Parallel()
	y := newYard().lip(0).area("lawn", plan.Planting, -30, -30, 30, -30, 30, 30, -30, 30).area("shed", plan.Building, 5, -2, 8, -2, 8, 2, 5, 2)
	y.nozzle("n", 20, 0.5, linear)
	y.head("n", 0, 0, 0, 360)
	f := footprintsOf(t, &y.Plan, Wind{})[0]
	for _, c := range []struct {
		x, y float64
		wet  bool
	}{{4, 0, true}, {10, 0, false}, {15, 3, false}, {10, 9, true}, {-10, 0, true}, {6, 2.6, true}} {
		for _, l := range []Stretch{nil, stretchedOff(180, 0.1)} {
			if got := f.RateAt(orb.Point{c.x, c.y}, l) > 0; got != c.wet {
				t.Errorf("stretched %v: wet at (%g, %g) is %v, want %v", l != nil, c.x, c.y, got, c.wet)
			}
		}
	}
}

// A strip waters its rectangle alone, the more the nearer along it.
func TestFootprintOfAStrip(t *testing.T) {
	t.Parallel()
	y := newYard().lip(0).area("lawn", plan.Planting, -30, -30, 30, -30, 30, 30, -30, 30)
	y.stripNozzle("s", 15, 1, catalog.StripShape{Ahead: true, Back: true, Left: 4})
	y.head("s", 0, 0, 90, 0)
	f := footprintsOf(t, &y.Plan, Wind{})[0]
	// 1 gpm over 30 ft by 4 ft with a mean share of 1/2: 96.25/(60·4/... ) = 96.25/60 at the head.
	near(t, "beside the head", float64(f.RateAt(orb.Point{-2, 0}, nil)), 96.25/60, 1e-9)
	near(t, "halfway", float64(f.RateAt(orb.Point{-2, 7.5}, nil)), 96.25/120, 1e-9)
	near(t, "other side", float64(f.RateAt(orb.Point{2, 7.5}, nil)), 0, 0)
	near(t, "past its side", float64(f.RateAt(orb.Point{-4.1, 7.5}, nil)), 0, 0)
}

// What is drawn beside the map has its bytes.
func TestMapByteIsTheMaps(t *testing.T) {
	t.Parallel()
	f := New()
	y := corners(15)
	if _, _, err := f.Update(context.Background(), &y.Plan); err != nil {
		t.Fatal(err)
	}
	for _, at := range []orb.Point{{1.1, 1.1}, {7.4, 7.4}, {3.1, 9.9}} {
		r, _ := f.RateAt(at)
		x, yy, _ := f.Frame().CellOf(at)
		got := f.bytes[yy*f.Frame().NX+x]
		if want := MapByte(r.OfMean); got != want {
			t.Errorf("the map has byte %d at %v where %.3f of the mean falls, want %d", got, at, float64(r.OfMean), want)
		}
	}
	if MapByte(0) != 1 || MapByte(1) != 101 || MapByte(5) != 200 {
		t.Errorf("bytes of nothing, the mean and five times it: %d, %d, %d", MapByte(0), MapByte(1), MapByte(5))
	}
}

// The ground of an area without its water is the one ByZone has.
func TestGroundOfIsByZones(t *testing.T) {
	t.Parallel()
	p := demoPlan(t)
	g, err := ByZone(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range g.Areas {
		got, frame, ok := GroundOf(p, a.ID)
		if !ok || frame != g.Frame || got.SqFt != a.SqFt || len(got.Cells) != len(a.Cells) {
			t.Errorf("%s: %v sq ft in %d cells of %v, want %v in %d of %v", a.ID, got.SqFt, len(got.Cells), frame, a.SqFt, len(a.Cells), g.Frame)
		}
	}
	for _, id := range []plan.ID{"drive", "bed-b", "gone"} {
		if _, _, ok := GroundOf(p, id); ok {
			t.Errorf("%s has ground for cans", id)
		}
	}
}

func BenchmarkFootprints(b *testing.B) {
	p := demoPlan(b)
	for b.Loop() {
		list, _, _ := Footprints(p, nil, Wind{})
		sum := units.InchesPerHour(0)
		for k := range list {
			for n := range 40 {
				sum += list[k].RateAt(orb.Point{float64(n), float64(n)}, stretchedOff(float64(n*9), 0.2))
			}
		}
	}
}
