package audit

import (
	"errors"
	"math"

	"evenfall/internal/units"
)

// MillilitresPerCubicInch is exact: an inch is 2.54 cm.
const MillilitresPerCubicInch = 2.54 * 2.54 * 2.54

// ErrThroat and ErrMinutes say what a rate or depth cannot be reckoned from.
var (
	ErrThroat  = errors.New("the opening of the cans is more than 0 in²")
	ErrMinutes = errors.New("the zones ran for more than 0 minutes")
)

// Depth is how deep a catch in millilitres stands on the opening of its can. The error is
// ErrThroat.
func Depth(ml, throatIn2 float64) (units.Inches, error) {
	if !positive(throatIn2) {
		return 0, ErrThroat
	}
	return units.Inches(ml / MillilitresPerCubicInch / throatIn2), nil
}

// Rate is the precipitation rate by the mean catch: 3.66 × ml / (minutes × in²), the
// factor being 60 over the millilitres of a cubic inch [2]. Errors are ErrThroat and
// ErrMinutes.
func Rate(meanML, minutes, throatIn2 float64) (units.InchesPerHour, error) {
	depth, err := Depth(meanML, throatIn2)
	if err != nil {
		return 0, err
	}
	return RateOfDepth(depth, minutes)
}

// RateOfDepth is the rate by the mean depth of cans marked in inches: depth × 60 /
// minutes (Colorado Water Conservation Board, Slow the Flow 2006, p. 12). The error is
// ErrMinutes.
func RateOfDepth(mean units.Inches, minutes float64) (units.InchesPerHour, error) {
	if !positive(minutes) {
		return 0, ErrMinutes
	}
	return units.InchesPerHour(float64(mean) * 60 / minutes), nil
}

func positive(v float64) bool { return v > 0 && !math.IsInf(v, 1) }
