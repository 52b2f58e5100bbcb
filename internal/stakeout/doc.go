// Package stakeout says how each thing of a plan is found on the ground with a tape
// and two helpers, and nothing else: places along an edge and off it, or by two tapes
// from fixed points, with a third distance to check. Distances are rounded as they are
// printed, half an inch (1 cm on a metric plan).
//
// Fixed points are what is there before the work: corners of buildings, of paving that
// stands, ends and corners of walls and fences, and last the posts of the lot, which may
// be lost. New things and things that are to go are never measured from. No tape runs
// through a building, wall, fence, hedge or trunk, nor is longer than the tape.
//
// Angles, limits and penalties are chosen unless they name a source; what they come to
// is measured by the test that measures a yard again from the printed words.
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
	Out    []Old  // heads that are there and are to be taken out; they get no flag
	Own    string // what the crew sets first where the plan has too little that is fixed; "" nothing
	Start  string // where the walk begins, in words
}

// Point is something fixed that is there before the work and can be seen: a corner of
// a building or of paving, a post of the lot. Its letter is the same on every sheet.
type Point struct {
	Letter string
	At     orb.Point
	Name   string // "south-west corner of House"
	Of     plan.Ref
	Post   bool // a post of the lot: to be found first, never guessed
	Own    bool // a stake that the crew sets
	Flag   bool // a flag that was set before, where nothing fixed is in sight: Letter is its tag
}

// How says by which way a flag is placed.
type How string

// The ways.
const (
	AlongEdge How = "along" // a distance along a straight edge from a point, and square off it
	TwoTapes  How = "tapes" // distances from two points
)

// Flag is one flag to be set: of a head, or of a valve box, a splice box, the backflow
// device, the end of a sleeve, the controller.
type Flag struct {
	Of    plan.Ref
	Tag   string // as written on the flag: "3-5", "V3"
	What  string // head | valve | box | backflow | sleeve | controller
	At    orb.Point
	How   How
	From  int        // of Plan.Points: along from it, or the first tape
	To    int        // the point the edge runs to, or the second tape
	A, B  units.Feet // along and off; or the two tapes; rounded as printed
	Right bool       // standing at From and looking to To, it is on the right hand
	Angle units.Degrees
	Edge  string // AlongEdge: "north edge of Front walk"
	Check int    // of Plan.Points, for the check; -1: none
	Near  int    // of Plan.Flags, an earlier flag the check is measured from instead; -1: none
	C     units.Feet
	Half  bool   // the check tells a slip in the reading along alone; the other is short
	Says  string // a sentence to do it by
}

// Checked reports whether the flag has a check distance.
func (f *Flag) Checked() bool { return f.Check >= 0 || f.Near >= 0 }

// CheckName is what the check is measured from: a letter, or "flag 1-3"; "" none.
func (s *Plan) CheckName(f *Flag) string {
	switch {
	case f.Check >= 0:
		return s.Points[f.Check].Called()
	case f.Near >= 0:
		return "flag " + s.Flags[f.Near].Tag
	}
	return ""
}

// Called is how a sentence names a point: "A", or "flag 1-3".
func (q Point) Called() string {
	if q.Flag {
		return "flag " + q.Letter
	}
	return q.Letter
}

// Left is a thing that no tape reaches, and why.
type Left struct {
	Of   plan.Ref
	Tag  string
	What string // as of Flag
	At   orb.Point
	Why  string
}

// Old is a head that is to be taken out.
type Old struct {
	Of    plan.Ref
	Tag   string
	At    orb.Point
	Where string // "about 6 ft north of the south corner of House"
}

// Target is something that gets a flag beside what the plan itself says: a caller's own
// numbering of sleeve ends.
type Target struct {
	Of   plan.Ref
	Tag  string
	What string
	At   orb.Point
}

// Reach is how long the tape is, in feet: a long tape of the trade. Chosen.
const Reach units.Feet = 100

// Tolerance is by how much a check may be off before both tapes are read again: three
// inches, what a head may stand off its place. Chosen.
const Tolerance units.Feet = 0.25
