// Package pipework reads the drawn pipes of a plan as a network: which pipe
// follows which, how long each is, what it feeds and which fittings the geometry
// asks for. It knows no pressures.
package pipework

import (
	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Network is the standing pipework of a plan: a tree of shortest ways from the
// source, and the pipes that close loops in it.
type Network struct {
	Source plan.ID             // node of kind connection; "" when none is drawn
	Nodes  map[plan.ID]Node    // every node that stands, or that a standing pipe ends on
	Pipes  map[plan.ID]Pipe    // every pipe that stands
	Zones  map[plan.ID]Zone    // zones with a drawn valve node
	Loops  []plan.ID           // pipes that close a loop, by id
	Loose  []plan.ID           // nodes with no way to the source, by id
	HeadAt map[plan.ID]plan.ID // node of every standing head that has one
	Order  []plan.ID           // nodes from the source on, each after the one before it; loose pieces follow
}

// Node is a joint in the tree that hangs from the source.
type Node struct {
	ID     plan.ID
	Up     plan.ID    // pipe towards the source; "" at the source and where loose
	Down   []plan.ID  // pipes of the tree away from it, by id
	Zone   plan.ID    // whose water it carries; "" on the main; a valve's is its zone
	Valved bool       // behind a valve
	Pipes  int        // that end there
	Level  units.Feet // of the ground there
	Joints []Joint    // the fittings the geometry asks for there
}

// Pipe is one drawn pipe, told from the source on.
type Pipe struct {
	ID       plan.ID
	From, To plan.ID           // nodes; From is nearer the source
	Reversed bool              // drawn from To to From
	Zone     plan.ID           // of the valve before it; as drawn where there is none; "" for the main
	Valved   bool              // behind a valve
	Loop     bool              // closes a loop: no part of the tree
	Length   units.Feet        // along its corners, as on the plan
	Class    catalog.PipeClass // zero when none is chosen
	Size     catalog.PipeSize  // zero when not sized
	Fittings []Fitting         // whose loss is counted in this pipe, as water meets them
	Joints   []Joint           // ells at its corners
	Heads    []plan.ID         // all heads fed through it, as a walk down the tree meets them; none where Loop
}

// Zone is the pipework behind one valve.
type Zone struct {
	Valve  plan.ID   // node
	Fed    bool      // the valve has a way to the source
	Valves []plan.ID // every valve node of the zone, by id; one in a sound drawing
	Pipes  []plan.ID // laterals, from the valve outwards, those that close loops last
	Heads  []plan.ID // joined by pipe, by id; a head of another zone among them is a finding
	Unfed  []plan.ID // heads of the zone that no pipe behind its valve reaches, by id
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
	Kind   JointKind
	Sizes  []units.Inches // nominal: run in, run out, branches; 0 where not sized
	Thread units.Inches   // of the outlet to a head; 0: none
	Class  plan.ID        // pipe class it joins, of its first size
	Zone   plan.ID        // on whose pipes it sits; "" for the main, as before a valve
	New    bool           // one of its pipes is new
}

// JointKind is what a fitting is asked for as.
type JointKind string
