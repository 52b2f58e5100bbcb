package plan

import "slices"

// The figures of the watering plan: what plants need and what soil holds.
const (
	RainCounted ID = "rain_counted"  // share of a month's rain that plants get
	Depletion   ID = "depletion"     // share of what roots reach that may be used before the next watering
	PartShadeET ID = "part_shade_et" // need in part shade over that in full sun
	ShadeET     ID = "shade_et"      // likewise in shade
	LeastMonth  ID = "least_month"   // what an area needs of a month, in inches, from which it is watered in it
	CreditFull  ID = "credit_full"   // height of plants, in inches, to which what other zones throw over counts whole
	CreditNone  ID = "credit_none"   // from which none of it counts
	SodRoots    ID = "sod_roots"     // of new sod, in inches
	SeedRoots   ID = "seed_roots"    // of sown turf, in inches
	NewPlant    ID = "new_plant"     // plant factor of new sod and seed
	Surface5    ID = "surface_5"     // what stands on ground of 5 to 8 %, as a share of that on flat ground
	Surface8    ID = "surface_8"     // of 8 to 12 %
	Surface12   ID = "surface_12"    // of more
	plantOf        = "plant_"        // with a cover: its plant factor
	rootsOf        = "roots_"        // with a cover: depth of its roots, in inches
	holdsOf        = "holds_"        // with a texture: water a foot of it holds, in inches
	intakeOf       = "intake_"       // with a texture: what it takes in, inches an hour
	surfaceOf      = "surface_"      // with a texture: what may stand on it where it is flat, in inches
	defaultSoil    = "clay_loam"     // where none is said: it takes water in slowly, so that no cycle is too long. Chosen
)

// PlantFactor is the figure of a cover's need over reference ET.
func PlantFactor(c Cover) ID { return ID(plantOf + string(c)) }

// RootDepth is the figure of how deep a cover's roots go, in inches.
func RootDepth(c Cover) ID { return ID(rootsOf + string(c)) }

// SoilHolds is the figure of what a foot of the area's soil holds between full and
// wilting, in inches.
func (a Area) SoilHolds() ID { return ID(holdsOf + a.texture()) }

// SoilIntake is the figure of what the area's soil takes in, in inches an hour.
func (a Area) SoilIntake() ID { return ID(intakeOf + a.texture()) }

// SoilSurface is the figure of what may stand on the area's soil where it is flat
// without running off, in inches.
func (a Area) SoilSurface() ID { return ID(surfaceOf + a.texture()) }

// texture is the area's soil; where none is said, the usual cautious one.
func (a Area) texture() string {
	if a.Soil == "" {
		return defaultSoil
	}
	return a.Soil
}

// SlopeSurface is the figure by which steeper ground keeps less water standing, "" for
// ground of less than 5 %.
func (a Area) SlopeSurface() ID {
	switch {
	case a.SlopeShare < 0.05:
		return ""
	case a.SlopeShare < 0.08:
		return Surface5
	case a.SlopeShare < 0.12:
		return Surface8
	}
	return Surface12
}

