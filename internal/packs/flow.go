package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// flow fills pages, or a box of one, from the top down. On list pages it starts a new
// one where the next thing finds no room; in a box it leaves out what does not fit.
type flow struct {
	b      *builder
	q      *page
	x0, x1 float64 // its sides
	y      float64 // the top of what is free
	bottom float64
	top    float64 // of this page, under its head
	boxed  bool
	full   bool // boxed, and something was left out
	under  underSection
}

// underSection is the section that was set last and has nothing under it yet: it goes
// with what follows it.
type underSection struct {
	q     *page
	words string
	from  int     // of the items of its page
	y     float64 // under it
}

// Sizes of type on lists, points: chosen to be read at arm's length outdoors.
const (
	titleSize   = 17.0
	sectionSize = 11.5
	bodySize    = 9.5
	noteSize    = 8.0
	leading     = 1.32 // of a line, as a share of its size
)

// list starts a list page of the present sheet, upright on the pack's paper for lists,
// with the sheet's title, or as its continuation.
func (b *builder) list() *flow {
	f := &flow{b: b}
	f.next()
	if f.q.part == 0 {
		f.heading(b.now.title)
	}
	return f
}

// flowIn fills a box of a page, as the room beside a plan.
func (b *builder) flowIn(q *page, box orb.Bound) *flow {
	return &flow{b: b, q: q, x0: box.Min[0], x1: box.Max[0], y: box.Max[1], top: box.Max[1], bottom: box.Min[1], boxed: true}
}

// next starts a new page, which says that it goes on; a box is full.
func (f *flow) next() {
	if f.boxed {
		f.full = true
		return
	}
	f.q = f.b.newPage(f.b.listed, false)
	f.x0, f.x1 = f.q.room.Min[0], f.q.room.Max[0]
	f.y, f.bottom = f.q.room.Max[1], f.q.room.Min[1]
	if f.q.part > 0 {
		f.y -= 11
		f.q.add(
			&drawing.Text{At: orb.Point{f.x0, f.y}, Size: 10, Bold: true, S: f.b.now.title},
			&drawing.Text{At: orb.Point{f.x1, f.y}, Size: 9, Italic: true, Anchor: drawing.End, Ink: drawing.Grey, S: "continued"},
		)
		f.y -= 5
		f.rule(0.8, drawing.Black)
		f.y -= 8
	}
	f.top = f.y
}

func (f *flow) wide() float64 { return f.x1 - f.x0 }

// add draws, unless the box is full.
func (f *flow) add(items ...drawing.Item) {
	if !f.full {
		f.q.add(items...)
	}
}

func (f *flow) rule(width float64, ink drawing.Ink) {
	f.add(&drawing.Line{Pen: drawing.Pen{Ink: ink, Width: width}, Points: []orb.Point{{f.x0, f.y}, {f.x1, f.y}}})
}

// keep starts a new page unless there is so much room on this one. A section with
// nothing under it goes along.
func (f *flow) keep(high float64) {
	if f.y-high >= f.bottom || !f.boxed && f.y >= f.top {
		return
	}
	f.newPage()
}

// newPage is next, which takes a section with nothing under it along.
func (f *flow) newPage() {
	u := f.under
	f.under = underSection{}
	along := !f.boxed && u.q != nil && u.q == f.q && u.y == f.y && u.from > 0
	if along {
		u.q.Items = u.q.Items[:u.from]
	}
	f.next()
	if along {
		f.section(u.words)
	}
}

func (f *flow) heading(s string) {
	f.lines(s, titleSize, true, 0, 90)
	f.gap(3)
	f.rule(1.2, drawing.Black)
	f.gap(9)
}

func (f *flow) section(s string) {
	if f.y < f.top {
		f.gap(8)
	}
	f.keep(58)
	from := len(f.q.Items)
	first := f.y >= f.top
	f.lines(s, sectionSize, true, 0, 0)
	f.gap(3)
	f.under = underSection{f.q, s, from, f.y}
	if first {
		f.under.from = 0 // nothing is gained by taking it to the next page
	}
}

