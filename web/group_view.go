package web

import (
	"encoding/json"

	"evenfall/internal/plan"
)

// GroupView is an offer of which heads share a valve: the value of GET
// /plans/{id}/group. Without one Offered is false and Says tells why.
type GroupView struct {
	Rev     int64           `json:"rev"` // of the stored plan it was made from
	Offered bool            `json:"offered"`
	Says    string          `json:"says"`
	At      plan.Ref        `json:"at,omitzero"`
	Patch   json.RawMessage `json:"patch,omitempty"` // none: the plan is grouped so already
	Label   string          `json:"label"`
	Zones   []GroupZone     `json:"zones"` // by station
	// Bound says how few valves there can be, and whether that is proved.
	Bound   string   `json:"bound"`
	Proved  bool     `json:"proved"`
	Limit   string   `json:"limit"`   // the most a zone may take, in words with its reason
	Minutes string   `json:"minutes"` // a week at peak, stations in turn
	Fits    bool     `json:"fits"`    // the time there is to water in
	Window  string   `json:"window"`  // the assumption and the sum
	Notes   []string `json:"notes"`
	Caution string   `json:"caution"`
	// Evaluations is how many groupings were weighed, in words.
	Evaluations string `json:"evaluations"`
}

// GroupZone is one zone as offered.
type GroupZone struct {
	Zone     plan.ID   `json:"zone"` // in the plan once the offer is taken
	Name     string    `json:"name"`
	Station  int       `json:"station"`
	Heads    []plan.ID `json:"heads"` // in walking order
	Count    string    `json:"count"` // "12 heads"
	Areas    string    `json:"areas"`
	Kind     string    `json:"kind"`  // what its heads have in common
	Flow     string    `json:"flow"`  // "11.4 of 14.0 gpm"
	Share    float64   `json:"share"` // of the limit, for a bar
	Rate     string    `json:"rate"`
	Minutes  string    `json:"minutes"`
	X        float64   `json:"x_ft"` // of its valve
	Y        float64   `json:"y_ft"`
	Manifold int       `json:"manifold"` // those of one number share a box
	Where    string    `json:"where"`
	Locked   bool      `json:"locked"`
}

// GroupOptions is what a page needs before it asks for a grouping.
type GroupOptions struct {
	Limit  string  `json:"limit"`   // the usual one, in words
	GPM    float64 `json:"gpm"`     // likewise
	Days   int     `json:"days"`    // a week there is to water in
	Hours  float64 `json:"hours"`   // a day
	NeedIn float64 `json:"need_in"` // a week at peak, of turf
	Need   string  `json:"need"`
}
