package watering

import (
	"math/rand/v2"

	"evenfall/internal/units"
)

// week allows days by a string of seven, "x" for allowed.
func week(days string) (all []bool) {
	for _, c := range days {
		all = append(all, c == 'x')
	}
	return all
}

func steady(need units.Inches) (all [12]units.Inches) {
	for i := range all {
		all[i] = need
	}
	return all
}

// even is a zone's rate on n cells.
func even(n int, rate float32) []float32 {
	cells := make([]float32, n)
	for i := range cells {
		cells[i] = rate
	}
	return cells
}

// yard is a made-up yard: so many zones, each with an area of its own, which the
// neighbours' streams reach into; climate by month; soils of the table.
func yard(seed uint64, zones, cells int, days []bool) *Input {
	rng := rand.New(rand.NewPCG(seed, 88))
	in := &Input{Calendar: Calendar{Days: days, From: 22 * 60, Until: 30 * 60}, Controller: Controller{Stations: zones, Percent: true, Soaks: seed%2 == 0, Starts: 12}}
	for z := range zones {
		soil := textures[rng.IntN(len(textures))]
		a := Area{Size: units.SqFeet(cells), Intake: soil.intake, Surface: soil.surface, Depleted: .5,
			Holds: Held(soil.perFoot, units.Inches(6+rng.IntN(10))), Rest: 1 + rng.IntN(2)*rng.IntN(2), FieldDU: units.Ratio(.5 + .4*rng.Float64())}
		peak := .1 + .15*rng.Float64()
		for m := range a.Need {
			season := 1 - .08*float64((m-6)*(m-6))
			a.Need[m] = units.Inches(max(0, peak*season))
		}
		in.Areas = append(in.Areas, a)
		in.Zones = append(in.Zones, Zone{Station: z + 1, Flow: units.GPM(3 + rng.IntN(10)), Own: []int{z}})
	}
	for i := range in.Areas {
		in.Areas[i].Rates = make([][]float32, zones)
		for z := max(0, i-1); z <= min(zones-1, i+1); z++ {
			if z != i && rng.IntN(3) == 0 {
				continue
			}
			rate, reach := .4+1.2*rng.Float64(), .2+.5*rng.Float64()
			r := make([]float32, cells)
			for c := range r {
				at := float64(c) / float64(cells)
				switch {
				case z == i:
					r[c] = float32(rate * (.7 + .6*rng.Float64()))
				case z < i && at < reach:
					r[c] = float32(rate * (reach - at) * rng.Float64())
				case z > i && 1-at < reach:
					r[c] = float32(rate * (reach - 1 + at) * rng.Float64())
				}
			}
			in.Areas[i].Rates[z] = r
		}
	}
	return in
}

// texture is a soil by name with what it takes in and holds.
type texture struct {
	name    string
	intake  units.InchesPerHour
	surface units.Inches
	perFoot units.Inches
}

// textures are the soils of the Irrigation Association's scheduling method (agronomy
// f-2), with the middle of what the University of California says they hold (f-3).
var textures = []texture{
	{"clay", .10, .20, 2.05},
	{"silty clay", .15, .23, 2.05},
	{"clay loam", .20, .26, 2.125},
	{"loam", .35, .30, 1.90},
	{"sandy loam", .40, .33, 1.50},
	{"loamy sand", .50, .36, 1.00},
	{"sand", .60, .40, .75},
}
