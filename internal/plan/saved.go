package plan

import (
	"errors"
	"fmt"
	"time"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// Saved is a plan as it is kept: the document with its revision.
type Saved struct {
	ID  string
	Rev int64  // counts every step, undo and redo; never goes back
	Doc []byte // canonical document

	Undo string // label of the step an undo takes back; "" when there is none
	Redo string // label of the step a redo brings again; "" when there is none
}

// Listed is one line of the list of plans.
type Listed struct {
	ID       string
	Name     string
	Rev      int64
	SHA256   string    // of the document
	Changed  time.Time // UTC, last step
	Archived time.Time // UTC, when it was put away; zero while it is in use
	Contents Contents
	Counted  bool // Contents is known; not when the document could not be read
	Damaged  bool // the document no longer is what was written
}

// Contents are the few figures that tell one plan of a list from another.
type Contents struct {
	Show                units.System
	Areas, Heads, Zones int
	LotFt2              units.SqFeet // within the property line; 0 when none is drawn
}

// Contents counts what is in the plan.
func (p *Plan) Contents() Contents {
	c := Contents{Show: p.Show, Areas: len(p.Areas), Heads: len(p.Heads), Zones: len(p.Zones)}
	if len(p.Site.Lot) == 0 {
		return c
	}
	if polygon, err := geom.Polygon(p.Site.Lot, nil); err == nil { // a plan read strictly has no other lot
		c.LotFt2 = units.SqFeet(geom.Area(orb.MultiPolygon{polygon}))
	}
	return c
}

// Step is one entry of a plan's history, which is a single line: an undo takes
// back the last step in force whoever made it, and a new step after an undo
// drops those taken back. Number 0 is the making of the plan.
type Step struct {
	Number  int64 // place in the line
	Rev     int64 // revision it made
	Patch   Patch
	Inverse Patch
	Label   string    // what was done, in words: "Move head 2-8"
	At      time.Time // UTC
	Undone  bool      // taken back, and can be done again
}

// PointKind says why a whole document was kept.
type PointKind string

// The kinds of points.
const (
	PointNamed   PointKind = "named"   // the user gave it a name to come back to
	PointHour    PointKind = "hour"    // the last state of an hour in which there was work
	PointDropped PointKind = "dropped" // the last of several undone steps that a new step dropped
	PointBefore  PointKind = "before"  // before a step that changed much at once
)

// Point is an earlier state of a plan that was kept whole, to come back to.
type Point struct {
	ID     int64
	Number int64 // of the step it was the document of, in the line as it then was
	Rev    int64 // revision of the plan when it was kept
	Kind   PointKind
	Name   string    // the user's, or the label of the step that led to it
	At     time.Time // UTC, when that state came to be
}

// Good is the newest state of a damaged plan that is still whole.
type Good struct {
	Doc   []byte
	Step  Step  // the step it is of, without its patches
	Steps int64 // how many later steps cannot be rebuilt
}

// ErrNotFound says that no plan has the id asked for.
var ErrNotFound = errors.New("there is no such plan here; it may have been deleted")

// ErrNothing says that there is no step to undo or to redo.
var ErrNothing = errors.New("there is nothing to take back or to do again")

// ErrNoPoint says that a plan has no such step or point to look at.
var ErrNoPoint = errors.New("this plan has no such earlier state; load its history again")

// ErrNoRoom says that the disk took no more: nothing was stored, and what was
// stored before is whole.
var ErrNoRoom = errors.New("the disk is full, so the change was not saved; free some space and it will be tried again")

// Stale refuses a change that was made on an older revision of the plan than
// the one kept, so that nobody's work is overwritten unseen.
type Stale struct {
	Now int64 // the revision kept
}

// Error says what happened and what to do.
func (s *Stale) Error() string {
	return fmt.Sprintf("the plan was changed meanwhile (it is at revision %d); load it again, then make the change on it", s.Now)
}

// Damaged says that a stored plan no longer is what was written.
type Damaged struct {
	ID, Reason string
}

// Error says which plan is damaged and that it was left alone.
func (d *Damaged) Error() string {
	return fmt.Sprintf("the stored plan %s is damaged (%s); it was left as it is, and the backups beside the data file hold older copies", d.ID, d.Reason)
}
