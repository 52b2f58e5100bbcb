package design

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"

	"evenfall/internal/coverage"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// ReportFormat is the name and version of the JSON report.
const ReportFormat = "evenfall-report/1"

// Report is what follows from one plan, as JSON: raw figures with their units in
// the names, whatever the plan is shown in.
type Report struct {
	Format   string                `json:"format"`      // evenfall-report/1
	Name     string                `json:"name"`        // of the plan
	Plan     string                `json:"plan_sha256"` // of the plan's canonical form
	Supply   SupplyUsed            `json:"supply"`
	Coverage *coverage.Result      `json:"coverage"`
	Pressure *pressure.Result      `json:"pressure"` // supply, limits, and each zone running by itself
	Estimate FieldEstimate         `json:"field_estimate"`
	Windy    *WindyDay             `json:"windy_day,omitempty"`     // when it was asked for
	Windows  []coverage.Scheduling `json:"scheduling_coefficients"` // by size of window
	Parts    *parts.List           `json:"parts"`
	Findings []plan.Finding        `json:"findings"` // worst first, accepted ones last
}

// SupplyUsed is the supply that the zones were held against.
type SupplyUsed struct {
	DesignFlow units.GPM `json:"design_flow_gpm"`
	Measured   bool      `json:"measured"` // false: assumed until someone measures it
}

// WriteJSON writes the report of a design.
func WriteJSON(w io.Writer, p *plan.Plan, d *Design, a Asked) error {
	e, windows := a.Estimate, a.Windows
	if e.Areas == nil {
		e.Areas = []coverage.Estimate{}
	}
	if windows == nil {
		windows = []coverage.Scheduling{}
	}
	findings := d.Findings
	if findings == nil {
		findings = []plan.Finding{}
	}
	out := json.NewEncoder(w)
	out.SetEscapeHTML(false)
	out.SetIndent("", "  ")
	err := out.Encode(Report{
		Format: ReportFormat, Name: p.Name, Plan: plan.Digest(p.Encode()),
		Supply: SupplyUsed{d.Pressure.Supply.DesignGPM, !d.Pressure.Supply.Assumed}, Pressure: d.Pressure, Coverage: d.Coverage, Estimate: e, Windy: a.Windy, Windows: windows,
		Parts: d.Parts, Findings: findings,
	})
	if err != nil {
		return fmt.Errorf("design: writing the report: %w", err)
	}
	return nil
}

//go:embed report.schema.json
var reportSchema []byte

// Schema is the JSON Schema (2020-12) of the report. A test keeps it true to
// the types.
func Schema() []byte { return reportSchema }
