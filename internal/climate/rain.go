package climate

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// Rain that plants can use, of what falls in a month. Some runs off, some sinks below
// the roots, some falls when the ground is full. Two published methods are here.

// AllowedRain is the share of rain that budgets allow: a quarter of what falls. So does
// the United States EPA's water budget for new homes ("Revised WaterSense Water Budget
// Approach", 2009, from memory) and Vacaville, California, in its code (table
// 14.27.030.A: ET less .25 of the rain).
const AllowedRain units.Ratio = 0.25

// RainByShare is a share of the rain of a month, and no more than the planting uses in
// it: what is left over does not stay for the next (common practice).
func RainByShare(rain, use units.Inches, share units.Ratio) (units.Inches, error) {
	if err := checkRain(rain, use); err != nil {
		return 0, err
	}
	if !(share >= 0 && share <= 1) {
		return 0, fmt.Errorf("the share of rain that counts is %g; it is from 0 to 1", float64(share))
	}
	return min(rain*units.Inches(share), use), nil
}

// RainBySoil is the rain of a month that stays within reach of roots, by the method of
// the Soil Conservation Service (Technical Release 21, 1970; National Engineering
// Handbook part 623, chapter 2; constants from memory, agreeing with a public program
// that names the handbook):
//
//	(.70917 P^.82416 − .11556) · 10^(.02426 ET) · SF,
//	SF = .531747 + .295164 D − .057697 D² + .003804 D³
//
// with P the rain, ET what the planting uses in the month and D the water that may be
// used up between waterings, all in inches. It is no more than rain and use. From 7 in,
// where the handbook's table of SF ends (from memory), SF stays what it is.
func RainBySoil(rain, use, depth units.Inches) (units.Inches, error) {
	if err := checkRain(rain, use); err != nil {
		return 0, err
	}
	if !(depth >= 0) || math.IsInf(float64(depth), 1) {
		return 0, fmt.Errorf("the water that may be used up is %g in; it is 0 or more", float64(depth))
	}
	d := min(float64(depth), 7)
	factor := 0.531747 + d*(0.295164+d*(-0.057697+d*0.003804))
	stays := factor * (0.70917*math.Pow(float64(rain), 0.82416) - 0.11556) * math.Pow(10, 0.02426*float64(use))
	return max(min(units.Inches(stays), rain, use), 0), nil
}

func checkRain(rain, use units.Inches) error {
	if !(rain >= 0 && rain <= mostRain) {
		return fmt.Errorf("the rain of a month is %g in; it is from 0 to %d", float64(rain), mostRain)
	}
	if !(use >= 0 && use <= 2*mostET) {
		return fmt.Errorf("what the planting uses in a month is %g in; it is from 0 to %d", float64(use), 2*mostET)
	}
	return nil
}
