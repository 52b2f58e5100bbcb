package arrange

import (
	"slices"

	"evenfall/internal/plan"
)

// TurnedRow is what an area reads before and after, in words.
type TurnedRow struct {
	Area     plan.ID
	Readings []BeforeAfter // others and own of the bed, then those of Mend.Readings that matter
}

// Rows are the readings of the bed, then of the ground of the changed heads, in the
// plan's units.
func (t *TurnOff) Rows(p *plan.Plan) []TurnedRow {
	b, a, sys := &t.Before, &t.After, p.Show
	others := BeforeAfter{"others", "Water from other zones, a mean", rateOrNone(sys, b.Others), rateOrNone(sys, a.Others), "same"}
	switch {
	case others.Before == others.After:
	case a.Others < b.Others:
		others.Change = "better"
	default:
		others.Change = "worse"
	}
	own := BeforeAfter{"own", "Water from its own zone, a mean", rateOrNone(sys, b.Own), rateOrNone(sys, a.Own), "same"}
	bed := TurnedRow{t.Area, []BeforeAfter{others, own}}
	if p.Areas[t.Area].WateredBy() == plan.Overhead && len(t.Changes) > 0 {
		m := Mend{Before: b.State, After: a.State}
		bed.Readings = append(bed.Readings, slices.DeleteFunc(m.Readings(p), func(r BeforeAfter) bool { return r.ID == "hard" || r.ID == "rate" })...)
	}
	out := []TurnedRow{bed}
	for _, g := range t.Grounds {
		m := Mend{Before: g.Before, After: g.After}
		out = append(out, TurnedRow{g.Area, m.Readings(p)})
	}
	return out
}
