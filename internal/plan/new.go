package plan

import "evenfall/internal/units"

// What a plan assumes of its supply until it is measured: a small house service.
// Common practice, and marked as assumed wherever it is shown.
const (
	assumedFlow     units.GPM = 10
	assumedPressure units.PSI = 45
)

// Empty returns a plan with nothing in it but an assumed supply of 10 gpm at 45
// psi, marked as not measured.
func Empty(name string, sys units.System) *Plan {
	return &Plan{
		Format: Format, Name: name, Show: sys,
		Supply: Supply{FlowGPM: assumedFlow, ResidualPSI: assumedPressure},
	}
}
