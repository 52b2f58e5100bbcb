package trench

import (
	"slices"

	"github.com/paulmach/orb"
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
