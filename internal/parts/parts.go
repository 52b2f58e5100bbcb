// Package parts counts what has to be bought, and remembers for every line what
// it came from. Only things whose status is new are counted.
package parts

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// List is everything to buy, in lists whose lines add up to the total, line by line.
type List struct {
	Zones []ZoneList `json:"zones"` // in the order of ListKind; zones by station, then id
	Total []Line     `json:"total"`
	Scope string     `json:"scope"` // what is counted and what is not, in words
}

// ListKind is what a list is for.
type ListKind string

// The lists, in the order they are printed.
const (
	AtConnection ListKind = "connection" // what stands between the water supply and the main
	OnMain       ListKind = "main"       // the main with its valve boxes and manifolds
	OfZone       ListKind = "zone"       // one zone's
	Electrical   ListKind = "electrical" // controller, sensors, wire
	WholeJob     ListKind = "job"        // spares and what is used up
	InNoZone     ListKind = "loose"      // heads that no zone takes yet
)

// ZoneList is what one zone takes, or the main, or another part of the job.
type ZoneList struct {
	Kind    ListKind `json:"list"`
	Zone    plan.ID  `json:"zone"` // "" but for a zone's
	Name    string   `json:"name"`
	Station int      `json:"station"` // 0: not given yet
	Lines   []Line   `json:"lines"`
}

// Line is one item with its count. What is measured (pipe, wire, gravel, cement) has
// its amount rounded up to whole units on each list, so that the lists add up to the
// total; how many packs of it are bought is said of the total alone.
type Line struct {
	Group  string     `json:"group"` // body | nozzle | swing joint | check valve | valve | box | pipe | fitting | sleeve | backflow | supply | frost | controller | sensor | wire | used up | flag
	Item   string     `json:"item"`  // as it is asked for at the counter
	Unit   string     `json:"unit"`  // each | ft | m | lb | kg | joint: what Count counts
	Count  int        `json:"count"`
	Length units.Feet `json:"length_ft,omitzero"` // of pipe, sleeves and wire, before it was rounded up
	Needed int        `json:"needed,omitzero"`    // in total, of what is measured: Count with what is added for waste
	Sold   string     `json:"sold,omitzero"`      // in total, as it is sold: "5 sticks of 20 ft"
	Pack   *Pack      `json:"pack,omitempty"`     // the same, for sums
	From   []plan.Ref `json:"from"`               // the things it was counted from, sorted; one that takes two pieces is there twice
	Rule   string     `json:"rule"`               // how the count follows from them, in words
}

// Pack is how many of a pack are bought.
type Pack struct {
	Count int     `json:"count"`
	Unit  string  `json:"unit"` // stick | coil | roll | bag | pint | can | length: what a price is for
	Of    float64 `json:"of"`   // of the line's unit, in one
	Size  string  `json:"size"` // the same in words: "20 ft"; "" where the pack says it: a can
}
