package arrange

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Caution stands under every offer of layouts and of changes.
const Caution = "Layouts follow from the drawing, in calm air with ideal nozzles. Have utilities marked before anyone digs, and look at each place on the ground before it is staked."

// BeforeAfter is one reading of an area before and after a change, in words.
type BeforeAfter struct {
	ID            string // evenness, field_low, dry, hard, rate
	Label         string
	Before, After string
	Change        string // better | worse | same, as it is shown
}

// Readings are the readings of the area that a change is for, before it and after,
// in the plan's units.
func (m *Mend) Readings(p *plan.Plan) []BeforeAfter {
	b, a, sys := &m.Before, &m.After, p.Show
	of := func(id, label, before, after string, better bool) BeforeAfter {
		change := "worse"
		switch {
		case before == after:
			change = "same"
		case better:
			change = "better"
		}
		return BeforeAfter{id, label, before, after, change}
	}
	hard := of("hard", "On paving, buildings and off the lot", hardWords(sys, b), hardWords(sys, a), a.HardGPM < b.HardGPM)
	if sys.Flow(a.HardGPM) == sys.Flow(b.HardGPM) { // the share may move by the flow of the rest
		hard.Change = "same"
	}
	return []BeforeAfter{
		of("evenness", "Layout uniformity", sys.Percent(b.DU), sys.Percent(a.DU), a.DU > b.DU),
		of("field_low", "Field estimate, 1 in 10 under", sys.Percent(b.FieldP10), sys.Percent(a.FieldP10), a.FieldP10 > b.FieldP10),
		of("dry", "Dry patches", dryWords(sys, b.DrySqFt), dryWords(sys, a.DrySqFt), a.DrySqFt < b.DrySqFt),
		hard,
		of("rate", "Farthest from the zone's rate", sys.Percent(b.RateOff), sys.Percent(a.RateOff), a.RateOff < b.RateOff),
	}
}

func dryWords(sys units.System, a units.SqFeet) string {
	if a <= 0 {
		return "none"
	}
	return sys.Area(a)
}

func hardWords(sys units.System, s *State) string {
	return sys.Flow(s.HardGPM) + ", " + SmallShare(sys, s.HardPart)
}
