package season_test

import (
	"math/rand/v2"
	"testing"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
)

// drawnClimate gives a plan a climate, plants and figures of any kind.
func drawnClimate(p *plan.Plan, r *rand.Rand) {
	months := func(least, most float64) []float64 {
		out := make([]float64, 12)
		for m := range out {
			out[m] = least + r.Float64()*(most-least)
		}
		return out
	}
	w := plan.Watering{Turf: []string{"", "cool", "warm"}[r.IntN(3)], Stage: []string{"", plan.NewSod, plan.Sown}[r.IntN(3)]}
	switch r.IntN(4) {
	case 0:
		w.ETIn = months(0.1, 12)
	case 1:
		north := r.Float64()*130 - 65
		p.Site.Latitude, w.LowF, w.HighF = &north, months(-20, 50), months(50, 115)
	case 2:
		w.ETZone = 1 + r.IntN(climate.Zones)
	default:
		w.PeakInWk = r.Float64() * 4
	}
	if r.IntN(2) == 0 {
		w.RainIn = months(0, 12)
	}
	p.Watering = w
	for _, id := range plan.SortedIDs(p.Areas) {
		change(p, id, func(a *plan.Area) {
			a.PlantFactor, a.Density, a.Microclimate = r.Float64()*1.5, r.Float64()*1.4, r.Float64()*1.4
			if r.IntN(2) == 0 {
				a.PlantFactor, a.Density, a.Microclimate = 0, 0, 0
			}
			a.Exposure = []plan.Exposure{"", plan.Sun, plan.PartShade, plan.Shade}[r.IntN(4)]
			a.RootsIn, a.Depletion = units.Inches(r.IntN(30)), units.Ratio(r.Float64())
		})
	}
}

// Whatever climate and plants are, a need is no less than nought and no more than ET by
// its factors; rain never makes it more, nor does shade or a lower factor.
func TestNeedsKeepTheirOrder(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 40))
	for range 300 {
		p := demo(t)
		drawnClimate(p, r)
		y, _, err := season.YearOf(p)
		if err != nil {
			t.Fatal(err)
		}
		dry := y
		for m := range dry.Months {
			dry.Months[m].Rain = 0
		}
		for _, id := range []plan.ID{"front-lawn", "island", "back-lawn"} {
			need := func(p *plan.Plan, y climate.Year) season.Need {
				n, err := season.NeedOf(p, id, y)
				if err != nil {
					t.Fatal(err)
				}
				return n
			}
			n, without := need(p, y), need(p, dry)
			if !(n.Holds > 0) {
				t.Fatalf("%s holds %g", id, n.Holds)
			}
			less := *p
			less.Areas = map[plan.ID]plan.Area{id: p.Areas[id]}
			change(&less, id, func(a *plan.Area) { a.Microclimate = float64(n.Factors[1].Value) / 2 })
			halved := need(&less, y)
			for m, x := range n.Month {
				most := float64(x.ET) * float64(x.All) / float64(climate.Days[m])
				if !(x.Day >= 0) || float64(x.Day) > most+1e-12 || x.Day > without.Month[m].Day {
					t.Fatalf("%s in month %d: %+v, at most %g, dry %g", id, m+1, x, most, without.Month[m].Day)
				}
				if n.Factors[1].Value > 0 && halved.Month[m].Day > x.Day {
					t.Fatalf("%s in month %d: with half the microclimate %g of %g", id, m+1, halved.Month[m].Day, x.Day)
				}
			}
		}
	}
}
