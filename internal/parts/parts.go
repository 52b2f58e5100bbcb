// Package parts counts what has to be bought, and remembers for every line what
// it came from. Only things whose status is new are counted.
package parts

import "evenfall/internal/plan"

// List is everything to buy, by zone and in total. Heads in no zone come under
// the zone id "" and are named "Not in a zone".
type List struct {
	Zones []ZoneList `json:"zones"` // by station, then id; "" last
	Total []Line     `json:"total"`
}

// ZoneList is what one zone takes.
type ZoneList struct {
	Zone    plan.ID `json:"zone"`
	Name    string  `json:"name"`
	Station int     `json:"station"` // 0: not given yet
	Lines   []Line  `json:"lines"`
}

// Line is one item with its count.
type Line struct {
	Group string     `json:"group"` // body | nozzle | swing joint | valve | flag
	Item  string     `json:"item"`  // as it is asked for at the counter
	Unit  string     `json:"unit"`  // each
	Count int        `json:"count"`
	From  []plan.Ref `json:"from"` // the things it was counted from, sorted
	Rule  string     `json:"rule"` // how the count follows from them, in words
}
