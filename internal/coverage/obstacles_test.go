package coverage

import (
	"math"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// The stream of a projectile at 25 degrees and 30 ft: 3.5 ft at its top, 3.1 ft
// 20 ft out [y = x·tan θ·(1 - x/R), computed by hand].
func TestWhereAStreamPassesOver(t *testing.T) {
	s := setting{throw: 30, trajectory: 25}
	height := func(x float64) float64 { return x * math.Tan(25*math.Pi/180) * (1 - x/30) }
	near(t, "top", height(15), 3.497, 0.001)
	near(t, "20 ft out", height(20), 3.109, 0.001)
	for _, c := range []struct {
		name      string
		height    float64
		nozzle    float64
		open      bool
		near, far float64
	}{
		{"a 3 ft hedge", 3, 0, true, 15 - 15*math.Sqrt(1-3/3.4973), 15 + 15*math.Sqrt(1-3/3.4973)},
		{"the same from a 12 in body", 3, 1, true, 15 - 15*math.Sqrt(1-2/3.4973), 15 + 15*math.Sqrt(1-2/3.4973)},
		{"a 6 ft fence", 6, 0, false, 0, 0},
		{"a kerb lower than the nozzle", 0.3, 0.5, true, 0, math.Inf(1)},
	} {
		s.height = c.nozzle
		gate, open := s.clears(&obstacle{height: c.height})
		if open != c.open {
			t.Errorf("%s: passes %v, want %v", c.name, open, c.open)
			continue
		}
		if open && !(math.Abs(gate.near-c.near) < 0.002 && (gate.far == c.far || math.Abs(gate.far-c.far) < 0.002)) {
			t.Errorf("%s: passes from %.3f to %.3f ft, want %.3f to %.3f", c.name, gate.near, gate.far, c.near, c.far)
		}
	}
}

// A long wall stops what lies past it: of a full circle with a straight wall at
// half the throw, the part beyond is by integration of the linear profile
// (∫∫ over the segment, 2,000 by 2,000 places).
func TestWaterPastAWall(t *testing.T) {
	y := newYard().lip(0).area("lawn", plan.Planting, -30, -30, 30, -30, 30, 30, -30, 30)
	y.nozzle("n", 20, 0.5, linear)
	y.head("n", 0, 0, 0, 360)
	y.Barriers["wall"] = plan.Barrier{Line: geom.Line{{X: 10, Y: -40}, {X: 10, Y: 40}}, HeightFt: 8}
	want, n := 0.0, 2000
	for i := range n {
		for j := range n {
			x, yy := 10+10*(float64(i)+0.5)/float64(n), 20*(float64(j)+0.5)/float64(n)
			if d := math.Hypot(x, yy); d < 20 {
				want += 2 * (1 - d/20) * 10 * 20 / float64(n) / float64(n)
			}
		}
	}
	want /= 2 * math.Pi * 400 / 6
	r := compute(t, y)
	near(t, "share stopped", float64(r.StoppedGPM/r.FlowGPM), want, 1e-5)
	if len(r.Stopped) != 1 || r.Stopped[0].By != "barriers/wall" || len(r.Stopped[0].Heads) != 1 {
		t.Errorf("stopped by %+v", r.Stopped)
	}
	// A building in its place stops the same, and gets none itself.
	delete(y.Barriers, "wall")
	y.area("house", plan.Building, 10, -40, 50, -40, 50, 40, 10, 40)
	r = compute(t, y)
	near(t, "share stopped by a house", float64(r.StoppedGPM/r.FlowGPM), want, 1e-5)
	if len(r.OffTarget) != 0 {
		t.Errorf("water in the house: %+v", r.OffTarget)
	}
	if len(r.Stopped) != 1 || r.Stopped[0].By != "areas/house" {
		t.Errorf("stopped by %+v", r.Stopped)
	}
}

// Strips are stopped like sectors: half a strip cut off at half its length.
func TestStripPastAWall(t *testing.T) {
	y := newYard().lip(0).area("lawn", plan.Planting, -30, -30, 30, -30, 30, 30, -30, 30)
	y.stripNozzle("s", 16, 1, catalog.StripShape{Ahead: true, Back: true, Left: 3, Right: 1})
	y.head("s", 0, 0, 30, 0)
	whole := compute(t, y)
	near(t, "stopped by nothing", float64(whole.StoppedGPM), 0, 0)
	near(t, "landed", float64(whole.OnTargetGPM), 1, 1e-9)
	sin, cos := math.Sincos(math.Pi / 6)
	at := func(along, across float64) geom.Vertex {
		return geom.Vertex{X: along*cos - across*sin, Y: along*sin + across*cos}
	}
	y.Barriers["wall"] = plan.Barrier{Line: geom.Line{at(8, -9), at(8, 9)}, HeightFt: 8}
	r := compute(t, y)
	near(t, "past half of one end: ½·(½)²", float64(r.StoppedGPM), 0.125, 1e-6)
}

// Heads on the very line of a wall stand on the side they water.
func TestHeadsOnAWallsLine(t *testing.T) {
	for _, c := range []struct {
		name         string
		start, sweep float64
		stopped      float64
	}{
		{"half circle away from it", 0, 180, 0},
		{"half circle through it", 180, 180, 0},
		{"quarter along it", 0, 90, 0},
		{"full circle: the side of the middle of its arc", 270, 360, 0.5},
		{"half circle across it", 60, 180, 1.0 / 3},
	} {
		y := newYard().lip(0).area("lawn", plan.Planting, -30, -30, 30, -30, 30, 30, -30, 30)
		y.nozzle("n", 12, 1.6, linear)
		y.head("n", 0, 0, c.start, c.sweep)
		y.Barriers["f"] = plan.Barrier{Line: geom.Line{{X: -40, Y: 0}, {X: 40, Y: 0}}, HeightFt: 6}
		r := compute(t, y)
		near(t, c.name, float64(r.StoppedGPM/r.FlowGPM), c.stopped, 0.003)
	}
	// Against a house: always outside it, even at its corner.
	for _, c := range []struct {
		name                string
		x, y, start, sweep  float64
		stopped, onBuilding float64
	}{
		{"wall, away", 10, 0, 180, 180, 0, 0},
		{"wall, into it", 10, 0, 0, 180, 1, 0},
		{"wall, full circle", 10, 0, 0, 360, 0.5, 0},
		{"outer corner, three quarters", 0, 0, 90, 270, 0, 0},
		{"outer corner, full", 0, 0, 0, 360, 0.25, 0},
		{"inside it: drawn where it cannot be", 10, 3, 0, 360, 0, 0.7},
	} {
		y := newYard().lip(0).area("house", plan.Building, 0, 0, 20, 0, 20, 20, 0, 20)
		y.area("lawn", plan.Planting, -30, -30, 50, -30, 50, 50, -30, 50)
		y.nozzle("n", 8, 1.6, linear)
		y.head("n", c.x, c.y, c.start, c.sweep)
		r := compute(t, y)
		near(t, c.name+", stopped", float64(r.StoppedGPM/r.FlowGPM), c.stopped, 0.004)
		got := 0.0
		for _, o := range r.OffTarget {
			if o.Surface == "house" {
				got = float64(o.Share)
			}
		}
		if c.onBuilding == 0 && got > 0.002 || c.onBuilding > 0 && got < c.onBuilding {
			t.Errorf("%s: %.4f of the water on the house, want about %g", c.name, got, c.onBuilding)
		}
	}
}

// A trunk hides the angle between the lines that touch it.
func TestWaterPastATrunk(t *testing.T) {
	y := newYard().lip(0).area("lawn", plan.Planting, -30, -30, 30, -30, 30, 30, -30, 30)
	y.nozzle("n", 20, 0.5, linear)
	y.head("n", 0, 0, 0, 360)
	y.Trees["oak"] = plan.Tree{X: 6, Y: 8, TrunkIn: 24}
	r := compute(t, y)
	beyond := 1.0/6 - (0.5*0.5/2 - 0.5*0.5*0.5/3) // past half the throw
	want := 2 * math.Asin(0.1) / (2 * math.Pi) * beyond * 6
	near(t, "share stopped", float64(r.StoppedGPM/r.FlowGPM), want, 2e-4)
	if len(r.Stopped) != 1 || r.Stopped[0].By != "trees/oak" {
		t.Errorf("stopped by %+v", r.Stopped)
	}
}

func TestNearestNeighbour(t *testing.T) {
	y := newYard().lip(0).area("lawn", plan.Planting, -50, -50, 50, -50, 50, 50, -50, 50)
	y.nozzle("n", 12, 1.6, linear)
	y.stripNozzle("s", 15, 1, catalog.StripShape{Ahead: true, Left: 2, Right: 2})
	a := y.head("n", 0, 0, 0, 90)
	b := y.head("n", 10, 0, 90, 90)   // on the first edge of a's arc
	c := y.head("n", -3, -3, 180, 90) // nearer, but behind a
	d := y.head("n", 0, 30, 270, 90)
	e := y.head("s", 20, 20, 0, 0)
	f := y.head("n", 34, 21, 90, 90)
	r := compute(t, y)
	want := map[plan.ID]plan.ID{a: b, b: a, c: "", d: e, e: f, f: d}
	for _, h := range r.Heads {
		got := plan.ID("")
		if h.Nearest != nil {
			got = h.Nearest.Head
		}
		if got != want[h.ID] {
			t.Errorf("nearest to %s is %q, want %q", h.ID, got, want[h.ID])
		}
	}
	n := r.Heads[0].Nearest
	near(t, "distance", float64(n.DistanceFt), 10, 1e-12)
	near(t, "over throw", float64(n.OverThrow), 10.0/12, 1e-12)
	// A wall between them, and b is no neighbour any more.
	y.Barriers["w"] = plan.Barrier{Line: geom.Line{{X: 5, Y: -3}, {X: 5, Y: 3}}, HeightFt: 8}
	if n := compute(t, y).Heads[0].Nearest; n == nil || n.Head == b {
		t.Errorf("past the wall the nearest to a is %+v", n)
	}
}
