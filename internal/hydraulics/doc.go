// Package hydraulics computes flow, friction and pressure in a network of pipes.
// It knows no plan: whoever builds a Network numbers its nodes and links.
//
// Pressures are gauge, in psi; elevations feet; flows US gallons a minute. The
// constants are those of EPANET 2.2 (US EPA, user manual, chapter 3, and its
// output), so that the two can be compared to the last digit.
package hydraulics

import "evenfall/internal/units"

// Network is nodes joined by links. Trees and loops alike; every node must be
// joined to a source.
type Network struct {
	Nodes []Node
	Links []Link
}

// Node is a joint. It may draw water by an outlet, or give it by a source.
type Node struct {
	Elevation units.Feet
	Outlet    Outlet    // nil: nothing leaves
	Demand    units.GPM // fixed flow out, beside the outlet's
	Source    Source    // nil: not a source
}

// Link joins two nodes; flow from From to To is positive. Two links may join the
// same two nodes.
type Link struct {
	From, To int
	Law      Law
}

// Law is the loss in a link. Loss is odd in q, rises with it, and dpdq is at
// least some small positive number everywhere.
type Law interface {
	Loss(q units.GPM) (p units.PSI, dpdq float64)
}

// Outlet is what leaves a node at a gauge pressure: never falling with it, 0 at
// p ≤ 0.
type Outlet interface {
	Flow(p units.PSI) (q units.GPM, dqdp float64)
}

// Source is the pressure a supply has left at a flow: never rising with it, and
// falling without end where it falls at all. A flow below 0 runs back into it.
type Source interface {
	Pressure(q units.GPM) (p units.PSI, dpdq float64)
}

// Known is a law or a source that was measured up to a flow. Past it the solver
// carries it on, and says so in State.
type Known interface {
	Known() units.GPM
}

// State is the solution of a network.
type State struct {
	Pressure []units.PSI // at the nodes
	Flow     []units.GPM // in the links
	Out      []units.GPM // leaves the nodes by outlet and demand; a source's share is negative
	Steps    int         // of Newton's method
	Residual units.GPM   // greatest imbalance at a node

	PastLinks   []int // links that carry more than their law is known to
	PastSources []int // nodes whose source gives more than it is known to
}

// PSIPerFoot is the pressure of a foot of water: 0.4333 psi, as EPANET has it.
const PSIPerFoot = 0.4333

const gpmPerCFS = 448.831 // as EPANET has it

// Rise is the pressure lost by going up.
func Rise(up units.Feet) units.PSI { return units.PSI(PSIPerFoot * float64(up)) }
