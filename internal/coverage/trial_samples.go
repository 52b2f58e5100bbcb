package coverage

import (
	"math"

	"evenfall/internal/geom"
)

// sampleX and sampleY are where the first sample of each row of a cell stands.
var sampleX, sampleY = sampleRows()

func sampleRows() (x, y [8]float64) {
	for k := range x {
		x[k], y[k] = geom.Sample(8 * k)
	}
	return x, y
}

// bits are the samples of a cell that the disc holds.
func (d *disc) bits(x, y int) uint64 {
	dx, dy := float64(x)-d.cx, float64(y)-d.cy
	in := ^uint64(0)
	switch d.wedge {
	case oneSide:
		in = d.a.bits(dx, dy)
	case inWedge:
		in = d.a.bits(dx, dy) & d.b.bits(dx, dy)
	case offWedge:
		in = ^(d.a.bits(dx, dy) & d.b.bits(dx, dy))
	}
	ox, oy := max(math.Abs(dx), math.Abs(dx+1)), max(math.Abs(dy), math.Abs(dy+1))
	if ox*ox+oy*oy <= d.r*d.r {
		return in
	}
	for k := range 8 {
		half := d.r*d.r - (dy+sampleY[k])*(dy+sampleY[k])
		row := uint64(0)
		if half > 0 {
			half = math.Sqrt(half)
			row = from(-half-dx, k) &^ from(half-dx, k)
		}
		in &^= (0xFF &^ row) << (8 * k)
	}
	return in
}

// bits are the samples of a cell inside a side; dx and dy are of its corner.
func (s *side) bits(dx, dy float64) uint64 {
	switch d := s.nx*(dx+0.5) + s.ny*(dy+0.5); {
	case d >= s.half:
		return ^uint64(0)
	case d <= -s.half:
		return 0
	}
	in := uint64(0)
	for k := range 8 {
		in |= from((dy+sampleY[k])*s.slope-dx, k) << (8 * k)
	}
	if s.nx < 0 {
		return ^in
	}
	return in
}

// from are the samples of row k of a cell east of x.
func from(x float64, k int) uint64 {
	west := (x - sampleX[k]) * 8
	switch {
	case west <= 0:
		return 0xFF
	case west > 7:
		return 0
	}
	n := uint(west)
	if float64(n) < west {
		n++
	}
	return 0xFF & (0xFF << n)
}
