package pipesize

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// near is the pressure that a check lets pass: what coverage tells apart, in psi.
const near units.PSI = 0.05

// sized is the plan with an offer applied.
func (j *job) sized(o *Offer) (*plan.Plan, error) {
	if o.Patch == nil {
		return j.p, nil
	}
	return plan.Preview(j.p.Encode(), o.Patch)
}

// check solves the plan with the offered sizes and holds what comes out to the
// limits.
func (j *job) check(o *Offer) (*pressure.Result, error) {
	p, err := j.sized(o)
	if err != nil {
		return nil, fmt.Errorf("pipesize: the offer makes no plan: %w", err)
	}
	r, _ := pressure.Compute(p, pipework.Of(p))
	o.Holds = true
	for _, c := range []Check{j.checkSolved(r), j.checkHeads(r), j.checkVelocity(r), j.checkSpread(r)} {
		if c.Says != "" {
			o.Checks = append(o.Checks, c)
			o.Holds = o.Holds && c.Good
		}
	}
	o.Checks = append(o.Checks, j.checkHigh(r)...)
	o.Says = j.says(o)
	return r, nil
}

// each calls fn with every zone that was sized and its solution.
func (j *job) each(r *pressure.Result, fn func(z *zone, s *pressure.Zone)) {
	for k := range r.Zones {
		for i := range j.zones {
			if j.zones[i].id == r.Zones[k].ID {
				fn(&j.zones[i], &r.Zones[k])
			}
		}
	}
}

func (j *job) checkSolved(r *pressure.Result) Check {
	c := Check{Good: true}
	j.each(r, func(z *zone, s *pressure.Zone) {
		if !s.Solved && c.Good {
			c = Check{Says: fmt.Sprintf("%s could not be solved with these sizes: %s", plan.Capital(j.p.ZoneName(z.id)), s.Says)}
		}
	})
	return c
}

// checkHeads looks for the head that is shortest of what its zone aims at.
func (j *job) checkHeads(r *pressure.Result) Check {
	var c Check
	short := units.PSI(0)
	j.eachHead(r, func(z *zone, h *head, s pressure.Head) {
		spare := s.Inlet - h.need(z.aim)
		if c.Says != "" && spare >= short {
			return
		}
		short = spare
		verb := "gets"
		if spare < -near {
			verb = "gets only"
		}
		c = Check{At: h.id, Good: spare >= -near, Says: fmt.Sprintf("The head with least to spare, %s, %s %s and needs %s.",
			j.p.HeadTag(h.id), verb, j.p.Show.Pressure(s.Inlet), j.p.Show.Pressure(h.need(z.aim)))}
		if c.Good {
			c.Says += closeTo(float64(spare/h.need(z.aim)), j.p.Show.Pressure(max(spare, 0)))
		}
	})
	return c
}

func (j *job) eachHead(r *pressure.Result, fn func(z *zone, h *head, s pressure.Head)) {
	j.each(r, func(z *zone, s *pressure.Zone) {
		at := map[plan.ID]pressure.Head{}
		for _, h := range s.Heads {
			at[h.ID] = h
		}
		for _, h := range z.heads {
			if s, ok := at[h.id]; ok {
				fn(z, h, s)
			}
		}
	})
}

// checkVelocity looks for the pipe that is fastest for what it is made of.
func (j *job) checkVelocity(r *pressure.Result) Check {
	rows := map[plan.ID]catalog.PipeClass{}
	for _, v := range j.pipes {
		rows[v.ID] = v.row
	}
	var c Check
	fastest := units.FeetPerSecond(0)
	j.each(r, func(_ *zone, s *pressure.Zone) {
		for _, f := range s.Pipes {
			most := pressure.MostVelocity(rows[f.Pipe])
			if f.Velocity/most <= fastest {
				continue
			}
			fastest = f.Velocity / most
			c = Check{At: f.Pipe, Good: !f.TooFast, Says: fmt.Sprintf("Water is fastest in %s: %s, and should keep to %s.",
				j.pipeName(f.Pipe), j.p.Show.Velocity(f.Velocity), j.p.Show.Velocity(most))}
			switch {
			case c.Good:
				c.Says += closeTo(float64(1-f.Velocity/most), j.p.Show.Velocity(max(most-f.Velocity, 0)))
			case j.p.Pipes[f.Pipe].Locked:
				c.Says += " Its size is locked."
			}
		}
	})
	return c
}

// checkSpread looks for the zone with the widest spread among those the rule is for.
func (j *job) checkSpread(r *pressure.Result) Check {
	var c Check
	widest := units.Ratio(0)
	j.each(r, func(z *zone, s *pressure.Zone) {
		if spread := j.spread(z, s); spread > widest {
			widest = spread
			c = Check{Good: spread <= pressure.MostSpread+0.002, Says: fmt.Sprintf("Pressures differ most in %s: by %s of its nominal pressure, and should keep to %s.",
				j.p.ZoneName(z.id), j.p.Show.Percent(spread), j.p.Show.Percent(pressure.MostSpread))}
			if c.Good {
				c.Says += closeTo(float64(1-spread/pressure.MostSpread), j.p.Show.Percent(max(pressure.MostSpread-spread, 0)))
			}
		}
	})
	return c
}

// spread is the difference of pressure between the heads of a zone that do not
// regulate, over the zone's nominal pressure.
func (j *job) spread(z *zone, s *pressure.Zone) units.Ratio {
	var low, high units.PSI
	at := map[plan.ID]units.PSI{}
	for _, h := range s.Heads {
		at[h.ID] = h.Inlet
	}
	n := 0
	for _, h := range z.heads {
		p, ok := at[h.id]
		if !ok || h.regulates && z.aim == asPlanned {
			continue
		}
		if n++; n == 1 {
			low, high = p, p
		}
		low, high = min(low, p), max(high, p)
	}
	return units.Ratio((high - low) / z.nominal)
}

// checkHigh tells of heads that get more than their tables hold, which pipe alone
// does not mend.
func (j *job) checkHigh(r *pressure.Result) []Check {
	var over []plan.ID
	j.eachHead(r, func(_ *zone, h *head, s pressure.Head) {
		if s.Inlet > h.most+near {
			over = append(over, h.id)
		}
	})
	if len(over) == 0 {
		return nil
	}
	return []Check{{At: over[0], Says: fmt.Sprintf("%s: more pressure than the nozzle's table holds. Pipe does not mend that; bodies that regulate, or a regulator at the supply, do.", plan.Capital(j.p.HeadNames(over)))}}
}

// learn takes from a solution what the next round asks for; false when there is
// nothing to learn.
func (j *job) learn(r *pressure.Result, a *asked) bool {
	learned := false
	j.eachHead(r, func(z *zone, h *head, s pressure.Head) {
		flow := max(s.Flow, h.usual)
		if d := flow - h.flow; d > 1e-3 || d < -1e-3 {
			learned = true
		}
		a.flows[h.id] = flow
		if short := h.need(z.aim) - s.Inlet; short > near {
			a.more[z.id] = max(a.more[z.id], z.more+short)
			learned = true
		}
	})
	j.each(r, func(z *zone, s *pressure.Zone) {
		if over := j.spread(z, s) - pressure.MostSpread; over > 0.002 {
			a.tighter[z.id] = z.tighter + units.PSI(float64(over)*float64(z.nominal))
			learned = true
		}
	})
	return learned
}
