// Package planting says what plants use, as a share of reference ET: by kind, month,
// density and place; and what a year's water for a landscape may come to by the
// published budgets. It knows no plan and no weather.
package planting

import (
	"fmt"
	"math"

	"evenfall/internal/units"
)

// Kind is planting that uses alike.
type Kind string

// The kinds of planting there are figures for.
const (
	CoolTurf  Kind = "cool_turf"  // as fescue, ryegrass, bluegrass
	WarmTurf  Kind = "warm_turf"  // as bermudagrass, zoysia, buffalograss
	Annuals   Kind = "annuals"    // flowers in full bloom
	Woody     Kind = "woody"      // shrubs, trees, groundcover and perennials where summers bring rain
	WoodyArid Kind = "woody_arid" // the same where they do not
	Desert    Kind = "desert"     // plants of dry places
	VeryLow   Kind = "very_low"   // by the lists of water use of landscape species
	Low       Kind = "low"
	Moderate  Kind = "moderate"
	High      Kind = "high"
)

// Factor is a plant factor with how far it may be off and where it comes from.
type Factor struct {
	Kind      Kind
	Name      string      // in words
	Factor    units.Ratio // of reference ET, to begin with
	Low, High units.Ratio // as published; equal to Factor where one figure is
	Source    string
}

const (
	s623   = "ANSI/ASABE S623 (2015), from memory"
	wucols = "WUCOLS III (Costello and Jones 2000), middle of the range; from memory, the range of moderate seen"
)

// Factors are the published factors by kind; turf by month is InMonth. What a cover of a
// plan is reckoned with is the plan's own table of figures (plan.PlantFactor), which is
// chosen among these and held to them by a test of season.
var Factors = []Factor{
	{CoolTurf, "cool-season turf", .80, .80, .80, s623 + "; University of California's table prints it for the year, too"},
	{WarmTurf, "warm-season turf", .60, .60, .60, s623 + "; University of California's table prints it for the year, too"},
	{Annuals, "annual flowers", .80, .80, .80, s623},
	{Woody, "shrubs, trees and perennials, wet summers", .70, .70, .70, s623},
	{WoodyArid, "shrubs, trees and perennials, dry summers", .50, .50, .50, s623},
	{Desert, "desert plants", .30, .30, .30, s623},
	{VeryLow, "species of very low water use", .05, 0, .10, wucols},
	{Low, "species of low water use", .20, .10, .30, wucols},
	{Moderate, "species of moderate water use", .50, .40, .60, wucols},
	{High, "species of high water use", .80, .70, .90, wucols},
}

// FactorOf is the factor of a kind.
func FactorOf(k Kind) (Factor, error) {
	for _, f := range Factors {
		if f.Kind == k {
			return f, nil
		}
	}
	return Factor{}, fmt.Errorf("there is no planting called %q", string(k))
}

// turf is the crop coefficient of turf by month, January first: University of California
// Center for Landscape and Urban Horticulture, "Turfgrass Crop Coefficients (Kc)", table
// 1, after Meyer and others 1985. It prints .80 and .60 for the year; its months come to
// means of .79 and .65, so what it weighs them by is not known.
var turf = [2][12]units.Ratio{
	{.61, .64, .75, 1.04, .95, .88, .94, .86, .74, .75, .69, .60}, // cool-season
	{.61, .54, .76, .72, .79, .68, .71, .71, .62, .54, .58, .55},  // warm-season
}

// TurfSource names the table of turf by month.
const TurfSource = "University of California, turfgrass crop coefficients by month, table 1 (after Meyer and others 1985)"

// InMonth is the factor of a kind in a month, from 0: turf by its table, all else the
// same all year, with its source.
func InMonth(k Kind, month int) (units.Ratio, string, error) {
	if month < 0 || month > 11 {
		return 0, "", fmt.Errorf("there is no month %d; they are 1 to 12", month+1)
	}
	switch k {
	case CoolTurf:
		return turf[0][month], TurfSource, nil
	case WarmTurf:
		return turf[1][month], TurfSource, nil
	}
	f, err := FactorOf(k)
	return f.Factor, f.Source, err
}

// Bounds of the three factors of a landscape; the published ranges lie well within.
const (
	mostSpecies      = 1.5
	mostDensity      = 2
	mostMicroclimate = 2
)

// Landscape is the coefficient of a landscape, KL = ks · kd · kmc: what its species use,
// how densely they stand and how hot and windy their place is ("A Guide to Estimating
// Irrigation Water Needs of Landscape Plantings in California", University of California
// Cooperative Extension and Department of Water Resources 2000). 1 for density is a full
// planting of one kind, 1 for the place is open ground in full sun.
func Landscape(species, density, microclimate units.Ratio) (units.Ratio, error) {
	for _, f := range []struct {
		name string
		v    units.Ratio
		most float64
	}{{"plant factor", species, mostSpecies}, {"density factor", density, mostDensity}, {"factor of the place", microclimate, mostMicroclimate}} {
		if v := float64(f.v); math.IsNaN(v) || v < 0 || v > f.most {
			return 0, fmt.Errorf("the %s is %g; it is from 0 to %g", f.name, v, f.most)
		}
	}
	return species * density * microclimate, nil
}
