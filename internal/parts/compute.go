package parts

import (
	"cmp"
	"maps"
	"slices"

	"evenfall/internal/plan"
)

// Unzoned is the name of the list of what belongs to no zone: heads that none
// takes yet, controller and sensors.
const Unzoned = "Not in a zone"

// Compute counts what p takes: for every new head a body, a nozzle, a swing
// joint and a flag, for every new zone a valve, and the controller and sensors
// placed as new. Things that stand there already or go away are not bought. p
// must be valid (plan.Decode has seen to it).
func Compute(p *plan.Plan) (*List, []plan.Finding) {
	tallies := map[plan.ID]*tally{}
	tallyOf := func(zone plan.ID) *tally {
		t := tallies[zone]
		if t == nil {
			t = newTally()
			tallies[zone] = t
		}
		return t
	}
	names := newItemNames(p)
	total := newTally()
	for _, id := range plan.SortedIDs(p.Zones) {
		z := p.Zones[id]
		if !z.Status.Stands() {
			continue
		}
		t := tallyOf(id) // a zone with nothing to buy is listed, and says so
		if z.Status.IsNew() {
			t.add(valveOf(id))
			total.add(valveOf(id))
		}
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		if !h.Status.IsNew() {
			continue
		}
		for _, piece := range names.piecesOf(id, h) {
			tallyOf(h.Zone).add(piece)
			total.add(piece)
		}
	}
	for _, piece := range clockAndSensors(p) {
		tallyOf("").add(piece)
		total.add(piece)
	}
	list := &List{Zones: []ZoneList{}, Total: total.lines(), Scope: Scope}
	for _, id := range zoneOrder(p, tallies) {
		z := ZoneList{Zone: id, Name: Unzoned, Lines: tallies[id].lines()}
		if id != "" {
			z.Name, z.Station = p.Zones[id].Name, p.Zones[id].Station
		}
		list.Zones = append(list.Zones, z)
	}
	return list, check(p)
}

// zoneOrder sorts the zones of tallies by station, then id; zones with no
// station yet follow, and heads in no zone come last.
func zoneOrder(p *plan.Plan, tallies map[plan.ID]*tally) []plan.ID {
	place := func(id plan.ID) int {
		switch station := p.Zones[id].Station; {
		case id == "":
			return 2
		case station == 0:
			return 1
		default:
			return 0
		}
	}
	return slices.SortedFunc(maps.Keys(tallies), func(a, b plan.ID) int {
		return cmp.Or(
			cmp.Compare(place(a), place(b)),
			cmp.Compare(p.Zones[a].Station, p.Zones[b].Station),
			cmp.Compare(a, b),
		)
	})
}
