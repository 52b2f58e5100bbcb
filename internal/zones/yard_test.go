package zones

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// yard is a random property for tests: lots of areas in a grid, each watered by
// heads of one family, now and then of another.
func yard(r *rand.Rand, heads int) *plan.Plan {
	p := plan.Empty("yard", units.US)
	p.Areas, p.Heads, p.Zones = map[plan.ID]plan.Area{}, map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}
	p.Nodes, p.Pipes = map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}
	p.Supply = plan.Supply{Measured: r.IntN(2) == 0, DesignFlowGPM: units.GPM(10 + r.IntN(15)), DesignFlowReason: "drawn at random", Connection: &plan.Spot{X: 1, Y: 1}}
	if r.IntN(4) == 0 {
		p.Supply.Kind = plan.Well
	}
	const side = 44.0
	per := 4 + r.IntN(8)
	count := (heads + per - 1) / per
	wide := int(math.Ceil(math.Sqrt(float64(count))))
	n, plain := 0, r.IntN(2) == 0 // of one kind, so that its heads only differ by flow
	for k := range count {
		x, y := float64(k%wide)*side, float64(k/wide)*side
		id := plan.ID(fmt.Sprintf("a%d", k))
		a := plan.Area{
			Name: fmt.Sprintf("Lawn %d", k), Kind: plan.Planting,
			Outline: geom.Outline{{X: x, Y: y}, {X: x + side - 4, Y: y}, {X: x + side - 4, Y: y + side - 4}, {X: x, Y: y + side - 4}},
		}
		if !plain && r.IntN(3) == 0 {
			a.Planting = plan.Flowers
		}
		if !plain && r.IntN(3) == 0 {
			a.Exposure = plan.PartShade
		}
		if !plain && r.IntN(3) == 0 {
			a.Soil = []string{"clay_loam", "sand"}[r.IntN(2)]
		}
		if !plain && r.IntN(5) == 0 {
			a.SlopeShare, a.SlopeTowardDeg = 0.3, units.Degrees(r.IntN(360))
		}
		p.Areas[id] = a
		family := r.IntN(3)
		if plain {
			family = 1
		}
		for range min(per, heads-n) {
			if !plain && r.IntN(15) == 0 {
				family = r.IntN(3)
			}
			p.Heads[plan.ID(fmt.Sprintf("h%d", n))] = someHead(p, r, family, x, y, side-4)
			n++
		}
	}
	return p
}

// someHead is a head in a square, by chance in a corner, at a side or inside.
func someHead(p *plan.Plan, r *rand.Rand, family int, x, y, side float64) plan.Head {
	place := r.IntN(3)
	h := plan.Head{Status: plan.New, SweepDeg: []units.Degrees{90, 180, 360}[place]}
	code := []string{"q", "h", "f"}[place]
	u, v := 0.05, 0.05+0.9*r.Float64()
	switch place {
	case 0:
		v = 0.05
	case 1:
		h.StartDeg = 270
	case 2:
		u = 0.05 + 0.9*r.Float64()
	}
	h.X, h.Y = units.Feet(x+u*side), units.Feet(y+v*side)
	nozzle, body := "", ""
	switch family {
	case 0:
		nozzle, body = "spray-12-"+code, "body-4-reg"
	case 1:
		nozzle, body = "stream-20", "body-4"
		if place == 2 {
			nozzle = "stream-25-360"
		}
	case 2:
		nozzle, body = "rotor-30-"+[]string{"0_75", "1_5", "3"}[place], "body-rotor-4"
	}
	row, ok := catalog.FindNozzle(nozzle)
	if !ok {
		panic("no nozzle " + nozzle)
	}
	b, ok := catalog.FindBody(body)
	if !ok {
		panic("no body " + body)
	}
	p.Nozzles[plan.ID(nozzle)], p.Bodies[plan.ID(body)] = row, b
	h.Nozzle, h.Body = plan.ID(nozzle), plan.ID(body)
	return h
}

// zoned puts heads into zones by chance, locks some, and draws a pipe to some.
func zoned(p *plan.Plan, r *rand.Rand) *plan.Plan {
	for k := range 2 + r.IntN(4) {
		z := plan.Zone{Name: fmt.Sprintf("Old %d", k), Station: k + 1, Status: plan.New, Locked: r.IntN(5) == 0}
		if r.IntN(6) == 0 {
			z.Status = plan.Existing
		}
		if r.IntN(3) == 0 {
			z.Pressure = 40
		}
		if r.IntN(3) == 0 {
			z.ValveAt = &plan.Spot{X: units.Feet(r.Float64() * 80), Y: units.Feet(r.Float64() * 80)}
		}
		p.Zones[plan.ID(fmt.Sprintf("z%d", k))] = z
	}
	ids := plan.SortedIDs(p.Zones)
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		if r.IntN(5) > 0 {
			h.Zone = ids[r.IntN(len(ids))]
			h.Tag = fmt.Sprintf("%d-%s", p.Zones[h.Zone].Station, id)
		}
		h.Locked = r.IntN(10) == 0
		switch r.IntN(20) {
		case 0:
			h.Status = plan.Existing
		case 1:
			h.Status = plan.Remove
		}
		p.Heads[id] = h
		if h.Zone != "" && r.IntN(3) == 0 {
			valve := plan.ID("v-" + string(h.Zone))
			if _, ok := p.Nodes[valve]; !ok {
				p.Nodes[valve] = plan.Node{Kind: "valve", X: 5, Y: 5, Zone: h.Zone, Status: plan.New}
			}
			p.Nodes[plan.ID("n-"+string(id))] = plan.Node{Kind: "head", Head: id, X: h.X, Y: h.Y, Zone: h.Zone, Status: plan.New}
			p.Pipes[plan.ID("p-"+string(id))] = plan.Pipe{From: valve, To: plan.ID("n-" + string(id)), Zone: h.Zone, Status: plan.New, Locked: r.IntN(6) == 0}
		}
	}
	return p
}

// read is a plan as it is after a round through its file.
func read(t testing.TB, p *plan.Plan) *plan.Plan {
	t.Helper()
	next, err := plan.Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return next
}
