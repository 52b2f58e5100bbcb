package trench

import (
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

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
			wall := along(a, b, cuts[i-1]/length)
			for _, t := range f.trunks {
				if apart(t.at, geom.NearestOnSegment(t.at, wall, b)) < t.clear {
					return false
				}
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
