package packs

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// pipeKind is which of the looks of pipe a pipe has.
type pipeKind int

const (
	pipeMain pipeKind = iota
	pipeLateral
)

// pipe draws a pipe: the main heavy and black, a lateral in its zone's colour; what is
// there already dashed.
func (c *chart) pipe(pts []orb.Point, kind pipeKind, m zoneMark, status plan.Status) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Black, Width: 2.1 * c.k}
	if kind == pipeLateral {
		pen = drawing.Pen{Ink: m.ink(), Width: 1.1 * c.k}
	}
	if !status.IsNew() {
		pen.Ink, pen.Width, pen.Dash = drawing.Grey, pen.Width*0.6, []float64{5 * c.k, 2 * c.k}
	}
	out := []drawing.Item{&drawing.Line{Pen: pen, Points: pts}}
	if status == plan.Remove {
		for _, s := range along(pts, c.pt(30*c.k)) {
			out = append(out, c.cross(s.at, 2.5*c.k)...)
		}
	}
	return out
}

// wire draws control wire: short dashes, dots where it is clipped in a building.
func (c *chart) wire(pts []orb.Point, indoors bool, status plan.Status) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Black, Width: 0.8 * c.k, Dash: []float64{3.2 * c.k, 1.8 * c.k}}
	if indoors {
		pen.Dash = []float64{0.9 * c.k, 1.6 * c.k}
	}
	if !status.IsNew() {
		pen.Ink, pen.Width = drawing.Grey, 0.5*c.k
	}
	return []drawing.Item{&drawing.Line{Pen: pen, Points: pts}}
}

// together draws the band under what lies in one trench, for so many lanes.
func (c *chart) together(a, b orb.Point, lanes int) []drawing.Item {
	return []drawing.Item{&drawing.Line{Pen: drawing.Pen{Ink: drawing.RGB(0xdedede), Width: (laneWide*float64(lanes) + 2.6) * c.k}, Points: []orb.Point{a, b}}}
}

// laneWide is how far apart lines of one trench are drawn, points on Letter. Chosen.
const laneWide = 2.5

// arrow is the head of an arrow that points along dir.
func (c *chart) arrow(at, dir orb.Point, ink drawing.Ink) []drawing.Item {
	turned := func(x, y float64) orb.Point { return orb.Point{x*dir[0] - y*dir[1], x*dir[1] + y*dir[0]} }
	return []drawing.Item{&drawing.Area{Fill: ink, Rings: [][]orb.Point{c.about(at, c.k, turned(3.2, 0), turned(-2, 1.9), turned(-2, -1.9))}}}
}

// sleeve draws a sleeve as two lines with closed ends about what lies in it; dashed
// when nobody drew it yet.
func (c *chart) sleeve(a, b orb.Point, status plan.Status, drawn bool) []drawing.Item {
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	if l == 0 {
		return nil
	}
	half := c.pt(2.6 * c.k)
	x, y := (b[0]-a[0])/l*half, (b[1]-a[1])/l*half
	pen := c.penOf(status, drawing.Black, 0.9)
	if !drawn {
		pen.Dash = []float64{2.5 * c.k, 1.5 * c.k}
	}
	return []drawing.Item{&drawing.Area{Pen: pen, Fill: drawing.White, Rings: [][]orb.Point{{
		{a[0] - y, a[1] + x}, {b[0] - y, b[1] + x}, {b[0] + y, b[1] - x}, {a[0] + y, a[1] - x},
	}}}}
}

// valve draws a zone valve: two triangles that meet, in its zone's colour.
func (c *chart) valve(at orb.Point, m zoneMark, status plan.Status) []drawing.Item {
	pen := c.penOf(status, m.ink(), 0.9)
	fill := m.ink()
	if !status.IsNew() {
		fill = drawing.White
	}
	out := []drawing.Item{&drawing.Area{Pen: pen, Fill: fill, Rings: [][]orb.Point{
		c.about(at, c.k, orb.Point{-3.6, 2.4}, orb.Point{0, 0}, orb.Point{-3.6, -2.4}),
		c.about(at, c.k, orb.Point{3.6, 2.4}, orb.Point{0, 0}, orb.Point{3.6, -2.4}),
	}}}
	return c.struck(out, at, 5, status)
}

// box draws a box in the ground about what is in it.
func (c *chart) box(around orb.Bound, status plan.Status) drawing.Item {
	a, b := around.Min, around.Max
	return &drawing.Area{Pen: c.penOf(status, drawing.Black, 0.9), Rings: [][]orb.Point{{a, {b[0], a[1]}, b, {a[0], b[1]}}}}
}

// splices draws a box of splices: a box with a stroke across.
func (c *chart) splices(at orb.Point, status plan.Status) []drawing.Item {
	pen := c.penOf(status, drawing.Black, 0.9)
	out := []drawing.Item{
		&drawing.Area{Pen: pen, Fill: drawing.White, Rings: [][]orb.Point{c.about(at, 3.4*c.k, orb.Point{-1, -0.8}, orb.Point{1, -0.8}, orb.Point{1, 0.8}, orb.Point{-1, 0.8})}},
		&drawing.Line{Pen: pen, Points: c.about(at, 3.4*c.k, orb.Point{-1, -0.8}, orb.Point{1, 0.8})},
	}
	return c.struck(out, at, 5, status)
}

