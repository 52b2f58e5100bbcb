// Package parts counts what has to be bought, and remembers for every line what
// it came from. Only things whose status is new are counted.
package parts

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// List is everything to buy: the main with what stands at the supply, each zone, and
// in total. Heads in no zone come under the zone id "" and are named "Not in a zone",
// and so do controller and sensors.
type List struct {
	Zones []ZoneList `json:"zones"` // the main first, then by station, then id; "" last
	Total []Line     `json:"total"`
	Scope string     `json:"scope"` // what is counted and what is not, in words
}

// ZoneList is what one zone takes, or the main.
type ZoneList struct {
	Zone    plan.ID `json:"zone"`
	Main    bool    `json:"main,omitzero"` // the main and the supply; zone is ""
	Name    string  `json:"name"`
	Station int     `json:"station"` // 0: not given yet
	Lines   []Line  `json:"lines"`
}

// Line is one item with its count. Pipe is counted by length: each list's is rounded
// up to whole feet or metres, so that the lists add up to the total.
type Line struct {
	Group  string     `json:"group"` // body | nozzle | swing joint | valve | pipe | fitting | backflow | supply | frost | controller | sensor | flag
	Item   string     `json:"item"`  // as it is asked for at the counter
	Unit   string     `json:"unit"`  // each | ft | m
	Count  int        `json:"count"`
	Length units.Feet `json:"length_ft,omitzero"` // of pipe, as drawn
	Sold   string     `json:"sold,omitzero"`      // of pipe in total, as it is sold: "5 sticks of 20 ft"
	From   []plan.Ref `json:"from"`               // the things it was counted from, sorted; one that takes two is there twice
	Rule   string     `json:"rule"`               // how the count follows from them, in words
}
