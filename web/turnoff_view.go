package web

import (
	"encoding/json"

	"evenfall/internal/plan"
)

// TurnOffView is how heads that stand for other ground are kept off one area, and what
// that does to their own: the value of GET /api/plans/{id}/turnoff?area=ID. Where it is
// not worth it, or there is nothing to turn off, Offered is false, there is no patch and
// Says tells why; rows and changes then tell of the best that was found, if any.
type TurnOffView struct {
	Rev      int64        `json:"rev"` // of the stored plan it was made from
	Offered  bool         `json:"offered"`
	Says     string       `json:"says"` // the verdict, in a sentence or two
	At       plan.Ref     `json:"at,omitzero"`
	Area     plan.ID      `json:"area"`
	AreaName string       `json:"area_name"`
	Changes  []TurnChange `json:"changes"` // one a head, by id
	Rows     []TurnRow    `json:"rows"`    // the area first, then the ground of the heads
	Notes    []string     `json:"notes"`   // what stays, what is to be seen to by hand
	Caution  string       `json:"caution"`
	// Evaluations is how many changes were weighed, in words.
	Evaluations string          `json:"evaluations"`
	Label       string          `json:"label"` // of the step
	Patch       json.RawMessage `json:"patch,omitempty"`
}

// TurnChange is what is changed of one head.
type TurnChange struct {
	Head plan.ID   `json:"head"`
	Says string    `json:"says"` // "Turn the left edge of the arc of head 1-4 in by 30°, …"
	From StandView `json:"from"`
	To   StandView `json:"to"`
}

// TurnRow is what one area reads before and after.
type TurnRow struct {
	Area     plan.ID       `json:"area"`
	Name     string        `json:"name"`
	Readings []BeforeAfter `json:"readings"` // others, own, evenness, dry, rate: those that matter to it
}
