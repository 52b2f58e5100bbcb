package coverage

import (
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// evenYard is a lawn of random shape with heads in its corners, along its edges
// and inside, arcs along the edges: what a crew would lay out.
func evenYard(r *rand.Rand) *yard {
	y := newYard()
	w, h := 28+20*r.Float64(), 24+16*r.Float64()
	cx, cy := w*(0.5+0.2*r.Float64()), h*(0.5+0.2*r.Float64())
	shape := [][2]float64{{0, 0}, {w, 0}, {w, cy}, {cx, cy}, {cx, h}, {0, h}} // an L
	if r.IntN(2) == 0 {
		shape = [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}}
	}
	var c []float64
	for _, p := range shape {
		c = append(c, p[0], p[1])
	}
	y.lip(0.5*float64(r.IntN(2))).area("lawn", plan.Planting, c...)
	y.nozzle("n", 10+4*r.Float64(), 1.6, linear)
	n := len(shape)
	for i, p := range shape {
		q, o := shape[(i+1)%n], shape[(i+n-1)%n]
		out := math.Atan2(q[1]-p[1], q[0]-p[0]) * 180 / math.Pi
		in := math.Atan2(o[1]-p[1], o[0]-p[0]) * 180 / math.Pi
		y.head("n", p[0], p[1], out, math.Mod(in-out+720, 360))
		d := math.Hypot(q[0]-p[0], q[1]-p[1])
		for k := 1; k < int(d/12)+1; k++ {
			t := float64(k) / float64(int(d/12)+1)
			y.head("n", p[0]+t*(q[0]-p[0]), p[1]+t*(q[1]-p[1]), out, 180)
		}
	}
	for range 2 {
		y.head("n", (0.2+0.5*r.Float64())*cx, (0.2+0.6*r.Float64())*cy, 0, 360)
	}
	return y
}

// moved is the yard turned by an angle about the origin, mirrored first in the x
// axis if asked, and shifted.
func (y *yard) moved(turn float64, mirror bool, dx, dy float64) *yard {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	place := func(x, yy float64) (float64, float64) {
		if mirror {
			yy = -yy
		}
		return cos*x - sin*yy + dx, sin*x + cos*yy + dy
	}
	out := newYard()
	out.Nozzles, out.Bodies, out.Options = y.Nozzles, y.Bodies, y.Options
	for id, a := range y.Areas {
		for i, v := range a.Outline {
			if i == 0 {
				a.Outline = append(a.Outline[:0:0], a.Outline...)
			}
			a.Outline[i].X, a.Outline[i].Y = place(v.X, v.Y)
		}
		out.Areas[id] = a
	}
	for id, h := range y.Heads {
		x, yy := place(float64(h.X), float64(h.Y))
		h.X, h.Y = units.Feet(x), units.Feet(yy)
		start := float64(h.StartDeg)
		if mirror {
			start = -start - float64(h.SweepDeg)
		}
		h.StartDeg = units.Degrees(math.Mod(start+turn+720, 360))
		out.Heads[id] = h
	}
	return out
}

// Moving, turning and mirroring a plan changes where its lines fall among the
// cells but nothing else: DU and CU stay within 0.001 at 0.25 ft.
func TestRigidMotions(t *testing.T) {
	if testing.Short() {
		t.Skip("a long sweep of numbers in one goroutine")
	}
	r := rand.New(rand.NewPCG(79, 83))
	worst := [2]float64{}
	for range 200 {
		y := evenYard(r)
		base := compute(t, y).Areas[0]
		turn := []float64{0, 90, 180, 270, 360 * r.Float64(), 360 * r.Float64()}[r.IntN(6)]
		mirror := r.IntN(2) == 0
		dx, dy := 40*r.Float64(), 40*r.Float64()
		m := compute(t, y.moved(turn, mirror, dx, dy))
		a := m.Areas[0]
		du, cu := math.Abs(float64(a.DU-base.DU)), math.Abs(float64(a.CU-base.CU))
		worst[0], worst[1] = math.Max(worst[0], du), math.Max(worst[1], cu)
		if du > 0.001 || cu > 0.001 {
			t.Errorf("turned %.2f° (mirrored %v), lip %g: DU %.5f to %.5f, CU %.5f to %.5f",
				turn, mirror, *y.Options.EdgeLipFt, base.DU, a.DU, base.CU, a.CU)
		}
		if d := math.Abs(float64(a.AreaSqFt/base.AreaSqFt) - 1); d > 2e-4 {
			t.Errorf("turned %.2f°: area %.3f to %.3f", turn, base.AreaSqFt, a.AreaSqFt)
		}
		if off := float64(m.FlowGPM - m.OnTargetGPM); math.Abs(off-float64(compute(t, y).FlowGPM-compute(t, y).OnTargetGPM)) > 0.002*float64(m.FlowGPM) {
			t.Errorf("turned %.2f°: off target changed to %.4f of %.4f gpm", turn, off, m.FlowGPM)
		}
	}
	t.Logf("worst DU %.5f, CU %.5f", worst[0], worst[1])
}

// Shifting a plan by whole cells changes nothing at all.
func TestShiftByWholeCells(t *testing.T) {
	r := rand.New(rand.NewPCG(89, 97))
	for range 10 {
		y := evenYard(r)
		for id, h := range y.Heads { // on the lattice, so that shifting is exact
			h.X, h.Y = units.Feet(math.Round(64*float64(h.X))/64), units.Feet(math.Round(64*float64(h.Y))/64)
			y.Heads[id] = h
		}
		a, b := compute(t, y), compute(t, y.moved(0, false, 8, -16))
		if a.Areas[0].DU != b.Areas[0].DU || a.Areas[0].CU != b.Areas[0].CU || a.OnTargetGPM != b.OnTargetGPM {
			t.Errorf("DU %v to %v, CU %v to %v, on target %v to %v", a.Areas[0].DU, b.Areas[0].DU, a.Areas[0].CU, b.Areas[0].CU, a.OnTargetGPM, b.OnTargetGPM)
		}
	}
}

// Water is nowhere lost: landed on target, off target and stopped make the flow.
func TestWaterIsAccounted(t *testing.T) {
	r := rand.New(rand.NewPCG(101, 103))
	for range 60 {
		y := randomYard(r)
		res := compute(t, y)
		sum := float64(res.OnTargetGPM + res.StoppedGPM)
		for _, o := range res.OffTarget {
			sum += float64(o.GPM)
		}
		near(t, "on target, off target and stopped over the flow", sum/float64(res.FlowGPM), 1, 1e-6)
		stopped := 0.0
		for _, s := range res.Stopped {
			stopped += float64(s.GPM)
		}
		near(t, "stopped by thing", stopped, float64(res.StoppedGPM), 1e-6*float64(res.FlowGPM))
	}
}

// The raster itself, which knows nothing of the ledger's scaling, holds the same
// water: summed over the frame it is what the ledger says landed there.
func TestRasterHoldsTheLedgersWater(t *testing.T) {
	r := rand.New(rand.NewPCG(107, 109))
	for range 20 {
		y := randomYard(r)
		y.area("far", plan.RightOfWay, -90, -90, 90, -90, 90, 90, -90, 90) // all in the frame
		y.Options.CellFt = 0.25
		f := New()
		res, _, err := f.Update(t.Context(), &y.Plan)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, v := range f.grid.rate {
			sum += float64(v)
		}
		got := sum / f.unit() * f.frame.CellArea() / 96.25
		near(t, "gpm on the raster over gpm landed", got/float64(res.FlowGPM-res.StoppedGPM), 1, 1e-3)
	}
}
