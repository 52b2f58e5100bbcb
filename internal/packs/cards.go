package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// card is one of several things of a kind that are cut out or read by themselves, as a
// zone card. set fills it; it is called twice, the first time to see how high it is.
type card struct {
	Title string
	Mark  func(at orb.Point) []drawing.Item // before the title, at most 14 points; nil: none
	set   func(f *flow)
}

// cards sets cards in two columns, in reading order by rows, none cut by the end of a page.
func (f *flow) cards(all ...card) {
	const between, pad = 12.0, 8.0
	w := (f.wide() - between) / 2
	for i := 0; i < len(all); i += 2 {
		pair := all[i:min(i+2, len(all))]
		high := 0.0
		for _, c := range pair {
			high = max(high, c.high(f.b, w-2*pad))
		}
		high += 2 * pad
		f.keep(min(high, f.top-f.bottom))
		if f.full {
			return
		}
		high = min(high, f.y-f.bottom)
		for k, c := range pair {
			x := f.x0 + float64(k)*(w+between)
			room := orb.Bound{Min: orb.Point{x, f.y - high}, Max: orb.Point{x + w, f.y}}
			f.add(box(drawing.Pen{Ink: drawing.Black, Width: 0.9}, 0, room))
			c.fill(f.b.flowIn(f.q, orb.Bound{Min: orb.Point{x + pad, room.Min[1] + pad/2}, Max: orb.Point{x + w - pad, room.Max[1] - pad}}))
		}
		f.y -= high
		f.gap(between)
	}
}

func (c *card) fill(f *flow) {
	in := 0.0
	if c.Mark != nil {
		in = 20
		f.add(c.Mark(orb.Point{f.x0 + 8, f.y - sectionSize*leading/2})...)
	}
	f.lines(c.Title, sectionSize, true, in, 0)
	f.gap(2)
	f.rule(0.6, drawing.Black)
	f.gap(4)
	c.set(f)
}

// high is how high a card so wide is.
func (c *card) high(b *builder, wide float64) float64 {
	f := b.flowIn(&page{}, orb.Bound{Min: orb.Point{0, -1e6}, Max: orb.Point{wide, 0}})
	c.fill(f)
	return -f.y - 4 // what follows the last thing is not wanted whole
}
