package packs

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// boxSize is a valve box: across its cover and its foot, along the row of valves and
// along the flow, in inches, from memory of common boxes.
type boxSize struct{ coverLong, coverWide, footLong, footWide float64 }

var boxSeen = map[trench.BoxKind]boxSize{
	trench.RoundBox:    {10, 10, 13, 13},
	trench.StandardBox: {15, 10.5, 20, 14.5},
	trench.JumboBox:    {20, 12.5, 26, 17},
	trench.SpliceBox:   {6, 6, 8, 8},
}

const (
	boxHigh    = 12.0 // of a box without an extension, from memory
	boxHigher  = 6.0  // an extension, from memory
	brickHigh  = 2.25 // of a brick laid flat
	valveLong  = 4.6  // of a 1 in valve, about: from memory
	valveWide  = 3.2
	valveUnder = 6.5 // its axis under the cover, at least: 4.2 in of valve and room for wire
	valveGap   = 3.0 // between two valves: common practice (B5)
)

// boxDetail is one valve in its box: a section along the flow.
func (b *builder) boxDetail() *detail {
	main, lateral := b.pipeOf(true), b.pipeOf(false)
	over, under := b.figure(plan.DepthLateral), b.figure(plan.DepthMain)
	gravel, unions := b.figure(plan.GravelDepth), int(b.figure(plan.ValveUnions))
	size := boxSeen[trench.StandardBox]
	if x, ok := b.largestBox(); ok {
		size = boxSeen[x.Kind]
	}
	leaves := -over - lateral.outside/2
	axis := min(leaves, -valveUnder) // of the valve, its bonnet under the cover
	foot := -boxHigh
	for foot > axis-1.2 {
		foot -= boxHigher
	}
	mainY := -under - main.outside/2
	low := min(foot-max(gravel, brickHigh), mainY-main.outside/2) - 2.6
	reach := size.footWide/2 + 4.6
	d := &detail{title: "Valve in its box", what: "Section along the flow", box: orb.Bound{Min: orb.Point{-reach - 2, low}, Max: orb.Point{reach, 2}}}
	d.earth(orb.Point{-reach, low}, orb.Point{reach, low}, orb.Point{reach, 0}, orb.Point{-reach, 0})
	half, top := size.footWide/2, size.coverWide/2
	rise := -half - 2.5 // where the main comes up
	d.backfill(rise-2, min(mainY-main.outside/2-0.6, foot), half+2.2, 0)
	d.gravel(-half-2, foot-gravel, half+2, foot)
	d.rect(finePen, 0, -half-2, foot-gravel, half+2, foot)

	// The box: cut above the pipes' slots, seen behind them, on bricks.
	slot := axis + lateral.outside/2 + 0.7
	at := func(y, out float64) float64 { return out*1 + (half-top)*min(max(-y/-foot, 0), 1) + top }
	d.shape(drawing.Pen{}, drawing.White, orb.Point{-at(0, 0), 0}, orb.Point{at(0, 0), 0}, orb.Point{at(foot, 0), foot}, orb.Point{-at(foot, 0), foot})
	for _, side := range []float64{-1, 1} {
		if bricks := b.figure(plan.BricksEach); bricks > 0 {
			d.brick(side*(half-1.4), foot-brickHigh, side*(half+1.6), foot)
		}
		d.shape(cutPen, solid, orb.Point{side * at(-0.6, 0), -0.6}, orb.Point{side * (at(-0.6, 0) + 0.4), -0.6},
			orb.Point{side * (at(slot, 0) + 0.4), slot}, orb.Point{side * at(slot, 0), slot})
		d.line(seenPen, orb.Point{side * at(slot, 0), slot}, orb.Point{side * at(foot, 0), foot})
		d.line(seenPen, orb.Point{side * (at(slot, 0) + 0.4), slot}, orb.Point{side * (at(foot, 0) + 0.4), foot}, orb.Point{side * at(foot, 0), foot})
	}
	d.rect(cutPen, solid, -top-0.4, -0.6, top+0.4, 0)
	d.line(finePen, orb.Point{-1.2, -0.3}, orb.Point{1.2, -0.3})

	// Main, valve, lateral.
	d.tube(seenPen, plastic, main.outside, orb.Point{-reach, mainY}, orb.Point{rise, mainY}, orb.Point{rise, axis}, orb.Point{-valveLong/2 - 0.4, axis})
	if math.Abs(mainY-axis) > 2.5*main.outside {
		d.collar(rise, mainY+0.9, 90, 0.5, main.outside+0.4, plastic)
		d.collar(rise, axis-0.9, 90, 0.5, main.outside+0.4, plastic)
	}
	d.collar(rise-0.9, mainY, 0, 0.5, main.outside+0.4, plastic)
	d.collar(rise+0.9, axis, 0, 0.5, main.outside+0.4, plastic)
	if out := half + 2; leaves > axis { // and up to its own cover
		d.tube(seenPen, plastic, lateral.outside, orb.Point{valveLong/2 + 0.4, axis}, orb.Point{out, axis}, orb.Point{out, leaves}, orb.Point{reach, leaves})
	} else {
		d.tube(seenPen, plastic, lateral.outside, orb.Point{valveLong/2 + 0.4, axis}, orb.Point{reach, axis})
	}
	for _, side := range []float64{-1, 1} {
		d.collar(side*(valveLong/2+0.35), axis, 0, 0.7, main.outside+0.35, plastic)
		if unions == 2 || unions == 1 && side < 0 {
			d.union(side*(valveLong/2+1.6), axis, 0, main.outside)
		}
	}
	d.valveSide(0, axis)

	// Wire: in under the pipe, a coil, two joints to the valve.
	in, bed := -half+2.5, min(mainY-main.outside/2, foot-gravel)-0.25
	wire := []orb.Point{{-reach, bed}, {in - 0.6, bed}, {in, bed + 0.6}, {in, axis + 2.2}, {-top + 1.4, -3.4}}
	d.line(cutPen, wire...)
	d.coil(-top+2.2, -3, 0.95, 5)
	for i, x := range []float64{top - 2.6, top - 1.6} {
		d.line(seenPen, orb.Point{-top + 4.3, -3}, orb.Point{x - 0.6, -2.2 - 0.3*float64(i)}, orb.Point{x, -3.2})
		d.line(seenPen, orb.Point{x, -4.8}, orb.Point{x - 0.5, axis + 4}, orb.Point{1.1, axis + 3.9})
		d.rect(seenPen, solid, x-0.35, -4.9, x+0.35, -3.1)
	}
	d.grade(-reach, -top-0.4, 0)
	d.grade(top+0.4, reach, 0)

	d.upright(-reach+0.4, 0, -under, -reach-0.9, b.inches(under)+"| over the main")
	d.upright(reach-0.5, 0, -over, reach-1.1, b.inches(over))
	d.upright(half+2, foot-gravel, foot, half+3.1, b.inches(gravel)).below = true
	d.level(foot-max(gravel, brickHigh), -half, half, foot-max(gravel, brickHigh)-1.1, b.practice(size.footWide)+"| or more inside")
	d.tell(top-0.5, -0.1, "Cover flush with finished grade")
	d.tell(top-1.6, -3.6, "Waterproof connectors, listed for wet ground")
	d.tell(1.2, axis+3, plan.Capital(b.valveWords()))
	if unions > 0 {
		d.tell(valveLong/2+1.8, axis-0.5, fmt.Sprintf("%s at each valve: it comes out without a cut", plan.Capital(plan.Plural(unions, "union", "unions"))))
	}
	d.tell(reach-0.6, leaves-lateral.outside/4, lateral.name)
	if gravel > 0 {
		d.tell(half-2.2, foot-gravel+0.2, "Washed gravel")
	}
	if bricks := int(b.figure(plan.BricksEach)); bricks > 0 {
		d.tell(half+0.6, foot-brickHigh/2, fmt.Sprintf("The box stands on %s, not on the pipe", plan.Plural(bricks, "brick", "bricks")))
	}
	d.say(-reach+0.2, bed-1.2, drawing.Start, "Main|"+strings.TrimPrefix(main.name, "Main"))
	d.notes = []string{
		fmt.Sprintf("Coil of %s to %s of each wire in the box, so that the valve can be lifted out.", b.sys.Inches(24), b.sys.Inches(36)),
		"Nothing of the box touches a pipe. Set it where nobody drives, walks or parks and no water stands.",
		"Thread adapters by hand and then one to two turns with tape; never thread pipe of Schedule 40.",
	}
	if foot < -boxHigh {
		d.notes = append(d.notes, fmt.Sprintf("At this depth the box takes an extension of %s.", b.sys.NominalInches(units.Inches(-foot-boxHigh))))
	}
	return d
}

