package drawing

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// canvas is a writer as the walk over a page sees it: everything it is handed is in its
// own lengths already, and finite.
type canvas interface {
	line(p Pen, points []orb.Point)
	fill(k Ink, rings [][]orb.Point, alone bool) // alone: no line is drawn of it
	outline(p Pen, rings [][]orb.Point)
	arc(p Pen, fill Ink, centre orb.Point, radius, fromDeg, sweepDeg float64)
	text(t *Text) // At and Size are the canvas's
	image(m *Image)
	photo(m *Photo)
	openLayer(name string)
	closeLayer()
	clip(box orb.Bound)
	unclip()
}

// placing is how lengths of a draw list become those of a canvas.
type placing struct {
	at     func(orb.Point) orb.Point
	radius float64 // of a radius in the list's lengths
	paper  float64 // of a point of paper
	within *orb.Bound
}

// walk hands items to a canvas in their order. What lies wholly past the box of its
// view is left out.
func walk(c canvas, items []Item, by placing) {
	for _, it := range items {
		switch it := it.(type) {
		case *Line:
			if points := by.all(it.Points); by.shows(it.Pen.Width, points) && it.Pen.draws() {
				c.line(by.pen(it.Pen), points)
			}
		case *Area:
			by.area(c, it)
		case *Arc:
			r := it.Radius * by.radius
			if it.OnPaper {
				r = it.Radius * by.paper
			}
			at := by.at(it.Centre)
			if by.within == nil || meets(orb.Bound{Min: at, Max: at}.Pad(r+it.Pen.Width), *by.within) {
				c.arc(by.pen(it.Pen), it.wholeFill(), at, r, it.FromDeg, it.SweepDeg)
			}
		case *Text:
			t := *it
			t.S, t.At, t.Size = Printable(t.S), by.at(t.At), t.Size*by.paper
			if t.Ink == 0 {
				t.Ink = Black
			}
			corners := t.Corners(t.At)
			if t.S != "" && by.shows(t.Size, corners[:]) {
				c.text(&t)
			}
		case *Image:
			m := *it
			a, b := by.at(m.Box.Min), by.at(m.Box.Max)
			m.Box = orb.MultiPoint{a, b}.Bound()
			if m.Columns > 0 && m.Rows > 0 && by.shows(0, []orb.Point{a, b}) {
				c.image(&m)
			}
		case *Photo:
			m := *it
			a, b := by.at(m.Box.Min), by.at(m.Box.Max)
			m.Box = orb.MultiPoint{a, b}.Bound()
			if by.shows(0, []orb.Point{a, b}) {
				c.photo(&m)
			}
		case *Layer:
			c.openLayer(it.Name)
			walk(c, it.Items, by)
			c.closeLayer()
		case *View:
			c.clip(it.Box)
			walk(c, it.Items, placing{at: it.ToPage, radius: it.PerFoot, paper: by.paper, within: &it.Box})
			c.unclip()
		}
	}
}

func (p Pen) draws() bool { return p.Ink != 0 && p.Width > 0 }

// wholeFill is the ink of a whole circle; a part of one has none.
func (a *Arc) wholeFill() Ink {
	if math.Abs(a.SweepDeg) >= 360 {
		return a.Fill
	}
	return 0
}

func (by placing) all(points []orb.Point) []orb.Point {
	out := make([]orb.Point, len(points))
	for i, p := range points {
		out[i] = by.at(p)
	}
	return out
}

func (by placing) pen(p Pen) Pen {
	if by.paper == 1 {
		return p
	}
	p.Width *= by.paper
	dash := make([]float64, len(p.Dash))
	for i, v := range p.Dash {
		dash[i] = v * by.paper
	}
	p.Dash = dash
	return p
}

// shows reports whether something about these points may be seen at all.
func (by placing) shows(pad float64, points []orb.Point) bool {
	if len(points) == 0 {
		return false
	}
	return by.within == nil || meets(orb.MultiPoint(points).Bound().Pad(pad), *by.within)
}

func meets(a, b orb.Bound) bool {
	return a.Min[0] <= b.Max[0] && a.Max[0] >= b.Min[0] && a.Min[1] <= b.Max[1] && a.Max[1] >= b.Min[1]
}

