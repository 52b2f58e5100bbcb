package coverage

import (
	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
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
	return &Fall{
		profile: newProfile(n.Profile), trajectory: float64(n.Trajectory),
		height: float64(b.Height) / 12, strip: n.Strip,
	}
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
	Stopped  units.GPM // by walls and the like
}

// Trial is the ground of one planting area on which heads are tried out, many
// thousand times a second: what a search asks instead of a Field. It reads the
// same figures as a Field of the same cell would, for that area alone and the
// water of the heads it is given alone, whatever the plan has. It is not safe
// for use by two goroutines at once.
type Trial struct {
	area plan.ID
}

// NewTrial makes the ground of an area, with as much around it as a throw of reach
// feet can wet. The cell is in feet.
func NewTrial(p *plan.Plan, area plan.ID, cell, reach units.Feet) (*Trial, error) {
	return &Trial{area: area}, nil
}

// Set makes h head i: the next one, or in place of what i was.
func (t *Trial) Set(i int, h Thrown) {}

// Take takes head i away; the last head becomes i.
func (t *Trial) Take(i int) {}

// Undo takes back the last Set.
func (t *Trial) Undo() {}

// Len is how many heads there are.
func (t *Trial) Len() int { return 0 }

// Read reads the heads as they are.
func (t *Trial) Read() Tried { return Tried{} }

// Driest is the middle of the driest window of the area (see AreaReading.Driest).
func (t *Trial) Driest() orb.Point { return orb.Point{} }

// Astray is the field estimate of the heads as they are: DU over installations
// drawn with small errors (see FieldEstimate), its mean and tenth percentile.
// The heads stay as they are.
func (t *Trial) Astray(seed uint64, draws int) (mean, p10 units.Ratio) { return 0, 0 }
