package catalog

import (
	"slices"
	"strings"
)

// The columns of a nozzle table as CSV, in the order WriteNozzles writes them.
// One line is one nozzle at one pressure; lines of the same id (or, without
// ids, of the same name) are one nozzle. What does not change with pressure
// need stand only on the nozzle's first line; later lines leave it empty or
// repeat it. A unit in a name is the unit of the column.
const (
	colID         = "id"               // optional: made from the name
	colName       = "name"             // needed
	colFamily     = "family"           // needed: spray, stream, rotor or strip
	colArcLeast   = "arc_least_deg"    // needed but for strips
	colArcMost    = "arc_most_deg"     // needed but for strips; the same as the least for a fixed nozzle
	colFollows    = "flow_follows_arc" // yes: the flow is for 360°; default yes for sprays and streams of no fixed arc
	colTrajectory = "trajectory_deg"   // launch angle above level; default by family
	colProfile    = "profile"          // linear (default), flat, or shares from head to throw: "1 0.9 0.5 0"
	colLow        = "low_profile"      // the same below the least row's pressure; default the generic ring
	colLowSource  = "low_source"       // where that comes from; default the source
	colAhead      = "strip_ahead"      // strips: yes or no; default yes
	colBack       = "strip_back"       // strips: yes or no; default no
	colLeft       = "strip_left_ft"    // strips: needed
	colRight      = "strip_right_ft"   // strips: needed
	colUsual      = "usual_share"      // least throw before a finding; default 0.75
	colLeast      = "least_share"      // least throw that can be set; default 0.5
	colPower      = "flow_power"       // flow against throw when turned down; default by family
	colBest       = "best_psi"         // pressure to plan at; default the row nearest the family's best
	colThread     = "thread"           // what body fits; default by family
	colSource     = "source"           // where the rows come from
	colPressure   = "pressure_psi"     // needed
	colThrow      = "throw_ft"         // needed
	colFlow       = "flow_gpm"         // needed
)

var columns = []string{
	colID, colName, colFamily, colArcLeast, colArcMost, colFollows, colTrajectory, colProfile, colLow, colLowSource,
	colAhead, colBack, colLeft, colRight, colUsual, colLeast, colPower, colBest, colThread, colSource,
	colPressure, colThrow, colFlow,
}

var neededColumns = []string{colName, colFamily, colPressure, colThrow, colFlow}

// metricColumn may stand in place of its customary twin.
type metricColumn struct {
	column string
	factor float64 // customary units in one metric unit
}

// memberColumn is the column that holds a member which Validate finds at fault.
type memberColumn struct{ member, column string }

var nozzleForm = form{
	columns: columns, needed: neededColumns, perLine: []string{colPressure, colThrow, colFlow}, metric: metricColumns,
	one: "nozzle", many: "nozzles", prefix: "n", take: (*table).takeRow, members: memberColumns,
}

// metricColumns may stand in place of their customary twins. The factors are
// exact or the standard ones: 1 bar = 100 kPa and 1 psi = 6.894757293168 kPa,
// 1 ft = 0.3048 m, 1 US gallon = 3.785411784 l.
var metricColumns = map[string]metricColumn{
	"pressure_bar":   {colPressure, 100 / 6.894757293168361},
	"best_bar":       {colBest, 100 / 6.894757293168361},
	"throw_m":        {colThrow, 1 / 0.3048},
	"strip_left_m":   {colLeft, 1 / 0.3048},
	"strip_right_m":  {colRight, 1 / 0.3048},
	"flow_l_per_min": {colFlow, 1 / 3.785411784},
}

// memberColumns says which column holds a member that Validate finds at fault;
// the longest matching start decides.
var memberColumns = []memberColumn{
	{"/name", colName}, {"/family", colFamily}, {"/source", colSource}, {"/thread", colThread},
	{"/arc_least_deg", colArcLeast}, {"/arc_most_deg", colArcMost}, {"/flow_follows_arc", colFollows},
	{"/trajectory_deg", colTrajectory}, {"/profile", colProfile}, {"/low_pressure/source", colLowSource}, {"/low_pressure", colLow},
	{"/strip/left_ft", colLeft}, {"/strip/right_ft", colRight}, {"/strip", colAhead},
	{"/turn_down/usual_share", colUsual}, {"/turn_down/least_share", colLeast}, {"/turn_down/flow_power", colPower},
	{"/best_psi", colBest},
}

// columnOf names the column of a member; for a row's member it is the last
// part of it, which is the column's name.
func (f *form) columnOf(member string) string {
	last := member[strings.LastIndexByte(member, '/')+1:]
	if slices.Contains(f.perLine, last) {
		return last
	}
	for _, m := range f.members {
		if strings.HasPrefix(member, m.member) {
			return m.column
		}
	}
	return last
}
