package pressure

import (
	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// regulatorNeeds is how much more than its setting a regulating body wants before
// it, in psi: about 5 by common practice.
const regulatorNeeds units.PSI = 5

// Planned is what one head is to work at by the plan.
type Planned struct {
	Nozzle    units.PSI // at the nozzle
	Inlet     units.PSI // before body and nozzle
	Flow      units.GPM // with its arc and turn-down
	Regulated bool      // the body holds the nozzle's pressure
	share     float64   // of the row's flow that arc and turn-down leave
}

// PlannedAt is the pressure and flow a standing head is planned with: its zone's
// pressure or its nozzle's best, held by a regulating body. ok is false for a head
// used outside its table, of which another finding tells.
func PlannedAt(p *plan.Plan, id plan.ID) (Planned, bool) {
	h := p.Heads[id]
	n, ok := p.Nozzles[h.Nozzle]
	if !ok || len(n.Rows) == 0 {
		return Planned{}, false
	}
	at := n.BestPSI
	if z := p.Zones[h.Zone]; z.Pressure > 0 {
		at = z.Pressure
	}
	w := Planned{Nozzle: at, Inlet: at}
	if set := p.Bodies[h.Body].Regulated; set > 0 && set <= at {
		w.Nozzle, w.Inlet, w.Regulated = set, set+regulatorNeeds, true
	}
	_, row, err := n.At(w.Nozzle)
	if err != nil {
		return Planned{}, false
	}
	throw := units.Feet(0)
	if h.ThrowFt != nil {
		throw = *h.ThrowFt
	}
	sweep := h.SweepDeg
	if n.Family == catalog.Strip {
		sweep = 0
	}
	if w.Flow, err = n.Flow(w.Nozzle, sweep, throw); err != nil || row <= 0 {
		return Planned{}, false
	}
	w.share = float64(w.Flow / row)
	return w, true
}

// PlannedFlow is what a head takes at its planned pressure; 0 for one outside its
// nozzle's table. Pipes are sized for it.
func PlannedFlow(p *plan.Plan, head plan.ID) units.GPM {
	w, _ := PlannedAt(p, head)
	return w.Flow
}
