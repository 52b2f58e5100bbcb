package packs

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// The least room of a detail with its notes, points; chosen so that two stand side by
// side on Letter and each can be read at arm's length.
const (
	cellWide = 350.0
	cellHigh = 300.0
	between  = 10.0 // two cells
)

// practiceMark stands behind a dimension that is not one of the plan's figures.
const practiceMark = "*"

// details is the sheet of how things are put together.
func (b *builder) details() error {
	list, generic := b.detailsNeeded()
	q := b.drawingPage()
	top := 26.0
	if generic {
		top += 11
	}
	room := q.room
	room.Max[1] -= top
	across, down := cellsOf(len(list), room)
	h := (room.Max[1] - room.Min[1] - between*float64(down-1)) / float64(down)
	narrow := across > 1 && len(list) > across*down && len(list)%(across*down) == 1
	for i, row := 0, 0; i < len(list); row++ {
		if row == down {
			row = 0
			q = b.drawingPage()
		}
		if row == 0 {
			b.detailsHead(q, generic)
		}
		n := across
		if i == 0 && narrow { // one more on the first page, so that none stands alone on the last
			n++
		}
		here := list[i:min(i+n, len(list))]
		wide := cellsWide(here, n, room.Max[0]-room.Min[0], n > across)
		notes := 0.0
		for k, d := range here {
			notes = max(notes, d.notesHigh(wide[k]-12))
		}
		notes = min(notes, h/2)
		x, y := room.Min[0], room.Max[1]-float64(row)*(h+between)
		for k, d := range here {
			cell := orb.Bound{Min: orb.Point{x, y - h}, Max: orb.Point{x + wide[k], y}}
			x += wide[k] + between
			q.add(&drawing.Area{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.5}, Rings: [][]orb.Point{{cell.Min, {cell.Max[0], cell.Min[1]}, cell.Max, {cell.Min[0], cell.Max[1]}}}})
			d.place(q, cell, i+k+1, notes, b.sys)
		}
		i += n
	}
	return nil
}

// cellsWide are the widths of the cells of a row for n details: all the same, or where
// there are more than is usual, by how wide each drawing is with its leaders.
func cellsWide(of []*detail, n int, all float64, byNeed bool) []float64 {
	all -= between * float64(n-1)
	out := make([]float64, len(of))
	sum := 0.0
	for i, d := range of {
		out[i] = all / float64(n)
		if byNeed {
			left, right := d.columns(out[i], cellHigh)
			const perInch = 9.0 // points: at 1 1/2 in = 1 ft
			out[i] = left + right + (d.box.Max[0]-d.box.Min[0])*perInch
		}
		sum += out[i]
	}
	if byNeed {
		for i := range out {
			out[i] *= all / sum
		}
	}
	return out
}

// detailsHead says at the top of a page what its figures are.
func (b *builder) detailsHead(q *page, generic bool) {
	q.scale = "as shown"
	y := q.room.Max[1] - 9
	say := func(bold bool, s string) {
		for _, l := range drawing.Wrap(s, detailNote, bold, q.room.Max[0]-q.room.Min[0]) {
			q.add(&drawing.Text{At: orb.Point{q.room.Min[0], y}, Size: detailNote, Bold: bold, S: l})
			y -= detailLine
		}
	}
	if generic {
		say(true, "Nothing of this is on the plan yet: these are the usual ways, with usual figures.")
	}
	say(false, "Figures without a mark are those this plan is reckoned with; those marked "+practiceMark+" are common practice. Shapes are our own and show no maker's part. Local code decides where it differs.")
}

// cellsOf is how many details stand across and down a page: so that all are on it as
// large as can be, or as many as have room.
func cellsOf(n int, room orb.Bound) (across, down int) {
	w, h := room.Max[0]-room.Min[0], room.Max[1]-room.Min[1]
	mostAcross, mostDown := max(int(w/cellWide), 1), max(int(h/cellHigh), 1)
	best := 0.0
	across, down = mostAcross, mostDown
	for a := 1; a <= mostAcross; a++ {
		for d := 1; d <= mostDown; d++ {
			if size := min(w/float64(a)/cellWide, h/float64(d)/cellHigh); a*d >= n && size > best {
				best, across, down = size, a, d
			}
		}
	}
	return across, down
}

// detailsNeeded are the details of what this plan has to be built; of one with
// nothing to build all of them, which is said.
func (b *builder) detailsNeeded() (list []*detail, generic bool) {
	n := b.needs()
	if n == (needs{}) {
		n, generic = needs{true, true, true, true, true, true, true}, true
	}
	for _, d := range []struct {
		wanted bool
		make   func() *detail
	}{
		{n.head, b.headDetail}, {n.trench, b.trenchDetail}, {n.splice, b.spliceDetail}, {n.box, b.boxDetail}, {n.manifold, b.manifoldDetail},
		{n.backflow, b.backflowDetail}, {n.sleeve, b.sleeveDetail},
	} {
		if d.wanted {
			list = append(list, d.make())
		}
	}
	return list, generic
}