func (f *flow) para(s string) { f.lines(s, bodySize, false, 0, 0); f.gap(4) }

// note is small print.
func (f *flow) note(s string) { f.lines(s, noteSize, false, 0, 0); f.gap(4) }

// gap leaves room, none at the top of a page.
func (f *flow) gap(high float64) {
	if f.y < f.top {
		f.y -= high
	}
}

// lines sets words across the flow, indented by so much, with so much room kept for
// what follows. Fewer than two lines of a paragraph never stand alone on a page.
func (f *flow) lines(s string, size float64, bold bool, in, keep float64) {
	all := drawing.Wrap(s, size, bold, f.wide()-in)
	high := size * leading
	f.keep(max(keep, high*float64(min(len(all), 2))))
	for i, l := range all {
		left := len(all) - i
		if left == 2 && i > 0 {
			f.keep(2 * high)
		} else {
			f.keep(high)
		}
		f.y -= high
		f.add(&drawing.Text{At: orb.Point{f.x0 + in, f.y + size*0.3}, Size: size, Bold: bold, S: l})
	}
}

// bullets are points after one another, each with a mark of its own.
func (f *flow) bullets(points ...string) {
	for _, s := range points {
		f.marked(s, 13, 2.5, func(y float64) drawing.Item {
			return &drawing.Arc{Centre: orb.Point{f.x0 + 5, y - 3.1}, Radius: 1.5, SweepDeg: 360, Fill: drawing.Black}
		})
	}
	f.gap(3)
}

// checks are things to do or look at, each with a box to tick.
func (f *flow) checks(points ...string) {
	for _, s := range points {
		f.marked(s, 18, 4.5, func(y float64) drawing.Item { return tickBox(orb.Point{f.x0 + 5.5, y - 3.2}, 9) })
	}
	f.gap(2)
}

// tickBox is an empty box about a place.
func tickBox(at orb.Point, side float64) drawing.Item {
	return box(drawing.Pen{Ink: drawing.Black, Width: 0.8}, 0, orb.Bound{
		Min: orb.Point{at[0] - side/2, at[1] - side/2}, Max: orb.Point{at[0] + side/2, at[1] + side/2}})
}

// box is a box drawn.
func box(pen drawing.Pen, fill drawing.Ink, of orb.Bound) *drawing.Area {
	return &drawing.Area{Pen: pen, Fill: fill, Rings: [][]orb.Point{{of.Min, {of.Max[0], of.Min[1]}, of.Max, {of.Min[0], of.Max[1]}}}}
}

// marked is a paragraph behind a mark, which is drawn about the height of capitals
// (3.2 under the y it is told) of its first line.
func (f *flow) marked(s string, in, after float64, mark func(y float64) drawing.Item) {
	high := bodySize * leading
	f.keep(high * float64(min(2, len(drawing.Wrap(s, bodySize, false, f.wide()-in)))))
	f.add(mark(f.y - high + bodySize*0.3 + 6.6))
	f.lines(s, bodySize, false, in, 0)
	f.gap(after)
}

// stepSize is of the letters of steps and of the cautions among them, points: chosen, so
// that the order of work stays short.
const stepSize = 8.6

// step is a thing to do in order, numbered, with a box to tick, and at the right the
// sheets that it is done by.
func (f *flow) step(number int, says, sheets string, size, after float64) {
	const in = 38.0
	high, on := size*leading, 0.0
	if sheets != "" {
		on = 4 + max(40, (&drawing.Text{S: sheets, Size: size, Bold: true}).Width())
	}
	lines := drawing.Wrap(says, size, false, f.wide()-in-on)
	f.keep(high * float64(min(2, len(lines))))
	y := f.y - high + size*0.3
	f.add(tickBox(orb.Point{f.x0 + 5.5, y + size*0.36}, 9),
		&drawing.Text{At: orb.Point{f.x0 + 31, y}, Size: size, Bold: true, Anchor: drawing.End, S: itoa(number)})
	if sheets != "" {
		f.add(&drawing.Text{At: orb.Point{f.x1, y}, Size: size, Bold: true, Anchor: drawing.End, S: sheets})
	}
	for i, l := range lines {
		f.keep(high * float64(min(2, len(lines)-i)))
		f.y -= high
		f.add(&drawing.Text{At: orb.Point{f.x0 + in, f.y + size*0.3}, Size: size, S: l})
	}
	f.gap(after)
}

