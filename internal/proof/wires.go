package proof

import (
	"evenfall/internal/plan"
	"evenfall/internal/wire"
)

// WireMap is what is known of the conductors at the controller, and what to do next.
type WireMap struct {
	Says      string          // how far it is, a sentence
	Next      *WireStep       // nil: all is found, or there is nothing to go on
	Wires     []WireAt        // in the order they were noted
	Terminals []TerminalEntry // the map: the common first, then by station
	Warnings  []string        // sentences, the gravest first
	Caution   string          // stands wherever any of this is shown
	Zones     int             // that stand in the plan
	Found     int             // of them, those whose wire is known
	// Touches and Readings are how many are still needed at most, following Next, if
	// nothing is at fault. While the common is not known, a reading that one coil could
	// show as well as two in line takes another one, so that there may be more.
	Touches, Readings int
}

// WireStep is what to do next.
type WireStep struct {
	Kind     string  // StepNote | StepRead | StepTouch
	From, To plan.ID // of a reading
	Wire     plan.ID // to be powered
	Says     string
}

// The kinds of WireStep.
const (
	StepNote  = "note"  // put in the wires first
	StepRead  = "read"  // the resistance between From and To
	StepTouch = "touch" // power Wire, and see which zone runs
)

// WireAt is a conductor and what it was found to be.
type WireAt struct {
	ID    plan.ID
	Mark  string    // its colour or tape; "wire 3" where none was given
	Kind  string    // one of the Wire… constants
	Zones []plan.ID // that ran by it, or are left for it
	Is    string    // in words: "Zone 3, Side lawn", "Common", "Not found yet"
	Left  bool      // nothing shows it but that everything else is found
	Goes  string    // the terminal it belongs on: "Common", "3"; "" none
	Moves string    // "Move from 2 to 3."; "" where it is right, or on none
	Warn  string    // what is odd about it; "" nothing
	Ohms  *float64  // to the common; nil not read, or open
	Open  bool      // it was read, and the meter showed no path
}

// Zone is the zone of a wire that is of one; "" else.
func (w WireAt) Zone() plan.ID {
	if w.Kind == WireZone && len(w.Zones) == 1 {
		return w.Zones[0]
	}
	return ""
}

// The kinds of WireAt.
const (
	WireZone    = "zone"
	WireCommon  = "common"
	WireMaster  = "master"  // of the master valve
	WireSpare   = "spare"   // leads to no valve: spare or broken
	WireSeveral = "several" // valves of several stations
	WireShorted = "shorted"
	WireUnknown = "unknown"
)

// TerminalEntry is a line of the terminal map.
type TerminalEntry struct {
	Terminal string    // "Common", "Master valve", "3"; "–" of a zone without station
	Station  int       // 0 for none
	Zones    []plan.ID // on it
	Zone     string    // in words
	Wires    []plan.ID // that belong on it
	Wire     string    // their marks; "" not found
	Ohms     string    // of its coil with its wire, "27 Ω"; "" not read
	Warn     string
}

// wireCaution stands wherever wires are worked on (common practice, from memory).
const wireCaution = "Low-voltage side only: pull the controller's transformer plug, or where it is wired in switch its circuit off, before you touch or move a wire and before you read a resistance. What is behind a mains cover, or wired to the mains, is a licensed electrician's. Power one wire at a time, and none that reads short."

// Wires tells what is known of the wires at the controller and what to do next: the
// fewest touches, as each is a walk to see what runs, then the fewest readings, as
// long as nothing is at fault.
func Wires(p *plan.Plan) WireMap { return WiresAlong(p, nil) }

// WiresAlong is Wires where it is known how the wires lie: what a valve reads is then held
// to the length and gauge of its own wire. w may be nil.
func WiresAlong(p *plan.Plan, w *wire.Wiring) WireMap {
	f := gatherWires(p)
	f.lengths(w)
	f.conclude()
	m := WireMap{Caution: wireCaution, Zones: len(f.zones)}
	for i := range f.ids {
		m.Wires = append(m.Wires, f.wire(i))
	}
	f.conflicts(m.Wires)
	m.Found = len(f.zones) - len(f.unfound)
	m.Next, m.Touches, m.Readings = f.step()
	m.Terminals = f.terminals(m.Wires)
	m.Warnings = f.warnings(m.Wires)
	m.Says = f.says(&m)
	return m
}
