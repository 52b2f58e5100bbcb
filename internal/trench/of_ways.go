package trench

import (
	"container/heap"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// wayfinding is how far from the controller each graph node is, along segments and hops.
type wayfinding struct {
	far  []float64 // by what was preferred; +Inf: no way
	long []float64 // in feet
	from []int     // the node before; -1
	by   []int     // the segment from there; -1: a hop
}

type toward struct {
	node int
	far  float64
}

// queue is a heap of nodes, the nearest first, of equals the lower.
type queue []toward

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	return q[i].far < q[j].far || q[i].far == q[j].far && q[i].node < q[j].node
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(toward)) }
func (q *queue) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}

// findWays finds the shortest ways from a node, the nearest node first.
func (w *work) findWays(d *Digs, from int) wayfinding {
	type edge struct {
		to, by       int
		length, cost float64
	}
	n := len(w.nodes.up)
	at := make([][]edge, n)
	link := func(a, b, by int, length, cost float64) {
		a, b = w.nodes.one(a), w.nodes.one(b)
		if a != b {
			at[a], at[b] = append(at[a], edge{b, by, length, cost}), append(at[b], edge{a, by, length, cost})
		}
	}
	for i, s := range w.segs {
		length := s.to - s.from
		cost := length
		if !d.Segments[i].Main && len(d.Segments[i].Wires) == 0 {
			cost *= byLateral
		}
		link(s.a, s.b, i, length, cost)
	}
	for _, h := range w.hops {
		link(h.a, h.b, -1, h.length, h.times*h.length)
	}
	r := wayfinding{make([]float64, n), make([]float64, n), make([]int, n), make([]int, n)}
	for i := range n {
		r.far[i], r.from[i], r.by[i] = math.Inf(1), -1, -1
	}
	done := make([]bool, n)
	from = w.nodes.one(from)
	r.far[from] = 0
	q := queue{{from, 0}}
	for len(q) > 0 {
		t := heap.Pop(&q).(toward)
		if done[t.node] {
			continue
		}
		done[t.node] = true
		for _, e := range at[t.node] {
			if far := t.far + e.cost; far < r.far[e.to] {
				r.far[e.to], r.long[e.to], r.from[e.to], r.by[e.to] = far, r.long[t.node]+e.length, t.node, e.by
				heap.Push(&q, toward{e.to, far})
			}
		}
	}
	return r
}

// lead finds the way of every wire.
func (w *work) lead(d *Digs) {
	c := w.stands[0]
	var r wayfinding
	if c.known {
		r = w.findWays(d, c.node)
	}
	for _, s := range w.stands[1:] {
		way := Way{To: s.to, Box: s.box}
		switch {
		case !c.known:
			way.Missing, way.From = "the controller has no place on the plan", s.at
		case !s.known:
			way.Missing, way.From = "its valve has no place on the plan", c.at
		case math.IsInf(r.far[w.nodes.one(s.node)], 1):
			way.Missing, way.From = w.missing(d, r, s)
		default:
			n := w.nodes.one(s.node)
			way.Length = units.Feet(r.long[n])
			for ; r.from[n] >= 0; n = r.from[n] {
				if r.by[n] >= 0 {
					way.Segments = append(way.Segments, r.by[n])
				}
			}
			slices.Reverse(way.Segments)
		}
		for _, i := range way.Segments {
			seg := &d.Segments[i]
			seg.Ways = append(seg.Ways, len(d.Ways))
			seg.New = seg.New || s.isNew && !w.hasOldWire(seg)
		}
		d.Ways = append(d.Ways, way)
	}
	for i := range d.Segments {
		s := &d.Segments[i]
		if s.Crossing < 0 {
			continue
		}
		x := &d.Crossings[s.Crossing]
		x.New = x.New || s.New
		for _, way := range s.Ways {
			if !slices.Contains(x.Ways, way) {
				x.Ways = append(x.Ways, way)
			}
		}
	}
	for i := range d.Crossings {
		slices.Sort(d.Crossings[i].Ways)
	}
}

// hasOldWire reports whether wire is there already along a segment: what is added
// goes by its spare conductors, or is drawn as new.
func (w *work) hasOldWire(s *Segment) bool {
	return slices.ContainsFunc(s.Wires, func(id plan.ID) bool { return !w.p.Wires[id].Status.IsNew() })
}

// missing says why no wire comes to a thing, and where what is laid ends: of the
// places that wire reaches the one nearest to it.
func (w *work) missing(d *Digs, r wayfinding, s stand) (why string, from orb.Point) {
	thing := "its valve"
	if collection, _ := s.to.Split(); collection == "sensors" {
		thing = "the sensor"
	} else if s.to == "supply" {
		thing = "the master valve"
	}
	best, reached := math.Inf(1), false
	from = w.stands[0].at
	nearest, off := orb.Point{}, math.Inf(1) // trench to the controller
	for i := range d.Segments {
		seg := &d.Segments[i]
		ends := [2]orb.Point{seg.From, seg.To}
		for k, n := range [2]int{w.segs[i].a, w.segs[i].b} {
			if !math.IsInf(r.far[w.nodes.one(n)], 1) {
				reached = true
				if far := math.Hypot(ends[k][0]-s.at[0], ends[k][1]-s.at[1]); far < best {
					best, from = far, ends[k]
				}
			}
		}
		at := geom.NearestOnSegment(w.stands[0].at, seg.From, seg.To)
		if far := math.Hypot(at[0]-w.stands[0].at[0], at[1]-w.stands[0].at[1]); far < off {
			nearest, off = at, far
		}
	}
	switch {
	case len(d.Segments) == 0:
		return "no pipe and no wire run is drawn", from
	case !reached:
		return fmt.Sprintf("no wire run leads from the controller to the trench %s", w.p.Whereabouts(nearest)), from
	}
	return fmt.Sprintf("neither trench nor wire run leads on from %s to %s", w.p.Whereabouts(from), thing), from
}
