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

// strayClass is the strength of a byte off target, from 0.
func strayClass(b byte) int { return min(int(b-201)*strayClasses/55, strayClasses-1) }

// hatch are the lines over water off its target that a view shows, in feet, rising to
// the right; they run on from one tile to the next.
func (m *waterMap) hatch(v *drawing.View) []drawing.Item {
	var pens [strayClasses]drawing.Pen
	for i := range pens {
		pens[i] = drawing.Pen{Ink: overWhite(strayInk, strayAlpha(byte(201+(2*i+1)*55/(2*strayClasses)))), Width: strayWide}
	}
	lo, hi := v.ToGround(v.Box.Min), v.ToGround(v.Box.Max)
	every := strayEvery * math.Sqrt2 / v.PerFoot // feet from line to line along x
	step := max(m.frame.Cell/2, 0.5/v.PerFoot)
	var out []drawing.Item
	for k := math.Floor((lo[0] - hi[1]) / every); k*every <= hi[0]-lo[1]; k++ {
		c := k * every // x - y
		from, to := max(lo[0], lo[1]+c), min(hi[0], hi[1]+c)
		class, start := -1, 0.0
		for i := 0; ; i++ {
			x := from + float64(i)*step
			at := -1
			if x < to {
				if cx, cy, in := m.frame.CellOf(orb.Point{x, x - c}); in {
					if b := m.at(cx, cy); offMap(b) {
						at = strayClass(b)
					}
				}
			}
			if at != class {
				if class >= 0 {
					end := min(x, to)
					out = append(out, &drawing.Line{Pen: pens[class], Points: []orb.Point{{start, start - c}, {end, end - c}}})
				}
				class, start = at, x
			}
			if x >= to {
				break
			}
		}
	}
	return out
}
