package plan

// The ranges of the rows copied from the catalogue are the catalogue's own (see
// its Validate); these are the widest of them.
var (
	rowPressure = span{low: 0, high: 200, openLow: true, in: psi}
	rowThrow    = span{low: 0, high: 250, openLow: true, in: feet}
	rowFlow     = span{low: 0, high: 500, openLow: true, in: gpm}
	rowArc      = span{low: 0, high: 360, in: degrees}
	rowSide     = span{low: 0, high: 250, in: feet}
	rowAngle    = span{low: 0, high: 89, in: degrees}
	rowShare    = span{low: 0, high: 1, openLow: true, in: share}
	rowPower    = span{low: 0, high: 4}
	profileRate = span{low: 0, high: 1_000}
	bodyHeight  = span{low: 0, high: 60, in: inches}
	bodySetting = span{low: 0, high: 200, in: psi}
	bodyInlet   = span{low: 0, high: 4, in: inches}
)

var catalogEntries = map[string]map[string]entry{
	"Nozzle": {
		"name":             {"Its name in the table.", filled{line}, true},
		"family":           {"Which decides how its size is read and how its flow follows its arc.", nozzleFamilies, true},
		"generic":          {"Whether it is of the built-in set, which belongs to no maker.", free{}, false},
		"source":           {"Where the rows come from, in words.", line, false},
		"arc_least_deg":    {"Narrowest arc; that of a fixed nozzle is its only one; 0 for strips.", rowArc, false},
		"arc_most_deg":     {"Widest arc; 0 for strips.", rowArc, false},
		"flow_follows_arc": {"Whether the flow of a row is for 360° and shrinks with the arc.", free{}, false},
		"trajectory_deg":   {"Launch angle above level.", rowAngle, true},
		"profile":          {"How the rate falls off along the throw.", free{}, true},
		"strip":            {"The rectangle a strip nozzle wets.", free{}, false},
		"turn_down":        {"How far the throw may be turned down.", free{}, true},
		"best_psi":         {"Pressure to plan at.", rowPressure, true},
		"rows":             {"What it does at each pressure, by rising pressure.", listed{free{}, false, 1}, true},
		"thread":           {"What body it fits.", line, false},
		"low_pressure":     {"How the rate falls off below the least row's pressure; left out, in a generic ring.", free{}, false},
	},
	"LowPressure": {
		"profile": {"How the rate falls off along the throw then.", free{}, true},
		"source":  {"Where that comes from, in words.", line, false},
	},
	"Row": {
		"pressure_psi": {"Pressure at the head.", rowPressure, true},
		"throw_ft":     {"Throw at that pressure.", rowThrow, true},
		"flow_gpm":     {"Flow at that pressure.", rowFlow, true},
	},
	"Profile": {
		"kind":   {"Its name.", profileKinds, true},
		"shares": {"Relative rate at equal steps from the head to the throw.", listed{profileRate, false, 2}, false},
	},
	"StripShape": {
		"ahead":    {"Whether it wets the throw ahead.", free{}, false},
		"back":     {"Whether it wets the throw behind.", free{}, false},
		"left_ft":  {"Width to its left.", rowSide, false},
		"right_ft": {"Width to its right.", rowSide, false},
	},
	"TurnDown": {
		"usual_share": {"Least throw over the table's throw that is usual.", rowShare, true},
		"least_share": {"Where the mechanical stop is.", rowShare, true},
		"flow_power":  {"Power of that share by which the flow is multiplied.", rowPower, true},
	},
	"Body": {
		"name":          {"Its name in the table.", filled{line}, true},
		"generic":       {"Whether it is of the built-in set, which belongs to no maker.", free{}, false},
		"source":        {"Where the row comes from, in words.", line, false},
		"height_in":     {"How high it pops up.", bodyHeight, false},
		"regulated_psi": {"Pressure it is regulated to; 0 is not regulated.", bodySetting, false},
		"check_valve":   {"Whether it holds the water back when the valve is shut.", free{}, false},
		"takes":         {"Thread of the nozzles it takes.", line, false},
		"inlet_in":      {"Nominal size of the inlet thread.", bodyInlet, false},
	},
}
