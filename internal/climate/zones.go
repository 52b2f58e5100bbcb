package climate

import (
	"fmt"

	"evenfall/internal/units"
)

// Zones are how many zones the public table has.
const Zones = 18

// zoneET is reference ET by zone and month in inches: the zones of the map "Reference
// Evapotranspiration" of the California Irrigation Management Information System
// (Department of Water Resources and University of California, Davis, 1999). They are
// copied from excerpts that agree; each is days times a whole hundredth of an inch a
// day, by which two slips of the copies were mended (zone 7 December, zone 9 October).
// December of zone 14 is 1.55 in two copies and 1.24 in one.
var zoneET = [Zones][12]units.Inches{
	{.93, 1.40, 2.48, 3.30, 4.03, 4.50, 4.65, 4.03, 3.30, 2.48, 1.20, .62},   // 1
	{1.24, 1.68, 3.10, 3.90, 4.65, 5.10, 4.96, 4.65, 3.90, 2.79, 1.80, 1.24}, // 2
	{1.86, 2.24, 3.72, 4.80, 5.27, 5.70, 5.58, 5.27, 4.20, 3.41, 2.40, 1.86}, // 3
	{1.86, 2.24, 3.41, 4.50, 5.27, 5.70, 5.89, 5.58, 4.50, 3.41, 2.40, 1.86}, // 4
	{.93, 1.68, 2.79, 4.20, 5.58, 6.30, 6.51, 5.89, 4.50, 3.10, 1.50, .93},   // 5
	{1.86, 2.24, 3.41, 4.80, 5.58, 6.30, 6.51, 6.20, 4.80, 3.72, 2.40, 1.86}, // 6
	{.62, 1.40, 2.48, 3.90, 5.27, 6.30, 7.44, 6.51, 4.80, 2.79, 1.20, .62},   // 7
	{1.24, 1.68, 3.41, 4.80, 6.20, 6.90, 7.44, 6.51, 5.10, 3.41, 1.80, .93},  // 8
	{2.17, 2.80, 4.03, 5.10, 5.89, 6.60, 7.44, 6.82, 5.70, 4.03, 2.70, 1.86}, // 9
	{.93, 1.68, 3.10, 4.50, 5.89, 7.20, 8.06, 7.13, 5.10, 3.10, 1.50, .93},   // 10
	{1.55, 2.24, 3.10, 4.50, 5.89, 7.20, 8.06, 7.44, 5.70, 3.72, 2.10, 1.55}, // 11
	{1.24, 1.96, 3.41, 5.10, 6.82, 7.80, 8.06, 7.13, 5.40, 3.72, 1.80, .93},  // 12
	{1.24, 1.96, 3.10, 4.80, 6.51, 7.80, 8.99, 7.75, 5.70, 3.72, 1.80, .93},  // 13
	{1.55, 2.24, 3.72, 5.10, 6.82, 7.80, 8.68, 7.75, 5.70, 4.03, 2.10, 1.55}, // 14
	{1.24, 2.24, 3.72, 5.70, 7.44, 8.10, 8.68, 7.75, 5.70, 4.03, 2.10, 1.24}, // 15
	{1.55, 2.52, 4.03, 5.70, 7.75, 8.70, 9.30, 8.37, 6.30, 4.34, 2.40, 1.55}, // 16
	{1.86, 2.80, 4.65, 6.00, 8.06, 9.00, 9.92, 8.68, 6.60, 4.34, 2.70, 1.86}, // 17
	{2.48, 3.36, 5.27, 6.90, 8.68, 9.60, 9.61, 8.68, 6.90, 4.96, 3.00, 2.17}, // 18
}

// OfZone is the year of a zone of the public table, from 1, without rain.
func OfZone(zone int) (Year, error) {
	if zone < 1 || zone > Zones {
		return Year{}, fmt.Errorf("there is no zone %d; the public table has 1 to %d", zone, Zones)
	}
	y := Year{Source: fmt.Sprintf("zone %d of the public table of California (DWR and UC Davis, 1999)", zone)}
	for m, et := range zoneET[zone-1] {
		y.Months[m].ET = et
	}
	return y, nil
}
