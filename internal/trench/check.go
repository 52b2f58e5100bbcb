package trench

import (
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// Check holds what is dug against the rules of the trade.
func Check(p *plan.Plan, net *pipework.Network, d *Digs) []plan.Finding { return nil }
