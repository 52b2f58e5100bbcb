package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/units"
)

// detailScales are what details are drawn at, largest first: the usual ones of
// drawings in feet, and of ISO 5455.
func detailScales(sys units.System) []Scale {
	var out []Scale
	if sys == units.Metric {
		for _, n := range []int{5, 10, 20, 25, 50, 100, 200, 500} {
			out = append(out, Scale{n, fmt.Sprintf("1:%d", n)})
		}
		return out
	}
	for _, s := range []struct {
		to   int
		inch string
	}{{4, "3"}, {6, "2"}, {8, "1 1/2"}, {12, "1"}, {16, "3/4"}, {24, "1/2"}, {48, "1/4"}, {96, "1/8"}, {192, "1/16"}, {384, "1/32"}} {
		out = append(out, Scale{s.to, s.inch + " in = 1 ft"})
	}
	return out
}

const (
	dimSize    = 7.2 // of letters on details, points
	detailNote = 8.0
	detailLine = 10.2
	titleHigh  = 34.0
	tellLine   = 8.8
	tellWide   = 98.0 // of a column of leaders
)

// notesHigh is how high the notes are, so wide.
func (d *detail) notesHigh(wide float64) float64 {
	high := 0.0
	for _, n := range d.notes {
		high += float64(len(drawing.Wrap(n, detailNote, false, wide-10)))*detailLine + 2
	}
	return high
}

// columns are the widths of leaders' columns at the left and right, wider where texts
// are many or long for so much height.
func (d *detail) columns(wide, high float64) (left, right float64) {
	for _, side := range []bool{true, false} {
		some := false
		w := min(max(tellWide, wide*0.2), 150)
		for ; ; w += 12 {
			sum := 0.0
			for _, t := range d.tells {
				if t.left == side {
					some = true
					sum += told{lines: t.wrapped(w, tellMost)}.high()
				}
			}
			if sum <= high || w >= wide*0.4 {
				break
			}
		}
		if some && side {
			left = w
		} else if some {
			right = w
		}
	}
	return left, right
}

// place draws a detail into a cell of a page, its notes so high at the foot of it.
func (d *detail) place(q *page, cell orb.Bound, number int, notes float64, sys units.System) Scale {
	const pad = 6.0
	inside := orb.Bound{Min: orb.Point{cell.Min[0] + pad, cell.Min[1] + pad + notes + titleHigh}, Max: orb.Point{cell.Max[0] - pad, cell.Max[1] - pad}}
	wide, high := inside.Max[0]-inside.Min[0], inside.Max[1]-inside.Min[1]
	left, right := d.columns(wide, high)
	w, h := d.box.Max[0]-d.box.Min[0], d.box.Max[1]-d.box.Min[1]
	var scale Scale
	for _, scale = range detailScales(sys) {
		if per := scale.perFoot() / 12; w*per <= wide-left-right && h*per <= high {
			break
		}
	}
	per := scale.perFoot() / 12
	spare := (wide - left - right - w*per) / 2
	x0, y0 := inside.Min[0]+left+spare, inside.Min[1]+(high-h*per)/2
	v := &drawing.View{
		Box:    orb.Bound{Min: orb.Point{x0, y0}, Max: orb.Point{x0 + w*per, y0 + h*per}},
		Middle: ft(d.box.Center()[0], d.box.Center()[1]), PerFoot: scale.perFoot(), Items: d.items,
	}
	q.add(v)
	on := func(in orb.Point) orb.Point { return v.ToPage(ft(in[0], in[1])) }
	texts := labelling{q: q, inside: inside}
	d.point(&texts, on, left, right, x0-4, x0+w*per+4)
	for _, m := range d.dims {
		m.draw(&texts, on)
	}
	for _, s := range d.words {
		s.set(&texts, on(s.at), x0+w*per)
	}
	d.under(q, cell, number, notes, scale)
	return scale
}

// under sets the title with its number and scale, and the notes.
func (d *detail) under(q *page, cell orb.Bound, number int, notes float64, scale Scale) {
	const pad, r = 6.0, 10.0
	y := cell.Min[1] + pad + notes + titleHigh - 18
	c := orb.Point{cell.Min[0] + pad + r, y}
	q.add(&drawing.Arc{Pen: cutPen, Centre: c, Radius: r, SweepDeg: 360},
		&drawing.Text{At: orb.Point{c[0], y - 4}, Size: 11, Bold: true, Anchor: drawing.Middle, S: fmt.Sprint(number)},
		&drawing.Text{At: orb.Point{c[0] + r + 7, y + 2}, Size: 10.5, Bold: true, S: cut(d.title, 10.5, true, cell.Max[0]-pad-c[0]-r-7)},
		&drawing.Line{Pen: cutPen, Points: []orb.Point{{c[0] + r, y - 1.5}, {cell.Max[0] - pad, y - 1.5}}},
		&drawing.Text{At: orb.Point{c[0] + r + 7, y - 10.5}, Size: 8, S: cut(d.what, 8, false, cell.Max[0]-pad-c[0]-r-7-(&drawing.Text{S: ", " + scale.Name, Size: 8}).Width()) + ", " + scale.Name})
	y = cell.Min[1] + pad + notes
	for _, n := range d.notes {
		for i, l := range drawing.Wrap(n, detailNote, false, cell.Max[0]-cell.Min[0]-2*pad-10) {
			if y -= detailLine; y < cell.Min[1]+pad/2 {
				return // of names without end
			}
			if i == 0 {
				q.add(&drawing.Arc{Fill: drawing.Black, Centre: orb.Point{cell.Min[0] + pad + 3, y + 5}, Radius: 1.3, SweepDeg: 360})
			}
			q.add(&drawing.Text{At: orb.Point{cell.Min[0] + pad + 10, y + 2.4}, Size: detailNote, S: l})
		}
		y -= 2
	}
}
