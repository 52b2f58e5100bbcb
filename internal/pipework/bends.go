package pipework

import (
	"math"

	"evenfall/internal/geom"
)

// angle is in thousandths of a degree, whole, so that a pipe drawn the other way
// round turns by exactly as much.
type angle int

const (
	degree     angle = 1000
	fullCircle       = 360 * degree
)

// heading is a direction anticlockwise from east, in [0, fullCircle); unknown of a
// pipe without length.
type heading struct {
	at    angle
	known bool
}

// headingOf rounds a direction in degrees.
func headingOf(degrees float64) heading {
	a := angle(math.Round(math.Mod(degrees, 360)*float64(degree))) % fullCircle
	if a < 0 {
		a += fullCircle
	}
	return heading{a, true}
}

// back is the opposite direction.
func (h heading) back() heading {
	h.at = (h.at + fullCircle/2) % fullCircle
	return h
}

// straightBy is how far a pipe may turn at a joint without a fitting: the pipe
// itself takes that up. Chosen.
const straightBy = 12 * degree

// turn is how far water turns that comes from a pipe lying one way from a joint and
// goes on into one lying another way: 0 straight on, half a circle right back.
func turn(a, b heading) angle {
	if !a.known || !b.known {
		return 0
	}
	return fullCircle/2 - between(a, b)
}

// between is the angle between two directions, up to half a circle.
func between(a, b heading) angle {
	d := max(a.at-b.at, b.at-a.at)
	return min(d, fullCircle-d)
}

// ells are the made ells that a turn takes: the nearest sum of halves and quarters
// of a right turn that are sold, 45 and 90 degrees.
func ells(turned angle) []FittingKind {
	if turned < straightBy {
		return nil
	}
	switch (turned + 45*degree/2) / (45 * degree) {
	case 0, 1:
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
		begins := headingOf(chord - half)
		if last.known {
			s.bends = append(s.bends, ells(between(last, begins))...)
		} else {
			s.from = begins
		}
		last = headingOf(chord + half)
	}
	if last.known {
		s.to = last.back()
	}
	return s
}
