package zones

import (
	"maps"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// emptied reports whether a zone of the plan loses all its heads by a grouping into
// zones of the ids in mine. One that had none before is left: it may be of drip.
func (j *job) emptied(id plan.ID, mine map[plan.ID]bool) bool {
	if z := j.p.Zones[id]; mine[id] || z.Locked || !z.Status.IsNew() {
		return false
	}
	had := false
	for _, h := range j.p.Heads {
		had = had || h.Zone == id && h.Status.Stands()
	}
	for _, lost := range j.lost { // it still has a head whose flow is not known
		if j.p.Heads[lost].Zone == id {
			return false
		}
	}
	return had
}

// changed is the plan with a grouping made.
func (j *job) changed(groups []*group, names map[plan.ID]string, places []standing, stations []int) *plan.Plan {
	next := *j.p
	next.Heads, next.Zones = maps.Clone(j.p.Heads), maps.Clone(j.p.Zones)
	next.Nodes, next.Pipes = maps.Clone(j.p.Nodes), maps.Clone(j.p.Pipes)
	if next.Zones == nil {
		next.Zones = map[plan.ID]plan.Zone{}
	}
	mine := map[plan.ID]bool{}
	for n, g := range groups {
		mine[g.zone] = true
		if g.fixed {
			continue
		}
		z, there := j.p.Zones[g.zone]
		if !there {
			z = plan.Zone{Valve: j.valve, Status: plan.New}
		}
		if !z.Locked {
			z.Name, z.Station = names[g.zone], stations[n]
			z.Pressure = j.pressureOf(g, z.Pressure)
			if places[n].known && !places[n].kept || places[n].known && z.ValveAt == nil {
				z.ValveAt = &plan.Spot{X: units.Feet(places[n].at[0]), Y: units.Feet(places[n].at[1])}
			}
			if _, d := j.p.ZoneValve(g.zone); there && z.Status.IsNew() && d.MostGPM > 0 && g.flow() > d.MostGPM+roundGPM {
				z.Valve = j.valve
			}
		}
		next.Zones[g.zone] = z
		for _, h := range g.heads {
			if moved := next.Heads[h.id]; moved.Zone != g.zone {
				moved.Zone = g.zone
				next.Heads[h.id] = moved
			}
		}
	}
	for id, tag := range j.tags(groups, stations) {
		h := next.Heads[id]
		h.Tag = tag
		next.Heads[id] = h
	}
	for _, id := range plan.SortedIDs(j.p.Zones) {
		if !mine[id] && j.emptied(id, mine) {
			j.remove(&next, id)
		}
	}
	return &next
}

// pressureOf is the planned pressure of a zone: as it is, while its heads work at
// it as they do now, else what they have in common.
func (j *job) pressureOf(g *group, now units.PSI) units.PSI {
	for _, h := range g.heads {
		was, _ := workAt(j.p, h.id, j.p.Zones[h.zone].Pressure)
		if is, ok := workAt(j.p, h.id, now); !ok || !sameWork(is, was) {
			return g.heads[0].key.planned
		}
	}
	return now
}

// remove takes a zone away that has no heads left, with its laterals and its valve:
// they were drawn for it. Pipe that may not be changed goes to the zone that took
// most of its heads.
func (j *job) remove(next *plan.Plan, zone plan.ID) {
	heir := j.heir(next, zone)
	delete(next.Zones, zone)
	for _, id := range plan.SortedIDs(next.Heads) {
		if h := next.Heads[id]; h.Zone == zone {
			h.Zone = ""
			next.Heads[id] = h
		}
	}
	loose := map[plan.ID]bool{}
	for _, id := range plan.SortedIDs(next.Pipes) {
		v := next.Pipes[id]
		switch {
		case v.Zone != zone:
		case v.Locked || !v.Status.IsNew():
			v.Zone = heir
			next.Pipes[id] = v
		default:
			delete(next.Pipes, id)
			loose[v.From], loose[v.To] = true, true
		}
	}
	joined := map[plan.ID]bool{}
	for _, v := range next.Pipes {
		joined[v.From], joined[v.To] = true, true
	}
	for _, id := range plan.SortedIDs(next.Nodes) {
		n := next.Nodes[id]
		if n.Zone != zone && !(loose[id] && !joined[id]) {
			continue
		}
		if !joined[id] && !n.Locked && n.Status.IsNew() && (n.Zone == zone || n.Kind == "joint") {
			delete(next.Nodes, id)
			continue
		}
		if n.Zone != zone {
			continue
		}
		n.Zone = ""
		switch n.Kind {
		case "valve":
			n.Kind = "joint"
		case "head":
			n.Zone = next.Heads[n.Head].Zone
		}
		next.Nodes[id] = n
	}
}

// heir is the zone that took most of the heads of one that goes; "" for none.
func (j *job) heir(next *plan.Plan, zone plan.ID) plan.ID {
	count := map[plan.ID]int{}
	for id, h := range j.p.Heads {
		if h.Zone == zone {
			count[next.Heads[id].Zone]++
		}
	}
	best, most := plan.ID(""), 0
	for _, id := range plan.SortedIDs(count) {
		if id != "" && id != zone && count[id] > most {
			best, most = id, count[id]
		}
	}
	return best
}
