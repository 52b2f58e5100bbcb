package trench

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// Pipes of two nets that share a trench are drawn side by side in it, so that
// nothing drawn lies on another and is taken for joined to it. Chosen, in feet, and
// less where trenches are narrow.
const (
	lane      = 0.12
	beforeOwn = 0.3 // from a valve to the tee that feeds it, where the main goes on
)

// lanes are the places of the nets at the places of the graph.
type lanes struct {
	j   *job
	pos []map[int32]orb.Point // by net
	at  []map[int32][]int32   // edges of the trees of the nets, by place
}

func (j *job) lanes() *lanes {
	l := &lanes{j: j}
	for _, n := range j.nets {
		at := map[int32][]int32{}
		for _, e := range n.tree {
			for _, v := range j.g.ends[e] {
				at[v] = append(at[v], e)
			}
		}
		l.at = append(l.at, at)
		l.pos = append(l.pos, map[int32]orb.Point{})
	}
	for v := range j.g.at {
		l.place(int32(v))
	}
	for range 4 { // what is moved may bring lines over joints that were clear
		if !l.part() {
			break
		}
	}
	return l
}

// offLine is the least that a joint is drawn off lines it is not joined to, in feet.
// Chosen: more than corners that are none are left out by.
const offLine = 0.03

// part moves the joints off lines of others that pass just there; false when none was
// moved.
func (l *lanes) part() (moved bool) {
	for k, n := range l.j.nets {
		if n.role == wireNet {
			continue
		}
		for v := range l.j.g.at {
			at := int32(v)
			if len(l.at[k][at]) < 3 && !(n.role == mainNet && len(l.at[k][at]) == 2 && l.isEnd(at)) || l.exact(k, at) {
				continue
			}
			now := l.free(k, at, l.pos[k][at])
			if now >= offLine {
				continue
			}
			best := l.pos[k][at]
			for t := range 48 {
				sin, cos := math.Sincos(2 * math.Pi * (float64(t%24) + 0.37) / 24)
				r := lane * float64(1+t/24)
				q := toHundredth(orb.Point{best[0] + float64(r*cos), best[1] + float64(r*sin)})
				if away := l.free(k, at, q); away > now+1e-9 && l.fits(k, at, q) {
					l.pos[k][at], now, moved = q, away, true
				}
				if now >= offLine {
					break
				}
			}
		}
	}
	return moved
}

// free is how far a spot for a joint is off the lines that do not end at it, up to
// offLine.
func (l *lanes) free(k int, v int32, q orb.Point) float64 {
	least := offLine
	look := func(a, b orb.Point) {
		if min(a[0], b[0])-least < q[0] && q[0] < max(a[0], b[0])+least && min(a[1], b[1])-least < q[1] && q[1] < max(a[1], b[1])+least {
			least = min(least, apart(q, geom.NearestOnSegment(q, a, b)))
		}
	}
	for m, n := range l.j.nets {
		if n.role == wireNet {
			continue
		}
		for _, e := range n.tree {
			if ends := l.j.g.ends[e]; m != k || ends[0] != v && ends[1] != v {
				look(l.pos[m][ends[0]], l.pos[m][ends[1]])
			}
		}
	}
	for m, n := range l.j.nets { // from the tee of a valve to the valve
		if n.role != mainNet {
			continue
		}
		for _, e := range n.ends {
			if tee, there := l.pos[m][e.n]; there && (m != k || e.n != v) {
				look(tee, l.j.g.at[e.n])
			}
		}
	}
	for _, r := range l.j.laid {
		for i := 1; i < len(r.nodes) && r.net != k; i++ {
			look(l.j.g.at[r.nodes[i-1]], l.j.g.at[r.nodes[i]])
		}
	}
	return least
}

// exact reports whether a net has to be right at a place: it has an end there, or
// pipe that stays.
func (l *lanes) exact(k int, v int32) bool {
	n := l.j.nets[k]
	for _, r := range l.j.laid {
		if r.net == k && slices.Contains(r.nodes, v) {
			return true
		}
	}
	for i, e := range n.ends {
		if e.n == v {
			return i == 0 || n.role == lateral || len(l.at[k][v]) < 2
		}
	}
	return false
}

// place gives every net at a place its own spot.
func (l *lanes) place(v int32) {
	at := l.j.g.at[v]
	var taken []orb.Point
	var wait []int
	for k, n := range l.j.nets {
		if len(l.at[k][v]) == 0 {
			continue
		}
		if n.role == wireNet || l.exact(k, v) {
			l.pos[k][v] = at
			if n.role != wireNet {
				taken = append(taken, at)
			}
			continue
		}
		wait = append(wait, k)
	}
	occupied := len(taken) > 0 || l.isEnd(v)
	for _, k := range wait {
		if !occupied {
			l.pos[k][v] = at
			occupied, taken = true, append(taken, at)
			continue
		}
		if l.isEnd(v) && len(taken) == 0 {
			taken = append(taken, at)
		}
		l.pos[k][v] = l.aside(k, v, taken)
		taken = append(taken, l.pos[k][v])
	}
}

// isEnd reports whether any net ends at a place, or pipe that stays goes through it.
func (l *lanes) isEnd(v int32) bool {
	for _, r := range l.j.laid {
		if slices.Contains(r.nodes, v) {
			return true
		}
	}
	for _, n := range l.j.nets {
		for _, e := range n.ends {
			if e.n == v {
				return true
			}
		}
	}
	return false
}

// aside is a spot beside a place, off the lines of all that go through there and off
// the spots that are taken.
func (l *lanes) aside(k int, v int32, taken []orb.Point) orb.Point {
	const turns = 24
	at := l.j.g.at[v]
	size := min(lane, max(l.j.f.rates.width, 0.06)*0.36)
	for _, e := range l.j.nets[k].ends {
		if e.n == v {
			size = min(beforeOwn, max(l.j.f.rates.width, 0.06)*0.9)
		}
	}
	var ways []orb.Point
	for m := range l.j.nets {
		for _, e := range l.at[m][v] {
			to := l.j.g.at[l.j.g.other(e, v)]
			if d := apart(at, to); d > 0 {
				ways = append(ways, orb.Point{(to[0] - at[0]) / d, (to[1] - at[1]) / d})
			}
		}
	}
	best, score := at, math.Inf(-1)
	for t := range 2 * turns {
		r := size
		if t >= turns {
			r = size / 2
		}
		sin, cos := math.Sincos(2 * math.Pi * (float64(t%turns) + 0.37) / turns)
		q := toHundredth(orb.Point{at[0] + float64(r*cos), at[1] + float64(r*sin)})
		least := math.Inf(1)
		for _, w := range ways {
			least = min(least, math.Abs(float64((q[0]-at[0])*w[1])-float64((q[1]-at[1])*w[0])))
		}
		for _, o := range taken {
			least = min(least, apart(o, q))
		}
		if least > score+1e-9 && l.fits(k, v, q) {
			best, score = q, least
		}
	}
	return best
}

// fits reports whether the edges of a net may be dug with one of their ends moved.
func (l *lanes) fits(k int, v int32, q orb.Point) bool {
	for _, e := range l.at[k][v] {
		o := l.j.g.other(e, v)
		to, ok := l.pos[k][o]
		if !ok {
			to = l.j.g.at[o]
		}
		if l.j.g.indoors[e] {
			continue
		}
		way, ok := l.j.f.walk(q, to)
		if !ok || len(l.j.f.bores(way)) > int(l.j.g.bores[e]) {
			return false
		}
	}
	return true
}
