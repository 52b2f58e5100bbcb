package trench

import (
	"math"

	"github.com/paulmach/orb"
)

// How densely places are laid that a trench may turn at. All are chosen, in feet.
const (
	pushedOut  = 1.0  // from the corners of what is not dug
	alongEdges = 4.0  // between places along the edges of plantings
	besideEdge = 0.5  // how far inside those edges
	portalStep = 2.0  // between the ways looked at across paving
	longestWay = 60.0 // of them
	fewest     = 8.0  // between places on open ground
	sameSpot   = 0.5  // places nearer one another are one
	sharpTurn  = 0.3  // radians of an outline that make a corner
)

// The most places of each kind that are laid; they are laid farther apart where there
// would be more.
const (
	mostEdge, mostPortal, mostOpen = 420, 150, 160
)

// spots gathers places.
type spots struct {
	f     *field
	at    []orb.Point
	key   []bool     // an end of pipe or wire, or a corner
	pairs [][2]int32 // ways across paving
	cells map[[2]int32][]int32
}

func newSpots(f *field) *spots { return &spots{f: f, cells: map[[2]int32][]int32{}} }

func cellOf(q orb.Point) [2]int32 {
	return [2]int32{int32(math.Floor(q[0] / sameSpot)), int32(math.Floor(q[1] / sameSpot))}
}

// near is a place within so many feet, at most sameSpot; -1: none.
func (s *spots) near(q orb.Point, within float64) int32 {
	c := cellOf(q)
	best, least := int32(-1), within
	for dx := int32(-1); dx <= 1; dx++ {
		for dy := int32(-1); dy <= 1; dy++ {
			for _, i := range s.cells[[2]int32{c[0] + dx, c[1] + dy}] {
				if d := apart(s.at[i], q); d < least || d == least && best >= 0 && i < best {
					best, least = i, d
				}
			}
		}
	}
	return best
}

func (s *spots) put(q orb.Point, key bool) int32 {
	i := int32(len(s.at))
	s.at, s.key = append(s.at, q), append(s.key, key)
	c := cellOf(q)
	s.cells[c] = append(s.cells[c], i)
	return i
}

// end is the place of an end of pipe or wire, whatever the ground there, rounded so
// far that how it was reckoned does not show.
func (s *spots) end(q orb.Point) int32 {
	q = orb.Point{math.Round(q[0]*1e6) / 1e6, math.Round(q[1]*1e6) / 1e6}
	if i := s.near(q, 0.01); i >= 0 {
		s.key[i] = true
		return i
	}
	return s.put(q, true)
}

// toHundredth rounds a place to a hundredth of a foot, which is what is drawn.
func toHundredth(q orb.Point) orb.Point {
	return orb.Point{math.Round(q[0]*100) / 100, math.Round(q[1]*100) / 100}
}

// lay adds a place on clear soil, unless one is there already.
func (s *spots) lay(q orb.Point, key bool) {
	q = toHundredth(q)
	if s.near(q, sameSpot) >= 0 || !s.f.clearOf(q) {
		return
	}
	if g, _ := s.f.at(q); g != Paved {
		s.put(q, key)
	}
}

// fill lays the places that follow from the ground: corners, edges, ways across
// paving, rings round root zones, and open ground around the ends.
func (s *spots) fill(ends orb.Bound) {
	f := s.f
	for _, list := range [][]plot{f.noDig, f.plots} {
		for i := range list {
			if q := &list[i]; forbidden(q.is) || q.is == Paved {
				out := pushedOut
				if q.is == Paved {
					out = f.rates.past + 0.25
				}
				for _, ring := range q.poly {
					s.corners(ring, out)
				}
			}
		}
	}
	s.crossPaving()
	for _, t := range f.trunks {
		s.ring(t.at, t.roots+0.3)
		if t.roots > t.clear+2 {
			s.ring(t.at, t.clear+0.1)
		}
	}
	s.edges()
	s.open(ends)
}

// corners lays places beside the corners of a ring, on its right.
func (s *spots) corners(ring orb.Ring, out float64) {
	n := len(ring) - 1
	turned := 0.0
	for i := range n {
		a, b, c := ring[(i+n-1)%n], ring[i], ring[(i+1)%n]
		in, on := math.Atan2(b[1]-a[1], b[0]-a[0]), math.Atan2(c[1]-b[1], c[0]-b[0])
		turn := math.Remainder(on-in, 2*math.Pi)
		if turned += turn; math.Abs(turned) < sharpTurn {
			continue
		}
		turned = 0
		half := in + turn/2 - math.Pi/2
		d := out / max(math.Cos(turn/2), 0.5)
		s.lay(orb.Point{b[0] + float64(d*math.Cos(half)), b[1] + float64(d*math.Sin(half))}, true)
	}
}

