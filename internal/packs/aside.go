package packs

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// block is a few lines of words in the column beside a plan, with or without a sign
// before them.
type block struct {
	lines  []string
	size   float64
	bold   int // so many lines first
	sample func(box orb.Bound) drawing.Item
	in     float64 // from the left to the words
	over   float64 // kept free above
	tag    string  // in bold before the first line, in place of a sign
}

const asideSize = 6.8 // of letters beside a plan on Letter, points

// asideWide is the column that legend and notes stand in beside a plan, points.
func asideWide(k float64) float64 { return 168 * k }

// block is words with a sign before them, wrapped to a width.
func (c *chart) block(words string, wide float64, sample func(box orb.Bound) drawing.Item) block {
	b := block{size: asideSize * c.k, sample: sample}
	if sample != nil {
		b.in = (sampleWide + 5) * c.k
	}
	b.lines = drawing.Wrap(words, b.size, false, wide-b.in)
	return b
}

// headed is words under a heading in bold, with a sign before them.
func (c *chart) headed(heading, words string, wide float64, sample func(box orb.Bound) drawing.Item) block {
	b := c.block(words, wide, sample)
	bold := drawing.Wrap(heading, b.size, true, wide-b.in)
	b.lines, b.bold = append(bold, b.lines...), len(bold)
	return b
}

// tagged is words behind a tag in bold, wrapped to a width.
func (c *chart) tagged(tag, words string, wide float64) block {
	in := 34 * c.k
	if (&drawing.Text{S: tag, Size: asideSize * c.k, Bold: true}).Width() > in-3*c.k {
		return c.headed(tag, words, wide, nil)
	}
	b := c.block(words, wide-in, nil)
	b.tag, b.in = tag, in
	return b
}

// title is the name of a part of the column.
func (c *chart) title(words string, wide float64) block {
	size := 8.5 * c.k
	lines := drawing.Wrap(words, size, true, wide)
	return block{lines: lines, size: size, bold: len(lines), over: 5 * c.k}
}

func (b block) line() float64 { return b.size * 1.28 }

func (b block) high() float64 {
	high := float64(len(b.lines))*b.line() + b.size*0.3
	if b.sample != nil {
		high = max(high, sampleHigh/asideSize*b.size+0.5)
	}
	return high + b.over
}

// pieces are a block in parts that are no higher than so many points.
func (b block) pieces(high float64) []block {
	most := max(4, int(high/b.line())-2)
	var out []block
	for len(b.lines) > most {
		head := b
		head.lines = b.lines[:most]
		out = append(out, head)
		b.lines, b.bold, b.sample, b.over, b.tag = b.lines[most:], max(0, b.bold-most), nil, 0, ""
	}
	return append(out, b)
}

// draw sets a block with its top at y.
func (b block) draw(q *page, x, y float64) {
	y -= b.over
	if b.sample != nil {
		w, h := sampleWide/asideSize*b.size, sampleHigh/asideSize*b.size
		q.add(b.sample(orb.Bound{Min: orb.Point{x, y - h}, Max: orb.Point{x + w, y}}))
		y -= max(0, (h-b.line())/2-0.1*b.size)
	}
	if b.tag != "" {
		q.add(&drawing.Text{At: orb.Point{x, y - b.size}, Size: b.size, Bold: true, S: b.tag})
	}
	for i, s := range b.lines {
		q.add(&drawing.Text{At: orb.Point{x + b.in, y - b.line()*float64(i) - b.size}, Size: b.size, Bold: i < b.bold, S: s})
	}
}

// part is what stands together under a title.
type part struct {
	title  block
	blocks []block
}

func (p part) high() float64 {
	high := p.title.high()
	for _, b := range p.blocks {
		high += b.high()
	}
	return high
}

// setSmaller is by how much words beside and under drawings are set smaller where that
// makes all of them find room. Chosen: no letters under 6 points on Letter.
var setSmaller = []float64{1, 0.94, 0.89}

