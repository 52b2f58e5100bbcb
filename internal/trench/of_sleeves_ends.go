package trench

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// SleeveEnds are the two ends of a sleeve.
func SleeveEnds(v plan.Sleeve) (a, b orb.Point) {
	return orb.Point{float64(v.From.X), float64(v.From.Y)}, orb.Point{float64(v.To.X), float64(v.To.Y)}
}

// Edge is where a sleeve leaves the paving, and how far past it it goes.
type Edge struct {
	At   orb.Point  // on the edge
	End  orb.Point  // of the sleeve
	Past units.Feet // below zero: it ends under the paving
}

// PastEdges tells how far a sleeve from a to b goes past the two edges of the paving
// that a crossing crosses, along itself: at a, then at b. It gives nothing where its
// line does not go through that paving.
func PastEdges(p *plan.Plan, a, b orb.Point, x *Crossing) []Edge {
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	if length < tiny {
		return nil
	}
	ux, uy := (b[0]-a[0])/length, (b[1]-a[1])/length
	along := func(q orb.Point) float64 { return (q[0]-a[0])*ux + (q[1]-a[1])*uy }
	place := func(t float64) orb.Point { return orb.Point{a[0] + ux*t, a[1] + uy*t} }
	// Where the sleeve's own line, made longer, meets the edges.
	area := p.Areas[x.Area]
	far := length + float64(x.Length) + 100
	var cuts []float64
	for _, o := range append([]geom.Outline{area.Outline}, area.Holes...) {
		r := o.Ring()
		for i := 0; i+1 < len(r); i++ {
			if at, ok := geom.SegmentIntersection(place(-far), place(far), r[i], r[i+1]); ok {
				cuts = append(cuts, along(at))
			}
		}
	}
	slices.Sort(cuts)
	mid := (along(x.From) + along(x.To)) / 2
	first, last := math.Inf(-1), math.Inf(1)
	for _, t := range cuts {
		if t <= mid {
			first = t
		} else {
			last = min(last, t)
		}
	}
	if math.IsInf(first, 0) || math.IsInf(last, 0) {
		return nil
	}
	return []Edge{{place(first), a, units.Feet(first)}, {place(last), b, units.Feet(length - last)}}
}
