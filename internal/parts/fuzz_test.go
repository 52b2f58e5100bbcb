package parts

import (
	"fmt"
	"math"
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
	"evenfall/internal/wire"
)

// oddPlaces are coordinates in feet that drawings go wrong at.
var oddPlaces = []float64{0, 1e-7, 0.01, 0.3, 1, 4, 4.000001, 10, 10.1, 25, 50, -3, 1e4, -1e4}

// oddPlan draws pipes, sleeves, wires and paving by bytes: anything may lie on anything.
func oddPlan(by []byte) *plan.Plan {
	next := func() int {
		if len(by) == 0 {
			return 0
		}
		b := by[0]
		by = by[1:]
		return int(b)
	}
	at := func() float64 { return oddPlaces[next()%len(oddPlaces)] }
	spot := func() plan.Spot { return plan.Spot{X: units.Feet(at()), Y: units.Feet(at())} }
	status := func() plan.Status {
		return []plan.Status{plan.New, plan.New, "", plan.Existing, plan.Remove}[next()%5]
	}
	p := plan.Empty("Odd", units.US)
	p.Areas, p.Heads, p.Nodes, p.Pipes = map[plan.ID]plan.Area{}, map[plan.ID]plan.Head{}, map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}
	p.Sleeves, p.Wires, p.Boxes, p.Sensors, p.Trees = map[plan.ID]plan.Sleeve{}, map[plan.ID]plan.WireRun{}, map[plan.ID]plan.Box{}, map[plan.ID]plan.Sensor{}, map[plan.ID]plan.Tree{}
	v := spot()
	p.Zones = map[plan.ID]plan.Zone{"z": {Name: "Zone", Station: 1, ValveAt: &v, Status: status()}}
	c := spot()
	p.Controller = plan.Controller{At: &c, Status: status()}
	p.Nodes["n0"] = plan.Node{Kind: "connection", X: units.Feet(at()), Y: units.Feet(at())}
	p.Nodes["n1"] = plan.Node{Kind: "valve", Zone: "z", X: v.X, Y: v.Y}
	for i := 2; len(by) > 0 && i < 40; i++ {
		id := func(of string) plan.ID { return plan.ID(fmt.Sprint(of, i)) }
		switch next() % 8 {
		case 0, 1, 2:
			s := spot()
			zone := []plan.ID{"", "z"}[next()%2]
			p.Nodes[id("n")] = plan.Node{Kind: "joint", X: s.X, Y: s.Y, Zone: zone}
			from := plan.ID(fmt.Sprint("n", next()%i))
			if _, ok := p.Nodes[from]; !ok {
				from = "n1"
			}
			pipe := plan.Pipe{From: from, To: id("n"), Zone: zone, NominalIn: units.Inches(next()%3) / 2, Status: status()}
			if next()%2 == 0 {
				pipe.Via = geom.Line{{X: at(), Y: at()}}
			}
			p.Pipes[id("p")] = pipe
		case 3:
			p.Sleeves[id("s")] = plan.Sleeve{From: spot(), To: spot(), Carries: []string{"", "pipe", "wire", "spare"}[next()%4], Status: status()}
		case 4:
			p.Wires[id("w")] = plan.WireRun{Line: geom.Line{{X: at(), Y: at()}, {X: at(), Y: at()}}, Lay: []string{"", "building"}[next()%2], Status: status()}
		case 5:
			x, y := at(), at()
			p.Areas[id("a")] = plan.Area{Kind: []plan.Kind{plan.Paving, plan.Building, plan.NoDig, plan.Planting}[next()%4], Status: status(),
				Outline: geom.Outline{{X: x, Y: y}, {X: x + 1 + math.Abs(at()), Y: y}, {X: x + 2, Y: y + 1 + math.Abs(at())}}}
		case 6:
			s := spot()
			p.Sensors[id("r")] = plan.Sensor{Kind: "rain", X: s.X, Y: s.Y, Wireless: next()%2 == 0, Status: status()}
		case 7:
			s := spot()
			p.Boxes[id("b")] = plan.Box{X: s.X, Y: s.Y, Status: status()}
			p.Trees[id("t")] = plan.Tree{X: s.Y, Y: s.X, TrunkIn: units.Inches(1 + next()%9), RootZoneFt: units.Feet(next() % 40)}
		}
	}
	return p
}

// FuzzLists digs, wires, counts, prices and quotes plans that are drawn anyhow: whatever
// the drawing, nothing is endless, and the lists add up to the total.
func FuzzLists(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("pipes and sleeves under paving"))
	f.Add([]byte{4, 5, 0, 7, 7, 0, 0, 0, 0, 8, 4, 1, 1, 1, 0, 3, 7, 4, 9, 4, 1, 0, 5, 4, 0, 5, 9, 0, 0, 4, 5, 4, 8, 8, 0, 0, 6, 5, 5, 1, 0})
	f.Fuzz(func(t *testing.T, by []byte) {
		p, err := plan.Decode(oddPlan(by[:min(len(by), 400)]).Encode())
		if err != nil {
			return // drawn in a way no plan allows
		}
		net := pipework.Of(p)
		digs := trench.Of(p, net)
		trench.Check(p, net, digs)
		wired := wire.Of(p, digs)
		wire.Check(p, digs, wired)
		list, _ := Compute(p, net, digs, wired)
		cost := Priced(list, nil, "$")
		q := Quoted(p, cost, digs)
		if s := float64(digs.Totals.Trench + digs.Totals.Sleeved); math.IsNaN(s) || math.IsInf(s, 0) || s < 0 || q.Total < 0 {
			t.Fatalf("%v ft are dug, %s", s, q.Total)
		}
		counts := map[[2]string]int{}
		for _, z := range list.Zones {
			for _, l := range z.Lines {
				counts[[2]string{l.Group, l.Item}] += l.Count
			}
		}
		for _, l := range list.Total {
			if l.Count < 0 || counts[[2]string{l.Group, l.Item}] != l.Count || math.IsNaN(float64(l.Length)) {
				t.Fatalf("%s: %d in total, %d on the lists", l.Item, l.Count, counts[[2]string{l.Group, l.Item}])
			}
		}
	})
}
