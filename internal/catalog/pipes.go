package catalog

import (
	"math"
	"sort"
	"sync"

	"evenfall/internal/units"
)

// PipeClassEntry is a pipe class with the id it has in the catalogue.
type PipeClassEntry struct {
	ID string `json:"id"`
	PipeClass
	Metric string `json:"-"` // a built-in row's name in metric plans; see NameIn
}

// PipeClasses returns the built-in pipe classes, sorted by id. The caller owns
// the slice, but not the sizes inside: copy before changing them.
func PipeClasses() []PipeClassEntry { return append([]PipeClassEntry(nil), builtinPipes()...) }

// FindPipeClass returns the built-in pipe class of an id.
func FindPipeClass(id string) (PipeClass, bool) {
	all := builtinPipes()
	i := sort.Search(len(all), func(i int) bool { return all[i].ID >= id })
	if i == len(all) || all[i].ID != id {
		return PipeClass{}, false
	}
	return all[i].PipeClass, true
}

var builtinPipes = sync.OnceValue(func() []PipeClassEntry {
	all := []PipeClassEntry{schedule40(), class200(), class315(), pe100(), copperL(), steel40()}
	sort.Slice(all, func(i, j int) bool { return all[i].ID < all[j].ID })
	return all
})

// PlasticPerFt is the material in a foot of pipe, in cubic inches: what sizes
// are compared by where no prices are given.
func (s PipeSize) PlasticPerFt() float64 {
	return 12 * math.Pi * float64((s.Outside-s.Wall)*s.Wall)
}

// Priced reports whether every size of the class has a price, so that money may
// be compared.
func (c PipeClass) Priced() bool {
	for _, s := range c.Sizes {
		if s.PricePerFt <= 0 {
			return false
		}
	}
	return len(c.Sizes) > 0
}

// CostPerFt is what a foot of one size costs: the user's price where all sizes of
// the class have one (inMoney), else the material in it. Within a class it never
// mixes the two.
func (c PipeClass) CostPerFt(s PipeSize) (cost float64, inMoney bool) {
	if c.Priced() {
		return s.PricePerFt, true
	}
	return s.PlasticPerFt(), false
}

// What the built-in classes say of their figures.
const (
	averageInside = "average: outside − 2 (least wall + 0.010 in)"
	leastWall     = "outside − 2 × least wall"
	controlled    = "inside diameter controlled by the standard"

	pvcDimensions = "ASTM D1785 and D2241 by the Hydraulic Institute's Engineering Data Library, table 4.E.4; rating 2 S t/(D − t), S 2,000 psi"
	plasticC      = 150 // EPANET 2.2 manual (plastic 140-150); NRCS 430HH designs plastic pipe with 150
)

// pipe is the nominal sizes of the table and their outside diameters in inches.
// Iron pipe sizes hold for plastic and steel alike.
type ips struct{ nominal, outside units.Inches }

var ironSizes = []ips{{.5, .840}, {.75, 1.050}, {1, 1.315}, {1.25, 1.660}, {1.5, 1.900}, {2, 2.375}, {2.5, 2.875}, {3, 3.500}}

// schedule40 is pipe of one wall for all pressures; the average inside diameters
// are those printed with ASTM D1785's table.
func schedule40() PipeClassEntry {
	walls := []units.Inches{.109, .113, .133, .140, .145, .154, .203, .216}
	inside := []units.Inches{.602, .804, 1.029, 1.360, 1.590, 2.047, 2.445, 3.042}
	ratings := []units.PSI{600, 480, 450, 370, 330, 280, 300, 260}
	c := PipeClass{
		Name: "Schedule 40 PVC", Material: PVC, Generic: true,
		Source: pvcDimensions + "; insides as printed with D1785", Convention: averageInside,
		C: plasticC, ModulusPSI: 400_000, Potable: true, Joint: "cement", SoldFt: 20,
	}
	for i, s := range ironSizes {
		c.Sizes = append(c.Sizes, PipeSize{Nominal: s.nominal, Outside: s.outside, Wall: walls[i], Inside: inside[i], Rating: ratings[i]})
	}
	return PipeClassEntry{ID: "pvc-sch40", PipeClass: c, Metric: c.Name}
}

