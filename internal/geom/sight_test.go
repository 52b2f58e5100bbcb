package geom_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"evenfall/internal/geom"
)

// nearestWall is the slow way: the distance to each segment along one ray.
func nearestWall(at orb.Point, phi, r float64, walls []geom.Segment) (float64, int) {
	best, which := r, geom.Circle
	ux, uy := math.Cos(phi), math.Sin(phi)
	for i, w := range walls {
		vx, vy := w.B[0]-w.A[0], w.B[1]-w.A[1]
		den := ux*vy - uy*vx
		if den == 0 {
			continue
		}
		t := ((w.A[0]-at[0])*vy - (w.A[1]-at[1])*vx) / den
		s := ((w.A[0]-at[0])*uy - (w.A[1]-at[1])*ux) / den
		if t > 0 && s >= 0 && s <= 1 && t < best {
			best, which = t, i
		}
	}
	return best, which
}

// along is how far a reach sees in a direction.
func along(at orb.Point, s geom.Reach, r, phi float64) float64 {
	if s.Wall == geom.Circle {
		return r
	}
	px, py := s.P[0]-at[0], s.P[1]-at[1]
	dx, dy := s.Q[0]-s.P[0], s.Q[1]-s.P[1]
	return (px*dy - py*dx) / (math.Cos(phi)*dy - math.Sin(phi)*dx)
}

func randomWalls(r *rand.Rand, n int) []geom.Segment {
	walls := make([]geom.Segment, n)
	for i := range walls {
		a := orb.Point{40*r.Float64() - 20, 40*r.Float64() - 20}
		b := orb.Point{a[0] + 16*(r.Float64()-0.5), a[1] + 16*(r.Float64()-0.5)}
		switch {
		case i > 0 && r.IntN(3) == 0: // a chain
			a = walls[i-1].B
		case r.IntN(6) == 0: // on the lattice, so that lines point at the eye and cross at ends
			a, b = orb.Point{math.Round(a[0]), math.Round(a[1])}, orb.Point{math.Round(b[0]), math.Round(b[1])}
		}
		walls[i] = geom.Segment{A: a, B: b, Of: i}
	}
	return walls
}

// Sight against polar rays, one at a time: the same distance and the same wall in
// random directions among walls that cross, join and point at the eye.
func TestSightAgainstRays(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 67))
	rays, odd := 0, 0
	for range 400 {
		walls := randomWalls(r, r.IntN(25))
		at := orb.Point{math.Round(4*r.Float64() - 2), math.Round(4*r.Float64() - 2)}
		radius, start, sweep := 3+17*r.Float64(), 720*r.Float64()-360, 1+359*r.Float64()
		if r.IntN(3) == 0 {
			sweep = 360
		}
		seen := geom.Sight(at, radius, start, sweep, walls)
		if a, b := seen[0].From, start*math.Pi/180; math.Abs(a-b) > 1e-12 {
			t.Fatalf("sight starts at %g, want %g", a, b)
		}
		for i := 1; i < len(seen); i++ {
			if math.Abs(seen[i].From-seen[i-1].To) > 1e-12 {
				t.Fatalf("pieces %d and %d leave a gap", i-1, i)
			}
		}
		if a, b := seen[len(seen)-1].To, (start+sweep)*math.Pi/180; math.Abs(a-b) > 1e-9 {
			t.Fatalf("sight ends at %g, want %g", a, b)
		}
		for _, s := range seen {
			for range 6 {
				phi := s.From + (s.To-s.From)*(0.001+0.998*r.Float64())
				want, wall := nearestWall(at, phi, radius, walls)
				got := along(at, s, radius, phi)
				rays++
				if math.Abs(got-want) > 1e-6*math.Max(1, want) {
					if math.Abs(s.To-s.From) < 1e-6 {
						odd++
						continue
					}
					t.Fatalf("at %g rad sees %.9f to wall %d, the ray %.9f to wall %d", phi, got, s.Wall, want, wall)
				}
				if s.Wall != wall && s.Wall >= 0 && wall >= 0 {
					if d, _ := nearestWall(at, phi, radius, walls[s.Wall:s.Wall+1]); math.Abs(d-want) > 1e-6 {
						t.Fatalf("at %g rad names wall %d, the ray wall %d", phi, s.Wall, wall)
					}
				}
			}
		}
	}
	if odd*1000 > rays {
		t.Errorf("%d of %d rays fall in slivers", odd, rays)
	}
}

