package plan

const (
	line  = pattern(linePattern)
	prose = pattern(prosePattern)
)

var (
	eastEntry   = entry{"East of the origin.", place10km, true}
	northEntry  = entry{"North of the origin.", place10km, true}
	statusEntry = entry{"Whether the thing is to be bought, is there already, or goes.", otherwise{statuses, string(defaultStatus)}, false}
	lockEntry   = entry{"Whether it is kept from changes.", free{}, false}
	nameEntry   = entry{"What the user calls it.", line, false}
)

// groundEntries says what the schema says of each member, by type and member. A
// test holds it complete, and its ranges to those of Decode.
var groundEntries = map[string]map[string]entry{
	"Plan": {
		"format":       {"Name and version of the format.", constant(Format), true},
		"name":         {"What the user calls the plan.", line, false},
		"show":         {"The units the plan is shown in. The document's own units do not change.", otherwise{systems, string(defaultShow)}, false},
		"site":         {"Where the property is.", free{}, false},
		"options":      {"The plan's own choices of reckoning.", free{}, false},
		"areas":        {"The closed pieces of the property.", free{}, false},
		"barriers":     {"Walls, fences and hedges that stop water.", free{}, false},
		"trees":        {"Trunks with their root zones.", free{}, false},
		"keep_dry":     {"Things water must not reach.", free{}, false},
		"elevations":   {"Spot heights.", free{}, false},
		"ties":         {"Measured distances that check the drawing.", free{}, false},
		"supply":       {"Where the water comes from.", free{}, false},
		"heads":        {"The sprinklers.", free{}, false},
		"zones":        {"The valves, each with its heads.", free{}, false},
		"nozzles":      {"Every nozzle the plan uses, copied from its table.", free{}, false},
		"bodies":       {"Every body the plan uses, copied from its table.", free{}, false},
		"pipe_classes": {"The rows of the pipe classes used, copied from the catalogue.", free{}, false},
		"devices":      {"The rows of the valves, backflow devices, meters and the like used, copied from the catalogue.", free{}, false},
		"nodes":        {"The joints of the pipes.", free{}, false},
		"pipes":        {"The pipes.", free{}, false},
		"sleeves":      {"The sleeves under paving.", free{}, false},
		"controller":   {"The clock that opens the valves.", free{}, false},
		"sensors":      {"Rain, flow and soil sensors.", free{}, false},
		"wires":        {"Where control wire lies away from the pipes.", free{}, false},
		"boxes":        {"Boxes for splices away from the valves.", free{}, false},
		"wiring":       {"How valves are wired.", free{}, false},
		"prices":       {"What the user pays for items.", free{}, false},
		"quote":        {"Rates that work and parts are offered for.", free{}, false},
		"watering":     {"What the watering plan is made for.", free{}, false},
		"proof":        {"What was measured on the finished system.", free{}, false},
		"photos":       {"Photographs kept with the plan.", atMost(MaxPhotos), false},
		"notes":        {"Remarks pinned to places.", free{}, false},
		"underlay":     {"A photograph under the drawing.", free{}, false},
		"accepted":     {"The findings the user keeps, with the reason.", free{}, false},
	},
	"Site": {
		"latitude_deg":  {"Of the origin, WGS 84.", latitude, false},
		"longitude_deg": {"Of the origin, WGS 84.", longitude, false},
		"elevation_ft":  {"Above sea level.", aboveSea, false},
		"north_deg":     {"Direction of true north in the plan, anticlockwise from straight up the sheet.", otherwise{turn, 0}, false},
		"wind_mph":      {"Wind of the windy day that is asked about.", otherwise{windSpeed, float64(defaultWind)}, false},
		"wind_from_deg": {"Where that wind comes from, anticlockwise from the plan's east: 180 is from the plan's west. Left out: from true west.", direction, false},
		"lot":           {"The property line.", free{}, false},
		"climate":       {"In words.", prose, false},
		"locate_on":     {"Civil date on which the utilities were asked to mark their lines: 2026-05-31.", pattern(datePattern), false},
		"locate_ticket": {"Number or name of that request.", line, false},

		"address":            {"Of the property, in words.", line, false},
		"permit":             {"Number of the permit, as the office that gave it writes it.", line, false},
		"permit_on":          {"Civil date on which the permit was given.", pattern(datePattern), false},
		"licence":            {"Who signs for the work, with their licence, in words.", line, false},
		"association_on":     {"Civil date on which the owners' association approved.", pattern(datePattern), false},
		"right_of_way_on":    {"Civil date of the leave to work in the public right of way.", pattern(datePattern), false},
		"backflow_tested_on": {"Civil date of the last test of the backflow device.", pattern(datePattern), false},
	},
	"Options": {
		"edge_lip_ft": {"Strip along outlines that is left out of the sums.", otherwise{lip, float64(defaultEdgeLip)}, false},
		"wall_lip_ft": {"Strip along buildings, walls and fences that is left out of the sums.", otherwise{lip, float64(defaultWallLip)}, false},
		"cell_ft":     {"Cell of the coverage map; left out, it follows the size of the plan.", cell, false},
		"local_rules": {"Distances that local code or custom keeps here, where they are not the usual ones.", keyed(wordsOf(RuleIDs())), false},
		"figures":     {"What trenches, wire, parts and watering are reckoned with, where it is not the usual.", keyed(wordsOf(FigureIDs())), false},
	},
	"Figure": {
		"value":  {"The figure, in the unit of its row.", span{low: 0, high: 10_000}, true},
		"source": {"Where it comes from, in the user's words.", line, false},
	},
	"LocalRule": {
		"feet":   {"The distance; 0 asks for none.", keptOff, true},
		"source": {"Where it says so, in the user's words.", line, false},
	},
	"Area": {
		"name": nameEntry, "status": statusEntry, "locked": lockEntry,
		"kind":             {"What the area is.", areaKinds, true},
		"outline":          {"Its boundary; the last corner joins the first.", free{}, true},
		"holes":            {"Boundaries of what is cut out of it.", free{}, false},
		"note":             {"A remark.", prose, false},
		"height_ft":        {"Of a building.", otherwise{height, float64(defaultBuildingHeight)}, false},
		"planting":         {"What grows on a planting area.", otherwise{covers, string(defaultCover)}, false},
		"mow_height_in":    {"Of turf.", otherwise{mowing, float64(defaultMowHeight)}, false},
		"soil":             {"Texture class of the soil.", soils, false},
		"slope":            {"Rise over run.", slope, false},
		"slope_toward_deg": {"Direction the ground falls.", direction, false},
		"exposure":         {"How much sun a planting area gets.", otherwise{exposures, string(defaultExposure)}, false},
		"watering":         {"How a planting area gets its water.", otherwise{waterings, string(defaultWatering)}, false},
		"plant_factor":     {"Its need over reference ET; 0 is the figure of its planting.", plantFactor, false},
		"density_factor":   {"Its need over that of a full planting; 0 is 1.", placeFactor, false},
		"microclimate":     {"Its need over that of open ground in full sun; 0 is by its exposure.", placeFactor, false},
		"roots_in":         {"Depth of its roots; 0 is the figure of its planting.", rootDepth, false},
		"depletion":        {"How much of the water that roots reach may be used up before the next watering; 0 is the figure.", wholeShare, false},
		"plant_height_in":  {"Height of the plants, whose leaves catch what other zones throw over; 0 is low.", rootDepth, false},
		"own_zones_only":   {"Whether what other zones throw over is left out of the reckoning.", free{}, false},
	},
	"Barrier": {
		"name": nameEntry, "status": statusEntry, "locked": lockEntry,
		"kind":      {"What it is made of.", otherwise{barrierKinds, string(defaultBarrier)}, false},
		"line":      {"Its run, from end to end.", listed{free{}, false, 2}, true},
		"height_ft": {"Above the ground.", height, true},
	},
	"Tree": {
		"name": nameEntry, "x_ft": eastEntry, "y_ft": northEntry, "status": statusEntry, "locked": lockEntry,
		"trunk_in":     {"Diameter of the trunk.", trunk, true},
		"root_zone_ft": {"Radius of the root zone.", radius, false},
	},
	"KeepDry": {
		"name": nameEntry, "x_ft": eastEntry, "y_ft": northEntry, "status": statusEntry, "locked": lockEntry,
		"radius_ft": {"How far around it must stay dry.", otherwise{radius, float64(defaultKeepDry)}, false},
	},
	"Elevation": {
		"x_ft": eastEntry, "y_ft": northEntry, "status": statusEntry,
		"z_ft": {"Above the plan's own level 0.", level, true},
	},
	"Tie": {
		"status":      statusEntry,
		"from":        {"One end.", free{}, true},
		"to":          {"The other end.", free{}, true},
		"distance_ft": {"As measured.", tieLength, true},
	},
	"Spot": {"x_ft": eastEntry, "y_ft": northEntry},
	"Note": {
		"x_ft": eastEntry, "y_ft": northEntry, "status": statusEntry,
		"text": {"The remark.", prose, false},
	},
	"Underlay": {
		"x_ft":       {"Of the picture's lower left corner, east of the origin.", place10km, true},
		"y_ft":       {"Of the picture's lower left corner, north of the origin.", place10km, true},
		"locked":     lockEntry,
		"sha256":     {"Names the picture by its SHA-256, in hexadecimal.", pattern(digestPattern), true},
		"ft_per_px":  {"Scale: feet to a pixel.", pictureRes, true},
		"rotate_deg": {"Turn of the picture about its lower left corner.", turn, false},
		"opacity":    {"From 0 to 1.", otherwise{opacity, float64(defaultOpacity)}, false},
		"width_px":   {"Width of the picture as shown, the turn a camera noted made already; 0 is not known yet. Unit: pixels.", pictureSide, false},
		"height_px":  {"Height likewise. Unit: pixels.", pictureSide, false},
		"scaled_by":  {"The known length the scale was taken from.", free{}, false},
		"checked_by": {"A second known length, which tells how true the picture is.", free{}, false},
	},
	"KnownLength": {
		"from":        {"One place on the picture.", free{}, true},
		"to":          {"Another.", free{}, true},
		"distance_ft": {"Between the two, as known.", tieLength, true},
	},
	"PicturePoint": {
		"x_px": {"To the right of the left edge of the picture as shown. Unit: pixels.", picturePx, true},
		"y_px": {"Down from its upper edge. Unit: pixels.", picturePx, true},
	},
}
