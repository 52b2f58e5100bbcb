package catalog

import (
	"io"
	"sort"
	"strings"

	"evenfall/internal/units"
)

// The columns of a table of pipe: one line is one size; lines of the same id (or,
// without ids, of the same name) are one class. A column is named as the member it
// fills.
const (
	colMaterial   = "material"    // needed: pvc, pe, copper or steel
	colC          = "c"           // Hazen-Williams; default by material
	colModulus    = "modulus_psi" // of elasticity; default by material
	colPotable    = "potable"     // yes or no; default no
	colJoint      = "joint"       // default by material
	colSold       = "sold_ft"     // length of a stick or coil
	colConvention = "convention"  // how the inside diameters were taken
	colNominal    = "nominal_in"  // needed
	colOutside    = "outside_in"  // needed
	colWall       = "wall_in"     // needed
	colInside     = "inside_in"   // needed
	colRating     = "rating_psi"  // needed
	colPrice      = "price_per_ft"
)

// The columns of a table of devices: one line is one point of a loss curve.
const (
	colKind     = "kind"     // needed
	colBackflow = "backflow" // needed for backflow devices
	colLeastGPM = "least_gpm"
	colMostGPM  = "most_gpm"
	colLeastPSI = "least_psi"
	colMostPSI  = "most_psi"
	colReplace  = "replace"  // yes: figures of no source, to be replaced; default no
	colLoss     = "loss_psi" // needed, beside flow_gpm
)

const (
	perBar   = 100 / 6.894757293168361
	perMetre = 1 / 0.3048
	perMM    = 1 / 25.4
	perLitre = 1 / 3.785411784
)

var pipeForm = form{
	columns: []string{colID, colName, colMaterial, colC, colModulus, colPotable, colJoint, colSold, colConvention, colSource,
		colNominal, colOutside, colWall, colInside, colRating, colPrice},
	needed:  []string{colName, colMaterial, colNominal, colOutside, colWall, colInside, colRating},
	perLine: []string{colNominal, colOutside, colWall, colInside, colRating, colPrice},
	metric: map[string]metricColumn{
		"outside_mm": {colOutside, perMM}, "wall_mm": {colWall, perMM}, "inside_mm": {colInside, perMM}, "rating_bar": {colRating, perBar},
		"sold_m": {colSold, perMetre}, "price_per_m": {colPrice, 0.3048},
	},
	one: "pipe class", many: "pipe classes", prefix: "p", members: []memberColumn{{"/sizes", colNominal}},
}

var deviceForm = form{
	columns: []string{colID, colName, colKind, colBackflow, colNominal, colLeastGPM, colMostGPM, colLeastPSI, colMostPSI, colReplace, colSource, colFlow, colLoss},
	needed:  []string{colName, colKind, colFlow, colLoss},
	perLine: []string{colFlow, colLoss},
	metric: map[string]metricColumn{
		"flow_l_per_min": {colFlow, perLitre}, "loss_bar": {colLoss, perBar}, "least_l_per_min": {colLeastGPM, perLitre}, "most_l_per_min": {colMostGPM, perLitre},
		"least_bar": {colLeastPSI, perBar}, "most_bar": {colMostPSI, perBar},
	},
	one: "device", many: "devices", prefix: "d", members: []memberColumn{{"/loss", colLoss}},
}

// ReadPipes reads a user's table of pipe, as ReadNozzles reads nozzles.
func ReadPipes(r io.Reader) *ImportOf[PipeClassEntry] {
	return readTable(r, &pipeForm, (*table).pipeClass)
}

// ReadDevices reads a user's table of devices, as ReadNozzles reads nozzles.
func ReadDevices(r io.Reader) *ImportOf[DeviceEntry] {
	return readTable(r, &deviceForm, (*table).device)
}

// pipeDefaults is what a table may leave unsaid of a material.
var pipeDefaults = map[PipeMaterial]struct {
	c, modulus float64
	joint      string
}{
	PVC: {plasticC, 400_000, "cement"}, PE: {140, 100_000, "insert"}, Copper: {125, 17_000_000, "solder"}, Steel: {120, 30_000_000, "thread"},
}

