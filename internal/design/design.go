// Package design runs the stages in order on one plan and gathers their results
// and findings. It computes nothing itself.
package design

import (
	"evenfall/internal/coverage"
	"evenfall/internal/parts"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// Design is everything that follows from one plan.
type Design struct {
	Coverage *coverage.Result  `json:"coverage"`
	Pipework *pipework.Network `json:"-"`
	Pressure *pressure.Result  `json:"pressure"`
	Digs     *trench.Digs      `json:"-"`
	Wiring   *wire.Wiring      `json:"-"`
	Parts    *parts.List       `json:"parts"`
	Findings []plan.Finding    `json:"findings"` // worst first, then by code, then by place
}
