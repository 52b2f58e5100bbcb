package drawing

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// What a place costs: chosen, so that a label stands at the right of its mark, moves
// round it before it crosses a line, and stands off with a leader last.
const (
	costCrossing = 3.0  // a line straight across the letters
	costCrossMax = 12.0 // whatever lies under them
	costLed      = 5.0  // a leader, and so much more for every ten points of it
	costLedTen   = 0.6
	costLedLine  = 0.4 // every line a leader crosses
	costFarLed   = 8.5 // a leader dearer than this is long
	costOff      = 1.5 // a little further off than usual
)

// beside are the places round a mark: where the middle of the text lies, in halves of
// the text with mark and gap, and what each costs.
var beside = []struct{ x, y, cost float64 }{
	{1, 0, 0}, {1, 1, 0.5}, {1, -1, 0.6}, {-1, 0, 0.9}, {0, 1, 1}, {0, -1, 1.1}, {-1, 1, 1.3}, {-1, -1, 1.4},
	{1, 0.5, 0.3}, {1, -0.5, 0.35}, {-1, 0.5, 1.1}, {-1, -0.5, 1.15},
	{0.5, 1, 0.8}, {0.5, -1, 0.9}, {-0.5, 1, 1.2}, {-0.5, -1, 1.25},
}

// nearSpots are the places of a label by what it names, free of what never moves.
func (s *settling) nearSpots(l *label) []spot {
	w := l.want
	var out []spot
	if len(w.Along) > 1 {
		out = s.alongSpots(l, out)
	}
	if len(w.Within) > 0 {
		out = s.withinSpots(l, out)
	}
	if w.On {
		cost := 0.0
		if len(w.Within) > 0 {
			cost = 4 // over the edge of its area
		}
		out = s.keep(l, out, spot{cost: cost, middle: w.About, anchor: Middle})
	}
	if len(w.Along) < 2 && len(w.Within) == 0 {
		for far, more := range []float64{0, costOff} {
			for _, at := range beside {
				dx := l.wide/2 + w.Clear + markGap + 2.4*float64(far)
				dy := l.high/2 + w.Clear + markGap + 2.4*float64(far)
				m := orb.Point{w.About[0] + at.x*dx, w.About[1] + at.y*dy}
				out = s.keep(l, out, spot{cost: at.cost + more, middle: m, anchor: anchorOf(at.x)})
			}
		}
	}
	sortSpots(out)
	return out
}

func anchorOf(x float64) Anchor {
	switch {
	case x == 1:
		return Start
	case x == -1:
		return End
	}
	return Middle
}

func sortSpots(all []spot) {
	slices.SortStableFunc(all, func(a, b spot) int { return cmp.Compare(a.cost, b.cost) })
}

// offSpots are the places of a label with a leader.
func (s *settling) offSpots(l *label) []spot {
	w := l.want
	if _, _, _, draws := w.Leader.Ink.Parts(); !draws || w.Leader.Width <= 0 {
		return nil
	}
	var out []spot
	for _, from := range l.legStarts() {
		out = s.offFrom(l, out, from)
	}
	sortSpots(out)
	return out
}

// legStarts are where a leader may start: at the mark, or from places along a line.
func (l *label) legStarts() []orb.Point {
	line := l.want.Along
	if len(line) < 2 {
		return []orb.Point{l.want.About}
	}
	long := lengthOf(line)
	return []orb.Point{pointAt(line, long/2), pointAt(line, long*0.3), pointAt(line, long*0.7)}
}

