package arrange

import (
	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Placed is one head of a layout.
type Placed struct {
	ID     plan.ID       `json:"id"` // in the plan once the layout is applied
	At     orb.Point     `json:"at"`
	Start  units.Degrees `json:"start_deg"`
	Sweep  units.Degrees `json:"sweep_deg"`
	Throw  units.Feet    `json:"throw_ft"`
	Turned bool          `json:"turned_down"` // the throw is less than the table's
	Nozzle plan.ID       `json:"nozzle"`
	Body   plan.ID       `json:"body"`
	Flow   units.GPM     `json:"flow_gpm"`
	Stays  bool          `json:"stays"` // was there, and is left as it is
}

// Past is water past the edge of an area on one surface.
type Past struct {
	Surface plan.ID     `json:"surface"` // area id, coverage.Undrawn or coverage.Outside
	Name    string      `json:"name"`
	Kind    plan.Kind   `json:"kind"`
	Share   units.Ratio `json:"share_of_flow"`
}

// Measures are what a layout comes to, re-read at a cell no head lines up with.
type Measures struct {
	Heads      int                 `json:"heads"`
	DU         units.Ratio         `json:"du_low_quarter"`
	CU         units.Ratio         `json:"cu"`
	FieldMean  units.Ratio         `json:"field_du_mean"`
	FieldP10   units.Ratio         `json:"field_du_p10"`
	Driest2    units.Ratio         `json:"driest_2_share"`
	Driest     *orb.Point          `json:"driest_at,omitempty"`
	Mean       units.InchesPerHour `json:"mean_in_per_h"`
	Flow       units.GPM           `json:"flow_gpm"`
	PastEdge   units.Ratio         `json:"past_edge_share"` // all of Past together
	Past       []Past              `json:"past_edge"`       // most first
	Settings   int                 `json:"settings"`        // distinct nozzle, arc and throw
	HeadToHead units.Ratio         `json:"head_to_head_share"`
	// Blamed is how many heads put more than a fifth of their own water on paving, on
	// a wall or off the lot: what findings name.
	Blamed int `json:"heads_astray,omitempty"`
	// Apart is how many heads stand farther than a throw from every other, where
	// neighbours are to face each other.
	Apart int `json:"heads_apart,omitempty"`
	// Doubled is how many heads stand on or beside another that throws the same way.
	Doubled int `json:"heads_doubled,omitempty"`
	// Minutes a week at peak, by the layout's mean rate and field estimate: what
	// the area needs of its valve's time.
	Minutes float64 `json:"minutes_a_week"`
}

// Layout is one way to set out the heads of one area.
type Layout struct {
	Area     plan.ID        `json:"area"`
	Family   catalog.Family `json:"family"`
	Tidy     bool           `json:"tidy"` // from equal intervals, not from a search
	Heads    []Placed       `json:"heads"`
	Measures Measures       `json:"measures"`
	Says     string         `json:"says"` // in a sentence
	Patch    plan.Patch     `json:"patch"`
}

// Answer is what can be offered for one area: layouts, the first the one to take
// first, or a sentence that says why there is none.
type Answer struct {
	Area    plan.ID  `json:"area"`
	Layouts []Layout `json:"layouts"`
	Why     string   `json:"why,omitempty"` // why there is none, or why they fall short
}

// Offer is a choice of one layout for every area: all that is asked for at once.
type Offer struct {
	Name  string     `json:"name"`  // "Neatest to stake"
	Says  string     `json:"says"`  // in a sentence
	Picks []Pick     `json:"picks"` // by area
	Total Measures   `json:"total"` // of all areas: least even, sums of heads, flow, minutes
	Patch plan.Patch `json:"patch"` // one step
	Label string     `json:"label"` // of that step
}

// Pick is a layout of an answer.
type Pick struct {
	Area   plan.ID `json:"area"`
	Layout int     `json:"layout"` // in its answer
}

// Proposal is what a search found: complete in itself whenever it is told.
type Proposal struct {
	Answers     []Answer `json:"answers"` // by area
	Offers      []Offer  `json:"offers"`  // three to five, the first to take first
	Evaluations int      `json:"evaluations"`
	Notes       []string `json:"notes"`
}

// Refusal says why nothing can be arranged, in the user's words.
type Refusal struct {
	At       plan.Ref // what is wrong, "" for the whole
	Sentence string
}

// Error returns the sentence.
func (r *Refusal) Error() string { return r.Sentence }

// Stage is how far a search has come.
type Stage struct {
	Done, Total int // evaluations
	Words       string
	// Best is what would be offered if it ended now; nil when that has not
	// changed since the stage before.
	Best *Proposal
}
