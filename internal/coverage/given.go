package coverage

import (
	"context"
	"fmt"
	"math"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Given is the pressure at the nozzles by head, in place of the planned ones:
// what each head really has when its zone runs. A head that it does not name
// runs as planned.
//
// A screw that turns a throw down does so by a share, and that share stays. Below
// the least row of its table a nozzle throws less far and by its low-pressure
// profile; above the last row it throws as far as there (see
// catalog.Nozzle.Continued). A head with too little to throw at all is left out
// with a sentence.
type Given map[plan.ID]units.PSI

// ComputeAt reckons a plan from nothing, at given pressures.
func ComputeAt(ctx context.Context, p *plan.Plan, given Given) (*Result, error) {
	r, _, err := New().UpdateAt(ctx, p, given)
	return r, err
}

// Under lists the heads that have less than the least row of their nozzle's
// table, by id: their water falls by its low-pressure profile.
func (g Given) Under(p *plan.Plan) []plan.ID { return g.on(p, catalog.Under) }

// Over lists the heads that have more than the last row of their nozzle's table.
func (g Given) Over(p *plan.Plan) []plan.ID { return g.on(p, catalog.Over) }

func (g Given) on(p *plan.Plan, side catalog.Side) []plan.ID {
	var out []plan.ID
	for _, id := range plan.SortedIDs(g) {
		h, ok := p.Heads[id]
		n, known := p.Nozzles[h.Nozzle]
		if !ok || !known || !h.Status.Stands() {
			continue
		}
		if _, _, s := n.Continued(g[id]); s == side {
			out = append(out, id)
		}
	}
	return out
}

// run is a head as planned or, when its pressure is given, as it really runs, and
// the profile of its water then.
func (g Given) run(p *plan.Plan, id plan.ID) (Run, catalog.Profile, error) {
	planned, err := Running(p, id)
	n := p.Nozzles[p.Heads[id].Nozzle]
	psi, ok := g[id]
	if err != nil || !ok {
		return planned, n.Profile, err
	}
	h := p.Heads[id]
	turned := min(planned.Throw/planned.TableThrow, 1)
	table, _, side := n.Continued(psi)
	run := Run{
		Pressure: psi, TableThrow: table, Throw: turned * table,
		Flow: n.FlowContinued(psi, sweepOf(h, n), units.Ratio(turned)),
	}
	run.Rate = headToHead(n, sweepOf(h, n), run.Throw, run.Flow)
	run.OwnRate = units.InchesPerHour(float64(run.Rate) * math.Pow(float64(turned), turnedPower(n)))
	if what := implausible(run); what != "" {
		return Run{}, n.Profile, &CannotRun{Head: id, Quantity: "pressure", Sentence: fmt.Sprintf(
			"Head %s gets %.2g psi, with which it throws no water to speak of.", named(h, id), float64(psi))}
	}
	if side == catalog.Under {
		return run, n.LowProfile(), nil
	}
	return run, n.Profile, nil
}
