package proof

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// BuiltThing is a thing whose built place was measured, with its dimensions from fixed
// corners. A sleeve is two, one for each end.
type BuiltThing struct {
	Ref    plan.Ref
	What   string // "Head 3-5", "Valve of zone 3", "Sleeve s2, one end"
	Kind   string // head | valve | box | sleeve
	At     orb.Point
	Was    *orb.Point // where it was drawn; nil: as drawn
	On     string     // civil date
	Moved  string     // "6 in east of where it was drawn"; "" as drawn
	Depth  units.Inches
	Note   string
	Dims   []Dim  // how it is found: one or two, and a check; none where no tape reaches
	Says   string // the same as a sentence, or why there is none
	Status plan.Status
}

// Dim is one dimension: a distance from a fixed point.
type Dim struct {
	Letter string // of the point, the same for all things of one answer
	From   string // its name: "south-west corner of House"
	At     orb.Point
	Feet   units.Feet // rounded as it is printed
	Along  string     // where it is measured along an edge: its name; "" straight
	Off    units.Feet // square off that edge
	Check  bool       // to check the others by
}
