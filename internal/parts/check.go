package parts

import (
	"fmt"

	"evenfall/internal/plan"
)

// check looks for zones that stand there already but whose heads are all marked
// new, so that the list would buy what is in the ground.
func check(p *plan.Plan) []plan.Finding {
	type census struct {
		bought []plan.Ref
		kept   int // existing, or taken out
	}
	byZone := map[plan.ID]census{}
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		c := byZone[h.Zone]
		if h.Status.IsNew() {
			c.bought = append(c.bought, plan.RefTo("heads", id))
		} else {
			c.kept++
		}
		byZone[h.Zone] = c
	}
	var found []plan.Finding
	for _, id := range plan.SortedIDs(p.Zones) {
		c := byZone[id]
		if p.Zones[id].Status != plan.Existing || c.kept > 0 || len(c.bought) == 0 {
			continue
		}
		sentence := fmt.Sprintf("%s is there already, but its %s marked new, so the parts list buys %s again. Mark those that stand there as existing.",
			plan.Capital(p.ZoneName(id)), plan.Plural(len(c.bought), "head is", "heads are"), plan.Choose(len(c.bought), "it", "them"))
		found = append(found, plan.Found(plan.ExistingBought, sentence, append(c.bought, plan.RefTo("zones", id))...).
			Looking(p.MiddleOf(c.bought)).Measured("heads", float64(len(c.bought))))
	}
	return found
}
