package packs

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// dim is a length that is measured on a detail: between two places in inches, both
// upright or both level, its line so far along the other way.
type dim struct {
	from, to orb.Point
	line     float64 // x of the dimension line of an upright one, y of that of a level one
	upright  bool
	text     string // with a | before words that are left out where there is no room
	middle   bool   // the text stays in the middle even where it is wider
	below    bool   // where there is no room between: under (or left of) it, else above (right)
}

// word is a text on the drawing itself.
type word struct {
	at     orb.Point
	text   string
	anchor drawing.Anchor
	bold   bool
}

func (d *detail) upright(x, y0, y1, line float64, text string) *dim {
	return d.measured(dim{from: orb.Point{x, min(y0, y1)}, to: orb.Point{x, max(y0, y1)}, line: line, upright: true, text: text})
}

func (d *detail) level(y, x0, x1, line float64, text string) *dim {
	return d.measured(dim{from: orb.Point{min(x0, x1), y}, to: orb.Point{max(x0, x1), y}, line: line, text: text})
}

// measured notes a dimension; one of nothing is not drawn.
func (d *detail) measured(m dim) *dim {
	if math.Hypot(m.to[0]-m.from[0], m.to[1]-m.from[1]) < 0.01 {
		return &m
	}
	d.dims = append(d.dims, m)
	return &d.dims[len(d.dims)-1]
}

func (d *detail) say(x, y float64, anchor drawing.Anchor, text string) {
	d.words = append(d.words, word{at: orb.Point{x, y}, text: text, anchor: anchor})
}

// labelling sets the texts of one detail so that none lies on another.
type labelling struct {
	q      *page
	inside orb.Bound
	taken  []orb.Bound
}

// room is what a text takes.
func roomOf(t *drawing.Text) orb.Bound {
	c := t.Corners(t.At)
	b := orb.Bound{Min: c[0], Max: c[0]}
	for _, p := range c[1:] {
		b = b.Extend(p)
	}
	return b
}

// free reports whether a text has its room to itself, within the detail's.
func (l *labelling) free(t *drawing.Text) bool {
	b := roomOf(t)
	if b.Min[0] < l.inside.Min[0] || b.Max[0] > l.inside.Max[0] || b.Min[1] < l.inside.Min[1]-4 || b.Max[1] > l.inside.Max[1]+4 {
		return false
	}
	for _, o := range l.taken {
		if b.Min[0] < o.Max[0] && o.Min[0] < b.Max[0] && b.Min[1] < o.Max[1] && o.Min[1] < b.Max[1] {
			return false
		}
	}
	return true
}

func (l *labelling) set(t *drawing.Text) {
	l.q.add(t)
	l.taken = append(l.taken, roomOf(t))
}

// set writes a word, without what follows its | where that would go past the drawing
// or onto another text; nothing where even so it would.
func (s word) set(l *labelling, at orb.Point, right float64) {
	figure, more, _ := strings.Cut(s.text, "|")
	for _, says := range []string{figure + more, figure} {
		t := &drawing.Text{At: at, Size: dimSize, Anchor: s.anchor, Bold: s.bold, Halo: true, S: says}
		if roomOf(t).Max[0] <= right && l.free(t) {
			l.set(t)
			return
		}
	}
}

// draw sets a dimension: two lines out to it, a slash at each end, its figure. It is
// left out where no text is found room for, as a line without its figure tells nothing.
func (m dim) draw(l *labelling, on func(orb.Point) orb.Point) {
	a, b := on(m.from), on(m.to)
	i := 0 // which way it runs
	at := on(orb.Point{m.line, m.line})
	if m.upright {
		i = 1
		a[0], b[0] = at[0], at[0]
	} else {
		a[1], b[1] = at[1], at[1]
	}
	t := m.label(l, a, b, i)
	if t == nil {
		return
	}
	for k, end := range []orb.Point{a, b} {
		from := on([]orb.Point{m.from, m.to}[k])
		if way := end[1-i] - from[1-i]; math.Abs(way) > 4 {
			step := math.Copysign(2, way)
			from[1-i] += step
			past := end
			past[1-i] += step
			l.q.add(&drawing.Line{Pen: dimPen, Points: []orb.Point{from, past}})
		}
		l.q.add(&drawing.Line{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.8}, Points: []orb.Point{{end[0] - 2.2, end[1] - 2.2}, {end[0] + 2.2, end[1] + 2.2}}})
	}
	l.q.add(&drawing.Line{Pen: dimPen, Points: []orb.Point{a, b}})
	l.set(t)
}

// label finds the place of a dimension's figure: along its line where it fits, else
// past an end of it, else beside it.
func (m dim) label(l *labelling, a, b orb.Point, i int) *drawing.Text {
	figure, more, _ := strings.Cut(m.text, "|")
	middle := (a[i] + b[i]) / 2
	try := func(says string, along, beside float64) *drawing.Text {
		t := &drawing.Text{Size: dimSize, Anchor: drawing.Middle, Halo: true, S: says}
		t.At[i], t.At[1-i] = along, a[1-i]+2.2+beside
		if m.upright {
			t.TurnDeg, t.At[0] = 90, a[0]-2.2-beside
		}
		if l.free(t) {
			return t
		}
		return nil
	}
	for _, says := range []string{figure + more, figure} {
		half := (&drawing.Text{Size: dimSize, S: says}).Width() / 2
		if m.middle || b[i]-a[i] >= 2*half+5 {
			for _, along := range []float64{middle, a[i] + half + 3, b[i] - half - 3} {
				if t := try(says, along, 0); t != nil {
					return t
				}
			}
		}
	}
	half := (&drawing.Text{Size: dimSize, S: figure}).Width() / 2
	ends := []float64{b[i] + half + 5, a[i] - half - 5}
	if m.below {
		ends[0], ends[1] = ends[1], ends[0]
	}
	for _, beside := range []float64{0, 8, -12, 17, -21} {
		for _, along := range append(ends, middle) {
			if t := try(figure, along, beside); t != nil {
				return t
			}
		}
	}
	return nil
}
