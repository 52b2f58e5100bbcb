package stakeout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
	"evenfall/testdata/plans"
)

// stakedOut is a plan as it is read, set out.
func stakedOut(t testing.TB, p *plan.Plan) (*plan.Plan, *Plan) {
	t.Helper()
	p, err := plan.Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return p, Of(p, trench.Of(p, pipework.Of(p)))
}

func demo(t testing.TB) *plan.Plan {
	t.Helper()
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// yardOf draws a yard by chance: a house turned anyhow, drive, walks, patio, sometimes
// with a bowed edge, fences, hedges and trees, a lot or none, and heads along edges,
// walls and fences and inside. Every third is metric, some have new and removed things.
func yardOf(seed uint64, heads int) *plan.Plan {
	r := rand.New(rand.NewPCG(seed, 81))
	p := plan.Empty("Yard", units.US)
	if seed%3 == 2 {
		p.Show = units.Metric
	}
	p.Areas, p.Barriers, p.Trees, p.Heads = map[plan.ID]plan.Area{}, map[plan.ID]plan.Barrier{}, map[plan.ID]plan.Tree{}, map[plan.ID]plan.Head{}
	body, _ := catalog.FindBody("body-4-reg40")
	nozzle, _ := catalog.FindNozzle("stream-16")
	p.Bodies, p.Nozzles = map[plan.ID]catalog.Body{"body-4-reg40": body}, map[plan.ID]catalog.Nozzle{"stream-16": nozzle}
	side := 40 + 10*math.Sqrt(float64(heads))*(0.7+0.6*r.Float64())
	turned := []float64{0, 0, 0.2, 0.7, 1.3}[r.IntN(5)]
	sin, cos := math.Sincos(turned)
	at := func(x, y float64) geom.Vertex {
		return geom.Vertex{X: math.Round((x*cos-y*sin)*100) / 100, Y: math.Round((x*sin+y*cos)*100) / 100}
	}
	box := func(x, y, w, h float64) geom.Outline {
		return geom.Outline{at(x, y), at(x+w, y), at(x+w, y+h), at(x, y+h)}
	}
	if r.IntN(4) > 0 {
		p.Site.Lot = box(0, 0, side, side)
		if r.IntN(3) == 0 {
			p.Site.Lot[1].Bulge = 0.1
		}
	}
	area := func(name string, kind plan.Kind, o geom.Outline) geom.Outline {
		status := plan.Existing
		if kind == plan.Paving && r.IntN(6) == 0 {
			status = []plan.Status{plan.New, plan.Remove}[r.IntN(2)]
		}
		p.Areas[plan.ID(name)] = plan.Area{Name: name, Kind: kind, Outline: o, Status: status}
		return o
	}
	area("lawn", plan.Planting, box(0, 0, side, side))
	hx, hy, hw, hh := side*(0.25+0.2*r.Float64()), side*(0.25+0.2*r.Float64()), side*0.3, side*0.22
	edges := []geom.Outline{area("House", plan.Building, box(hx, hy, hw, hh))}
	edges = append(edges, area("Drive", plan.Paving, box(hx+hw*0.7, 0, 12, hy+r.Float64()*4)))
	walk := box(0, hy+hh*r.Float64(), hx+0.5, 4)
	if r.IntN(3) == 0 {
		walk[0].Bulge = -0.05
	}
	edges = append(edges, area("Walk", plan.Paving, walk))
	if r.IntN(2) == 0 {
		edges = append(edges, area("Patio", plan.Paving, box(hx+2, hy+hh, hw*0.6, 10)))
	}
	for i := range r.IntN(4) {
		b := plan.Barrier{Name: fmt.Sprintf("Fence %d", i+1), Kind: []plan.BarrierKind{plan.Fence, plan.Wall, plan.Hedge}[r.IntN(3)], HeightFt: 6, Status: plan.Existing}
		switch i {
		case 0:
			b.Line = geom.Line{at(0, side), at(side, side), at(side, hy)}
		case 1:
			b.Line = geom.Line{at(hx, hy+hh), at(hx, side)}
		default:
			b.Line = geom.Line{at(side*r.Float64(), side*r.Float64()), at(side*r.Float64(), side*r.Float64())}
		}
		p.Barriers[plan.ID(fmt.Sprintf("f%d", i))] = b
		edges = append(edges, geom.Outline(b.Line))
	}
	for i := range r.IntN(4) {
		v := at(side*r.Float64(), side*r.Float64())
		p.Trees[plan.ID(fmt.Sprintf("t%d", i))] = plan.Tree{X: units.Feet(v.X), Y: units.Feet(v.Y), TrunkIn: units.Inches(4 + r.IntN(20)), Status: plan.Existing}
	}
	for h := 0; h < heads; h++ {
		v := at(side*r.Float64(), side*r.Float64())
		if r.IntN(2) == 0 {
			v = besideEdge(r, edges[r.IntN(len(edges))])
		}
		if geom.RingContains(edges[0].Ring(), v.Point()) {
			h--
			continue
		}
		q := plan.Head{Nozzle: "stream-16", Body: "body-4-reg40", X: units.Feet(v.X), Y: units.Feet(v.Y), StartDeg: units.Degrees(r.IntN(360)), SweepDeg: []units.Degrees{90, 180, 270, 360}[r.IntN(4)], Tag: fmt.Sprintf("1-%d", h+1)}
		if r.IntN(12) == 0 {
			q.Status = []plan.Status{plan.Existing, plan.Remove}[r.IntN(2)]
		}
		p.Heads[plan.ID(fmt.Sprintf("h%03d", h))] = q
	}
	return p
}

// besideEdge is a place a few inches off an edge, on either side.
func besideEdge(r *rand.Rand, o geom.Outline) geom.Vertex {
	i := r.IntN(len(o))
	a, b := o[i], o[(i+1)%len(o)]
	t, l := r.Float64(), math.Hypot(b.X-a.X, b.Y-a.Y)
	off := (0.3 + r.Float64()) * float64(1-2*r.IntN(2))
	return geom.Vertex{
		X: math.Round((a.X+(b.X-a.X)*t-(b.Y-a.Y)/l*off)*20) / 20,
		Y: math.Round((a.Y+(b.Y-a.Y)*t+(b.X-a.X)/l*off)*20) / 20,
	}
}
