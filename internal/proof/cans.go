package proof

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The ways cans are set out.
const (
	CansByGrid  = "grid"  // rows and columns a fixed distance apart, each can for as much ground as the next
	CansByHeads = "heads" // near the heads and midway between them
)

// CansOffer is a layout of catch-cans for an area.
type CansOffer struct {
	Says  string   // how many, how far apart, how long to run
	Rules []string // by which they were set out, with sources
	Audit plan.ID  // its id in the patch
	Area  plan.ID
	Zones []plan.ID // that bring the area water, each to be run by itself for Minutes; by id
	// Minutes is how long each of Zones should run to catch about UsualCatch on average.
	Minutes float64
	Cans    []CanPlace // in walking order
	Patch   plan.Patch // puts them down as an audit that nobody has read yet
	Label   string     // of that step
}

// CanPlace is where a can is to stand.
type CanPlace struct {
	ID     plan.ID
	X, Y   units.Feet
	Number int         // in walking order, from 1
	Reach  int         // heads that reach it
	OfMean units.Ratio // predicted there over the mean of all cans; 0: nothing can be predicted
	Byte   int         // of the map (coverage.MapByte)
	Where  string      // "near 2-3", "between 2-3 and 2-4"; "" on the grid
}