// valveWords is the valve that most new zones have.
func (b *builder) valveWords() string {
	names := map[string]int{}
	for id, z := range b.p.Zones {
		if z.Status.IsNew() {
			valve, _ := b.p.ZoneValve(id)
			names[b.p.DeviceName(valve)]++
		}
	}
	best := ""
	for name, n := range names {
		if n > names[best] || n == names[best] && name < best {
			best = name
		}
	}
	if best == "" {
		return "zone valve, arrow with the flow"
	}
	return best + ", its arrow with the flow"
}

// valveSide is a zone valve seen from the side, its water from left to right.
func (d *detail) valveSide(x, y float64) {
	d.shape(cutPen, drawing.White, orb.Point{x - 2.3, y - 0.75}, orb.Point{x - 1.5, y - 0.75}, orb.Point{x - 1.2, y - 1.1}, orb.Point{x + 1.2, y - 1.1}, orb.Point{x + 1.5, y - 0.75}, orb.Point{x + 2.3, y - 0.75},
		orb.Point{x + 2.3, y + 0.75}, orb.Point{x + 1.7, y + 0.75}, orb.Point{x + 1.6, y + 1.2}, orb.Point{x - 1.6, y + 1.2}, orb.Point{x - 1.7, y + 0.75}, orb.Point{x - 2.3, y + 0.75})
	d.rect(cutPen, drawing.White, x-1.75, y+1.2, x+1.75, y+1.55)
	d.shape(cutPen, drawing.White, orb.Point{x - 1.6, y + 1.55}, orb.Point{x + 1.6, y + 1.55}, orb.Point{x + 1.2, y + 2.3}, orb.Point{x - 1.2, y + 2.3})
	for _, u := range []float64{-1.4, -0.5, 0.5, 1.4} {
		d.rect(finePen, solid, x+u-0.12, y+1.55, x+u+0.12, y+1.75)
	}
	d.rect(seenPen, drawing.White, x-0.7, y+2.3, x-0.3, y+3)
	d.rect(seenPen, solid, x-1, y+3, x, y+3.3)
	d.rect(seenPen, solid, x+0.45, y+2.3, x+1.65, y+4.2)
	d.line(finePen, orb.Point{x + 0.45, y + 2.7}, orb.Point{x + 1.65, y + 2.7})
	// The arrow of its flow.
	d.line(seenPen, orb.Point{x - 0.9, y}, orb.Point{x + 0.9, y})
	d.shape(drawing.Pen{}, drawing.Black, orb.Point{x + 1.1, y}, orb.Point{x + 0.5, y + 0.28}, orb.Point{x + 0.5, y - 0.28})
}

// union is one on a pipe, seen from the side.
func (d *detail) union(x, y, dirDeg, pipe float64) {
	d.collar(x, y, dirDeg, 1.1, pipe+0.4, plastic)
	d.collar(x, y, dirDeg, 0.55, pipe+0.85, drawing.White)
}
