package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// Measures of tables, points: chosen.
const (
	cellSize  = 8.5
	smallCell = 7.0
	cellPad   = 3.5 // at the left and right of a cell
	cellLine  = 10.6
	rowPad    = 2.2 // over and under the words of a row
	tickRoom  = 16.0
	headMost  = 6        // lines of the head
	headPaper = 0xececec // behind the head and groups
)

// least is how high the words of a row are.
func (r *setRow) least(line float64) float64 {
	most := 1
	for _, c := range r.cells {
		most = max(most, len(c))
	}
	return float64(most)*line + 2*rowPad
}

// setRow is a row wrapped to its columns.
type setRow struct {
	cells [][]string
	high  float64
	bold  bool
	group bool
	index int // of grid.Rows; -1: the head
}

// table sets a table, its head again on every page it goes on to. Cells are wrapped;
// a row goes whole to the next page unless it is higher than one.
func (f *flow) table(g grid) {
	if len(g.Head) == 0 {
		return
	}
	in := 0.0
	if g.Ticks {
		in += tickRoom
	}
	if g.Mark != nil {
		in += tickRoom
	}
	size := cellSize
	if g.Small {
		size = smallCell
	}
	widths := g.widths(f.wide()-in, &size)
	line := cellLine * size / cellSize
	head, rows := g.wrapped(widths, size, line, f.wide())
	t := tableSetter{f: f, g: &g, widths: widths, size: size, line: line}
	t.wide = in
	for _, w := range widths {
		t.wide += w
	}
	for i := range rows {
		need := keptTogether(rows, i, &g)
		switch room := f.y - f.bottom; {
		case i == 0: // not with one row alone, if more fit a page
			for k := 1; k < min(3, len(rows)); k++ {
				need = max(need, sumHigh(rows[:k+1]))
			}
			if head.high+need > (f.top-f.bottom)/3 {
				need = rows[0].high
			}
			f.keep(min(head.high+need, f.top-f.bottom))
			t.head(head)
		case need > room && f.y < f.top:
			t.close()
			f.next()
			t.head(head)
		}
		if f.full {
			return
		}
		t.row(rows[i], head)
	}
	if len(rows) == 0 {
		f.keep(head.high)
		t.head(head)
	}
	t.close()
	f.gap(4)
	if g.Note != "" {
		f.note(g.Note)
	}
	f.gap(5)
}

// wrapped are the head and the rows of a table wrapped to its columns, groups across all
// of the flow, whose width is wide.
func (g *grid) wrapped(widths []float64, size, line, wide float64) (head setRow, rows []setRow) {
	wrap := func(cells []string, bold bool, index int) setRow {
		r := setRow{bold: bold, index: index, cells: make([][]string, len(g.Head))}
		for i := range g.Head {
			if i < len(cells) && cells[i] != "" {
				r.cells[i] = drawing.Wrap(cells[i], size, bold, widths[i]-2*cellPad)
			}
		}
		r.high = max(r.least(line), g.Least)
		return r
	}
	head = wrap(g.Head, true, -1)
	for i, c := range head.cells {
		if len(c) > headMost {
			c[headMost-1] = cut(c[headMost-1]+"…", size, true, widths[i]-2*cellPad)
			head.cells[i] = c[:headMost]
		}
	}
	head.high = head.least(line)
	rows = make([]setRow, len(g.Rows))
	for i, cells := range g.Rows {
		if !g.Groups[i] {
			rows[i] = wrap(cells, g.Heavy[i], i)
			continue
		}
		s := ""
		if len(cells) > 0 {
			s = cells[0]
		}
		words := drawing.Wrap(s, size, true, wide-2*cellPad)
		rows[i] = setRow{bold: true, group: true, index: i, cells: [][]string{words}, high: float64(len(words))*line + 2*rowPad}
	}
	return head, rows
}

// keptTogether is how high a row is with what must stand on its page too: a group with
// its first row, a row with a total right after it, the last row but one with the last.
func keptTogether(rows []setRow, i int, g *grid) float64 {
	need := rows[i].high
	for k := i + 1; k < len(rows) && k < i+4; k++ {
		last := k == len(rows)-1 && k-i == 1
		if !rows[k-1].group && !g.Heavy[rows[k].index] && !last {
			break
		}
		need += rows[k].high
	}
	return need
}

