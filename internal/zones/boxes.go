package zones

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// box is a manifold: valves that stand together.
type box struct {
	site   int   // among the places; -1: where valves stand already
	valves []int // groups
	cost   float64
}

// standing is where a group's valve stands.
type standing struct {
	at     orb.Point
	known  bool
	kept   bool // it was there
	bad    string
	shared int // the number of its box, from 1
}

// manifolds finds a place for every valve that has none, or whose place is bad,
// and tells which share a box. Valves to which pipe is drawn stay.
func (j *job) manifolds(groups []*group) []standing {
	g := newGrounds(j)
	out := make([]standing, len(groups))
	var boxes []*box
	drawn := j.drawnValves()
	for n, gr := range groups {
		z, there := j.p.Zones[gr.zone]
		at, piped := drawn[gr.zone]
		if there && z.ValveAt != nil {
			at = orb.Point{float64(z.ValveAt.X), float64(z.ValveAt.Y)}
		} else if !piped {
			continue
		}
		bad := g.rules.Bad(at)
		if bad == "" || piped || gr.fixed || z.Locked || !z.Status.IsNew() {
			out[n] = standing{at: at, known: true, kept: true, bad: bad}
		}
	}
	for n := range out {
		if out[n].kept {
			boxes = joinBox(boxes, out, n)
		}
	}
	fresh := g.merge(groups, out)
	for _, b := range fresh {
		g.setUp(b, out)
	}
	for k, b := range append(boxes, fresh...) {
		for _, n := range b.valves {
			out[n].shared = k + 1
		}
	}
	return out
}

// joinBox puts a valve that stands into the box beside it that has room, or its own.
func joinBox(boxes []*box, out []standing, n int) []*box {
	for _, b := range boxes {
		if len(b.valves) < mostShared && gap(out[b.valves[0]].at, out[n].at) <= sameBox {
			b.valves = append(b.valves, n)
			return boxes
		}
	}
	return append(boxes, &box{site: -1, valves: []int{n}})
}

// drawnValves are the places of valves that pipes lead to.
func (j *job) drawnValves() map[plan.ID]orb.Point {
	out := map[plan.ID]orb.Point{}
	for _, id := range plan.SortedIDs(j.p.Nodes) {
		if n := j.p.Nodes[id]; n.Kind == "valve" && n.Zone != "" && n.Status.Stands() {
			out[n.Zone] = orb.Point{float64(n.X), float64(n.Y)}
		}
	}
	return out
}

// merge finds boxes for the groups that have no place: each its best, then the two
// joined whose joining saves most, as long as any does.
func (g *grounds) merge(groups []*group, out []standing) []*box {
	if len(g.sites) == 0 {
		return nil
	}
	near := make([][]int, len(groups))
	laterals := map[[2]int]float64{}
	lateral := func(n, s int) float64 {
		k := [2]int{n, s}
		c, ok := laterals[k]
		if !ok {
			c = g.lateral(g.sites[s], groups[n].heads)
			laterals[k] = c
		}
		return c
	}
	best := func(valves []int) *box {
		b := &box{valves: valves, cost: math.Inf(1)}
		for _, n := range valves {
			for _, s := range near[n] {
				cost := g.box(g.sites[s])
				for _, m := range valves {
					cost += lateral(m, s)
				}
				if cost < b.cost {
					b.site, b.cost = s, cost
				}
			}
		}
		return b
	}
	var boxes []*box
	for n := range groups {
		if !out[n].known {
			near[n] = g.nearest(groups[n].heads)
			boxes = append(boxes, best([]int{n}))
		}
	}
	type pair struct{ a, b *box }
	tried := map[pair]*box{}
	for {
		var join pair
		var into *box
		saved := 1e-9
		for i, a := range boxes {
			for _, b := range boxes[i+1:] {
				if len(a.valves)+len(b.valves) > mostShared || gap(g.sites[a.site].At, g.sites[b.site].At) > boxReach {
					continue
				}
				both, ok := tried[pair{a, b}]
				if !ok {
					both = best(slices.Concat(a.valves, b.valves))
					tried[pair{a, b}] = both
				}
				if s := a.cost + b.cost - both.cost; s > saved {
					join, into, saved = pair{a, b}, both, s
				}
			}
		}
		if into == nil {
			return boxes
		}
		slices.Sort(into.valves)
		boxes = slices.DeleteFunc(boxes, func(b *box) bool { return b == join.a || b == join.b })
		boxes = append(boxes, into)
	}
}

// setUp places the valves of a box, a foot apart where there is room.
func (g *grounds) setUp(b *box, out []standing) {
	var taken []orb.Point
	for n := range out {
		if out[n].known {
			taken = append(taken, out[n].at)
		}
	}
	for _, n := range b.valves {
		place := g.rules.Beside(g.p, g.sites[b.site], taken)
		taken = append(taken, place)
		out[n].at, out[n].known = place, true
	}
}

// where says where a valve stands and why there.
func (j *job) where(g *grounds, groups []*group, places []standing, n int, name func(int) string) string {
	v := places[n]
	if !v.known {
		return "No place was found that is planted, off paving and roots, and not low. Set its valve by hand."
	}
	ground := "Beside the plantings"
	if a, ok := j.p.Areas[g.rules.Surface(v.at)]; ok {
		in := "In " + j.p.AreaName(g.rules.Surface(v.at))
		if a.Kind == plan.Planting && a.Cover() == plan.Turf {
			in = "At the edge of " + j.p.AreaName(g.rules.Surface(v.at))
			if v.kept {
				in = "In " + j.p.AreaName(g.rules.Surface(v.at))
			}
		}
		ground = in
	}
	text := ground
	heads := groups[n].heads
	switch seen := g.seen(v.at, heads); {
	case len(heads) == 0:
	case seen == len(heads):
		text += ", in sight of all its heads"
	default:
		text += fmt.Sprintf(", in sight of %d of its %d heads", seen, len(heads))
	}
	if g.supply != nil {
		text += fmt.Sprintf(", %s from the supply", j.p.About(units.Feet(gap(*g.supply, v.at))))
	}
	var others []string
	for m := range places {
		if m != n && places[m].known && places[m].shared == v.shared {
			others = append(others, name(m))
		}
	}
	if len(others) > 0 {
		text += fmt.Sprintf("; it shares a box with %s", plan.Series(others))
	}
	switch {
	case v.kept && v.bad != "":
		return text + fmt.Sprintf(". It stands %s; it was left, since it is locked, there already or has pipe drawn to it.", v.bad)
	case v.kept:
		return text + ". It stays where it is."
	}
	return text + "."
}
