package coverage

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// obstacle is a thing that stops water.
type obstacle struct {
	ref     plan.Ref
	lines   []orb.LineString // of a building its closed rings, holes too
	inside  orb.Polygon      // of a building
	height  float64          // feet; a building stops water at any height
	always  bool             // a building
	trunkAt orb.Point        // of a tree
	trunk   float64          // radius of a trunk, feet; 0 for anything else
	bound   orb.Bound
}

// treeHeight is how high a trunk with its crown stands in the way, in feet:
// above any stream. Chosen.
const treeHeight = 30

// obstaclesOf lists what stands on the plan, by collection and id.
func obstaclesOf(p *plan.Plan) []obstacle {
	var out []obstacle
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		if a.Kind != plan.Building || !a.Status.Stands() {
			continue
		}
		o := obstacle{ref: plan.RefTo("areas", id), always: true}
		for _, outline := range append([]geom.Outline{a.Outline}, a.Holes...) {
			if ring := outline.Ring(); len(ring) >= 4 {
				o.inside = append(o.inside, ring)
				o.lines = append(o.lines, orb.LineString(ring))
			}
		}
		out = o.appendTo(out)
	}
	for _, id := range plan.SortedIDs(p.Barriers) {
		b := p.Barriers[id]
		if line := b.Line.Points(); b.Status.Stands() && len(line) >= 2 {
			o := obstacle{ref: plan.RefTo("barriers", id), lines: []orb.LineString{line}, height: float64(b.HeightFt)}
			out = o.appendTo(out)
		}
	}
	for _, id := range plan.SortedIDs(p.Trees) {
		t := p.Trees[id]
		if r := float64(t.TrunkIn) / 24; t.Status.Stands() && r > 0 {
			at := geom.Snap(orb.Point{float64(t.X), float64(t.Y)})
			o := obstacle{ref: plan.RefTo("trees", id), height: treeHeight, trunkAt: at, trunk: r}
			o.bound = at.Bound().Pad(r)
			out = append(out, o)
		}
	}
	return out
}

func (o obstacle) appendTo(out []obstacle) []obstacle {
	if len(o.lines) == 0 {
		return out
	}
	o.bound = o.lines[0].Bound()
	for _, l := range o.lines[1:] {
		o.bound = o.bound.Union(l.Bound())
	}
	return append(out, o)
}

func sameObstacles(a, b []obstacle) bool {
	return slices.EqualFunc(a, b, func(x, y obstacle) bool {
		return x.ref == y.ref && x.height == y.height && x.always == y.always &&
			x.trunk == y.trunk && x.trunkAt == y.trunkAt &&
			slices.EqualFunc(x.lines, y.lines, func(k, l orb.LineString) bool { return slices.Equal(k, l) })
	})
}

// wallsOf gathers the segments that may stop the water of a head: those within
// its throw, cut back to where its stream is lower than they are.
func wallsOf(s *setting, all []obstacle) []geom.Segment {
	var out []geom.Segment
	reach := s.throw
	if s.isStrip {
		out = s.rims()
		_, _, reach = s.quarters()
	}
	if !s.air.calm() {
		out = s.air.bent(s.at, out)
	}
	around := s.at.Bound().Pad(reach * s.air.reach())
	var near []int
	for i := range all {
		o := &all[i]
		if o.bound.Intersects(around) && !o.holds(s.at) {
			near = append(near, i)
		}
	}
	if len(near) == 0 {
		return out
	}
	shift := beside(s, all, near)
	for _, i := range near {
		out = all[i].appendWalls(out, i, s, shift, reach)
	}
	return out
}

// holds reports whether a head stands inside the thing itself, which then does
// not stop it: it is drawn where it cannot be, and the water on the roof tells.
func (o *obstacle) holds(at orb.Point) bool {
	if o.trunk > 0 {
		return math.Hypot(at[0]-o.trunkAt[0], at[1]-o.trunkAt[1]) <= 1.5*o.trunk
	}
	return o.always && geom.PolygonContains(o.inside, at) && o.distance(at) > onWall
}

