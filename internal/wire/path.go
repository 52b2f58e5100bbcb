package wire

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// How far from the middle of a box a wire may come by and still be led into it, in
// feet: the valves of one box stand up to 4 ft apart (see trench.Box); a box for splices
// is set on the trench. Chosen.
const (
	valveBoxReach  = 3.0
	spliceBoxReach = 2.0
)

// path is the way of one wire with the boxes along it.
type path struct {
	to       plan.Ref
	segments []int
	ends     []orb.Point // of each segment, as one comes from the controller
	boxes    []int       // at those ends; -1: none
	own      int         // the box it is spliced in; -1: none
	ground   units.Feet
	length   units.Feet // of wire, by the slack
	indoors  int        // how many segments at its start are in a building
}

// pathOf reads a way from the controller. boxAt finds the box that a place is led
// into.
func pathOf(d *trench.Digs, w trench.Way, start orb.Point, boxAt func(orb.Point) int, s slack) path {
	p := path{to: w.To, segments: w.Segments, ground: w.Length, own: w.Box, ends: exits(d.Segments, w.Segments, start)}
	in := true
	for i, s := range w.Segments {
		p.boxes = append(p.boxes, boxAt(p.ends[i]))
		if in = in && d.Segments[s].Ground == trench.Indoors; in {
			p.indoors = i + 1
		}
	}
	if n := len(p.boxes); n > 0 {
		if p.own < 0 {
			p.own = p.boxes[n-1]
		}
		p.boxes[n-1] = p.own
	}
	p.length = s.all(&p)
	return p
}

// exits are the far ends of segments walked one after the other from a place.
func exits(all []trench.Segment, walk []int, start orb.Point) []orb.Point {
	out := make([]orb.Point, len(walk))
	for i, s := range walk {
		from, to := all[s].From, all[s].To
		turned := false
		switch {
		case i > 0:
			turned = apart(out[i-1], to) < apart(out[i-1], from)
		case len(walk) > 1:
			next := all[walk[1]]
			turned = min(apart(from, next.From), apart(from, next.To)) < min(apart(to, next.From), apart(to, next.To))
		default:
			turned = apart(start, to) < apart(start, from)
		}
		out[i] = to
		if turned {
			out[i] = from
		}
	}
	return out
}

// controllerAt is where wire starts: the controller.
func controllerAt(p *plan.Plan) orb.Point {
	if at := p.Controller.At; at != nil {
		return orb.Point{float64(at.X), float64(at.Y)}
	}
	return orb.Point{}
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// boxFinder finds the box that a place is led into; -1 for none. Where a way ends is
// in the box that the digs say it ends in.
func boxFinder(d *trench.Digs, start orb.Point) func(orb.Point) int {
	known := map[orb.Point]int{}
	for _, w := range d.Ways {
		if n := len(w.Segments); n > 0 && w.Box >= 0 {
			known[exits(d.Segments, w.Segments, start)[n-1]] = w.Box
		}
	}
	return func(at orb.Point) int {
		if box, ok := known[at]; ok {
			return box
		}
		best, least := -1, math.Inf(1)
		for i, b := range d.Boxes {
			reach := valveBoxReach
			if b.Kind == trench.SpliceBox {
				reach = spliceBoxReach
			}
			if away := apart(b.At, at); away <= reach && away < least {
				best, least = i, away
			}
		}
		known[at] = best
		return best
	}
}

// passed are the boxes among those at the ends of segments from one place of a path
// to another, each once.
func (p *path) passed(from, to int) []int {
	var out []int
	for _, b := range p.boxes[from:to] {
		if b >= 0 && !slices.Contains(out, b) {
			out = append(out, b)
		}
	}
	return out
}

// slack is how much longer wire is than its way, one way: a coil to so many feet
// of each hundred, a loop in every box it comes through so that splices can be
// lifted out, and the rise from the trench up to the controller.
type slack struct {
	coil float64    // share
	loop units.Feet // in each box
	rise units.Feet
}

func slackOf(p *plan.Plan) slack {
	coil, _ := p.Figure(plan.WireCoil)
	loop, _ := p.Figure(plan.WireSlack)
	rise, _ := p.Figure(plan.WireRise)
	return slack{coil / 100, units.Inches(loop).Feet(), units.Feet(rise)}
}

// laid is the length of a wire along so much ground, through so many boxes.
func (s slack) laid(ground units.Feet, boxes int, fromController bool) units.Feet {
	l := ground + units.Feet(float64(ground)*s.coil) + units.Feet(float64(boxes)*float64(s.loop))
	if fromController {
		l += s.rise
	}
	return l
}

// end is where the path ends that starts at the controller.
func (p *path) end(start orb.Point) orb.Point {
	if n := len(p.ends); n > 0 {
		return p.ends[n-1]
	}
	return start
}

// through are the boxes a wire along all of the path comes through, its own last.
func (p *path) through() []int {
	out := p.passed(0, len(p.boxes))
	if p.own >= 0 && !slices.Contains(out, p.own) {
		out = append(out, p.own)
	}
	return out
}

// all is the length of a wire along all of a path. What ends in no box has a loop
// where it ends all the same.
func (s slack) all(p *path) units.Feet {
	boxes := len(p.through())
	if p.own < 0 {
		boxes++
	}
	return s.laid(p.ground, boxes, true)
}
