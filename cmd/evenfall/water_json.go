package main

import (
	"math"
	"strconv"

	"evenfall/internal/plan"
)

// The print of evenfall water --json. Its schema is made from these types and the words
// after them. Months are counted from 1, depths are inches, times "22:00" or minutes.

type waterAnswer struct {
	Format     string          `json:"format" jsonschema:"evenfall-water/1"`
	Name       string          `json:"name" jsonschema:"of the plan"`
	Plan       string          `json:"plan_sha256" jsonschema:"of the plan's canonical form"`
	Says       string          `json:"says" jsonschema:"the verdict on the peak, in words"`
	Fits       bool            `json:"fits" jsonschema:"at the peak all limits are kept"`
	PeakMonth  int             `json:"peak_month" jsonschema:"1 January; 0: nothing is ever needed"`
	Climate    waterClimate    `json:"climate"`
	Target     string          `json:"target" jsonschema:"which part of an area has to get its need: multiplier (the dry half), low_quarter or mean"`
	Calendar   waterCalendar   `json:"calendar"`
	Controller waterController `json:"controller" jsonschema:"what it can hold, as reckoned with"`
	Zones      []waterZone     `json:"zones"`
	Areas      []waterArea     `json:"areas"`
	Months     []waterMonth    `json:"months" jsonschema:"all, or the one asked for"`
	Year       waterYear       `json:"year"`
	Unwet      []plan.ID       `json:"unwet_areas" jsonschema:"watered overhead, and no zone's water lands on them"`
	Notes      []string        `json:"notes" jsonschema:"what was taken for what the plan does not say"`
	Caution    string          `json:"caution"`
}

type waterClimate struct {
	Source   string             `json:"source"`
	PeakOnly bool               `json:"peak_only" jsonschema:"no climate is given: the week at peak stands for every month"`
	Months   []waterMonthSource `json:"months" jsonschema:"January first"`
}

type waterMonthSource struct {
	Month int    `json:"month" jsonschema:"1 January"`
	ET    figure `json:"et_in" jsonschema:"reference ET of the month, inches"`
	Rain  figure `json:"rain_in" jsonschema:"of the month, inches"`
}

type waterCalendar struct {
	CycleDays int    `json:"cycle_days" jsonschema:"days until it begins again: 7 of a week"`
	Days      []int  `json:"allowed_days" jsonschema:"of the cycle, from 1; of a week 1 is Monday"`
	From      string `json:"from"`
	Minutes   int    `json:"window_minutes" jsonschema:"of a day, from then on"`
	Together  bool   `json:"together" jsonschema:"stations may run side by side within the flow"`
	Flow      figure `json:"flow_gpm" jsonschema:"design flow of the supply"`
}

type waterController struct {
	Stations int  `json:"stations" jsonschema:"0: not said, 8 are taken"`
	Programs int  `json:"programs" jsonschema:"0: not said, 3 are taken"`
	Starts   int  `json:"starts" jsonschema:"of a program; 0: not said, 4 are taken"`
	Soaks    bool `json:"soaks" jsonschema:"it parts run times into cycles by itself; otherwise each start is a cycle"`
}

type waterZone struct {
	ID      plan.ID   `json:"id"`
	Name    string    `json:"name"`
	Station int       `json:"station"`
	Flow    figure    `json:"flow_gpm"`
	Areas   []plan.ID `json:"areas" jsonschema:"that its heads stand for"`
}

type waterArea struct {
	ID       plan.ID         `json:"id"`
	Name     string          `json:"name"`
	Size     figure          `json:"area_sqft"`
	Holds    figure          `json:"holds_in" jsonschema:"water that roots reach, inches"`
	Depleted figure          `json:"depleted_share" jsonschema:"of it that may be used up"`
	Intake   figure          `json:"intake_in_per_hour"`
	Surface  figure          `json:"surface_in" jsonschema:"that may stand on the ground, inches"`
	Evenness figure          `json:"field_du" jsonschema:"of the low quarter, in the field"`
	Whose    string          `json:"field_du_source"`
	Soil     []waterFactor   `json:"soil" jsonschema:"the figures of its soil with their sources"`
	Needs    []waterAreaNeed `json:"needs" jsonschema:"of the months printed"`
}

type waterAreaNeed struct {
	Month int           `json:"month"`
	Need  figure        `json:"need_in_per_day" jsonschema:"what sprinklers have to bring, inches"`
	Lasts int           `json:"soil_lasts_days" jsonschema:"0: nothing is needed"`
	Chain []waterFactor `json:"chain" jsonschema:"from the weather to the need"`
}

type waterFactor struct {
	What   string `json:"what"`
	Value  figure `json:"value"`
	Unit   string `json:"unit" jsonschema:"in, in/day, in/h, share, min, days, times, gal, °F, kPa, MJ/m² a day, mph; empty: a plain number"`
	Source string `json:"source" jsonschema:"where it is from, or how it follows from those above"`
}

