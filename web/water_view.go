package web

import (
	"encoding/json"

	"evenfall/internal/plan"
)

// WaterView is the watering plan in words, as the bench shows it: the value of GET
// /api/plans/{id}/water. When there is nothing to water Offered is false and Says tells why.
type WaterView struct {
	Rev     int64        `json:"rev"` // of the stored plan it was made from
	Offered bool         `json:"offered"`
	Says    string       `json:"says"`    // the verdict: what is keyed in at peak, when it ends, or that it does not fit
	Fits    bool         `json:"fits"`    // at peak
	Assumed []string     `json:"assumed"` // what the plan does not say, and what was taken for it
	Peak    int          `json:"peak"`    // of Months
	Months  []WaterMonth `json:"months"`  // January first; one alone, the week at peak, where the plan gives no climate
	Why     []string     `json:"why"`     // the limits that are not kept at peak
	Eases   []WaterEase  `json:"eases"`   // what would make it fit
	Areas   []WaterArea  `json:"areas"`
	Saved   string       `json:"saved"`  // against the one-zone sums, in a sentence
	Adjust  string       `json:"adjust"` // whether one percentage a month serves, in a sentence
	Caution string       `json:"caution"`
}

// WaterMonth is the program of a month.
type WaterMonth struct {
	Name     string         `json:"name"`
	Needed   bool           `json:"needed"` // false: nothing is to be watered
	Fits     bool           `json:"fits"`
	Says     string         `json:"says"`    // gallons a week, minutes, the percentage of the peak program
	Gallons  string         `json:"gallons"` // of the month
	Percent  string         `json:"percent"` // of the peak program; "" where none serves
	Programs []WaterProgram `json:"programs"`
}

// WaterProgram is what is keyed in under one letter.
type WaterProgram struct {
	Letter   string         `json:"letter"`
	Days     string         `json:"days"`   // "Monday, Wednesday and Friday"
	Starts   string         `json:"starts"` // "22:00 and 00:40"
	Ends     string         `json:"ends"`
	Stations []WaterStation `json:"stations"`
}

// WaterStation is one line of a program.
type WaterStation struct {
	Zone    plan.ID `json:"zone"`
	Station string  `json:"station"`
	Name    string  `json:"name"`
	Minutes string  `json:"minutes"` // as keyed in: of one start where starts are the cycles
	Cycles  string  `json:"cycles"`  // "2 × 11 min, 30 min between", "at each of 2 starts"; "" for one
	Plain   string  `json:"plain"`   // minutes a day by the one-zone sum; "" where it has none
}

// WaterEase is a limit made wider, and what that comes to. Taking it is one step.
type WaterEase struct {
	Says  string          `json:"says"`
	Fits  bool            `json:"fits"`
	Label string          `json:"label"` // of the step
	Patch json.RawMessage `json:"patch,omitempty"`
}

// WaterArea is one area at peak.
type WaterArea struct {
	ID     plan.ID `json:"id"`
	Name   string  `json:"name"`
	Need   string  `json:"need"`   // a week, at peak
	Gets   string  `json:"gets"`   // a week, of its dry part
	Lasts  string  `json:"lasts"`  // days its soil lasts
	Beside string  `json:"beside"` // what comes from zones that do not stand for it, in a sentence; "" when none
	Counts bool    `json:"counts"` // that water is counted
	Turn   bool    `json:"turn"`   // heads of other zones throw on it: turning their arcs off may be sought
}

// WaterOptions is what a page needs to ask for the climate, plants and soil: the value
// of GET /api/plans/{id}/water/options.
type WaterOptions struct {
	Zones   []WaterZone    `json:"zones"`   // of the public table of reference ET
	Climate string         `json:"climate"` // what is used now, and where it is from
	Months  []WaterClimate `json:"months"`  // what is used now, January first
	Needs   []WaterNeed    `json:"needs"`   // by area watered overhead
	Columns string         `json:"columns"` // of a weather file, in words
	// Usual is what is taken for the hours and the controller where the plan does not say
	// it: by start, end, programs, starts.
	Usual map[string]string `json:"usual"`
}

// WaterZone is a zone of the public table.
type WaterZone struct {
	Zone int    `json:"zone"`
	Name string `json:"name"` // with its reference ET of the year
}

// WaterClimate is one month of the climate used.
type WaterClimate struct {
	Name string `json:"name"`
	ET   string `json:"et"`
	Rain string `json:"rain"`
}

// WaterNeed is what an area is reckoned with now, each figure with its source.
type WaterNeed struct {
	ID    plan.ID     `json:"id"`
	Name  string      `json:"name"`
	Facts []WaterFact `json:"facts"`
	// Taken are the figures that the area may have its own of, by its members.
	Taken map[string]string `json:"taken"`
}

// WaterFact is one figure of a chain.
type WaterFact struct {
	What   string `json:"what"`
	Value  string `json:"value"`
	Source string `json:"source"`
}

// WeatherRead is what came of reading a weather file: the value of POST
// /api/plans/{id}/weather. Nothing is changed by it: the page makes a step of its patch.
type WeatherRead struct {
	Says   string          `json:"says"`
	Notes  []string        `json:"notes"`
	Errors []WeatherError  `json:"errors"` // no patch while there is any
	Months []WaterClimate  `json:"months"`
	Label  string          `json:"label"`
	Patch  json.RawMessage `json:"patch,omitempty"`
}

// WeatherError is a mistake of a line of the file.
type WeatherError struct {
	Line int    `json:"line"`
	Says string `json:"says"`
}
