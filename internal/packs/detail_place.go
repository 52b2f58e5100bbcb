package packs

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/units"
)

// dim is a length that is measured on a detail: between two places in inches, both
// upright or both level, its line so far along the other way.
type dim struct {
	from, to orb.Point
	line     float64 // x of the dimension line of an upright one, y of that of a level one
	upright  bool
	text     string // with a | before words that are left out where there is no room
	middle   bool   // the text stays in the middle even where it is wider
	below    bool   // where there is no room between: under (or left of) it, else above (right)
}

// leader points at a place of a detail and says what is there.
type leader struct {
	at   orb.Point // inches
	text string
	left bool    // the text stands in the left column
	rise float64 // how much higher than the place the text would stand, inches
}

// word is a text on the drawing itself.
type word struct {
	at     orb.Point
	text   string
	anchor drawing.Anchor
	bold   bool
}

func (d *detail) upright(x, y0, y1, line float64, text string) *dim {
	return d.measured(dim{from: orb.Point{x, min(y0, y1)}, to: orb.Point{x, max(y0, y1)}, line: line, upright: true, text: text})
}

func (d *detail) level(y, x0, x1, line float64, text string) *dim {
	return d.measured(dim{from: orb.Point{min(x0, x1), y}, to: orb.Point{max(x0, x1), y}, line: line, text: text})
}

// measured notes a dimension; one of nothing is not drawn.
func (d *detail) measured(m dim) *dim {
	if math.Hypot(m.to[0]-m.from[0], m.to[1]-m.from[1]) < 0.01 {
		return &m
	}
	d.dims = append(d.dims, m)
	return &d.dims[len(d.dims)-1]
}

func (d *detail) tell(x, y float64, text string) {
	d.tells = append(d.tells, leader{at: orb.Point{x, y}, text: text})
}

// tellAt is tell with its text so much higher than its place.
func (d *detail) tellAt(x, y, rise float64, text string) {
	d.tells = append(d.tells, leader{at: orb.Point{x, y}, text: text, rise: rise})
}

func (d *detail) tellLeft(x, y float64, text string) {
	d.tells = append(d.tells, leader{at: orb.Point{x, y}, text: text, left: true})
}

func (d *detail) say(x, y float64, anchor drawing.Anchor, text string) {
	d.words = append(d.words, word{at: orb.Point{x, y}, text: text, anchor: anchor})
}

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

// columns are the widths of leaders' columns at the left and right.
func (d *detail) columns(wide float64) (left, right float64) {
	w := min(max(tellWide, wide*0.2), 150)
	for _, t := range d.tells {
		if t.left {
			left = w
		} else {
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
	left, right := d.columns(wide)
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
	for _, m := range d.dims {
		m.draw(q, on)
	}
	for _, s := range d.words {
		q.add(&drawing.Text{At: on(s.at), Size: dimSize, Anchor: s.anchor, Bold: s.bold, Halo: true, S: s.text})
	}
	d.point(q, on, inside, left, right, x0-4, x0+w*per+4)
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
		&drawing.Text{At: orb.Point{c[0] + r + 7, y + 2}, Size: 10.5, Bold: true, S: d.title},
		&drawing.Line{Pen: cutPen, Points: []orb.Point{{c[0] + r, y - 1.5}, {cell.Max[0] - pad, y - 1.5}}},
		&drawing.Text{At: orb.Point{c[0] + r + 7, y - 10.5}, Size: 8, S: d.what + ", " + scale.Name})
	y = cell.Min[1] + pad + notes
	for _, n := range d.notes {
		for i, l := range drawing.Wrap(n, detailNote, false, cell.Max[0]-cell.Min[0]-2*pad-10) {
			y -= detailLine
			if i == 0 {
				q.add(&drawing.Arc{Fill: drawing.Black, Centre: orb.Point{cell.Min[0] + pad + 3, y + 5}, Radius: 1.3, SweepDeg: 360})
			}
			q.add(&drawing.Text{At: orb.Point{cell.Min[0] + pad + 10, y + 2.4}, Size: detailNote, S: l})
		}
		y -= 2
	}
}

// draw sets a dimension: two lines out to it, a slash at each end, its figure.
func (m dim) draw(q *page, on func(orb.Point) orb.Point) {
	a, b := on(m.from), on(m.to)
	i, turn := 0, 0.0 // which way it runs
	at := on(orb.Point{m.line, m.line})
	if m.upright {
		i, turn = 1, 90
		a[0], b[0] = at[0], at[0]
	} else {
		a[1], b[1] = at[1], at[1]
	}
	for k, end := range []orb.Point{a, b} {
		from := on([]orb.Point{m.from, m.to}[k])
		if way := end[1-i] - from[1-i]; math.Abs(way) > 4 {
			step := math.Copysign(2, way)
			from[1-i] += step
			past := end
			past[1-i] += step
			q.add(&drawing.Line{Pen: dimPen, Points: []orb.Point{from, past}})
		}
		q.add(&drawing.Line{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.8}, Points: []orb.Point{{end[0] - 2.2, end[1] - 2.2}, {end[0] + 2.2, end[1] + 2.2}}})
	}
	q.add(&drawing.Line{Pen: dimPen, Points: []orb.Point{a, b}})
	figure, words, _ := strings.Cut(m.text, "|")
	t := &drawing.Text{Size: dimSize, TurnDeg: turn, Anchor: drawing.Middle, Halo: true, S: figure + words}
	if b[i]-a[i] < t.Width()+5 {
		t.S = figure
	}
	t.At = orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	half := t.Width() / 2
	switch {
	case m.middle || b[i]-a[i] >= 2*half+5:
	case m.below:
		t.At[i] = a[i] - half - 5
	default:
		t.At[i] = b[i] + half + 5
	}
	if m.upright {
		t.At[0] -= 2.2
	} else {
		t.At[1] += 2.2
	}
	q.add(t)
}

