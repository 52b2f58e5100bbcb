package web

import (
	"fmt"
	"strconv"

	"evenfall/internal/season"
	"evenfall/internal/units"
)

// depthOf prints water to the hundredth of an inch, or the tenth of a millimetre: a day's
// need is that small.
func depthOf(sys units.System, in units.Inches) string {
	if sys == units.Metric {
		return fmt.Sprintf("%.1f mm", in.Millimetres())
	}
	return fmt.Sprintf("%.2f in", float64(in))
}

// plainNumber is a factor without a unit, to three decimals at most.
func plainNumber(v float64) string {
	return strconv.FormatFloat(v, 'f', decimalsOf(v), 64)
}

// decimalsOf are the decimals that a plain figure is told with: as many as it has, two at
// least and three at most.
func decimalsOf(v float64) int {
	if d := v*100 - float64(int(v*100+0.5)); d > 1e-6 || d < -1e-6 {
		return 3
	}
	return 2
}

// factorValue is the figure of a factor in the units of the plan.
func factorValue(sys units.System, f season.Factor) string {
	switch f.Unit {
	case "in":
		return depthOf(sys, units.Inches(f.Value))
	case "in/h":
		return sys.Rate(units.InchesPerHour(f.Value))
	case "share":
		return sys.Percent(units.Ratio(f.Value))
	case "":
		return plainNumber(f.Value)
	}
	return plainNumber(f.Value) + " " + f.Unit
}
