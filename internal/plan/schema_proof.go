package plan

var (
	orderEntry = entry{"Its place in the order they were noted in, from 1.", inOrder, false}
	dayEntry   = entry{"Civil date: 2026-05-31.", pattern(datePattern), false}
	madeEntry  = entry{"Civil date: 2026-05-31.", filled{pattern(datePattern)}, true}
	saysEntry  = entry{"A remark.", prose, false}
	builtEntry = entry{"Where it was found to be, once measured in the ground; its place in the plan is then that one.", free{}, false}
)

// proofEntries says what the schema says of what was found and measured.
var proofEntries = map[string]map[string]entry{
	"Proof": {
		"started_up":     {"Civil date of the start-up: 2026-05-31.", pattern(datePattern), false},
		"checks":         {"Steps of the start-up that were done.", free{}, false},
		"pressure_tests": {"Pipes held at pressure with everything shut.", free{}, false},
		"wires":          {"Conductors that come out at the controller.", free{}, false},
		"touches":        {"What ran when a wire was powered.", free{}, false},
		"resistances":    {"Readings of resistance between two wires.", free{}, false},
		"audits":         {"Catch-can tests.", free{}, false},
		"cans":           {"The catch-cans of the one audit that older documents hold.", free{}, false},
		"minutes":        {"How long those cans caught. Unit: minutes.", runMinutes, false},
		"throat_in2":     {"Opening of one of those cans. Unit: square inches.", throat, false},
	},
	"StepDone": {
		"on": madeEntry, "note": saysEntry,
		"by": {"Who did it.", line, false},
	},
	"PressureTest": {
		"on": dayEntry, "note": saysEntry,
		"of":        {"The zone whose lateral was held; left out, the main. It may be gone since.", free{}, false},
		"start_psi": {"Pressure at the beginning; 0 is not given.", pressure, false},
		"end_psi":   {"Pressure at the end.", pressure, false},
		"minutes":   {"How long it was held. Unit: minutes.", heldMinutes, false},
		"meter":     {"What the dial of the water meter did meanwhile; left out, it was not looked at.", meterDials, false},
	},
	"FoundWire": {
		"order": orderEntry, "note": saysEntry,
		"mark":     {"Its colour, or the tape put on it.", line, false},
		"terminal": {"The station it is on now; 0 is none.", terminals, false},
		"common":   {"Whether it is known to be the common.", free{}, false},
	},
	"Touch": {
		"order": orderEntry, "note": saysEntry,
		"wire": {"The wire that was powered, among those of the proof; it may be gone since.", free{}, true},
		"ran":  {"The zones that ran; they may be gone since. Left out, none ran.", free{}, false},
	},
	"OhmReading": {
		"order": orderEntry,
		"from":  {"One wire, among those of the proof; it may be gone since.", free{}, true},
		"to":    {"The other.", free{}, true},
		"ohms":  {"What the meter showed; left out, an open circuit. Unit: ohms.", resistance, false},
	},
	"Audit": {
		"name": nameEntry, "on": dayEntry, "note": saysEntry,
		"area":          {"The area it was made on; it may be gone since.", free{}, false},
		"runs":          {"How long each zone ran, by the zone, which may be gone since. Unit: minutes.", eachOf{runMinutes}, false},
		"throat_in2":    {"Opening of one can. Unit: square inches.", throat, false},
		"scale":         {"What is read off the cans; left out, the volume.", canScales, false},
		"wind_mph":      {"Wind while they caught; left out, not said. Unit: miles an hour.", windSpeed, false},
		"wind_from_deg": {"Where it came from, anticlockwise from the plan's east.", direction, false},
		"cans":          {"The cans.", atMost(MaxCans), false},
	},
	"CatchCan": {
		"x_ft": eastEntry, "y_ft": northEntry, "note": saysEntry,
		"catch_ml": {"What it caught; left out, not read yet. Unit: millilitres.", catchML, false},
		"depth_in": {"What it caught, of a can marked by depth; left out, not read yet.", catchDepth, false},
		"left_out": {"Whether the sums leave it out, as one that was tipped.", free{}, false},
	},
	"ZoneRun": {
		"on": dayEntry, "note": saysEntry,
		"when":        {"What it was run for; left out, the start-up.", runWhens, false},
		"static_psi":  {"Pressure before it ran; 0 is not read.", pressure, false},
		"running_psi": {"Pressure while it ran; 0 is not read.", pressure, false},
		"psi_at":      {"Where that was read; left out, at a head.", gaugePlaces, false},
		"at_head":     {"The head it was read at; it may be gone since.", free{}, false},
		"flow_gpm":    {"Flow while it ran; 0 is not read.", flow, false},
		"meter_gal":   {"What the water meter counted; 0 is not read. Unit: US gallons.", container, false},
		"meter_s":     {"In how long. Unit: seconds.", fillTime, false},
		"flushed":     {"Civil date on which its lateral was flushed: 2026-05-31.", pattern(datePattern), false},
	},
	"HeadState": {
		"note":            saysEntry,
		"set_on":          {"Civil date on which it was set as drawn: 2026-05-31.", pattern(datePattern), false},
		"seen_on":         {"Civil date on which its faults were seen: 2026-05-31.", pattern(datePattern), false},
		"faults":          {"What is wrong with it.", listed{headFaults, true, 0}, false},
		"tilt_deg":        {"How far it leans from upright; 0 is not measured.", tilt, false},
		"tilt_toward_deg": {"The way its top leans, anticlockwise from the plan's east.", direction, false},
		"nozzle":          {"The nozzle seen in it, in words, where it is the wrong one.", line, false},
	},
	"Built": {
		"on": madeEntry, "note": saysEntry,
		"was":      {"Where it was drawn before; left out, it is where it was drawn.", free{}, false},
		"was_to":   {"Likewise the other end of a sleeve.", free{}, false},
		"depth_in": {"How deep its top, or the pipe, lies under the ground; 0 is not measured.", depthUnder, false},
	},
	"Photo": {
		"sha256":    {"Checksum of the picture, which the program keeps beside the document.", pattern(digestPattern), true},
		"width_px":  {"Of the picture.", pictureSide, false},
		"height_px": {"Of the picture.", pictureSide, false},
		"on":        {"Civil date it was taken on: 2026-05-31.", pattern(datePattern), false},
		"about":     {"The thing it shows; it may be gone since.", free{}, false},
		"x_ft":      {"Where it was taken, east of the origin.", place10km, false},
		"y_ft":      {"Likewise, north.", place10km, false},
		"caption":   {"What it shows, in words.", prose, false},
	},
}
