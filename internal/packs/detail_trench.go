package packs

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// bedding is the soil without stones under and about pipes, in inches: common practice.
const bedding = 2.0

// trenchDetail is a trench cut across with what may lie in it, at the covers that
// lists and parts are reckoned with.
func (b *builder) trenchDetail() *detail {
	lateral, main := b.pipeOf(false), b.pipeOf(true)
	hasMain, hasLateral, wires := b.inTrenches()
	over, under := b.figure(plan.DepthLateral), b.figure(plan.DepthMain)
	if !hasLateral {
		over = under
	}
	wide := max(b.figure(plan.TrenchWidth), main.outside+1.2)
	deepest := over + lateral.outside
	if hasMain {
		deepest = max(deepest, under+main.outside)
	}
	bundle := 0.0
	if wires > 0 {
		bundle = min(max(0.16*math.Sqrt(float64(wires))*1.25, 0.4), wide/3)
	}
	floor := deepest + bedding
	d := &detail{title: "Trench", what: "Section", box: orb.Bound{Min: orb.Point{-wide/2 - 8, -floor - 2.2}, Max: orb.Point{wide/2 + 5, 3}}}
	x0, x1 := d.box.Min[0]+3, d.box.Max[0]
	d.earth(orb.Point{x0, -floor - 2}, orb.Point{x1, -floor - 2}, orb.Point{x1, 0}, orb.Point{x0, 0})
	d.backfill(-wide/2, -floor, wide/2, 0.9)
	d.line(cutPen, orb.Point{-wide / 2, 0}, orb.Point{-wide / 2, -floor}, orb.Point{wide / 2, -floor}, orb.Point{wide / 2, 0})
	d.line(finePen, orb.Point{-wide / 2, -deepest}, orb.Point{wide / 2, -deepest})
	// Filled back high, as it settles.
	d.line(cutPen, orb.Point{-wide / 2, 0}, orb.Point{-wide / 4, 0.8}, orb.Point{0, 1}, orb.Point{wide / 4, 0.8}, orb.Point{wide / 2, 0})
	d.grade(x0, -wide/2, 0)
	d.grade(wide/2, x1, 0)

	mx, my := -wide/2+main.outside/2+0.45, -under-main.outside/2
	if hasLateral {
		lx, ly := wide/2-lateral.outside/2-0.45, -over-lateral.outside/2
		if !hasMain {
			lx = 0
		}
		d.ring(lx, ly, lateral.outside, lateral.wall)
		d.tell(lx, ly, lateral.name)
		d.upright(lx, 0, -over, -wide/2-2.2, b.inches(over)+"| over laterals").to[0] = -wide / 2
	}
	if hasMain {
		d.ring(mx, my, main.outside, main.wall)
		d.tell(mx+main.outside/2-0.15, my, main.name)
		line := -wide/2 - 4.4
		if !hasLateral {
			line = -wide/2 - 2.2
		}
		d.upright(mx, 0, -under, line, b.inches(under)+"| over the main").to[0] = -wide / 2
	}
	if wires > 0 {
		wx, wy := mx, my-main.outside/2-bundle/2-0.06
		if !hasMain {
			wx, wy = -wide/2+bundle/2+0.5, -over-lateral.outside-bundle/2-0.06
		}
		d.wires(wx, wy, bundle, wires)
		if hasMain { // the tape that holds both
			d.band(mx, my, main.outside/2+0.07, wx, wy, bundle/2+0.1)
			d.tell(wx+bundle/2+0.1, wy, b.fixed("Wire under the main, taped to it every {10 ft}")+practiceMark)
		} else {
			d.tell(wx, wy, b.fixed("Wire, taped together every {10 ft}")+practiceMark)
		}
	}
	d.upright(wide/2, -floor, -deepest, wide/2+2.4, b.practice(bedding))
	d.level(-floor, -wide/2, wide/2, -floor-1.1, b.inches(wide))
	d.tell(0.1, 0.7, b.fixed("Filled back high, about {1 in}, and tamped in layers: it settles"))
	d.tell(wide/2-0.4, -over*0.45, "Soil dug out, without stones near the pipe")
	d.tell(wide/2-0.3, -deepest-bedding/2, "Smooth bed of soil without stones, or sand")
	d.notes = append(d.notes, "Buried lines are located and marked before the first cut; dig by hand near every mark.",
		"Leave the joints open until the pressure test has passed; fill, tamp and fill again after it.")
	if drive := b.figure(plan.DepthDrive); b.crossesDrives() {
		d.notes = append(d.notes, fmt.Sprintf("%s of cover under drives and streets. Frost and local code decide all depths.", b.inches(drive)))
	} else {
		d.notes = append(d.notes, "Frost and local code decide all depths.")
	}
	if roots := b.figure(plan.RootsPerInch); len(b.p.Trees) > 0 {
		d.notes = append(d.notes, fmt.Sprintf("Stay %s from a trunk for each %s of its diameter; among roots dig by hand and go under those thicker than a thumb.", b.sys.NominalLength(units.Feet(roots)), b.fixed("{1 in}")))
	}
	return d
}

// inTrenches is what lies in the trenches to be dug; of a plan without any, all.
func (b *builder) inTrenches() (main, lateral bool, wires int) {
	digs := b.in.Design.Digs
	dug := false
	for _, s := range digs.Segments {
		if !s.New || !s.Dug {
			continue
		}
		dug = true
		for _, id := range s.Pipes {
			if b.p.Pipes[id].Zone == "" {
				main = true
			} else {
				lateral = true
			}
		}
	}
	for _, s := range b.in.Design.Wiring.Stretches {
		if s.Segment >= 0 && s.Segment < len(digs.Segments) && digs.Segments[s.Segment].Dug {
			wires = max(wires, s.Conductors+s.Sensors)
		}
	}
	if !dug {
		return true, true, 5
	}
	if !main && !lateral {
		main = true
	}
	return main, lateral, wires
}

// crossesDrives reports whether anything lies deeper under paving than under walks.
func (b *builder) crossesDrives() bool {
	for _, x := range b.in.Design.Digs.Crossings {
		if x.New && float64(x.Cover) > b.figure(plan.DepthWalk) {
			return true
		}
	}
	return false
}

// band is tape about a pipe and what is tied under it.
func (d *detail) band(x, y, r, x2, y2, r2 float64) {
	var ring []orb.Point
	for a := 0.0; a <= 180; a += 12 {
		u, v := polar(r, a)
		ring = append(ring, orb.Point{x + u, y + v})
	}
	for a := 180.0; a <= 360; a += 15 {
		u, v := polar(r2, a)
		ring = append(ring, orb.Point{x2 + u, y2 + v})
	}
	d.shape(seenPen, 0, ring...)
}

// wires is a bundle of conductors cut across.
func (d *detail) wires(x, y, across float64, n int) {
	r := across / 2
	one := min(0.1, r/2)
	set := 0
	for ring := 0; set < min(n, 19); ring++ {
		places := max(6*ring, 1)
		for k := 0; k < places && set < min(n, 19); k++ {
			a := 2 * math.Pi * float64(k) / float64(places)
			d.circle(finePen, drawing.Black, x+float64(ring)*one*1.9*math.Cos(a), y+float64(ring)*one*1.9*math.Sin(a), one*0.85)
			set++
		}
	}
}
