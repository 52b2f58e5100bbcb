package coverage

import (
	"maps"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Fall is how one nozzle in one body lets its water fall. Heads of the same kind
// share one.
type Fall struct {
	profile    *profile
	trajectory float64 // degrees above level
	height     float64 // of the nozzle above the ground, feet
	strip      *catalog.StripShape
}

// FallOf is the fall of a nozzle in a body, at the pressures of its table.
func FallOf(n catalog.Nozzle, b catalog.Body) *Fall {
	f := &Fall{
		profile: newProfile(n.Profile), trajectory: float64(n.Trajectory),
		height: float64(b.Height) / 12,
	}
	if n.Family == catalog.Strip {
		f.strip = n.Strip
	}
	return f
}

// Thrown is a head as a search tries it.
type Thrown struct {
	At    orb.Point
	Start units.Degrees // of the arc; a strip's direction
	Sweep units.Degrees // 0 for strips
	Throw units.Feet    // as set
	Flow  units.GPM     // with its arc and its throw
	Fall  *Fall
}

// Tried is what a Trial reads of the heads it has: shares as everywhere in this
// package.
type Tried struct {
	DU, CU   units.Ratio
	Driest2  units.Ratio         // mean of the driest 2 % over the mean
	DryShare units.Ratio         // ground below half the mean
	Mean     units.InchesPerHour // over the ground, lip left out

	Flow     units.GPM // of all heads
	OnTarget units.GPM // landed on the area
	Hard     units.GPM // landed on paving, buildings, right of way, water, off the lot
	Bare     units.GPM // on bare and undrawn ground; past what is drawn where there is no property line
	Other    units.GPM // on other planting
	Stopped  units.GPM // by walls, buildings and trunks
	Walled   units.GPM // of that by all but trunks
	// Blamed is by how much heads pass the share of their own flow from which a
	// finding names them (paving, off the lot, walls), less a tenth of it; summed.
	Blamed units.Ratio
	// BareCorners is how many corners of the area have no head and are dry, as the
	// finding about them has it, strips apart; 0 where the plan keeps heads off
	// nothing.
	BareCorners int
}

// Landed is where the water of one head comes down, as Tried has it for all.
type Landed struct {
	OnTarget, Hard, Bare, Other, Stopped, Walled units.GPM

	Outside units.GPM // of Hard or Bare: off the lot, or past what is drawn
}

// Blamed reports whether findings name the head for throwing on paving, on walls or
// off the lot, of so much flow.
func (l *Landed) Blamed(flow units.GPM) bool {
	astray := l.Hard + l.Walled
	if l.Outside > 0 {
		astray = max(astray, l.Outside+l.Walled)
	}
	return float64(astray) > 0.95*offHead*float64(flow)
}

// Trial is the ground of one planting area on which heads are tried out, many
// thousand times a second: what a search asks instead of a Field. It reads the
// same figures as a Field of the same cell would, for that area alone and the
// water of the heads it is given alone, whatever the plan has. It is not safe
// for use by two goroutines at once; a Clone is another's.
//
// Every number of its grid is whole, so that heads set, taken and put back leave
// exactly what a new Trial of the same heads would have. It holds rates up to
// 8,192 in/h on one place, all heads together: thousands of usual heads.
type Trial struct {
	land  *tract
	rates []int32 // by place of the tract, in steps of 2^-trialScale in/h
	heads []*tried
	free  []*tried // to be used again

	offered []change // worked out, not laid yet
	laid    []change // last: what Undo takes back

	tables map[*profile]*Table // by fall-off, greatest rate 1 << tableUnit
	last   struct {
		fall  *profile
		table *Table
	}
	shower shower // scratch
	ring   orb.Ring
	tally  tally
	tail   tail
	blocks blocks
}

// NewTrial makes the ground of an area, with as much around it as a throw of reach
// feet can wet. The cell is in feet; it is doubled where the raster would not fit
// into memory (see Cell). The area is taken as watered overhead, whatever the plan
// says of it. The error is a sentence.
func NewTrial(p *plan.Plan, area plan.ID, cell, reach units.Feet) (*Trial, error) {
	land, err := newTract(p, area, float64(cell), float64(reach))
	if err != nil {
		return nil, err
	}
	return &Trial{land: land, rates: make([]int32, land.size()), tables: map[*profile]*Table{}}, nil
}

// Clone is a trial of the same heads on the same ground, for another goroutine.
func (t *Trial) Clone() *Trial {
	c := &Trial{land: t.land, tables: maps.Clone(t.tables)}
	c.rates = append(c.rates, t.rates...)
	for _, h := range t.heads {
		c.heads = append(c.heads, h.clone())
	}
	return c
}

// change is a head in place of another, or one more where was is nil.
type change struct {
	at      int
	was, is *tried
}

// Set makes h head i: the next one, or in place of what i was.
func (t *Trial) Set(i int, h Thrown) {
	t.Drop()
	t.Offer(i, h)
	t.Lay()
}

// Offer works h out for head i, the next one or in place of what i is, without laying
// it: Sums tells what it would come to, at a fraction of the work of Read. Several may
// be offered, each for another head; then all are laid by Lay, or let go by Drop.
func (t *Trial) Offer(i int, h Thrown) {
	n := t.take()
	t.fill(n, h.setting())
	c := change{min(i, len(t.heads)), nil, n}
	if i < len(t.heads) {
		c.was = t.heads[i]
	}
	t.offered = append(t.offered, c)
}

// Lay lays the heads that were offered.
func (t *Trial) Lay() {
	t.settle()
	t.laid, t.offered = t.offered, t.laid
	for _, c := range t.laid {
		if c.was != nil {
			c.was.pour(t.rates, -1)
			t.heads[c.at] = c.is
		} else {
			t.heads = append(t.heads, c.is)
		}
		c.is.pour(t.rates, 1)
	}
}

// Drop lets go of the heads that were offered and not laid.
func (t *Trial) Drop() {
	for _, c := range t.offered {
		t.free = append(t.free, c.is)
	}
	t.offered = t.offered[:0]
}

// Take takes head i away; the last head becomes i. It cannot be undone.
func (t *Trial) Take(i int) {
	t.Drop()
	t.settle()
	last := len(t.heads) - 1
	h := t.heads[i]
	h.pour(t.rates, -1)
	t.heads[i] = t.heads[last]
	t.heads = t.heads[:last]
	t.free = append(t.free, h)
}

// Undo takes back the last Set or Lay; once, and only when nothing was taken since.
func (t *Trial) Undo() {
	t.Drop()
	for k := len(t.laid) - 1; k >= 0; k-- {
		c := t.laid[k]
		c.is.pour(t.rates, -1)
		t.free = append(t.free, c.is)
		if c.was != nil {
			t.heads[c.at] = c.was
			c.was.pour(t.rates, 1)
		} else {
			t.heads = t.heads[:c.at]
		}
	}
	t.laid = t.laid[:0]
}

// settle lets go of what Undo would bring back.
func (t *Trial) settle() {
	for _, c := range t.laid {
		if c.was != nil {
			t.free = append(t.free, c.was)
		}
	}
	t.laid = t.laid[:0]
}

// take is a head to fill: one let go of, or a new one.
func (t *Trial) take() *tried {
	if n := len(t.free); n > 0 {
		h := t.free[n-1]
		t.free = t.free[:n-1]
		return h
	}
	return &tried{}
}

// Len is how many heads there are.
func (t *Trial) Len() int { return len(t.heads) }

// Landed is where the water of one head comes down: what tells a search which
// heads waste.
func (t *Trial) Landed(i int) Landed { return t.heads[i].landed }

// Cell is the side of a cell.
func (t *Trial) Cell() units.Feet { return units.Feet(t.land.frame.Cell) }

// Cells is how many cells the ground has that is read, shared ones counted whole.
func (t *Trial) Cells() int { return t.land.size() }

// setting is a head as the rest of this package knows it. Places are snapped as a
// plan's are.
func (h Thrown) setting() setting {
	s := setting{
		at: geom.Snap(h.At), throw: float64(h.Throw), start: float64(h.Start), sweep: min(float64(h.Sweep), 360),
		flow: float64(h.Flow),
	}
	if f := h.Fall; f != nil {
		s.fall, s.trajectory, s.height = f.profile, f.trajectory, f.height
		if f.strip != nil {
			s.isStrip, s.strip, s.sweep = true, *f.strip, 0
		}
	}
	return s
}

// falls reports whether a head has any water to tell of.
func (s *setting) falls() bool {
	return s.fall != nil && s.throw >= leastThrow && s.throw <= mostThrow && s.flow > 0 &&
		math.Abs(s.at[0]) <= geom.Limit && math.Abs(s.at[1]) <= geom.Limit && // and not NaN
		math.Abs(s.start) <= math.MaxFloat32 && (s.isStrip && s.volume() > 0 || s.sweep > 0)
}
