package watering

import (
	"math"

	"evenfall/internal/units"
)

// Plain is the sum of one zone by itself, as it is done by hand, every figure of its
// chain: need over rate, by the run-time multiplier of the evenness in the field.
type Plain struct {
	Zone, Area   int          // the area that asks longest of the zone; -1: none asks
	Need         units.Inches // of a day
	Days         int          // of the cycle
	Depth        units.Inches // of the cycle
	Rate         units.InchesPerHour
	Base         float64 // minutes of the cycle at the mean rate
	DU           units.Ratio
	Multiplier   float64
	Minutes      float64 // of the cycle
	Interval     int     // days the soil lasts
	Waterings    int     // of the cycle
	EachMinutes  float64 // of a watering
	Longest      float64 // minutes before water would run off; 0: no limit
	Cycles       int
	CycleMinutes float64
	SoakMinutes  float64 // at least, between cycles; 0 for one cycle
	Gallons      units.Gallons
}

// plain is the one-zone sums of a month, so many waterings in a cycle of days, or as
// often as the soil asks when that is 0.
func (in *Input) plain(month, waterings int) []Plain {
	all := make([]Plain, len(in.Zones))
	for z := range in.Zones {
		all[z] = Plain{Zone: z, Area: -1, Days: len(in.Calendar.Days)}
		for _, a := range in.Zones[z].Own {
			if p := in.plainOf(z, a, month, waterings); p.Minutes > all[z].Minutes {
				all[z] = p
			}
		}
	}
	return all
}

func (in *Input) plainOf(zone, area, month, waterings int) Plain {
	a := &in.Areas[area]
	p := Plain{Zone: zone, Area: area, Need: a.Need[month], Days: len(in.Calendar.Days), DU: a.FieldDU, Interval: a.Interval(month)}
	var sum []float64
	for z := range in.Zones {
		for _, own := range in.Zones[z].Own {
			if own != area || a.Rates[z] == nil {
				continue
			}
			if sum == nil {
				sum = make([]float64, len(a.Rates[z]))
			}
			for c, r := range a.Rates[z] {
				sum[c] += float64(r)
			}
		}
	}
	if len(sum) == 0 || p.Need == 0 {
		return p
	}
	mean := driestMean(sum, 1)
	if mean <= 0 {
		return p
	}
	if p.DU == 0 {
		p.DU = units.Ratio(driestMean(sum, 0.25) / mean)
	}
	p.Rate = units.InchesPerHour(mean)
	p.Depth = p.Need * units.Inches(p.Days)
	p.Base = 60 * float64(p.Depth) / mean
	// Ground of which a quarter is all but dry would ask for ever: ten times is enough
	// to show that the heads and not the minutes are at fault (chosen).
	p.Multiplier = min(Multiplier(p.DU, in.Target), 10)
	p.Minutes = p.Base * p.Multiplier
	p.Gallons = units.Gallons(p.Minutes * float64(in.Zones[zone].Flow))
	p.part(a, waterings)
	return p
}

// part cuts the minutes into waterings and cycles.
func (p *Plain) part(a *Area, waterings int) {
	if waterings == 0 {
		waterings = (p.Days + p.Interval - 1) / p.Interval
	}
	p.Waterings = waterings
	p.EachMinutes = p.Minutes / float64(waterings)
	p.Cycles = 1
	if longest := LongestCycle(p.Rate, a.Intake, a.Surface); !math.IsInf(longest, 1) {
		p.Longest = longest
		p.Cycles = max(1, int(math.Ceil(p.EachMinutes/max(longest, 1)-1e-9)))
	}
	p.CycleMinutes = p.EachMinutes / float64(p.Cycles)
	if p.Cycles > 1 {
		p.SoakMinutes = Soak(a.Intake, a.Surface)
	}
}
