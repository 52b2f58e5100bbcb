package design

import (
	"context"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Asked is what follows from a plan but takes too long to be worked out with
// every edit: it is done on request.
type Asked struct {
	Estimate FieldEstimate
	Windy    *WindyDay // nil: not asked for
	Windows  []coverage.Scheduling
}

// FieldEstimate is how even the layout comes out when it is installed with small
// errors, drawn from a seed.
type FieldEstimate struct {
	Seed  uint64              `json:"seed"`
	Draws int                 `json:"draws"` // 0: none was made
	Areas []coverage.Estimate `json:"areas"`
}

// WindyDay is the layout as drawn in a steady wind. The drift is an assumption,
// not a measurement.
type WindyDay struct {
	coverage.Wind
	Drift units.Ratio `json:"drift_share"` // of the distance thrown, carried downwind
	Areas []WindyArea `json:"areas"`       // by id
}

// WindyArea is one planting area on the windy day.
type WindyArea struct {
	ID      plan.ID             `json:"id"`
	DU      units.Ratio         `json:"du_low_quarter"`
	Driest2 units.Ratio         `json:"driest_2_share"` // mean of the driest 2 % over the mean
	Mean    units.InchesPerHour `json:"mean_in_per_h"`
}

// Ask works out all of it. draws of 0 makes no estimate. The error is the
// context's.
func Ask(ctx context.Context, p *plan.Plan, seed uint64, draws int) (Asked, error) {
	a := Asked{Estimate: FieldEstimate{Seed: seed, Draws: draws}}
	var err error
	if draws > 0 {
		if a.Estimate.Areas, err = coverage.FieldEstimate(ctx, p, seed, draws, nil); err != nil {
			return a, err
		}
	}
	wind := coverage.WindOf(p)
	windy, err := coverage.Windy(ctx, p, wind, nil)
	if err != nil {
		return a, err
	}
	a.Windy = InWind(wind, windy.Result)
	a.Windows, err = coverage.SchedulingCoefficients(ctx, p)
	return a, err
}

// InWind is the windy day of a result reckoned in that wind.
func InWind(w coverage.Wind, r *coverage.Result) *WindyDay {
	d := &WindyDay{Wind: w, Drift: w.Drift(), Areas: []WindyArea{}}
	for _, a := range r.Areas {
		d.Areas = append(d.Areas, WindyArea{ID: a.ID, DU: a.DU, Driest2: a.Driest2, Mean: a.Mean})
	}
	return d
}
