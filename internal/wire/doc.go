// Package wire reckons the low-voltage wiring of a plan: conductors, gauges by the
// drop at inrush, splices and cable. Mains wiring is an electrician's.
//
// Each valve has a conductor of its own from the controller and all share a
// common. Decoders on two wires, which longer systems are run by, are not
// reckoned yet; nothing here asks that a station be one conductor but hots in
// stretches and lines.
package wire

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The kinds of cable, as plan.Wiring has them.
const (
	Single = "single" // single conductors, laid as a bundle
	Multi  = "multi"  // several conductors in one jacket
)

// Wiring is how the valves and sensors of a plan are wired. What is there already
// (Run.New) is listed among the runs, and neither laid nor bought.
type Wiring struct {
	Cable     string    // Single | Multi; "" where nothing is laid
	Why       string    // this cable, a sentence
	Runs      []Run     // as trench.Digs.Ways: of zone valves by station, and of a master valve
	Sensors   []Run     // of two conductors each; wireless ones have none
	Stretches []Stretch // by segment of the digs; those where wire is laid
	Lines     []Line    // what has a common of its own; the one to the farthest box first
	Cables    []Cable   // what is bought
	Splices   []Splice  // by box
	Unboxed   []Unboxed // splices that no box holds
	Common    int       // AWG
	Spares    int       // conductors, to the farthest box
	Used      int       // stations
	Conduit   units.Feet
	Says      string // all of it in one line
	Drops     bool   // the thinnest wire does not do for all, so the sum should be shown
}

// Run is the wire of one valve, or of one sensor.
type Run struct {
	To      plan.Ref
	Station int
	New     bool       // to be laid
	Known   bool       // there is a way
	Missing string     // why there is none, in words
	Ground  units.Feet // along the ground; no slack
	Length  units.Feet // one way, as laid: see slack
	Detour  units.Feet // of its common past that length, to a box off its way
	Box     int        // of trench.Digs.Boxes it is spliced in; -1: none
	Hot     int        // AWG
	Common  int        // AWG
	Colours []string   // of its conductor, by the lines it goes through from the controller on
	Drop    float64    // volts, there and back, at inrush
	Volts   float64    // at the valve
	Most    units.Feet // one way that these gauges allow
	Sum     string     // the sum in words and figures
}

// Stretch is what is laid in one segment of a trench.
type Stretch struct {
	Segment    int
	Hots       int // one to each valve beyond
	Commons    int // more than one where lines lie side by side
	Spares     int
	Sensors    int  // conductors of sensors' leads
	Conductors int  // hots, commons and spares
	Conduit    bool // under paving in its sleeve
}

// Line is a common with what goes along with it: in single conductors the common
// alone, in a cable its hots and spares, too.
type Line struct {
	From     int // of trench.Digs.Boxes it starts in; AtController, AtFork
	To       int // the box it ends in; -1: none
	Segments []int
	Boxes    []int      // it comes through from the controller or its start on, To last
	Serves   []plan.Ref // valves it feeds, its branches' too
	Needs    int        // conductors: hots, the common, spares
	Sold     []int      // conductors of the cables that make it up; nil of single ones
	Length   units.Feet // as laid
	Detour   units.Feet // of its common to a box off its way, there and back, its parents' too
	Parent   int        // of Wiring.Lines, that it is spliced to; -1: none
	Opened   []int      // boxes it comes through that splices are made in
}

// Where lines start that start in no box.
const (
	AtController = -1
	AtFork       = -2 // of a cable, where no box stands
)

// Cable is wire to be bought.
type Cable struct {
	AWG        int
	Conductors int        // of one cable; 1: single conductors
	Colour     string     // of a single conductor: white for the common
	What       string     // hot | common | spare | cable | sensor
	Laid       units.Feet // with slack and coils
	Length     units.Feet // laid, and what is lost
	For        []plan.Ref
	Why        string
}

// Splice is the joined wires of one box.
type Splice struct {
	Box        int // of trench.Digs.Boxes
	Connectors int // waterproof ones
	Wires      int // in all of them
}

// Unboxed is a place where wires would be joined and no box stands: where a cable
// parts, or at a valve.
type Unboxed struct {
	At     orb.Point
	Serves []plan.Ref // valves beyond it, or the valve
	Joints int        // of two or three wires, which one connector takes
	Fork   bool       // of a cable
}
