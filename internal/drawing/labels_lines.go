package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// linesAcross is how many lines of the drawing a leader crosses.
func (s *settling) linesAcross(leg [2]orb.Point) int {
	r, n := s.drawn, 0
	var last [8]int
	c0, r0, c1, r1 := r.span(hull(leg))
	for row := r0; row <= r1; row++ {
		for col := c0; col <= c1; col++ {
			for _, x := range r.legs[row*r.cols+col] {
				if meet(x.ends, leg) && !has(last[:min(n, len(last))], x.id) {
					last[n%len(last)] = x.id
					n++
				}
			}
		}
	}
	return n
}

func has(all []int, x int) bool {
	for _, y := range all {
		if x == y {
			return true
		}
	}
	return false
}

// under is what the lines under the letters of a place cost.
func (s *settling) under(l *label, p *spot) float64 {
	r, sum := s.drawn, 0.0
	sin, cos := math.Sincos(p.turnDeg * math.Pi / 180)
	turned := func(q orb.Point) orb.Point {
		x, y := q[0]-p.middle[0], q[1]-p.middle[1]
		return orb.Point{x*cos + y*sin, y*cos - x*sin}
	}
	block := orb.Bound{Min: orb.Point{-l.wide / 2, -l.high / 2}, Max: orb.Point{l.wide / 2, l.high / 2}}
	var seen [16]int
	n := 0
	for _, b := range p.boxes {
		c0, r0, c1, r1 := r.span(b)
		for row := r0; row <= r1; row++ {
			for col := c0; col <= c1; col++ {
				for _, x := range r.legs[row*r.cols+col] {
					leg := [2]orb.Point{turned(x.ends[0]), turned(x.ends[1])}
					from, to, in := Clipped(leg, block)
					if !in || has(seen[:min(n, len(seen))], x.id) {
						continue
					}
					seen[n%len(seen)] = x.id
					n++
					sum += costCrossing * (0.3 + (to-from)*dist(leg[0], leg[1])/l.high)
				}
			}
		}
	}
	return min(sum, costCrossMax)
}
