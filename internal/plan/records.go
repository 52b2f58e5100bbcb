package plan

import (
	"slices"

	"evenfall/internal/units"
)

// Watering is what the watering plan is made for.
type Watering struct {
	Days      []string `json:"days,omitempty"` // allowed weekdays: mon … sun
	Every     int      `json:"every,omitzero"` // one day in so many is allowed, 1: each; instead of Days
	StartHHMM string   `json:"start,omitzero"` // civil time "22:00"
	EndHHMM   string   `json:"end,omitzero"`
	PeakInWk  float64  `json:"peak_in_per_week,omitzero"` // turf, peak week
	AuditedDU *float64 `json:"audited_du,omitempty"`      // of all zones that have none of their own

	// The climate, by the first of these that is there; with none of them PeakInWk.
	ETIn   []float64      `json:"et_in,omitempty"`   // reference ET of each month, inches: the user's normals, 12
	HighF  []float64      `json:"high_f,omitempty"`  // mean of the days' highest in each month, °F, 12; with LowF and the latitude
	LowF   []float64      `json:"low_f,omitempty"`   // mean of the lowest
	ETZone int            `json:"et_zone,omitzero"`  // of the public table, 1 to 18
	RainIn []float64      `json:"rain_in,omitempty"` // of each month, inches, 12
	ETFrom string         `json:"et_from,omitzero"`  // where ETIn and RainIn come from, in words
	ETBy   []MonthWeather `json:"et_by,omitempty"`   // the weather that ETIn was reckoned from, 12; nil: given

	Turf     string `json:"turf,omitzero"`     // cool | warm: its factor by month; absent: the figure of turf all year
	Stage    string `json:"stage,omitzero"`    // of turf: established | new_sod | seed; default established
	Target   string `json:"target,omitzero"`   // multiplier | low_quarter | mean; default multiplier
	Together bool   `json:"together,omitzero"` // stations may run side by side within the design flow
}

// MonthWeather is what a month's mean day was like in the weather that reference ET was
// reckoned from (FAO-56 Penman-Monteith), as far as a reader can follow it. Energies and
// vapour are in FAO-56's own units.
type MonthWeather struct {
	Lines         int     `json:"lines,omitzero"`  // days, or months, that this is the mean of; 0: the month was not in the weather
	TMaxF         float64 `json:"tmax_f,omitzero"` // mean of the days' highest
	TMinF         float64 `json:"tmin_f,omitzero"`
	SaturationKPa float64 `json:"saturation_kpa,omitzero"` // vapour that the air could hold
	VapourKPa     float64 `json:"vapour_kpa,omitzero"`     // that it held
	SolarMJ       float64 `json:"solar_mj,omitzero"`       // of sunshine, on a square metre in a day
	NetMJ         float64 `json:"net_mj,omitzero"`         // of it and the sky's, that stays
	WindMPH       float64 `json:"wind_mph,omitzero"`       // at 2 m, in the mean
	SunIn         float64 `json:"sun_in,omitzero"`         // of a day's ET, by what stays of the sun
	WindIn        float64 `json:"wind_in,omitzero"`        // by wind and dry air
	DayIn         float64 `json:"day_in,omitzero"`         // reference ET of a day: both, and never below 0 on any day
	Estimated     string  `json:"estimated,omitzero"`      // what was not measured, and how it was taken, in words
}

// The stages of turf and the targets of run times.
const (
	Established = "established"
	NewSod      = "new_sod"
	Sown        = "seed"

	ByMultiplier = "multiplier"  // 1/(0.4 + 0.6 DU): the dry half gets enough
	ByLowQuarter = "low_quarter" // 1/DU: the driest quarter gets enough
	ByMean       = "mean"        // the mean gets enough, the dry parts too little
)

// Weekdays are the words of Watering.Days, Monday first. The caller owns them.
func Weekdays() []string { return slices.Clone(weekdays) }

// Note is a remark pinned to a place.
type Note struct {
	X      units.Feet `json:"x_ft"`
	Y      units.Feet `json:"y_ft"`
	Text   string     `json:"text"`
	Status Status     `json:"status,omitzero"`
}

// Underlay is a picture under the drawing: a photograph or a site plan to trace
// over. The store holds it as a blob. Nothing of the drawing hangs on it: when
// it is moved, turned or scaled anew, the drawing stays.
type Underlay struct {
	SHA256    string        `json:"sha256"`
	WidthPx   int           `json:"width_px,omitzero"`  // as shown, the turn a camera noted made already; 0 is not known yet
	HeightPx  int           `json:"height_px,omitzero"` // likewise
	FtPerPx   float64       `json:"ft_per_px"`
	X         units.Feet    `json:"x_ft"` // of the picture's lower left corner
	Y         units.Feet    `json:"y_ft"`
	RotateDeg units.Degrees `json:"rotate_deg,omitzero"` // about that corner
	Opacity   units.Ratio   `json:"opacity,omitzero"`    // default 1
	Locked    bool          `json:"locked,omitzero"`
	ScaledBy  *KnownLength  `json:"scaled_by,omitempty"`  // what FtPerPx was taken from; nil until it was
	CheckedBy *KnownLength  `json:"checked_by,omitempty"` // a second length, to tell how true the first makes the picture
}

// KnownLength is a distance somebody knows between two places on a picture.
type KnownLength struct {
	From       PicturePoint `json:"from"`
	To         PicturePoint `json:"to"`
	DistanceFt units.Feet   `json:"distance_ft"`
}

// PicturePoint is a place on a picture in its own pixels, x to the right and y
// down from the upper left corner of the picture as shown.
type PicturePoint struct {
	X float64 `json:"x_px"`
	Y float64 `json:"y_px"`
}

// Accepted is a finding the user has looked at and keeps, with the reason.
type Accepted struct {
	Code   string `json:"code"`
	About  []Ref  `json:"about,omitempty"` // things concerned, as in the finding, sorted; may outlive them
	Rank   Rank   `json:"rank,omitzero"`   // what it was when it was accepted; absent: any
	Reason string `json:"reason"`
	By     string `json:"by,omitzero"` // name of who accepted it
	On     string `json:"on"`          // civil date, YYYY-MM-DD
}
