package geom

import "github.com/paulmach/orb"

// Reason is what kind of thing is wrong with a shape.
type Reason string

// The reasons, in the order they are looked for.
const (
	TooFew    Reason = "too_few"    // fewer corners than enclose anything
	TooMany   Reason = "too_many"   // more corners than the program takes
	NotFinite Reason = "not_finite" // a coordinate is not a number
	TooFar    Reason = "too_far"    // beyond Limit
	BadBulge  Reason = "bad_bulge"  // not a number, or nearly a whole circle
	Repeated  Reason = "repeated"   // a corner in the same place as the one before, or within Grid of it
	NoArea    Reason = "no_area"    // nothing enclosed
	Spike     Reason = "spike"      // an edge runs back over the one before
	Crosses   Reason = "crosses"    // two edges cross
	Touches   Reason = "touches"    // two edges meet or run along one another

	HoleOutside Reason = "hole_outside" // a hole lies outside the outline
	HoleCrosses Reason = "hole_crosses" // a hole meets or crosses the outline
	HolesMeet   Reason = "holes_meet"   // two holes overlap, meet, or lie in one another
)

// Fault is what is wrong with a shape and where.
type Fault struct {
	Reason   Reason
	Sentence string    // what is wrong and what to do, for the user
	At       orb.Point // the place, in feet; always finite
	Vertex   int       // the corner, from 0, or the one the faulty edge leaves
	Ring     int       // 0: the outline; n: the nth hole
}

// Error returns the sentence.
func (f *Fault) Error() string { return f.Sentence }
