package plan

import (
	"cmp"
	"slices"
	"sync"
)

// Figure is one number that trenches, wire, parts or watering are reckoned with, as the
// plan has it, where it is not the usual one.
type Figure struct {
	Value  float64 `json:"value"`
	Source string  `json:"source,omitzero"` // in the user's words
}

// FigureRow is a row of the table of figures.
type FigureRow struct {
	ID     ID
	Group  string // digging | depth | sleeve | wire | parts | plants | soil
	Words  string // what it is
	Unit   string // ft | in | each | share | "" for a plain number
	Usual  float64
	Most   float64 // the largest that is taken; the least is 0
	Source string
}

// The figures, by what reckons with them.
const (
	// What digging costs, beside a foot of trench in lawn, which is 1.
	DigLawn     ID = "dig_lawn"
	DigBed      ID = "dig_bed"
	DigGround   ID = "dig_ground"
	DigRoots    ID = "dig_roots"   // in a root zone at the trunk's clear distance; none nearer
	DigStreet   ID = "dig_street"  // in a right of way
	SleeveFoot  ID = "sleeve_foot" // a foot under paving
	SleeveEach  ID = "sleeve_each" // each crossing
	BendEach    ID = "bend_each"   // each turn of a trench, and each branch away from a head
	BoxEach     ID = "box_each"    // another box with its manifold
	BoxLawn     ID = "box_lawn"    // beside it, for one that stands in lawn
	MainFoot    ID = "main_foot"   // a foot of main in a trench, beside the trench
	LateralFoot ID = "lateral_foot"
	WireFoot    ID = "wire_foot"

	// Cover over the top, in inches.
	DepthLateral ID = "depth_lateral"
	DepthMain    ID = "depth_main"
	DepthDrive   ID = "depth_drive" // under drives and streets
	DepthWalk    ID = "depth_walk"  // sleeves under walks
	DepthWire    ID = "depth_wire"
	TrenchWidth  ID = "trench_width"
	RootsPerInch ID = "roots_per_inch" // feet from a trunk for each inch of its diameter

	SleevePast  ID = "sleeve_past"  // beyond each edge of the paving, in inches
	SleeveTimes ID = "sleeve_times" // its size over the pipe's
	BoreLongest ID = "bore_longest" // longer is for who does it for a living, in feet

	WireVolts  ID = "wire_volts"  // at the controller
	WireLeast  ID = "wire_least"  // at a valve, at inrush
	WireInrush ID = "wire_inrush" // amperes of one valve
	WireTemp   ID = "wire_temp"   // of the copper, in °C
	WireSlack  ID = "wire_slack"  // at each splice, in inches
	WireCoil   ID = "wire_coil"   // feet put aside in each hundred
	WireSpares ID = "wire_spares" // conductors to the farthest box
	WireWaste  ID = "wire_waste"  // share
	WireRise   ID = "wire_rise"   // from the trench up to the controller, in feet

	StationsSpare ID = "stations_spare" // share of the stations
	PipeWaste     ID = "pipe_waste"
	HeadsSpare    ID = "heads_spare"
	FlagsSpare    ID = "flags_spare"
	GravelDepth   ID = "gravel_depth"  // inches under a box
	BricksEach    ID = "bricks_each"   // under a box
	ValveUnions   ID = "valve_unions"  // at each zone valve
	CementJoints  ID = "cement_joints" // joints of 1 in pipe to a pint
	PaintFeet     ID = "paint_feet"    // of trench to a can of marking paint
	TapeTurns     ID = "tape_turns"    // threaded joints to a roll of tape
)

// FigureRows is the table, in the order it is shown. The caller owns it.
func FigureRows() []FigureRow { return slices.Clone(figures()) }