// connection draws the point of connection: a ring with a cross.
func (c *chart) connection(at orb.Point, status plan.Status) []drawing.Item {
	pen := c.penOf(status, drawing.Black, 1.1)
	return c.struck([]drawing.Item{
		&drawing.Arc{Centre: at, Radius: 3.6 * c.k, SweepDeg: 360, OnPaper: true, Pen: pen, Fill: drawing.White},
		&drawing.Line{Pen: pen, Points: c.about(at, 4.7*c.k, orb.Point{-1, 0}, orb.Point{1, 0})},
		&drawing.Line{Pen: pen, Points: c.about(at, 4.7*c.k, orb.Point{0, -1}, orb.Point{0, 1})},
	}, at, 5, status)
}

// backflow draws the backflow device: an arrow through a square.
func (c *chart) backflow(at orb.Point, status plan.Status) []drawing.Item {
	pen := c.penOf(status, drawing.Black, 1.1)
	return c.struck([]drawing.Item{
		&drawing.Area{Pen: pen, Fill: drawing.White, Rings: [][]orb.Point{c.about(at, 4.4*c.k, orb.Point{-1, -1}, orb.Point{1, -1}, orb.Point{1, 1}, orb.Point{-1, 1})}},
		&drawing.Area{Fill: pen.Ink, Rings: [][]orb.Point{c.about(at, c.k, orb.Point{-2.6, 2.6}, orb.Point{2.6, 0}, orb.Point{-2.6, -2.6})}},
	}, at, 6, status)
}

// drain draws a drain: a triangle on its point.
func (c *chart) drain(at orb.Point, status plan.Status) []drawing.Item {
	return c.struck([]drawing.Item{&drawing.Area{Pen: c.penOf(status, drawing.Black, 1), Fill: drawing.White, Rings: [][]orb.Point{
		c.about(at, 3.6*c.k, orb.Point{-1, 0.8}, orb.Point{1, 0.8}, orb.Point{0, -1}),
	}}}, at, 5, status)
}

// controller draws the controller: a square with two hands.
func (c *chart) controller(at orb.Point, status plan.Status) []drawing.Item {
	pen := c.penOf(status, drawing.Black, 1.1)
	return c.struck([]drawing.Item{
		&drawing.Area{Pen: pen, Fill: drawing.White, Rings: [][]orb.Point{c.about(at, 4.4*c.k, orb.Point{-1, -1}, orb.Point{1, -1}, orb.Point{1, 1}, orb.Point{-1, 1})}},
		&drawing.Line{Pen: pen, Points: c.about(at, c.k, orb.Point{0, 3}, orb.Point{0, 0}, orb.Point{2.2, -1.6})},
	}, at, 6, status)
}

// sensor draws a sensor: a ring with a bar.
func (c *chart) sensor(at orb.Point, status plan.Status) []drawing.Item {
	pen := c.penOf(status, drawing.Black, 0.9)
	return c.struck([]drawing.Item{
		&drawing.Arc{Centre: at, Radius: 3.6 * c.k, SweepDeg: 360, OnPaper: true, Pen: pen, Fill: drawing.White},
		&drawing.Line{Pen: pen, Points: c.about(at, 2*c.k, orb.Point{-1, 0}, orb.Point{1, 0})},
	}, at, 5, status)
}

// struck crosses out a mark whose thing goes.
func (c *chart) struck(items []drawing.Item, at orb.Point, size float64, status plan.Status) []drawing.Item {
	if status == plan.Remove {
		return append(items, c.cross(at, size*c.k)...)
	}
	return items
}

// fixedSize is half of the mark of a fixed point, points on Letter.
const fixedSize = 3.9

// badge draws the letter of a fixed point: white on a black disc.
func (c *chart) badge(at orb.Point, letter string) []drawing.Item {
	t := c.badgeText(letter)
	t.At = orb.Point{at[0], at[1] - c.pt(t.Size*0.36)}
	return []drawing.Item{&drawing.Arc{Centre: at, Radius: fixedSize * c.k, SweepDeg: 360, OnPaper: true, Fill: drawing.Black}, t}
}

func (c *chart) badgeText(letter string) *drawing.Text {
	size := 5.6 * c.k
	if len(letter) > 1 {
		size *= 0.8
	}
	return &drawing.Text{Size: size, Bold: true, Anchor: drawing.Middle, Ink: drawing.White, S: letter}
}

// badgeRoom is letters that take as much room as the disc of a badge.
func (c *chart) badgeRoom() drawing.Text {
	return drawing.Text{S: "M", Size: 2 * fixedSize * c.k, Bold: true}
}

