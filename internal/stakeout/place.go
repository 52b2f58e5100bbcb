package stakeout

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/units"
)

func sortPlanted(list []planted, from orb.Point) {
	slices.SortFunc(list, func(a, b planted) int {
		return cmp.Or(cmp.Compare(apart(a.at, from), apart(b.at, from)), cmp.Compare(a.i, b.i))
	})
}

// squareOff is how far off an edge a flag is set square by eye, in feet: at two feet five
// degrees are two inches. Chosen.
const squareOff = 2.0

// alongside is a way along an edge.
type alongside struct {
	edge     int
	from, to int // spots
	a, b     float64
	right    bool
}

// along finds the best edge to measure along: the surest to be found, then the nearest,
// then the shortest way.
func (w *work) along(at orb.Point) (alongside, bool) {
	best, found, cost := alongside{}, false, math.Inf(1)
	for i := range w.g.edges {
		e := &w.g.edges[i]
		if at[0] < min(e.a[0], e.b[0])-squareOff || at[0] > max(e.a[0], e.b[0])+squareOff ||
			at[1] < min(e.a[1], e.b[1])-squareOff || at[1] > max(e.a[1], e.b[1])+squareOff {
			continue
		}
		way, ok := w.alongEdge(i, at)
		if !ok {
			continue
		}
		c := way.b*10 + way.a*0.1
		if e.rank == ofLot {
			c += 1000
		}
		if c < cost {
			best, found, cost = way, true, c
		}
	}
	return best, found
}

// alongEdge measures along one edge, from the nearest fixed point on it from which the
// tape lies free.
func (w *work) alongEdge(i int, at orb.Point) (alongside, bool) {
	e := &w.g.edges[i]
	l := apart(e.a, e.b)
	u := orb.Point{(e.b[0] - e.a[0]) / l, (e.b[1] - e.a[1]) / l}
	t := (at[0]-e.a[0])*u[0] + (at[1]-e.a[1])*u[1]
	side := cross(e.a, e.b, at) / l // above 0: left of a→b
	if t < 0 || t > l || math.Abs(side) > squareOff || math.Abs(side) < 1./24 {
		return alongside{}, false // on the edge itself neither hand would be right
	}
	foot := orb.Point{e.a[0] + u[0]*t, e.a[1] + u[1]*t}
	aside := math.Copysign(min(math.Abs(side)/2, 0.1), side)
	out := orb.Point{-u[1] * aside, u[0] * aside} // towards the flag, clear of the wall
	shift := func(q orb.Point) orb.Point { return orb.Point{q[0] + out[0], q[1] + out[1]} }
	if !w.g.walls.sees(shift(foot), at) {
		return alongside{}, false
	}
	best, found := alongside{edge: i, a: math.Inf(1), b: math.Abs(side)}, false
	for _, s := range e.on {
		q := w.g.spots[s].at
		d := apart(q, foot)
		if d >= best.a || d > float64(Reach) || !w.g.walls.sees(shift(q), shift(foot)) {
			continue
		}
		ahead := (foot[0]-q[0])*u[0]+(foot[1]-q[1])*u[1] >= 0
		to := e.on[len(e.on)-1]
		if !ahead || to == s {
			to, ahead = e.on[0], false
		}
		if to == s || !ahead && (foot[0]-q[0])*u[0]+(foot[1]-q[1])*u[1] > 1./48 {
			continue
		}
		best.from, best.to, best.a, best.right, found = s, to, d, ahead == (side < 0), true
	}
	return best, found
}

func (w *work) byEdge(f *Flag, k alongside) {
	f.How, f.Edge = AlongEdge, w.g.edges[k.edge].name
	f.From, f.To = w.point(k.from), w.point(k.to)
	f.A, f.B, f.Right, f.Angle = w.printed(k.a), w.printed(k.b), k.right, 90
	w.last = [2]int{-1, -1}
}

// The least and most angle at which two tapes may cross, in degrees, and what a worse
// crossing than a square one costs in feet of tape.
const (
	leastCross = 40.0
	mostCross  = 140.0
	crossCost  = 60.0
	moveCost   = 10.0 // of hooking a tape to another point
)

// tapes finds the two points in sight that place a flag best: short tapes that cross
// nearly square, surest to be found, and where the tapes are hooked already.
func (w *work) tapes(seen []sight) ([2]sight, bool) {
	cost := make([]float64, len(seen))
	for i, s := range seen {
		cost[i] = s.d + harder[w.g.spots[s.spot].rank]
		if s.spot != w.last[0] && s.spot != w.last[1] {
			cost[i] += moveCost
		}
	}
	best, found, least := [2]sight{}, false, math.Inf(1)
	sinLeast := math.Sin(leastCross * math.Pi / 180)
	for i := range seen {
		for k := i + 1; k < len(seen); k++ {
			sin := math.Abs(seen[i].u[0]*seen[k].u[1] - seen[i].u[1]*seen[k].u[0])
			if sin < sinLeast {
				continue
			}
			if c := cost[i] + cost[k] + crossCost*(1/sin-1); c < least {
				best, found, least = [2]sight{seen[i], seen[k]}, true, c
			}
		}
	}
	return best, found
}