// seasonFigures are the rows of the watering plan.
func seasonFigures() []FigureRow {
	const (
		shade  = "chosen within 0.5 to 0.9, the low microclimate factors of the landscape coefficient method (University of California; from memory)"
		wucols = "middle of the moderate plant factors, 0.4 to 0.6 (WUCOLS III, Costello & Jones 2000; from memory)"
		roots  = "chosen: " + practice + "; dig and look"
		fades  = "chosen: leaves catch what falls at their height"
		steep  = "chosen: as the greatest rate on uniform silt loam falls with the slope (USDA, 1.00, 0.80, 0.60, 0.40 in/h; the last from memory)"
	)
	rows := []FigureRow{
		{PlantFactor(Turf), "plants", "Turf's need over reference ET", "", 0.8, 1.5, "cool-season turf, ANSI/ASABE S623 (2015; from memory), and the mean of the University of California's table by month"},
		{PlantFactor(Flowers), "plants", "Flowers' need over reference ET", "", 0.6, 1.5, "upper end of the moderate plant factors (WUCOLS III; from memory); annuals in full bloom ask 0.8"},
		{PlantFactor(Shrubs), "plants", "Shrubs' need over reference ET", "", 0.5, 1.5, wucols},
		{PlantFactor(Groundcover), "plants", "Ground cover's need over reference ET", "", 0.6, 1.5, "upper end of the moderate plant factors (WUCOLS III; from memory)"},
		{PlantFactor(Vegetables), "plants", "Vegetables' need over reference ET", "", 0.8, 1.5, practice},
		{PlantFactor(TreeBed), "plants", "Trees' need over reference ET", "", 0.5, 1.5, wucols},
		{NewPlant, "plants", "Need of new sod and seed over reference ET", "", 1, 1.5, "chosen: ground that is wetted often loses about the reference"},
		{PartShadeET, "plants", "Need in part shade over that in sun", "share", 0.8, 2, shade},
		{ShadeET, "plants", "Need in shade over that in sun", "share", 0.6, 2, shade},
		{RootDepth(Turf), "plants", "Roots of turf", "in", 8, 120, "6 to 12 in: " + roots},
		{RootDepth(Flowers), "plants", "Roots of flowers", "in", 6, 120, roots},
		{RootDepth(Shrubs), "plants", "Roots of shrubs", "in", 18, 120, roots},
		{RootDepth(Groundcover), "plants", "Roots of ground cover", "in", 10, 120, roots},
		{RootDepth(Vegetables), "plants", "Roots of vegetables", "in", 12, 120, roots},
		{RootDepth(TreeBed), "plants", "Roots of trees", "in", 24, 240, roots},
		{SodRoots, "plants", "Roots of new sod", "in", 2, 24, "chosen: the thickness of sod and the ground under it"},
		{SeedRoots, "plants", "Roots of sown turf", "in", 1, 24, "chosen: the ground that seed lies in"},
		{Depletion, "plants", "Water that may be used up before the next watering", "share", 0.5, 1, "50 % is the usual (University of Nebraska and others); less for what wilts easily"},
		{RainCounted, "plants", "Rain that counts", "share", 0.25, 1, "a quarter of a month's rain, as the water budget of the US EPA's labelled homes allows (from memory)"},
		{LeastMonth, "plants", "Need of a month from which an area is watered in it", "in", 0.1, 12, "chosen: less than rain and sums are known by, and a tenth or so of one watering"},
		{CreditFull, "plants", "Plants so low lose nothing of what other zones throw over", "in", 12, 240, fades},
		{CreditNone, "plants", "Plants so high get nothing of what other zones throw over", "in", 36, 240, fades},
	}
	return slices.Concat(rows, soilFigures(), []FigureRow{
		{Surface5, "soil", "Water that stands on slopes of 5 to 8 %, beside flat ground", "share", 0.8, 1, steep},
		{Surface8, "soil", "On slopes of 8 to 12 %", "share", 0.6, 1, steep},
		{Surface12, "soil", "On steeper ones", "share", 0.4, 1, steep},
	})
}

// soilFigures are three rows of each texture.
func soilFigures() []FigureRow {
	const (
		aFoot = " in a foot (University of California, Drought Management, soil characteristics)"
		basic = "basic intake rate and allowable surface accumulation on slopes up to 3 %, Irrigation Association scheduling method (from a copy)"
		silt  = "chosen between clay loam and loam of the Irrigation Association's table, which has no silt loam"
	)
	var holds, takes, stands []FigureRow
	for _, s := range []struct {
		texture, name          string
		holds, intake, surface float64
		held, source           string
	}{
		{"sand", "sand", 0.75, 0.60, 0.40, "0.40 to 1.25" + aFoot, basic},
		{"loamy_sand", "loamy sand", 1.00, 0.50, 0.36, "middle of 0.75 to 1.25" + aFoot, basic},
		{"sandy_loam", "sandy loam", 1.50, 0.40, 0.33, "middle of 1.25 to 1.75" + aFoot, basic},
		{"loam", "loam", 1.90, 0.35, 0.30, "middle of 1.50 to 2.30" + aFoot, basic},
		{"silt_loam", "silt loam", 1.90, 0.30, 0.28, "middle of 1.50 to 2.30" + aFoot, silt},
		{"clay_loam", "clay loam", 2.125, 0.20, 0.26, "middle of 1.75 to 2.50" + aFoot, basic},
		{"clay", "clay", 2.05, 0.10, 0.20, "middle of 1.60 to 2.50" + aFoot, basic},
	} {
		holds = append(holds, FigureRow{ID(holdsOf + s.texture), "soil", "A foot of " + s.name + " holds", "in", s.holds, 6, s.held})
		takes = append(takes, FigureRow{ID(intakeOf + s.texture), "soil", "In an hour " + s.name + " takes in", "in", s.intake, 20, s.source})
		stands = append(stands, FigureRow{ID(surfaceOf + s.texture), "soil", "On flat " + s.name + " may stand", "in", s.surface, 5, s.source})
	}
	return slices.Concat(holds, takes, stands)
}