// fitting are the parts of the column beside a plan, set smaller, if not much, where
// that makes all of them find room.
func (c *chart) fitting(room orb.Bound, beside func(c *chart, wide float64) []part) []part {
	wide, high := room.Max[0]-room.Min[0], room.Max[1]-room.Min[1]
	for _, share := range setSmaller {
		t := *c
		t.k *= share
		parts, sum := saying(beside(&t, wide)), 0.0
		for _, p := range parts {
			sum += p.high()
		}
		if sum <= high {
			return parts
		}
	}
	return saying(beside(c, wide))
}

// beside fills the column beside a plan with the parts that it holds whole, in order,
// and gives the first part that found no room: it and what follows goes onto list
// pages once all pages of the plan are made. The column says so.
func (c *chart) beside(q *page, code string, parts []part) (rest int) {
	wide := q.aside.Max[0] - q.aside.Min[0]
	x, y := q.aside.Min[0], q.aside.Max[1]
	foot := c.block("Continued on the next page of "+code+".", wide, nil)
	room, total := y-q.aside.Min[1], 0.0
	for _, p := range parts {
		total += p.high()
	}
	if total > room {
		room -= foot.high()
	}
	for i, p := range parts {
		if q.aside.Max[1]-y+p.high() > room {
			foot.draw(q, x, y)
			return i
		}
		y = p.draw(q, x, y)
	}
	return len(parts)
}

// again sets the parts that fit beside a further tile, all of which stand beside one
// before it, so that each has its legend.
func (c *chart) again(q *page, parts []part) {
	y := q.aside.Max[1]
	for _, p := range parts {
		if y-p.high() >= q.aside.Min[1] {
			y = p.draw(q, q.aside.Min[0], y)
		}
	}
}

// draw sets a part with its top at y, and gives where it ends.
func (p part) draw(q *page, x, y float64) float64 {
	for _, k := range append([]block{p.title}, p.blocks...) {
		k.draw(q, x, y)
		y -= k.high()
	}
	return y
}

// overflow sets parts on list pages of the sheet, in columns.
func (b *builder) overflow(parts []part, wide float64) {
	if len(parts) == 0 {
		return
	}
	f := &flow{b: b}
	f.next()
	inColumns(parts, wide, func() (*page, orb.Bound) {
		if f.y < f.top {
			f.next()
		}
		room := orb.Bound{Min: orb.Point{f.x0, f.bottom}, Max: orb.Point{f.x1, f.y}}
		f.y = f.bottom
		return f.q, room
	})
}

// columnsApart is how far columns of words stand apart, points. Chosen.
const columnsApart = 14.0

// inColumns sets parts in columns at least so wide, down the room that next gives, and
// the next one when that is full.
func inColumns(parts []part, wide float64, next func() (*page, orb.Bound)) {
	q, room := next()
	all := room.Max[0] - room.Min[0]
	n := max(1, math.Floor((all+columnsApart+0.01)/(wide+columnsApart)))
	step := (all + columnsApart) / n
	column, y := 0.0, room.Max[1]
	for _, p := range parts {
		var blocks []block
		for _, k := range p.blocks {
			blocks = append(blocks, k.pieces(room.Max[1]-room.Min[1])...)
		}
		for i, k := range append([]block{p.title}, blocks...) {
			keep := k.high()
			if i == 0 && len(blocks) > 0 {
				keep += min(blocks[0].high(), 4*blocks[0].line())
			}
			if y-keep < room.Min[1] && y < room.Max[1] {
				if column++; column >= n {
					q, room = next()
					column = 0
				}
				y = room.Max[1]
			}
			k.draw(q, room.Min[0]+column*step, y)
			y -= k.high()
		}
	}
}

// columnsHigh is how high a room so wide must be for parts to stand in its columns
// within a most; false where it would have to be higher.
func columnsHigh(parts []part, wide, all, most float64) (float64, bool) {
	tallest := 0.0
	for _, p := range parts {
		for _, k := range p.blocks {
			tallest = max(tallest, k.high())
		}
	}
	for high := max(tallest, 40); high <= most; high += 8 {
		rooms := 0
		inColumns(parts, wide, func() (*page, orb.Bound) {
			rooms++
			return &page{}, orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{all, high}}
		})
		if rooms == 1 {
			return high, true
		}
	}
	return 0, false
}
