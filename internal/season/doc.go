// Package season works out from a plan what its planting needs through the year, and
// puts what the program is worked out from together: need, soil, what each zone puts on
// each area, days and hours, controller. It is asked on request, by no stage.
//
// A need goes from weather to minutes by a chain that is kept with it (ChainOf, MinutesOf):
//
//	need a day = ET · plant factor · density · microclimate / days − rain that counts / days
//
// the landscape coefficient method of the University of California (KL = ks·kd·kmc,
// 2000), turf by its factor alone. The figures are the plan's (plan.FigureRows, groups
// plants and soil), an area's own go before them.
package season

import (
	"evenfall/internal/climate"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// Question is what a program is asked for, with the chains behind its figures.
type Question struct {
	Input watering.Input
	Year  climate.Year
	// PeakOnly says that no climate is given, so that the week at peak stands for every
	// month.
	PeakOnly bool
	Needs    []Need    // of Input.Areas, one by one
	Unwet    []plan.ID // planting watered overhead that no zone's water lands on: not in Input
	Notes    []string  // what was taken for what the plan does not say, in sentences
	Ground   *coverage.ZoneGround
}

// Need is what one area needs, and how that was come by.
type Need struct {
	ID      plan.ID
	Name    string
	Month   [12]MonthNeed
	Factors []Factor // the same in all months
	Holds   units.Inches
	Soil    []Factor
	FieldDU units.Ratio
	DUFrom  string // whose it is, in words
}

// MonthNeed is one month of an area. ET and Rain are of the month, Day and Left of a day
// of it.
type MonthNeed struct {
	ET     units.Inches // reference
	Plant  float64      // its plant factor in that month
	All    units.Ratio  // times what else makes it need more or less
	Rain   units.Inches // that counts
	Day    units.Inches // what sprinklers have to bring
	Left   units.Inches // of a day: so little of a month that it is left to rain and soil; Day is 0 then
	Source string       // of the plant factor
}
