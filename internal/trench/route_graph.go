package trench

import (
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// Who is joined to whom, in each of 8 directions. Chosen: the ends and corners seen
// from afar, and what lies near.
const (
	anyNear = 2
	keyNear = 2
)

// roads is the graph that ways are sought in: places, and straight ways between
// those that see one another over ground that may be dug.
type roads struct {
	at      []orb.Point
	ends    [][2]int32
	length  []float64
	dig     []float64 // the trench: ground by ground, turn, sleeves
	bores   []int32
	indoors []bool
	begin   []int32 // of the edges at a place, in edge
	edge    []int32
}

func (g *roads) other(e, n int32) int32 {
	if g.ends[e][0] == n {
		return g.ends[e][1]
	}
	return g.ends[e][0]
}

// at lists the edges at a place.
func (g *roads) edgesAt(n int32) []int32 { return g.edge[g.begin[n]:g.begin[n+1]] }

func (g *roads) add(a, b int32, length, dig float64, bores int, indoors bool) int32 {
	g.ends = append(g.ends, [2]int32{a, b})
	g.length, g.dig, g.bores = append(g.length, length), append(g.dig, dig), append(g.bores, int32(bores))
	g.indoors = append(g.indoors, indoors)
	return int32(len(g.ends) - 1)
}

// index lists the edges by place. It is called once all are added.
func (g *roads) index() {
	g.begin = make([]int32, len(g.at)+1)
	for _, e := range g.ends {
		g.begin[e[0]+1]++
		g.begin[e[1]+1]++
	}
	for n := range g.at {
		g.begin[n+1] += g.begin[n]
	}
	g.edge = make([]int32, 2*len(g.ends))
	next := slices.Clone(g.begin)
	for i, e := range g.ends {
		for _, n := range e {
			g.edge[next[n]] = int32(i)
			next[n]++
		}
	}
}

// build makes the graph of the places; more edges may be added before it is
// indexed.
func (s *spots) build() *roads {
	g := &roads{at: s.at}
	pairs := s.neighbours()
	for _, q := range s.pairs {
		pairs = append(pairs, pairKey(q[0], q[1]))
	}
	slices.Sort(pairs)
	pairs = slices.Compact(pairs)
	group := newUnion(len(s.at))
	for _, k := range pairs {
		a, b := int32(k>>32), int32(k&0xffffffff)
		if cost, bores, ok := s.f.dig(s.at[a], s.at[b]); ok && a != b {
			g.add(a, b, apart(s.at[a], s.at[b]), cost, bores, false)
			group.join(a, b)
		}
	}
	s.goOut(g, group)
	s.connect(g, group)
	return g
}

func pairKey(a, b int32) uint64 { return uint64(min(a, b))<<32 | uint64(uint32(max(a, b))) }

// neighbours are pairs of places that may be joined: in each of eight directions
// the nearest places, and the nearest ends and corners.
func (s *spots) neighbours() []uint64 {
	const sectors = 8
	type near struct {
		to   int32
		away float64
	}
	var out []uint64
	for i := range s.at {
		var places [sectors][anyNear]near
		var keys [sectors][keyNear]near
		for k := range sectors {
			for m := range places[k] {
				places[k][m] = near{-1, 1e18}
			}
			for m := range keys[k] {
				keys[k][m] = near{-1, 1e18}
			}
		}
		for j := range s.at {
			if j == i {
				continue
			}
			dx, dy := s.at[j][0]-s.at[i][0], s.at[j][1]-s.at[i][1]
			d := float64(dx*dx) + float64(dy*dy)
			k := sector(dx, dy)
			insert := func(list []near) {
				for m := range list {
					if d < list[m].away {
						copy(list[m+1:], list[m:])
						list[m] = near{int32(j), d}
						return
					}
				}
			}
			if d < places[k][anyNear-1].away {
				insert(places[k][:])
			}
			if s.key[j] && d < keys[k][keyNear-1].away {
				insert(keys[k][:])
			}
		}
		for k := range sectors {
			for _, q := range places[k] {
				if q.to >= 0 {
					out = append(out, pairKey(int32(i), q.to))
				}
			}
			for _, q := range keys[k] {
				if q.to >= 0 {
					out = append(out, pairKey(int32(i), q.to))
				}
			}
		}
	}
	return out
}

// sector is the eighth of the round that a direction lies in.
func sector(dx, dy float64) int {
	k := 0
	if dy < 0 || dy == 0 && dx < 0 {
		k, dx, dy = 4, -dx, -dy
	}
	if dx <= 0 {
		k, dx, dy = k+2, dy, -dx
	}
	if dy >= dx {
		k++
	}
	return k
}

// goOut joins ends that are inside a building to places just outside it: pipe and
// wire leave it through the wall.
func (s *spots) goOut(g *roads, group *union) {
	const doors = 16
	for i := range s.at {
		is, area := s.f.at(s.at[i])
		if is != Indoors || !s.f.inside(s.at[i], area) {
			continue
		}
		type door struct {
			to   int32
			away float64
		}
		var out []door
		for j := range s.at {
			if d := apart(s.at[i], s.at[j]); s.f.wayOut(s.at[i], s.at[j], area) {
				out = append(out, door{int32(j), d})
			}
		}
		slices.SortStableFunc(out, func(a, b door) int {
			switch {
			case a.away < b.away:
				return -1
			case a.away > b.away:
				return 1
			}
			return 0
		})
		for _, d := range out[:min(doors, len(out))] {
			g.add(int32(i), d.to, d.away, s.f.rates.bend, 0, true)
			group.join(int32(i), d.to)
		}
	}
}

// wayOut reports whether the straight way from a place inside a building to one
// outside leaves it once, and ends within a few feet of its wall.
func (f *field) wayOut(a, b orb.Point, area plan.ID) bool {
	const beyond = 3.0
	length := apart(a, b)
	if length == 0 || !f.clearOf(b) {
		return false
	}
	if is, _ := f.at(b); is == Paved {
		return false
	}
	cuts := f.cuts(a, b, length)
	left := false
	for i := 1; i < len(cuts); i++ {
		if cuts[i]-cuts[i-1] < 1e-6 {
			continue
		}
		is, whose := f.at(along(a, b, (cuts[i-1]+cuts[i])/2/length))
		switch {
		case is == Indoors && whose == area && !left:
		case forbidden(is) || is == Paved:
			return false
		case !left:
			left = true
			if length-cuts[i-1] > beyond {
				return false
			}
		}
	}
	return left
}

// connect joins pieces of the graph that see one another but were no near
// neighbours.
func (s *spots) connect(g *roads, group *union) {
	const tries = 80
	size := make([]int, len(s.at))
	for i := range s.at {
		size[group.find(int32(i))]++
	}
	main := int32(0)
	for i := range s.at {
		if r := group.find(int32(i)); size[r] > size[main] {
			main = r
		}
	}
	for i := range s.at {
		if group.find(int32(i)) == group.find(main) {
			continue
		}
		type near struct {
			to   int32
			away float64
		}
		var others []near
		for j := range s.at {
			if group.find(int32(j)) == group.find(main) {
				others = append(others, near{int32(j), apart(s.at[i], s.at[j])})
			}
		}
		slices.SortStableFunc(others, func(a, b near) int {
			switch {
			case a.away < b.away:
				return -1
			case a.away > b.away:
				return 1
			}
			return 0
		})
		for _, o := range others[:min(tries, len(others))] {
			if cost, bores, ok := s.f.dig(s.at[i], s.at[o.to]); ok && o.away > 0 {
				g.add(int32(i), o.to, o.away, cost, bores, false)
				group.join(int32(i), o.to)
				break
			}
		}
	}
}

// union is sets that are joined (union-find).
type union struct{ up []int32 }

func newUnion(n int) *union {
	u := &union{make([]int32, n)}
	for i := range u.up {
		u.up[i] = int32(i)
	}
	return u
}

func (u *union) find(a int32) int32 {
	for u.up[a] != a {
		u.up[a] = u.up[u.up[a]]
		a = u.up[a]
	}
	return a
}

// join joins two sets; false when they are one already.
func (u *union) join(a, b int32) bool {
	a, b = u.find(a), u.find(b)
	if a == b {
		return false
	}
	u.up[max(a, b)] = min(a, b)
	return true
}

// inside reports whether a place is within an area and not on its wall.
func (f *field) inside(q orb.Point, area plan.ID) bool {
	for i := range f.plots {
		if f.plots[i].id == area {
			return edgeDistance(f.plots[i].poly, q) > 0.05
		}
	}
	return false
}
