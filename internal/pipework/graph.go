package pipework

import (
	"math"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// graph is the standing pipes of a plan by number: nodes and pipes in the order
// of their ids.
type graph struct {
	p      *plan.Plan
	nodes  []plan.ID
	pipes  []plan.ID
	ends   [][2]int32 // nodes of each pipe, as drawn
	length []float64  // feet
	shape  []shape
	leg    []leg     // each pipe as joints see it, without its direction
	at     [][]int32 // pipes at each node, by id
	valve  []plan.ID // zone of each node that is a standing valve, else ""
	source int32     // -1: none
}

func newGraph(p *plan.Plan) *graph {
	g := &graph{p: p, source: -1}
	used := make(map[plan.ID]bool, len(p.Nodes))
	for id, e := range p.Pipes {
		if stands(p, id) {
			used[e.From], used[e.To] = true, true
		}
	}
	number := make(map[plan.ID]int32, len(p.Nodes))
	for _, id := range plan.SortedIDs(p.Nodes) {
		if used[id] || p.Nodes[id].Status.Stands() {
			number[id] = int32(len(g.nodes))
			g.nodes = append(g.nodes, id)
		}
	}
	g.at = make([][]int32, len(g.nodes))
	for _, id := range plan.SortedIDs(p.Pipes) {
		if !stands(p, id) {
			continue
		}
		drawn, e := p.Pipes[id], int32(len(g.pipes))
		a, b := number[drawn.From], number[drawn.To]
		g.pipes = append(g.pipes, id)
		g.ends = append(g.ends, [2]int32{a, b})
		line := LineOf(p, drawn)
		g.length, g.shape = append(g.length, line.Length()), append(g.shape, shapeOf(line))
		g.leg = append(g.leg, legOf(p, id, e))
		g.at[a], g.at[b] = append(g.at[a], e), append(g.at[b], e)
	}
	g.markValves()
	g.findSource()
	return g
}

// stands reports whether a pipe stands between two different nodes of the plan.
func stands(p *plan.Plan, id plan.ID) bool {
	e := p.Pipes[id]
	_, from := p.Nodes[e.From]
	_, to := p.Nodes[e.To]
	return e.Status.Stands() && from && to && e.From != e.To
}

// LineOf is a pipe as drawn with its ends, whose nodes must be there.
func LineOf(p *plan.Plan, e plan.Pipe) geom.Line {
	a, b := p.Nodes[e.From], p.Nodes[e.To]
	line := make(geom.Line, 0, len(e.Via)+2)
	line = append(line, geom.Vertex{X: float64(a.X), Y: float64(a.Y)})
	line = append(line, e.Via...)
	return append(line, geom.Vertex{X: float64(b.X), Y: float64(b.Y)})
}

// markValves finds the valves. A pipe of the main that leaves one is taken off
// before it; whatever is marked with a zone is behind it.
func (g *graph) markValves() {
	g.valve = make([]plan.ID, len(g.nodes))
	for n, id := range g.nodes {
		if v := g.p.Nodes[id]; v.Kind == "valve" && v.Status.Stands() {
			g.valve[n] = v.Zone
		}
	}
}

// findSource takes the connection nearest to the supply's, the first of several
// as near.
func (g *graph) findSource() {
	best := math.Inf(1)
	for n, id := range g.nodes {
		v := g.p.Nodes[id]
		if v.Kind != "connection" || !v.Status.Stands() {
			continue
		}
		off := 0.0
		if at := g.p.Supply.Connection; at != nil {
			off = math.Hypot(float64(v.X-at.X), float64(v.Y-at.Y))
		}
		if off < best {
			best, g.source = off, int32(n)
		}
	}
}

// drawn is the zone a pipe is marked with.
func (g *graph) drawn(e int32) plan.ID { return g.p.Pipes[g.pipes[e]].Zone }

// belongs reports whether a node is not marked as another zone's.
func (g *graph) belongs(n int32, zone plan.ID) bool {
	mark := g.p.Nodes[g.nodes[n]].Zone
	if h := g.headOf(n); h != "" {
		mark = g.p.Heads[h].Zone
	}
	return mark == "" || mark == zone
}

// other is the other end of a pipe.
func (g *graph) other(e, n int32) int32 {
	if g.ends[e][0] == n {
		return g.ends[e][1]
	}
	return g.ends[e][0]
}
