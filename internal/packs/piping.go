package packs

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// lane is where among the lines of a trench one is drawn.
type lane struct {
	offset orb.Point // feet, to add to a place of the segment
	seg    int
}

// lanes tell where in every segment each pipe and the wire is drawn, so that none lies
// on another however small the scale. On a chart of true measures all lie where they are.
type lanes struct {
	pipe map[plan.ID][]lane
	wire []orb.Point // by segment
	many []int       // lines of each segment
}

func (c *chart) lanesOf(spread bool) lanes {
	segs := c.d.Digs.Segments
	l := lanes{pipe: map[plan.ID][]lane{}, wire: make([]orb.Point, len(segs)), many: make([]int, len(segs))}
	for i := range segs {
		s := &segs[i]
		ids := slices.Clone(s.Pipes)
		slices.SortStableFunc(ids, func(a, b plan.ID) int {
			x, y := c.p.Pipes[a], c.p.Pipes[b]
			return cmp.Or(cmp.Compare(c.laneRank(x), c.laneRank(y)), cmp.Compare(a, b))
		})
		n := len(ids)
		if hasWire(s) {
			n++
		}
		l.many[i] = n
		length := math.Hypot(s.To[0]-s.From[0], s.To[1]-s.From[1])
		at := func(k int) orb.Point {
			if !spread || length == 0 || n < 2 {
				return orb.Point{}
			}
			// Lanes lie the same way round whichever way the segment was drawn.
			d := (float64(k) - float64(n-1)/2) * c.pt(laneWide*c.k) / length
			x, y := s.To[0]-s.From[0], s.To[1]-s.From[1]
			if x < 0 || x == 0 && y < 0 {
				d = -d
			}
			return orb.Point{-y * d, x * d}
		}
		for k, id := range ids {
			l.pipe[id] = append(l.pipe[id], lane{at(k), i})
		}
		l.wire[i] = at(n - 1)
	}
	return l
}

// most is how many lines lie side by side where most do along a pipe.
func (l lanes) most(id plan.ID) int {
	n := 1
	for _, k := range l.pipe[id] {
		n = max(n, l.many[k.seg])
	}
	return n
}

// laneRank puts the main first, then laterals by zone.
func (c *chart) laneRank(v plan.Pipe) int {
	if v.Zone == "" {
		return -1
	}
	return c.zones[v.Zone].at
}

func hasWire(s *trench.Segment) bool { return len(s.Ways)+len(s.Wires) > 0 }

// pipePath is where a pipe is drawn: from its node through the segments it lies in,
// each in its lane, to its other node.
func (c *chart) pipePath(id plan.ID, l lanes) []orb.Point {
	own := []orb.Point(pipework.LineOf(c.p, c.p.Pipes[id]).Points())
	in := l.pipe[id]
	if len(in) == 0 || len(own) < 2 {
		return own
	}
	segs := c.d.Digs.Segments
	type piece struct {
		from, to orb.Point
		at       float64
	}
	var pieces []piece
	for _, k := range in {
		s := &segs[k.seg]
		a, b := alongLine(own, s.From), alongLine(own, s.To)
		p := piece{plus(s.From, k.offset), plus(s.To, k.offset), (a + b) / 2}
		if a > b {
			p.from, p.to = p.to, p.from
		}
		pieces = append(pieces, p)
	}
	slices.SortStableFunc(pieces, func(a, b piece) int { return cmp.Compare(a.at, b.at) })
	out := []orb.Point{own[0]}
	add := func(q orb.Point) {
		if last := out[len(out)-1]; math.Hypot(q[0]-last[0], q[1]-last[1]) > 1e-6 {
			out = append(out, q)
		}
	}
	for _, p := range pieces {
		add(p.from)
		add(p.to)
	}
	add(own[len(own)-1])
	return out
}

func plus(a, b orb.Point) orb.Point { return orb.Point{a[0] + b[0], a[1] + b[1]} }

// alongLine is how far along a line the place nearest to another is.
func alongLine(line []orb.Point, at orb.Point) float64 {
	_, q, k := geom.DistanceToEdge(at, line)
	sum := 0.0
	for i := range k {
		sum += math.Hypot(line[i+1][0]-line[i][0], line[i+1][1]-line[i][1])
	}
	if k < 0 {
		return 0
	}
	return sum + math.Hypot(q[0]-line[k][0], q[1]-line[k][1])
}

// pipes draws trenches that are shared, all pipe and all wire. spread: lines of one
// trench side by side rather than where they are.
func (c *chart) pipes(spread bool) {
	l := c.lanesOf(spread)
	segs := c.d.Digs.Segments
	for i := range segs {
		s := &segs[i]
		if spread && l.many[i] > 1 && s.Dug && s.New {
			c.use(signTogether)
			c.put(layerTrench, c.together(s.From, s.To, l.many[i])...)
		}
		if hasWire(s) {
			indoors := s.Ground == trench.Indoors
			if indoors {
				c.use(signWireIndoors)
			} else {
				c.use(signWire)
			}
			c.put(layerWire, c.wire([]orb.Point{plus(s.From, l.wire[i]), plus(s.To, l.wire[i])}, indoors, c.wireStatus(s))...)
		}
	}
	for _, id := range plan.SortedIDs(c.p.Pipes) {
		v := c.p.Pipes[id]
		pts := c.pipePath(id, l)
		if len(pts) < 2 {
			continue
		}
		c.useStatus(v.Status)
		c.line(pts...)
		if v.Zone == "" {
			c.use(signMain)
			c.put(layerMain, c.pipe(pts, pipeMain, zoneMark{}, v.Status)...)
		} else {
			c.use(signLateral)
			c.put(layerLateral, c.pipe(pts, pipeLateral, c.zones[v.Zone], v.Status)...)
		}
		c.flow(id, v, pts)
	}
}

// wireStatus is that of what is drawn along a segment: there already only where all
// of it is.
func (c *chart) wireStatus(s *trench.Segment) plan.Status {
	if s.New || len(s.Wires) == 0 {
		return plan.New
	}
	for _, id := range s.Wires {
		if c.p.Wires[id].Status.IsNew() {
			return plan.New
		}
	}
	return plan.Existing
}

// arrowsFrom is the length on paper below which a pipe gets no arrow, points.
const arrowsFrom = 62.0

// flow draws which way the water goes on the longest straight piece of a pipe.
func (c *chart) flow(id plan.ID, v plan.Pipe, pts []orb.Point) {
	e, ok := c.d.Pipework.Pipes[id]
	if !ok || e.Loop || !v.Status.IsNew() {
		return
	}
	a, b, length := longest(pts)
	if length*c.perFoot < arrowsFrom*c.k {
		return
	}
	if e.Reversed {
		a, b = b, a
	}
	dir := orb.Point{(b[0] - a[0]) / length, (b[1] - a[1]) / length}
	const share = 0.78
	at := orb.Point{a[0] + (b[0]-a[0])*share, a[1] + (b[1]-a[1])*share}
	ink, layer := drawing.Black, layerMain
	if v.Zone != "" {
		ink, layer = c.zones[v.Zone].ink(), layerLateral
	}
	c.use(signFlow)
	c.put(layer, c.arrow(at, dir, ink)...)
	c.take(at, 3*c.k)
}

// longest is the longest straight piece of a line.
func longest(pts []orb.Point) (a, b orb.Point, length float64) {
	for i := 1; i < len(pts); i++ {
		if l := math.Hypot(pts[i][0]-pts[i-1][0], pts[i][1]-pts[i-1][1]); l > length {
			a, b, length = pts[i-1], pts[i], l
		}
	}
	return a, b, length
}
