package pipework

import (
	"math"

	"evenfall/internal/geom"
)

// heading is a direction in degrees anticlockwise from east; unknown of a pipe
// without length.
type heading struct {
	deg   float64
	known bool
}

// straightBy is how far a pipe may turn at a joint without a fitting, in degrees:
// the pipe itself takes that up. Chosen.
const straightBy = 12

// turn is how far water turns that comes from a pipe lying one way from a joint and
// goes on into one lying another way: 0 straight on, 180 right back.
func turn(a, b heading) float64 {
	if !a.known || !b.known {
		return 0
	}
	return 180 - between(a.deg, b.deg)
}

// between is the angle between two directions, 0 to 180.
func between(a, b float64) float64 {
	d := math.Abs(math.Remainder(a-b, 360))
	return min(d, 180)
}

// ells are the made ells that a turn takes: the nearest sum of halves and quarters
// of a right turn that are sold, 45 and 90 degrees.
func ells(turned float64) []FittingKind {
	if turned < straightBy {
		return nil
	}
	switch max(1, int(math.Round(turned/45))) {
	case 1:
		return []FittingKind{Ell45}
	case 2:
		return []FittingKind{Ell90}
	case 3:
		return []FittingKind{Ell90, Ell45}
	default:
		return []FittingKind{Ell90, Ell90}
	}
}

// shape is what the run of a pipe asks for: how it leaves its ends, and the ells at
// its corners.
type shape struct {
	from, to heading // away from each end, into the pipe
	bends    []FittingKind
}

// shapeOf walks along a pipe. Places repeated along it are passed over, and an arc
// is bent pipe: only where its ends meet a corner is a fitting.
func shapeOf(line geom.Line) shape {
	var s shape
	var last heading
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		if a.X == b.X && a.Y == b.Y {
			continue
		}
		chord := math.Atan2(b.Y-a.Y, b.X-a.X) * 180 / math.Pi
		half := 2 * math.Atan(a.Bulge) * 180 / math.Pi
		begins, ends := chord-half, chord+half
		if last.known {
			s.bends = append(s.bends, ells(between(last.deg, begins))...)
		} else {
			s.from = heading{begins, true}
		}
		last = heading{ends, true}
	}
	if last.known {
		s.to = heading{last.deg + 180, true}
	}
	return s
}
