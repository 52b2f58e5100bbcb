package plan

import (
	"slices"

	"evenfall/internal/units"
)

// Proof is what was tested, found and measured on the system in the ground. What it
// names by id may be gone from the plan since: a record stays a record.
type Proof struct {
	StartedUp string              `json:"started_up,omitzero"` // civil date
	Checks    map[ID]StepDone     `json:"checks,omitempty"`    // steps of the start-up that were done, by the step's name
	Tests     map[ID]PressureTest `json:"pressure_tests,omitempty"`

	Wires    map[ID]FoundWire  `json:"wires,omitempty"`   // conductors that come out at the controller
	Touches  map[ID]Touch      `json:"touches,omitempty"` // what ran when one of them was powered
	Readings map[ID]OhmReading `json:"resistances,omitempty"`

	Audits map[ID]Audit `json:"audits,omitempty"`

	// One audit, as documents had it before they could hold several. It is read as
	// the audit of no id; nothing writes it any more.
	Cans      map[ID]CatchCan `json:"cans,omitempty"`
	Minutes   float64         `json:"minutes,omitzero"`
	ThroatIn2 float64         `json:"throat_in2,omitzero"`
}

// StepDone is a step that was done.
type StepDone struct {
	On   string `json:"on"`            // civil date
	By   string `json:"by,omitzero"`   // who did it
	Note string `json:"note,omitzero"` // what was seen
}

// PressureTest is a pipe held at pressure with everything shut.
type PressureTest struct {
	On      string    `json:"on,omitzero"` // civil date
	Of      ID        `json:"of,omitzero"` // the zone whose lateral it was; absent: the main. It may be gone
	Start   units.PSI `json:"start_psi,omitzero"`
	End     units.PSI `json:"end_psi,omitzero"`
	Minutes float64   `json:"minutes,omitzero"`
	Meter   string    `json:"meter,omitzero"` // its dial: still | moved; absent: not looked at
	Note    string    `json:"note,omitzero"`
}

// ZoneRun is one zone run by hand and measured.
type ZoneRun struct {
	On         string        `json:"on,omitzero"`   // civil date
	When       string        `json:"when,omitzero"` // start_up | before | after | check: what it was run for; absent: start_up
	StaticPSI  units.PSI     `json:"static_psi,omitzero"`
	RunningPSI units.PSI     `json:"running_psi,omitzero"`
	PSIAt      string        `json:"psi_at,omitzero"`  // head | valve | tap: where RunningPSI was read; absent: head
	AtHead     ID            `json:"at_head,omitzero"` // the head it was read at; it may be gone
	FlowGPM    units.GPM     `json:"flow_gpm,omitzero"`
	MeterGal   units.Gallons `json:"meter_gal,omitzero"` // what the meter counted
	MeterS     units.Seconds `json:"meter_s,omitzero"`   // in how long
	Flushed    string        `json:"flushed,omitzero"`   // civil date on which the lateral was flushed
	Note       string        `json:"note,omitzero"`
}

// FoundWire is one conductor at the controller.
type FoundWire struct {
	Order    int    `json:"order,omitzero"`    // in which it was noted, from 1
	Mark     string `json:"mark,omitzero"`     // its colour, or the tape that was put on it
	Terminal int    `json:"terminal,omitzero"` // the station it is on now; 0: none
	Common   bool   `json:"common,omitzero"`   // it is known to be the common
	Note     string `json:"note,omitzero"`
}

// Touch is a wire powered with the common on its terminal, and what ran.
type Touch struct {
	Order int    `json:"order,omitzero"` // from 1
	Wire  ID     `json:"wire"`
	Ran   []ID   `json:"ran,omitempty"` // zones that ran; absent: none did
	Note  string `json:"note,omitzero"`
}

// OhmReading is the resistance between two wires at the controller, everything else off
// them and the power off.
type OhmReading struct {
	Order int      `json:"order,omitzero"` // from 1
	From  ID       `json:"from"`
	To    ID       `json:"to"`
	Ohms  *float64 `json:"ohms,omitempty"` // absent: the meter showed an open circuit
}

