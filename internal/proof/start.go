package proof

import (
	"fmt"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Start is the start-up log of a plan: what is done in order, what was held at pressure,
// and each zone as predicted beside as it ran. Sentences are in the plan's units.
type Start struct {
	Says  string // how far it is: "4 of 9 steps, 2 of 6 zones run"
	Steps []Step
	Tests []Tested    // by date, then id
	Zones []ZoneStart // that stand, by station, name, id
}

// Step is one step of the start-up. Its ID is the key in plan.Proof.Checks.
type Step struct {
	ID      plan.ID
	Title   string
	How     string
	Caution string // "" where nothing can hurt anybody
	Done    *plan.StepDone
}

// Tested is a pressure test and what is to be made of it.
type Tested struct {
	ID    plan.ID // key in plan.Proof.Tests
	Test  plan.PressureTest
	Of    string // what was tested, in words
	Says  string
	Holds bool // meaningful where Known
	Known bool // false: not enough was entered to tell
}

// ZoneStart is a zone to be run by hand: what is predicted, and its runs.
type ZoneStart struct {
	ID      plan.ID
	Station int // 0: none given
	Name    string

	Predicted Predicted
	Unknown   string // why nothing is predicted, or how far to trust it; "" where nothing is to be said

	// The predictions in words, "" where not known.
	Flow, Pressure, Static, MeterTime string
	HeadTag                           string

	Runs []Run // by date, then id
}

// Predicted is what a zone should show on the supply's lowest static pressure. 0 stands
// for a figure that is not known.
type Predicted struct {
	Solved    bool          // by the drawn pipes; else by the planned pressure of its heads
	Flow      units.GPM     // of all its heads
	Head      plan.ID       // where to read the pressure: the head with the least share of what it wants
	Pressure  units.PSI     // at the nozzle of Head
	Heads     []AtHead      // at every head, by id
	Valve     units.PSI     // behind the zone valve
	Tap       units.PSI     // before the system, at the connection
	Static    units.PSI     // there, nothing running
	MeterGal  units.Gallons // a round volume to be timed at the meter
	MeterTime units.Seconds // what it should take
}

// AtHead is the pressure and flow predicted at one head.
type AtHead struct {
	Head     plan.ID
	Pressure units.PSI // at the nozzle
	Flow     units.GPM
}

// Run is one run of a zone beside what was predicted.
type Run struct {
	ID     plan.ID // key in plan.Zone.Runs
	Run    plan.ZoneRun
	Flow   units.GPM // as measured, by meter or as noted; 0: not measured
	Says   string    // "8.1 gpm, 12 % under; 31 psi at 3-7, 8 psi under"
	Good   bool      // within what measuring can tell
	Known  bool      // false: nothing to hold against one another
	Likely []Likely  // most likely first; none where Good
}

// Likely is a cause of a difference.
type Likely struct {
	Cause Cause
	Says  string // the cause in words
	Why   string // what of the readings speaks for it
	Do    string // what to look at
	// Weight is how well the readings fit the cause, as a share of all causes looked at.
	Weight float64
}

// StartUp is the start-up log of a plan with its design. d must be of p.
func StartUp(p *plan.Plan, d *design.Design) Start {
	s := Start{Steps: steps(p), Tests: tested(p), Zones: zoneStarts(p, d)}
	done, run := 0, 0
	for _, step := range s.Steps {
		if step.Done != nil {
			done++
		}
	}
	for _, z := range s.Zones {
		if anyRun(p.Zones[z.ID], measuredAny) {
			run++
		}
	}
	s.Says = fmt.Sprintf("%d of %s, %d of %s run", done, plan.Plural(len(s.Steps), "step", "steps"), run, plan.Plural(len(s.Zones), "zone", "zones"))
	return s
}
