package pipesize

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// Tree is pipes that hang from one inlet, each with the sizes it may take. Its
// flows are fixed, so that every size has a known cost, loss and velocity. A
// choice must leave every outlet a pressure within its range and hold each
// zone's spread, and no pipe may be larger than the one before it.
type Tree struct {
	Inlet units.PSI // pressure at the inlet
	Pipes []Branch  // parents stand before what they feed
	Zones []Spread
	// Free lets pipes grow downstream: asked only to find what binds.
	Free bool
}

// Branch is one pipe of a tree.
type Branch struct {
	Up    int // the pipe that feeds it; -1: the inlet
	Zone  int // index into Zones; -1: the main
	Sizes []Size
	Out   *Out // what is drawn at its far end
}

// Size is one size that a pipe may take.
type Size struct {
	Rank float64   // what is compared downstream: its nominal size
	Cost float64   // of the whole pipe
	Loss units.PSI // from end to end, with its fittings and the rise of the ground
}

// Out is the range of pressure at an outlet.
type Out struct {
	Least  units.PSI
	Most   units.PSI // +Inf for none
	After  units.PSI // lost on the way out: the range is behind it
	Spread bool      // counts in its zone's spread
}

// Spread is the limit of a zone, which hangs by one pipe: the greatest difference of pressure between the outlets of a zone
// that count in it; +Inf for none.
type Spread struct{ Most units.PSI }

// slack is what two sums of the same losses in another order may differ by, in psi.
const slack = 1e-9

// check panics on a tree that was put together wrongly: a programmer's fault.
func (t *Tree) check() {
	begun := make([]bool, len(t.Zones))
	for i, b := range t.Pipes {
		if b.Zone >= 0 && (b.Up < 0 || t.Pipes[b.Up].Zone != b.Zone) {
			if begun[b.Zone] {
				panic(fmt.Sprintf("pipesize: zone %d hangs from two pipes", b.Zone))
			}
			begun[b.Zone] = true
		}
		if b.Up >= i || b.Up < -1 || b.Zone < -1 || b.Zone >= len(t.Zones) {
			panic(fmt.Sprintf("pipesize: pipe %d hangs from %d in zone %d", i, b.Up, b.Zone))
		}
		for _, s := range b.Sizes {
			if math.IsNaN(float64(s.Loss)) || math.IsInf(float64(s.Loss), 0) || math.IsNaN(s.Cost) || math.IsInf(s.Cost, 0) || s.Cost < 0 {
				panic(fmt.Sprintf("pipesize: pipe %d costs %g and loses %g psi", i, s.Cost, s.Loss))
			}
		}
	}
}

// Cost is what a choice costs.
func (t *Tree) Cost(choice []int) float64 {
	sum := 0.0
	for i, c := range choice {
		sum += t.Pipes[i].Sizes[c].Cost
	}
	return sum
}
