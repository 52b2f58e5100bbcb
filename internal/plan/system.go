package plan

import (
	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// SupplyKind is what the water is taken from.
type SupplyKind string

// The kinds of supply.
const (
	TownMeter SupplyKind = "town_meter"
	HousePipe SupplyKind = "house_pipe"
	Well      SupplyKind = "well"
	Pond      SupplyKind = "pond"
	Reclaimed SupplyKind = "reclaimed"
)

// Drunk reports whether anybody may drink of such a supply.
func (k SupplyKind) Drunk() bool { return k != Pond && k != Reclaimed }

// Supply is where the water comes from. Until Measured it is an assumption and
// every print says so.
type Supply struct {
	Kind             SupplyKind           `json:"kind,omitzero"` // default town_meter
	Measured         bool                 `json:"measured,omitzero"`
	StaticPSI        units.PSI            `json:"static_psi,omitzero"`
	MeasuredAt       string               `json:"measured_at,omitzero"` // hour and season, in words
	FlowGPM          units.GPM            `json:"flow_gpm,omitzero"`
	ResidualPSI      units.PSI            `json:"residual_psi,omitzero"` // at FlowGPM
	DesignFlowGPM    units.GPM            `json:"design_flow_gpm,omitzero"`
	DesignFlowReason string               `json:"design_flow_reason,omitzero"`
	Connection       *Spot                `json:"connection,omitempty"` // point of connection
	MeterIn          units.Inches         `json:"meter_in,omitzero"`
	ServiceMaterial  string               `json:"service_material,omitzero"`
	ServiceIn        units.Inches         `json:"service_in,omitzero"`
	ServiceLengthFt  units.Feet           `json:"service_length_ft,omitzero"`
	ServiceClass     ID                   `json:"service_class,omitzero"` // among pipe_classes
	ServiceFPS       units.FeetPerSecond  `json:"service_fps,omitzero"`   // greatest velocity; 0: by its material
	Statics          map[ID]StaticReading `json:"statics,omitempty"`      // design stands on the lowest
	TimedGal         units.Gallons        `json:"timed_gal,omitzero"`     // a container filled at an open tap: flow at no pressure
	TimedS           units.Seconds        `json:"timed_s,omitzero"`
	MeasuredWhere    string               `json:"measured_where,omitzero"` // connection | outside_tap | hydrant
	HouseGPM         units.GPM            `json:"house_gpm,omitzero"`      // the house's own demand while the system runs
	Tap              string               `json:"tap,omitzero"`            // before_regulator | after_regulator; absent: no house regulator known
	RegulatorPSI     units.PSI            `json:"regulator_psi,omitzero"`
	Pump             []PumpPoint          `json:"pump,omitempty"` // its curve, by rising flow, pressure never rising
	PumpLeastGPM     units.GPM            `json:"pump_least_gpm,omitzero"`
	NeededPSI        units.PSI            `json:"needed_psi,omitzero"` // wanted before the zone valve; 0: worked out from the heads
	Meter            ID                   `json:"meter,omitzero"`      // among devices, as all below
	Isolation        ID                   `json:"isolation,omitzero"`
	Filter           ID                   `json:"filter,omitzero"`
	MasterValve      ID                   `json:"master_valve,omitzero"`
	BackflowDevice   ID                   `json:"backflow_device,omitzero"`
	BackflowHeightFt *units.Feet          `json:"backflow_height_ft,omitempty"` // of its critical level above its own ground
	SwingJoint       ID                   `json:"swing_joint,omitzero"`         // under every head; absent: the generic one by the body's inlet
	Regulator        bool                 `json:"regulator,omitzero"`
	Backflow         string               `json:"backflow,omitzero"`
	BackflowAt       *Spot                `json:"backflow_at,omitempty"`
	PushBack         string               `json:"push_back,omitzero"`  // what after the device can push water back: pump | second_source; absent: nothing
	Injection        bool                 `json:"injection,omitzero"`  // fertilizer or other chemicals are put into the water
	TapsAfter        bool                 `json:"taps_after,omitzero"` // drinking or hose water is taken off after the device
	Freeze           string               `json:"freeze,omitzero"`     // none | blow_out | manual_drain | automatic_drain; absent: not said
	Status           Status               `json:"status,omitzero"`     // of the connection with its regulator and backflow device
}

// StaticReading is the static pressure found at one hour of one month.
type StaticReading struct {
	PSI   units.PSI `json:"psi"`
	Hour  *int      `json:"hour,omitempty"` // 0-23, local
	Month int       `json:"month,omitzero"` // 1-12; 0: not noted
	Where string    `json:"where,omitzero"` // in words
}

// PumpPoint is one point of a pump's curve, at the point of connection.
type PumpPoint struct {
	Flow units.GPM `json:"flow_gpm"`
	PSI  units.PSI `json:"psi"`
}

// Head is one sprinkler: a body with a nozzle, an arc and a throw.
type Head struct {
	Tag      string        `json:"tag,omitzero"` // zone-head, as on the flag: "3-5"
	Nozzle   ID            `json:"nozzle"`
	Body     ID            `json:"body"`
	X        units.Feet    `json:"x_ft"`
	Y        units.Feet    `json:"y_ft"`
	StartDeg units.Degrees `json:"start_deg,omitzero"`   // first edge of the arc, in [0, 360); a strip's direction
	SweepDeg units.Degrees `json:"sweep_deg,omitzero"`   // anticlockwise from the start, (0, 360]; 0 for strips
	ThrowFt  *units.Feet   `json:"throw_ft,omitempty"`   // as set; absent: the table's throw
	SetBack  *units.Feet   `json:"setback_ft,omitempty"` // wanted distance from the edge, when it matters
	Zone     ID            `json:"zone,omitzero"`
	State    *HeadState    `json:"state,omitempty"` // as it was found; a copy of a head has none
	Built    *Built        `json:"built,omitempty"` // likewise
	Status   Status        `json:"status,omitzero"`
	Locked   bool          `json:"locked,omitzero"`
}

// Zone is the heads of one valve.
type Zone struct {
	Name      string         `json:"name"`
	Station   int            `json:"station,omitzero"` // controller terminal; 0: not given yet
	Flag      string         `json:"flag,omitzero"`    // mark on the stake-out flags, in words
	ValveAt   *Spot          `json:"valve_at,omitempty"`
	Valve     ID             `json:"valve,omitzero"`        // among devices; absent: the generic 1 in valve
	Pressure  units.PSI      `json:"pressure_psi,omitzero"` // planned at the heads; 0: each nozzle's best
	AuditedDU units.Ratio    `json:"audited_du,omitzero"`   // found by an audit of this zone; 0: none
	Runs      map[ID]ZoneRun `json:"runs,omitempty"`        // by hand, measured
	Built     *Built         `json:"built,omitempty"`       // its valve
	Status    Status         `json:"status,omitzero"`
	Locked    bool           `json:"locked,omitzero"`
}

// Node is a joint of the pipe network.
type Node struct {
	Kind   string     `json:"kind"` // joint | valve | head | connection | backflow | drain
	X      units.Feet `json:"x_ft"`
	Y      units.Feet `json:"y_ft"`
	Head   ID         `json:"head,omitzero"`
	Zone   ID         `json:"zone,omitzero"`
	Status Status     `json:"status,omitzero"`
	Locked bool       `json:"locked,omitzero"`
}

// Pipe joins two nodes.
type Pipe struct {
	From      ID           `json:"from"`
	To        ID           `json:"to"`
	Via       geom.Line    `json:"via,omitempty"`
	Class     ID           `json:"class,omitzero"`    // among pipe_classes
	Material  string       `json:"material,omitzero"` // in words, of a pipe whose class is not known
	NominalIn units.Inches `json:"nominal_in,omitzero"`
	Zone      ID           `json:"zone,omitzero"` // absent: the main
	Status    Status       `json:"status,omitzero"`
	Locked    bool         `json:"locked,omitzero"`
}

// Sleeve is a larger pipe under paving that others pass through.
type Sleeve struct {
	From      Spot         `json:"from"`
	To        Spot         `json:"to"`
	NominalIn units.Inches `json:"nominal_in,omitzero"` // 0: by what is in it
	Carries   string       `json:"carries,omitzero"`    // pipe | wire | spare; absent: whatever crosses there
	Method    string       `json:"method,omitzero"`     // before_paving | water_bore | saw_cut | other_bore; absent: not chosen
	Built     *Built       `json:"built,omitempty"`
	Status    Status       `json:"status,omitzero"`
	Locked    bool         `json:"locked,omitzero"`
}

// Controller is the clock that opens the valves.
type Controller struct {
	At       *Spot  `json:"at,omitempty"`
	Stations int    `json:"stations,omitzero"`
	Programs int    `json:"programs,omitzero"`   // it can hold; 0: 3
	Starts   int    `json:"starts,omitzero"`     // of each program; 0: 4
	Adjusts  string `json:"adjusts,omitzero"`    // percent: one share for all minutes | none; absent: percent
	Soaks    bool   `json:"soaks,omitzero"`      // it parts run times into cycles with soaks between by itself
	Place    string `json:"place,omitzero"`      // in words: "garage wall, indoors"
	Outdoors bool   `json:"outdoors,omitzero"`   // in a weatherproof case outside
	OutletAt *Spot  `json:"outlet_at,omitempty"` // the mains outlet it is plugged into
	Status   Status `json:"status,omitzero"`
	Locked   bool   `json:"locked,omitzero"`
}

// Sensor is a rain, flow or soil sensor.
type Sensor struct {
	Kind     string      `json:"kind"` // rain | flow | soil
	X        units.Feet  `json:"x_ft"`
	Y        units.Feet  `json:"y_ft"`
	HeightFt *units.Feet `json:"height_ft,omitempty"` // above the ground; absent: not said
	Wireless bool        `json:"wireless,omitzero"`
	Status   Status      `json:"status,omitzero"`
	Locked   bool        `json:"locked,omitzero"`
}
