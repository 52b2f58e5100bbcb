// Package watering works out when each station runs and for how long, so that every
// area gets what it needs within what its soil holds and takes in, by a program that a
// person can key in. It knows no plan: areas, zones and calendar are given as figures.
//
// Soil is a bucket that is full after enough water and is emptied by each day's need;
// a day's water comes before its need. It is kept when no run of days takes out more
// than may be used up (RAW = Holds × Depleted), counted for the driest quarter of the
// area: the scheme of FAO-56 chapter 8, with the low quarter of the Irrigation
// Association's scheduling.
//
// A month goes through the ways to part the days of a cycle into programs (pattern.go).
// Each is a linear program of minutes (solve.go, linear.go) whose rows are added as cells
// of the ground turn out to be short of them; what they cost at least orders the search
// (search.go; of many zones fewer ways are gone through, budget.go). Minutes are rounded
// to what can be keyed in (whole.go), set in time so that nothing runs off (starts.go,
// timetable.go), begun at midnight where they fit after it (midnight.go), and judged: what
// is not kept (judge.go), and what would help (ease.go).
// A year keeps the days of its peak where they serve (year.go), fills soil between months
// where it has to (refill.go), and is played day by day (soilwater.go).
package watering

import "evenfall/internal/units"

// Input is what a program is worked out from.
type Input struct {
	Areas      []Area
	Zones      []Zone
	Calendar   Calendar
	Controller Controller
	Target     Target
	Show       units.System // that sentences go by; "" is as US
}

// Target is which part of an area has to get the need.
type Target string

// The targets. The driest quarter wastes most and browns least; half is what the
// multiplier 1/(0.4 + 0.6 DU) comes to (Irrigation Association 2005, from memory).
const (
	Quarter Target = "" // the driest quarter: 1/DU
	Half    Target = "half"
	Mean    Target = "mean"
)

// Area is planting that is watered from above.
type Area struct {
	ID, Name string
	Size     units.SqFeet
	Need     [12]units.Inches // of a day of each month, effective rain taken off: what the field must bring
	Holds    units.Inches     // water between full and wilting that roots reach
	Depleted units.Ratio      // share of Holds that may be used up before the next watering
	Rest     int              // least days from one watering by its own zones to the next; 0 or 1: any. Deep and seldom makes roots
	Intake   units.InchesPerHour
	Surface  units.Inches // that may stand on the ground without running off
	// FieldDU is the evenness of the low quarter to reckon with in the field: an audit's,
	// or estimated; the drawn one is never better than it (trade.md E21). 0: as Rates are.
	FieldDU units.Ratio
	// Rates are by zone of Input.Zones what each cell of the area gets, in/h; nil: none
	// of its water lands here. All are as long as the area has cells.
	Rates  [][]float32
	Credit []units.Ratio // by zone: the share of its water that counts; nil: all of it
}

// Zone is one station.
type Zone struct {
	ID, Name string
	Station  int
	Flow     units.GPM
	Own      []int // of Input.Areas that its heads stand for
}

// Calendar is when water may be put out.
type Calendar struct {
	// Days are those of a cycle on which watering is allowed: the seven of a week,
	// Monday first, or a cycle of another length, to 31.
	Days []bool
	// From and Until are minutes after midnight; Until may be past it, and is after From. A
	// day then has both its own small hours, until the end, and its own evening: programs
	// begin at midnight where they are through by the end, in the evening elsewhere.
	From, Until int
	Together    bool // stations may run side by side within Flow
	Flow        units.GPM
}

// window is how many minutes a day has.
func (c Calendar) window() int { return c.Until - c.From }

// Controller is what the user's controller can hold.
type Controller struct {
	Stations, Programs, Starts int  // 0: 8 stations, 3 programs, 4 starts a program (common practice)
	Soaks                      bool // it parts run times into cycles by itself; otherwise each start is a cycle
	Percent                    bool // it has one percentage for all
}
