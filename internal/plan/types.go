package plan

import (
	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// Format is the name and version of the document this package writes.
const Format = "evenfall-plan/1"

// ID names a thing inside its collection: a letter, then letters, digits, - or
// _, 40 characters at most. An id is never used again after its thing is gone.
type ID string

// Plan is one property and its sprinkler system as the user drew it. Nothing
// computed is in it. Collections are keyed by ID so that the JSON Pointer to a
// thing never moves.
type Plan struct {
	Format  string       `json:"format"`
	Name    string       `json:"name"`
	Show    units.System `json:"show"` // default us
	Site    Site         `json:"site,omitzero"`
	Options Options      `json:"options,omitzero"`

	Areas      map[ID]Area      `json:"areas,omitempty"`
	Barriers   map[ID]Barrier   `json:"barriers,omitempty"`
	Trees      map[ID]Tree      `json:"trees,omitempty"`
	KeepDry    map[ID]KeepDry   `json:"keep_dry,omitempty"`
	Elevations map[ID]Elevation `json:"elevations,omitempty"`
	Ties       map[ID]Tie       `json:"ties,omitempty"`

	Supply Supply `json:"supply,omitzero"`

	Heads   map[ID]Head           `json:"heads,omitempty"`
	Zones   map[ID]Zone           `json:"zones,omitempty"`
	Nozzles map[ID]catalog.Nozzle `json:"nozzles,omitempty"` // every row used, copied in
	Bodies  map[ID]catalog.Body   `json:"bodies,omitempty"`  // likewise
	Nodes   map[ID]Node           `json:"nodes,omitempty"`
	Pipes   map[ID]Pipe           `json:"pipes,omitempty"`
	Sleeves map[ID]Sleeve         `json:"sleeves,omitempty"`

	Controller Controller    `json:"controller,omitzero"`
	Sensors    map[ID]Sensor `json:"sensors,omitempty"`
	Watering   Watering      `json:"watering,omitzero"`
	Proof      Proof         `json:"proof,omitzero"`

	Notes    map[ID]Note     `json:"notes,omitempty"`
	Underlay *Underlay       `json:"underlay,omitempty"`
	Accepted map[ID]Accepted `json:"accepted,omitempty"` // findings accepted with a reason
}

// Status says whether a thing is to be bought, is there already, or goes.
type Status string

// The statuses. The empty status in memory is never stored: reading fills New.
const (
	New      Status = "new"
	Existing Status = "existing"
	Remove   Status = "remove"
)

// Site is where the property is.
type Site struct {
	Latitude    *float64      `json:"latitude_deg,omitempty"`  // of the plan's origin, WGS 84
	Longitude   *float64      `json:"longitude_deg,omitempty"` // of the plan's origin, WGS 84
	ElevationFt *units.Feet   `json:"elevation_ft,omitempty"`  // above sea level
	NorthDeg    units.Degrees `json:"north_deg,omitzero"`      // direction of true north in the plan; 0 means straight up the sheet (y)
	Lot         geom.Outline  `json:"lot,omitempty"`           // property line, if drawn
	Climate     string        `json:"climate,omitzero"`        // in words, for later use
}

// Options are the plan's own choices of reckoning.
type Options struct {
	EdgeLipFt *units.Feet `json:"edge_lip_ft,omitempty"` // strip along outlines left out of the sums; default 0.5 (6 in)
	CellFt    units.Feet  `json:"cell_ft,omitzero"`      // raster cell; default by size of plan (0.25 on a house lot)
}

// Kind is what an area is.
type Kind string

// The kinds of area.
const (
	Planting   Kind = "planting"
	Building   Kind = "building"
	Paving     Kind = "paving"
	Ground     Kind = "ground"       // gravel, mulch, deck, play: wetting does no harm
	RightOfWay Kind = "right_of_way" // street, public walk, neighbour
	NoDig      Kind = "no_dig"       // septic field, easement, private line: an overlay, not a surface
	Water      Kind = "water"
)

// Area is a closed piece of the property. Where areas overlap the one of the
// stronger kind has the ground: building, water, paving, ground, planting,
// right of way; between two of one kind the smaller (a bed drawn in a lawn).
// NoDig lies over the others and takes no ground.
type Area struct {
	Name    string         `json:"name"`
	Kind    Kind           `json:"kind"`
	Outline geom.Outline   `json:"outline"`
	Holes   []geom.Outline `json:"holes,omitempty"`
	Status  Status         `json:"status,omitzero"`
	Locked  bool           `json:"locked,omitzero"`
	Note    string         `json:"note,omitzero"`

	HeightFt *units.Feet `json:"height_ft,omitempty"` // buildings: default 10

	// Planting only.
	Planting       string        `json:"planting,omitzero"`         // turf | flowers | shrubs | groundcover | vegetables | trees; default turf
	MowHeightIn    units.Inches  `json:"mow_height_in,omitzero"`    // turf: default 3
	Soil           string        `json:"soil,omitzero"`             // texture: sand | loamy_sand | sandy_loam | loam | silt_loam | clay_loam | clay
	SlopeShare     units.Ratio   `json:"slope,omitzero"`            // rise over run
	SlopeTowardDeg units.Degrees `json:"slope_toward_deg,omitzero"` // direction the ground falls
	Exposure       string        `json:"exposure,omitzero"`         // sun | part_shade | shade; default sun
	Watering       WateringKind  `json:"watering,omitzero"`         // how it gets water; default overhead
}

// WateringKind is how a planting area gets its water.
type WateringKind string

// The ways a planting area gets water.
const (
	Overhead    WateringKind = "overhead"
	PointSource WateringKind = "point"
	ByHand      WateringKind = "by_hand"
	NoWatering  WateringKind = "none"
)

// Barrier is a wall, fence or hedge that stops water below its height.
type Barrier struct {
	Name     string     `json:"name"`
	Kind     string     `json:"kind,omitzero"` // wall | fence | hedge; default fence
	Line     geom.Line  `json:"line"`
	HeightFt units.Feet `json:"height_ft"`
	Status   Status     `json:"status,omitzero"`
}

// Tree is a trunk with its root zone; the trunk stands in the way of water.
type Tree struct {
	Name       string       `json:"name"`
	X          units.Feet   `json:"x_ft"`
	Y          units.Feet   `json:"y_ft"`
	TrunkIn    units.Inches `json:"trunk_in"`              // diameter
	RootZoneFt units.Feet   `json:"root_zone_ft,omitzero"` // radius
	Status     Status       `json:"status,omitzero"`
}

// KeepDry is a thing water must not reach: air-conditioner, meter, window well.
type KeepDry struct {
	Name     string     `json:"name"`
	X        units.Feet `json:"x_ft"`
	Y        units.Feet `json:"y_ft"`
	RadiusFt units.Feet `json:"radius_ft,omitzero"` // default 1.5
	Status   Status     `json:"status,omitzero"`
}

// Elevation is a spot height.
type Elevation struct {
	X units.Feet `json:"x_ft"`
	Y units.Feet `json:"y_ft"`
	Z units.Feet `json:"z_ft"` // above the plan's own level 0
}

// Tie is a measured distance between two places, kept to check the drawing.
type Tie struct {
	From       Spot       `json:"from"`
	To         Spot       `json:"to"`
	DistanceFt units.Feet `json:"distance_ft"`
}

// Spot is a place on the plan.
type Spot struct {
	X units.Feet `json:"x_ft"`
	Y units.Feet `json:"y_ft"`
}

// Supply is where the water comes from. Until Measured it is an assumption and
// every print says so.
type Supply struct {
	Kind             string       `json:"kind,omitzero"` // town_meter | house_pipe | well | pond | reclaimed; default town_meter
	Measured         bool         `json:"measured,omitzero"`
	StaticPSI        units.PSI    `json:"static_psi,omitzero"`
	MeasuredAt       string       `json:"measured_at,omitzero"` // hour and season, in words
	FlowGPM          units.GPM    `json:"flow_gpm,omitzero"`
	ResidualPSI      units.PSI    `json:"residual_psi,omitzero"` // at FlowGPM
	DesignFlowGPM    units.GPM    `json:"design_flow_gpm,omitzero"`
	DesignFlowReason string       `json:"design_flow_reason,omitzero"`
	Connection       *Spot        `json:"connection,omitempty"` // point of connection
	MeterIn          units.Inches `json:"meter_in,omitzero"`
	ServiceMaterial  string       `json:"service_material,omitzero"`
	ServiceIn        units.Inches `json:"service_in,omitzero"`
	ServiceLengthFt  units.Feet   `json:"service_length_ft,omitzero"`
	Regulator        bool         `json:"regulator,omitzero"`
	Backflow         string       `json:"backflow,omitzero"`
	BackflowAt       *Spot        `json:"backflow_at,omitempty"`
	Freeze           string       `json:"freeze,omitzero"` // none | blow_out | manual_drain | automatic_drain
}

// Head is one sprinkler: a body with a nozzle, an arc and a throw.
type Head struct {
	Tag      string        `json:"tag,omitzero"` // zone-head, as on the flag: "3-5"
	Nozzle   ID            `json:"nozzle"`
	Body     ID            `json:"body"`
	X        units.Feet    `json:"x_ft"`
	Y        units.Feet    `json:"y_ft"`
	StartDeg units.Degrees `json:"start_deg,omitzero"`   // first edge of the arc, in [0, 360); a strip's direction
	SweepDeg units.Degrees `json:"sweep_deg,omitzero"`   // anticlockwise from the start, (0, 360]; 0 for strips
	ThrowFt  *units.Feet   `json:"throw_ft,omitempty"`   // as set; absent: the table's throw
	SetBack  *units.Feet   `json:"setback_ft,omitempty"` // wanted distance from the edge, when it matters
	Zone     ID            `json:"zone,omitzero"`
	Status   Status        `json:"status,omitzero"`
	Locked   bool          `json:"locked,omitzero"`
}

// Zone is the heads of one valve.
type Zone struct {
	Name     string    `json:"name"`
	Station  int       `json:"station,omitzero"` // controller terminal; 0: not given yet
	Flag     string    `json:"flag,omitzero"`    // mark on the stake-out flags, in words
	ValveAt  *Spot     `json:"valve_at,omitempty"`
	Pressure units.PSI `json:"pressure_psi,omitzero"` // planned at the heads; 0: each nozzle's best
	Status   Status    `json:"status,omitzero"`
	Locked   bool      `json:"locked,omitzero"`
}

// Node is a joint of the pipe network.
type Node struct {
	Kind   string     `json:"kind"` // joint | valve | head | connection | backflow | drain
	X      units.Feet `json:"x_ft"`
	Y      units.Feet `json:"y_ft"`
	Head   ID         `json:"head,omitzero"`
	Zone   ID         `json:"zone,omitzero"`
	Status Status     `json:"status,omitzero"`
	Locked bool       `json:"locked,omitzero"`
}

// Pipe joins two nodes.
type Pipe struct {
	From      ID           `json:"from"`
	To        ID           `json:"to"`
	Via       geom.Line    `json:"via,omitempty"`
	Material  string       `json:"material,omitzero"`
	NominalIn units.Inches `json:"nominal_in,omitzero"`
	Zone      ID           `json:"zone,omitzero"` // absent: the main
	Status    Status       `json:"status,omitzero"`
	Locked    bool         `json:"locked,omitzero"`
}

// Sleeve is a larger pipe under paving that others pass through.
type Sleeve struct {
	From      Spot         `json:"from"`
	To        Spot         `json:"to"`
	NominalIn units.Inches `json:"nominal_in"`
	Status    Status       `json:"status,omitzero"`
	Locked    bool         `json:"locked,omitzero"`
}

// Controller is the clock that opens the valves.
type Controller struct {
	At       *Spot  `json:"at,omitempty"`
	Stations int    `json:"stations,omitzero"`
	Place    string `json:"place,omitzero"` // in words: "garage wall, indoors"
	Status   Status `json:"status,omitzero"`
}

// Sensor is a rain, flow or soil sensor.
type Sensor struct {
	Kind   string     `json:"kind"` // rain | flow | soil
	X      units.Feet `json:"x_ft"`
	Y      units.Feet `json:"y_ft"`
	Status Status     `json:"status,omitzero"`
}

// Watering is what the watering plan is made for.
type Watering struct {
	Days      []string `json:"days,omitempty"` // allowed weekdays: mon … sun
	StartHHMM string   `json:"start,omitzero"` // civil time "22:00"
	EndHHMM   string   `json:"end,omitzero"`
	PeakInWk  float64  `json:"peak_in_per_week,omitzero"` // turf, peak week
	AuditedDU *float64 `json:"audited_du,omitempty"`
}

// Proof is what was measured on the finished system.
type Proof struct {
	StartedUp string          `json:"started_up,omitzero"` // civil date
	Cans      map[ID]CatchCan `json:"cans,omitempty"`
	Minutes   float64         `json:"minutes,omitzero"`
	ThroatIn2 float64         `json:"throat_in2,omitzero"`
}

// CatchCan is one can of an audit.
type CatchCan struct {
	X  units.Feet `json:"x_ft"`
	Y  units.Feet `json:"y_ft"`
	ML float64    `json:"catch_ml"`
}

// Note is a remark pinned to a place.
type Note struct {
	X    units.Feet `json:"x_ft"`
	Y    units.Feet `json:"y_ft"`
	Text string     `json:"text"`
}

// Underlay is a photograph under the drawing, held by the store as a blob.
type Underlay struct {
	SHA256    string        `json:"sha256"`
	FtPerPx   float64       `json:"ft_per_px"`
	X         units.Feet    `json:"x_ft"` // of the picture's lower left corner
	Y         units.Feet    `json:"y_ft"`
	RotateDeg units.Degrees `json:"rotate_deg,omitzero"`
	Opacity   float64       `json:"opacity,omitzero"`
	Locked    bool          `json:"locked,omitzero"`
}

// Accepted is a finding the user has looked at and keeps, with the reason.
type Accepted struct {
	Code   string `json:"code"`
	About  []ID   `json:"about,omitempty"` // sorted
	Reason string `json:"reason"`
	By     string `json:"by,omitzero"`
	On     string `json:"on"` // civil date, YYYY-MM-DD
}
