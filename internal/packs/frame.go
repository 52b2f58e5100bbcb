package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

const (
	margin    = 28.0 // what printers can print on any sheet, points
	blockHigh = 44.0 // of the title block
	listInset = 10.0 // of lists inside the frame
)

// frameRoom is what the frame leaves of a page.
func frameRoom(q *page, _ bool) orb.Bound {
	return orb.Bound{Min: orb.Point{margin, margin + blockHigh + 6}, Max: orb.Point{q.Width - margin, q.Height - margin}}
}

// frame draws the title block of a page: what it is, to which scale, when, and that it
// is to be printed at 100 %.
func (b *builder) frame(q *page, number, of int) {
	q.Name = q.sheet.code + " " + q.sheet.title
	if q.part > 0 {
		q.Name += fmt.Sprintf(", page %d", q.part+1)
	}
	q.add(&drawing.Text{At: orb.Point{margin, margin + 10}, Size: 9, Bold: true, S: b.p.Name + " · " + q.Name})
	q.add(&drawing.Text{At: orb.Point{q.Width - margin, margin + 10}, Size: 8, Anchor: drawing.End, S: fmt.Sprintf("page %d of %d", number, of)})
}