func (w *work) byTapes(f *Flag, pair [2]sight) {
	if w.pointLess(pair[1].spot, pair[0].spot) {
		pair[0], pair[1] = pair[1], pair[0]
	}
	f.How = TwoTapes
	f.From, f.To = w.point(pair[0].spot), w.point(pair[1].spot)
	f.A, f.B = w.printed(pair[0].d), w.printed(pair[1].d)
	f.Right = cross(w.s.Points[f.From].At, w.s.Points[f.To].At, f.At) < 0
	dot := pair[0].u[0]*pair[1].u[0] + pair[0].u[1]*pair[1].u[1]
	f.Angle = units.Degrees(math.Acos(min(max(dot, -1), 1)) * 180 / math.Pi)
	w.last = [2]int{pair[0].spot, pair[1].spot}
}

// pointLess reports whether a spot has its letter before another: A and B rather than B
// and A.
func (w *work) pointLess(a, b int) bool {
	i, ok := w.lettered[a]
	k, also := w.lettered[b]
	return ok && (!also || i < k)
}

const (
	tells      = 0.5  // feet that the check must change when a reading is a foot off
	tellsWorth = 20.0 // feet of tape that a check which tells a whole foot is worth more than one that tells none
	freshCost  = 15.0 // of a point that has no letter yet
	flagCost   = 12.0 // of an earlier flag instead of a fixed point
	handCost   = 25.0 // of a check that does not tell the other hand
	checkFlags = 8    // earlier flags looked at
	flagWithin = 40.0 // feet
)

// check finds what a third distance is taken from: it must change by half a foot at
// least when either reading is a foot off.
func (w *work) check(f *Flag, seen []sight) {
	one, two := w.slips(f)
	if w.checkBy(f, seen, one, two) || f.How == TwoTapes {
		return
	}
	// Off an edge is at most two feet, which the eye checks: the way along is what a
	// tape is read wrong on.
	f.Half = w.checkBy(f, seen, one, one)
}

// checkBy takes the check that tells two slips best, and reports whether there is one.
func (w *work) checkBy(f *Flag, seen []sight, one, two orb.Point) bool {
	best, point, flag := math.Inf(1), -1, -1
	other := mirrored(f.At, w.s.Points[f.From].At, w.s.Points[f.To].At)
	weigh := func(from, u orb.Point, d, more float64) bool {
		tell := min(math.Abs(u[0]*one[0]+u[1]*one[1]), math.Abs(u[0]*two[0]+u[1]*two[1]))
		if tell < tells {
			return false
		}
		c := d + more - tellsWorth*min(tell, 1)
		if math.Abs(apart(from, other)-d) <= 2*float64(Tolerance) {
			c += handCost
		}
		if c >= best {
			return false
		}
		best, f.C = c, w.printed(d)
		return true
	}
	for _, s := range seen {
		i, has := w.lettered[s.spot]
		if has && (i == f.From || i == f.To) {
			continue
		}
		more := harder[w.g.spots[s.spot].rank]
		if !has {
			more += freshCost
		}
		if weigh(w.g.spots[s.spot].at, s.u, s.d, more) {
			point = s.spot
		}
	}
	for _, q := range nearest(w.set, f.At, checkFlags, flagWithin) {
		d := apart(q.at, f.At)
		if d < leastTape || !w.g.walls.sees(q.at, f.At) {
			continue
		}
		if weigh(q.at, orb.Point{(f.At[0] - q.at[0]) / d, (f.At[1] - q.at[1]) / d}, d, flagCost) {
			flag = q.i
		}
	}
	switch {
	case flag >= 0:
		f.Near = flag
	case point >= 0:
		f.Check = w.point(point)
	}
	return f.Checked()
}

// mirrored is a place on the other side of a line.
func mirrored(at, a, b orb.Point) orb.Point {
	u := unit(a, b)
	off := 2 * (u[0]*(at[1]-a[1]) - u[1]*(at[0]-a[0]))
	return orb.Point{at[0] + u[1]*off, at[1] - u[0]*off}
}

// slips are where a flag goes, in feet, when the first or the second reading is a foot
// too long.
func (w *work) slips(f *Flag) (one, two orb.Point) {
	a, b := w.s.Points[f.From].At, w.s.Points[f.To].At
	if f.How == AlongEdge {
		l := apart(a, b)
		one = orb.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
		return one, orb.Point{-one[1], one[0]}
	}
	ua, ub := unit(a, f.At), unit(b, f.At)
	turn := ua[0]*ub[1] - ua[1]*ub[0]
	return orb.Point{ub[1] / turn, -ub[0] / turn}, orb.Point{-ua[1] / turn, ua[0] / turn}
}

func unit(a, b orb.Point) orb.Point {
	d := apart(a, b)
	return orb.Point{(b[0] - a[0]) / d, (b[1] - a[1]) / d}
}
