package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Turns returns for each vertex of the outline how far the outline turns there, in
// degrees from 0 to 180, whichever way: 0 where an arc runs smoothly on. The edges are
// taken as drawn, arcs by their tangents. A vertex at the same place as the one before
// it turns 0.
func (o Outline) Turns() []float64 {
	out := make([]float64, len(o))
	n := len(o)
	for i := range o {
		prev := (i + n - 1) % n
		for k := 0; k < n && o[prev].Point() == o[i].Point(); k++ {
			prev = (prev + n - 1) % n
		}
		next := (i + 1) % n
		if o[next].Point() == o[i].Point() || o[prev].Point() == o[i].Point() {
			continue
		}
		before := o[(prev+1)%n].Point()
		out[i] = turnBetween(o[prev].Point(), before, o[prev].Bulge, o[i].Point(), o[next].Point(), o[i].Bulge)
	}
	return out
}

// Turns returns the same of a line, whose ends turn 180.
func (l Line) Turns() []float64 {
	out := make([]float64, len(l))
	for i := range l {
		if i == 0 || i == len(l)-1 {
			out[i] = 180
			continue
		}
		out[i] = turnBetween(l[i-1].Point(), l[i].Point(), l[i-1].Bulge, l[i].Point(), l[i+1].Point(), l[i].Bulge)
	}
	return out
}

// turnBetween is the turn from the end of one edge to the start of the next. An arc of
// bulge b leaves its chord by 2·atan b, to the right at its start and as much to the
// left at its end when b is above 0.
func turnBetween(a, b orb.Point, bulge float64, c, d orb.Point, next float64) float64 {
	in := math.Atan2(b[1]-a[1], b[0]-a[0]) + 2*math.Atan(bulge)
	out := math.Atan2(d[1]-c[1], d[0]-c[0]) - 2*math.Atan(next)
	return math.Abs(math.Remainder(out-in, 2*math.Pi)) * 180 / math.Pi
}
