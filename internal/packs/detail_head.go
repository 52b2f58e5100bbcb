package packs

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// headOff is how far a head stands off its lateral: 4 to 8 in, common practice (B13).
const headOff = 6.0

// bodyOf is the body that most new heads have, and all of them counted; a 4 in one
// where there is none.
func (b *builder) bodyOf() (catalog.Body, []string) {
	names, count := map[string]int{}, map[plan.ID]int{}
	for _, h := range b.p.Heads {
		if h.Status.IsNew() {
			if name := b.p.BodyName(h.Body); name != "" {
				names[name]++
			}
			count[h.Body]++
		}
	}
	best := plan.ID("")
	for _, id := range plan.SortedIDs(b.p.Bodies) {
		if count[id] > count[best] || best == "" {
			best = id
		}
	}
	body, ok := b.p.Bodies[best]
	if !ok || !(body.Height > 0) {
		body = catalog.Body{Name: "Pop-up body 4 in", Height: 4, InletIn: 0.5}
	}
	return body, counted(names)
}

// headDetail is a head on its swing joint: a section across the lateral, and under it,
// in line, the view from above.
func (b *builder) headDetail() *detail {
	body, bodies := b.bodyOf()
	lateral := b.pipeOf(false)
	cover := b.figure(plan.DepthLateral)
	r := lateral.outside / 2
	axis := -cover - r // of the lateral
	high := overall(body)
	wide, capWide := 1.6, 2.3
	joint := 0.84 // outside of 1/2 in thread pipe
	if body.InletIn >= 0.75 {
		wide, capWide, joint = 2.0, 2.6, 1.05
	}
	deep := max(-axis+r, high+3.4) + 3
	plans := -deep - 5.5 // the axis of the view from above
	d := &detail{title: "Head on a swing joint", what: "Section across the lateral, and from above",
		box: orb.Bound{Min: orb.Point{-6.5, plans - 4.2}, Max: orb.Point{11.5, 2.2}}}
	x0, x1 := d.box.Min[0]+1.5, d.box.Max[0]

	// The ground: firm outside, filled where it was dug for lateral and head.
	left, right := -2.4, headOff+2.8
	d.earth(orb.Point{x0, -deep}, orb.Point{x1, -deep}, orb.Point{x1, 0}, orb.Point{x0, 0})
	d.backfill(left, -deep+1.2, right, 0)
	d.line(finePen, orb.Point{left, 0}, orb.Point{left, -deep + 1.2}, orb.Point{right, -deep + 1.2}, orb.Point{right, 0})
	d.gravel(headOff-2.2, -high-3.2, headOff+2.2, -high+0.8)

	// The joint: out of the tee sideways, an ell, an arm, an ell, up into the body.
	out, under := orb.Point{r + 1.7, axis}, orb.Point{headOff, -high - 1.5}
	d.tube(seenPen, plastic, joint, orb.Point{0, axis}, out, under, orb.Point{headOff, -high + 0.4})
	turn := math.Atan2(under[1]-out[1], under[0]-out[0]) * 180 / math.Pi
	d.collar(out[0]-0.5, out[1], 0, 0.7, joint+0.45, plastic)
	d.collar(out[0]+0.55*math.Cos(turn*math.Pi/180), out[1]+0.55*math.Sin(turn*math.Pi/180), turn, 0.6, joint+0.45, plastic)
	d.collar(under[0]-0.55*math.Cos(turn*math.Pi/180), under[1]-0.55*math.Sin(turn*math.Pi/180), turn, 0.6, joint+0.45, plastic)
	d.collar(under[0], under[1]+0.7, 90, 0.6, joint+0.45, plastic)
	d.collar(r+0.35, axis, 0, 0.8, joint+0.6, plastic) // the tee's outlet
	d.circle(cutPen, solid, 0, axis, r+0.22)
	d.ring(0, axis, lateral.outside, lateral.wall)

	// The body, its top flush.
	d.rect(cutPen, drawing.White, headOff-joint/2-0.2, -high, headOff+joint/2+0.2, -high+0.9)
	d.shape(cutPen, drawing.White, orb.Point{headOff - wide/2, -0.55}, orb.Point{headOff + wide/2, -0.55}, orb.Point{headOff + wide/2 - 0.15, -high + 0.7}, orb.Point{headOff - wide/2 + 0.15, -high + 0.7})
	d.rect(cutPen, plastic, headOff-capWide/2, -0.85, headOff+capWide/2, 0)
	for i := -3; i <= 3; i++ {
		x := headOff + float64(i)*capWide/8
		d.line(finePen, orb.Point{x, -0.78}, orb.Point{x, -0.3})
	}
	d.line(axisPen, orb.Point{headOff, 1.4}, orb.Point{headOff, plans - 2.4})
	d.line(axisPen, orb.Point{0, axis + r + 1.2}, orb.Point{0, plans - 3.9})
	d.grade(x0, headOff-capWide/2, 0)
	d.grade(headOff+capWide/2, x1, 0)

	// From above: the lateral runs past, the outlet leaves it square.
	d.tube(seenPen, plastic, joint, orb.Point{0, plans}, orb.Point{headOff, plans})
	d.rect(seenPen, drawing.White, -r, plans-3.6, r, plans+3.2)
	d.rect(cutPen, plastic, -r-0.22, plans-1.1, r+0.22, plans+1.1)
	d.rect(cutPen, plastic, r+0.22, plans-joint/2-0.25, r+1.1, plans+joint/2+0.25)
	d.collar(r+1.9, plans, 0, 0.7, joint+0.45, plastic)
	d.circle(cutPen, plastic, headOff, plans, capWide/2)
	d.circle(finePen, drawing.White, headOff, plans, capWide/2-0.35)
	d.circle(finePen, plastic, headOff, plans, 0.45)
	d.line(axisPen, orb.Point{-1.6, plans}, orb.Point{headOff + 2.2, plans})
	d.say(r+0.6, plans+1.5, drawing.Start, "90°")
	d.broken(-r-0.4, plans-3.9, plans-3.3)

	d.upright(0, 0, -cover, -4.2, b.inches(cover)+"| cover")
	d.upright(headOff-wide/2, -high, 0, 2.7, b.practice(high)+"| or so")
	off := d.level(plans-3.1, 0, headOff, plans-3.1, b.practice(headOff))
	off.below = false
	d.tell(headOff+0.6, 0, "Top of the cap flush with finished grade, the body plumb")
	d.tell(headOff+wide/2-0.1, -high*0.45, plan.Capital(firstWords(b.bodyWords(body))))
	d.tell(headOff+1.6, -high-0.4, "Gravel or firm soil, tamped by hand")
	d.tell((out[0]+under[0])/2, (out[1]+under[1])/2, "Swing joint, "+b.sys.PipeSize(max(body.InletIn, 0.5))+", free to turn")
	d.tell(0, axis, lateral.name)
	d.tell(r+0.7, plans+0.1, "Outlet of the tee to the side, at right angles to the lateral")
	d.notes = []string{
		b.fixed("The head stands {4 in} to {8 in} off the lateral, never over it: a wheel on the head then turns the joint and breaks nothing."),
		b.fixed("Set it to finished grade: new sod adds about {1 in}. Check it again when the ground has settled."),
		"Keep soil out of the open inlet until the lateral is flushed; the nozzle goes in after.",
	}
	if len(bodies) > 0 {
		d.notes = append(d.notes, "This plan: "+plan.Several(bodies)+".")
	}
	return d
}

// bodyWords is a body as it is asked for.
func (b *builder) bodyWords(v catalog.Body) string {
	return catalog.NameIn(b.sys, v.Name)
}

// firstWords is a name before its first comma.
func firstWords(s string) string {
	for i, r := range s {
		if r == ',' {
			return s[:i]
		}
	}
	return s
}
