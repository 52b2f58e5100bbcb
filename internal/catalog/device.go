package catalog

import "evenfall/internal/units"

// DeviceKind is what a device in the pipe does.
type DeviceKind string

// The kinds of device.
const (
	Meter       DeviceKind = "meter"
	Isolation   DeviceKind = "isolation"
	Backflow    DeviceKind = "backflow"
	ZoneValve   DeviceKind = "zone_valve"
	MasterValve DeviceKind = "master_valve"
	Filter      DeviceKind = "filter"
	SwingJoint  DeviceKind = "swing_joint" // riser, swing pipe and body of one head
)

// BackflowKind is how a backflow device works; it decides its place in the chain.
type BackflowKind string

// The kinds of backflow device.
const (
	PressureBreaker       BackflowKind = "pressure_breaker"
	SpillResistantBreaker BackflowKind = "spill_resistant_breaker"
	AtmosphericBreaker    BackflowKind = "atmospheric_breaker" // one after every zone valve
	DoubleCheck           BackflowKind = "double_check"
	ReducedPressure       BackflowKind = "reduced_pressure"
)

// Device is what stands in the pipe and takes pressure: a loss curve.
type Device struct {
	Name     string       `json:"name"`
	Kind     DeviceKind   `json:"kind"`
	Backflow BackflowKind `json:"backflow,omitzero"` // only for Backflow
	Generic  bool         `json:"generic"`
	Source   string       `json:"source"`
	// Replace marks figures that no citable source stands behind: defaults to be
	// replaced by the maker's curve.
	Replace  bool         `json:"replace,omitzero"`
	Nominal  units.Inches `json:"nominal_in,omitzero"`
	LeastGPM units.GPM    `json:"least_gpm,omitzero"` // closes surely from here
	MostGPM  units.GPM    `json:"most_gpm,omitzero"`  // safe flow; 0: not given
	LeastPSI units.PSI    `json:"least_psi,omitzero"`
	MostPSI  units.PSI    `json:"most_psi,omitzero"`
	Loss     []LossPoint  `json:"loss"` // by rising flow, loss never falling; at least one
}

// LossPoint is the loss at one flow.
type LossPoint struct {
	Flow units.GPM `json:"flow_gpm"`
	Loss units.PSI `json:"loss_psi"`
}
