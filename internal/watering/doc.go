// Package watering works out when each station runs and for how long, so that every
// area gets what it needs within what its soil holds and takes in, by a program that a
// person can key in. It knows no plan: areas, zones and calendar are given as figures.
package watering

import "evenfall/internal/units"

// Input is what a program is worked out from.
type Input struct {
	Areas      []Area
	Zones      []Zone
	Calendar   Calendar
	Controller Controller
}

// Area is planting that is watered from above.
type Area struct {
	ID, Name string
	Size     units.SqFeet
	Need     [12]units.Inches // of a day of each month, effective rain taken off: what the field must bring
	Holds    units.Inches     // water between full and wilting that roots reach
	Depleted units.Ratio      // share of Holds that may be used up before the next watering
	Intake   units.InchesPerHour
	Surface  units.Inches // that may stand on the ground without running off
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
	Days        [7]bool // Monday first
	From, Until int     // minutes after midnight; Until may be past it
	Together    bool    // stations may run side by side within Flow
	Flow        units.GPM
}

// Controller is what the user's controller can hold.
type Controller struct {
	Stations, Programs, Starts int  // 0: 8 stations, 3 programs, 4 starts a program (common practice)
	Percent                    bool // it has one percentage for all
}
