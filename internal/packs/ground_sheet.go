package packs

import (
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// groundSheet makes a sheet of ground: draw draws all of it, beside says what goes
// into the column, and list is the sheet that has what finds no room. enlarge are places
// that are shown larger on pages of their own where the plan is small.
type groundSheet struct {
	list    string
	draw    func(*chart)
	beside  func(c *chart, wide float64) []part
	enlarge func(*chart) []spotlight
	also    []orb.Point // feet: to be seen beside all that is drawn
}

// ground makes the pages of a sheet of ground.
func (b *builder) ground(s groundSheet) error {
	var c *chart
	var parts []part
	var small func(wide, k float64) []part
	done := 0 // parts that stand beside the plan
	wide := asideWide(1)
	k := letterScale(b.drawn)
	shown := shownOf(b.in)
	for _, at := range s.also {
		shown = shown.Extend(at)
	}
	err := b.planPages(planSheet{bounds: shown, aside: asideWide(k), fill: func(q *page, v *drawing.View) error {
		first := c == nil
		if first {
			c = newChart(b.in, v.PerFoot, k)
			s.draw(c)
		}
		v.Items = inSight(c.items(), v)
		q.add(v)
		b.settle(c, q, v, s.list)
		if first {
			beside := func(c *chart, wide float64) []part { return append(s.beside(c, wide), c.tooSmall(wide, q.unplaced)) }
			parts = c.fitting(q.aside, beside)
			small = func(wide, k float64) []part {
				list := *c
				list.k = k
				return saying(beside(&list, wide))
			}
		}
		if done == len(parts) && !first {
			c.again(q, parts)
		} else {
			done += c.beside(q, b.now.code, parts[done:])
		}
		return b.ctx.Err()
	}})
	if err != nil {
		return err
	}
	placed := done == len(parts)
	if s.enlarge != nil {
		under := func(wide, k float64) []part { return small(wide, k)[done:] }
		if placed, err = b.enlarged(s, c, k, placed, under); err != nil {
			return err
		}
	}
	if !placed {
		b.overflow(small(wide, 1)[done:], wide)
	}
	return nil
}

// tooSmall says what to do where many labels found no room.
func (c *chart) tooSmall(wide float64, lost int) part {
	const many = 12 // chosen
	if lost < many {
		return part{}
	}
	return part{c.title("Too small to read all of it", wide), []block{
		c.block("Many labels found no room at this scale. Make the papers at a larger scale, or on larger paper: the plan is then spread over sheets that match.", wide, nil),
	}}
}

// saying are the parts that say something.
func saying(parts []part) []part {
	return slices.DeleteFunc(parts, func(p part) bool { return len(p.blocks) == 0 })
}

// shownOf is the ground that plans show: all that is drawn.
func shownOf(in Input) orb.Bound {
	p := in.Plan
	var out orb.Bound
	some := false
	add := func(of orb.Bound) {
		if !some {
			out, some = of, true
		} else {
			out = out.Union(of)
		}
	}
	at := func(x, y float64) { add(orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x, y}}) }
	for _, id := range plan.SortedIDs(p.Areas) {
		if a := p.Areas[id]; a.Kind != plan.RightOfWay || len(p.Site.Lot) == 0 {
			add(a.Outline.Bound())
		}
	}
	if len(p.Site.Lot) > 0 {
		add(p.Site.Lot.Bound())
	}
	for _, id := range plan.SortedIDs(p.Barriers) {
		add(p.Barriers[id].Line.Points().Bound())
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		at(float64(p.Heads[id].X), float64(p.Heads[id].Y))
	}
	for _, id := range plan.SortedIDs(p.Nodes) {
		at(float64(p.Nodes[id].X), float64(p.Nodes[id].Y))
	}
	for _, id := range plan.SortedIDs(p.Trees) {
		at(float64(p.Trees[id].X), float64(p.Trees[id].Y))
	}
	for _, s := range []*plan.Spot{p.Supply.Connection, p.Supply.BackflowAt, p.Controller.At} {
		if s != nil {
			add(orb.Bound{Min: spotAt(*s), Max: spotAt(*s)})
		}
	}
	for _, id := range plan.SortedIDs(p.Zones) {
		if s := p.Zones[id].ValveAt; s != nil {
			add(orb.Bound{Min: spotAt(*s), Max: spotAt(*s)})
		}
	}
	for _, id := range plan.SortedIDs(p.Sensors) {
		at(float64(p.Sensors[id].X), float64(p.Sensors[id].Y))
	}
	if !some {
		return orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{40, 30}}
	}
	const least = 10.0 // feet, so that a plan of one head has ground about it
	c := out.Center()
	w, h := max(out.Max[0]-out.Min[0], least)/2, max(out.Max[1]-out.Min[1], least)/2
	return orb.Bound{Min: orb.Point{c[0] - w, c[1] - h}, Max: orb.Point{c[0] + w, c[1] + h}}
}

// letterScale is how much larger than on Letter marks and letters of drawings are on a
// paper.
func letterScale(of Paper) float64 {
	return (&page{Page: drawing.Page{Width: of.Width, Height: of.Height}}).enlarged()
}