func (s *settling) offFrom(l *label, out []spot, from orb.Point) []spot {
	w := l.want
	reach := []float64{7, 13, 20, 30, 42, 56, 75, 100, 130}
	if len(w.Along) > 1 {
		reach = reach[:6] // further off nobody sees which line is meant
	}
	for _, far := range reach {
		for turn := range 16 {
			sin, cos := math.Sincos(float64(turn) * math.Pi / 8)
			m := orb.Point{from[0] + cos*(w.Clear+far) + cos*l.wide/2, from[1] + sin*(w.Clear+far) + sin*l.high/2}
			p := spot{cost: costLed + costLedTen*far/10, anchor: Middle, led: true}
			end := orb.Point{m[0] - cos*l.wide/2, m[1] - sin*l.high/2}
			switch {
			case cos > 0.3: // to the middle of the left edge
				m[0] = from[0] + cos*(w.Clear+far) + l.wide/2
				p.anchor, end = Start, orb.Point{m[0] - l.wide/2 - textGap, m[1]}
			case cos < -0.3:
				m[0] = from[0] + cos*(w.Clear+far) - l.wide/2
				p.anchor, end = End, orb.Point{m[0] + l.wide/2 + textGap, m[1]}
			default:
				end = orb.Point{m[0], m[1] - math.Copysign(l.high/2+textGap, sin)}
			}
			p.middle = m
			long := math.Hypot(end[0]-from[0], end[1]-from[1])
			if long <= w.Clear+1 {
				continue
			}
			share := w.Clear / long
			p.leader = [2]orb.Point{{from[0] + (end[0]-from[0])*share, from[1] + (end[1]-from[1])*share}, end}
			out = s.keep(l, out, p)
		}
	}
	return out
}

// keep adds a place if it is inside and on nothing that never moves, with what the
// lines under its letters cost.
func (s *settling) keep(l *label, out []spot, p spot) []spot {
	p.boxes = l.boxesAt(p.middle, p.turnDeg)
	for _, b := range p.boxes {
		if b.Min[0] < s.inside.Min[0] || b.Min[1] < s.inside.Min[1] || b.Max[0] > s.inside.Max[0] || b.Max[1] > s.inside.Max[1] {
			return out
		}
		if s.fixed.boxHit(b) {
			return out
		}
	}
	if p.led {
		if s.fixed.legHit(p.leader) {
			return out
		}
		p.cost += costLedLine * float64(s.linesAcross(p.leader))
	}
	p.cost += s.under(l, &p)
	return append(out, p)
}

// boxesAt are the boxes that the words of a label take about the middle of its block:
// one when it is level or upright, else one for each word, so that labels along
// slanting lines may stand side by side.
func (l *label) boxesAt(m orb.Point, turnDeg float64) []orb.Bound {
	if turnDeg == 0 {
		return []orb.Bound{{Min: orb.Point{m[0] - l.wide/2, m[1] - l.high/2}, Max: orb.Point{m[0] + l.wide/2, m[1] + l.high/2}}}
	}
	if math.Abs(turnDeg) == 90 {
		return []orb.Bound{{Min: orb.Point{m[0] - l.high/2, m[1] - l.wide/2}, Max: orb.Point{m[0] + l.high/2, m[1] + l.wide/2}}}
	}
	sin, cos := math.Sincos(turnDeg * math.Pi / 180)
	out := make([]orb.Bound, len(l.words))
	for i, w := range l.words {
		b := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
		for _, c := range [4]orb.Point{w.Min, {w.Max[0], w.Min[1]}, w.Max, {w.Min[0], w.Max[1]}} {
			b = b.Extend(orb.Point{m[0] + c[0]*cos - c[1]*sin, m[1] + c[0]*sin + c[1]*cos})
		}
		out[i] = b
	}
	return out
}

// wordsOf are the boxes of the words of a block about its middle, level, each with the
// space after it.
func (l *label) wordsOf() []orb.Bound {
	var out []orb.Bound
	size := l.want.Text.Size
	for i, s := range l.lines {
		t := l.want.Text
		t.S = s
		lo := l.high/2 - size*(ascent+descent+lineFeed*float64(i))
		x := -t.Width() / 2
		for rest := s; rest != ""; {
			n := len(rest)
			for k := 1; k < len(rest); k++ {
				if rest[k-1] == ' ' && rest[k] != ' ' {
					n = k
					break
				}
			}
			t.S, rest = rest[:n], rest[n:]
			w := t.Width()
			out = append(out, orb.Bound{Min: orb.Point{x, lo}, Max: orb.Point{x + w, lo + size*(ascent+descent)}})
			x += w
		}
	}
	return out
}
