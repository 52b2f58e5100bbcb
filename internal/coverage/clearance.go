package coverage

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// BarrierReading is what the streams of heads do at one wall, fence or hedge.
type BarrierReading struct {
	ID    plan.ID     `json:"id"`
	TopFt units.Feet  `json:"top_ft"` // its height
	Heads []Clearance `json:"heads"`  // those whose pattern reaches it, by id
}

// How a stream meets a barrier.
const (
	StreamPasses  = "passes"  // over all of it
	StreamPartly  = "partly"  // over some of it
	StreamStopped = "stopped" // nowhere over it
)

// Clearance is one head's stream at one barrier: over the part of it that the
// head would water and nothing nearer hides. The stream rises and falls as
// y = h + x·tan θ·(1 - x/R) above the ground, h the height of the nozzle (a
// projectile without drag), so that its least and greatest height there differ.
type Clearance struct {
	Head    plan.ID     `json:"head"`
	Does    string      `json:"does"`            // passes | partly | stopped
	NearFt  units.Feet  `json:"near_ft"`         // from the head to the nearest of that part
	FarFt   units.Feet  `json:"far_ft"`          // and to the farthest
	LeastFt units.Feet  `json:"stream_least_ft"` // above the ground
	MostFt  units.Feet  `json:"stream_most_ft"`
	Lost    units.Ratio `json:"lost_share"` // of the head's flow, caught by it
}

func (o *obstacle) isBarrier() bool { return !o.always && o.trunk == 0 }

// heightAt is how high above the ground the stream is x feet from the head, 0
// where it has come down.
func (s *setting) heightAt(x float64) float64 {
	return max(streamHeight(s.height, s.trajectory, s.throw, x), 0)
}

// streamHeight is how high above the ground a stream is x feet out, in feet: the
// parabola y = h + x·tan θ·(1 - x/R) that leaves a nozzle h feet up at θ degrees
// and comes down to its level at the throw R (a projectile without drag).
func streamHeight(nozzle, trajectory, throw, x float64) float64 {
	return nozzle + float64(x*math.Tan(trajectory*math.Pi/180)*(1-x/throw))
}

// pass is a Clearance with the obstacle it is at.
type pass struct {
	of int
	Clearance
}

// lostTold is the least share of a head's flow that a barrier is said to stop:
// less is the end of a stream that grazes it. Chosen.
const lostTold = 0.0005

// passesAt works out what the stream of a head does at the barriers in its reach.
func (f *Field) passesAt(s *shower) []pass {
	reach := s.throw
	if s.isStrip {
		_, _, reach = s.quarters()
	}
	around := s.at.Bound().Pad(reach)
	var out []pass
	for i := range f.obstacles {
		o := &f.obstacles[i]
		if !o.isBarrier() || !o.bound.Intersects(around) {
			continue
		}
		if c, ok := s.over(o, i, reach); ok {
			out = append(out, pass{i, c})
		}
	}
	return out
}

// over is what a head's stream does at one barrier; false when none of it comes
// there.
func (s *shower) over(o *obstacle, of int, reach float64) (Clearance, bool) {
	gate, open := s.clears(o)
	near, far, clear := math.Inf(1), 0.0, false
	for _, line := range o.lines {
		for i := 0; i+1 < len(line); i++ {
			w := geom.Segment{A: line[i], B: line[i+1]}
			for _, p := range s.pieces(w, gate, open, reach) {
				near, far = min(near, p[0]), max(far, p[1])
				m := (p[0] + p[1]) / 2
				clear = clear || open && m > gate.near && m < gate.far
			}
		}
	}
	lost := 0.0
	if k := slices.IndexFunc(s.stops, func(t stop) bool { return t.of == of }); k >= 0 {
		lost = s.stops[k].share
	}
	c := Clearance{Head: s.id, NearFt: units.Feet(near), FarFt: units.Feet(far), Does: StreamPartly, Lost: units.Ratio(lost)}
	switch {
	case near > far || lost < lostTold && !clear:
		return c, false
	case lost < lostTold:
		c.Does, c.Lost = StreamPasses, 0
	case !clear:
		c.Does = StreamStopped
	}
	c.heights(s, near, far)
	return c, true
}

