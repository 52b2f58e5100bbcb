package web

import (
	"encoding/json"

	"evenfall/internal/plan"
)

// ImproveView is the fewest changes that mend a layout: the value of GET
// /plans/{id}/improve. Without any Offered is false and Says tells why.
type ImproveView struct {
	Rev     int64      `json:"rev"` // of the stored plan it was made from
	Offered bool       `json:"offered"`
	Says    string     `json:"says"`
	At      plan.Ref   `json:"at,omitzero"`
	Mends   []MendView `json:"mends"` // in the order to take them
	Left    []string   `json:"left"`  // what no such change cures
	Caution string     `json:"caution"`
	// Evaluations is how many changes were weighed, in words.
	Evaluations string `json:"evaluations"`
}

// MendView is one change. Its patch is of the plan with all mends before it taken;
// one that is passed over ends the list: ask again.
type MendView struct {
	Kind     string          `json:"kind"` // arc | throw | nozzle | move | add | remove
	Heads    []plan.ID       `json:"heads"`
	Area     plan.ID         `json:"area"`
	AreaName string          `json:"area_name"`
	Says     string          `json:"says"`
	Why      string          `json:"why"`
	X        float64         `json:"x_ft"`
	Y        float64         `json:"y_ft"`
	Readings []BeforeAfter   `json:"readings"` // of its area
	From     []StandView     `json:"from"`     // empty for a head that is added
	To       []StandView     `json:"to"`       // empty for one that is removed
	Patch    json.RawMessage `json:"patch"`
	Label    string          `json:"label"`
}

// BeforeAfter is one reading before and after a change.
type BeforeAfter struct {
	ID     string `json:"id"` // evenness, field_low, dry, hard, rate
	Label  string `json:"label"`
	Before string `json:"before"`
	After  string `json:"after"`
	Change string `json:"change"` // better | worse | same, as shown
}