func (o *obstacle) distance(at orb.Point) float64 {
	d := math.Inf(1)
	for _, l := range o.lines {
		e, _, _ := geom.DistanceToEdge(at, l)
		d = min(d, e)
	}
	return d
}

// onWall is how near a wall a head counts as standing on its line, in feet:
// sixteen steps of the lattice that places are snapped to.
const onWall = 1.0 / 256

// beside is how far the walls are moved away from a head that stands on the very
// line of one. Such a head stands on the side its arc looks to, and never inside
// the building; without that its water would be half on either side.
func beside(s *setting, all []obstacle, near []int) orb.Point {
	touching := false
	for _, i := range near {
		touching = touching || all[i].trunk == 0 && all[i].distance(s.at) <= onWall
	}
	if !touching {
		return orb.Point{}
	}
	start, sweep := s.start, s.sweep
	if s.isStrip {
		start, sweep, _ = s.quarters()
	}
	for _, turn := range []float64{0, 45, -45, 90, -90, 135, -135, 180} {
		sin, cos := math.Sincos((start + sweep/2 + turn) * math.Pi / 180)
		step := orb.Point{2 * onWall * cos, 2 * onWall * sin}
		if inTheOpen(orb.Point{s.at[0] + step[0], s.at[1] + step[1]}, all, near) {
			return orb.Point{-step[0], -step[1]}
		}
	}
	return orb.Point{}
}

func inTheOpen(at orb.Point, all []obstacle, near []int) bool {
	for _, i := range near {
		o := &all[i]
		if o.trunk > 0 {
			continue
		}
		if o.distance(at) < onWall/2 || o.always && geom.PolygonContains(o.inside, at) {
			return false
		}
	}
	return true
}

// appendWalls adds the segments of one thing that stop the head's water.
func (o *obstacle) appendWalls(out []geom.Segment, of int, s *setting, shift orb.Point, reach float64) []geom.Segment {
	if o.trunk > 0 {
		return gateless(reach, s.air).add(out, s.at, o.trunkSeenFrom(s.at, of))
	}
	gate, open := s.clears(o)
	if !open {
		gate = gateless(reach, s.air)
	}
	gate.air, gate.end = s.air, reach
	far := reach * s.air.reach()
	for _, line := range o.lines {
		for i := 0; i+1 < len(line); i++ {
			a, b := line[i], line[i+1]
			q := geom.NearestOnSegment(s.at, a, b)
			if math.Hypot(q[0]-s.at[0], q[1]-s.at[1]) >= far {
				continue
			}
			w := geom.Segment{
				A:  orb.Point{a[0] + shift[0], a[1] + shift[1]},
				B:  orb.Point{b[0] + shift[0], b[1] + shift[1]},
				Of: of,
			}
			out = gate.add(out, s.at, w)
		}
	}
	return out
}

// trunkSeenFrom is a trunk as wide as it looks: the lines that touch it leave
// the head at an angle of asin(radius/distance) to its middle.
func (o *obstacle) trunkSeenFrom(at orb.Point, of int) geom.Segment {
	dx, dy := o.trunkAt[0]-at[0], o.trunkAt[1]-at[1]
	k := math.Tan(math.Asin(min(o.trunk/math.Hypot(dx, dy), 0.99)))
	return geom.Segment{
		A:  orb.Point{o.trunkAt[0] + float64(k*dy), o.trunkAt[1] - float64(k*dx)},
		B:  orb.Point{o.trunkAt[0] - float64(k*dy), o.trunkAt[1] + float64(k*dx)},
		Of: of,
	}
}

// between is the distances thrown, in feet, between which a stream passes over a
// thing; water thrown beyond end has come down.
type between struct {
	near, far, end float64
	air            drift
}

// gateless is for what no stream passes over.
func gateless(end float64, air drift) between {
	return between{near: math.Inf(1), far: math.Inf(1), end: end, air: air}
}

