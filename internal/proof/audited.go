package proof

import (
	"evenfall/internal/audit"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Audited is one catch-can audit reckoned: what was caught beside what the plan predicts
// at the same cans, and which heads are at fault. Its sentences are in the plan's units.
type Audited struct {
	ID     plan.ID // "" for the one audit of older documents
	Name   string  // "Audit of Back lawn" where none was given
	Area   plan.ID // it was made on; "" where it is not said or gone
	Known  bool    // false: Says tells what is missing, and there are no figures
	Says   string
	Read   int // cans that were read and are not left out
	Placed int // cans there are

	Figures  []AuditFigure
	Measured audit.Figures // of the catches: in inches, or in ml where the opening is not said
	Expected audit.Figures // predicted at the same cans, in inches; all zero where nothing can be predicted
	Cans     []CanRead     // in walking order

	Faults []HeadFault // heads at fault, surest first
	Heads  []HeadFault // every head that reaches a can, by tag
	Unsure []string    // what these cans cannot tell
	Rules  []string    // of an audit, that this one does not keep; each with where it comes from
	Notes  []string    // what was taken for the prediction: pressures, wind, minutes

	Uses  string     // what taking its uniformity into the watering plan changes; "" where it cannot be taken
	Patch plan.Patch // that does so; nil where it cannot be taken
	Label string     // of that step
}

// AuditFigure is a figure with its form and where that comes from.
type AuditFigure struct {
	Name     string
	Measured string
	Expected string // predicted at the same cans; "" none
	Form     string
}

// CanRead is one can and what was predicted for it.
type CanRead struct {
	ID        plan.ID
	X, Y      units.Feet
	Number    int    // in walking order, from 1
	Catch     string // as it was read: "23 ml", "0.4 in"; "" not read
	Depth     string // "" not read
	Predicted string // "" where nothing can be predicted
	Percent   string // of the mean catch; "" not read
	// ExpectedPercent is the prediction, of its mean over the same cans; "" where there is none.
	ExpectedPercent string
	DepthIn         *units.Inches // nil: not read
	Expected        *units.Inches // nil: nothing can be predicted
	// The bytes of the map (coverage.MapByte) of the catch over the mean catch and of the
	// prediction over the mean prediction; nil where there is none.
	MeasuredByte, ExpectedByte *int
	Out                        bool // left out of the sums
	Low                        bool // wholly of the driest quarter
	Note                       string
}

// HeadFault is what the catches say of one head.
type HeadFault struct {
	Head    plan.ID
	Tag     string
	Output  string // "52 % of what it should give (38 to 66 %)"
	Tilt    string // "leans 9° to the south"; "" none to speak of
	Verdict string // "gives about half of its water", "cannot be told from these cans"
	Look    string // what to look at on it; "" at nothing
	Sure    bool   // the figures leave no other reading
	Fault   bool   // it is low, high or leaning

	Share, Low, High units.Ratio   // of what it should give, with its 90 % range
	TiltDeg          units.Degrees // 0: none to speak of
	TiltToward       units.Degrees // the way its top leans, anticlockwise from the plan's east
}

// AuditLine is one audit in a line.
type AuditLine struct {
	ID   plan.ID
	Says string // "Back lawn, 30 May 2026: DU 0.61, 24 cans"
	Read int    // cans that were read
	Cans int
}
