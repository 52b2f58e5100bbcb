package plan

import "evenfall/internal/catalog"

// The ranges of the rows of pipe and devices are the catalogue's own (see its
// Validate); these are the widest of them.
var (
	rowInches   = span{low: 0, high: 48, openLow: true, in: inches}
	rowInchesOr = span{low: 0, high: 48, in: inches}
	rowC        = span{low: 20, high: 200}
	rowModulus  = span{low: 1, high: 1e8, in: psi}
	rowRating   = span{low: 0, high: 5_000, openLow: true, in: psi}
	rowPrice    = span{low: 0, high: 1e6}
	rowStick    = span{low: 0, high: 10_000, in: feet}
	curveFlow   = span{low: catalog.LeastApartGPM, high: 10_000, in: gpm}
	curveLoss   = span{low: 0, high: 1_000, in: psi}
	deviceFlow  = span{low: 0, high: 10_000, in: gpm}
	devicePSI   = span{low: 0, high: 1_000, in: psi}
)

var pipeEntries = map[string]map[string]entry{
	"PipeClass": {
		"name":        {"Its name in the table.", filled{line}, true},
		"material":    {"What it is made of.", pipeMaterials, true},
		"generic":     {"Whether it is of the built-in set, which belongs to no maker.", free{}, false},
		"source":      {"Where the figures come from, in words.", line, false},
		"convention":  {"How the inside diameters were taken, in words.", line, false},
		"c":           {"Hazen-Williams C.", rowC, true},
		"modulus_psi": {"Modulus of elasticity, for surge.", rowModulus, true},
		"potable":     {"Whether it is made for drinking water, so that it may stand before the backflow device.", free{}, false},
		"joint":       {"How it is joined.", pipeJoints, true},
		"sold_ft":     {"Length of a stick or coil; 0 is not said.", rowStick, false},
		"sizes":       {"What it is made in, by rising size.", listed{free{}, false, 1}, true},
	},
	"PipeSize": {
		"nominal_in":   {"Nominal size.", rowInches, true},
		"outside_in":   {"Outside diameter.", rowInches, true},
		"wall_in":      {"Least wall.", rowInches, true},
		"inside_in":    {"Inside diameter, by the class's convention.", rowInches, true},
		"rating_psi":   {"Pressure it is rated for at 73 °F.", rowRating, true},
		"price_per_ft": {"The user's price of a foot, in money of no name; 0 is not given.", rowPrice, false},
	},
	"Device": {
		"name":       {"Its name in the table.", filled{line}, true},
		"kind":       {"What it does in the pipe.", deviceKinds, true},
		"backflow":   {"How a backflow device works; only for that kind.", backflowKinds, false},
		"generic":    {"Whether it is of the built-in set, which belongs to no maker.", free{}, false},
		"source":     {"Where the figures come from, in words.", line, false},
		"replace":    {"Whether no citable source stands behind its figures: defaults to be replaced by the maker's.", free{}, false},
		"nominal_in": {"Nominal size; 0 is not given.", rowInchesOr, false},
		"least_gpm":  {"Least flow it works at; 0 is not given.", deviceFlow, false},
		"most_gpm":   {"Greatest safe flow; 0 is not given.", deviceFlow, false},
		"least_psi":  {"Least pressure it works at; 0 is not given.", devicePSI, false},
		"most_psi":   {"Greatest pressure it stands; 0 is not given.", devicePSI, false},
		"loss":       {"What it takes at each flow, by rising flow and never less.", listed{free{}, false, 1}, true},
	},
	"LossPoint": {
		"flow_gpm": {"Flow through it.", curveFlow, true},
		"loss_psi": {"Pressure it takes.", curveLoss, true},
	},
	"StaticReading": {
		"psi":   {"Pressure with nothing flowing. Unit: pounds per square inch (gauge).", readPressure, true},
		"hour":  {"Hour of the day, 0 to 23.", hourOfDay, false},
		"month": {"Month of the year; 0 is not noted.", monthOfYear, false},
		"where": {"Where the gauge was, in words.", line, false},
	},
	"PumpPoint": {
		"flow_gpm": {"Flow of the pump.", flow, true},
		"psi":      {"Pressure it gives at the point of connection then. Unit: pounds per square inch (gauge).", pressure, true},
	},
}
