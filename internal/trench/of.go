package trench

import (
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// Of reads what is dug for p. net is p's own pipework; p must be valid.
func Of(p *plan.Plan, net *pipework.Network) *Digs { return &Digs{} }
