package season

import (
	"fmt"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/planting"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// chain gathers the figures of one area with their sources.
type chain struct {
	p   *plan.Plan
	a   plan.Area
	own string // whose an area's own figure is
}

// NeedOf is what an area of the plan needs in each month of a year, and what its soil
// holds. It asks nothing of water. The error is a sentence.
func NeedOf(p *plan.Plan, id plan.ID, y climate.Year) (Need, error) {
	c := chain{p, p.Areas[id], "this area's own"}
	n := Need{ID: id, Name: c.a.Name}
	density, kmc := c.density(), c.microclimate()
	n.Factors = []Factor{density, kmc}
	roots, holds := c.roots(), c.figure("A foot of its soil holds", Inches, p.Areas[id].SoilHolds())
	n.Holds = watering.Held(units.Inches(holds.Value), units.Inches(roots.Value))
	n.Soil = []Factor{holds, roots, c.depletion(), c.figure("Its soil takes in", InchesHr, c.a.SoilIntake()), c.surface()}
	share, rainSource := p.Figure(plan.RainCounted)
	n.Factors = append(n.Factors, Factor{rainCounts, share, Share, rainSource})
	for m, month := range y.Months {
		plant := c.plant(m)
		x := MonthNeed{ET: month.ET, Plant: plant.Value, Source: plant.Source}
		var err error
		if x.All, err = planting.Landscape(units.Ratio(plant.Value), units.Ratio(density.Value), units.Ratio(kmc.Value)); err != nil {
			return Need{}, fmt.Errorf("%q: %w", c.a.Name, err)
		}
		if x.Rain, err = climate.RainByShare(month.Rain, month.ET*units.Inches(x.All), units.Ratio(share)); err != nil {
			return Need{}, fmt.Errorf("%q in %s: %w", c.a.Name, climate.MonthNames[m], err)
		}
		x.Day = watering.Need(month.ET, x.Rain, x.All, climate.Days[m])
		if c.little(x.Day*units.Inches(climate.Days[m]), n.Holds*units.Inches(n.Soil[soilDepletion].Value)) {
			x.Day, x.Left = 0, x.Day
		}
		n.Month[m] = x
	}
	return n, nil
}

// Taken are the figures of the area in a month for which the plan may have its own, by the
// members of an area: those of the plan, or the usual ones where it has none.
func (n *Need) Taken(month int) map[string]Factor {
	x := n.Month[month]
	return map[string]Factor{
		"plant_factor": {"Plant factor", x.Plant, "", x.Source}, "density_factor": n.Factors[0], "microclimate": n.Factors[1],
		"roots_in": n.Soil[soilRoots], "depletion": n.Soil[soilDepletion],
	}
}

// little reports whether what is needed of a month is too little to water for, and takes
// at most half (chosen) of what may be used up. New turf is kept wet whatever it needs.
func (c chain) little(need, available units.Inches) bool {
	least, _ := c.p.Figure(plan.LeastMonth)
	return float64(need) < least && need <= available/2 && !(c.a.Cover() == plan.Turf && c.young())
}

// Left is what is needed in a month, at most of all areas, and not watered for because it
// is too little (plan.LeastMonth), in inches of all of the month; 0 where there is none.
func (q *Question) Left(month int) units.Inches {
	most := units.Inches(0)
	for _, n := range q.Needs {
		most = max(most, n.Month[month].Left*units.Inches(climate.Days[month]))
	}
	return most
}

// rainCounts names the share of rain among Need.Factors.
const rainCounts = "Rain that counts"

// The places of Need.Soil.
const (
	soilHolds = iota
	soilRoots
	soilDepletion
	soilIntake
	soilSurface
)

func (c chain) figure(what, unit string, id plan.ID) Factor {
	v, source := c.p.Figure(id)
	return Factor{what, v, unit, source}
}

// plant is the plant factor in a month.
func (c chain) plant(month int) Factor {
	const what = "Plant factor"
	turf := c.a.Cover() == plan.Turf
	if turf && c.young() {
		return c.figure(what, "", plan.NewPlant)
	}
	if v := c.a.PlantFactor; v > 0 {
		return Factor{what, v, "", c.own}
	}
	if kind, ok := turfKinds[c.p.Watering.Turf]; turf && ok && climateGiven(c.p.Watering) {
		if by, source, err := planting.InMonth(kind, month); err == nil {
			return Factor{what, float64(by), "", source}
		}
	}
	return c.figure(what, "", plan.PlantFactor(c.a.Cover()))
}

// turfKinds are the words of the document for turf that goes by month.
var turfKinds = map[string]planting.Kind{"cool": planting.CoolTurf, "warm": planting.WarmTurf}

// young reports whether turf is new.
func (c chain) young() bool {
	return c.p.Watering.Stage == plan.NewSod || c.p.Watering.Stage == plan.Sown
}

func (c chain) density() Factor {
	if v := c.a.Density; v > 0 {
		return Factor{"Density factor", v, "", c.own}
	}
	return Factor{"Density factor", 1, "", "a full planting"}
}

func (c chain) microclimate() Factor {
	const what = "Microclimate factor"
	switch {
	case c.a.Microclimate > 0:
		return Factor{what, c.a.Microclimate, "", c.own}
	case c.a.Sunlight() == plan.PartShade:
		return c.figure(what, "", plan.PartShadeET)
	case c.a.Sunlight() == plan.Shade:
		return c.figure(what, "", plan.ShadeET)
	}
	return Factor{what, 1, "", "open ground in full sun"}
}

func (c chain) roots() Factor {
	const what = "Depth of its roots"
	if c.a.Cover() == plan.Turf {
		switch c.p.Watering.Stage {
		case plan.NewSod:
			return c.figure(what, "in", plan.SodRoots)
		case plan.Sown:
			return c.figure(what, "in", plan.SeedRoots)
		}
	}
	if v := c.a.RootsIn; v > 0 {
		return Factor{what, float64(v), "in", c.own}
	}
	return c.figure(what, "in", plan.RootDepth(c.a.Cover()))
}

func (c chain) depletion() Factor {
	const what = "Of what roots reach may be used up"
	if v := c.a.Depletion; v > 0 {
		return Factor{what, float64(v), "share", c.own}
	}
	return c.figure(what, "share", plan.Depletion)
}

// surface is what may stand on the area's ground, less where it is steep.
func (c chain) surface() Factor {
	f := c.figure("May stand on it", "in", c.a.SoilSurface())
	if steep := c.a.SlopeSurface(); steep != "" {
		share, source := c.p.Figure(steep)
		f.Value *= share
		f.Source += fmt.Sprintf("; times %g for its slope (%s)", share, source)
	}
	return f
}

// credit is the share of what zones that do not stand for the area throw over it that
// counts: all where plants are low, none where they are high or the plan says so, and
// evenly less between (trade E22).
func (c chain) credit() float64 {
	full, _ := c.p.Figure(plan.CreditFull)
	none, _ := c.p.Figure(plan.CreditNone)
	h := float64(c.a.PlantHeightIn)
	switch {
	case c.a.OwnZonesOnly:
		return 0
	case h <= full:
		return 1
	case h >= none:
		return 0
	}
	return (none - h) / (none - full)
}
