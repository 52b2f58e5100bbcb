package pipework

import (
	"slices"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// soundYard is yard with its fifth head on a pipe, too.
func soundYard() *plan.Plan {
	p := yard()
	p.Nodes["nh5"] = plan.Node{Kind: "head", Head: "h5", X: 90}
	p.Pipes["b4"] = plan.Pipe{From: "nh3", To: "nh5", Zone: "z2", Class: "c", NominalIn: 0.75}
	return p
}

// Each change makes one thing wrong, and the yard says it in one sentence.
func TestPipesSayWhatIsWrongWithThem(t *testing.T) {
	pipe := func(p *plan.Plan, id plan.ID, f func(*plan.Pipe)) {
		e := p.Pipes[id]
		f(&e)
		p.Pipes[id] = e
	}
	for _, c := range []struct {
		name   string
		change func(*plan.Plan)
		says   []string
		about  []plan.Ref // of the first
	}{
		{"sound", func(*plan.Plan) {}, nil, nil},
		{"nothing drawn", func(p *plan.Plan) { p.Pipes = nil }, nil, nil},
		{"no connection", func(p *plan.Plan) { n := p.Nodes["src"]; n.Kind = "joint"; p.Nodes["src"] = n },
			[]string{"The pipes begin at no point of connection, so none of them has water."}, nil},
		{"a gap", func(p *plan.Plan) { delete(p.Pipes, "m3") },
			[]string{"4 pipes have no way to the point of connection."}, []plan.Ref{"pipes/b1", "pipes/b2", "pipes/b3", "pipes/b4"}},
		{"a head of no pipe", func(p *plan.Plan) { delete(p.Pipes, "b4") },
			[]string{"Head at 90, 0 ft of zone 2 (Two) hangs on no pipe."}, []plan.Ref{"heads/h5", "zones/z2"}},
		{"a zone of no pipe", func(p *plan.Plan) { delete(p.Pipes, "a1"); delete(p.Pipes, "a2") },
			[]string{"Zone 1 (One) has no pipe yet."}, []plan.Ref{"zones/z1"}},
		{"the same, and there already", func(p *plan.Plan) {
			delete(p.Pipes, "a1")
			delete(p.Pipes, "a2")
			z := p.Zones["z1"]
			z.Status = plan.Existing
			p.Zones["z1"] = z
		}, nil, nil},
		{"a lateral on the main", func(p *plan.Plan) { pipe(p, "a1", func(e *plan.Pipe) { e.From = "dev" }) },
			[]string{"2 pipes of zone 1 (One) are joined to the main without its valve."}, []plan.Ref{"pipes/a1", "pipes/a2", "zones/z1"}},
		{"two laterals joined", func(p *plan.Plan) {
			p.Pipes["x"] = plan.Pipe{From: "nh2", To: "nh3", Zone: "z1", NominalIn: 1, Class: "c"}
		},
			[]string{"A pipe joins zone 2 (Two) to zone 1 (One)."}, []plan.Ref{"pipes/x", "zones/z1", "zones/z2"}},
		{"two laterals joined twice", func(p *plan.Plan) {
			p.Pipes["x"] = plan.Pipe{From: "nh2", To: "nh3", Zone: "z1", NominalIn: 1, Class: "c"}
			p.Pipes["y"] = plan.Pipe{From: "nh5", To: "nh2", Zone: "z1", NominalIn: 1, Class: "c"}
		},
			[]string{"2 pipes join zone 2 (Two) to zone 1 (One)."}, []plan.Ref{"pipes/x", "pipes/y", "zones/z1", "zones/z2"}},
		{"a way past the valve", func(p *plan.Plan) {
			p.Pipes["x"] = plan.Pipe{From: "nh2", To: "dev", Zone: "z1", NominalIn: 1, Class: "c"}
		},
			[]string{"A pipe joins zone 1 (One) to the main past its valve."}, []plan.Ref{"pipes/x", "zones/z1"}},
		{"a loop of the main", func(p *plan.Plan) { p.Pipes["x"] = plan.Pipe{From: "v2", To: "dev", NominalIn: 1, Class: "c"} }, nil, nil},
		{"a way round the backflow device", func(p *plan.Plan) {
			p.Pipes["x"] = plan.Pipe{From: "src", To: "v2", NominalIn: 1, Class: "c"}
		},
			[]string{"Water reaches zone 1 (One) and zone 2 (Two) from the point of connection without passing the backflow device."},
			[]plan.Ref{"nodes/v1", "nodes/v2", "zones/z1", "zones/z2"}},
		{"the same from a pond", func(p *plan.Plan) {
			p.Supply.Kind = plan.Pond
			p.Pipes["x"] = plan.Pipe{From: "src", To: "v2", NominalIn: 1, Class: "c"}
		}, nil, nil},
		{"heads on the main", func(p *plan.Plan) {
			for _, id := range []plan.ID{"a1", "a2"} {
				pipe(p, id, func(e *plan.Pipe) { e.Zone = "" })
			}
			pipe(p, "a1", func(e *plan.Pipe) { e.From = "dev" })
		},
			[]string{"Heads at 20, 10 ft and at 30, 10 ft of zone 1 (One) stand on the main, before any valve."},
			[]plan.Ref{"heads/h1", "heads/h2", "zones/z1"}},
		{"a second backflow device", func(p *plan.Plan) {
			p.Supply.BackflowAt = &plan.Spot{X: 10}
			p.Nodes["dev2"] = plan.Node{Kind: "backflow", X: 30}
			pipe(p, "m3", func(e *plan.Pipe) { e.To = "dev2" })
			p.Pipes["m4"] = plan.Pipe{From: "dev2", To: "v2", NominalIn: 1, Class: "c"}
		},
			[]string{"2 backflow devices are drawn in the main, and what one takes is counted once."}, []plan.Ref{"nodes/dev", "nodes/dev2"}},
		{"a second point of connection", func(p *plan.Plan) {
			p.Nodes["src2"] = plan.Node{Kind: "connection", X: 40, Y: 40}
			p.Pipes["x"] = plan.Pipe{From: "src2", To: "v2", NominalIn: 1, Class: "c"}
			p.Supply.Connection = &plan.Spot{}
		},
			[]string{"2 points of connection are drawn, and pressures are worked out from one of them alone."}, []plan.Ref{"nodes/src", "nodes/src2"}},
		{"two laterals larger than the main", func(p *plan.Plan) {
			for _, id := range []plan.ID{"m1", "m2", "m3"} {
				pipe(p, id, func(e *plan.Pipe) { e.NominalIn = 0.75 })
			}
		}, []string{"2 pipes are larger than the pipe of the main before them: one of 1 in follows one of 3/4 in."}, nil},
		{"a loop in a zone", func(p *plan.Plan) {
			p.Pipes["x"] = plan.Pipe{From: "nh2", To: "v1", Zone: "z1", NominalIn: 1, Class: "c"}
		}, nil, nil},
		{"two valves", func(p *plan.Plan) { n := p.Nodes["j"]; n.Kind, n.Zone = "valve", "z2"; p.Nodes["j"] = n },
			[]string{"Zone 2 (Two) has 2 valves in its pipes."}, []plan.Ref{"nodes/j", "nodes/v2", "zones/z2"}},
		{"a valve behind another", func(p *plan.Plan) { pipe(p, "m3", func(e *plan.Pipe) { e.From, e.Zone = "nh1", "z1" }) },
			[]string{"The valve of zone 2 (Two) stands behind the one of zone 1 (One), and has water only while that one is open."}, []plan.Ref{"nodes/v2", "zones/z1", "zones/z2"}},
		{"another zone's head", func(p *plan.Plan) { h := p.Heads["h2"]; h.Zone = "z2"; p.Heads["h2"] = h },
			[]string{"Head at 30, 10 ft is of zone 2 (Two), but hangs on a pipe behind the valve of zone 1 (One)."}, []plan.Ref{"heads/h2", "zones/z1", "zones/z2"}},
		{"another zone's pipe", func(p *plan.Plan) { pipe(p, "b3", func(e *plan.Pipe) { e.Zone = "z1" }) },
			[]string{"1 pipe is marked as zone 1 (One) behind the valve of zone 2 (Two)."}, []plan.Ref{"pipes/b3", "zones/z1", "zones/z2"}},
		{"a lateral marked as main", func(p *plan.Plan) { pipe(p, "b3", func(e *plan.Pipe) { e.Zone = "" }) },
			[]string{"1 pipe is marked as the main behind the valve of zone 2 (Two)."}, nil},
		{"a stub", func(p *plan.Plan) {
			p.Nodes["k"] = plan.Node{Kind: "joint", X: 70}
			p.Pipes["x"] = plan.Pipe{From: "nh4", To: "k", Zone: "z2", NominalIn: 0.75, Class: "c"}
		}, []string{"1 pipe ends at nothing, one of zone 2 (Two)."}, []plan.Ref{"nodes/k", "pipes/x"}},
		{"a stub that is there", func(p *plan.Plan) {
			p.Nodes["k"] = plan.Node{Kind: "joint", X: 70}
			p.Pipes["x"] = plan.Pipe{From: "nh4", To: "k", Zone: "z2", NominalIn: 0.75, Class: "c", Status: plan.Existing}
		}, nil, nil},
		{"a drain", func(p *plan.Plan) {
			p.Nodes["k"] = plan.Node{Kind: "drain", X: 70}
			p.Pipes["x"] = plan.Pipe{From: "nh4", To: "k", Zone: "z2", NominalIn: 0.75, Class: "c"}
		}, nil, nil},
		{"moved heads and valve", func(p *plan.Plan) {
			h := p.Heads["h2"]
			h.X += 0.6
			p.Heads["h2"] = h
			z := p.Zones["z2"]
			z.ValveAt = &plan.Spot{X: 40, Y: 1}
			p.Zones["z2"] = z
			p.Supply.Connection, p.Supply.BackflowAt = &plan.Spot{X: 0.4}, &plan.Spot{X: 10, Y: 3}
		}, []string{"The pipe does not end where the backflow device, head at 30.6, 10 ft and the valve of zone 2 (Two) stand."},
			[]plan.Ref{"heads/h2", "nodes/dev", "nodes/nh2", "nodes/v2", "supply", "zones/z2"}},
		{"larger at the end", func(p *plan.Plan) {
			pipe(p, "b3", func(e *plan.Pipe) { e.NominalIn = 1 })
			pipe(p, "b1", func(e *plan.Pipe) { e.NominalIn = 0.75 })
		},
			[]string{"In zone 2 (Two) 2 pipes are larger than those before them: one of 1 in follows one of 3/4 in."}, []plan.Ref{"pipes/b1", "pipes/b2", "pipes/b3"}},
		{"larger after the main", func(p *plan.Plan) { pipe(p, "m1", func(e *plan.Pipe) { e.NominalIn = 0.75 }) },
			[]string{"In the main a pipe of 1 in follows one of 3/4 in."}, []plan.Ref{"pipes/m1", "pipes/m2"}},
		{"not made", func(p *plan.Plan) { pipe(p, "b3", func(e *plan.Pipe) { e.NominalIn = 0.5 }) },
			[]string{"1 pipe is Class in 1/2 in, which is not made."}, []plan.Ref{"pipes/b3"}},
		{"not for drinking", func(p *plan.Plan) { pipe(p, "m1", func(e *plan.Pipe) { e.Class = "pvc-class200" }) },
			[]string{"1 pipe before the backflow device is not rated for drinking water."}, []plan.Ref{"pipes/m1"}},
		{"the same behind it", func(p *plan.Plan) { pipe(p, "m2", func(e *plan.Pipe) { e.Class = "pvc-class200" }) }, nil, nil},
		{"the same from a pond", func(p *plan.Plan) {
			pipe(p, "m1", func(e *plan.Pipe) { e.Class = "pvc-class200" })
			p.Supply.Kind = plan.Pond
		}, nil, nil},
		{"breakers after the valves", func(p *plan.Plan) {
			n := p.Nodes["dev"]
			n.Kind = "joint"
			p.Nodes["dev"] = n
			pipe(p, "m2", func(e *plan.Pipe) { e.Class = "pvc-class200" })
			p.Supply.BackflowDevice = "backflow-avb-1"
		}, []string{"1 pipe before the backflow device is not rated for drinking water."}, []plan.Ref{"pipes/m2"}},
	} {
		p := soundYard()
		c.change(p)
		found := Check(p, Of(p))
		var says []string
		for _, f := range found {
			says = append(says, f.Sentence)
		}
		if !slices.Equal(says, c.says) {
			t.Errorf("%s: says %q, want %q", c.name, says, c.says)
		}
		if len(found) > 0 && c.about != nil && !slices.Equal(found[0].About, c.about) {
			t.Errorf("%s: about %v, want %v", c.name, found[0].About, c.about)
		}
	}
}

// Sizes read in the plan's units.
func TestFindingsOfPipesAreInThePlansUnits(t *testing.T) {
	p := soundYard()
	p.Show = units.Metric
	e := p.Pipes["m1"]
	e.NominalIn = 0.75
	p.Pipes["m1"] = e
	if found := Check(p, Of(p)); len(found) != 1 || found[0].Sentence != "In the main a pipe of DN 25 follows one of DN 20." {
		t.Errorf("found %v", found)
	}
}

// The class of a test's own table is made for drinking water.
func init() {
	if c, _ := catalog.FindPipeClass("pvc-class200"); c.Potable {
		panic("class 200 is no longer unfit for drinking water: choose another for the checks above")
	}
}
