package zones

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// families are the trade's words for kinds of nozzle, of several heads.
var families = map[catalog.Family]string{
	catalog.Spray: "sprays", catalog.Stream: "streams", catalog.Rotor: "rotors", catalog.Strip: "strip nozzles",
}

// kindWords is the key of a group in words: "turf, sun, clay loam, sprays".
func (j *job) kindWords(g *group) string {
	if len(g.heads) == 0 {
		return ""
	}
	return strings.Trim(g.heads[0].key.ground()+", "+j.familiesOf(g), ", ")
}

// familiesOf are the kinds of nozzle of a group in words: "sprays and strip nozzles".
func (j *job) familiesOf(g *group) string {
	var words []string
	for _, h := range g.heads {
		if w := families[j.p.Nozzles[j.p.Heads[h.id].Nozzle].Family]; w != "" && !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	slices.Sort(words)
	return plan.Series(words)
}

// bound is the least number of valves over all keys.
func (j *job) bound(found *grouped) Bound {
	b := Bound{Proved: true}
	fixed, valves := 0, 0
	for _, g := range found.groups {
		if valves++; g.fixed {
			fixed++
		}
	}
	b.Valves = fixed
	tried := false
	var why []string
	for _, k := range found.kinds {
		b.Valves += k.bound
		b.Proved = b.Proved && k.proved
		tried = tried || k.tried
		if k.bound > 1 {
			why = append(why, fmt.Sprintf("%s (%s) takes %s and needs %d", k.key.ground(), plan.Plural(k.heads, "head", "heads"), j.p.Show.Flow(k.flow), k.bound))
		}
	}
	if fixed > 0 {
		why = append(why, plan.Plural(fixed, "zone stays as it is", "zones stay as they are"))
	}
	if kinds := len(found.kinds); kinds > 1 {
		why = append(why, fmt.Sprintf("%d kinds of ground, rate and pressure each have valves of their own", kinds))
	}
	text := fmt.Sprintf("At least %s at %s a zone", plan.Plural(b.Valves, "valve is needed", "valves are needed"), j.p.Show.Flow(j.limit))
	if len(why) > 0 {
		text += ": " + strings.Join(why, "; ")
	}
	text += "."
	switch {
	case b.Proved && tried:
		text += " No grouping has fewer than this one: every way to pack the heads into fewer was tried."
	case b.Proved:
		text += " No grouping has fewer than this one."
	default:
		text += fmt.Sprintf(" This grouping has %d; whether fewer would do is not proved.", valves)
	}
	b.Says = text
	return b
}

// say writes the sentences of an offer.
func (j *job) say(o *Offer, found *grouped, next *plan.Plan) {
	heads, moved, before := 0, 0, map[plan.ID]bool{}
	for _, g := range found.groups {
		for _, h := range g.heads {
			heads++
			if h.zone != g.zone {
				moved++
			}
			if h.zone != "" {
				before[h.zone] = true
			}
		}
	}
	n := len(o.Groups)
	zones := plan.Plural(n, "zone", "zones")
	o.Label = fmt.Sprintf("Group %s in %s", plan.Plural(heads, "head", "heads"), zones)
	flows := j.flows(o)
	switch {
	case string(o.Patch) == "{}":
		o.Says = fmt.Sprintf("%s as good as any grouping that was found: nothing changes. %s", plan.Choose(n, "The zone is", "The "+zones+" are"), flows)
	case moved == 0:
		o.Says = fmt.Sprintf("The heads stay in their %s; what changes is names, stations, tags or valve places. %s", plan.Choose(n, "zone", zones), flows)
	case len(before) > 0:
		o.Says = fmt.Sprintf("%s in %s, where there %s %d; %s to another zone. %s", plan.Plural(heads, "head", "heads"), zones,
			plan.Choose(len(before), "was", "were"), len(before), plan.Plural(moved, "goes", "go"), flows)
	default:
		o.Says = fmt.Sprintf("%s in %s. %s", plan.Plural(heads, "head", "heads"), zones, flows)
	}
	o.Notes = append(o.Notes, j.notes...)
	if j.supply.Assumed {
		o.Notes = append(o.Notes, "The supply is not measured: its flow is assumed. Measure flow and the pressure left before anything is bought.")
	}
	if j.limit > j.supply.DesignGPM+roundGPM {
		o.Notes = append(o.Notes, fmt.Sprintf("A zone may take %s as asked for, and the design flow is %s: the heads of a larger zone lack pressure.",
			j.p.Show.Flow(j.limit), j.p.Show.Flow(j.supply.DesignGPM)))
	}
	for _, g := range o.Groups {
		if g.Flow < j.least-roundGPM {
			text := fmt.Sprintf("%s runs only %s; its valve wants %s to close surely. Choose a valve made for low flow.", plan.Capital(next.ZoneName(g.Zone)), j.p.Show.Flow(g.Flow), j.p.Show.Flow(j.least))
			if least := j.p.Supply.PumpLeastGPM; g.Flow < least-roundGPM {
				text = fmt.Sprintf("%s runs only %s of a pump that wants at least %s. Run it together with another zone, or give the pump a tank.", plan.Capital(next.ZoneName(g.Zone)), j.p.Show.Flow(g.Flow), j.p.Show.Flow(least))
			}
			o.Notes = append(o.Notes, text)
		}
	}
	o.Notes = append(o.Notes, j.ratesApart(found)...)
	for _, id := range j.lost {
		o.Notes = append(o.Notes, fmt.Sprintf("%s is used outside its nozzle's table, so its flow is not known and it is in none of the sums. Mend it and group again.", plan.Capital(j.p.HeadName(id))))
	}
	if c := j.p.Controller.Stations; c > 0 && c < len(next.Zones) {
		o.Notes = append(o.Notes, fmt.Sprintf("The controller has %s for %s.", plan.Plural(c, "station", "stations"), plan.Plural(len(next.Zones), "zone", "zones")))
	}
	if n := stale(j.p, next); n > 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("%s drawn for another grouping: draw the laterals again where the findings say so.", plan.Capital(plan.Plural(n, "pipe was", "pipes were"))))
	}
}