// usersTable is the source of a row that names none.
const usersTable = "the user's table"

// pipeClass builds one class from its lines.
func (t *table) pipeClass(g *group) (string, PipeClassEntry, bool) {
	known, l := t.known(), g.lines[0]
	c := PipeClass{
		Name: t.text(l, colName, ""), Material: PipeMaterial(strings.ToLower(t.field(l, colMaterial))),
		Source: t.text(l, colSource, usersTable), Convention: t.text(l, colConvention, "as in the user's table"),
		Potable: t.flag(l, colPotable, false), SoldFt: units.Feet(t.numberOr(l, colSold, 0)),
	}
	d, ok := pipeDefaults[c.Material]
	if !ok {
		t.wrong(l.number, colMaterial, "%q is no material of pipe. Write pvc, pe, copper or steel.", t.field(l, colMaterial))
	}
	c.C, c.ModulusPSI = t.numberOr(l, colC, d.c), units.PSI(t.numberOr(l, colModulus, d.modulus))
	c.Joint = strings.ToLower(t.text(l, colJoint, d.joint))
	for _, row := range byNumber(t, g, colNominal, "size") {
		c.Sizes = append(c.Sizes, PipeSize{
			Nominal: units.Inches(t.numberOf(row, colNominal)), Outside: units.Inches(t.numberOf(row, colOutside)), Wall: units.Inches(t.numberOf(row, colWall)),
			Inside: units.Inches(t.numberOf(row, colInside)), Rating: units.PSI(t.numberOf(row, colRating)), PricePerFt: t.numberOr(row, colPrice, 0),
		})
	}
	id := t.idOf(g, c.Name)
	return id, PipeClassEntry{ID: id, PipeClass: c}, t.sound(g, known, c.Validate)
}

// device builds one device from its lines.
func (t *table) device(g *group) (string, DeviceEntry, bool) {
	known, l := t.known(), g.lines[0]
	d := Device{
		Name: t.text(l, colName, ""), Kind: DeviceKind(strings.ToLower(t.field(l, colKind))), Backflow: BackflowKind(strings.ToLower(t.field(l, colBackflow))),
		Source: t.text(l, colSource, usersTable), Replace: t.flag(l, colReplace, false), Nominal: units.Inches(t.numberOr(l, colNominal, 0)),
		LeastGPM: units.GPM(t.numberOr(l, colLeastGPM, 0)), MostGPM: units.GPM(t.numberOr(l, colMostGPM, 0)),
		LeastPSI: units.PSI(t.numberOr(l, colLeastPSI, 0)), MostPSI: units.PSI(t.numberOr(l, colMostPSI, 0)),
	}
	for _, row := range byNumber(t, g, colFlow, "flow") {
		d.Loss = append(d.Loss, LossPoint{units.GPM(t.numberOf(row, colFlow)), units.PSI(t.numberOf(row, colLoss))})
	}
	id := t.idOf(g, d.Name)
	return id, DeviceEntry{ID: id, Device: d}, t.sound(g, known, d.Validate)
}

// numberOf reads a number that is needed; 0 with an error where there is none.
func (t *table) numberOf(l line, name string) float64 {
	v, _ := t.number(l, name, true)
	return v
}

// byNumber is the lines of a group by one of their numbers, each once. What is no
// number is told when the line is read.
func byNumber(t *table, g *group, name, what string) []line {
	at := map[int]float64{}
	seen := map[float64]int{}
	var out []line
	for _, l := range g.lines {
		v, err := units.ParseNumber(t.field(l, name))
		if was, twice := seen[v]; err == nil && twice {
			t.wrong(l.number, name, "This %s has that %s already, on line %d. Remove one of them.", t.form.one, what, was)
			continue
		}
		if err == nil {
			seen[v] = l.number
		}
		at[l.number] = v
		out = append(out, l)
	}
	sort.SliceStable(out, func(i, j int) bool { return at[out[i].number] < at[out[j].number] })
	for _, l := range out {
		g.from = append(g.from, l.number)
	}
	return out
}
