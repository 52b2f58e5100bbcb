package plan

import (
	"errors"
	"fmt"
	"time"
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
	ID      string
	Name    string
	Rev     int64
	Changed time.Time // UTC, last step
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

// ErrNotFound says that no plan has the id asked for.
var ErrNotFound = errors.New("there is no such plan here; it may have been deleted")

// ErrNothing says that there is no step to undo or to redo.
var ErrNothing = errors.New("there is nothing to take back or to do again")

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