// ratesApart names the areas whose heads are of several rates, and so need valves
// that they would not need with nozzles of one rate.
func (j *job) ratesApart(found *grouped) []string {
	type ground struct {
		area plan.ID
		of   string
	}
	kinds := map[plan.ID][]*group{}
	seen := map[ground]int{}
	for _, k := range found.kinds {
		for _, area := range k.areas {
			seen[ground{area, k.key.ground()}]++
		}
	}
	for _, g := range found.groups {
		for _, area := range areasOf(g.heads) {
			if seen[ground{area, g.heads[0].key.ground()}] > 1 {
				kinds[area] = append(kinds[area], g)
			}
		}
	}
	var out []string
	for _, area := range plan.SortedIDs(kinds) {
		if area == "" {
			continue
		}
		fewest := kinds[area][0]
		for _, g := range kinds[area] {
			if len(g.heads) < len(fewest.heads) {
				fewest = g
			}
		}
		var ids []plan.ID
		for _, h := range fewest.heads {
			if h.area == area {
				ids = append(ids, h.id)
			}
		}
		out = append(out, fmt.Sprintf("%s has heads of different rates, which may not share a valve: %s put down %s. With nozzles of one rate it may need fewer valves.",
			plan.Capital(j.p.AreaName(area)), j.p.HeadNames(ids), j.p.Show.Rate(units.InchesPerHour(fewest.heads[0].rate))))
	}
	return out
}

// flows says what the zones take.
func (j *job) flows(o *Offer) string {
	var most units.GPM
	least := units.GPM(-1)
	for _, g := range o.Groups {
		most = max(most, g.Flow)
		if least < 0 || g.Flow < least {
			least = g.Flow
		}
	}
	take := "They take " + j.p.Show.Flow(max(least, 0)) + " to " + j.p.Show.Flow(most)
	if j.p.Show.Flow(least) == j.p.Show.Flow(most) {
		take = plan.Choose(len(o.Groups), "It takes ", "Each takes ") + j.p.Show.Flow(most)
	}
	return fmt.Sprintf("%s, of %s that a zone may take (%s).", take, j.p.Show.Flow(j.limit), j.limitFrom())
}

// stale counts the pipes that led to heads in zones they are no longer in, or are
// gone with their zone.
func stale(was, is *plan.Plan) int {
	n := 0
	for id, v := range was.Pipes {
		if _, there := is.Pipes[id]; !there {
			n++
			continue
		}
		end := was.Nodes[v.To]
		if h, ok := is.Heads[end.Head]; ok && v.Zone != "" && h.Zone != was.Heads[end.Head].Zone {
			n++
		}
	}
	return n
}
