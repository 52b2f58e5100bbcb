package audit

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"evenfall/internal/units"
)

// Figures are the published figures of evenness of one set of catches. They are shares,
// so the unit of the catches does not matter; the means are in it.
type Figures struct {
	N              int
	Total, Mean    float64
	Least, Most    float64
	LowQuarterMean float64
	LowHalfMean    float64
	DULowQuarter   units.Ratio // mean of the lowest quarter over the mean [2]
	DULowHalf      units.Ratio // mean of the lowest half over the mean
	CU             units.Ratio // one less the mean distance from the mean over the mean [1, 3]
	SC             units.Ratio // mean over the driest can, 1 or more [3]; 0 when the driest caught nothing
	Under          units.Ratio // share of the cans below the mean
}

// ErrFewCatches says that evenness cannot be spoken of.
var ErrFewCatches = errors.New("evenness takes at least 2 cans that were read")

// ErrNoWater says that there is nothing to divide by.
var ErrNoWater = errors.New("none of the cans caught water")

// FiguresOf reckons catches, each standing for as much ground as the next. Where their
// number is no multiple of four the can that the quarter ends in counts by the part of it
// that is needed (the sources do not say; taking 1 of 6 or 2 of 6 gives .29 or .43 of the
// same catches, the part .38). Cans that caught nothing count: leaving them out would hide
// what is dry. Errors are ErrFewCatches, ErrNoWater, and a catch that is no amount of water.
func FiguresOf(catches []float64) (Figures, error) {
	if len(catches) < 2 {
		return Figures{}, ErrFewCatches
	}
	if err := amounts(catches, "can"); err != nil {
		return Figures{}, err
	}
	sorted := slices.Sorted(slices.Values(catches))
	f := Figures{N: len(sorted), Least: sorted[0], Most: sorted[len(sorted)-1]}
	for _, c := range sorted {
		f.Total += c
	}
	if f.Total == 0 {
		return Figures{}, ErrNoWater
	}
	n := float64(f.N)
	f.Mean = f.Total / n
	f.LowQuarterMean, f.LowHalfMean = lowest(sorted, 0.25), lowest(sorted, 0.5)
	f.DULowQuarter = units.Ratio(f.LowQuarterMean / f.Mean)
	f.DULowHalf = units.Ratio(f.LowHalfMean / f.Mean)
	apart, under := 0.0, 0
	for _, c := range sorted {
		apart += math.Abs(c - f.Mean)
		if c < f.Mean {
			under++
		}
	}
	f.CU = units.Ratio(1 - apart/n/f.Mean)
	f.Under = units.Ratio(float64(under) / n)
	if f.Least > 0 && f.Mean/f.Least <= math.MaxFloat64 {
		f.SC = units.Ratio(f.Mean / f.Least)
	}
	return f, nil
}

// lowest is the mean of the lowest share of values that are in order.
func lowest(sorted []float64, share float64) float64 {
	need := share * float64(len(sorted))
	sum, left := 0.0, need
	for _, v := range sorted {
		take := min(left, 1)
		if take <= 0 {
			break
		}
		sum += take * v
		left -= take
	}
	return sum / need
}

// mostCatch bounds what is reckoned with, far beyond any can, so that sums and squares
// stay finite.
const mostCatch = 1e9

// amounts refuses what is no amount of water.
func amounts(values []float64, what string) error {
	for i, v := range values {
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0) || v > mostCatch:
			return fmt.Errorf("%s %d: %g is no amount of water that was caught", what, i+1, v)
		case v < 0:
			return fmt.Errorf("%s %d: a catch of %g is below nothing", what, i+1, v)
		}
	}
	return nil
}
