// Package pipework reads the drawn pipes of a plan as a network: which pipe
// follows which, how long each is, what it feeds and which fittings the geometry
// asks for. It knows no pressures.
package pipework

import (
	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Network is the standing pipework of a plan.
type Network struct {
	Source plan.ID          // node of kind connection; "" when none is drawn
	Nodes  map[plan.ID]Node // every node that stands
	Pipes  map[plan.ID]Pipe // every pipe that stands
	Zones  map[plan.ID]Zone // zones with a drawn valve node
	Loops  []plan.ID        // pipes that close a loop, by id
	Loose  []plan.ID        // nodes and pipes' ends with no way to the source, by id
}

// Node is a joint in the tree that hangs from the source.
type Node struct {
	ID    plan.ID
	Up    plan.ID    // pipe towards the source; "" at the source and where loose
	Down  []plan.ID  // pipes away from it, by id
	Zone  plan.ID    // whose water it carries; "" on the main
	Level units.Feet // of the ground there
	Joint *Joint     // the fitting the geometry asks for; nil for none
}

// Pipe is one drawn pipe, told from the source on.
type Pipe struct {
	ID       plan.ID
	From, To plan.ID           // nodes; From is nearer the source
	Zone     plan.ID           // "" for the main
	Length   units.Feet        // along its corners
	Class    catalog.PipeClass // zero when none is chosen
	Size     catalog.PipeSize  // zero when not sized
	Fittings []Fitting         // whose loss is counted in this pipe
	Heads    []plan.ID         // all heads fed through it, by id
}

// Zone is the pipework behind one valve.
type Zone struct {
	Valve plan.ID   // node
	Pipes []plan.ID // laterals, from the valve outwards
	Heads []plan.ID // joined by pipe, by id
	Unfed []plan.ID // heads of the zone that no pipe reaches, by id
}

// FittingKind is what a fitting does to the water.
type FittingKind string

// The fittings.
const (
	Ell90       FittingKind = "ell_90"
	Ell45       FittingKind = "ell_45"
	TeeRun      FittingKind = "tee_run"
	TeeBranch   FittingKind = "tee_branch"
	Reducer     FittingKind = "reducer"
	Coupling    FittingKind = "coupling"
	OutletTee   FittingKind = "outlet_tee" // with a thread for a head
	CrossRun    FittingKind = "cross_run"
	CrossBranch FittingKind = "cross_branch"
)

// Fitting is the way of one pipe's water through one joint.
type Fitting struct {
	Kind FittingKind
	At   plan.ID      // node, or the pipe itself for a corner on its way
	Size units.Inches // nominal, of the pipe it is counted in
	K    float64      // loss in velocity heads, in that pipe
}

// Joint is one fitting as it is bought.
type Joint struct {
	Kind  string         // tee | cross | ell | end ell | coupling | reducer …
	Angle units.Degrees  // of an ell: how far the pipe turns
	Sizes []units.Inches // run in, run out, branches
	Class plan.ID        // pipe class it joins
}
