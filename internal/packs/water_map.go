package packs

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// layerWater is the map of a coverage sheet, as PDF names it.
const layerWater = "WATER"

// waterMap is the map of a plan as it is drawn on paper.
type waterMap struct {
	frame geom.Frame
	cells []byte // of the whole frame, southernmost row first
	spots *mapSpots
}

// waterOf reckons the map. The error is the context's.
func waterOf(ctx context.Context, p *plan.Plan) (*waterMap, error) {
	f := coverage.New()
	if _, _, err := f.Update(ctx, p); err != nil {
		return nil, err
	}
	return &waterMap{frame: f.Frame(), cells: f.Cells(f.Frame().All())}, nil
}

func (m *waterMap) at(x, y int) byte { return m.cells[y*m.frame.NX+x] }

// wet is the smallest rectangle of cells that hold anything.
func (m *waterMap) wet() geom.Cells {
	var out geom.Cells
	for y := range m.frame.NY {
		first, past := -1, 0
		for x, b := range m.cells[y*m.frame.NX : (y+1)*m.frame.NX] {
			if b != 0 {
				if first < 0 {
					first = x
				}
				past = x + 1
			}
		}
		if first >= 0 {
			out = out.With(geom.Cells{X0: first, Y0: y, X1: past, Y1: y + 1})
		}
	}
	return out
}

// bound is the ground of a rectangle of cells, feet.
func (m *waterMap) bound(c geom.Cells) orb.Bound {
	f := m.frame
	return orb.Bound{
		Min: orb.Point{f.Origin[0] + float64(c.X0)*f.Cell, f.Origin[1] + float64(c.Y0)*f.Cell},
		Max: orb.Point{f.Origin[0] + float64(c.X1)*f.Cell, f.Origin[1] + float64(c.Y1)*f.Cell},
	}
}

// shown are the cells that a box of the ground shows.
func (m *waterMap) shown(ground orb.Bound) geom.Cells {
	x0, y0 := m.frame.Place(ground.Min)
	x1, y1 := m.frame.Place(ground.Max)
	whole := func(v float64) int { return int(min(max(v, -1e9), 1e9)) }
	c := geom.Cells{X0: whole(math.Floor(x0)), Y0: whole(math.Floor(y0)), X1: whole(math.Ceil(x1)), Y1: whole(math.Ceil(y1))}
	return c.Within(m.frame)
}

// image is the map of a rectangle of cells in feet of the ground, one cell of it for
// each of the field's; nil of none. What shows nothing is left clear.
func (m *waterMap) image(c geom.Cells) *drawing.Image {
	if c.Empty() {
		return nil
	}
	out := &drawing.Image{Box: m.bound(c), Columns: c.X1 - c.X0, Rows: c.Y1 - c.Y0, Inks: mapInks()}
	for y := c.Y1 - 1; y >= c.Y0; y-- {
		out.Cells = append(out.Cells, m.cells[y*m.frame.NX+c.X0:y*m.frame.NX+c.X1]...)
	}
	return out
}

// The hatch of water off its target on paper, points: chosen to be told from the
// hatches of the ground, and thin enough to leave the colour under it.
const (
	strayEvery = 4.0
	strayWide  = 0.9
)

// strayClasses are how many strengths of ink the hatch is drawn in.
const strayClasses = 5

// strayMiddle is a byte in the middle of a strength.
func strayMiddle(class int) byte { return byte(201 + (2*class+1)*55/(2*strayClasses)) }

// hatch are the lines over water off its target that a view shows.
func (m *waterMap) hatch(v *drawing.View) []drawing.Item {
	var pens []drawing.Pen
	for i := range strayClasses {
		pens = append(pens, drawing.Pen{Ink: overWhite(strayInk, strayAlpha(strayMiddle(i))), Width: strayWide})
	}
	return m.lines(v, 1, strayEvery, pens, func(b byte) int {
		if !offMap(b) {
			return -1
		}
		return min(int(b-201)*strayClasses/55, strayClasses-1)
	})
}

// wetStripe is the light line over ground that gets more than the mean, so that wet is
// told from dry on a print without colour; wetEvery is from one to the next, points.
// Chosen: they can just be seen.
var wetStripe = drawing.Pen{Ink: drawing.White, Width: 0.55}

const wetEvery = 3.2

// stripes are the light lines over ground of the classes over the mean.
func (m *waterMap) stripes(v *drawing.View) []drawing.Item {
	return m.lines(v, -1, wetEvery, []drawing.Pen{wetStripe}, func(b byte) int {
		if classOf(b) > unnumbered {
			return 0
		}
		return -1
	})
}

// lines are slanting lines, rising to the right (1) or falling (-1), so many points
// apart, over the cells of a view that have a pen; below 0 is none. They run on from
// one tile to the next.
func (m *waterMap) lines(v *drawing.View, rise, apart float64, pens []drawing.Pen, penOf func(byte) int) []drawing.Item {
	lo, hi := v.ToGround(v.Box.Min), v.ToGround(v.Box.Max)
	y0, y1 := min(rise*lo[1], rise*hi[1]), max(rise*lo[1], rise*hi[1])
	every := apart * math.Sqrt2 / v.PerFoot // feet from line to line along x
	step := max(m.frame.Cell/2, 0.5/v.PerFoot)
	var out []drawing.Item
	for k := math.Floor((lo[0] - y1) / every); k*every <= hi[0]-y0; k++ {
		c := k * every // x - rise·y
		on := func(x float64) orb.Point { return orb.Point{x, rise * (x - c)} }
		from, to := max(lo[0], y0+c), min(hi[0], y1+c)
		pen, start := -1, 0.0
		for i := 0; ; i++ {
			x, at := from+float64(i)*step, -1
			if x < to {
				if cx, cy, in := m.frame.CellOf(on(x)); in {
					at = penOf(m.at(cx, cy))
				}
			}
			if at != pen {
				edge := min(max(x-step/2, from), to) // between the last place looked at and this
				if pen >= 0 {
					out = append(out, &drawing.Line{Pen: pens[pen], Points: []orb.Point{on(start), on(edge)}})
				}
				pen, start = at, edge
			}
			if x >= to {
				break
			}
		}
	}
	return out
}