// add adds the parts of a segment that stop the stream. In calm air what no
// stream passes over stays whole.
func (g between) add(out []geom.Segment, at orb.Point, w geom.Segment) []geom.Segment {
	if math.IsInf(g.near, 1) && g.air.calm() {
		return append(out, w)
	}
	return g.cut(out, at, w)
}

// clears reports where the stream passes over a thing. The stream leaves the
// nozzle at θ above level and comes down at the throw R; as a parabola it is
// y = x·tan θ·(1 - x/R) above the nozzle (a projectile without drag). It passes
// over what is not higher than that.
func (s *setting) clears(o *obstacle) (between, bool) {
	if o.always {
		return between{}, false
	}
	h := o.height - s.height
	if h <= 0 {
		return between{near: 0, far: math.Inf(1)}, true
	}
	rise := s.throw * math.Tan(s.trajectory*math.Pi/180) // R·tan θ: four times the top
	if !(4*h < rise) {
		return between{}, false
	}
	half := math.Sqrt(1-4*h/rise) / 2
	return between{near: s.throw * (0.5 - half), far: s.throw * (0.5 + half)}, true
}

// cut adds the parts of a segment that lie nearer than near or farther than far.
func (g between) cut(out []geom.Segment, at orb.Point, w geom.Segment) []geom.Segment {
	cuts := []float64{0, 1}
	for _, r := range []float64{g.near, g.far} {
		cuts = g.appendCrossings(cuts, at, w, r)
	}
	if !g.air.calm() {
		cuts = g.appendCrossings(cuts, at, w, g.end)
	}
	slices.Sort(cuts)
	on := func(t float64) orb.Point {
		switch t {
		case 0:
			return w.A
		case 1:
			return w.B
		}
		return orb.Point{w.A[0] + float64(t*(w.B[0]-w.A[0])), w.A[1] + float64(t*(w.B[1]-w.A[1]))}
	}
	for i := 0; i+1 < len(cuts); i++ {
		if cuts[i+1]-cuts[i] < 1e-12 {
			continue
		}
		m := on((cuts[i] + cuts[i+1]) / 2)
		if d := g.thrown(at, m); (d <= g.near || d >= g.far) && (d < g.end || g.air.calm()) {
			out = append(out, geom.Segment{A: on(cuts[i]), B: on(cuts[i+1]), Of: w.Of})
		}
	}
	return out
}

// thrown is the distance that water which comes past a place was thrown.
func (g between) thrown(at, to orb.Point) float64 {
	if g.air.calm() {
		return math.Hypot(to[0]-at[0], to[1]-at[1])
	}
	return g.air.thrown(to[0]-at[0], to[1]-at[1])
}

// appendCrossings adds where along the segment the circle of a throw crosses it,
// in (0, 1). The wind shifts that circle by its share of the radius.
func (g between) appendCrossings(cuts []float64, at orb.Point, w geom.Segment, r float64) []float64 {
	if math.IsInf(r, 0) {
		return cuts
	}
	at = orb.Point{at[0] + float64(r*g.air.dx), at[1] + float64(r*g.air.dy)}
	dx, dy := w.B[0]-w.A[0], w.B[1]-w.A[1]
	ax, ay := w.A[0]-at[0], w.A[1]-at[1]
	l2 := float64(dx*dx) + float64(dy*dy)
	if l2 == 0 {
		return cuts
	}
	mid := -(float64(ax*dx) + float64(ay*dy)) / l2
	nx, ny := ax+float64(mid*dx), ay+float64(mid*dy)
	room := float64(r*r) - float64(nx*nx) - float64(ny*ny)
	if room <= 0 {
		return cuts
	}
	half := math.Sqrt(room / l2)
	for _, t := range []float64{mid - half, mid + half} {
		if t > 0 && t < 1 {
			cuts = append(cuts, t)
		}
	}
	return cuts
}
