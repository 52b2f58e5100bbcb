package planting

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// The budgets take inches of water on square feet to gallons by these, as printed:
// exactly it is 144/231 = .6234.
const (
	ordinanceGallons = 0.62   // California's ordinance
	epaGallons       = 0.6233 // EPA's water budget
)

// Adjustments of ET that California's ordinance allows (23 CCR 492.4, as of 2015): of a
// landscape, and of a special one (edible plants, recycled water, play), which has its
// full ET.
const (
	AllowedHome    units.Ratio = 0.55
	AllowedOther   units.Ratio = 0.45
	AllowedSpecial units.Ratio = 1
	OverheadEffect units.Ratio = 0.75 // irrigation efficiency the ordinance reckons with
	DripEffect     units.Ratio = 0.81
	epaAdjustment  units.Ratio = 0.70 // WaterSense for new homes, 2009
	mostBudgetET               = 400  // in a year
	mostBudgetArea             = 1e9
)

// Allowance is the most water a landscape may take by California's ordinance (MAWA, 23
// CCR 492.4): ET · .62 · (ETAF · LA + (1 − ETAF) · SLA), in gallons of the time that et
// is of. area is all of the landscape, with what is special in it. Rain that a city
// takes off is taken off et before.
func Allowance(et units.Inches, adjustment units.Ratio, area, special units.SqFeet) (units.Gallons, error) {
	if err := checkBudget(et, area); err != nil {
		return 0, err
	}
	switch {
	case !(adjustment >= 0 && adjustment <= 1):
		return 0, fmt.Errorf("the adjustment of ET is %g; it is from 0 to 1", float64(adjustment))
	case !(special >= 0 && special <= area):
		return 0, fmt.Errorf("the special area is %g ft² of %g; it is part of the whole", float64(special), float64(area))
	}
	return units.Gallons(float64(et) * ordinanceGallons * (float64(adjustment)*float64(area) + float64(1-adjustment)*float64(special))), nil
}

// Hydrozone is ground that is watered alike.
type Hydrozone struct {
	Area       units.SqFeet
	Factor     units.Ratio // of reference ET
	Efficiency units.Ratio // share of the water that roots get; 0 of a special area
	Special    bool        // its need is taken as the whole of ET
}

// Use is the estimated total water use by the same ordinance (ETWU): ET · .62 · Σ
// PF/IE · area, in gallons of the time that et is of; of special areas ET itself.
func Use(et units.Inches, zones []Hydrozone) (units.Gallons, error) {
	sum := 0.0
	for i, z := range zones {
		if err := checkBudget(et, z.Area); err != nil {
			return 0, fmt.Errorf("hydrozone %d: %w", i+1, err)
		}
		share := 1.0
		if !z.Special {
			if !(z.Factor >= 0 && z.Factor <= mostSpecies) {
				return 0, fmt.Errorf("hydrozone %d: the plant factor is %g; it is from 0 to %g", i+1, float64(z.Factor), mostSpecies)
			}
			if !(z.Efficiency > 0 && z.Efficiency <= 1) {
				return 0, fmt.Errorf("hydrozone %d: the efficiency is %g; it is above 0, and 1 at most", i+1, float64(z.Efficiency))
			}
			share = float64(z.Factor / z.Efficiency)
		}
		sum += share * float64(z.Area)
	}
	return units.Gallons(float64(et) * ordinanceGallons * sum), nil
}

// EPA is the water budget of the United States EPA's WaterSense for new homes (2009), of
// the month that asks for most: what ET takes of the whole landscape, and what of it is
// allowed, 70 %.
func EPA(et units.Inches, area units.SqFeet) (baseline, allowance units.Gallons, err error) {
	if err := checkBudget(et, area); err != nil {
		return 0, 0, err
	}
	baseline = units.Gallons(float64(et) * float64(area) * epaGallons)
	return baseline, baseline * units.Gallons(epaAdjustment), nil
}

func checkBudget(et units.Inches, area units.SqFeet) error {
	if v := float64(et); math.IsNaN(v) || v < 0 || v > mostBudgetET {
		return fmt.Errorf("reference ET is %g in; it is from 0 to %d", v, mostBudgetET)
	}
	if v := float64(area); math.IsNaN(v) || v < 0 || v > mostBudgetArea {
		return fmt.Errorf("the area is %g ft²; it is from 0 to %g", v, float64(mostBudgetArea))
	}
	return nil
}
