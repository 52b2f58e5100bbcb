package coverage

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// setting is everything about one head that decides where its water goes. Equal
// settings wet the same ground, so that a change is found by comparing them.
type setting struct {
	id         plan.ID
	at         orb.Point
	throw      float64 // feet
	start      float64 // degrees
	sweep      float64 // degrees; of a strip, the directions its rectangle lies in
	strip      catalog.StripShape
	isStrip    bool
	trajectory float64 // degrees above level
	height     float64 // of the nozzle above the ground, feet
	fall       *profile
	flow       float64 // gpm
	air        drift   // what the wind does to it
}

// settings lists the heads of the plan that run, by id, and those that cannot.
func settings(p *plan.Plan, given Given, known *profiles) (runs []Run, set []setting, out []LeftOut) {
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		if !h.Status.Stands() {
			continue
		}
		run, falls, err := given.run(p, id)
		if err != nil {
			out = append(out, leftOut(id, err))
			continue
		}
		s := settingOf(p, id, h, run, known.of(falls))
		if !(s.peak() < mostRate) {
			out = append(out, LeftOut{id, "profile", fmt.Sprintf(
				"Head %s has a nozzle whose profile puts nearly all its water in one spot, which no sprinkler does; check its shares.", named(h, id))})
			continue
		}
		runs = append(runs, run)
		set = append(set, s)
	}
	return runs, set, out
}

func leftOut(id plan.ID, err error) LeftOut {
	out := LeftOut{Head: id, Quantity: "nozzle", Sentence: err.Error()}
	var cannot *CannotRun
	if errors.As(err, &cannot) {
		out.Quantity = cannot.Quantity
	}
	return out
}

func settingOf(p *plan.Plan, id plan.ID, h plan.Head, run Run, fall *profile) setting {
	n := p.Nozzles[h.Nozzle]
	s := setting{
		id: id, at: geom.Snap(orb.Point{float64(h.X), float64(h.Y)}), // as outlines are
		throw: float64(run.Throw), start: float64(h.StartDeg), sweep: min(float64(h.SweepDeg), 360),
		trajectory: float64(n.Trajectory), height: float64(p.Bodies[h.Body].Height) / 12,
		fall: fall, flow: float64(run.Flow),
	}
	if n.Family == catalog.Strip && n.Strip != nil {
		s.isStrip, s.strip = true, *n.Strip
		s.sweep = 0
	}
	return s
}

// peak is the rate where the profile is greatest, in inches per hour: such that
// the water over the whole pattern equals the flow [2].
//
//	sector:  flow·96.25 / (θ R² ∫f ρ dρ), θ in radians
//	strip:   flow·96.25 / (length · width · ∫f dρ)
func (s *setting) peak() float64 {
	return float64(units.PrecipitationRate(units.GPM(s.flow), 1)) / s.volume()
}

// volume is the integral of the profile over the whole pattern, square feet.
func (s *setting) volume() float64 {
	if s.isStrip {
		return stripLength(&s.strip) * s.throw * stripWidth(&s.strip) * s.fall.length
	}
	return s.sweep * math.Pi / 180 * s.throw * s.throw * s.fall.moment
}

// curve is u over the cells of a frame.
func (s *setting) curve(f geom.Frame) curve {
	cx, cy := f.Place(s.at)
	r2 := (s.throw / f.Cell) * (s.throw / f.Cell)
	if !s.isStrip {
		return newCurve(cx, cy, 1/r2, 0, 1/r2)
	}
	sin, cos := math.Sincos(s.start * math.Pi / 180)
	return newCurve(cx, cy, cos*cos/r2, 2*sin*cos/r2, sin*sin/r2)
}

