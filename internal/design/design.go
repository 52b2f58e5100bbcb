// Package design runs the stages in order on one plan and gathers their results
// and findings. It computes nothing itself.
package design

import (
	"evenfall/internal/coverage"
	"evenfall/internal/parts"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
)

// Design is everything that follows from one plan.
type Design struct {
	Coverage *coverage.Result  `json:"coverage"`
	Pipework *pipework.Network `json:"-"`
	Pressure *pressure.Result  `json:"pressure"`
	Parts    *parts.List       `json:"parts"`
	Findings []plan.Finding    `json:"findings"` // worst first, then by code, then by place
}