// told is a leader as it is set.
type told struct {
	lines  []string
	at     orb.Point // of the page
	wanted float64   // where the middle of its first line would stand
	top    float64
}

func (t told) high() float64 { return float64(len(t.lines))*tellLine + 4 }
func (t told) mid() float64  { return t.top - tellLine/2 - 1 }

// point sets the leaders: their texts in columns at both sides, none over another,
// with a line from each to its place.
func (d *detail) point(q *page, on func(orb.Point) orb.Point, inside orb.Bound, left, right, x0, x1 float64) {
	for _, side := range []bool{true, false} {
		wide, edge, way := right, x1+8, 1.0
		if side {
			wide, edge, way = left, x0-8, -1
		}
		var all []told
		for _, t := range d.tells {
			if t.left == side {
				at := on(t.at)
				all = append(all, told{lines: drawing.Wrap(t.text, dimSize, false, wide-14), at: at, wanted: on(orb.Point{t.at[0], t.at[1] + t.rise})[1]})
			}
		}
		slices.SortStableFunc(all, func(a, b told) int { return cmp.Compare(b.wanted, a.wanted) })
		stack(all, inside)
		uncross(all, inside, edge-5*way)
		for _, s := range all {
			q.add(&drawing.Line{Pen: dimPen, Points: []orb.Point{{edge, s.mid()}, {edge - 5*way, s.mid()}, s.at}},
				&drawing.Arc{Fill: drawing.Black, Centre: s.at, Radius: 1.3, SweepDeg: 360})
			anchor := drawing.Start
			if side {
				anchor = drawing.End
			}
			for i, l := range s.lines {
				q.add(&drawing.Text{At: orb.Point{edge + 3*way, s.top - tellLine*float64(i) - tellLine + 2}, Size: dimSize, Anchor: anchor, S: l})
			}
		}
	}
}

// stack sets texts one under another in their order, each as near its place as can be.
func stack(all []told, inside orb.Bound) {
	free := inside.Max[1]
	for i := range all {
		all[i].top = min(free, all[i].wanted+tellLine/2+1)
		free = all[i].top - all[i].high()
	}
	for i, floor := len(all)-1, inside.Min[1]; i >= 0; i-- {
		all[i].top = max(all[i].top, floor+all[i].high())
		floor = all[i].top
	}
}

// uncross changes the order of neighbours whose lines cross, until none does or
// nothing is won.
func uncross(all []told, inside orb.Bound, knee float64) {
	crossing := func(a, b told) bool {
		// Which lies higher at the knee, and at the place nearer to it.
		x := a.at[0]
		if math.Abs(b.at[0]-knee) < math.Abs(x-knee) {
			x = b.at[0]
		}
		y := func(t told) float64 {
			if t.at[0] == knee {
				return t.at[1]
			}
			return t.mid() + (t.at[1]-t.mid())*(x-knee)/(t.at[0]-knee)
		}
		return (a.mid()-b.mid())*(y(a)-y(b)) < 0
	}
	for range all {
		again := false
		for i := 1; i < len(all); i++ {
			if crossing(all[i-1], all[i]) {
				all[i-1], all[i] = all[i], all[i-1]
				if stack(all, inside); crossing(all[i-1], all[i]) {
					all[i-1], all[i] = all[i], all[i-1]
					stack(all, inside)
					continue
				}
				again = true
			}
		}
		if !again {
			return
		}
	}
}