// heights are the least and greatest height of the stream between two distances:
// at one of them, or at its top, half the throw away.
func (c *Clearance) heights(s *shower, near, far float64) {
	least, most := s.heightAt(near), s.heightAt(far)
	if least > most {
		least, most = most, least
	}
	if top := s.throw / 2; near < top && top < far {
		most = s.heightAt(top)
	}
	c.LeastFt, c.MostFt = units.Feet(least), units.Feet(most)
}

// pieces are the parts of a segment that a head's pattern holds and nothing nearer
// hides, each as its least and greatest distance from the head. None is partly
// cleared: they are cut where the stream is as high as the barrier.
func (s *shower) pieces(w geom.Segment, gate between, open bool, reach float64) [][2]float64 {
	dx, dy := w.B[0]-w.A[0], w.B[1]-w.A[1]
	cuts := between{}.appendCrossings([]float64{0, 1}, s.at, w, reach)
	if open {
		cuts = between{}.appendCrossings(cuts, s.at, w, gate.near)
		cuts = between{}.appendCrossings(cuts, s.at, w, gate.far)
	}
	start, sweep := s.start, s.sweep
	if s.isStrip {
		start, sweep, _ = s.quarters()
		for _, r := range s.rims() {
			cuts = appendMeeting(cuts, w, r.A, orb.Point{r.B[0] - r.A[0], r.B[1] - r.A[1]})
		}
	}
	rays := []float64{start * math.Pi / 180, (start + sweep) * math.Pi / 180}
	for i := range s.seen {
		rays = append(rays, s.seen[i].From)
	}
	for _, phi := range rays {
		sin, cos := math.Sincos(phi)
		cuts = appendMeeting(cuts, w, s.at, orb.Point{cos, sin})
	}
	slices.Sort(cuts)
	on := func(t float64) orb.Point { return orb.Point{w.A[0] + float64(t*dx), w.A[1] + float64(t*dy)} }
	var out [][2]float64
	for i := 0; i+1 < len(cuts); i++ {
		a, b, m := on(cuts[i]), on(cuts[i+1]), on((cuts[i]+cuts[i+1])/2)
		if cuts[i+1]-cuts[i] < 1e-9 || !s.wets(m, start, sweep) || !s.sees(m) {
			continue
		}
		q := geom.NearestOnSegment(s.at, a, b)
		out = append(out, [2]float64{apart(s.at, q), max(apart(s.at, a), apart(s.at, b))})
	}
	return out
}

// wets reports whether a place lies in the pattern of a head when nothing stops
// it.
func (s *setting) wets(p orb.Point, start, sweep float64) bool {
	bearing := geom.Bearing(s.at, p)
	if sweep < 360 && !geom.SweepContains(start, sweep, bearing) {
		return false
	}
	return apart(s.at, p) < s.pattern(bearing*math.Pi/180)
}

// appendMeeting adds where along a segment the line through a place meets it.
func appendMeeting(cuts []float64, w geom.Segment, at, along orb.Point) []float64 {
	dx, dy := w.B[0]-w.A[0], w.B[1]-w.A[1]
	turn := float64(along[0]*dy) - float64(along[1]*dx)
	if turn == 0 {
		return cuts
	}
	t := (float64(along[1]*(w.A[0]-at[0])) - float64(along[0]*(w.A[1]-at[1]))) / turn
	if t > 0 && t < 1 {
		cuts = append(cuts, t)
	}
	return cuts
}

// reportBarriers lists the barriers that streams come to. In the wind the heights
// are those of calm air and are not told.
func (f *Field) reportBarriers(r *Result) {
	by := make([][]Clearance, len(f.obstacles))
	for _, s := range f.showers {
		if !s.air.calm() {
			continue
		}
		if s.passedAt != f.walled {
			s.passes, s.passedAt = f.passesAt(s), f.walled
		}
		for _, p := range s.passes {
			by[p.of] = append(by[p.of], p.Clearance)
		}
	}
	for i, heads := range by {
		if len(heads) > 0 {
			o := &f.obstacles[i]
			r.Barriers = append(r.Barriers, BarrierReading{ID: o.ref.ID(), TopFt: units.Feet(o.height), Heads: heads})
		}
	}
}