// area hands on the fill, then the hatch as plain lines, then the outline, so that all
// writers show the same.
func (by placing) area(c canvas, a *Area) {
	var rings [][]orb.Point
	var points []orb.Point
	for _, r := range a.Rings {
		if len(r) > 1 {
			rings = append(rings, by.all(r))
			points = append(points, rings[len(rings)-1]...)
		}
	}
	if !by.shows(a.Pen.Width, points) {
		return
	}
	if a.Fill != 0 {
		c.fill(a.Fill, rings, a.Hatch == nil && !a.Pen.draws())
	}
	if h := a.Hatch; h != nil && h.Pen.draws() && h.Every > 0 {
		box := orb.MultiPoint(points).Bound()
		if by.within != nil {
			box.Min = orb.Point{max(box.Min[0], by.within.Min[0]), max(box.Min[1], by.within.Min[1])}
			box.Max = orb.Point{min(box.Max[0], by.within.Max[0]), min(box.Max[1], by.within.Max[1])}
		}
		for _, s := range hatch(rings, h.Deg, h.Every*by.paper, box) {
			c.line(by.pen(h.Pen), s[:])
		}
	}
	if a.Pen.draws() {
		c.outline(by.pen(a.Pen), rings)
	}
}

// check says what of a list cannot be drawn: numbers that are none, and what is put
// together wrongly. It is the programmer's fault, but papers with something missing
// would be worse than none.
func check(items []Item, inView bool) error {
	for _, it := range items {
		var err error
		switch it := it.(type) {
		case *Line:
			err = drawable("a line", it.Pen.Width, it.Pen.Dash, it.Points)
		case *Area:
			for _, r := range it.Rings {
				if err == nil {
					err = drawable("an area", it.Pen.Width, it.Pen.Dash, r)
				}
			}
			if h := it.Hatch; h != nil && err == nil {
				err = drawable("a hatch", h.Pen.Width, h.Pen.Dash, []orb.Point{{h.Deg, h.Every}})
			}
		case *Arc:
			err = drawable("an arc", it.Pen.Width, it.Pen.Dash, []orb.Point{it.Centre, {it.Radius, it.FromDeg}, {it.SweepDeg, 0}})
			if err == nil && it.Radius < 0 {
				err = fmt.Errorf("an arc has the radius %g", it.Radius)
			}
		case *Text:
			err = drawable(fmt.Sprintf("the text %.40q", it.S), it.Size, nil, []orb.Point{it.At, {it.TurnDeg, 0}})
		case *Image:
			err = it.check()
		case *Photo:
			err = it.check()
		case *Layer:
			err = check(it.Items, inView)
		case *View:
			if inView {
				return fmt.Errorf("a view lies in a view")
			}
			err = drawable("a view", 0, nil, []orb.Point{it.Box.Min, it.Box.Max, it.Middle, {it.PerFoot, 0}})
			if err == nil && !(it.PerFoot >= 1e-6 && it.PerFoot <= 1e6) {
				err = fmt.Errorf("a view shows a foot as %g points", it.PerFoot)
			}
			if err == nil {
				err = check(it.Items, true)
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (m *Image) check() error {
	switch {
	case m.Columns < 0 || m.Rows < 0 || len(m.Cells) != m.Columns*m.Rows:
		return fmt.Errorf("a picture of %d × %d has %d cells", m.Columns, m.Rows, len(m.Cells))
	case len(m.Inks) > 256:
		return fmt.Errorf("a picture has %d inks, more than 256", len(m.Inks))
	}
	for _, c := range m.Cells {
		if int(c) >= len(m.Inks) {
			return fmt.Errorf("a picture asks for its ink %d of %d", c+1, len(m.Inks))
		}
	}
	return drawable("a picture", 0, nil, []orb.Point{m.Box.Min, m.Box.Max})
}

// drawable refuses what is no number, and dashes that never end.
func drawable(what string, size float64, dash []float64, points []orb.Point) error {
	sum := 0.0
	for _, v := range dash {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%s has a dash of %g points", what, v)
		}
		sum += v
	}
	if len(dash) > 0 && sum <= 0 {
		return fmt.Errorf("%s has dashes of no length", what)
	}
	if !sound(size) || size < 0 {
		return fmt.Errorf("%s has the size %g points", what, size)
	}
	for _, p := range points {
		if !sound(p[0]) || !sound(p[1]) {
			return fmt.Errorf("%s has a place that cannot be drawn: %g, %g", what, p[0], p[1])
		}
	}
	return nil
}

// sound are numbers that stay themselves through every writer.
func sound(v float64) bool { return math.Abs(v) <= 1e9 }

// check says what of a page cannot be drawn, and on which.
func (q *Page) check() error {
	if !sound(q.Width) || !sound(q.Height) || q.Width <= 0 || q.Height <= 0 {
		return fmt.Errorf("page %q: it is %g by %g points", q.Name, q.Width, q.Height)
	}
	if err := check(q.Items, false); err != nil {
		return fmt.Errorf("page %q: %w", q.Name, err)
	}
	return nil
}

// onPaper is how a page's own lengths are its points.
func onPaper() placing {
	return placing{at: func(p orb.Point) orb.Point { return p }, radius: 1, paper: 1}
}
