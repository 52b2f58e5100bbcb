// Package wire reckons the low-voltage wiring of a plan: conductors, gauges by the
// drop at inrush, splices and cable. Mains wiring is an electrician's.
package wire

import (
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// Wiring is how the valves and sensors of a plan are wired.
type Wiring struct {
	Cable     string    // single | multi
	Runs      []Run     // by station
	Sensors   []Run     // of two conductors each
	Stretches []Stretch // by segment of the digs
	Cables    []Cable   // what is bought
	Splices   []Splice  // by box
	Common    int       // AWG
	Spares    int       // conductors, to the farthest box
	Used      int       // stations
	Says      string    // all of it in one line, where the thinnest wire does
	Drops     bool      // the drop decided a gauge, so the sum should be shown
}

// Run is the wire of one valve, or of one sensor.
type Run struct {
	To      plan.Ref
	Station int
	Known   bool       // there is a way
	Length  units.Feet // one way along the ground, with rise and slack
	Hot     int        // AWG
	Common  int        // AWG
	Drop    float64    // volts, there and back, at inrush
	Volts   float64    // at the valve
	Most    units.Feet // one way that these gauges allow
	Sum     string     // the sum in words and figures
}

// Stretch is what lies in one segment of a trench.
type Stretch struct {
	Segment    int
	Conductors int  // hot, common and spares
	Conduit    bool // under paving in its sleeve, or up a wall
}

// Cable is wire to be bought.
type Cable struct {
	AWG        int
	Conductors int        // of one cable; 1: single conductors
	Colour     string     // of a single conductor: white for the common
	Length     units.Feet // with slack, coils and waste
	For        []plan.Ref
	Why        string
}

// Splice is the joined wires of one box.
type Splice struct {
	Box        int // of trench.Digs.Boxes
	Connectors int // waterproof ones
	Wires      int // in all of them
}

// Of reckons the wiring of p along its digs.
func Of(p *plan.Plan, digs *trench.Digs) *Wiring { return &Wiring{} }

// Check holds the wiring against the rules of the trade.
func Check(p *plan.Plan, digs *trench.Digs, w *Wiring) []plan.Finding { return nil }
