package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Grid is the spacing of the lattice every shape is snapped to before it is
// compared or combined: 1/4096 ft, 0.003 in. It is a power of two so that
// lattice places are exact floats, and far finer than a tape.
const Grid = 1.0 / 4096

// Limit is the greatest coordinate either way, in feet (10 km). On the lattice
// it is under 2^28, so the cross product of two differences stays under 2^59
// and predicates on the lattice are exact in int64.
const Limit = 32808.0

// Snap returns the lattice place nearest to p.
func Snap(p orb.Point) orb.Point {
	return orb.Point{snap1(p[0]), snap1(p[1])}
}

func snap1(v float64) float64 {
	return math.RoundToEven(v*4096)/4096 + 0 // + 0: no negative zero
}

// spot is a place on the lattice, counted in Grid steps.
type spot struct{ x, y int64 }

func spotOf(p orb.Point) spot {
	return spot{int64(math.RoundToEven(p[0] * 4096)), int64(math.RoundToEven(p[1] * 4096))}
}

func (s spot) point() orb.Point {
	return orb.Point{float64(s.x) / 4096, float64(s.y) / 4096}
}

func (s spot) less(t spot) bool { return s.x < t.x || (s.x == t.x && s.y < t.y) }

// turn is positive when a, b, c turn to the left, negative to the right, and
// zero when they lie on one line. It is exact: see Limit.
func turn(a, b, c spot) int64 {
	return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x)
}