// class200 is SDR 21. It begins at 3/4 in: what is sold as its 1/2 in is SDR
// 13.5, class 315.
func class200() PipeClassEntry {
	walls := []units.Inches{.060, .063, .079, .090, .113, .137, .167}
	c := PipeClass{
		Name: "Class 200 PVC", Material: PVC, Generic: true, Source: pvcDimensions + "; SDR 21", Convention: averageInside,
		C: plasticC, ModulusPSI: 400_000, Joint: "cement", SoldFt: 20,
	}
	for i, s := range ironSizes[1:] {
		c.Sizes = append(c.Sizes, byAverage(s, walls[i], 200))
	}
	return PipeClassEntry{ID: "pvc-class200", PipeClass: c, Metric: c.Name}
}

// class315 is SDR 13.5, made for irrigation in 1/2 in.
func class315() PipeClassEntry {
	c := PipeClass{
		Name: "Class 315 PVC", Material: PVC, Generic: true, Source: pvcDimensions + "; SDR 13.5", Convention: averageInside,
		C: plasticC, ModulusPSI: 400_000, Joint: "cement", SoldFt: 20,
		Sizes: []PipeSize{byAverage(ironSizes[0], .062, 315)},
	}
	return PipeClassEntry{ID: "pvc-class315", PipeClass: c, Metric: c.Name}
}

func byAverage(s ips, wall units.Inches, rating units.PSI) PipeSize {
	return PipeSize{Nominal: s.nominal, Outside: s.outside, Wall: wall, Inside: thousandth(s.outside - 2*(wall+.010)), Rating: rating}
}

// thousandth rounds a diameter as tables print it.
func thousandth(in units.Inches) units.Inches {
	return units.Inches(math.Round(float64(in)*1000) / 1000)
}

// pe100 is polyethylene with a controlled inside, SIDR 15, 100 psi.
func pe100() PipeClassEntry {
	inside := []units.Inches{.622, .824, 1.049, 1.380, 1.610, 2.067}
	walls := []units.Inches{.060, .060, .070, .092, .107, .138}
	c := PipeClass{
		Name: "Polyethylene, 100 psi", Material: PE, Generic: true,
		Source:     "ASTM D2239, SIDR 15, from memory; C the lower end of 140-150 for plastic (EPANET 2.2 manual), for its insert fittings",
		Convention: controlled, C: 140, ModulusPSI: 100_000, Joint: "insert", SoldFt: 100,
	}
	for i, d := range inside {
		c.Sizes = append(c.Sizes, PipeSize{Nominal: ironSizes[i].nominal, Outside: thousandth(d + 2*walls[i]), Wall: walls[i], Inside: d, Rating: 100})
	}
	return PipeClassEntry{ID: "pe-100", PipeClass: c, Metric: "Polyethylene, 6.9 bar"}
}

// copperL is what service lines and the first feet out of a wall are made of. Its
// C is the one a building code's table of service lines works out to.
func copperL() PipeClassEntry {
	walls := []units.Inches{.040, .045, .050, .055, .060, .070}
	ratings := []units.PSI{722, 584, 494, 439, 408, 364}
	c := PipeClass{
		Name: "Copper, type L", Material: Copper, Generic: true,
		Source:     "ASTM B88; C within the 121-128 that 77 Ill. Adm. Code 890 appendix A table N works out to; ratings of annealed tube from memory",
		Convention: leastWall, C: 125, ModulusPSI: 17_000_000, Potable: true, Joint: "solder", SoldFt: 20,
	}
	for i, wall := range walls {
		nominal := ironSizes[i].nominal
		outside := nominal + .125
		c.Sizes = append(c.Sizes, PipeSize{Nominal: nominal, Outside: outside, Wall: wall, Inside: thousandth(outside - 2*wall), Rating: ratings[i]})
	}
	return PipeClassEntry{ID: "copper-l", PipeClass: c, Metric: c.Name}
}

// steel40 is galvanised pipe with threads; its fittings limit the pressure.
func steel40() PipeClassEntry {
	walls := []units.Inches{.109, .113, .133, .140, .145, .154, .203, .216}
	c := PipeClass{
		Name: "Galvanised steel, schedule 40", Material: Steel, Generic: true,
		Source:     "Hydraulic Institute's Engineering Data Library; C 120 for galvanised iron (EPANET 2.2 manual); rating of class 150 threaded fittings from memory",
		Convention: leastWall, C: 120, ModulusPSI: 30_000_000, Potable: true, Joint: "thread", SoldFt: 21,
	}
	for i, s := range ironSizes {
		c.Sizes = append(c.Sizes, PipeSize{Nominal: s.nominal, Outside: s.outside, Wall: walls[i], Inside: thousandth(s.outside - 2*walls[i]), Rating: 300})
	}
	return PipeClassEntry{ID: "steel-40", PipeClass: c, Metric: c.Name}
}
