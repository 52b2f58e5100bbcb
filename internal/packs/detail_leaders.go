package packs

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// leader points at a place of a detail and says what is there.
type leader struct {
	at   orb.Point // inches
	text string
	left bool    // the text stands in the left column
	rise float64 // how much higher than the place the text would stand, inches
}

// wrapped is the text of a leader in lines for a column so wide, at most so many; what
// is left of a name without end is dots.
func (t leader) wrapped(wide float64, most int) []string {
	lines := drawing.Wrap(t.text, dimSize, false, wide-14)
	if len(lines) > most {
		lines = append(lines[:most-1:most-1], cut(strings.Join(lines[most-1:], " "), dimSize, false, wide-14))
	}
	return lines
}

// tellMost is how many lines a leader has at most.
const tellMost = 5

func (d *detail) tell(x, y float64, text string) {
	d.tells = append(d.tells, leader{at: orb.Point{x, y}, text: text})
}

// tellAt is tell with its text so much higher than its place.
func (d *detail) tellAt(x, y, rise float64, text string) {
	d.tells = append(d.tells, leader{at: orb.Point{x, y}, text: text, rise: rise})
}

func (d *detail) tellLeft(x, y float64, text string) {
	d.tells = append(d.tells, leader{at: orb.Point{x, y}, text: text, left: true})
}

// told is a leader as it is set.
type told struct {
	lines  []string
	at     orb.Point // of the page
	wanted float64   // where the middle of its first line would stand
	top    float64
}

func (t told) high() float64 { return float64(len(t.lines))*tellLine + 4 }
func (t told) mid() float64  { return t.top - tellLine/2 - 1 }

// point sets the leaders: their texts in columns at both sides, none over another,
// with a line from each to its place.
func (d *detail) point(l *labelling, on func(orb.Point) orb.Point, left, right, x0, x1 float64) {
	for _, side := range []bool{true, false} {
		wide, edge, way := right, x1+8, 1.0
		if side {
			wide, edge, way = left, x0-8, -1
		}
		var all []told
		for most := tellMost; most > 0; most-- {
			all = all[:0]
			sum := 0.0
			for _, t := range d.tells {
				if t.left == side {
					all = append(all, told{lines: t.wrapped(wide, most), at: on(t.at), wanted: on(orb.Point{t.at[0], t.at[1] + t.rise})[1]})
					sum += all[len(all)-1].high()
				}
			}
			if sum <= l.inside.Max[1]-l.inside.Min[1] {
				break
			}
		}
		slices.SortStableFunc(all, func(a, b told) int { return cmp.Compare(b.wanted, a.wanted) })
		stack(all, l.inside)
		uncross(all, l.inside, edge-5*way)
		for _, s := range all {
			l.q.add(&drawing.Line{Pen: dimPen, Points: []orb.Point{{edge, s.mid()}, {edge - 5*way, s.mid()}, s.at}},
				&drawing.Arc{Fill: drawing.Black, Centre: s.at, Radius: 1.3, SweepDeg: 360})
			anchor := drawing.Start
			if side {
				anchor = drawing.End
			}
			for i, says := range s.lines {
				l.set(&drawing.Text{At: orb.Point{edge + 3*way, s.top - tellLine*float64(i) - tellLine + 2}, Size: dimSize, Anchor: anchor, S: says})
			}
		}
	}
}

// stack sets texts one under another in their order, each as near its place as can be.
func stack(all []told, inside orb.Bound) {
	free := inside.Max[1]
	for i := range all {
		all[i].top = min(free, all[i].wanted+tellLine/2+1)
		free = all[i].top - all[i].high()
	}
	for i, floor := len(all)-1, inside.Min[1]; i >= 0; i-- {
		all[i].top = max(all[i].top, floor+all[i].high())
		floor = all[i].top
	}
}

// uncross changes the order of neighbours whose lines cross, until none does or
// nothing is won.
func uncross(all []told, inside orb.Bound, knee float64) {
	crossing := func(a, b told) bool {
		// Which lies higher at the knee, and at the place nearer to it.
		x := a.at[0]
		if math.Abs(b.at[0]-knee) < math.Abs(x-knee) {
			x = b.at[0]
		}
		y := func(t told) float64 {
			if t.at[0] == knee {
				return t.at[1]
			}
			return t.mid() + (t.at[1]-t.mid())*(x-knee)/(t.at[0]-knee)
		}
		return (a.mid()-b.mid())*(y(a)-y(b)) < 0
	}
	for range all {
		again := false
		for i := 1; i < len(all); i++ {
			if crossing(all[i-1], all[i]) {
				all[i-1], all[i] = all[i], all[i-1]
				if stack(all, inside); crossing(all[i-1], all[i]) {
					all[i-1], all[i] = all[i], all[i-1]
					stack(all, inside)
					continue
				}
				again = true
			}
		}
		if !again {
			return
		}
	}
}
