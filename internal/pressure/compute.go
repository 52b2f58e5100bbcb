package pressure

import (
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// Compute finds the supply's limits and solves every zone of a plan running by
// itself. net is the plan's own pipework.
func Compute(p *plan.Plan, net *pipework.Network) (*Result, []plan.Finding) {
	w := newWater(p, net)
	r := &Result{Supply: w.told(), Zones: []Zone{}, Static: w.atRest()}
	for _, z := range w.standing() {
		r.Zones = append(r.Zones, w.solve([]plan.ID{z})[0])
	}
	w.findHardest(r.Zones)
	return r, w.find(r)
}
