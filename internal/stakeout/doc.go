// Package stakeout says how each thing of a plan is found on the ground with a tape
// and two helpers, and nothing else: places along an edge and off it, or by two tapes
// from fixed points, with a third distance to check. Distances are rounded as they are
// printed, half an inch (1 cm on a metric plan).
package stakeout

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Plan is the whole stake-out in walking order.
type Plan struct {
	Points []Point // fixed points measured from, by letter
	Flags  []Flag  // in walking order
	Tape   units.Feet
	Left   []Left // what could not be placed by tape
}

// Point is something fixed that is there before the work and can be seen: a corner of
// a building or of paving, a post of the lot. Its letter is the same on every sheet.
type Point struct {
	Letter string
	At     orb.Point
	Name   string // "south-west corner of House"
	Of     plan.Ref
}

// How says by which way a flag is placed.
type How string

// The ways.
const (
	AlongEdge How = "along" // a distance along a straight edge from a point, and square off it
	TwoTapes  How = "tapes" // distances from two points
)

// Flag is one flag to be set: of a head, or of a valve box, a splice box, the backflow
// device, the end of a sleeve.
type Flag struct {
	Of    plan.Ref
	Tag   string // as written on the flag: "3-5", "V3"
	What  string // head | valve | box | backflow | sleeve
	At    orb.Point
	How   How
	From  int        // of Plan.Points: along from it, or the first tape
	To    int        // the point the edge runs to, or the second tape
	A, B  units.Feet // along and off; or the two tapes; rounded as printed
	Right bool       // standing at From and looking to To, it is on the right hand
	Angle units.Degrees
	Edge  string // AlongEdge: "north edge of Front walk"
	Check int    // of Plan.Points, for the check
	C     units.Feet
	Says  string // a sentence to do it by
}

// Left is a thing that no tape reaches, and why.
type Left struct {
	Of  plan.Ref
	Tag string
	Why string
}
