// Package packs makes the papers that a system is built, kept and sold from: three
// packs of sheets, for the crew, the owner and the office, composed of draw lists. A
// sheet reads what the stages found; nothing about water, pipe or money is reckoned here.
package packs

import (
	"context"

	"evenfall/internal/design"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/season"
)

// Kind is whom a pack is for.
type Kind string

// The packs.
const (
	Crew   Kind = "crew"
	Owner  Kind = "owner"
	Office Kind = "office"
)

// Asked is how a pack is wanted.
type Asked struct {
	Kind     Kind
	Paper    PaperID // "": Letter, A4 for a metric plan
	Scale    int     // of plans, 1 to so many; 0: the largest of Scales that fits one sheet
	Date     string  // civil date printed on every sheet, as 2026-05-01; "" prints none
	Begins   string  // the day that a calendar of the program begins on; "": Date
	Revision string  // as the caller counts them; "" prints none
	Draws    int     // installations of the office's field estimate; 0: coverage.UsualDraws, less: none is made
}

// Input is what a pack is made from.
type Input struct {
	Plan   *plan.Plan
	Design *design.Design
	// Program is the watering plan, for what is written from it (Kind.ReadsProgram,
	// File.Program); nil: there is none. Watered works it out.
	Program   *season.Program
	NoProgram string // why there is none, a sentence; "" with none: nobody asked
	// Photo finds a photograph by its checksum, for the owner's book: its media type and
	// its file. An error leaves it to the list alone. nil: none are at hand.
	Photo func(sha256 string) (kind string, file []byte, err error)
}

// Made is a pack ready to be written.
type Made struct {
	Document *drawing.Document
	Sheets   []SheetInfo
	Unplaced int   // labels of drawings that stand in a list alone, which the sheet says
	Fits     []Fit // what each scale comes to; none in a pack without a plan of the ground
}

// SheetInfo is one sheet of a pack as it is listed.
type SheetInfo struct {
	Code  string // C3
	Title string
	First int // of Document.Pages
	Pages int
	Holds string // what it is for, in a few words
	Scale string // of its plans, in words: "1 in = 20 ft"; "" where it has none
}

// Tell is told how far a pack is: what is being done, and the share that is done.
type Tell func(step string, share float64)

// Make makes a pack. The same question has the same answer, byte for byte. tell may be
// nil. The error is the context's, or says what was asked that cannot be.
func Make(ctx context.Context, in Input, asked Asked, tell Tell) (*Made, error) {
	b, err := newBuilder(ctx, in, asked)
	if err != nil {
		return nil, err
	}
	list := sheetsOf(asked.Kind)
	for i, s := range list {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		from, part := float64(i)/float64(len(list)), 1/float64(len(list))
		b.tell = func(step string, share float64) {
			if tell != nil {
				tell(step, from+part*share)
			}
		}
		b.tell(s.title, 0)
		if err := b.make(s); err != nil {
			return nil, err
		}
	}
	return b.finish(), nil
}
