package pipework

import (
	"slices"

	"evenfall/internal/plan"
)

// headOf is the standing head a node is drawn for, "" when it is none.
func (g *graph) headOf(n int32) plan.ID {
	v := g.p.Nodes[g.nodes[n]]
	if h, ok := g.p.Heads[v.Head]; v.Kind != "head" || !ok || !h.Status.Stands() {
		return ""
	}
	return v.Head
}

// headsBelow are the heads at and beyond each node, as one walk down the trees
// meets them. All share one list, so that a long run of heads costs no square of
// its length. A head drawn at two nodes counts at the first by id.
func headsBelow(g *graph, t *tree) [][]plan.ID {
	first := make(map[plan.ID]int32, len(g.p.Heads))
	for n := range g.nodes {
		if h := g.headOf(int32(n)); h != "" {
			if _, taken := first[h]; !taken {
				first[h] = int32(n)
			}
		}
	}
	down := make([][]int32, len(g.nodes))
	for _, n := range t.order {
		if e := t.up[n]; e >= 0 {
			from := g.other(e, n)
			down[from] = append(down[from], n)
		}
	}
	met := make([]plan.ID, 0, len(first))
	begin, below := make([]int, len(g.nodes)), make([][]plan.ID, len(g.nodes))
	type step struct {
		n    int32
		back bool
	}
	var walk []step
	for _, root := range t.order {
		if t.up[root] >= 0 {
			continue
		}
		walk = append(walk, step{root, false})
		for len(walk) > 0 {
			s := walk[len(walk)-1]
			walk = walk[:len(walk)-1]
			if s.back {
				below[s.n] = met[begin[s.n]:len(met):len(met)]
				continue
			}
			begin[s.n] = len(met)
			if h := g.headOf(s.n); h != "" && first[h] == s.n {
				met = append(met, h)
			}
			walk = append(walk, step{s.n, true})
			for _, n := range slices.Backward(down[s.n]) {
				walk = append(walk, step{n, false})
			}
		}
	}
	return below
}

// gatherZones tells for every zone with a valve what is behind it.
func gatherZones(net *Network, g *graph, t *tree) {
	for n := range g.nodes {
		if h := g.headOf(int32(n)); h != "" && net.HeadAt[h] == "" {
			net.HeadAt[h] = g.nodes[n]
		}
	}
	for n, zone := range g.valve {
		if zone == "" {
			continue
		}
		z := net.Zones[zone]
		z.Valves = append(z.Valves, g.nodes[n])
		if z.Valve == "" || t.fed[n] && !z.Fed {
			z.Valve, z.Fed = g.nodes[n], t.fed[n]
		}
		net.Zones[zone] = z
	}
	join := func(pipe plan.ID) {
		e := net.Pipes[pipe]
		if z, ok := net.Zones[e.Zone]; ok && e.Valved {
			z.Pipes = append(z.Pipes, pipe)
			net.Zones[e.Zone] = z
		}
	}
	for _, n := range t.order {
		if e := t.up[n]; e >= 0 {
			join(g.pipes[e])
		}
	}
	for _, e := range net.Loops {
		join(e)
	}
	for _, h := range plan.SortedIDs(g.p.Heads) {
		if !g.p.Heads[h].Status.Stands() {
			continue
		}
		at, joined := net.Nodes[net.HeadAt[h]], net.HeadAt[h] != ""
		joined = joined && at.Valved
		if z, ok := net.Zones[at.Zone]; ok && joined {
			z.Heads = append(z.Heads, h)
			net.Zones[at.Zone] = z
		}
		own := g.p.Heads[h].Zone
		if z, ok := net.Zones[own]; ok && !(joined && at.Zone == own) {
			z.Unfed = append(z.Unfed, h)
			net.Zones[own] = z
		}
	}
}