func (s *spots) ring(at orb.Point, r float64) {
	const places = 12
	r /= math.Cos(math.Pi / places) // the sides between places keep clear, too
	for k := range places {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / places)
		s.lay(orb.Point{at[0] + float64(r*cos), at[1] + float64(r*sin)}, false)
	}
}

// paces calls at with places every step feet along a ring and the direction to
// its right there.
func paces(ring orb.Ring, step float64, at func(q, right orb.Point)) {
	next := step / 2
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		d := apart(a, b)
		for ; next < d; next += step {
			at(along(a, b, next/d), orb.Point{(b[1] - a[1]) / d, -(b[0] - a[0]) / d})
		}
		next -= d
	}
}

func perimeter(poly orb.Polygon) float64 {
	sum := 0.0
	for _, ring := range poly {
		for i := 1; i < len(ring); i++ {
			sum += apart(ring[i-1], ring[i])
		}
	}
	return sum
}

// stepFor is the step along the plots of some grounds that keeps places to a number.
func (s *spots) stepFor(least float64, most int, is func(Ground) bool) float64 {
	sum := 0.0
	for i := range s.f.plots {
		if is(s.f.plots[i].is) {
			sum += perimeter(s.f.plots[i].poly)
		}
	}
	return max(least, sum/float64(most))
}

func (s *spots) edges() {
	planted := func(g Ground) bool { return g == Lawn || g == Bed || g == Loose }
	step := s.stepFor(alongEdges, mostEdge, planted)
	for i := range s.f.plots {
		if q := &s.f.plots[i]; planted(q.is) {
			for _, ring := range q.poly {
				paces(ring, step, func(at, right orb.Point) {
					s.lay(orb.Point{at[0] - float64(besideEdge*right[0]), at[1] - float64(besideEdge*right[1])}, false)
				})
			}
		}
	}
}

// crossPaving lays the two ends of ways straight across paving, as far past its
// edges as a sleeve goes.
func (s *spots) crossPaving() {
	step := s.stepFor(portalStep, mostPortal, func(g Ground) bool { return g == Paved })
	past := s.f.rates.past + 0.02
	for i := range s.f.plots {
		q := &s.f.plots[i]
		if q.is != Paved {
			continue
		}
		for _, ring := range q.poly {
			paces(ring, step, func(at, right orb.Point) {
				near := orb.Point{at[0] + float64(past*right[0]), at[1] + float64(past*right[1])}
				over := orb.Point{at[0] - float64(longestWay*right[0]), at[1] - float64(longestWay*right[1])}
				far, ok := s.f.across(at, over)
				if !ok {
					return
				}
				end := along(at, over, (far+past)/longestWay)
				if g, _ := s.f.at(near); g == Paved || !s.f.clearOf(near) || !s.f.clearOf(end) {
					return
				}
				if g, _ := s.f.at(end); g == Paved {
					return
				}
				a, b := s.portal(near), s.portal(end)
				s.pairs = append(s.pairs, [2]int32{min(a, b), max(a, b)})
			})
		}
	}
}

// portal is the place of an end of a way across paving.
func (s *spots) portal(q orb.Point) int32 {
	q = toHundredth(q)
	if i := s.near(q, 0.02); i >= 0 {
		return i
	}
	return s.put(q, false)
}

// across is how far it is from the edge of paving to its other side.
func (f *field) across(at, over orb.Point) (far float64, ok bool) {
	length := apart(at, over)
	cuts := f.cuts(at, over, length)
	for i := 1; i < len(cuts); i++ {
		if cuts[i]-cuts[i-1] < 1e-6 {
			continue
		}
		if is, _ := f.at(along(at, over, (cuts[i-1]+cuts[i])/2/length)); is != Paved {
			return cuts[i-1], i > 1 && !forbidden(is)
		}
	}
	return 0, false
}

// open lays places over the open ground that the ends lie in.
func (s *spots) open(ends orb.Bound) {
	w, h := ends.Max[0]-ends.Min[0], ends.Max[1]-ends.Min[1]
	step := max(fewest, math.Sqrt(float64(w*h)/mostOpen), max(w, h)/60)
	for i := 0; float64(i)*step <= w; i++ {
		for k := 0; float64(k)*step <= h; k++ {
			s.lay(orb.Point{ends.Min[0] + float64((float64(i)+0.5)*step), ends.Min[1] + float64((float64(k)+0.5)*step)}, false)
		}
	}
}
