package season_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
	"evenfall/testdata/plans"
)

func demo(t testing.TB) *plan.Plan {
	t.Helper()
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// even are estimates of one evenness for all areas, so that tests draw none.
func even(p *plan.Plan, du units.Ratio) []coverage.Estimate {
	var out []coverage.Estimate
	for _, id := range plan.SortedIDs(p.Areas) {
		out = append(out, coverage.Estimate{ID: id, Mean: du})
	}
	return out
}

func ask(t testing.TB, p *plan.Plan) *season.Question {
	t.Helper()
	q, err := season.Ask(context.Background(), p, even(p, 0.65), nil)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.6g, want %.6g ± %g", what, got, want, within)
	}
}

func change(p *plan.Plan, id plan.ID, do func(*plan.Area)) {
	a := p.Areas[id]
	do(&a)
	p.Areas[id] = a
}

func needOf(t *testing.T, q *season.Question, id plan.ID) season.Need {
	t.Helper()
	for _, n := range q.Needs {
		if n.ID == id {
			return n
		}
	}
	t.Fatalf("no need of %s", id)
	return season.Need{}
}

func areaOf(t *testing.T, q *season.Question, id plan.ID) watering.Area {
	t.Helper()
	for _, a := range q.Input.Areas {
		if a.ID == string(id) {
			return a
		}
	}
	t.Fatalf("no area %s", id)
	return watering.Area{}
}

// The demo's week at peak is that of reference ET .25 in a day: 1.4 in of turf, 1.05 of
// flowers (agronomy g-C: .25 × .80 × 7).
func TestTheDemosNeedAtPeak(t *testing.T) {
	t.Parallel()
	p := demo(t)
	q := ask(t, p)
	if !q.PeakOnly || len(q.Needs) != 6 || len(q.Unwet) != 0 {
		t.Fatalf("peak only %v, %d needs, unwet %v", q.PeakOnly, len(q.Needs), q.Unwet)
	}
	for m, days := range []float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31} {
		near(t, "reference", float64(q.Year.Months[m].ET)/days, .25, 1e-12)
		near(t, "turf in a week", 7*float64(needOf(t, q, "front-lawn").Month[m].Day), 1.4, 1e-12)
		near(t, "flowers in a week", 7*float64(needOf(t, q, "island").Month[m].Day), 1.05, 1e-12)
		near(t, "part shade in a week", 7*float64(needOf(t, q, "back-lawn").Month[m].Day), 1.12, 1e-12)
	}
	// clay loam, 2.125 in a foot, roots of 8 in, half of it
	a := areaOf(t, q, "front-lawn")
	near(t, "holds", float64(a.Holds), 2.125*8/12, 1e-12)
	near(t, "depleted", float64(a.Depleted), .5, 0)
	near(t, "intake", float64(a.Intake), .2, 0)
	near(t, "surface", float64(a.Surface), .26, 0)
}

// The plain sum of each zone at the demo's peak, field DU .62 to .70: trade.md §6 has
// 242 + 242 + 266 + 213 + 79 + 49 minutes a week (without shade on the back lawn, and
// the flowers by the nominal rate of their sprays, 1.6 in/h, where the field has more).
func TestTheDemosMinutesAtPeak(t *testing.T) {
	t.Parallel()
	p := demo(t)
	change(p, "back-lawn", func(a *plan.Area) { a.Microclimate = 1 })
	q := ask(t, p)
	mean := func(id plan.ID, zones ...int) float64 {
		a, sum := areaOf(t, q, id), 0.0
		for _, z := range zones {
			for _, r := range a.Rates[z] {
				sum += float64(r)
			}
		}
		return sum / float64(len(a.Rates[zones[0]]))
	}
	for _, c := range []struct {
		area  plan.ID
		zones []int
		week  float64
	}{{"front-lawn", []int{0, 1}, 242}, {"side-lawn", []int{2}, 266}, {"back-lawn", []int{3}, 213}, {"strip", []int{4}, 79}, {"entry-bed", []int{5}, 49}} {
		a := areaOf(t, q, c.area)
		got := coverage.WeekMinutes(7*a.Need[6], units.InchesPerHour(mean(c.area, c.zones...)), a.FieldDU)
		t.Logf("%s: %.0f min, trade 6 has %.0f", c.area, got, c.week)
		near(t, string(c.area), got, c.week, 0.15*c.week)
	}
}

// The blocks of ground have the mean and the evenness of the readings, which weigh the
// cells of a finer raster.
func TestBlocksReadLikeTheField(t *testing.T) {
	t.Parallel()
	p := demo(t)
	q := ask(t, p)
	r, err := coverage.Compute(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range r.Areas {
		var all []float64
		for _, rates := range areaOf(t, q, a.ID).Rates {
			if all == nil && rates != nil {
				all = make([]float64, len(rates))
			}
			for k, v := range rates {
				all[k] += float64(v)
			}
		}
		slices.Sort(all)
		sum, low := 0.0, 0.0
		for k, v := range all {
			sum += v
			if k < len(all)/4 {
				low += v
			}
		}
		mean := sum / float64(len(all))
		t.Logf("%s: %d blocks, mean %.4f of %.4f, DU %.4f of %.4f", a.ID, len(all), mean, a.Mean, low/float64(len(all)/4)/mean, a.DU)
		near(t, "mean of "+string(a.ID), mean, float64(a.Mean), 0.01*float64(a.Mean))
		near(t, "DU of "+string(a.ID), low/float64(len(all)/4)/mean, float64(a.DU), 0.01)
	}
}
