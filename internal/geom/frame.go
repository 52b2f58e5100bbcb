package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Frame is a raster of square cells laid over the plane. Cell (0, 0) is the one
// at the lower left; x grows to the east, y to the north.
type Frame struct {
	Origin orb.Point // lower left corner of cell (0, 0), feet
	Cell   float64   // side of a cell, feet, above zero
	NX, NY int       // cells across and up
}

// Size is the number of cells.
func (f Frame) Size() int { return f.NX * f.NY }

// CellArea is the ground under one cell in square feet.
func (f Frame) CellArea() float64 { return f.Cell * f.Cell }

// Bound is the rectangle the frame covers.
func (f Frame) Bound() orb.Bound {
	return orb.Bound{Min: f.Origin, Max: orb.Point{
		f.Origin[0] + float64(float64(f.NX)*f.Cell),
		f.Origin[1] + float64(float64(f.NY)*f.Cell),
	}}
}

// Place turns a point into cell coordinates: whole numbers are cell borders, and
// the middle of cell (x, y) is at x+½, y+½.
func (f Frame) Place(p orb.Point) (x, y float64) {
	return (p[0] - f.Origin[0]) / f.Cell, (p[1] - f.Origin[1]) / f.Cell
}

// Middle is the middle of cell (x, y) in feet.
func (f Frame) Middle(x, y int) orb.Point {
	return orb.Point{
		f.Origin[0] + float64((float64(x)+0.5)*f.Cell),
		f.Origin[1] + float64((float64(y)+0.5)*f.Cell),
	}
}

// CellOf is the cell a point lies in, and whether the frame has it. A point on a
// border belongs to the cell east or north of it.
func (f Frame) CellOf(p orb.Point) (x, y int, inside bool) {
	fx, fy := f.Place(p)
	if !(fx >= 0 && fy >= 0 && fx < float64(f.NX) && fy < float64(f.NY)) {
		return 0, 0, false
	}
	return int(fx), int(fy), true
}

// Cells is a rectangle of cells: x in [X0, X1), y in [Y0, Y1).
type Cells struct{ X0, Y0, X1, Y1 int }

// Empty reports whether the rectangle holds no cell.
func (c Cells) Empty() bool { return c.X0 >= c.X1 || c.Y0 >= c.Y1 }

// With is the smallest rectangle that holds both.
func (c Cells) With(d Cells) Cells {
	switch {
	case c.Empty():
		return d
	case d.Empty():
		return c
	}
	return Cells{min(c.X0, d.X0), min(c.Y0, d.Y0), max(c.X1, d.X1), max(c.Y1, d.Y1)}
}

// Within is the part of the rectangle that the frame has.
func (c Cells) Within(f Frame) Cells {
	out := Cells{max(c.X0, 0), max(c.Y0, 0), min(c.X1, f.NX), min(c.Y1, f.NY)}
	if out.Empty() {
		return Cells{}
	}
	return out
}

// All is the rectangle of every cell of the frame.
func (f Frame) All() Cells { return Cells{X1: f.NX, Y1: f.NY} }

// farthestCell keeps cell numbers inside an int32 with room to spare.
const farthestCell = 1 << 30

// Around is the rectangle of cells that a bound touches, which may reach
// outside the frame.
func (f Frame) Around(b orb.Bound) Cells {
	x0, y0 := f.Place(b.Min)
	x1, y1 := f.Place(b.Max)
	if !(x1 >= x0 && y1 >= y0) { // empty, or not a number
		return Cells{}
	}
	whole := func(v float64) int { return int(min(max(v, -farthestCell), farthestCell)) }
	return Cells{whole(math.Floor(x0)), whole(math.Floor(y0)), whole(math.Ceil(x1)), whole(math.Ceil(y1))}
}