// The area seen against exact pieces: a triangle for each wall, a sector for the
// rest; and the ring has the same area, whatever its chords.
func TestSightRingArea(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 73))
	for range 200 {
		walls := randomWalls(r, 12)
		at := orb.Point{2*r.Float64() - 1, 2*r.Float64() - 1}
		radius, sweep := 12.0, 40+320*r.Float64()
		seen := geom.Sight(at, radius, 30, sweep, walls)
		want := 0.0
		for _, s := range seen {
			if s.Wall == geom.Circle {
				want += radius * radius * (s.To - s.From) / 2
				continue
			}
			want += ((s.P[0]-at[0])*(s.Q[1]-at[1]) - (s.P[1]-at[1])*(s.Q[0]-at[0])) / 2
		}
		for _, sagitta := range []float64{1, 0.01} {
			ring := geom.SightRing(at, radius, seen, sagitta)
			got := planar.Area(ring)
			if math.Abs(got-want) > 1e-9*want {
				t.Fatalf("ring of %d vertices has %.9f square feet, the pieces %.9f", len(ring), got, want)
			}
		}
	}
}

// A box around the eye, one wall, a wall beyond the radius, a wall that points at
// the eye: by hand.
func TestSightByHand(t *testing.T) {
	box := []geom.Segment{
		{A: orb.Point{-2, -1}, B: orb.Point{3, -1}}, {A: orb.Point{3, -1}, B: orb.Point{3, 4}},
		{A: orb.Point{3, 4}, B: orb.Point{-2, 4}}, {A: orb.Point{-2, 4}, B: orb.Point{-2, -1}},
	}
	for _, c := range []struct {
		name         string
		start, sweep float64
		walls        []geom.Segment
		area         float64
		walled       int
	}{
		{"in a box", 0, 360, box, 25, 4},
		{"a quarter of a box", 0, 90, box, 12, 2},
		{"nothing", 0, 180, nil, 50 * math.Pi, 0},
		{"too far", 0, 90, []geom.Segment{{A: orb.Point{11, -5}, B: orb.Point{11, 5}}}, 25 * math.Pi, 0},
		{"pointing at the eye", 0, 360, []geom.Segment{{A: orb.Point{2, 2}, B: orb.Point{5, 5}}}, 100 * math.Pi, 0},
		{"across the whole arc", 45, 90, []geom.Segment{{A: orb.Point{-9, 3}, B: orb.Point{9, 3}}}, 9, 1},
		{"through the eye", 0, 360, []geom.Segment{{A: orb.Point{-3, 0}, B: orb.Point{4, 0}}}, 100 * math.Pi, 0},
	} {
		seen := geom.Sight(orb.Point{}, 10, c.start, c.sweep, c.walls)
		walled := map[int]bool{}
		for _, s := range seen {
			if s.Wall != geom.Circle {
				walled[s.Wall] = true
			}
		}
		area := math.Abs(planar.Area(geom.SightRing(orb.Point{}, 10, seen, 0.001)))
		if math.Abs(area-c.area) > 1e-6*c.area || len(walled) != c.walled {
			t.Errorf("%s: sees %.6f square feet past %d walls, want %.6f and %d", c.name, area, len(walled), c.area, c.walled)
		}
	}
	for _, c := range [][2]float64{{0, 90}, {-1, 90}, {math.Inf(1), 90}, {5, 0}, {5, -3}, {math.NaN(), 4}} {
		if seen := geom.Sight(orb.Point{}, c[0], 0, c[1], nil); seen != nil {
			t.Errorf("radius %g and sweep %g see %v", c[0], c[1], seen)
		}
	}
}

// Many chords of a round building do not make sight slow or wrong.
func TestSightOfARoundHouse(t *testing.T) {
	ring := geom.Sector(orb.Point{20, 0}, 5, 0, 360)
	var walls []geom.Segment
	for i := 0; i+1 < len(ring); i++ {
		walls = append(walls, geom.Segment{A: ring[i], B: ring[i+1]})
	}
	seen := geom.Sight(orb.Point{}, 30, -90, 180, walls)
	hidden := 0.0
	for _, s := range seen {
		if s.Wall != geom.Circle {
			hidden += s.To - s.From
		}
	}
	want := 2 * math.Asin(5.0/20)
	if math.Abs(hidden-want) > 2e-4 {
		t.Errorf("a round house hides %.5f rad, want %.5f", hidden, want)
	}
}