// needs is what a plan has to be built, as far as details tell it apart.
type needs struct{ head, trench, box, manifold, backflow, sleeve, splice bool }

func (b *builder) needs() needs {
	var n needs
	for _, h := range b.p.Heads {
		n.head = n.head || h.Status.IsNew()
	}
	digs := b.in.Design.Digs
	for _, s := range digs.Segments {
		n.trench = n.trench || s.New && s.Dug && len(s.Pipes) > 0
	}
	for _, x := range digs.Boxes {
		valves := x.New && len(x.Zones) > 0
		n.box = n.box || valves
		n.manifold = n.manifold || valves && len(x.Zones) > 1
		n.splice = n.splice || valves || x.New && x.Drawn != ""
	}
	for _, x := range digs.Crossings {
		n.sleeve = n.sleeve || x.New
	}
	for _, s := range b.p.Sleeves {
		n.sleeve = n.sleeve || s.Status.IsNew()
	}
	_, _, chosen := b.p.BackflowDevice()
	n.backflow = b.p.Supply.Status.IsNew() && (chosen || b.p.Supply.Backflow != "" || b.p.Supply.Kind.Drunk() && n.trench)
	return n
}

// figure is one of the plan's figures.
func (b *builder) figure(id plan.ID) float64 {
	v, _ := b.p.Figure(id)
	return v
}

// inches prints a length of a detail: short ones as small lengths are printed, longer
// ones in feet and inches or metres.
func (b *builder) inches(v float64) string {
	if v >= 36 {
		return b.sys.Length(units.Inches(v).Feet())
	}
	return b.sys.Inches(units.Inches(v))
}

// practice prints a length that no figure of the plan gives, with its mark.
func (b *builder) practice(v float64) string { return b.inches(v) + practiceMark }

// fixed are fixed words with lengths in braces, in the plan's units.
func (b *builder) fixed(words string) string { return plan.FixedWords(b.sys, words) }

// pipeSeen is one pipe as details show it.
type pipeSeen struct {
	name          string // "1 in Class 200 PVC"
	outside, wall float64
	material      catalog.PipeMaterial
}

// pipeOf is the pipe that most pieces of the main, or of the laterals, are of; 1 in
// pipe by name of its use alone where none is sized.
func (b *builder) pipeOf(main bool) pipeSeen {
	type kind struct {
		class plan.ID
		size  units.Inches
	}
	count := map[kind]int{}
	for _, v := range b.p.Pipes {
		if _, _, sized := b.p.Row(v); sized && v.Status.IsNew() && (v.Zone == "") == main {
			count[kind{v.Class, v.NominalIn}]++
		}
	}
	var best kind
	for k, n := range count {
		if o := count[best]; n > o || n == o && (k.size > best.size || k.size == best.size && k.class < best.class) {
			best = k
		}
	}
	if best.size == 0 {
		if main {
			return pipeSeen{"Main", 1.315, 0.133, ""} // 1 in schedule 40
		}
		return pipeSeen{"Lateral", 1.315, 0.063, ""}
	}
	class, size, _ := b.p.Row(plan.Pipe{Class: best.class, NominalIn: best.size})
	what := "Lateral, "
	if main {
		what = "Main, "
	}
	return pipeSeen{what + b.sys.PipeSize(best.size) + " " + b.p.PipeClassName(best.class), float64(size.Outside), float64(size.Wall), class.Material}
}

// largestBox is the new box that holds most valves; false where there is none.
func (b *builder) largestBox() (trench.Box, bool) {
	var best trench.Box
	for _, x := range b.in.Design.Digs.Boxes {
		if x.New && len(x.Zones) > len(best.Zones) {
			best = x
		}
	}
	return best, len(best.Zones) > 0
}

// counted are names by how often they come, the commonest first: "22 × this".
func counted(count map[string]int) []string {
	names := make([]string, 0, len(count))
	for n := range count {
		names = append(names, n)
	}
	slices.SortFunc(names, func(a, c string) int { return cmp.Or(cmp.Compare(count[c], count[a]), cmp.Compare(a, c)) })
	for i, n := range names {
		names[i] = fmt.Sprintf("%d × %s", count[n], n)
	}
	return names
}

// overall is about how high a pop-up body is with its inlet, for how far it pops up:
// from memory of common bodies.
func overall(v catalog.Body) float64 {
	return math.Round((1.25*float64(v.Height)+map[bool]float64{false: 1, true: 2.25}[v.InletIn >= 0.75])*4) / 4
}