// disc puts a letter on its disc where room for it was found.
func (c *chart) disc(s *drawing.Settled, letter string) {
	if !s.Placed || len(s.Texts) == 0 {
		return
	}
	room := s.Texts[0]
	q := room.Corners(room.At)
	mid := orb.Point{(q[0][0] + q[2][0]) / 2, (q[0][1] + q[2][1]) / 2}
	t := c.badgeText(letter)
	t.At = orb.Point{mid[0], mid[1] - t.Size*0.36}
	s.Texts, s.Dot = []*drawing.Text{t}, &drawing.Arc{Centre: mid, Radius: fixedSize * c.k, SweepDeg: 360, Fill: drawing.Black}
}

// fixed draws a fixed point: a cross where it is.
func (c *chart) fixed(at orb.Point) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Black, Width: 1.1 * c.k}
	return []drawing.Item{
		&drawing.Line{Pen: pen, Points: c.about(at, 2.2*c.k, orb.Point{-1, -1}, orb.Point{1, 1})},
		&drawing.Line{Pen: pen, Points: c.about(at, 2.2*c.k, orb.Point{-1, 1}, orb.Point{1, -1})},
	}
}

// key draws the small square at a place of the list of key dimensions.
func (c *chart) key(at orb.Point) []drawing.Item {
	return []drawing.Item{&drawing.Area{Fill: drawing.Black, Rings: [][]orb.Point{c.about(at, 1.5*c.k, orb.Point{-1, -1}, orb.Point{1, -1}, orb.Point{1, 1}, orb.Point{-1, 1})}}}
}

// throwLines draws the ground a head is set to wet: arc and edges, light.
func (c *chart) throwLines(at orb.Point, start, sweep, throw float64, m zoneMark) []drawing.Item {
	pen := drawing.Pen{Ink: m.pale(), Width: 0.5 * c.k}
	out := []drawing.Item{&drawing.Arc{Centre: at, Radius: throw, FromDeg: start, SweepDeg: min(sweep, 360), Pen: pen}}
	if sweep >= 360 {
		return out
	}
	end := func(deg float64) orb.Point {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return orb.Point{at[0] + throw*cos, at[1] + throw*sin}
	}
	return append(out, &drawing.Line{Pen: pen, Points: []orb.Point{end(start), at, end(start + sweep)}})
}

// throws draws arc and throw of all standing heads.
func (c *chart) throws() {
	reach := map[plan.ID]float64{}
	for _, h := range c.d.Coverage.Heads {
		reach[h.ID] = float64(h.Throw)
	}
	for _, id := range plan.SortedIDs(c.p.Heads) {
		h := c.p.Heads[id]
		r, ok := reach[id]
		if !h.Status.Stands() || !ok || r <= 0 {
			continue
		}
		at, m := orb.Point{float64(h.X), float64(h.Y)}, c.zones[h.Zone]
		c.use(signThrow)
		if s := c.p.Nozzles[h.Nozzle].Strip; s != nil {
			ahead, back := 0.0, 0.0
			if s.Ahead {
				ahead = r
			}
			if s.Back {
				back = r
			}
			ring := geom.StripRect(at, float64(h.StartDeg), ahead, back, float64(s.Left), float64(s.Right))
			c.put(layerThrow, &drawing.Area{Pen: drawing.Pen{Ink: m.pale(), Width: 0.5 * c.k}, Rings: [][]orb.Point{ring}})
			continue
		}
		sweep := float64(h.SweepDeg)
		if sweep <= 0 {
			sweep = 360
		}
		c.put(layerThrow, c.throwLines(at, float64(h.StartDeg), sweep, r, m)...)
	}
}

// heads draws the marks of all heads. tags: each wants its tag beside it, and of
// strength is how much more than other labels.
func (c *chart) heads(tags bool) {
	for _, id := range plan.SortedIDs(c.p.Heads) {
		h := c.p.Heads[id]
		at := orb.Point{float64(h.X), float64(h.Y)}
		m, zoned := c.zones[h.Zone]
		family := c.p.Nozzles[h.Nozzle].Family
		if zoned {
			c.use(familySignOf(family))
		} else {
			c.use(signLoneHead, familySignOf(family))
		}
		c.useStatus(h.Status)
		c.put(layerHeads, c.headMark(at, m, zoned, family, h.Status)...)
		half := markSize * c.k * 1.1
		c.take(at, half)
		if tags && h.Tag != "" {
			c.labels = append(c.labels, label{about: at, of: plan.RefTo("heads", id), want: drawing.Want{
				Text:  drawing.Text{S: h.Tag, Size: 6.4 * c.k, Bold: true, Halo: true},
				Clear: half, Leader: c.leader(), Priority: 9,
			}})
		}
	}
}

// leader is the line from a label to what it names.
func (c *chart) leader() drawing.Pen { return drawing.Pen{Ink: drawing.Black, Width: 0.45 * c.k} }

// tag wants a label beside a mark, with a leader where there is no room.
func (c *chart) tag(s string, at orb.Point, half float64, priority int) {
	c.labels = append(c.labels, label{about: at, want: drawing.Want{
		Text: drawing.Text{S: s, Size: 6.2 * c.k, Halo: true}, Clear: half, Leader: c.leader(), Priority: priority,
	}})
}
