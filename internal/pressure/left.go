package pressure

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// LeftFor is the pressure that a supply has left for the pipes of a zone when so
// much flows: behind every device on the way, its valve and what stands after it.
// known is the flow to which the supply itself is known.
func LeftFor(p *plan.Plan, zone plan.ID, q units.GPM) (left units.PSI, known units.GPM) {
	s := newSupply(p)
	return s.leftFor(zone, q), s.curve.ends
}

func (s *supply) leftFor(zone plan.ID, q units.GPM) units.PSI {
	left, _ := s.curve.source.Pressure(q)
	for _, list := range [][]device{s.chain.street, s.chain.shut, s.chain.inLine, valveOf(s.p, zone), s.chain.breaker} {
		left -= loss(list, q)
	}
	return left
}