func sumHigh(rows []setRow) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += r.high
	}
	return sum
}

type tableSetter struct {
	f          *flow
	g          *grid
	widths     []float64
	size, line float64
	wide       float64
}

func (t *tableSetter) rule(width float64, ink drawing.Ink) {
	f := t.f
	f.add(&drawing.Line{Pen: drawing.Pen{Ink: ink, Width: width}, Points: []orb.Point{{f.x0, f.y}, {f.x0 + t.wide, f.y}}})
}

func (t *tableSetter) paper(high float64) {
	f := t.f
	f.add(box(drawing.Pen{}, drawing.RGB(headPaper), orb.Bound{Min: orb.Point{f.x0, f.y - high}, Max: orb.Point{f.x0 + t.wide, f.y}}))
}

func (t *tableSetter) head(r setRow) {
	t.paper(r.high)
	most := 0
	for _, c := range r.cells {
		most = max(most, len(c))
	}
	for i := range r.cells { // heads stand on their lower line
		for len(r.cells[i]) < most {
			r.cells[i] = append([]string{""}, r.cells[i]...)
		}
	}
	t.words(r)
	t.f.y -= r.high
	t.rule(0.9, drawing.Black)
}

// close draws the line under the last row of a page.
func (t *tableSetter) close() { t.rule(0.6, drawing.Black) }

// row sets one row, over several pages when it is higher than one.
func (t *tableSetter) row(r, head setRow) {
	f := t.f
	for r.high > f.y-f.bottom && !f.full {
		n := int((f.y - f.bottom - 2*rowPad) / t.line)
		if n < 1 {
			if f.y >= f.top-head.high-1 {
				return // no line fits a whole page
			}
			n = 0
		}
		if n > 0 {
			part, rest := r, r
			part.cells, rest.cells = make([][]string, len(r.cells)), make([][]string, len(r.cells))
			most := 0
			for i, c := range r.cells {
				k := min(n, len(c))
				part.cells[i], rest.cells[i] = c[:k], c[k:]
				most = max(most, len(c)-k)
			}
			part.high, rest.high = float64(n)*t.line+2*rowPad, float64(most)*t.line+2*rowPad
			t.words(part)
			f.y -= part.high
			r = rest
		}
		t.close()
		f.next()
		if !f.full {
			t.head(head)
		}
	}
	switch {
	case r.group:
		t.paper(r.high)
	case r.bold && r.index > 0:
		t.rule(0.8, drawing.Black)
	}
	t.words(r)
	f.y -= r.high
	t.rule(0.4, drawing.Pale)
}

func (t *tableSetter) words(r setRow) {
	f, g := t.f, t.g
	if spare := r.high - r.least(t.line); spare > 0 { // a row to be written in by hand
		f.y -= spare / 2
		defer func() { f.y += spare / 2 }()
	}
	middle := f.y - rowPad - t.line/2 - 0.2
	x := f.x0
	if r.group {
		for k, l := range r.cells[0] {
			f.add(&drawing.Text{At: orb.Point{x + cellPad, f.y - rowPad - t.line*float64(k+1) + t.size*0.3}, Size: t.size, Bold: true, S: l})
		}
		return
	}
	if g.Ticks {
		if r.index >= 0 && !g.Heavy[r.index] {
			f.add(tickBox(orb.Point{x + 7, middle}, 8))
		}
		x += tickRoom
	}
	if g.Mark != nil {
		if r.index >= 0 {
			f.add(g.Mark(r.index, orb.Point{x + 8, middle})...)
		}
		x += tickRoom
	}
	for i, lines := range r.cells {
		w := t.widths[i]
		for k, l := range lines {
			if l == "" {
				continue
			}
			s := &drawing.Text{At: orb.Point{x + cellPad, f.y - rowPad - t.line*float64(k+1) + t.size*0.3}, Size: t.size, Bold: r.bold || r.index < 0, S: l}
			if g.Numbers != nil && g.Numbers[i] {
				s.At[0], s.Anchor = x+w-cellPad, drawing.End
			}
			f.add(s)
		}
		x += w
	}
}
