package climate

import (
	"fmt"

	"evenfall/internal/units"
)

// Bounds of what a month can ask for and bring, in inches. Chosen: the driest months on
// earth ask for some 18 in, the wettest brought 366 in.
const (
	mostET   = 30
	mostRain = 400
)

// OfNormals is a year by the user's own figures of each month: reference ET and rain, of
// the whole month. source is where they come from, in the user's words; it may be empty.
func OfNormals(et, rain [12]units.Inches, source string) (Year, error) {
	y := Year{Source: "your own figures by month"}
	if source != "" {
		y.Source += " (" + source + ")"
	}
	sum := units.Inches(0)
	for m := range y.Months {
		if !(et[m] >= 0 && et[m] <= mostET) {
			return Year{}, fmt.Errorf("reference ET of %s is %g in; it is from 0 to %d in a month", MonthNames[m], float64(et[m]), mostET)
		}
		if !(rain[m] >= 0 && rain[m] <= mostRain) {
			return Year{}, fmt.Errorf("the rain of %s is %g in; it is from 0 to %d in a month", MonthNames[m], float64(rain[m]), mostRain)
		}
		sum += et[m]
		y.Months[m] = Month{ET: et[m], Rain: rain[m]}
	}
	if sum == 0 {
		return Year{}, fmt.Errorf("reference ET is 0 in every month; write it for the months that have some")
	}
	return y, nil
}
