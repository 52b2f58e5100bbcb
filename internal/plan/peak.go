package plan

import "evenfall/internal/units"

// PeakWeek is the water a cover needs in the hottest week of the year, inches: an
// assumption until the watering plan knows the climate. 1.4 in is 0.25 in of
// reference evapotranspiration a day at a turf factor of 0.8 (arithmetic of the
// usual method); the others stand to it as their usual plant factors do (common
// practice, from memory): 0.6 for flowers and groundcover, 0.5 for shrubs and trees.
func PeakWeek(c Cover) units.Inches {
	switch c {
	case Flowers, Groundcover:
		return 1.05
	case Shrubs, TreeBed:
		return 0.875
	case Vegetables:
		return 1.4
	}
	return 1.4
}
