package pipework

import (
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Of reads the standing pipework of p, which must be valid (plan.Decode has seen
// to it). It reads nodes, pipes, zones, heads, bodies, pipe classes, spot heights
// and the supply's connection. Its cost goes with the number of pipes and corners.
func Of(p *plan.Plan) *Network {
	g := newGraph(p)
	t := newTree(g)
	net := &Network{
		Nodes: make(map[plan.ID]Node, len(g.nodes)), Pipes: make(map[plan.ID]Pipe, len(g.pipes)),
		Zones: map[plan.ID]Zone{}, HeadAt: map[plan.ID]plan.ID{},
	}
	if g.source >= 0 {
		net.Source = g.nodes[g.source]
	}
	ground := p.Relief()
	lost := make(map[int32][]Fitting, len(g.pipes))
	for _, n := range t.order {
		id := g.nodes[n]
		node := Node{ID: id, Zone: t.zone[n], Valved: t.valved[n], Pipes: len(g.at[n]), Joints: g.jointsAt(t, n)}
		g.lose(t, n, lost)
		if z, ok := ground.Height(orb.Point{float64(p.Nodes[id].X), float64(p.Nodes[id].Y)}); ok {
			node.Level = units.Feet(z)
		}
		if t.fed[n] {
			if up := t.up[n]; up >= 0 {
				node.Up = g.pipes[up]
			}
		} else {
			net.Loose = append(net.Loose, id)
		}
		net.Order = append(net.Order, id)
		net.Nodes[id] = node
	}
	slices.Sort(net.Loose)
	heads := headsBelow(g, t)
	for e, id := range g.pipes {
		drawn := p.Pipes[id]
		from := t.upper(int32(e))
		pipe := Pipe{
			ID: id, From: g.nodes[from], To: g.nodes[g.other(int32(e), from)], Reversed: g.ends[e][0] != from,
			Length: units.Feet(g.length[e]),
		}
		pipe.Zone, pipe.Valved = t.carries(from, int32(e))
		pipe.Class, pipe.Size, _ = p.Row(drawn)
		bends, joints := g.bends(int32(e), id)
		pipe.Fittings, pipe.Joints = append(lost[int32(e)], bends...), joints
		for i := range joints {
			joints[i].Zone = pipe.Zone
		}
		if to := g.other(int32(e), from); t.up[to] == int32(e) {
			pipe.Heads = heads[to]
			if t.fed[to] {
				up := net.Nodes[pipe.From]
				up.Down = append(up.Down, id)
				net.Nodes[pipe.From] = up
			}
		} else {
			pipe.Loop = true
			net.Loops = append(net.Loops, id)
		}
		net.Pipes[id] = pipe
	}
	gatherZones(net, g, t)
	return net
}
