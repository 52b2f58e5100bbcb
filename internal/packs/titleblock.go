package packs

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/units"
)

// place is a title block being drawn.
type place struct {
	b          *builder
	q          *page
	number, of int
	k          float64
}

// checkLine is the line to measure on a print: 4 in, or 100 mm on metric paper.
func checkLine(of Paper) (long float64, name string) {
	if of.Metric {
		return mm(100), "100 mm"
	}
	return 4 * 72, "4 in"
}

func (t *place) dated() string {
	var parts []string
	if t.b.asked.Date != "" {
		parts = append(parts, t.b.asked.Date)
	}
	if t.b.asked.Revision != "" {
		parts = append(parts, "revision "+t.b.asked.Revision)
	}
	return strings.Join(parts, " · ")
}

func (t *place) sheetOf() string { return fmt.Sprintf("sheet %d of %d", t.number, t.of) }

// words sets lines from the top of a box down, cut to its width: each with its size
// and whether it is bold; and gives where they end.
func (t *place) words(in orb.Bound, size float64, bold bool, most int, s string) orb.Bound {
	if s == "" {
		return in
	}
	wide := in.Max[0] - in.Min[0]
	lines := drawing.Wrap(s, size, bold, wide)
	if len(lines) > most {
		lines[most-1] = cut(strings.Join(lines[most-1:], " "), size, bold, wide)
		lines = lines[:most]
	}
	for _, l := range lines {
		in.Max[1] -= size * 1.18
		t.q.add(&drawing.Text{At: orb.Point{in.Min[0], in.Max[1] + size*0.27}, Size: size, Bold: bold, S: cut(l, size, bold, wide)})
	}
	return in
}

// listBlock is the block under a list: plan and pack, the sheet, when, which of how many.
func (t *place) listBlock(in orb.Bound) {
	q := t.q
	w := in.Max[0] - in.Min[0]
	left, right := in, in
	left.Max[0] = in.Min[0] + w*0.46
	right.Min[0] = in.Max[0] - 118
	middle := orb.Bound{Min: orb.Point{left.Max[0], in.Min[1]}, Max: orb.Point{right.Min[0], in.Max[1]}}
	for _, x := range []float64{middle.Min[0], middle.Max[0]} {
		q.add(stroke(drawing.Black, 0.5, x, in.Min[1], x, in.Max[1]))
	}
	at := t.words(padded(left, listInset, 4), 9.5, true, 1, t.b.p.Name)
	at.Max[1] -= 2
	t.words(at, 7.5, false, 1, t.b.asked.Kind.Title())
	at = t.words(padded(middle, listInset, 4), 9.5, true, 1, q.sheet.code+"  "+q.sheet.title)
	at.Max[1] -= 2
	t.words(at, 7.5, false, 1, t.partOf())
	at = t.words(padded(right, listInset, 4), 9.5, true, 1, t.sheetOf())
	at.Max[1] -= 2
	t.words(at, 7.5, false, 1, t.dated())
}

// partOf says which page of its sheet it is, where there are several.
func (t *place) partOf() string {
	n := 0
	for _, q := range t.b.pages {
		if q.sheet.code == t.q.sheet.code {
			n++
		}
	}
	if n < 2 {
		return ""
	}
	s := fmt.Sprintf("page %d of %d", t.q.part+1, n)
	if t.q.tile != "" {
		s += " · " + t.q.tile
	}
	return s
}

func padded(b orb.Bound, x, y float64) orb.Bound {
	return orb.Bound{Min: orb.Point{b.Min[0] + x, b.Min[1] + y}, Max: orb.Point{b.Max[0] - x, b.Max[1] - y}}
}

// planBlock is the block under a drawing. Its last cell, with the code, is outside when
// the sheet is folded.
func (t *place) planBlock(in orb.Bound) {
	q, k := t.q, t.k
	long, _ := checkLine(t.b.drawn)
	scale, north, parts := 0.0, 0.0, 0.0
	if q.scale != "" {
		scale = long + 18*k
	}
	if q.view != nil {
		north = 48 * k
	}
	if q.tiles != nil {
		parts = 66 * k
	}
	rest := in.Max[0] - in.Min[0] - scale - north - parts
	x := in.Min[0]
	cell := func(wide float64) orb.Bound {
		if x > in.Min[0] {
			q.add(stroke(drawing.Black, 0.5*k, x, in.Min[1], x, in.Max[1]))
		}
		c := orb.Bound{Min: orb.Point{x, in.Min[1]}, Max: orb.Point{x + wide, in.Max[1]}}
		x += wide
		return c
	}
	at := t.words(padded(cell(rest*0.5), 7*k, 4*k), 9.5*k, true, 2, t.b.p.Name)
	at.Max[1] -= 1.5 * k
	at = t.words(at, 7.5*k, false, 1, t.b.asked.Kind.Title())
	t.words(at, 7.5*k, false, 1, t.dated())
	if scale > 0 {
		t.scaleCell(cell(scale), long)
	}
	if north > 0 {
		t.north(cell(north))
	}
	if parts > 0 {
		t.keyMap(cell(parts))
	}
	last := padded(cell(rest*0.5), 7*k, 4*k)
	code := &drawing.Text{Size: 20 * k, Bold: true, S: q.sheet.code}
	code.At = orb.Point{last.Min[0], last.Max[1] - 18*k}
	q.add(code)
	// The title stands on the line of the code, or in two lines about its middle.
	beside := last
	beside.Min[0] += code.Width() + 7*k
	wide := beside.Max[0] - beside.Min[0]
	beside.Max[1] = code.At[1] + 8.6*k
	if len(drawing.Wrap(q.sheet.title, 9.5*k, true, wide)) > 1 {
		beside.Max[1] += 9.5 * 1.18 * k * 0.7
	}
	t.words(beside, 9.5*k, true, 2, q.sheet.title)
	foot := last
	foot.Max[1] = last.Min[1] + 20*k
	foot = t.words(foot, 7.5*k, false, 1, t.partOf())
	if t.partOf() == "" {
		foot.Max[1] -= 7.5 * 1.18 * k
	}
	t.words(foot, 7.5*k, true, 1, t.sheetOf())
}

