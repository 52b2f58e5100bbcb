package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/sheets"
)

// flow fills list pages from the top down and starts a new one where the next thing
// finds no room.
type flow struct {
	b *builder
	q *page
	y float64 // the top of what is free
}

// list starts a list page of the present sheet, upright on the pack's paper for lists,
// with the sheet's title.
func (b *builder) list() *flow {
	f := &flow{b: b}
	f.next()
	f.heading(b.now.title)
	return f
}

func (f *flow) next() {
	f.q = f.b.newPage(f.b.listed, false)
	f.y = f.q.room.Max[1]
}

func (f *flow) wide() float64 { return f.q.room.Max[0] - f.q.room.Min[0] }

// keep starts a new page unless there is so much room on this one.
func (f *flow) keep(high float64) {
	if f.y-high < f.q.room.Min[1] && f.y < f.q.room.Max[1] {
		f.next()
	}
}

func (f *flow) heading(s string) { f.lines(s, 14, true, 0, 60); f.gap(4) }
func (f *flow) section(s string) { f.gap(6); f.lines(s, 11, true, 0, 44); f.gap(2) }
func (f *flow) para(s string)    { f.lines(s, 9.5, false, 0, 0); f.gap(3) }

func (f *flow) gap(high float64) { f.y -= high }

func (f *flow) lines(s string, size float64, bold bool, in, keep float64) {
	f.keep(max(keep, size*1.3))
	for _, l := range drawing.Wrap(s, size, bold, f.wide()-in) {
		f.keep(size * 1.3)
		f.y -= size * 1.3
		f.q.add(&drawing.Text{At: orb.Point{f.q.room.Min[0] + in, f.y + size*0.3}, Size: size, Bold: bold, S: l})
	}
}

// bullets are points after one another, each with a mark of its own.
func (f *flow) bullets(points ...string) {
	for _, s := range points {
		f.keep(13)
		f.q.add(&drawing.Arc{Centre: orb.Point{f.q.room.Min[0] + 5, f.y - 7}, Radius: 1.6, SweepDeg: 360, Fill: drawing.Black})
		f.lines(s, 9.5, false, 14, 0)
		f.gap(2)
	}
}

// checks are things to do or look at, each with a box to tick.
func (f *flow) checks(points ...string) {
	for _, s := range points {
		f.keep(14)
		x, y := f.q.room.Min[0]+1, f.y-11
		f.q.add(&drawing.Area{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.8}, Rings: [][]orb.Point{{{x, y}, {x + 9, y}, {x + 9, y + 9}, {x, y + 9}}}})
		f.lines(s, 9.5, false, 18, 0)
		f.gap(3)
	}
}

// caution is what can hurt somebody, in a box of its own.
func (f *flow) caution(s string) {
	lines := drawing.Wrap(s, 9.5, true, f.wide()-16)
	high := float64(len(lines))*12.4 + 10
	f.keep(high + 4)
	x0, x1, y1 := f.q.room.Min[0], f.q.room.Max[0], f.y
	f.q.add(&drawing.Area{Pen: drawing.Pen{Ink: drawing.Black, Width: 1.4}, Rings: [][]orb.Point{{{x0, y1 - high}, {x1, y1 - high}, {x1, y1}, {x0, y1}}}})
	for i, l := range lines {
		f.q.add(&drawing.Text{At: orb.Point{x0 + 8, y1 - 5 - 12.4*float64(i) - 9}, Size: 9.5, Bold: true, S: l})
	}
	f.y -= high
	f.gap(6)
}

// grid is a table on paper.
type grid struct {
	Head    []string
	Numbers []bool    // columns set to the right; nil: none
	Shares  []float64 // of the width; nil: by what is in them
	Rows    [][]string
	Heavy   map[int]bool // rows in bold, as of a total
}

// gridOf is a list as a table on paper, of the columns named, all when none is.
func gridOf(t sheets.Table, columns ...string) grid {
	var g grid
	var of []int
	for i, c := range t.Columns {
		take := len(columns) == 0
		for _, name := range columns {
			take = take || name == c.Name
		}
		if take {
			of = append(of, i)
			g.Head = append(g.Head, c.Name)
		}
	}
	for _, row := range t.Rows {
		var cells []string
		for _, i := range of {
			s := ""
			if i < len(row) {
				s = row[i].String()
			}
			cells = append(cells, s)
		}
		g.Rows = append(g.Rows, cells)
	}
	return g
}

// table sets a table, its head again on every page it goes on to. Cells are wrapped.
func (f *flow) table(g grid) {
	shares := g.Shares
	if shares == nil {
		shares = make([]float64, len(g.Head))
		for i, h := range g.Head {
			shares[i] = float64(max(len(h)/2, 4))
			for _, r := range g.Rows {
				shares[i] = max(shares[i], float64(min(len(r[i]), 40)))
			}
		}
	}
	sum := 0.0
	for _, s := range shares {
		sum += s
	}
	const size, pad, line = 8.5, 3.0, 10.6
	row := func(cells []string, bold bool) {
		var wrapped [][]string
		most := 1
		for i, c := range cells {
			w := drawing.Wrap(c, size, bold, f.wide()*shares[i]/sum-2*pad)
			wrapped = append(wrapped, w)
			most = max(most, len(w))
		}
		high := float64(most)*line + 3
		f.keep(high)
		x := f.q.room.Min[0]
		for i, lines := range wrapped {
			w := f.wide() * shares[i] / sum
			for k, l := range lines {
				t := &drawing.Text{At: orb.Point{x + pad, f.y - line*float64(k) - line + 2}, Size: size, Bold: bold, S: l}
				if g.Numbers != nil && g.Numbers[i] {
					t.At[0], t.Anchor = x+w-pad, drawing.End
				}
				f.q.add(t)
			}
			x += w
		}
		f.y -= high
		f.q.add(&drawing.Line{Pen: drawing.Pen{Ink: drawing.Pale, Width: 0.5}, Points: []orb.Point{{f.q.room.Min[0], f.y}, {f.q.room.Max[0], f.y}}})
	}
	f.keep(40)
	row(g.Head, true)
	for i, r := range g.Rows {
		at := f.q
		f.keep(line + 3)
		if f.q != at {
			row(g.Head, true)
		}
		row(r, g.Heavy[i])
	}
	f.gap(6)
}
