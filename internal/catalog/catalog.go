// Package catalog holds nozzle and body tables and looks values up in them.
//
// The built-in set is generic: its sizes and rows are Evenfall's own, made to
// behave like the common families, and belong to no maker. A user's own tables
// come in by CSV (see ReadNozzles). A value is looked up only inside its table;
// outside it ErrOutside says which limit was passed.
package catalog

import "evenfall/internal/units"

// Family is the kind of nozzle, which decides how its size is read, how its
// flow follows its arc, and which others it may share a valve with.
type Family string

// The nozzle families.
const (
	Spray  Family = "spray"  // fixed fan of drops, 5-15 ft
	Stream Family = "stream" // several turning streams, 13-25 ft
	Rotor  Family = "rotor"  // one gear-driven stream, 28-45 ft
	Strip  Family = "strip"  // rectangle of spray for narrow ground
)

// Nozzle is one row group of a nozzle table: what one nozzle does over its
// working pressures. Throws and flows are for a whole turned-up pattern.
type Nozzle struct {
	Name    string `json:"name"`
	Family  Family `json:"family"`
	Generic bool   `json:"generic"` // true for the built-in set
	Source  string `json:"source"`  // where the rows come from, in words

	// Arc. A fixed nozzle has ArcLeast == ArcMost. Strips have no arc (both 0).
	ArcLeast units.Degrees `json:"arc_least_deg"`
	ArcMost  units.Degrees `json:"arc_most_deg"`

	// FlowFollowsArc: the flow in a row is for 360 degrees and shrinks with the
	// arc (sprays, streams). When false (gear rotors, strips, and nozzles of one
	// fixed arc) the row is the flow of the nozzle whatever its arc.
	FlowFollowsArc bool `json:"flow_follows_arc"`

	Trajectory units.Degrees `json:"trajectory_deg"` // launch angle above level
	Profile    Profile       `json:"profile"`
	Strip      *StripShape   `json:"strip,omitempty"` // only for Strip
	TurnDown   TurnDown      `json:"turn_down"`
	BestPSI    units.PSI     `json:"best_psi"` // pressure to plan at
	Rows       []Row         `json:"rows"`     // by rising pressure, at least one
	Thread     string        `json:"thread"`   // what body fits: see Body.Takes

	// Low is how the water falls when there is less pressure than the least row's:
	// the stream does not break up. Left out, it is the generic ring (LowProfile).
	Low *LowPressure `json:"low_pressure,omitempty"`
}

// Row is what a nozzle does at one pressure.
type Row struct {
	Pressure units.PSI  `json:"pressure_psi"`
	Throw    units.Feet `json:"throw_ft"`
	Flow     units.GPM  `json:"flow_gpm"`
}

// Profile says how the rate falls off from the head to the end of the throw.
type Profile struct {
	Kind ProfileKind `json:"kind"`
	// Shares, for ProfileTable: relative rate at equal steps of distance from
	// the head (first) to the throw (last); at least two.
	Shares []float64 `json:"shares,omitempty"`
}

// ProfileKind names a radial profile.
type ProfileKind string

// The profiles. Linear is the default for sprays.
const (
	ProfileLinear ProfileKind = "linear" // 1 at the head to 0 at the throw
	ProfileFlat   ProfileKind = "flat"
	ProfileTable  ProfileKind = "table"
)

// StripShape is the rectangle a strip nozzle wets, seen from the head looking
// along its direction (the head's start_deg). Along the strip the rate follows
// the profile by distance over throw; across it is even.
type StripShape struct {
	Ahead bool       `json:"ahead"` // wets the throw ahead
	Back  bool       `json:"back"`  // wets the throw behind
	Left  units.Feet `json:"left_ft"`
	Right units.Feet `json:"right_ft"`
}

// TurnDown says how far a throw may be turned down and what that does to flow.
type TurnDown struct {
	// UsualShare is the least throw over the table's throw before a finding is
	// raised (0.75: the usual 25 %); LeastShare is the mechanical stop.
	UsualShare units.Ratio `json:"usual_share"`
	LeastShare units.Ratio `json:"least_share"`
	// FlowPower: flow is multiplied by (throw/table throw) to this power.
	FlowPower float64 `json:"flow_power"`
}

// Body is a pop-up body.
type Body struct {
	Name       string       `json:"name"`
	Generic    bool         `json:"generic"`
	Source     string       `json:"source"`
	Height     units.Inches `json:"height_in"`              // pop-up height
	Regulated  units.PSI    `json:"regulated_psi,omitzero"` // 0: not regulated
	CheckValve bool         `json:"check_valve"`
	Takes      string       `json:"takes"`    // thread of the nozzles it takes
	InletIn    units.Inches `json:"inlet_in"` // nominal inlet thread
}

// Fixed reports whether the nozzle has one arc that cannot be changed.
func (n Nozzle) Fixed() bool { return n.ArcLeast == n.ArcMost && n.Family != Strip }
