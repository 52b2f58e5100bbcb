package trench

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// yardOf draws a yard by chance: a lot, often with a house, paving, beds, water,
// ground not to be dug and trees, and heads in zones with valves set anywhere.
// harsh yards put things where they bar the way.
func yardOf(seed uint64, heads int, harsh bool) *plan.Plan {
	r := rand.New(rand.NewPCG(seed, 11))
	side := 40 + 8*math.Sqrt(float64(heads))*(1+r.Float64())
	p := plan.Empty("Yard", units.US)
	p.Areas, p.Trees, p.Heads, p.Zones = map[plan.ID]plan.Area{}, map[plan.ID]plan.Tree{}, map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}
	p.Nodes, p.Pipes, p.Sleeves = map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}, map[plan.ID]plan.Sleeve{}
	box := func(x, y, w, h, turn float64) geom.Outline {
		sin, cos := math.Sincos(turn)
		var o geom.Outline
		for _, c := range [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}} {
			o = append(o, geom.Vertex{X: math.Round((x+c[0]*cos-c[1]*sin)*100) / 100, Y: math.Round((y+c[0]*sin+c[1]*cos)*100) / 100})
		}
		return o
	}
	if r.IntN(5) > 0 {
		p.Site.Lot = box(0, 0, side, side, 0)
		if r.IntN(3) == 0 {
			p.Site.Lot[2].Bulge = 0.2
		}
	}
	area := func(id plan.ID, kind plan.Kind, o geom.Outline) {
		p.Areas[id] = plan.Area{Name: string(id), Kind: kind, Outline: o, Status: plan.Existing}
	}
	area("lawn", plan.Planting, box(0, 0, side, side, 0))
	turn := []float64{0, 0, 0.4, 1.1}[r.IntN(4)]
	house := 0.25 * side
	hx, hy := side*(0.3+0.2*r.Float64()), side*(0.3+0.2*r.Float64())
	area("house", plan.Building, box(hx, hy, house, house*0.7, turn))
	kinds := []plan.Kind{plan.Paving, plan.Paving, plan.Planting, plan.NoDig, plan.Water, plan.Ground}
	things := 2 + r.IntN(4)
	if harsh {
		things += 4
	}
	for i := range things {
		kind := kinds[r.IntN(len(kinds))]
		w, h := 3+r.Float64()*side/6, 3+r.Float64()*side/6
		if kind == plan.Paving && r.IntN(2) == 0 {
			w, h = 4, side*(0.2+0.6*r.Float64())
			if r.IntN(2) == 0 {
				w, h = h, w
			}
		}
		turned := 0.
		if r.IntN(4) == 0 {
			turned = r.Float64()
		}
		id := plan.ID(fmt.Sprintf("a%d", i))
		area(id, kind, box(r.Float64()*(side-w), r.Float64()*(side-h), w, h, turned))
		if a := p.Areas[id]; kind == plan.Planting {
			a.Planting = plan.Shrubs
			p.Areas[id] = a
		}
	}
	for i := range r.IntN(3) {
		t := plan.Tree{X: units.Feet(r.Float64() * side), Y: units.Feet(r.Float64() * side), TrunkIn: units.Inches(2 + r.IntN(4)), Status: plan.Existing}
		t.RootZoneFt = units.Feet(float64(t.TrunkIn) * (0.5 + 1.5*r.Float64()))
		p.Trees[plan.ID(fmt.Sprintf("t%d", i))] = t
	}
	body, _ := catalog.FindBody("body-4-reg")
	nozzle, _ := catalog.FindNozzle("spray-12-f")
	p.Bodies = map[plan.ID]catalog.Body{"body-4-reg": body}
	p.Nozzles = map[plan.ID]catalog.Nozzle{"spray-12-f": nozzle}
	f := newField(p)
	place := func() plan.Spot {
		for n := 0; ; n++ {
			x, y := math.Round(r.Float64()*side*20)/20, math.Round(r.Float64()*side*20)/20
			is, _ := f.at([2]float64{x, y})
			if n > 200 || harsh && r.IntN(6) == 0 || f.clearOf([2]float64{x, y}) && is != Paved {
				return plan.Spot{X: units.Feet(x), Y: units.Feet(y)}
			}
		}
	}
	zones := max(1, heads/8)
	for z := range zones {
		at := place()
		p.Zones[plan.ID(fmt.Sprintf("z%02d", z))] = plan.Zone{Name: fmt.Sprintf("Zone %d", z+1), Station: z + 1, ValveAt: &at}
	}
	spots := make([]plan.Spot, heads)
	for h := range spots {
		spots[h] = place()
	}
	if r.IntN(4) > 0 { // heads of a zone are neighbours, else they stand anyhow
		row := side / math.Ceil(math.Sqrt(float64(zones)))
		slices.SortFunc(spots, func(a, b plan.Spot) int {
			i, k := math.Floor(float64(a.Y)/row), math.Floor(float64(b.Y)/row)
			return cmp.Or(cmp.Compare(i, k), cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
		})
	}
	for h, at := range spots {
		p.Heads[plan.ID(fmt.Sprintf("h%03d", h))] = plan.Head{Nozzle: "spray-12-f", Body: "body-4-reg", X: at.X, Y: at.Y, SweepDeg: 360, Zone: plan.ID(fmt.Sprintf("z%02d", h*zones/heads))}
	}
	at := place()
	p.Supply.Connection = &at
	if r.IntN(3) > 0 {
		back := place()
		p.Supply.BackflowAt = &back
	}
	inside := plan.Spot{X: units.Feet(hx + 0.05*house*math.Cos(turn) - 0.05*house*math.Sin(turn)), Y: units.Feet(hy + 0.05*house*math.Sin(turn) + 0.05*house*math.Cos(turn))}
	p.Controller = plan.Controller{At: &inside, Stations: 24}
	return p
}

// drawnYard is a yard as its file reads.
func drawnYard(t testing.TB, p *plan.Plan) *plan.Plan {
	t.Helper()
	next, err := plan.Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return next
}
