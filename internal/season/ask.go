package season

import (
	"context"
	"fmt"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// Ask puts together what the program of a plan is worked out from. estimates are its
// field estimates where they are known already; nil draws them (coverage.FieldEstimate
// with its usual seed and draws), unless audits say of every area. An error is a
// sentence for the user, or the context's.
func Ask(ctx context.Context, p *plan.Plan, estimates []coverage.Estimate, tell coverage.Progress) (*Question, error) {
	q := &Question{}
	q.Input.Show = p.Show
	var err error
	if q.Year, q.PeakOnly, err = YearOf(p); err != nil {
		return nil, err
	}
	if q.Ground, err = coverage.ByZone(ctx, p); err != nil {
		return nil, err
	}
	if q.PeakOnly {
		q.note("No climate is given: every month is reckoned as the week at peak.")
	}
	audits := auditsOf(p, q.Ground)
	if estimates == nil && slices.ContainsFunc(q.Ground.Areas, func(a coverage.AreaByZone) bool { return audits[a.ID] == nil }) {
		if estimates, err = coverage.FieldEstimate(ctx, p, coverage.UsualSeed, coverage.UsualDraws, tell); err != nil {
			return nil, err
		}
	}
	at := map[plan.ID]int{} // of Input.Areas
	for _, g := range q.Ground.Areas {
		n, err := NeedOf(p, g.ID, q.Year)
		if err != nil {
			return nil, err
		}
		n.FieldDU, n.DUFrom = evenness(g.ID, audits[g.ID], estimates)
		if a, ok := areaOf(p, n, g, q.Ground); ok {
			at[g.ID] = len(q.Input.Areas)
			q.Input.Areas = append(q.Input.Areas, a)
			q.Needs = append(q.Needs, n)
		} else {
			q.Unwet = append(q.Unwet, g.ID)
		}
		if p.Areas[g.ID].Soil == "" {
			q.note("The soil of %q is not said: it is reckoned as clay loam.", p.Areas[g.ID].Name)
		}
	}
	for _, z := range q.Ground.Zones {
		w := watering.Zone{ID: string(z.ID), Name: p.Zones[z.ID].Name, Station: p.Zones[z.ID].Station, Flow: z.Flow}
		for _, id := range z.Own {
			if i, ok := at[id]; ok {
				w.Own = append(w.Own, i)
			}
		}
		q.Input.Zones = append(q.Input.Zones, w)
	}
	q.calendar(p)
	q.rest(p)
	q.controller(p)
	return q, nil
}

func (q *Question) note(format string, args ...any) {
	q.Notes = append(q.Notes, fmt.Sprintf(format, args...))
}

// areaOf is an area as watering knows it; false where no zone's water lands on it.
func areaOf(p *plan.Plan, n Need, g coverage.AreaByZone, of *coverage.ZoneGround) (watering.Area, bool) {
	zones, ground := of.Zones, blocksOf(g, of.Frame.NX, of.Frame.Cell)
	soil := func(i int) float64 { return n.Soil[i].Value }
	a := watering.Area{
		ID: string(n.ID), Name: n.Name, Size: g.SqFt, FieldDU: n.FieldDU,
		Holds: n.Holds, Depleted: units.Ratio(soil(soilDepletion)),
		Intake: units.InchesPerHour(soil(soilIntake)), Surface: units.Inches(soil(soilSurface)),
		Rates: make([][]float32, len(g.Rates)),
	}
	for m := range n.Month {
		a.Need[m] = n.Month[m].Day
	}
	wet := false
	for z, rates := range g.Rates {
		if rates != nil {
			a.Rates[z], wet = ground.rates(rates), true
		}
	}
	if credit := (chain{p: p, a: p.Areas[n.ID]}).credit(); credit < 1 {
		a.Credit = make([]units.Ratio, len(zones))
		for z := range zones {
			a.Credit[z] = units.Ratio(credit)
			if slices.Contains(zones[z].Own, n.ID) {
				a.Credit[z] = 1
			}
		}
	}
	return a, wet
}
