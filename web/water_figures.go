package web

import (
	"fmt"

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

// meanRate is the mean of what cells get.
func meanRate(rates []float32) float64 {
	sum := 0.0
	for _, r := range rates {
		sum += float64(r)
	}
	return sum / float64(max(len(rates), 1))
}
