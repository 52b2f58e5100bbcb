package plan

import (
	"fmt"

	"github.com/paulmach/orb"
)

// Check looks for what is not finished yet: heads in no zone, zones of no heads.
func Check(p *Plan) []Finding {
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
			f = f.Looking(orb.Point{float64(z.ValveAt.X), float64(z.ValveAt.Y)})
		}
		found = append(found, f)
	}
	return found
}
