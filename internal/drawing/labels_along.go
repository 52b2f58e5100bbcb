package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// alongSpots are the places along a line: over and under it, turned with it, where it
// is straight enough for so long; then over its middle though the text is longer.
func (s *settling) alongSpots(l *label, out []spot) []spot {
	line := l.want.Along
	long := lengthOf(line)
	if !(long > 1) {
		return out
	}
	try := func(at, wide, cost float64) {
		a, b := pointAt(line, at-wide/2), pointAt(line, at+wide/2)
		dx, dy := b[0]-a[0], b[1]-a[1]
		chord := math.Hypot(dx, dy)
		if chord < 0.6*wide {
			return
		}
		turn := readable(math.Atan2(dy, dx) * 180 / math.Pi)
		sin, cos := math.Sincos(turn * math.Pi / 180)
		up := orb.Point{-sin, cos}
		c := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		over, under := strays(line, at-wide/2, at+wide/2, c, up)
		if max(over, under) > 4 {
			return
		}
		for side, off := range []float64{over + l.high/2 + markGap - 0.8, -(under + l.high/2 + markGap - 0.8)} {
			m := orb.Point{c[0] + up[0]*off, c[1] + up[1]*off}
			out = s.keep(l, out, spot{cost: cost + 0.4*float64(side) + 0.2*(over+under), middle: m, turnDeg: turn, anchor: Middle})
		}
	}
	if long < l.wide+4 {
		if long > 0.5*l.wide {
			try(long/2, long, 2)
		}
		return out
	}
	// From the middle to both ends, by a third of the text.
	for k := 0; k < 24; k++ {
		d := float64((k+1)/2) * l.wide / 3
		if k%2 == 1 {
			d = -d
		}
		if at := long/2 + d; at >= l.wide/2+2 && at <= long-l.wide/2-2 {
			try(at, l.wide, 1.5*math.Abs(d)/long)
		}
	}
	return out
}

// readable turns a direction so that words along it are not upside down: from -90,
// left out, to 90 degrees.
func readable(deg float64) float64 {
	for deg > 90 {
		deg -= 180
	}
	for deg <= -90+1e-9 {
		deg += 180
	}
	if math.Abs(deg) < 0.05 {
		return 0
	}
	if math.Abs(deg-90) < 0.05 {
		return 90
	}
	return deg
}

// strays is how far a line goes to both sides of its chord between two lengths along it.
func strays(line []orb.Point, from, to float64, c, up orb.Point) (over, under float64) {
	at := 0.0
	for i, p := range line {
		if i > 0 {
			at += dist(line[i-1], p)
		}
		if at < from || at > to {
			continue
		}
		d := (p[0]-c[0])*up[0] + (p[1]-c[1])*up[1]
		over, under = max(over, d), max(under, -d)
	}
	return over, under
}

func dist(a, b orb.Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

func lengthOf(line []orb.Point) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += dist(line[i-1], line[i])
	}
	return sum
}

// pointAt is where one is after so much of a line.
func pointAt(line []orb.Point, at float64) orb.Point {
	for i := 1; i < len(line); i++ {
		d := dist(line[i-1], line[i])
		if at <= d && d > 0 {
			t := max(at/d, 0)
			return orb.Point{line[i-1][0] + (line[i][0]-line[i-1][0])*t, line[i-1][1] + (line[i][1]-line[i-1][1])*t}
		}
		at -= d
	}
	return line[len(line)-1]
}

// withinSpots are places wholly inside rings, the nearest to About first.
func (s *settling) withinSpots(l *label, out []spot) []spot {
	box := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, r := range l.want.Within {
		for _, p := range r {
			if !usable(p[0]) || !usable(p[1]) {
				return out
			}
			box = box.Extend(p)
		}
	}
	box.Min = orb.Point{max(box.Min[0], s.inside.Min[0]), max(box.Min[1], s.inside.Min[1])}
	box.Max = orb.Point{min(box.Max[0], s.inside.Max[0]), min(box.Max[1], s.inside.Max[1])}
	w, h := box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
	if w < l.wide || h < l.high {
		return out
	}
	see := func(m orb.Point, cost float64) {
		if fitsIn(l.want.Within, m, l.wide/2+1, l.high/2+1) {
			out = s.keep(l, out, spot{cost: cost, middle: m, anchor: Middle})
		}
	}
	see(l.want.About, 0)
	const across = 13
	for i := range across {
		for k := range across {
			m := orb.Point{
				box.Min[0] + l.wide/2 + (w-l.wide)*float64(i)/(across-1),
				box.Min[1] + l.high/2 + (h-l.high)*float64(k)/(across-1),
			}
			see(m, 0.3+2*dist(m, l.want.About)/(w+h))
		}
	}
	return out
}

// fitsIn reports whether a box about a point is inside rings: its middle is, and no
// ring goes through it.
func fitsIn(rings [][]orb.Point, m orb.Point, halfWide, halfHigh float64) bool {
	b := orb.Bound{Min: orb.Point{m[0] - halfWide, m[1] - halfHigh}, Max: orb.Point{m[0] + halfWide, m[1] + halfHigh}}
	in := false
	for _, r := range rings {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			if crosses([2]orb.Point{p, q}, b) {
				return false
			}
			if (p[1] > m[1]) != (q[1] > m[1]) && m[0] < p[0]+(q[0]-p[0])*(m[1]-p[1])/(q[1]-p[1]) {
				in = !in
			}
		}
	}
	return in
}
