package climate

import (
	"fmt"

	"evenfall/internal/units"
)

// RainByShare is the rain that plants can use of what falls in a month: some runs off,
// some sinks below the roots, some falls when the ground is full. It is a share, and no
// more than the planting uses in it: what is left over does not stay for the next (common
// practice).
func RainByShare(rain, use units.Inches, share units.Ratio) (units.Inches, error) {
	if err := checkRain(rain, use); err != nil {
		return 0, err
	}
	if !(share >= 0 && share <= 1) {
		return 0, fmt.Errorf("the share of rain that counts is %g; it is from 0 to 1", float64(share))
	}
	return min(rain*units.Inches(share), use), nil
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