// figures is the table, made once: stages ask it with every edit.
var figures = sync.OnceValue(func() []FigureRow {
	const chosen = "chosen, as a share of a foot of trench in lawn; put your own rates in"
	return append([]FigureRow{
		{DigLawn, "digging", "A foot of trench in lawn", "", 1, 1000, "the measure of the others; money works as well"},
		{DigBed, "digging", "A foot of trench in a bed", "", 1.5, 1000, chosen},
		{DigGround, "digging", "A foot of trench in gravel, mulch or deck", "", 1.3, 1000, chosen},
		{DigRoots, "digging", "A foot of trench among roots, by hand", "", 5, 1000, chosen},
		{DigStreet, "digging", "A foot of trench in a right of way", "", 3, 1000, chosen},
		{SleeveFoot, "digging", "A foot under paving, in a sleeve", "", 4, 1000, chosen},
		{SleeveEach, "digging", "Each crossing of paving", "", 15, 10000, chosen},
		{BendEach, "digging", "Each turn of a trench, and each branch away from a head", "", 2, 1000, "chosen: a tee with two ells and the time to set them, as feet of trench in lawn"},
		{BoxEach, "digging", "Another valve box with its manifold", "", 14, 10000, chosen},
		{BoxLawn, "digging", "A valve box in lawn rather than in a bed", "", 8, 10000, "chosen: a box belongs in a bed or at an edge, where nobody mows over it or trips on it"},
		{MainFoot, "digging", "A foot of main in a trench", "", 0.3, 1000, chosen},
		{LateralFoot, "digging", "A foot of lateral in a trench", "", 0.15, 1000, chosen},
		{WireFoot, "digging", "A foot of wire in a trench", "", 0.05, 1000, chosen},

		{DepthLateral, "depth", "Cover over laterals", "in", 10, 120, "8 to 12 in: " + practice + "; frost and local code decide"},
		{DepthMain, "depth", "Cover over the main", "in", 16, 120, "12 to 18 in: " + practice + "; frost and local code decide"},
		{DepthWalk, "depth", "Cover over sleeves under walks", "in", 18, 120, practice + "; local code decides"},
		{DepthDrive, "depth", "Cover over sleeves under drives and streets", "in", 24, 120, practice + "; local code decides"},
		{DepthWire, "depth", "Cover over wire that lies by itself", "in", 6, 120, "low-voltage irrigation control: from memory; local code decides"},
		{TrenchWidth, "depth", "Width of a trench", "in", 4, 48, practice},
		{RootsPerInch, "depth", "Clear of a trunk, for each inch of its diameter", "ft", 1, 10, practice},

		{SleevePast, "sleeve", "Sleeves past each edge of the paving", "in", 12, 120, practice},
		{SleeveTimes, "sleeve", "Sleeve over the pipe in it, times its size", "", 2, 10, practice},
		{BoreLongest, "sleeve", "Longest bore by hand", "ft", 20, 1000, "chosen; longer ones are for who bores for a living"},

		{WireVolts, "wire", "Volts at the controller", "", 24, 60, "usual secondary of a controller's transformer: " + practice},
		{WireLeast, "wire", "Least volts at a valve, at inrush", "", 20, 60, "published table of wire runs (4 V allowed)"},
		{WireInrush, "wire", "Inrush of a valve, in amperes", "", 0.37, 10, "published pages of solenoids at 24 V, 60 Hz"},
		{WireTemp, "wire", "Temperature of the copper, in °C", "", 20, 90, "catalogue table of wire for valves, in the ground; the electrical code's is at 75 °C and has a fifth more resistance"},
		{WireSlack, "wire", "Slack at each splice", "in", 30, 240, "24 to 36 in: " + practice},
		{WireCoil, "wire", "Feet coiled for each 100 ft of wire", "ft", 2, 50, practice},
		{WireSpares, "wire", "Spare conductors to the farthest box", "each", 1, 20, practice},
		{WireWaste, "wire", "Wire added for what is lost", "share", 0.05, 1, practice},
		{WireRise, "wire", "Wire up the wall to the controller", "ft", 6, 100, "chosen: a trench's depth and a controller at the height of the eyes"},

		{StationsSpare, "parts", "Stations beyond those used", "share", 0.2, 2, practice},
		{PipeWaste, "parts", "Pipe added for what is cut off", "share", 0.05, 1, practice},
		{HeadsSpare, "parts", "Heads and nozzles beyond those drawn", "share", 0, 1, "none unless set"},
		{FlagsSpare, "parts", "Flags beyond those drawn", "share", 0.1, 2, practice},
		{GravelDepth, "parts", "Gravel under a valve box", "in", 3, 48, "2 to 3 in: " + practice},
		{BricksEach, "parts", "Bricks under a valve box", "each", 4, 20, "one to a corner: " + practice},
		{ValveUnions, "parts", "Unions at each zone valve", "each", 2, 2, "one on each side, so that it comes out without a cut: " + practice + "; 0 where the manifold has its own"},
		{CementJoints, "parts", "Joints of 1 in pipe to a pint of cement", "each", 90, 10000, "from memory; the can says"},
		{PaintFeet, "parts", "Trench to a can of marking paint", "ft", 200, 10000, "from memory; the can says"},
		{TapeTurns, "parts", "Threaded joints to a roll of tape", "each", 40, 10000, "chosen"},
	}, seasonFigures()...)
})

// span is what a figure may be.
func (r FigureRow) span() span { return span{low: 0, high: r.Most} }

// figureTable is the table by id, made once: stages ask for figures with every edit.
var figureTable = func() map[ID]FigureRow {
	rows := map[ID]FigureRow{}
	for _, r := range FigureRows() {
		rows[r.ID] = r
	}
	return rows
}()

func figureRow(id ID) (FigureRow, bool) {
	r, ok := figureTable[id]
	return r, ok
}

// FigureIDs are the ids of the table, in its order.
func FigureIDs() []ID {
	var out []ID
	for _, r := range FigureRows() {
		out = append(out, r.ID)
	}
	return out
}

// Figure is a figure of the table as this plan has it, and who says so.
func (p *Plan) Figure(id ID) (float64, string) {
	if f, ok := p.Options.Figures[id]; ok {
		return f.Value, cmp.Or(f.Source, ownFigure)
	}
	row, ok := figureRow(id)
	if !ok {
		panic("plan: no figure " + string(id))
	}
	return row.Usual, row.Source
}

const ownFigure = "this plan's own figure"