// scaleCell says the scale, has the line to measure, and a bar of the ground.
func (t *place) scaleCell(in orb.Bound, long float64) {
	q, k := t.q, t.k
	_, name := checkLine(t.b.drawn)
	x0 := (in.Min[0] + in.Max[0] - long) / 2
	y := in.Max[1] - 11*k
	size := 8.5 * k
	at100 := &drawing.Text{At: orb.Point{x0 + long, y}, Size: 7 * k, Anchor: drawing.End, S: "Print at 100 %, not “fit to page”."}
	words := "Scale " + q.scale
	if q.view == nil {
		words = "Scale: " + q.scale
	}
	q.add(at100, &drawing.Text{At: orb.Point{x0, y}, Size: size, Bold: true, S: cut(words, size, true, long-at100.Width()-6)})
	// The line to measure, its ends the outer edges of its ticks' middles.
	y = in.Max[1] - 23*k
	label := &drawing.Text{At: orb.Point{x0 + long/2, y - 2.4*k}, Size: 7 * k, Anchor: drawing.Middle, S: "this line measures " + name}
	half := label.Width()/2 + 4*k
	q.add(label,
		stroke(drawing.Black, 0.6, x0, y, x0+long/2-half, y), stroke(drawing.Black, 0.6, x0+long/2+half, y, x0+long, y),
		stroke(drawing.Black, 0.6, x0, y-4*k, x0, y+4*k), stroke(drawing.Black, 0.6, x0+long, y-4*k, x0+long, y+4*k))
	if q.view != nil {
		t.bar(x0, in.Min[1]+14*k, long)
	}
}

// bar is a bar of ground in four parts, black and white by turns, with its figures.
func (t *place) bar(x, y, most float64) {
	q, k := t.q, t.k
	perUnit, unit := q.view.PerFoot, " ft"
	if t.b.sys == units.Metric {
		perUnit, unit = q.view.PerFoot/0.3048, " m"
	}
	if !(perUnit > 0) {
		return
	}
	part := roundLength(most * 0.92 / 4 / perUnit)
	step := part * perUnit
	for i := range 4 {
		fill := drawing.Black
		if i%2 == 1 {
			fill = drawing.White
		}
		q.add(box(drawing.Pen{Ink: drawing.Black, Width: 0.5}, fill, orb.Bound{Min: orb.Point{x + step*float64(i), y}, Max: orb.Point{x + step*float64(i+1), y + 4*k}}))
	}
	for i := range 5 {
		s := plainNumber(part * float64(i))
		anchor := drawing.Middle
		switch i {
		case 0:
			anchor = drawing.Start
		case 4:
			s += unit
		}
		q.add(&drawing.Text{At: orb.Point{x + step*float64(i), y - 7.5*k}, Size: 7 * k, Anchor: anchor, S: s})
	}
}

// roundLength is the largest of 1, 2, 5, 10 … (and their tenths) that is not over a length.
func roundLength(most float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(most)))
	for _, n := range []float64{5, 2, 1} {
		if n*ten <= most*(1+1e-9) {
			return n * ten
		}
	}
	return ten
}

// plainNumber is a number with as many decimals as it has, two at most.
func plainNumber(v float64) string {
	s := fmt.Sprintf("%.2f", v)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// north is an arrow to true north.
func (t *place) north(in orb.Bound) {
	q, k := t.q, t.k
	c := in.Center()
	c[1] += 1 * k
	deg := 90 + float64(t.b.p.Site.NorthDeg)
	sin, cos := math.Sincos(deg * math.Pi / 180)
	at := func(along, aside float64) orb.Point {
		return orb.Point{c[0] + (along*cos-aside*sin)*k, c[1] + (along*sin+aside*cos)*k}
	}
	pen := drawing.Pen{Ink: drawing.Black, Width: 0.7 * k}
	q.add(
		&drawing.Arc{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.5 * k}, Centre: c, Radius: 11 * k, SweepDeg: 360},
		&drawing.Area{Pen: pen, Fill: drawing.White, Rings: [][]orb.Point{{at(14, 0), at(-10, 6), at(-6, 0)}}},
		&drawing.Area{Pen: pen, Fill: drawing.Black, Rings: [][]orb.Point{{at(14, 0), at(-10, -6), at(-6, 0)}}},
	)
	n := at(20, 0)
	q.add(&drawing.Text{At: orb.Point{n[0], n[1] - 2.9*k}, Size: 8 * k, Bold: true, Anchor: drawing.Middle, S: "N"})
}
