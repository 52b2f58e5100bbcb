package trench

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Options are what the user asks for.
type Options struct {
	Zones  []plan.ID // route these only; none: all that stand
	Wire   bool      // lay wire, too
	Keep   bool      // what is drawn stays, as if it were locked: only what is not joined yet is routed
	Valves Placing
	Seed   uint64
	Effort int // evaluations; 0: the usual
}

// Placing is where valves may go.
type Placing string

// The ways to place valves.
const (
	AsPlaced Placing = "as_placed" // where they stand now
	Weighed  Placing = "weighed"   // grouped, spread and as placed, whichever costs less
)

// Offer is routes for the pipes of a plan.
type Offer struct {
	Name     string     `json:"name"`
	Says     string     `json:"says"`
	Label    string     `json:"label"` // of the step that takes it
	Patch    plan.Patch `json:"patch"`
	Measures Measures   `json:"measures"`
	Notes    []string   `json:"notes"`
}

// Measures are what an offer comes to.
type Measures struct {
	Cost      float64               `json:"cost"`  // by the plan's figures of digging
	Bound     float64               `json:"bound"` // no routes to these valves by the places looked at cost less; 0: not known
	Trench    units.Feet            `json:"trench_ft"`
	By        map[Ground]units.Feet `json:"trench_by_ground_ft"`
	Main      units.Feet            `json:"main_ft"`
	Lateral   units.Feet            `json:"lateral_ft"`
	Wire      units.Feet            `json:"wire_trench_ft"` // of trench dug for wire alone
	Crossings int                   `json:"crossings"`
	Longest   units.Feet            `json:"longest_bore_ft"`
	Boxes     int                   `json:"boxes"`
}

// Blocked is an end that no way leads to.
type Blocked struct {
	What plan.Ref  `json:"what"`
	At   orb.Point `json:"at"`
	Why  string    `json:"why"` // what is in the way, in words
}

// Proposal is all that a search found.
type Proposal struct {
	Offers      []Offer   `json:"offers"` // cheapest first
	Blocked     []Blocked `json:"blocked"`
	Notes       []string  `json:"notes"`
	Evaluations int       `json:"evaluations"`
}

// Refusal says why nothing can be routed, in the user's words.
type Refusal struct {
	At       plan.Ref
	Sentence string
}

// Error returns the sentence.
func (r *Refusal) Error() string { return r.Sentence }

// Caution stands wherever routes are offered.
const Caution = "Have buried lines located before you dig; lines that are not public are not marked by the service. Local code decides depth, sleeves and permits."
