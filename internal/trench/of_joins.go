package trench

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// joinReach is how near what is drawn for one another is joined, in feet: the end of
// a wire run at a trench, a valve in its box. Chosen, as is mostIndoors: how many
// ends of wire in one building are joined each with each.
const (
	joinReach   = 1.0
	mostIndoors = 64
	// byLateral is how much longer a way beside laterals counts than one beside the
	// main: wire keeps together under the main, which all valves hang on (common
	// practice), unless it is clearly longer. Chosen.
	byLateral = 1.25
	// byNothing is how much longer a way through a building counts where no run is
	// drawn: a run that is drawn is what was meant. Chosen.
	byNothing = 2.0
)

// hop is a way between two graph nodes that is no segment.
type hop struct {
	a, b   int
	length float64
	times  float64 // that it counts its length
}

// stand is a thing that wire begins or ends at.
type stand struct {
	to    plan.Ref
	at    orb.Point
	known bool // it has a place
	node  int
	box   int
	isNew bool
}

// join joins the ends of wire runs, the controller, valves, boxes and sensors to
// what lies beside them. The first of work.stands is the controller.
func (w *work) join(boxes []Box) {
	c := stand{to: "controller", box: -1}
	if w.p.Controller.At != nil && w.p.Controller.Status.Stands() {
		c.at, c.known = orb.Point{float64(w.p.Controller.At.X), float64(w.p.Controller.At.Y)}, true
	}
	w.stands = append(w.stands, c)
	for _, id := range byStation(w.p) {
		s := stand{to: plan.RefTo("zones", id), box: slices.IndexFunc(boxes, func(b Box) bool { return slices.Contains(b.Zones, id) }), isNew: w.p.Zones[id].Status.IsNew()}
		s.at, s.known = w.valvePlace(id)
		w.stands = append(w.stands, s)
	}
	if at, ok := w.masterPlace(); ok {
		w.stands = append(w.stands, stand{to: "supply", at: at, known: true, box: slices.IndexFunc(boxes, func(b Box) bool { return b.Master }), isNew: w.p.Supply.Status.IsNew()})
	}
	for _, id := range plan.SortedIDs(w.p.Sensors) {
		if v := w.p.Sensors[id]; v.Status.Stands() && !v.Wireless {
			w.stands = append(w.stands, stand{to: plan.RefTo("sensors", id), at: orb.Point{float64(v.X), float64(v.Y)}, known: true, box: -1, isNew: v.Status.IsNew()})
		}
	}
	type end struct {
		at   orb.Point
		node int
	}
	var ends []end
	for i := range w.stands {
		s := &w.stands[i]
		s.node = w.nodes.add()
		if !s.known {
			continue
		}
		w.attach(s.node, s.at, -1)
		if collection, id := s.to.Split(); collection == "zones" {
			if z, ok := w.net.Zones[id]; ok && z.Valve != "" {
				w.nodes.merge(s.node, w.nodes.of(z.Valve))
			}
		} else {
			ends = append(ends, end{s.at, s.node})
		}
	}
	for i := range w.strands {
		if s := &w.strands[i]; s.wire != "" && len(s.points) > 0 {
			for _, e := range []end{{s.points[0], s.first}, {s.points[len(s.points)-1], s.last}} {
				w.attach(e.node, e.at, i)
				ends = append(ends, e)
			}
		}
	}
	for k, b := range boxes {
		n := w.nodes.add()
		w.attach(n, b.At, -1)
		for _, s := range w.stands {
			if s.known && s.box == k {
				w.hops = append(w.hops, hop{n, s.node, math.Hypot(s.at[0]-b.At[0], s.at[1]-b.At[1]), 1})
			}
		}
	}
	for i := range w.land.areas {
		a := &w.land.areas[i]
		if a.Kind != plan.Building {
			continue
		}
		var in []end
		for _, e := range ends {
			if a.bound.Pad(joinReach).Contains(e.at) && (geom.PolygonContains(a.shape, e.at) || edgeWithin(a.shape, e.at, joinReach)) {
				in = append(in, e)
			}
		}
		for x, e := range in {
			for y, f := range in[x+1:] {
				if x == 0 || x+1+y < mostIndoors {
					w.hops = append(w.hops, hop{e.node, f.node, math.Hypot(e.at[0]-f.at[0], e.at[1]-f.at[1]), byNothing})
				}
			}
		}
	}
}

// edgeWithin reports whether a place is within reach of the edge of a shape.
func edgeWithin(shape orb.Polygon, at orb.Point, reach float64) bool {
	for _, r := range shape {
		if d, _, _ := geom.DistanceToEdge(at, r); d <= reach {
			return true
		}
	}
	return false
}

// attach joins a place to every line beside it but those of one strand.
func (w *work) attach(node int, at orb.Point, but int) {
	w.near.visit(at.Bound().Pad(joinReach), func(i int) {
		if l := &w.lines[i]; l.strand != but {
			if t, off := l.foot(at); off <= joinReach {
				w.hops = append(w.hops, hop{node, w.cutAt(i, t), off, 1})
			}
		}
	})
}
