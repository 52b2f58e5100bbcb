package pipesize

import (
	"encoding/json"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Offer is sizes for the pipes of a plan: a patch with what it does. Nothing is
// changed until it is applied.
type Offer struct {
	Patch   plan.Patch // nil: nothing to change
	Says    string     // the whole in a sentence
	Changes []Change   // by zone, from the supply on
	Zones   []Aim      // by station
	Before  Cost
	After   Cost
	Above   float64 // how far After may lie above the least; 0: it is the least
	Checks  []Check // of one pressure-true solution with these sizes
	Holds   bool    // every check is good
	Notes   []string
	Kept    int // pipes whose size was not to be changed
	Sized   int // pipes that were sized
}

// Change is one pipe that gets another size or class.
type Change struct {
	Pipe      plan.ID
	Name      string  // "the pipe of zone 3 to head 3-2"
	Zone      plan.ID // "" for the main
	Length    units.Feet
	From, To  string // as they are asked for; From "" where it had none
	Larger    bool   // than before
	Flow      units.GPM
	Velocity  units.FeetPerSecond // at its design flow in the new size
	class     plan.ID
	nominal   units.Inches
	fromClass plan.ID
}

// Aim is what the heads of a zone are sized to get.
type Aim struct {
	Zone    plan.ID
	Flow    units.GPM
	Planned bool // the planned pressure; else no more than their tables' least
}

// Cost is what the pipes that may be sized cost.
type Cost struct {
	Known bool // every one has a size
	Money bool // by the user's prices; else cubic inches of material
	Sum   float64
}

// Check is one thing the pressure-true solution was held to.
type Check struct {
	Says string
	Good bool
	At   plan.ID // head or pipe it is about, "" for none
}

// patch is the change of the document that the changes ask for.
func (j *job) patch(changes []Change) (plan.Patch, error) {
	if len(changes) == 0 {
		return nil, nil
	}
	pipes := map[plan.ID]map[string]any{}
	classes := map[plan.ID]any{}
	for _, c := range changes {
		change := map[string]any{"nominal_in": c.nominal}
		if c.class != c.fromClass {
			change["class"] = c.class
			if _, there := j.p.PipeClasses[c.class]; !there {
				row, _ := j.p.PipeClass(c.class)
				classes[c.class] = row
			}
		}
		pipes[c.Pipe] = change
	}
	whole := map[string]any{"pipes": pipes}
	if len(classes) > 0 {
		whole["pipe_classes"] = classes
	}
	return json.Marshal(whole)
}
