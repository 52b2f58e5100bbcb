package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// manifoldDetail is the row of valves of the plan's largest box, seen from above with
// its cover off.
func (b *builder) manifoldDetail() *detail {
	main, lateral := b.pipeOf(true), b.pipeOf(false)
	n, kind := 3, trench.StandardBox
	var zones []plan.ID
	if x, ok := b.largestBox(); ok {
		n, kind, zones = len(x.Zones), x.Kind, x.Zones
	}
	pitch := valveWide + valveGap
	row := float64(n-1)*pitch + valveWide
	size := boxSeen[kind]
	long := max(size.footLong, row+3)
	coverLong := max(size.coverLong, long-5)
	x0 := -row/2 + valveWide/2 // the first valve
	const header, valve = 0.0, 5.4
	footLow := -2.2
	footHigh := footLow + size.footWide
	d := &detail{title: fmt.Sprintf("Manifold of %s", plan.Plural(n, "valve", "valves")), what: "From above, cover off",
		box: orb.Bound{Min: orb.Point{-long/2 - 3.6, footLow - 3.4}, Max: orb.Point{long/2 + 0.8, footHigh + 4.2}}}

	// The box: its foot as seen, its cover as a broken line above.
	d.rect(cutPen, drawing.White, -long/2-0.4, footLow-0.4, long/2+0.4, footHigh+0.4)
	d.gravel(-long/2, footLow, long/2, footHigh)
	d.rect(seenPen, 0, -long/2, footLow, long/2, footHigh)

	d.tube(seenPen, plastic, main.outside, orb.Point{-long/2 - 3.4, header}, orb.Point{x0 + float64(n-1)*pitch, header}, orb.Point{x0 + float64(n-1)*pitch, 1.6})
	for i := range n {
		x := x0 + float64(i)*pitch
		d.tube(seenPen, plastic, main.outside, orb.Point{x, header}, orb.Point{x, valve - valveLong/2})
		d.tube(seenPen, plastic, lateral.outside, orb.Point{x, valve + valveLong/2}, orb.Point{x, footHigh + 2.6})
		switch {
		case i < n-1: // a tee
			d.rect(seenPen, plastic, x-main.outside/2-0.75, header-main.outside/2-0.2, x+main.outside/2+0.75, header+main.outside/2+0.2)
			d.collar(x, header+main.outside/2+0.45, 90, 0.6, main.outside+0.4, plastic)
		default: // an ell, or a capped tee to add one more
			d.collar(x-main.outside/2-0.35, header, 0, 0.6, main.outside+0.4, plastic)
			d.collar(x, header+main.outside/2+0.45, 90, 0.6, main.outside+0.4, plastic)
		}
		if u := int(b.figure(plan.ValveUnions)); u > 0 {
			d.union(x, valve-valveLong/2-0.75, 90, main.outside)
			if u > 1 {
				d.union(x, valve+valveLong/2+0.75, 90, main.outside)
			}
		}
		d.valveAbove(x, valve)
		if i > 0 {
			d.level(valve, x-pitch+valveWide/2, x-valveWide/2, footHigh-1.3, b.practice(valveGap)).middle = true
		}
		label := fmt.Sprintf("valve %d", i+1)
		if i < len(zones) {
			if s := b.p.Zones[zones[i]].Station; s > 0 {
				label = fmt.Sprintf("zone %d", s)
			} else {
				label = "zone –"
			}
		}
		d.say(x, footHigh+3, drawing.Middle, label)
		d.arrow(x, footHigh+1.4)
	}
	d.rect(hiddenPen, 0, -coverLong/2, (footLow+footHigh-size.coverWide)/2, coverLong/2, (footLow+footHigh+size.coverWide)/2)
	d.level(footLow-0.4, -long/2, long/2, footLow-2.6, b.practice(long)+"| or more inside the foot")
	d.upright(-long/2-0.4, footLow, footHigh, -long/2-1.9, b.practice(size.footWide))
	last := x0 + float64(n-1)*pitch
	d.tell(last+lateral.outside/4, footHigh+1.9, lateral.name+" of each zone")
	d.tell(last+valveWide/2-0.2, valve+0.3, plan.Capital(b.valveWords()))
	if b.figure(plan.ValveUnions) > 0 {
		d.tell(last+main.outside/2+0.3, valve-valveLong/2-0.75, "Union at each valve, in reach of the hand")
	}
	d.tell(coverLong/2, footHigh-size.coverWide*0.12-1.8, "Opening under the cover")
	d.tell(long/2-1, footLow+1, b.fixed("Washed gravel, walls on bricks"))
	d.tell(last-0.2, header-main.outside/3, main.name+"; from the left")
	d.notes = []string{
		"Dry-fit the whole row first; every valve must turn out and lift through the opening.",
		b.fixed("Measure the box before it is bought: its foot takes the row with {3 in} between valves."),
		"Lay the numbers of the zones on the valves' tags, and write them inside the cover.",
	}
	if long > size.footLong {
		d.notes = append(d.notes, "Common boxes are shorter than this row: take a larger one, or set two boxes side by side.")
	}
	if len(zones) > 0 {
		var names []string
		for _, z := range zones {
			names = append(names, b.p.ZoneName(z))
		}
		d.notes = append(d.notes, "From left to right: "+plan.Several(names)+".")
	}
	return d
}

// valveAbove is a zone valve seen from above, its water upward.
func (d *detail) valveAbove(x, y float64) {
	d.rect(cutPen, drawing.White, x-0.75, y-valveLong/2, x+0.75, y+valveLong/2)
	d.circle(cutPen, drawing.White, x, y, valveWide/2)
	d.circle(finePen, 0, x, y, valveWide/2-0.3)
	for i := range 6 {
		u, v := polar(valveWide/2-0.15, 60*float64(i)+30)
		d.circle(finePen, solid, x+u, y+v, 0.11)
	}
	d.circle(seenPen, solid, x, y+0.75, 0.55)
	d.circle(seenPen, plastic, x, y-0.55, 0.35)
}

// arrow is the way water goes, upward in a pipe.
func (d *detail) arrow(x, y float64) {
	d.shape(drawing.Pen{}, drawing.Black, orb.Point{x, y + 0.45}, orb.Point{x - 0.28, y - 0.25}, orb.Point{x + 0.28, y - 0.25})
}
