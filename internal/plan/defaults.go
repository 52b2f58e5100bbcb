package plan

import "evenfall/internal/units"

// A default stands for a member that is left out. Those of the words are filled
// in by Decode and left out again by Encode (the IsZero methods below), so that
// a document never says what goes without saying and two documents of the same
// meaning are the same bytes. Those of the numbers stay out of the plan and are
// asked for by the methods further down.
const (
	defaultShow     = units.US
	defaultStatus   = New
	defaultCover    = Turf
	defaultExposure = Sun
	defaultWatering = Overhead
	defaultBarrier  = Fence
	defaultSupply   = TownMeter
)

// IsZero reports whether the status goes without saying.
func (s Status) IsZero() bool { return s == "" || s == defaultStatus }

// IsZero reports whether the cover goes without saying.
func (c Cover) IsZero() bool { return c == "" || c == defaultCover }

// IsZero reports whether the exposure goes without saying.
func (e Exposure) IsZero() bool { return e == "" || e == defaultExposure }

// IsZero reports whether the way of watering goes without saying.
func (w WateringKind) IsZero() bool { return w == "" || w == defaultWatering }

// IsZero reports whether the kind of barrier goes without saying.
func (b BarrierKind) IsZero() bool { return b == "" || b == defaultBarrier }

// IsZero reports whether the kind of supply goes without saying.
func (s SupplyKind) IsZero() bool { return s == "" || s == defaultSupply }

// IsNew reports whether the thing is to be bought: its status is New or not said.
func (s Status) IsNew() bool { return s.IsZero() }

// Stands reports whether the thing is there when the work is done: it is not to
// be removed.
func (s Status) Stands() bool { return s != Remove }

// fill sets the words that go without saying.
func (p *Plan) fill() {
	if p.Show == "" {
		p.Show = defaultShow
	}
}
