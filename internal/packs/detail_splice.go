package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// spliceDetail is a joint of wires in a box: a section through it.
func (b *builder) spliceDetail() *detail {
	kind, name := trench.RoundBox, "Round box"
	for _, x := range b.in.Design.Digs.Boxes {
		if x.New && x.Drawn != "" {
			kind, name = trench.SpliceBox, "Box for splices"
		}
	}
	size := boxSeen[kind]
	gravel, slack, deep := b.figure(plan.GravelDepth), b.figure(plan.WireSlack), b.figure(plan.DepthWire)
	foot := -10.0
	if kind == trench.SpliceBox {
		foot = -9
	}
	wire := max(-deep-0.3, foot+1.2)
	if deep+0.3 > -foot {
		wire = foot + 0.8
	}
	low := foot - gravel - 1.6
	top, half := size.coverWide/2, size.footWide/2
	d := &detail{title: "Wire splice", what: "Section", box: orb.Bound{Min: orb.Point{-half - 4.2, low}, Max: orb.Point{half + 2.9, 1.8}}}
	x0, x1 := -half-2.9, half+2.9
	d.earth(orb.Point{x0, low}, orb.Point{x1, low}, orb.Point{x1, 0}, orb.Point{x0, 0})
	d.backfill(-half-2, foot, half+2, 0)
	d.gravel(-half-1.5, foot-gravel, half+1.5, foot)
	d.rect(finePen, 0, -half-1.5, foot-gravel, half+1.5, foot)
	d.shape(drawing.Pen{}, drawing.White, orb.Point{-top, 0}, orb.Point{top, 0}, orb.Point{half, foot}, orb.Point{-half, foot})
	for _, s := range []float64{-1, 1} {
		d.shape(cutPen, solid, orb.Point{s * top, -0.5}, orb.Point{s * (top + 0.35), -0.5}, orb.Point{s * (half + 0.35), foot}, orb.Point{s * half, foot})
	}
	d.rect(cutPen, solid, -top-0.35, -0.5, top+0.35, 0)
	d.line(finePen, orb.Point{-0.9, -0.25}, orb.Point{0.9, -0.25})

	// Wires in from both sides, coils, three joints standing up.
	d.line(cutPen, orb.Point{x0, wire}, orb.Point{-half + 0.9, wire}, orb.Point{-top + 1.2, wire + 1})
	d.line(cutPen, orb.Point{x1, wire}, orb.Point{half - 0.9, wire}, orb.Point{top - 1.2, wire + 1})
	r := min(top*0.34, 1.15)
	d.coil(-top+0.5+r, wire+1.2, r, 3)
	d.coil(top-0.5-r-2*r*0.55, wire+1.2, r, 3)
	for i := -1; i <= 1; i++ {
		x := float64(i) * min(1.5, top/2.3)
		foot := wire + 2.2
		d.line(seenPen, orb.Point{-top + 0.5 + 1.8*r, wire + 1.2 + r}, orb.Point{x - 0.2, foot + 0.2}, orb.Point{x - 0.12, -4.2})
		d.line(seenPen, orb.Point{top - 0.5 - 1.8*r, wire + 1.2 + r}, orb.Point{x + 0.2, foot + 0.2}, orb.Point{x + 0.12, -4.2})
		d.shape(cutPen, drawing.White, orb.Point{x - 0.45, -4.2}, orb.Point{x + 0.45, -4.2}, orb.Point{x + 0.5, -1.7}, orb.Point{x - 0.5, -1.7})
		d.rect(drawing.Pen{}, plastic, x-0.4, -3.9, x+0.4, -1.9)
		d.line(cutPen, orb.Point{x - 0.12, -4.2}, orb.Point{x - 0.12, -3.2}, orb.Point{x, -2.4}, orb.Point{x + 0.12, -3.2}, orb.Point{x + 0.12, -4.2})
		d.shape(seenPen, solid, orb.Point{x - 0.28, -3.1}, orb.Point{x + 0.28, -3.1}, orb.Point{x + 0.14, -2.1}, orb.Point{x - 0.14, -2.1})
	}
	d.grade(x0, -top-0.35, 0)
	d.grade(top+0.35, x1, 0)

	if wire == -deep-0.3 {
		d.upright(x0+0.8, 0, -deep, x0-0.8, b.inches(deep)+"| cover")
	}
	d.upright(half+1.5, foot-gravel, foot, half+2.3, b.inches(gravel))
	d.tell(top-0.3, -0.1, "Cover flush with finished grade")
	d.tell(min(1.5, top/2.3)+0.3, -3.6, "Connector filled against water, listed for wet ground and for the number and size of the wires in it")
	d.tell(top-0.6, wire+1.2, fmt.Sprintf("%s of slack to each wire, coiled", b.inches(slack)))
	d.tell(half+1.6, wire, "Wire listed for direct burial")
	if gravel > 0 {
		d.tell(half-1.2, foot-gravel*0.5, "Washed gravel")
	}
	d.tell(half-0.1, foot+0.6, name+b.splicePlace())
	d.notes = []string{
		fmt.Sprintf("Slack is %s to %s by common practice; here %s. It lets the joint be lifted out and made again.", b.sys.Inches(24), b.sys.Inches(36), b.inches(slack)),
		"No joint lies in the ground, in a sleeve or in a conduit. The common is white; each station has a colour, written down.",
		"The controller is off and unplugged while wires are joined. Mains wiring is an electrician's.",
	}
	if most := b.splices(); most > 0 {
		d.notes = append(d.notes, fmt.Sprintf("This plan: %s in all; how many in which box is in the list of valves and wire.", plan.Plural(most, "connector", "connectors")))
	}
	return d
}

func (b *builder) splices() int {
	n := 0
	for _, s := range b.in.Design.Wiring.Splices {
		n += s.Connectors
	}
	return n
}

// splicePlace says where the joints are made on this plan.
func (b *builder) splicePlace() string {
	for _, x := range b.in.Design.Digs.Boxes {
		if x.New && x.Drawn != "" {
			return "; joints at valves are made in the valves' boxes the same way"
		}
	}
	return ", or the valves' own box"
}
