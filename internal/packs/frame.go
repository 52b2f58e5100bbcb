package packs

import (
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// Measures of the frame about every page, points: chosen.
const (
	margin    = 28.0 // what printers can print on any sheet
	listInset = 10.0 // of lists inside the frame
	planInset = 6.0  // of drawings inside the frame
	listBlock = 36.0 // the title block of a list
	planBlock = 58.0 // the title block of a drawing on the smallest paper
	smallSize = 6.5  // of small print in the frame
	noteMost  = 6    // lines of small print over the title block
)

// enlarged is how much larger letters and block are on large sheets, which are read
// from further off.
func (q *page) enlarged() float64 {
	switch short := min(q.Width, q.Height); {
	case short > 1500:
		return 1.6
	case short > 700:
		return 1.15
	}
	return 1
}

// blockHigh is the height of the title block.
func (q *page) blockHigh() float64 {
	if !q.across {
		return listBlock
	}
	return planBlock * q.enlarged()
}

// lettersNote tells whoever reads a name of question marks that the plan knows better.
const lettersNote = "Some letters of this plan's names are of scripts that these sheets have no type for: they are printed as question marks. The plan has them whole."

// frameNotes are the lines of small print over the title block: what is assumed, and
// what cannot be printed.
func (b *builder) frameNotes(q *page) []string {
	says := strings.TrimSpace(b.supply + " " + b.letters)
	if says == "" {
		return nil
	}
	size, wide := smallSize*q.enlarged(), q.Width-2*margin-2*q.inset()
	lines := drawing.Wrap(says, size, true, wide)
	if len(lines) > noteMost {
		lines = lines[:noteMost]
		lines[noteMost-1] = cut(lines[noteMost-1]+" …", size, true, wide)
	}
	return lines
}

// inset is how far what stands on a page keeps off its border.
func (q *page) inset() float64 {
	if q.across {
		return planInset
	}
	return listInset
}

// frameRoom is what the frame leaves of a page. Drawings leave a line for what did not
// find room on them.
func (b *builder) frameRoom(q *page) orb.Bound {
	k := q.enlarged()
	foot := margin + q.blockHigh() + float64(len(b.frameNotes(q)))*smallSize*leading*k
	inset := q.inset()
	if q.across {
		foot += smallSize * leading * k
	}
	return orb.Bound{Min: orb.Point{margin + inset, foot + 5}, Max: orb.Point{q.Width - margin - inset, q.Height - margin - inset}}
}

// frame draws what is about a page: border, fold marks, what is assumed, and the title
// block, which says what it is, to which scale, when, and which of how many.
func (b *builder) frame(q *page, number, of int) {
	q.Name = q.sheet.code + " " + q.sheet.title
	if q.part > 0 {
		q.Name += fmt.Sprintf(", page %d", q.part+1)
	}
	k := q.enlarged()
	border := orb.Bound{Min: orb.Point{margin, margin}, Max: orb.Point{q.Width - margin, q.Height - margin}}
	block := orb.Bound{Min: border.Min, Max: orb.Point{border.Max[0], margin + q.blockHigh()}}
	q.add(
		box(drawing.Pen{Ink: drawing.Black, Width: 1 * k}, 0, border),
		stroke(drawing.Black, 0.8*k, block.Min[0], block.Max[1], block.Max[0], block.Max[1]),
	)
	q.foldMarks()
	notes := b.frameNotes(q)
	y := block.Max[1] + float64(len(notes))*smallSize*leading*k
	if s := b.missing(q); s != "" {
		q.add(&drawing.Text{At: orb.Point{margin + q.inset(), y + 0.35*smallSize*k}, Size: smallSize * k, Italic: true,
			S: cut(s, smallSize*k, false, q.Width-2*margin-2*q.inset())})
	}
	for _, l := range notes {
		y -= smallSize * leading * k
		q.add(&drawing.Text{At: orb.Point{margin + q.inset(), y + 0.35*smallSize*k}, Size: smallSize * k, Bold: true, S: l})
	}
	at := place{b: b, q: q, number: number, of: of, k: k}
	if q.across {
		at.planBlock(block)
	} else {
		at.listBlock(block)
	}
}

// missing says what a drawing does not show.
func (b *builder) missing(q *page) string {
	s := q.says
	switch {
	case q.unplaced == 1:
		s = joined(s, "1 label found no room here")
	case q.unplaced > 1:
		s = joined(s, fmt.Sprintf("%d labels found no room here", q.unplaced))
	}
	if q.unplaced > 0 {
		if q.unplacedIn != "" {
			s += ": see the list " + q.unplacedIn
		}
		s += "."
	}
	return s
}

// foldMarks are ticks at the edge of large sheets where they are folded to the size of
// a list, the title block outside.
func (q *page) foldMarks() {
	w, h := q.Width, q.Height
	var across, up []float64
	switch {
	case !q.across || min(w, h) < 700:
		return
	case min(w, h) > 1500: // four by two, 9 by 12 in
		across, up = []float64{w / 4, w / 2, w * 3 / 4}, []float64{h / 2}
	default:
		across = []float64{w / 2}
	}
	const from, to = margin * 0.35, margin * 0.75
	for _, x := range across {
		q.add(stroke(drawing.Grey, 0.5, x, from, x, to), stroke(drawing.Grey, 0.5, x, h-from, x, h-to))
	}
	for _, y := range up {
		q.add(stroke(drawing.Grey, 0.5, from, y, to, y), stroke(drawing.Grey, 0.5, w-from, y, w-to, y))
	}
}

// stroke is a straight line.
func stroke(ink drawing.Ink, width, x0, y0, x1, y1 float64) *drawing.Line {
	return &drawing.Line{Pen: drawing.Pen{Ink: ink, Width: width}, Points: []orb.Point{{x0, y0}, {x1, y1}}}
}

// cut is a text no wider than so much, with dots for what is left out.
func cut(s string, size float64, bold bool, wide float64) string {
	s = drawing.Printable(s)
	if (&drawing.Text{S: s, Size: size, Bold: bold}).Width() <= wide {
		return s
	}
	runes := []rune(s)
	for n := len(runes) - 1; n > 0; n-- {
		if t := string(runes[:n]) + "…"; (&drawing.Text{S: t, Size: size, Bold: bold}).Width() <= wide {
			return t
		}
	}
	return ""
}
