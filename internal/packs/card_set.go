package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// Measures of zone cards, points: chosen so that two of a usual zone fit a page.
const (
	cardPad     = 9.0
	cardBetween = 14.0 // its two columns
	cardAfter   = 10.0
	partSize    = 8.0
	partLine    = 10.4
	partCount   = 46.0 // for count and unit before the item
	partCost    = 52.0
)

// setCard sets a card across the page, facts and heads at the left and parts at the
// right; without facts parts are in both columns. What is higher than a page goes on in
// the next card, and tables too high for one stand under it.
func (b *builder) setCard(f *flow, c *zoneCard) {
	w := (f.wide() - 2*cardPad - cardBetween) / 2
	left := b.measured(w, func(in *flow) { in.told(c, true) })
	head := sectionSize*leading + 10 + 2*cardPad
	most := f.top - f.bottom - head - cardAfter
	tables := left <= most
	if !tables {
		left = b.measured(w, func(in *flow) { in.told(c, false) })
	}
	rest, title := partsOf(c.parts, w), c.title
	for first := true; first || len(rest) > 0; first = false {
		columns := [2][]partRow{}
		high := 0.0
		if first && len(c.facts) > 0 {
			columns[1], rest = fill(rest, most)
			high = max(left, highOf(columns[1]))
		} else {
			columns[0], columns[1], rest = halved(rest, most)
			high = max(highOf(columns[0]), highOf(columns[1]), 12)
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
		in.y -= 3
		in.rule(0.6, drawing.Black)
		top := y0 - head + cardPad
		for k := range columns {
			x := f.x0 + cardPad + float64(k)*(w+cardBetween)
			col := b.flowIn(f.q, orb.Bound{Min: orb.Point{x, top - high - cardPad}, Max: orb.Point{x + w, top}})
			if k == 0 && first && len(c.facts) > 0 {
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
	const in = 50.0
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

// halved is lines in two columns about as high, as far as they have room.
func halved(rows []partRow, most float64) (a, b, rest []partRow) {
	a, rest = fill(rows, min(most, highOf(rows)/2+partLine))
	b, rest = fill(rest, most)
	return a, b, rest
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