// Audit is one catch-can test.
type Audit struct {
	Name        string          `json:"name,omitzero"`
	On          string          `json:"on,omitzero"`             // civil date
	Area        ID              `json:"area,omitzero"`           // it was made on; it may be gone
	Runs        map[ID]float64  `json:"runs,omitempty"`          // minutes each zone ran, by the zone; it may be gone
	ThroatIn2   float64         `json:"throat_in2,omitzero"`     // opening of a can
	Scale       string          `json:"scale,omitzero"`          // volume: catches in ml | depth: cans are marked in inches; absent: volume
	WindMPH     *units.MPH      `json:"wind_mph,omitempty"`      // while they caught; absent: not said
	WindFromDeg *units.Degrees  `json:"wind_from_deg,omitempty"` // anticlockwise from the plan's east
	Cans        map[ID]CatchCan `json:"cans,omitempty"`
	Note        string          `json:"note,omitzero"`
}

// CatchCan is one can of an audit.
type CatchCan struct {
	X     units.Feet    `json:"x_ft"`
	Y     units.Feet    `json:"y_ft"`
	ML    *float64      `json:"catch_ml,omitempty"` // absent: not read yet
	Depth *units.Inches `json:"depth_in,omitempty"` // of a can marked in inches
	Note  string        `json:"note,omitzero"`      // tipped, under a shrub …; a can with Out set is left out of the sums
	Out   bool          `json:"left_out,omitzero"`
}

// What may be wrong with a head, as HeadState.Faults has it.
const (
	Tilted      = "tilted"
	Sunk        = "sunk"         // its top stands below the ground or the grass
	Blocked     = "blocked"      // nozzle or filter
	Worn        = "worn"         // nozzle or seal
	Leaking     = "leaking"      // round the stem, or from the body
	Stuck       = "stuck"        // it does not rise, fall or turn
	WrongNozzle = "wrong_nozzle" // not the one drawn, or unlike its zone's
	OffTarget   = "off_target"   // its arc is set wrong
	Hidden      = "hidden"       // a plant or a thing stands in its throw
)

// HeadFaults are the words of HeadState.Faults. The caller owns them.
func HeadFaults() []string { return slices.Clone(headFaults) }

// HeadState is how a head was found by somebody walking the yard.
type HeadState struct {
	SetOn      string         `json:"set_on,omitzero"`  // civil date on which it was set as drawn
	SeenOn     string         `json:"seen_on,omitzero"` // civil date of Faults
	Faults     []string       `json:"faults,omitempty"` // tilted | sunk | blocked | worn | leaking | stuck | wrong_nozzle | off_target | hidden
	TiltDeg    units.Degrees  `json:"tilt_deg,omitzero"`
	TiltToward *units.Degrees `json:"tilt_toward_deg,omitempty"` // the way its top leans
	Nozzle     string         `json:"nozzle,omitzero"`           // the nozzle seen in it, in words, where it is the wrong one
	Note       string         `json:"note,omitzero"`
}

// Built is where a thing was found to be, once measured in the ground. Its place in the
// plan is then the built one; Was is where it was drawn before.
type Built struct {
	On      string       `json:"on"`                // civil date
	Was     *Spot        `json:"was,omitempty"`     // absent: it is where it was drawn
	WasTo   *Spot        `json:"was_to,omitempty"`  // of a sleeve, its other end
	DepthIn units.Inches `json:"depth_in,omitzero"` // of its top, or of a pipe, under the ground
	Note    string       `json:"note,omitzero"`
}

// Photo is a photograph kept with the plan. The store holds it as a blob.
type Photo struct {
	SHA256   string      `json:"sha256"`
	WidthPx  int         `json:"width_px,omitzero"`
	HeightPx int         `json:"height_px,omitzero"`
	On       string      `json:"on,omitzero"`    // civil date it was taken
	About    Ref         `json:"about,omitzero"` // the thing it shows; it may be gone
	X        *units.Feet `json:"x_ft,omitempty"` // where it was taken, if that matters
	Y        *units.Feet `json:"y_ft,omitempty"`
	Caption  string      `json:"caption,omitzero"`
}
