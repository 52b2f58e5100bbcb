package pressure

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const commonPractice = "common practice"

// supply is what the supply gives, worked out once for a plan.
type supply struct {
	readings
	p     *plan.Plan
	sys   units.System
	curve curve
	chain chain

	inCurve []device // meter and service line where the curve takes them in
}

func newSupply(p *plan.Plan) *supply {
	s := &supply{readings: readSupply(p), p: p, sys: p.Show, chain: chainOf(p)}
	// meter and service line stand before a regulator, and carry the house's draw as
	// well: with either they belong to the curve
	if v := p.Supply; behindRegulator(v) || v.HouseGPM > 0 {
		s.inCurve, s.chain.street = s.chain.street, nil
	}
	s.curve = curveOfSupply(p, s.readings, s.inCurve)
	return s
}

// SupplyOf works out the limits and the design flow of a plan's supply.
func SupplyOf(p *plan.Plan) Supply { return newSupply(p).told() }

func (s *supply) told() Supply {
	out := Supply{
		Assumed: !s.p.Supply.Measured, Rough: s.curve.kind == rough,
		StaticPSI: s.static, StaticSays: s.staticSays, Limits: s.limits(),
		Curve: s.curve.points(), Measured: s.curve.drawn, EndsAtGPM: s.curve.ends,
	}
	if out.Measured == nil {
		out.Measured = []CurvePoint{}
	}
	out.DesignGPM, out.Binding = least(out.Limits)
	if curve := out.Limits[len(out.Limits)-1]; curve.Missing != "" {
		out.Assumed = true // the other limits tell what must not flow, none what does
		if out.Binding == "" || out.DesignGPM > assumedFlow {
			out.DesignGPM, out.Binding = assumedFlow, Assumed
		}
	}
	switch {
	case s.p.Supply.DesignFlowGPM > 0:
		out.DesignGPM, out.Binding, out.Override = s.p.Supply.DesignFlowGPM, Override, s.p.Supply.DesignFlowReason
		out.Assumed = !s.p.Supply.Measured
	case out.Binding == OnCurve && out.Assumed:
		out.Binding = Assumed
	}
	return out
}

// least is the limit that sets the flow: of the known ones the least, the first
// of equal ones.
func least(limits []Limit) (flow units.GPM, code string) {
	for _, l := range limits {
		if l.Missing == "" && (code == "" || l.Flow < flow) {
			flow, code = l.Flow, l.Code
		}
	}
	return flow, code
}
