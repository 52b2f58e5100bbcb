package coverage

import "math"

// A head that leans throws less far on the side it leans to, where its stream leaves
// flatter, and as a rule farther on the other. The way goes with the angle as
//
//	range(θ) = sin(90°·θ/θbest)
//
// which is longest at θbest, 36° in calm air (coverage reference 3: the best angle of a
// jet, a study of 36° calm and 30° in wind); without drag it would be 45°. The form
// between is chosen. In a direction at an angle α to the lean of τ the stream leaves at
// θ - τ·cos α, the same water goes into each direction, and so the rate at a distance r is
//
//	P0·f(r/(g·R))/g², g = range(θ - τ·cos α)/range(θ)
//
// Left out: the few degrees by which a leaning head's arc turns.
const (
	bestAngle    = 36.0 // degrees above level
	leastAngle   = 5.0  // degrees; a stream meant to leave flatter is taken to leave so
	leastLean    = 0.25 // of its throw is left of a stream that leaves into the ground; chosen
	farthestLean = 1.35 // no head throws farther by leaning; chosen
)

// leaned is how far a head throws in a direction, radians from east, over how far it
// throws plumb.
func (s *setting) leaned(towards float64, l Lean) float64 {
	plumb := min(max(s.trajectory, leastAngle), bestAngle)
	angle := plumb - float64(l.Deg)*math.Cos(towards-float64(l.Toward)*math.Pi/180)
	way := func(deg float64) float64 { return math.Sin(min(max(deg, 0), 2*bestAngle) / bestAngle * math.Pi / 2) }
	return min(max(way(angle)/way(plumb), leastLean), farthestLean)
}
