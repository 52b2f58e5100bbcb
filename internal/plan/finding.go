package plan

import "github.com/paulmach/orb"

// Rank is how much a finding matters.
type Rank string

// The ranks, worst first.
const (
	Stop   Rank = "stop" // wrong to build: fix it
	Mend   Rank = "mend" // worth fixing before buying
	Notice Rank = "note" // know it
)

// Ref points at a thing of the plan: collection and id, as "heads/h7".
type Ref string

// Finding is a weakness of the user's plan: data, not an error. The static
// words (title, why, what to do, source, row) live in the table Rules, keyed by
// Code; only what differs from case to case is here.
type Finding struct {
	Code     string             `json:"code"`
	Rank     Rank               `json:"rank"`
	Title    string             `json:"title"`    // few words, names the mistake
	Sentence string             `json:"sentence"` // what and where, with the numbers, in the plan's units
	Why      string             `json:"why"`
	Do       string             `json:"do"`
	Source   string             `json:"source"`
	About    []Ref              `json:"about,omitempty"` // things concerned, sorted
	At       *orb.Point         `json:"at,omitempty"`    // where to look
	Values   map[string]float64 `json:"values,omitempty"`
	Accepted *Accepted          `json:"accepted,omitempty"`
}
