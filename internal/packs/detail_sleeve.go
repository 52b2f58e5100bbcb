package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// sleeveDetail is the end of a sleeve past the edge of the paving: along it, and cut
// across beside it with what goes side by side.
func (b *builder) sleeveDetail() *detail {
	cover, past := b.figure(plan.DepthWalk), b.figure(plan.SleevePast)
	pipe := b.pipeOf(false)
	nominal := float64(trench.SleeveFor(b.figure(plan.SleeveTimes), 1))
	var deepest *trench.Crossing
	for i, x := range b.in.Design.Digs.Crossings {
		if x.New && (deepest == nil || x.Cover > deepest.Cover) {
			deepest = &b.in.Design.Digs.Crossings[i]
		}
	}
	if deepest != nil {
		cover = float64(deepest.Cover)
		for _, n := range deepest.Needs {
			if n.Carries == "pipe" && n.Nominal > 0 {
				nominal = max(float64(n.Nominal), 1)
			}
		}
		for _, id := range deepest.Pipes {
			if v := b.p.Pipes[id]; v.Zone == "" {
				pipe = b.pipeOf(true)
			}
		}
	}
	size := nominal + 0.375 // outside of pipe of that size, about
	slab := 4.0             // of paving, common practice
	axis := -cover - size/2
	const left = -11.0
	right := past + 4.5
	small := 1.315                                   // outside of the sleeve of wire, and of a spare one
	across := axis - size/2 - 6 - max(size, small)/2 // the axis of the cut across
	low, mid := axis-size/2-1.6, (left+right)/2
	d := &detail{title: "End of a sleeve", what: "Section along it, and under it across", box: orb.Bound{Min: orb.Point{left - 2.4, across - max(size, small)/2 - 1.8}, Max: orb.Point{right, 6.4}}}
	d.earth(orb.Point{left, low}, orb.Point{right, low}, orb.Point{right, 0}, orb.Point{0, 0}, orb.Point{0, -slab}, orb.Point{left, -slab})
	d.backfill(past-3, axis-size/2-1, right-0.6, 0)
	d.line(finePen, orb.Point{past - 3, 0}, orb.Point{past - 3, axis - size/2 - 1}, orb.Point{right - 0.6, axis - size/2 - 1})
	d.concrete(left, -slab, 0, 0)
	d.broken(left, -slab-0.4, 0.4)
	d.grade(0, right, 0)

	// The sleeve cut open along, its pipe whole, its end taped.
	d.rect(cutPen, solid, left, axis-size/2, past, axis+size/2)
	wall := max(size*0.065, 0.09)
	d.rect(finePen, drawing.White, left, axis-size/2+wall, past, axis+size/2-wall)
	lies := axis - size/2 + wall + pipe.outside/2
	if pipe.outside > size-2*wall {
		lies = axis
	}
	d.rect(seenPen, plastic, left, lies-pipe.outside/2, right, lies+pipe.outside/2)
	d.broken(left, axis-size/2-0.6, axis+size/2+0.6)
	d.line(axisPen, orb.Point{left, lies}, orb.Point{right, lies})
	d.shape(seenPen, drawing.Pale, orb.Point{past - 1, axis + size/2 + 0.08}, orb.Point{past + 0.25, axis + size/2 + 0.08}, orb.Point{past + 1.1, lies + pipe.outside/2 + 0.08}, orb.Point{past + 1.8, lies + pipe.outside/2 + 0.08},
		orb.Point{past + 1.8, lies - pipe.outside/2 - 0.08}, orb.Point{past + 1.1, lies - pipe.outside/2 - 0.08}, orb.Point{past + 0.25, axis - size/2 - 0.08}, orb.Point{past - 1, axis - size/2 - 0.08})
	// A stake over the end.
	d.shape(seenPen, drawing.White, orb.Point{past - 0.35, 5}, orb.Point{past + 0.35, 5}, orb.Point{past + 0.35, -2}, orb.Point{past, -3.2}, orb.Point{past - 0.35, -2})
	d.line(axisPen, orb.Point{past, -3.2}, orb.Point{past, axis + size/2 + 0.4})

	// Across: pipe, wire, spare.
	y, half := across, max(size, small)/2
	d.earth(orb.Point{mid - 8, y - half - 1.2}, orb.Point{mid + 8, y - half - 1.2}, orb.Point{mid + 8, y + half + 1.2}, orb.Point{mid - 8, y + half + 1.2})
	const gap = 1.0
	first := mid - (size+2*small+2*gap)/2 + size/2
	wire, spare := first+size/2+gap+small/2, first+size/2+2*gap+1.5*small
	d.ring(first, y, size, wall)
	d.ring(first, y-size/2+wall+min(pipe.outside, size-2*wall)/2, min(pipe.outside, size-2*wall), pipe.wall)
	d.ring(wire, y, small, 0.1)
	d.wires(wire, y-0.15, 0.6, 7)
	d.ring(spare, y, small, 0.1)

	d.upright(0, 0, -cover, left+1.4, b.inches(cover)+"| cover")
	d.level(axis-size/2, 0, past, low-0.9, b.inches(past)+"| past the edge").below = true
	d.upright(left, -slab, 0, left-1, b.practice(slab))
	d.line(axisPen, orb.Point{0, -slab - 0.5}, orb.Point{0, low - 0.2})
	d.say(-5, 0.7, drawing.Middle, "paving")
	d.tellAt(past*0.3, axis+size/2-wall/2, 4.5, fmt.Sprintf("Sleeve, %s, %s the size of the pipe in it", b.sys.PipeSize(units.Inches(nominal)), times(b.figure(plan.SleeveTimes))))
	d.tell(past+2.6, lies-pipe.outside/4, pipe.name)
	d.tell(past+0.2, 4.4, "Stake over each end until it is used; the end is found again by tape from two corners")
	d.tell(wire+0.1, y+0.2, "Wire in a sleeve of its own")
	d.tell(spare+0.3, y-small/2+0.05, "One spare, empty, both ends capped")
	d.tell(past+0.8, axis+0.2, "End taped, so that no soil gets in")
	d.notes = []string{
		"Before paving: lay all sleeves in open trench, level, and tamp in layers, so that the paving does not sink.",
		"Measure both ends from two corners that stay, and write it on the record drawing.",
		b.boringNote(),
	}
	if deepest != nil {
		d.notes = append(d.notes, fmt.Sprintf("Drawn for %s, the deepest. Each crossing is in the list of trenches and sleeves.", b.p.AreaName(deepest.Area)))
	}
	return d
}

func (b *builder) boringNote() string {
	return fmt.Sprintf("Boring: all lines are located and where they cross dug open by hand first. Bores over %s are for who bores for a living.", b.sys.Length(units.Feet(b.figure(plan.BoreLongest))))
}

// times is how many times, in words.
func times(n float64) string {
	if n == 2 {
		return "twice"
	}
	return fmt.Sprintf("%g times", n)
}
