package pipework

import (
	"cmp"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// leg is one pipe as a joint sees it, or the thread of a device.
type leg struct {
	pipe     int32 // -1: a device
	lies     heading
	size     units.Inches // nominal; 0: not sized
	inside   units.Inches // 0: not sized
	class    plan.ID
	material catalog.PipeMaterial // "": not known
	isNew    bool
}

// meeting is the pipes that meet at one joint: the first two are the run, and which
// of them the water comes by is marked.
type meeting struct {
	legs  []leg // run, run, branches as the water meets them
	in    int   // the one the water comes by: 0, or that of a branch; -1 at a root
	cross bool  // the branches lie opposite to each other across the run
}

// legs are the pipes at a node, by id.
func (g *graph) legs(n int32, of func(e int32) bool) []leg {
	var out []leg
	for _, e := range g.at[n] {
		if of != nil && !of(e) {
			continue
		}
		l := g.leg[e]
		l.lies = g.shape[e].from
		if g.ends[e][0] != n {
			l.lies = g.shape[e].to
		}
		out = append(out, l)
	}
	return out
}

// legOf reads what a joint must know of a pipe.
func legOf(p *plan.Plan, id plan.ID, e int32) leg {
	drawn := p.Pipes[id]
	class, size, _ := p.Row(drawn)
	return leg{
		pipe: e, size: drawn.NominalIn, class: drawn.Class, isNew: drawn.Status.IsNew(),
		inside: size.Inside, material: class.Material,
	}
}

// meet puts the legs of a joint in their places. The two that lie straightest are
// its run; of more than four, which take a row of tees, one of the run is the pipe
// the water comes by.
func meet(legs []leg, in int32) meeting {
	m := meeting{legs: slices.Clone(legs), in: -1}
	if i := slices.IndexFunc(m.legs, func(l leg) bool { return l.pipe == in && in >= 0 }); i >= 0 {
		m.legs[0], m.legs[i] = m.legs[i], m.legs[0]
		m.in = 0
	}
	if len(m.legs) < 3 {
		return m
	}
	a, b := straightest(m.legs, m.in == 0 && len(m.legs) > 4)
	first, second := m.legs[a], m.legs[b]
	rest := make([]leg, 0, len(m.legs)-2)
	for i, l := range m.legs {
		if i != a && i != b {
			rest = append(rest, l)
		}
	}
	slices.SortStableFunc(rest, func(x, y leg) int {
		return cmp.Or(cmp.Compare(offset(first.lies, x.lies), offset(first.lies, y.lies)), cmp.Compare(y.size, x.size))
	})
	m.legs = append([]leg{first, second}, rest...)
	m.in = slices.IndexFunc(m.legs, func(l leg) bool { return l.pipe == in && in >= 0 })
	m.cross = len(m.legs) == 4 && turn(first.lies, second.lies) < 45*degree && turn(rest[0].lies, rest[1].lies) < 45*degree && allKnown(m.legs)
	return m
}

func allKnown(legs []leg) bool {
	return !slices.ContainsFunc(legs, func(l leg) bool { return !l.lies.known })
}

// offset is the angle from one direction to another; that of an unknown one is past
// all others.
func offset(a, b heading) angle {
	if !a.known || !b.known {
		return fullCircle
	}
	return between(a, b)
}

// straightest are the two legs with the least turn between them, found by looking
// for each only at those that lie nearest to straight on. Of equals the first counts.
func straightest(legs []leg, withFirst bool) (int, int) {
	var known []int
	for i, l := range legs {
		if l.lies.known {
			known = append(known, i)
		}
	}
	if len(known) < 2 {
		return 0, 1
	}
	byDirection := slices.Clone(known)
	slices.SortStableFunc(byDirection, func(a, b int) int {
		return cmp.Compare(legs[a].lies.at, legs[b].lies.at)
	})
	best, bestA, bestB := fullCircle, known[0], known[1]
	for _, i := range known {
		if withFirst && i != 0 {
			break
		}
		opposite := legs[i].lies.back().at
		k, _ := slices.BinarySearchFunc(byDirection, opposite, func(j int, want angle) int {
			return cmp.Compare(legs[j].lies.at, want)
		})
		for _, step := range []int{k - 2, k - 1, k, k + 1} {
			j := byDirection[(step+2*len(byDirection))%len(byDirection)]
			if j == i {
				continue
			}
			if t := turn(legs[i].lies, legs[j].lies); t < best {
				best, bestA, bestB = t, i, j
			}
		}
	}
	return min(bestA, bestB), max(bestA, bestB)
}
