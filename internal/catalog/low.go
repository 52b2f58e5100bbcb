package catalog

import (
	"math"

	"evenfall/internal/units"
)

// LowPressure is what becomes of a nozzle's water below the least row of its
// table: the stream no longer breaks up, and most of it comes down in a ring.
type LowPressure struct {
	Profile Profile `json:"profile"`
	Source  string  `json:"source,omitzero"` // where it comes from, in words
}

// lowRing is the fall-off below the table for rows that name none. A ring where
// the stream does not break up is what courses describe (University of Maryland,
// irrigation course, 1.3.1 and 1.3.2); how strong it is was chosen here.
var lowRing = Profile{Kind: ProfileTable, Shares: []float64{0.3, 0.3, 0.35, 0.5, 0.8, 1, 0.8, 0.4, 0}}

const lowSource = "Evenfall's generic ring: a stream with too little pressure does not break up; its shape is chosen, not measured"

// builtinLow is what the built-in rows carry.
func builtinLow() *LowPressure { return &LowPressure{lowRing, lowSource} }

// LowProfile is how the rate falls off below the least row: the row's own, or
// the generic ring.
func (n Nozzle) LowProfile() Profile {
	if n.Low != nil {
		return n.Low.Profile
	}
	return lowRing
}

// Side is where a pressure stands to a nozzle's table.
type Side int

// The sides.
const (
	Within Side = iota
	Under
	Over
)

// Continued is At for water that flows whether or not the table holds its
// pressure. Below the least row the throw goes on by the table's own power (see
// throwGrowth) and the flow by the root of the pressure, q = k·√p; above the last
// row the flow does so, too, and the throw stays, since more pressure makes finer
// drops and no more distance. Nothing flows at 0 or below.
//
// It is for working out what really happens, never for planning: At refuses.
func (n Nozzle) Continued(p units.PSI) (units.Feet, units.GPM, Side) {
	if len(n.Rows) == 0 || !(p > 0) {
		return 0, 0, Under
	}
	least, last := n.Rows[0], n.Rows[len(n.Rows)-1]
	switch {
	case p < least.Pressure:
		over := float64(p / least.Pressure)
		return units.Feet(float64(least.Throw) * math.Pow(over, n.throwGrowth())), units.GPM(float64(least.Flow) * math.Sqrt(over)), Under
	case p > last.Pressure:
		return last.Throw, units.GPM(float64(last.Flow) * math.Sqrt(float64(p/last.Pressure))), Over
	}
	throw, flow, err := n.At(p)
	if err != nil {
		return 0, 0, Under // not a number
	}
	return throw, flow, Within
}

// mostGrowth is the greatest power of the pressure that a throw can follow: that
// of a stream in still air without drag, R ∝ v².
const mostGrowth = 1.0

// throwGrowth is the power of the pressure that the throw grows by from the least
// row to the row planned at; of a table with nothing to tell it by, that of the
// built-in rows.
func (n Nozzle) throwGrowth() float64 {
	least := n.Rows[0]
	for _, r := range n.Rows[1:] {
		if r.Pressure >= n.BestPSI && r.Throw > least.Throw {
			power := math.Log(float64(r.Throw/least.Throw)) / math.Log(float64(r.Pressure/least.Pressure))
			return min(power, mostGrowth)
		}
	}
	return throwPower
}

// FlowContinued is what a head takes at any pressure, when its arc sweeps the
// given angle and its screw leaves it a share of the throw it would have.
func (n Nozzle) FlowContinued(p units.PSI, sweep units.Degrees, turned units.Ratio) units.GPM {
	_, flow, _ := n.Continued(p)
	if n.FlowFollowsArc {
		flow = units.GPM(float64(flow) * float64(sweep) / 360)
	}
	return units.GPM(float64(flow) * power(float64(min(turned, 1)), n.TurnDown.FlowPower))
}
