package zones

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Options are what the user asks for.
type Options struct {
	Areas []plan.ID // regroup the heads of these areas only; none: all
	// Limit is the most that a zone may take; 0: the design flow of the supply
	// less the margin.
	Limit units.GPM
	// Window is what the zones must be watered in; see UsualWindow.
	Window Window
	Seed   uint64
	Effort int // evaluations; 0: the usual
}

// Window is the time there is to water in, and the need at peak.
type Window struct {
	Days  int          // a week
	Hours float64      // a day
	Need  units.Inches // a week at peak, of turf
}

// UsualWindow is three nights a week of eight hours and 1.4 in of need: an
// assumption until the watering plan knows the climate.
func UsualWindow() Window { return Window{Days: 3, Hours: 8, Need: 1.4} }

// Group is one zone as offered.
type Group struct {
	Zone     plan.ID             `json:"zone"` // in the plan once the offer is applied
	Name     string              `json:"name"`
	Station  int                 `json:"station"`
	Heads    []plan.ID           `json:"heads"` // in walking order
	Areas    []plan.ID           `json:"areas"`
	Kind     string              `json:"kind"` // its key in words: "turf, sun, clay loam, sprays"
	Flow     units.GPM           `json:"flow_gpm"`
	Rate     units.InchesPerHour `json:"rate_in_per_h"` // mean over its areas, of all heads that stand for them
	Minutes  float64             `json:"minutes_a_week"`
	Valve    orb.Point           `json:"valve_at"`
	Manifold int                 `json:"manifold"`    // those with the same number share a box; 0: no place was found
	Where    string              `json:"valve_where"` // the place in words, and why there
	Locked   bool                `json:"locked"`      // was there, and is left as it is
}

// Bound is the least number of valves that any grouping needs, and why.
type Bound struct {
	Valves int    `json:"valves"`
	Proved bool   `json:"proved"` // no grouping has fewer than the one offered
	Says   string `json:"says"`
}

// Offer is a grouping.
type Offer struct {
	Patch       plan.Patch `json:"patch"`
	Says        string     `json:"says"`
	Label       string     `json:"label"`
	Groups      []Group    `json:"groups"` // by station
	Bound       Bound      `json:"bound"`
	Limit       units.GPM  `json:"limit_gpm"`
	Minutes     float64    `json:"minutes_a_week"` // stations in turn
	Fits        bool       `json:"fits_window"`
	Window      string     `json:"window_says"`
	Notes       []string   `json:"notes"`
	Evaluations int        `json:"evaluations"`
}

// Refusal says why heads cannot be grouped, in the user's words.
type Refusal struct {
	At       plan.Ref
	Sentence string
}

// Error returns the sentence.
func (r *Refusal) Error() string { return r.Sentence }
