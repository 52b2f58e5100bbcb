package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Footprint is where the water of one head lands, to be read at single places: no raster
// lies between, so that a head's share of a catch-can is its own to the last drop.
type Footprint struct {
	ID  plan.ID
	Run Run

	set   setting
	peak  float64        // in/h
	walls []geom.Segment // what stops its water
	wider []geom.Segment // and what would, were it stretched the most
}

// Stretch is how far a head throws in a direction, degrees anticlockwise from the plan's
// east, over how far it is set to: what a head does that leans. The same water goes into
// each direction, so that it falls over 1/g² of the rate where the throw is g times as
// far. What turns of the arc by leaning, a few degrees, is left out. nil is a head as set.
type Stretch func(towards units.Degrees) float64

// Values of a Stretch are kept within these. Chosen.
const (
	LeastStretch = 0.1
	MostStretch  = 1.35
)

// Footprints are those of all heads that run, by id, at given pressures (nil: planned
// ones) and in a steady wind (its zero value: calm air), and the heads that cannot run. A
// wind beyond plan.MostWindMPH is refused with a sentence.
func Footprints(p *plan.Plan, given Given, w Wind) ([]Footprint, []LeftOut, error) {
	if err := w.windy(); err != nil {
		return nil, nil, err
	}
	var known profiles
	runs, set, out := settings(p, given, &known)
	all, air := obstaclesOf(p), w.drift()
	list := make([]Footprint, len(set))
	for i := range set {
		set[i].air = air
		far := set[i]
		far.throw *= MostStretch
		list[i] = Footprint{
			ID: set[i].id, Run: runs[i], set: set[i], peak: set[i].peak(),
			walls: wallsOf(&set[i], all), wider: wallsOf(&far, all),
		}
	}
	return list, out, nil
}

// At is where the head stands.
func (f *Footprint) At() orb.Point { return f.set.at }

// Facing is the middle of the directions it waters; of a full circle the start of its arc.
func (f *Footprint) Facing() units.Degrees {
	start, sweep := f.set.start, f.set.sweep
	if f.set.isStrip {
		start, sweep, _ = f.set.quarters()
	}
	if sweep >= 360 {
		sweep = 0
	}
	return units.Degrees(geom.NormDeg(start + sweep/2))
}

// Farthest is how far from the head its water may land at the most, however it is stretched.
func (f *Footprint) Farthest() units.Feet {
	far := f.set.throw
	if f.set.isStrip {
		_, _, far = f.set.quarters()
	}
	return units.Feet(far * MostStretch * f.set.air.reach())
}

// Trajectory is the angle above level at which its water leaves, the head plumb.
func (f *Footprint) Trajectory() units.Degrees { return units.Degrees(f.set.trajectory) }

// RateAt is the rate the head brings a place.
func (f *Footprint) RateAt(at orb.Point, by Stretch) units.InchesPerHour {
	s := &f.set
	x, y := at[0]-s.at[0], at[1]-s.at[1]
	thrown, carried := math.Hypot(x, y), 1.0
	if !s.air.calm() {
		spread := s.air.spread(x, y)
		thrown = s.air.thrown(x, y)
		if spread > 0 {
			carried = thrown / spread
		}
		x, y = x-float64(thrown*s.air.dx), y-float64(thrown*s.air.dy) // as it was thrown
	}
	g, walls := 1.0, f.walls
	if by != nil {
		g = min(max(by(units.Degrees(math.Atan2(y, x)*180/math.Pi)), LeastStretch), MostStretch)
		walls = f.wider
	}
	share := s.shareAt(x, y, thrown, g)
	if share == 0 || blocked(s.at, at, walls) {
		return 0
	}
	return units.InchesPerHour(f.peak * share * carried)
}

// shareAt is the rate at (x, y) feet from the head over its greatest, where it throws g
// times as far as drawn with the same water in each direction; thrown is √(x²+y²).
func (s *setting) shareAt(x, y, thrown, g float64) float64 {
	if !s.isStrip {
		if thrown > g*s.throw || s.sweep < 360 && thrown > 0 && !geom.SweepContains(s.start, s.sweep, math.Atan2(y, x)*180/math.Pi) {
			return 0
		}
		return s.fall.at(thrown/(g*s.throw)) / (g * g)
	}
	sin, cos := math.Sincos(s.start * math.Pi / 180)
	along, aside := float64(x*cos)+float64(y*sin), float64(y*cos)-float64(x*sin)
	if along > 0 && !s.strip.Ahead || along < 0 && !s.strip.Back || aside > float64(s.strip.Left) || -aside > float64(s.strip.Right) {
		return 0
	}
	return s.fall.at(math.Abs(along)/(g*s.throw)) / g
}

// blocked reports whether one of the walls stands between the head and a place.
func blocked(from, to orb.Point, walls []geom.Segment) bool {
	dx, dy := to[0]-from[0], to[1]-from[1]
	for _, w := range walls {
		if w.Of < 0 {
			continue
		}
		ex, ey := w.B[0]-w.A[0], w.B[1]-w.A[1]
		cross := float64(dx*ey) - float64(dy*ex)
		if cross == 0 {
			continue // it points straight at the eye, and hides nothing
		}
		ax, ay := w.A[0]-from[0], w.A[1]-from[1]
		along, across := (float64(ax*ey)-float64(ay*ex))/cross, (float64(ax*dy)-float64(ay*dx))/cross
		if along > 0 && along < 1 && across >= 0 && across <= 1 {
			return true
		}
	}
	return false
}
