package zones

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// stations gives every group its station: zones that keep most of their heads keep
// theirs, for terminals are wired and flags are numbered by them; the others get the numbers that are free in the order one walks to their valves
// from the controller, else from the connection.
func (j *job) stations(groups []*group, places []standing) []int {
	out := make([]int, len(groups))
	used := map[int]bool{0: true}
	mine := map[plan.ID]bool{}
	for _, g := range groups {
		mine[g.zone] = true
	}
	for _, id := range plan.SortedIDs(j.p.Zones) {
		if z := j.p.Zones[id]; !mine[id] && z.Status.Stands() && !j.emptied(id, mine) {
			used[z.Station] = true
		}
	}
	in := byZone(j.heads)
	keep := func(g *group) bool {
		z, there := j.p.Zones[g.zone]
		return there && (g.fixed || j.persists(g, in[g.zone]) || z.Locked || !z.Status.IsNew())
	}
	for n, g := range groups {
		if s := j.p.Zones[g.zone].Station; keep(g) && !used[s] {
			out[n], used[s] = s, true
		}
	}
	next := 1
	for _, n := range j.walk(groups, places) {
		if out[n] > 0 || groups[n].fixed {
			continue
		}
		for used[next] {
			next++
		}
		out[n], used[next] = next, true
	}
	return out
}

// walk is the order in which one walks to the valves, or to the heads of zones
// without a place for theirs.
func (j *job) walk(groups []*group, places []standing) []int {
	at := make([]orb.Point, len(groups))
	for n, g := range groups {
		if at[n] = places[n].at; !places[n].known {
			at[n] = middle(g.heads)
		}
	}
	start := orb.Point{}
	for _, s := range []*plan.Spot{j.p.Supply.BackflowAt, j.p.Supply.Connection, j.p.Controller.At} {
		if s != nil {
			start = orb.Point{float64(s.X), float64(s.Y)}
		}
	}
	return tour(start, at)
}

// inOrder puts the heads of every group in the order one walks them from the valve.
func inOrder(groups []*group, places []standing) {
	for n, g := range groups {
		slices.SortFunc(g.heads, func(a, b head) int {
			if a.id < b.id {
				return -1
			}
			return 1
		})
		at := make([]orb.Point, len(g.heads))
		for k, h := range g.heads {
			at[k] = h.at
		}
		start := places[n].at
		if !places[n].known {
			start = middle(g.heads)
		}
		walked := make([]head, len(g.heads))
		for k, i := range tour(start, at) {
			walked[k] = g.heads[i]
		}
		g.heads = walked
	}
}

// tags numbers heads station-head, in walking order: those without a tag, and those
// whose zone or station changed. What is on a flag already stays while it is true,
// and a locked head keeps its tag.
func (j *job) tags(groups []*group, stations []int) map[plan.ID]string {
	out := map[plan.ID]string{}
	used := map[string]bool{}
	stale := map[plan.ID]bool{}
	for n, g := range groups {
		for _, h := range g.heads {
			now := j.p.Heads[h.id]
			changed := h.zone != g.zone || j.p.Zones[h.zone].Station != stations[n]
			if stations[n] > 0 && !g.fixed && (now.Tag == "" || changed && !now.Locked) {
				stale[h.id] = true
			}
		}
	}
	for id, h := range j.p.Heads {
		if !stale[id] {
			used[h.Tag] = true
		}
	}
	for n, g := range groups {
		number := 1
		for _, h := range g.heads {
			if !stale[h.id] {
				continue
			}
			tag := fmt.Sprintf("%d-%d", stations[n], number)
			for used[tag] {
				number++
				tag = fmt.Sprintf("%d-%d", stations[n], number)
			}
			used[tag] = true
			if tag != j.p.Heads[h.id].Tag {
				out[h.id] = tag
			}
		}
	}
	return out
}
