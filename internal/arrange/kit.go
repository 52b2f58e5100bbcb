package arrange

import (
	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// setting is a nozzle in a body set to an arc and a throw.
type setting struct {
	nozzle, body plan.ID
	sweep        units.Degrees // 0 for strips
	throw        units.Feet
	turned       bool // less than the table's throw
	fixed        bool // a nozzle of this one arc
	flow         units.GPM
	rate         units.InchesPerHour // head-to-head, with the turned-down throw
	fall         *coverage.Fall
}

// kit is what may be set on one area: the settings of one rate class, and
// none besides, so that whatever a search makes of them is matched.
type kit struct {
	family catalog.Family
	rate   units.InchesPerHour // of the class
	sweeps []units.Degrees     // rising, whole steps, 360 last if there is one; empty for strips
	throws []units.Feet        // rising
	// at holds sweeps × throws settings, row by row; nil where the stock has none.
	at []*setting
	// strips are the settings of a strip kit.
	strips []setting
}

// set is the setting of a sweep and a throw by their indices; nil for none.
func (k *kit) set(sweep, throw int) *setting { return k.at[sweep*len(k.throws)+throw] }
