package plan

import (
	"fmt"
	"slices"
)

// Check looks for what can be told without reckoning any water: what is not
// finished yet, what the supply and the controller lack, what the ground's fall
// does, and what must come before digging. The findings come in no particular
// order.
func Check(p *Plan) []Finding {
	return slices.Concat(checkZones(p), checkValves(p), checkSupply(p), checkStations(p), checkLow(p), checkLocate(p))
}

// checkZones finds heads in no zone and zones of no heads.
func checkZones(p *Plan) []Finding {
	var free []ID
	used := map[ID]bool{}
	for _, id := range SortedIDs(p.Heads) {
		h := p.Heads[id]
		if !h.Status.Stands() {
			continue
		}
		used[h.Zone] = true
		if h.Zone == "" {
			free = append(free, id)
		}
	}
	var found []Finding
	if len(free) > 0 {
		about := make([]Ref, len(free))
		for i, id := range free {
			about[i] = RefTo("heads", id)
		}
		text := fmt.Sprintf("%s %s in no zone.", Capital(p.HeadNames(free)), Choose(len(free), "is", "are"))
		found = append(found, Found(HeadWithoutZone, text, about...).Looking(p.MiddleOf(about)).Measured("heads", float64(len(free))))
	}
	for _, id := range SortedIDs(p.Zones) {
		z := p.Zones[id]
		if !z.Status.Stands() || used[id] {
			continue
		}
		f := Found(ZoneWithoutHeads, Capital(p.ZoneName(id))+" has no heads.", RefTo("zones", id))
		if z.ValveAt != nil {
			f = f.Looking(z.ValveAt.point())
		}
		found = append(found, f)
	}
	return found
}

// checkValves finds the zones whose valve has no place where others have one. A
// plan in which none has is not at its valves yet.
func checkValves(p *Plan) []Finding {
	var without []Ref
	var names []string
	placed := 0
	for _, id := range SortedIDs(p.Zones) {
		switch z := p.Zones[id]; {
		case !z.Status.Stands():
		case z.ValveAt != nil:
			placed++
		default:
			without, names = append(without, RefTo("zones", id)), append(names, p.ZoneName(id))
		}
	}
	if placed == 0 || len(without) == 0 {
		return nil
	}
	text := fmt.Sprintf("%s %s no place for %s valve.", Capital(Several(names)), Choose(len(names), "has", "have"), Choose(len(names), "its", "their"))
	return []Finding{Found(ValveWithoutPlace, text, without...)}
}