// steps are things to do in order, numbered from a number.
func (f *flow) steps(from int, points ...string) {
	for i, s := range points {
		f.step(from+i, s, "", bodySize, 5)
	}
	f.gap(2)
}

// facts are names with what they are, one under the other.
func (f *flow) facts(pairs ...[2]string) {
	in := 0.0
	for _, p := range pairs {
		in = max(in, (&drawing.Text{Size: bodySize, Bold: true, S: p[0]}).Width()+12)
	}
	in = min(in, f.wide()*0.45)
	for _, p := range pairs {
		names := drawing.Wrap(p[0], bodySize, true, in-8)
		names = names[:min(len(names), 6)]
		high := bodySize * leading
		f.keep(high * float64(max(len(names), 1)))
		for i, l := range names {
			f.add(&drawing.Text{At: orb.Point{f.x0, f.y - high*float64(i+1) + bodySize*0.3}, Size: bodySize, Bold: true, S: l})
		}
		foot := f.y - high*float64(len(names))
		page := f.q
		f.lines(p[1], bodySize, false, in, 0)
		if f.q == page {
			f.y = min(f.y, foot)
		}
		f.gap(2.5)
	}
	f.gap(3)
}

// caution is what can hurt somebody, in a box of its own behind the sign of a warning.
func (f *flow) caution(s string) { f.cautioned(s, bodySize, 6, 30) }

// stepCaution is a caution among steps.
func (f *flow) stepCaution(s string) { f.cautioned(s, stepSize, 2.6, 22) }

func (f *flow) cautioned(s string, size, pad, least float64) {
	const in = 34.0
	line := size * leading
	lines := drawing.Wrap(s, size, true, f.wide()-in-8)
	high := max(float64(len(lines))*line+2*pad, least)
	if high > f.top-f.bottom {
		f.lines(s, size, true, 0, 0)
		f.gap(pad)
		return
	}
	f.gap(2)
	f.keep(high)
	y1 := f.y
	f.add(box(drawing.Pen{Ink: drawing.Black, Width: 1.4}, 0, orb.Bound{Min: orb.Point{f.x0, y1 - high}, Max: orb.Point{f.x1, y1}}))
	f.add(warning(orb.Point{f.x0 + in/2, y1 - high/2})...)
	first := y1 - (high-float64(len(lines))*line)/2
	for i, l := range lines {
		f.add(&drawing.Text{At: orb.Point{f.x0 + in, first - line*float64(i+1) + size*0.3}, Size: size, Bold: true, S: l})
	}
	f.y -= high
	f.gap(pad + 1)
}

// warning is a triangle with a stroke and a dot in it, drawn as paths.
func warning(c orb.Point) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Black, Width: 1.6}
	return []drawing.Item{
		&drawing.Area{Pen: pen, Rings: [][]orb.Point{{{c[0] - 10.5, c[1] - 8}, {c[0] + 10.5, c[1] - 8}, {c[0], c[1] + 10}}}},
		&drawing.Line{Pen: drawing.Pen{Ink: drawing.Black, Width: 2}, Points: []orb.Point{{c[0], c[1] + 3.5}, {c[0], c[1] - 2}}},
		&drawing.Arc{Centre: orb.Point{c[0], c[1] - 5}, Radius: 1.2, SweepDeg: 360, Fill: drawing.Black},
	}
}
