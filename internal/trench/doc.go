// Package trench reads what is dug for a plan: which pipes and wires share a
// trench, how deep it goes, what it crosses and what lies in a sleeve, and where
// boxes are set. On request it proposes the routes themselves. It never reads the
// size of a pipe to choose a way, so that sizing pipes moves none.
package trench

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Digs is everything that is dug or bored for a plan, as its pipes and wires are
// drawn. All lists are in an order of their own that does not change with the plan's ids
// going by another map.
type Digs struct {
	Segments  []Segment  // straight stretches, each between two places where something changes
	Crossings []Crossing // of paving
	Boxes     []Box
	Ways      []Way // of wire, to the valves by station and then to the sensors
	Totals    Totals
}

// Ground is what a stretch lies in.
type Ground string

// The grounds.
const (
	Lawn     Ground = "lawn"
	Bed      Ground = "bed"
	Loose    Ground = "ground" // gravel, mulch, deck
	Roots    Ground = "roots"  // within a root zone
	Street   Ground = "street" // right of way
	Paved    Ground = "paving"
	Indoors  Ground = "building" // in or through a building: no trench
	NotToDig Ground = "no_dig"
	Wet      Ground = "water"
	Undrawn  Ground = "undrawn" // inside the lot, or where no lot is drawn
	OffLot   Ground = "off_lot"
)

// Segment is one straight stretch. Those of one pipe are as long as the pipe together;
// where it lies in another's trench they lie along that one.
type Segment struct {
	From, To orb.Point
	Length   units.Feet
	Ground   Ground
	Area     plan.ID      // whose ground it is, or that is not to be dug; "" undrawn
	Tree     plan.ID      // whose root zone it lies in
	Pipes    []plan.ID    // that lie in it, by id; standing ones
	Wires    []plan.ID    // wire runs drawn along it, by id
	Ways     []int        // of Digs.Ways that go through it
	Crossing int          // of Digs.Crossings it is part of; -1: none
	Cover    units.Inches // over the top of what lies deepest
	Width    units.Inches
	Main     bool // a pipe under constant pressure lies in it
	New      bool // it is to be dug: something in it is new
	Dug      bool // a trench; else in a sleeve, a building, or there already
}

// Crossing is one way under paving, for all that goes through side by side.
type Crossing struct {
	Area     plan.ID   // of the paving
	From, To orb.Point // where it meets its edges
	Length   units.Feet
	Pipes    []plan.ID
	Ways     []int        // of wire
	Sleeves  []plan.ID    // drawn that hold it
	Needs    []Need       // what sleeves it takes, drawn or not
	Cover    units.Inches // over the sleeves
	Method   string       // as drawn, or what suits: before_paving | water_bore | saw_cut | other_bore
	New      bool         // something in it is new, and not all of its sleeves are there
}

// Need is one sleeve that a crossing takes.
type Need struct {
	Carries string       // pipe | wire | spare
	Nominal units.Inches // 0: the pipe in it is not sized yet
	Sleeve  plan.ID      // the drawn one that serves; "" none
	Why     string       // in words
}

// BoxKind is how large a box is.
type BoxKind string

// The boxes (common practice: how many valves each takes).
const (
	RoundBox    BoxKind = "round_10" // 1 valve
	StandardBox BoxKind = "standard" // 2 or 3
	JumboBox    BoxKind = "jumbo"    // 4 or 5
	SpliceBox   BoxKind = "splice_6" // splices only
)

// Box is one box in the ground.
type Box struct {
	At     orb.Point
	Kind   BoxKind
	Zones  []plan.ID // whose valves it holds, by station
	Master bool      // it holds the master valve
	Drawn  plan.ID   // among the plan's boxes; "" for those of valves
	New    bool
}

// Way is the way of one thing's wire from the controller.
type Way struct {
	To       plan.Ref   // zones/z1, sensors/rain, supply for a master valve
	Segments []int      // of Digs.Segments, from the controller on
	Length   units.Feet // along the ground; no slack, no rise
	Box      int        // of Digs.Boxes it ends in; -1: none
	Missing  string     // why there is no way, in words; "" when there is
	From     orb.Point  // where what is laid ends, when there is none
}

// Totals are lengths in feet of what is to be dug.
type Totals struct {
	Trench  units.Feet            // dug, new
	By      map[Ground]units.Feet // of it
	Sleeved units.Feet            // under paving, new
	Spoil   float64               // cubic yards dug out
}
