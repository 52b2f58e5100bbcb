package proof

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// RetrofitPlan is what an old system would gain by mending: how its heads were found,
// each zone before and after, and what to mend in the order of the water it saves.
type RetrofitPlan struct {
	Offered bool   // false: Says tells what is missing
	Says    string // in a sentence
	Census  []CensusLine
	Zones   []ZoneMended // by station, name, id
	Mends   []Mend       // the most water saved first
	Before  units.Gallons
	After   units.Gallons
	PerYear bool     // false: of a week at peak, since the plan has no climate
	Assumed []string // what was taken for what is not known, in sentences
}

// CensusLine is how many heads were found in a state.
type CensusLine struct {
	State string // as in plan.HeadState.Faults; "sound", "not_seen", "mixed"
	Words string
	Heads []plan.ID
	Tags  string
}

// ZoneMended is a zone as it was found and as it would be.
type ZoneMended struct {
	ID                                plan.ID
	Name                              string
	FlowBefore, FlowAfter             units.GPM
	FlowMeasured                      bool // before: by a run, not reckoned
	PSIBefore, PSIAfter               units.PSI
	DUBefore, DUAfter                 units.Ratio
	DUAudited                         bool // before
	WaterBefore, WaterAfter           units.Gallons
	Flow, Pressure, DU, Water, Saving string // in words, before → after
}

// Mend is one thing to do.
type Mend struct {
	Says   string
	Saves  units.Gallons // after those before it in the list; 0 where it saves none by itself
	Saving string        // in words
	Heads  []plan.ID
	Zone   plan.ID
	Why    string
}

// sound and notSeen are the states of the census that are no faults.
const (
	sound   = "sound"
	notSeen = "not_seen"
)

// stateWords are the states of the census in its order.
var stateWords = []struct{ state, words string }{
	{plan.Tilted, "leaning"}, {plan.Sunk, "sunk below grade"}, {plan.Hidden, "behind growth"}, {plan.Blocked, "stopped up"}, {plan.Worn, "worn"},
	{plan.Leaking, "leaking"}, {plan.Stuck, "not rising or not going down"}, {plan.WrongNozzle, "with a nozzle other than drawn"},
	{plan.OffTarget, "turned off the ground meant"}, {sound, "sound"}, {notSeen, "not looked at yet"},
}

// census counts the heads that stand by how they were found; a head with several faults
// is counted in each.
func census(p *plan.Plan) []CensusLine {
	by := map[string][]plan.ID{}
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		switch {
		case !h.Status.Stands():
		case h.State == nil || h.State.SeenOn == "" && h.State.SetOn == "" && len(h.State.Faults) == 0:
			by[notSeen] = append(by[notSeen], id)
		case len(h.State.Faults) == 0:
			by[sound] = append(by[sound], id)
		default:
			for _, f := range h.State.Faults {
				by[f] = append(by[f], id)
			}
		}
	}
	var out []CensusLine
	for _, s := range stateWords {
		if ids := by[s.state]; len(ids) > 0 {
			out = append(out, CensusLine{State: s.state, Words: s.words, Heads: ids, Tags: tagsOf(p, ids)})
		}
	}
	return out
}