// shower is one head on the raster.
type shower struct {
	setting
	walls []geom.Segment // what may stop its water
	seen  []geom.Reach   // its footprint; nil when nothing stops it
	curve curve
	mask  geom.Mask  // empty when it was not kept
	cells geom.Cells // that it touches
	rate  *Table
	reach *Table
	swept *windswept // its rates in the wind, only while they are wanted

	passes   []pass // what it does at barriers, as of passedAt
	passedAt int    // Field.walled then

	lands []landing // its row of the ledger, by surface
	stops []stop
}

// fewest is how many cells a throw must have for the profile to be drawn; a
// shorter one is spread evenly over its footprint. Chosen.
const fewest = 4

// fill makes the footprint and its mask.
func (s *shower) fill(f geom.Frame) {
	seen, r := s.look()
	s.fillSeen(f, seen, r)
}

// fillSeen makes them when it is known what the water reaches.
func (s *shower) fillSeen(f geom.Frame, seen []geom.Reach, r float64) {
	s.curve = s.setting.curve(f)
	ring := s.outline(r, seen, f.Cell)
	f.FillWhole(&s.mask, ring)
	if s.seen = nil; slices.ContainsFunc(seen, s.ends) {
		s.seen = seen
	}
}

// ends reports whether a piece of sight ends at a thing that stops water.
func (s *shower) ends(r geom.Reach) bool { return r.Wall != geom.Circle && s.walls[r.Wall].Of >= 0 }

// outline is the ring of the footprint. In the wind its curve is made of chords,
// so close that the ground left out is below 1e-4 of it.
func (s *shower) outline(r float64, seen []geom.Reach, cell float64) orb.Ring {
	if s.air.calm() {
		return geom.SightRing(s.at, r, seen, cell/32)
	}
	return s.air.ring(s.at, r, seen, cell/256)
}

// rim marks a segment that bounds a strip's pattern instead of stopping it.
const rim = -1

// look is the part of the pattern that the water reaches, and how far the water is
// thrown in it at the most.
func (s *shower) look() ([]geom.Reach, float64) {
	start, sweep, r := s.start, s.sweep, s.throw
	if s.isStrip {
		start, sweep, r = s.quarters()
	}
	if s.air.calm() {
		return geom.Sight(s.at, r, start, sweep, s.walls), r
	}
	start, sweep = s.air.carried(start, sweep)
	return geom.Sight(s.at, r*s.air.reach(), start, sweep, s.walls), r
}

// quarters are the directions a strip's rectangle lies in, and a radius that
// holds it.
//
//	back-left  | ahead-left
//	-----------at-----------▶ start
//	back-right | ahead-right
func (s *setting) quarters() (start, sweep, r float64) {
	p := s.strip
	left, right := p.Left > 0, p.Right > 0
	first, count := -1, 0
	// Quarters anticlockwise from ahead-right; a run of them may pass the end.
	has := [4]bool{p.Ahead && right, p.Ahead && left, p.Back && left, p.Back && right}
	for i := range 4 {
		if has[i] {
			count++
			if !has[(i+3)%4] {
				first = i
			}
		}
	}
	r = 1.001 * math.Hypot(s.throw, max(float64(p.Left), float64(p.Right)))
	if count == 4 {
		return s.start, 360, r
	}
	return s.start + float64(first-1)*90, float64(count) * 90, r
}

// rims are the sides of a strip's rectangle that do not pass through the head.
func (s *setting) rims() []geom.Segment {
	ahead, back := 0.0, 0.0
	if s.strip.Ahead {
		ahead = s.throw
	}
	if s.strip.Back {
		back = s.throw
	}
	ring := geom.StripRect(s.at, s.start, ahead, back, float64(s.strip.Left), float64(s.strip.Right))
	var out []geom.Segment
	for i := 0; i+1 < len(ring); i++ {
		if q := geom.NearestOnSegment(s.at, ring[i], ring[i+1]); math.Hypot(q[0]-s.at[0], q[1]-s.at[1]) > 1e-9 {
			out = append(out, geom.Segment{A: ring[i], B: ring[i+1], Of: rim})
		}
	}
	return out
}