type waterMonth struct {
	Month    int              `json:"month" jsonschema:"1 January"`
	Says     string           `json:"says"`
	Needed   bool             `json:"needed" jsonschema:"false: nothing is to be watered, and nothing follows"`
	Fits     bool             `json:"fits"`
	Percent  *int             `json:"percent_of_peak,omitempty" jsonschema:"of the program of the peak, where one percentage serves"`
	Gallons  figure           `json:"gallons_per_cycle"`
	Least    figure           `json:"least_gallons_per_cycle" jsonschema:"were minutes not whole"`
	OfMonth  figure           `json:"gallons_of_month"`
	Fills    int              `json:"fills_before" jsonschema:"times that all its programs are run once, besides, on the last watering day before it begins"`
	Filling  figure           `json:"fill_gallons" jsonschema:"of them, which is in no other sum"`
	Plain    figure           `json:"one_zone_gallons_per_cycle" jsonschema:"what the sums of the zones one by one take"`
	Saved    figure           `json:"saved_gallons_per_cycle" jsonschema:"less than by those sums; below 0: more"`
	SaysIt   string           `json:"saved_says"`
	Short    []waterShort     `json:"one_zone_short" jsonschema:"areas that the sums of the zones one by one would leave short"`
	Over     int              `json:"minutes_over" jsonschema:"that the longest day is past its hours"`
	Programs []waterProgram   `json:"programs"`
	Meet     string           `json:"starts_meet_says" jsonschema:"what is done about programs of which one would begin while another runs; empty: none does"`
	Binds    []waterBind      `json:"limits_not_kept"`
	Eases    []waterEase      `json:"would_help"`
	Areas    []waterReceived  `json:"areas"`
	Zones    []waterZoneChain `json:"zones" jsonschema:"each with its one-zone sum and the chain from weather to minutes"`
}

type waterShort struct {
	Area plan.ID `json:"area"`
	By   figure  `json:"short_in" jsonschema:"of the cycle, inches"`
}

type waterProgram struct {
	Letter   string      `json:"letter"`
	Days     []int       `json:"days" jsonschema:"of the cycle, from 1"`
	On       string      `json:"days_say"`
	Starts   []string    `json:"starts" jsonschema:"each runs all stations for the minutes keyed in"`
	Ends     string      `json:"ends"`
	Stations []waterRun  `json:"stations"`
	Table    []waterStep `json:"timetable"`
	Says     string      `json:"says" jsonschema:"what is to be known of its starts, and of stations that run at once"`
	Saves    figure      `json:"gallons_saved_by_a_minute" jsonschema:"of a cycle, were each day a minute longer; 0 where the hours do not bind"`
}

type waterRun struct {
	Zone    plan.ID `json:"zone"`
	Station int     `json:"station"`
	Keyed   int     `json:"minutes_keyed_in" jsonschema:"of each start"`
	Minutes int     `json:"minutes_per_day"`
	Cycles  int     `json:"cycles"`
	Soak    int     `json:"soak_minutes" jsonschema:"at least, between cycles"`
}

type waterStep struct {
	Zone  plan.ID `json:"zone"`
	From  int     `json:"from_minute" jsonschema:"after midnight of the day it begins"`
	Until int     `json:"until_minute"`
}

type waterBind struct {
	Limit string  `json:"limit" jsonschema:"hours, soil, reach, starts, stations, runoff"`
	Area  plan.ID `json:"area,omitempty"`
	By    figure  `json:"by" jsonschema:"minutes, inches or a count, by the limit"`
	Says  string  `json:"says"`
}

type waterEase struct {
	Says    string `json:"says"`
	Fits    bool   `json:"fits" jsonschema:"by itself"`
	Over    int    `json:"minutes_over" jsonschema:"that are then left"`
	Gallons figure `json:"gallons_per_cycle"`
}

type waterReceived struct {
	ID      plan.ID `json:"id"`
	Need    figure  `json:"need_in" jsonschema:"of the cycle"`
	Mean    figure  `json:"mean_in" jsonschema:"that falls on it"`
	Counts  figure  `json:"counts_in" jsonschema:"of its target part, field evenness taken off"`
	Lowest  figure  `json:"used_up_in" jsonschema:"most that its target part is ever emptied by"`
	Allowed figure  `json:"may_be_used_up_in"`
}

type waterZoneChain struct {
	ID      plan.ID       `json:"id"`
	Minutes int           `json:"minutes_per_cycle" jsonschema:"as solved with all zones together"`
	Plain   figure        `json:"one_zone_minutes_per_cycle" jsonschema:"by the sum of this zone alone; 0: no area asks for it"`
	Chain   []waterFactor `json:"chain" jsonschema:"from the weather to these minutes"`
}

type waterYear struct {
	Gallons figure `json:"gallons"`
	Plain   figure `json:"one_zone_gallons"`
	Saved   figure `json:"saved_gallons"`
	Serves  bool   `json:"percentage_serves" jsonschema:"the program of the peak, turned by one percentage a month, serves the year"`
	Says    string `json:"says"`
	Off     string `json:"off_says" jsonschema:"when nothing is needed"`
}

// figure prints to nine places, so that all machines print the same, and what is not
// finite as null.
type figure float64

func (f figure) MarshalJSON() ([]byte, error) {
	v := float64(f)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, v+0, 'g', 9, 64), nil
}
