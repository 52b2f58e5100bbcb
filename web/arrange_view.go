package web

import (
	"encoding/json"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The questions, all GET, all with rev=N (412 when another revision is stored) and
// all taking lines (see Site.job):
//
//	/api/plans/{id}/arrange?areas=a1,a2&families=spray,stream&nozzles=s12,s15
//	   &hard=2&bare=5&other=5 (percent of the flow)&angle=15 (degrees)&throw=1 (feet)
//	   &facing=1&effort=usual (quick, usual, thorough)&seed=1
//	/api/plans/{id}/arrange/options (no lines: it answers at once)
//	/api/plans/{id}/improve?areas=…&families=…&nozzles=…&hard=… (as above)
//	/api/plans/{id}/group?areas=a1,a2&limit=12.5 (gpm)&days=3&hours=8&need=1.4 (inches)
//	   &effort=usual&seed=1
//	/api/plans/{id}/route?zones=z1,z2&wire=yes&valves=as_placed (or weighed)&seed=1
//
// Every parameter may be left out; then the usual value holds.

// ArrangeView is what a search for layouts found, in words: the value of the last
// line of GET /plans/{id}/arrange, and of every line of kind "best" before it. Each
// is complete in itself, so that a page that calls the search off keeps the one it
// was told last. When nothing can be arranged Offered is false, Says tells why, and
// the lists are empty.
//
// Figures are strings in the plan's units; bare numbers are for sorting and for
// drawing, in feet and degrees as in the plan.
type ArrangeView struct {
	Rev     int64        `json:"rev"` // of the stored plan it was made from
	Offered bool         `json:"offered"`
	Says    string       `json:"says"`        // in a sentence: what is offered, or why nothing is
	At      plan.Ref     `json:"at,omitzero"` // what stands in the way, of a refusal
	Whole   bool         `json:"whole"`       // the search has come to its end; false on "best" lines
	Columns []Column     `json:"columns"`     // of every list of Figures below, in its order
	Offers  []OfferView  `json:"offers"`      // three to five, the one to take first is first
	Answers []AnswerView `json:"answers"`     // by area
	Notes   []string     `json:"notes"`
	Caution string       `json:"caution"`
	// Evaluations is how many layouts were weighed, in words.
	Evaluations string `json:"evaluations"`
}

// Column is a measure by which layouts are compared.
type Column struct {
	ID    string `json:"id"`    // heads, evenness, field, field_low, driest, past, hard, flow, settings, minutes
	Label string `json:"label"` // "Field estimate, 1 in 10 comes out under"
	Short string `json:"short"` // the same for a narrow column
	Best  string `json:"best"`  // what is better: "most", "least"
}

// Figure is one measure in words, with what it is sorted by.
type Figure struct {
	Text string  `json:"text"`
	Sort float64 `json:"sort"`
	Rank string  `json:"rank,omitempty"` // good | fair | poor, where it has one
}

// OfferView is one layout for every area, all taken by one step.
type OfferView struct {
	Name    string          `json:"name"`
	Says    string          `json:"says"`
	Picks   []PickView      `json:"picks"`
	Figures []Figure        `json:"figures"` // by column, of all areas together
	Patch   json.RawMessage `json:"patch"`
	Label   string          `json:"label"`
}

// PickView is a layout of an answer.
type PickView struct {
	Area   plan.ID `json:"area"`
	Layout int     `json:"layout"` // index into the Layouts of its answer
}

// AnswerView is what can be offered for one area.
type AnswerView struct {
	Area    plan.ID        `json:"area"`
	Name    string         `json:"name"`
	Rings   [][][2]float64 `json:"rings"` // outline and holes, for a thumbnail
	Layouts []LayoutView   `json:"layouts"`
	Why     string         `json:"why,omitempty"` // why there is none, or why they fall short
}

// LayoutView is one way to set out the heads of one area.
type LayoutView struct {
	Family  string          `json:"family"` // id
	Kind    string          `json:"kind"`   // family in words: "sprays"
	Tidy    bool            `json:"tidy"`
	Says    string          `json:"says"`
	Heads   []StandView     `json:"heads"`
	Figures []Figure        `json:"figures"`       // by column
	Past    []LabelledText  `json:"past"`          // past the edge by surface, most first
	Map     *MapView        `json:"map,omitempty"` // on "best" lines some come later
	Patch   json.RawMessage `json:"patch"`         // takes this layout alone; patches of several areas go together
	Label   string          `json:"label"`
}

// StandView is a head of a layout, to be drawn.
type StandView struct {
	ID     plan.ID    `json:"id"` // in the plan once the layout is taken
	X      float64    `json:"x_ft"`
	Y      float64    `json:"y_ft"`
	Start  float64    `json:"start_deg"`
	Sweep  float64    `json:"sweep_deg"` // 0 for strips
	Throw  float64    `json:"throw_ft"`
	Strip  *StripView `json:"strip,omitempty"`
	Stays  bool       `json:"stays,omitempty"` // was there, and is left as it is
	Nozzle plan.ID    `json:"nozzle"`
	Says   string     `json:"says"` // "Spray 12 half, 180° at 11' 0\", turned down"
}

// StripView is the rectangle of a strip nozzle, seen along its start_deg.
type StripView struct {
	Ahead bool    `json:"ahead"`
	Back  bool    `json:"back"`
	Left  float64 `json:"left_ft"`
	Right float64 `json:"right_ft"`
}

// MapView is a small map of where the water falls. Bytes are read as those of the
// board's map.
type MapView struct {
	FrameView
	Cells []byte `json:"cells"` // southernmost row first; base64 in JSON
}

// ArrangeOptions is what a page needs before it asks for layouts: GET
// /plans/{id}/arrange/options.
type ArrangeOptions struct {
	Rev      int64           `json:"rev"`
	Areas    []ArrangeArea   `json:"areas"`
	Families []StockFamily   `json:"families"` // by family, widest throw last
	Limits   []PastLimit     `json:"limits"`   // what may be wetted past the edge
	Angles   []ChoiceView    `json:"angles"`   // arcs are whole steps of
	Throws   []ChoiceView    `json:"throws"`   // turned-down throws are whole steps of
	Efforts  []ChoiceView    `json:"efforts"`  // how long to seek
	Seed     uint64          `json:"seed"`
	SeedMost uint64          `json:"seed_most"`
	Facing   bool            `json:"facing"` // usual: neighbours count when they throw towards a head
	Rules    []LocalRuleView `json:"rules"`
	Group    GroupOptions    `json:"group"`
}

// ArrangeArea is a planting area, and whether heads can be arranged on it.
type ArrangeArea struct {
	ID       plan.ID `json:"id"`
	Name     string  `json:"name"`
	Cover    string  `json:"cover"`              // "turf"
	Size     string  `json:"size"`               // "" of one that cannot be arranged
	Width    string  `json:"width"`              // its usual width: "about 22 ft wide"
	Family   string  `json:"family,omitempty"`   // id of the one that is suggested
	Suggests string  `json:"suggests,omitempty"` // "Sprays, by its width"
	Heads    int     `json:"heads"`              // that stand for it and would make room
	Stay     int     `json:"stay"`               // locked or existing: they stay
	Says     string  `json:"says"`               // "4 heads make room, 2 stay"
	Can      bool    `json:"can"`
	Why      string  `json:"why,omitempty"` // why it cannot
}

// StockFamily is the nozzles of one family that may be used.
type StockFamily struct {
	ID      string        `json:"id"`
	Name    string        `json:"name"`
	Says    string        `json:"says"` // "5 to 15 ft, turns of one rate"
	Nozzles []StockNozzle `json:"nozzles"`
}

// StockNozzle is one nozzle of the stock.
type StockNozzle struct {
	ID   plan.ID `json:"id"`
	Name string  `json:"name"`
	Says string  `json:"says"` // throw, arc and rate
	Own  bool    `json:"own"`  // of the plan, not of the catalogue alone
	Used int     `json:"used"` // heads of the plan that have it

	throw units.Feet // to put them in order
}

// PastLimit is a share of the flow that may fall past the edge.
type PastLimit struct {
	ID    string  `json:"id"`    // the parameter: hard, bare, other
	Words string  `json:"words"` // "Paving, buildings, off the lot"
	Usual float64 `json:"usual"` // percent
	Most  float64 `json:"most"`  // percent
}

// ChoiceView is one value of a parameter.
type ChoiceView struct {
	Value string `json:"value"` // as sent
	Words string `json:"words"`
	Usual bool   `json:"usual,omitempty"`
}

// LocalRuleView is a row of the table of local rules. A page edits
// /options/local_rules/{id} of the plan, {"feet","source"}; taking the member away
// brings the usual value back.
type LocalRuleView struct {
	ID     plan.RuleID `json:"id"`
	Words  string      `json:"words"`
	Value  string      `json:"value"` // in the plan's units: 4"
	Feet   float64     `json:"feet"`
	Usual  string      `json:"usual"`
	Source string      `json:"source"` // who says so
	Edited bool        `json:"edited"` // the plan's own
}
