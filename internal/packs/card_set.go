package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// Measures of zone cards, points: chosen so that three of a usual zone fit a page.
const (
	cardPad     = 7.0
	cardBetween = 10.0 // its columns
	cardAfter   = 7.0
	cardColumns = 3
	cardFacts   = 0.4 // of the width, where there are facts
	partSize    = 7.8
	partLine    = 10.0
	partCount   = 38.0 // for count and unit before the item
	partCost    = 46.0
)

// setCard sets a card across the page: facts and heads in the first column and parts in
// the others; without facts parts are in all of them. What is higher than a page goes on
// in the next card, and tables too high for one stand under it.
func (b *builder) setCard(f *flow, c *zoneCard) {
	all := f.wide() - 2*cardPad - (cardColumns-1)*cardBetween
	w, first := all/cardColumns, all/cardColumns
	if len(c.facts) > 0 {
		first = all * cardFacts
		w = (all - first) / (cardColumns - 1)
	}
	left := b.measured(first, func(in *flow) { in.told(c, true) })
	head := sectionSize*leading + 8 + 2*cardPad
	most := f.top - f.bottom - head - cardAfter
	tables := left <= most
	if !tables {
		left = b.measured(first, func(in *flow) { in.told(c, false) })
	}
	rest, title := partsOf(c.parts, min(w, first)), c.title
	for begun := false; !begun || len(rest) > 0; begun = true {
		var columns [cardColumns][]partRow
		high := 12.0
		from := 0
		if !begun && len(c.facts) > 0 {
			from, high = 1, left
		}
		var set [][]partRow
		set, rest = levelled(rest, cardColumns-from, most)
		copy(columns[from:], set)
		for _, rows := range set {
			high = max(high, highOf(rows))
		}
		f.keep(head + high + cardAfter)
		y0 := f.y
		f.add(box(drawing.Pen{Ink: drawing.Black, Width: 0.9}, 0, orb.Bound{Min: orb.Point{f.x0, y0 - head - high}, Max: orb.Point{f.x1, y0}}))
		in := b.flowIn(f.q, orb.Bound{Min: orb.Point{f.x0 + cardPad, y0 - head}, Max: orb.Point{f.x1 - cardPad, y0 - cardPad}})
		indent := 0.0
		if c.zone != "" {
			indent = 20
			in.add(zoneBadge(b.marks()[c.zone], orb.Point{in.x0 + 8, in.y - sectionSize*leading/2})...)
		}
		in.lines(oneLine(title, sectionSize, in.wide()-indent), sectionSize, true, indent, 0)
		in.y -= 2
		in.rule(0.6, drawing.Black)
		top := y0 - head + cardPad
		x := f.x0 + cardPad
		for k := range columns {
			wide := w
			if k == 0 {
				wide = first
			}
			col := b.flowIn(f.q, orb.Bound{Min: orb.Point{x, top - high - cardPad}, Max: orb.Point{x + wide, top}})
			x += wide + cardBetween
			if k < from {
				col.told(c, tables)
			}
			col.partLines(columns[k])
		}
		f.y = y0 - head - high
		f.gap(cardAfter)
		title = c.title + ", continued"
	}
	if !tables {
		for _, g := range c.tables { // too high for a card
			title := g.Note
			g.Note = ""
			f.section(c.title + ": " + lowerFirst(title))
			f.table(g)
		}
	}
}

// told sets what a card says beside its parts.
func (f *flow) told(c *zoneCard, tables bool) {
	const in = 46.0
	for _, p := range c.facts {
		f.add(&drawing.Text{At: orb.Point{f.x0, f.y - partLine + 2.6}, Size: partSize, Bold: true, S: p[0]})
		for _, l := range drawing.Wrap(p[1], partSize, false, f.wide()-in) {
			f.add(&drawing.Text{At: orb.Point{f.x0 + in, f.y - partLine + 2.6}, Size: partSize, S: l})
			f.y -= partLine
		}
		f.y -= 1.4
	}
	if tables {
		for _, g := range c.tables {
			f.y -= 3
			f.add(&drawing.Text{At: orb.Point{f.x0, f.y - partLine + 2.6}, Size: partSize, Bold: true, S: g.Note})
			f.y -= partLine
			f.partLines(partsOf(g, f.wide()))
		}
	}
	if c.says != "" {
		f.note(c.says)
	}
}

// measured is how high something is in a column so wide.
func (b *builder) measured(wide float64, set func(f *flow)) float64 {
	f := b.flowIn(&page{}, orb.Bound{Min: orb.Point{0, -1e6}, Max: orb.Point{wide, 0}})
	set(f)
	return -f.y
}

// oneLine is as much of words as goes on one line.
func oneLine(s string, size, wide float64) string {
	lines := drawing.Wrap(s, size, true, wide)
	if len(lines) < 2 {
		return s
	}
	short := drawing.Wrap(s, size, true, wide-size)
	return short[0] + " …"
}

// partRow is a line of parts as it is set.
type partRow struct {
	count, cost string
	item        []string
	bold        bool
}

func (r *partRow) high() float64 { return float64(len(r.item)) * partLine }

func highOf(rows []partRow) float64 {
	sum := 0.0
	for i := range rows {
		sum += rows[i].high()
	}
	return sum
}

// partsOf are the lines of a list in a column so wide.
func partsOf(g grid, wide float64) []partRow {
	var out []partRow
	for i, row := range g.Rows {
		r := partRow{bold: g.Heavy[i]}
		room := wide - partCount
		if len(row) > 3 {
			r.cost, room = row[3], room-partCost
		}
		r.count = row[1]
		switch unit := row[2]; {
		case unit == "joint" && row[1] != "1":
			r.count += " joints"
		case unit != "" && unit != "each":
			r.count += " " + unit
		}
		r.item = drawing.Wrap(row[0], partSize, r.bold, room)
		out = append(out, r)
	}
	return out
}

// fill is as many lines as are no higher than a column, at least one, and the rest.
func fill(rows []partRow, high float64) (in, rest []partRow) {
	n, sum := 0, 0.0
	for n < len(rows) && (n == 0 || sum+rows[n].high() <= high) {
		sum += rows[n].high()
		n++
	}
	return rows[:n], rows[n:]
}

// levelled is lines in columns about as high, as far as they have room.
func levelled(rows []partRow, columns int, most float64) (set [][]partRow, rest []partRow) {
	whole := highOf(rows)
	for high := whole / float64(columns); ; high += partLine / 2 {
		set, rest = set[:0], rows
		for range columns {
			var in []partRow
			if len(rest) > 0 {
				in, rest = fill(rest, min(high, most))
			}
			set = append(set, in)
		}
		if len(rest) == 0 || high >= most {
			return set, rest
		}
	}
}

// partLines sets lines of parts: count and unit, the item, its share of the cost.
func (f *flow) partLines(rows []partRow) {
	for i := range rows {
		r := &rows[i]
		y := f.y - partLine + 2.6
		f.add(&drawing.Text{At: orb.Point{f.x0 + partCount - 6, y}, Size: partSize, Bold: r.bold, Anchor: drawing.End, S: r.count})
		if r.cost != "" {
			f.add(&drawing.Text{At: orb.Point{f.x1, y}, Size: partSize, Bold: r.bold, Anchor: drawing.End, S: r.cost})
		}
		for k, l := range r.item {
			f.add(&drawing.Text{At: orb.Point{f.x0 + partCount, y - partLine*float64(k)}, Size: partSize, Bold: r.bold, S: l})
		}
		f.y -= r.high()
	}
}
