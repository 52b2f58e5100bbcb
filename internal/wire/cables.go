package wire

import (
	"fmt"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// jackets are the conductors of cable for valves as it is sold, all of one size and
// usually 18 AWG (common practice, from memory; shops differ).
var jackets = []int{3, 5, 7, 9, 13}

// jacket is the colours of a cable's conductors in the order they are used, white
// for the common (from memory; the cable's own decide).
var jacket = []string{"white", "red", "blue", "green", "yellow", "orange", "brown", "black", "tan", "pink", "purple", "gray", "red with a black stripe"}

// Colours of single conductors (common practice: a white common, spares unlike hots).
const (
	commonColour = "white"
	hotColour    = "red"
	spareColour  = "yellow"
)

// packed are the cables that so many conductors take.
func packed(conductors int) []int {
	most := jackets[len(jackets)-1]
	var out []int
	for ; conductors > most; conductors -= most {
		out = append(out, most)
	}
	for _, n := range jackets {
		if n >= conductors {
			return append(out, n)
		}
	}
	return out
}

// suits chooses between cable and single conductors, and says why. cabled is how
// cable would lie.
func (w *work) suits(cabled *laying) (cable, why string) {
	most := jackets[len(jackets)-1]
	plain := wanted{w.p.Wiring.HotAWG, w.p.Wiring.CommonAWG, true}
	g := w.choose(w.loads, 0, plain)
	thick := g.common != thinnest || slices.ContainsFunc(g.hots, func(awg int) bool { return awg != thinnest })
	var forked int
	for _, l := range cabled.lines {
		if l.From == AtFork {
			forked++
		}
	}
	switch {
	case w.p.Wiring.Cable == Multi:
		return Multi, "Cable, as chosen."
	case w.p.Wiring.Cable == Single:
		return Single, "Single conductors, as chosen."
	case thick:
		return Single, fmt.Sprintf("Single conductors: cable of several is mostly sold in %s.", GaugeName(w.p.Show, thinnest))
	case forked > 0:
		return Single, fmt.Sprintf("Single conductors: the ways part at %s where no box stands to splice a cable in; with a splice box there cable would do.", plan.Plural(forked, "place", "places"))
	case cabled.lines[0].Needs > most:
		return Single, fmt.Sprintf("Single conductors: %d go to the farthest box, and a cable has at most %d.", cabled.lines[0].Needs, most)
	}
	return Multi, "Cable: one jacket is quicker to lay than single conductors, and its wires do not tangle."
}

// bundle lists what is bought, and the colours each run goes by.
func (w *work) bundle() {
	waste, _ := w.p.Figure(plan.WireWaste)
	buy := func(c Cable) {
		c.Length = wasted(c.Laid, waste)
		w.Cables = append(w.Cables, c)
	}
	var all []plan.Ref
	for _, p := range w.paths {
		all = append(all, p.to)
	}
	slices.Sort(all)
	commons := Cable{AWG: w.Common, Conductors: 1, Colour: commonColour, What: "common", For: all, Why: "One common for all valves, spliced in boxes."}
	for _, l := range w.Lines {
		commons.Laid += l.Length
	}
	if w.Cable == Single {
		for _, p := range w.paths {
			r := w.run(p.to)
			r.Colours = []string{hotColour}
			buy(Cable{AWG: r.Hot, Conductors: 1, Colour: hotColour, What: "hot", Laid: r.Length, For: []plan.Ref{r.To}, Why: "From the controller to its valve in one piece, its station on a tag at both ends."})
		}
		buy(commons)
		if w.Spares > 0 {
			far := w.groups[0].paths[0]
			buy(Cable{AWG: w.run(far.to).Hot, Conductors: 1, Colour: spareColour, What: "spare", Laid: far.length * units.Feet(w.Spares), For: all,
				Why: fmt.Sprintf("%s to the farthest box, for a wire that fails or a valve to come.", plan.Capital(plan.Plural(w.Spares, "spare", "spares")))})
		}
		return
	}
	hot := w.run(w.paths[0].to).Hot
	for i := range w.Lines {
		l := &w.Lines[i]
		l.Sold = packed(l.Needs)
		for _, n := range l.Sold {
			buy(Cable{AWG: hot, Conductors: n, What: "cable", Laid: l.Length, For: l.Serves, Why: w.cableWhy(l, n)})
		}
	}
	if w.Common != hot {
		commons.Why = "The common all valves share, thicker than the cable's own conductors, laid beside it; the cable's white wire is one more spare."
		buy(commons)
	}
	w.colour()
}

func (w *work) cableWhy(l *Line, sold int) string {
	spares := l.Needs - 1 - len(l.Serves)
	in := []string{plan.Plural(len(l.Serves), "valve", "valves"), "the common"}
	if spares > 0 {
		in = append(in, plan.Plural(spares, "spare", "spares"))
	}
	why := plan.Series(in)
	if len(l.Sold) > 1 {
		return fmt.Sprintf("For %s: %d conductors, in %d cables.", why, l.Needs, len(l.Sold))
	}
	return fmt.Sprintf("For %s: %d conductors; sold with %d.", why, l.Needs, sold)
}

// colour gives each valve its conductor in every cable it goes by, in the order of
// the runs.
func (w *work) colour() {
	used := make([]int, len(w.Lines))
	for i := range w.Runs {
		r := &w.Runs[i]
		g := slices.IndexFunc(w.groups, func(g group) bool {
			return slices.ContainsFunc(g.paths, func(p *path) bool { return p.to == r.To })
		})
		if g < 0 {
			continue
		}
		for at := w.served[g]; at >= 0; at = w.Lines[at].Parent {
			r.Colours = append(r.Colours, colourOf(&w.Lines[at], used[at]))
			used[at]++
		}
		slices.Reverse(r.Colours)
	}
}

// colourOf is the colour of the nth hot of a line. Of several cables the first has
// the common; all conductors of the others are hots.
func colourOf(l *Line, n int) string {
	n++ // past the common
	for i, size := range l.Sold {
		if n < size {
			if len(l.Sold) == 1 {
				return jacket[n]
			}
			return fmt.Sprintf("%s of cable %d", jacket[n], i+1)
		}
		n -= size
	}
	return ""
}
