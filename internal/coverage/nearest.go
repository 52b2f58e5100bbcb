package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// neighbourSlack is how far outside its arc a neighbour still counts, in
// degrees: heads that stand along one edge are seldom drawn on it exactly.
// Chosen.
const neighbourSlack = 2

// stripSlack is how far off its axis a neighbour of a strip still counts, in
// degrees. Chosen.
const stripSlack = 30

// farthestNeighbour bounds the search, in throws. Chosen.
const farthestNeighbour = 4

// neighbours finds for each shower the nearest other head inside its arc that
// nothing stands before; nil where there is none.
func neighbours(all []*shower) []*Neighbour {
	bounds, throws := make([]orb.Bound, len(all)), 0.0
	for i, s := range all {
		bounds[i] = s.at.Bound()
		throws += s.throw
	}
	places := newSquares(bounds, max(throws/float64(max(len(all), 1)), 1))
	out := make([]*Neighbour, len(all))
	for i := range all {
		out[i] = nearestOf(all, places, i)
	}
	return out
}

// nearestOf looks outwards from a head until what is left is farther than the
// best found.
func nearestOf(all []*shower, places *squares, k int) *Neighbour {
	s := all[k]
	best, at := farthestNeighbour*s.throw, -1
	for i, away := range places.outward(s.at, best) {
		if away > best {
			break
		}
		o := all[i]
		d := math.Hypot(o.at[0]-s.at[0], o.at[1]-s.at[1])
		if d > 0 && (d < best || d == best && at >= 0 && o.id < all[at].id) && s.faces(o.at) && s.sees(o.at) {
			best, at = d, int(i)
		}
	}
	if at < 0 {
		return nil
	}
	return &Neighbour{
		Head: all[at].id, DistanceFt: units.Feet(best),
		OverThrow: units.Ratio(best / s.throw),
		RowFt:     units.Feet(rowBeside(all, places, k, all[at].at)),
	}
}

// rowShare is how far square to the line to the nearest head another must stand
// to be of another row, over the distance to the nearest: the rows of an
// equilateral pattern are 0.87 apart. Chosen.
const rowShare = 0.4

// farthestRow bounds the search for the next row, in throws. Chosen.
const farthestRow = 2

// rowBeside is the least distance, square to the line from the k-th head to its
// nearest, at which a head of another row stands that it faces and sees, in
// feet; 0 when there is none.
func rowBeside(all []*shower, places *squares, k int, nearest orb.Point) float64 {
	s := all[k]
	ux, uy := nearest[0]-s.at[0], nearest[1]-s.at[1]
	spacing := math.Hypot(ux, uy)
	reach, row := farthestRow*s.throw, 0.0
	for i, away := range places.outward(s.at, reach) {
		if away > reach {
			break
		}
		o := all[i]
		dx, dy := o.at[0]-s.at[0], o.at[1]-s.at[1]
		off := math.Abs(float64(ux*dy)-float64(uy*dx)) / spacing
		if off > rowShare*spacing && (row == 0 || off < row) && math.Hypot(dx, dy) <= reach && s.faces(o.at) && s.sees(o.at) {
			row = off
		}
	}
	return row
}

// faces reports whether a place lies in the directions a head waters.
func (s *setting) faces(to orb.Point) bool {
	bearing := geom.Bearing(s.at, to)
	if !s.isStrip {
		return s.sweep >= 360-2*neighbourSlack ||
			geom.SweepContains(s.start-neighbourSlack, s.sweep+2*neighbourSlack, bearing)
	}
	off := geom.NormDeg(bearing - s.start)
	ahead := off <= stripSlack || off >= 360-stripSlack
	back := math.Abs(off-180) <= stripSlack
	return s.strip.Ahead && ahead || s.strip.Back && back
}
