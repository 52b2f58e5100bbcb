package season

import (
	"fmt"

	"evenfall/internal/climate"
	"evenfall/internal/planting"
	"evenfall/internal/units"
)

// Budget holds the water of a year's programs against the published budgets for
// landscapes: California's ordinance, the most it allows a home and what its sums expect
// of these plantings, and what the United States EPA's budget allows in the month at
// peak. It is a check by formulas made for design; what holds is the local rule. nil
// without a climate, or where nothing is watered.
func Budget(prog *Program) ([]Factor, error) {
	q, y := prog.Asked, prog.Year
	if q.PeakOnly || y.Peak < 0 {
		return nil, nil
	}
	et, ground := units.Inches(0), units.SqFeet(0)
	for _, m := range q.Year.Months {
		et += m.ET
	}
	var zones []planting.Hydrozone
	for i, n := range q.Needs {
		size := q.Input.Areas[i].Size
		ground += size
		zones = append(zones, planting.Hydrozone{Area: size, Factor: n.factorOfYear(), Efficiency: planting.OverheadEffect})
	}
	allowed, err := planting.Allowance(et, planting.AllowedHome, ground, 0)
	if err != nil {
		return nil, err
	}
	expected, err := planting.Use(et, zones)
	if err != nil {
		return nil, err
	}
	peakET := q.Year.Months[y.Peak].ET
	_, epa, err := planting.EPA(peakET, ground)
	if err != nil {
		return nil, err
	}
	sys, month := q.Input.Show, climate.MonthNames[y.Peak]
	yearET := Factor{"Reference ET of the year", float64(et), Inches, q.Year.Source}
	area := Factor{"Ground watered from above", float64(ground), Area, "the drawing"}
	peak := Factor{"Reference ET of " + month, float64(peakET), Inches, etSource(q.Year, y.Peak, climate.Days[y.Peak])}
	takes := float64(y.Months[y.Peak].Gallons) * float64(climate.Days[y.Peak]) / float64(len(q.Input.Calendar.Days))
	return []Factor{
		yearET, area,
		{"Most that California's ordinance allows a home", float64(allowed), Gallons,
			fmt.Sprintf("%s on %s × %g, in gallons by 0.62 (23 CCR 492.4, as of 2015)", yearET.Shown(sys), area.Shown(sys), float64(planting.AllowedHome))},
		{"What its sums expect of these plantings", float64(expected), Gallons,
			fmt.Sprintf("each area's plant factor over %g, what sprinklers are taken to bring to the roots (same)", float64(planting.OverheadEffect))},
		{"These programs take in a year", float64(y.Gallons), Gallons, "the programs of all months"},
		peak,
		{"EPA's budget allows in " + month, float64(epa), Gallons,
			fmt.Sprintf("70 %% of %s on %s, in gallons by 0.6233 (WaterSense for new homes, 2009)", peak.Shown(sys), area.Shown(sys))},
		{"This program takes in " + month, takes, Gallons, "the program of that month"},
	}, nil
}

// factorOfYear is an area's need over reference ET, the mean of the year's water.
func (n *Need) factorOfYear() units.Ratio {
	uses, et := 0.0, 0.0
	for _, m := range n.Month {
		uses += float64(m.ET) * float64(m.All)
		et += float64(m.ET)
	}
	if et == 0 {
		return 0
	}
	return units.Ratio(uses / et)
}
