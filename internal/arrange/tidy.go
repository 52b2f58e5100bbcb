package arrange

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// tidyCosts is what a layout may cost more for being easier to stake and to set:
// less than the evenness one can see. Chosen.
const tidyCosts = 0.006

// tidier sets a found layout more regularly, change by change, as long as all
// together costs hardly anything.
type tidier struct {
	b    *bench
	c    candidate
	most float64
}

// tidied is a candidate with fewer throws and arcs, and with heads in equal
// intervals and on common rows, where that costs hardly anything.
func (b *bench) tidied(c candidate) candidate {
	b.read(&c)
	t := &tidier{b: b, c: c, most: c.cost + tidyCosts}
	t.throws()
	t.sweeps()
	t.intervals()
	t.rows()
	return t.c
}

// take tries some heads in place of those there are, and their images.
func (t *tidier) take(change map[int]stand) bool {
	next := t.c
	next.heads = slices.Clone(t.c.heads)
	for i := range next.heads {
		h, ok := change[i]
		if !ok {
			continue
		}
		next.heads[i] = h
		if t.c.sym == nil {
			continue
		}
		if k := t.c.mates[i]; k != i {
			g, can := t.b.s.mate(t.c.sym, &h)
			if !can {
				return false
			}
			next.heads[k] = g
		} else if g, can := t.b.s.mate(t.c.sym, &h); !can || distance(g.at, h.at) > symmetricWithin {
			return false // off the line
		}
	}
	t.b.read(&next)
	if next.cost > t.most || t.b.s.keeps(&t.c) && !t.b.s.keeps(&next) {
		return false
	}
	t.c = next
	return true
}

// throws tries to do without a throw: all heads that have it get the next one used.
func (t *tidier) throws() {
	for range t.b.s.kit.throws {
		var used []int
		for i := range t.c.heads {
			if h := &t.c.heads[i]; !h.stays && !slices.Contains(used, h.throw) {
				used = append(used, h.throw)
			}
		}
		slices.Sort(used)
		merged := false
		for i := 1; i < len(used) && !merged; i++ {
			merged = t.merge(used[i-1], used[i]) || t.merge(used[i], used[i-1])
		}
		if !merged {
			return
		}
	}
}

// merge sets every head of one throw to another.
func (t *tidier) merge(from, to int) bool {
	change := map[int]stand{}
	for i, h := range t.c.heads {
		if h.stays || h.throw != from {
			continue
		}
		h.throw = to
		if !t.b.s.pick(&h) {
			return false
		}
		change[i] = h
	}
	return t.take(change)
}

// sweeps tries to set each head to an arc that another of its throw has, at most
// two steps off, or to half and quarter circles.
func (t *tidier) sweeps() {
	k := t.b.s.kit
	for i := range t.c.heads {
		h := t.c.heads[i]
		if h.stays || t.c.sym != nil && t.c.mates[i] < i {
			continue
		}
		for j, w := range k.sweeps {
			off := math.Abs(float64(w-k.sweeps[h.sweep])) / t.b.s.step
			if j == h.sweep || off > 2.01 || w >= 360 || k.set(j, h.throw) == nil || t.count(j, h.throw) < t.count(h.sweep, h.throw) {
				continue
			}
			g := h
			g.sweep = j
			g.turn -= int(math.Round(float64(w-k.sweeps[h.sweep]) / t.b.s.step / 2))
			if t.b.s.pick(&g) && t.take(map[int]stand{i: g}) {
				break
			}
		}
	}
}

// count is how many heads have a setting.
func (t *tidier) count(sweep, throw int) int {
	n := 0
	for i := range t.c.heads {
		if h := &t.c.heads[i]; !h.stays && h.sweep == sweep && h.throw == throw {
			n++
		}
	}
	return n
}

// inLine is how far a head is moved to be in line with others, feet.
const inLine = 1.5

// intervals sets edge heads midway between their neighbours along the edge.
func (t *tidier) intervals() {
	for ring := range t.b.s.paths {
		pa := &t.b.s.paths[ring]
		var on []int
		for i := range t.c.heads {
			if !t.c.heads[i].stays && t.c.heads[i].ring == ring {
				on = append(on, i)
			}
		}
		if len(on) < 3 {
			continue
		}
		slices.SortFunc(on, func(a, b int) int {
			if t.c.heads[a].along < t.c.heads[b].along {
				return -1
			}
			return 1
		})
		for k, i := range on {
			h := t.c.heads[i]
			if _, off := pa.corner(h.along); off == 0 {
				continue
			}
			before, after := t.c.heads[on[(k+len(on)-1)%len(on)]].along, t.c.heads[on[(k+1)%len(on)]].along
			mid := pa.wrap(before + pa.wrap(after-before)/2)
			if d := math.Abs(pa.between(h.along, mid)); d < 1e-6 || d > inLine {
				continue
			}
			e := t.b.s.onEdge(ring, mid)
			if _, off := pa.corner(mid); off < snapEdge {
				continue
			}
			h.at, h.along, h.base = e.at, e.along, e.base
			if t.b.s.pick(&h) {
				t.take(map[int]stand{i: h})
			}
		}
	}
}

// rows sets inside heads in line with other heads, across and along the ground's
// main direction.
func (t *tidier) rows() {
	sin, cos := math.Sincos(t.b.s.main * math.Pi / 180)
	turn := func(p orb.Point) orb.Point {
		return orb.Point{float64(p[0]*cos) + float64(p[1]*sin), float64(p[1]*cos) - float64(p[0]*sin)}
	}
	for i := range t.c.heads {
		for axis := range 2 {
			h := t.c.heads[i]
			if h.stays || h.ring != inside {
				break
			}
			here := turn(h.at)
			best, off := 0.0, inLine
			for j := range t.c.heads {
				if j == i {
					continue
				}
				v := turn(t.c.heads[j].at)[axis]
				if d := math.Abs(v - here[axis]); d < off {
					best, off = v, d
				}
			}
			if off == inLine || off < 1e-3 {
				continue
			}
			here[axis] = best
			p := orb.Point{float64(here[0]*cos) - float64(here[1]*sin), float64(here[0]*sin) + float64(here[1]*cos)}
			if _, _, d := t.b.s.nearestEdge(p); d < snapEdge || !geom.Contains(t.b.s.ground.stand, p) {
				continue
			}
			h.at = geom.Snap(p)
			t.take(map[int]stand{i: h})
		}
	}
}
