// Package pressure finds what flows and what pressure is left at every head of a
// plan: the supply and its limits, the chain from street to nozzle, and the
// solution of each zone running by itself.
package pressure

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Result is everything about water under pressure that follows from a plan.
type Result struct {
	Supply Supply                `json:"supply"`
	Zones  []Zone                `json:"zones"`  // by station, then id: all that stand
	Static map[plan.ID]units.PSI `json:"static"` // at each main node with nothing running
}

// Supply is the supply as designed on.
type Supply struct {
	Assumed    bool         `json:"assumed"` // nothing was measured: every print says so
	Rough      bool         `json:"rough"`   // only a timed container
	StaticPSI  units.PSI    `json:"static_psi"`
	StaticSays string       `json:"static_says"` // which reading: "62 psi, 7 pm in July, the lowest of 2"
	Limits     []Limit      `json:"limits"`
	DesignGPM  units.GPM    `json:"design_gpm"`
	Binding    string       `json:"binding"`           // code of the limit that sets it; "override" when chosen, "assumed" where none is known
	Override   string       `json:"override,omitzero"` // the reason kept in the plan
	Curve      []CurvePoint `json:"curve"`             // pressure left at the connection by flow, to the last flow known
	Measured   []CurvePoint `json:"measured"`          // the points it was drawn through
	EndsAtGPM  units.GPM    `json:"ends_at_gpm"`       // past this the curve is not known
}

// CurvePoint is a pressure at a flow.
type CurvePoint struct {
	Flow units.GPM `json:"flow_gpm"`
	PSI  units.PSI `json:"psi"`
}

// Limit is one reason for a least flow: meter_share, meter_loss, service_velocity,
// and curve or pump. What the house draws meanwhile is taken off each.
type Limit struct {
	Code    string    `json:"code"`
	Flow    units.GPM `json:"flow_gpm"` // 0 with Missing said
	Title   string    `json:"title"`
	Says    string    `json:"says"` // how the number came about, with its figures
	Rule    string    `json:"rule"` // the rule in words
	Source  string    `json:"source"`
	Missing string    `json:"missing,omitzero"` // what the plan must say before it can be worked out
}

// Zone is one zone running by itself.
type Zone struct {
	ID     plan.ID     `json:"id"`
	Solved bool        `json:"solved"`
	Says   string      `json:"says,omitzero"` // why it is not, and where; of a solved one what it leaves out or stretches
	Flow   units.GPM   `json:"flow_gpm"`
	Heads  []Head      `json:"heads"` // by id
	Pipes  []Flow      `json:"pipes"` // its laterals and the main while it runs, by id
	Worst  plan.ID     `json:"worst,omitzero"`
	Budget []Step      `json:"budget"` // of the worst head, street to nozzle
	Spread units.Ratio `json:"spread"` // (most − least) / nominal, of its heads that no body holds at a setting
}

// Head is one head with its zone running.
type Head struct {
	ID     plan.ID   `json:"id"`
	Inlet  units.PSI `json:"inlet_psi"`  // before body and nozzle
	Nozzle units.PSI `json:"nozzle_psi"` // after a regulating body
	Flow   units.GPM `json:"flow_gpm"`
	State  string    `json:"state"` // good | low | high | starved (under its nozzle's table)
}

// Flow is what passes a pipe.
type Flow struct {
	Pipe     plan.ID             `json:"pipe"`
	Flow     units.GPM           `json:"flow_gpm"` // positive from the pipe's from to its to
	Velocity units.FeetPerSecond `json:"velocity_fps"`
	Loss     units.PSI           `json:"loss_psi"` // friction and fittings
	From     units.PSI           `json:"from_psi"`
	To       units.PSI           `json:"to_psi"`
	TooFast  bool                `json:"too_fast,omitzero"`
}

// Step is one row of a pressure budget: what is left after it. Pressures are rounded
// as they are printed in the plan's units and a loss is the difference of two such,
// so that the column adds up.
type Step struct {
	Code   string     `json:"code"` // static | supply | meter | service | isolation | main | backflow | filter | master_valve | valve | breaker | rise | lateral | fittings | swing_joint | regulator
	Name   string     `json:"name"`
	Left   units.PSI  `json:"left_psi"`
	Loss   units.PSI  `json:"loss_psi"` // negative where the ground falls
	Along  units.Feet `json:"along_ft"` // from the connection, for the picture
	Says   string     `json:"says"`     // how it came about
	Rule   string     `json:"rule"`
	Source string     `json:"source"`
	Unsure bool       `json:"unsure,omitzero"` // by a default of no citable figure, to be replaced
	About  []plan.Ref `json:"about"`           // what it belongs to
}
