// Package parts counts what has to be bought, and remembers for every line what
// it came from. Only things whose status is new are counted.
package parts

import "evenfall/internal/plan"

// List is everything to buy, by zone and in total. Heads in no zone come under
// the zone id "" and are named "Not in a zone", and so do controller and sensors.
type List struct {
	Zones []ZoneList `json:"zones"` // by station, then id; "" last
	Total []Line     `json:"total"`
	Scope string     `json:"scope"` // what is counted and what is not, in words: always Scope
}

// Scope says what the list counts and what it does not. It stands wherever the
// list does, since whoever shops by it must know what else to get. The backflow
// device is not counted: local code decides which, and often who sets it.
const Scope = "Counted here: heads, nozzles, swing joints, flags and valves, and the controller and sensors placed on the plan as new. " +
	"Not counted yet: pipe, fittings, wire, valve boxes, backflow device, and what areas without heads take."

// ZoneList is what one zone takes.
type ZoneList struct {
	Zone    plan.ID `json:"zone"`
	Name    string  `json:"name"`
	Station int     `json:"station"` // 0: not given yet
	Lines   []Line  `json:"lines"`
}

// Line is one item with its count.
type Line struct {
	Group string     `json:"group"` // body | nozzle | swing joint | valve | controller | sensor | flag
	Item  string     `json:"item"`  // as it is asked for at the counter
	Unit  string     `json:"unit"`  // each
	Count int        `json:"count"`
	From  []plan.Ref `json:"from"` // the things it was counted from, sorted
	Rule  string     `json:"rule"` // how the count follows from them, in words
}
