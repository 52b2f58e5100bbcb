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
	Site    Site         `json:"site,omitempty"`
	Options Options      `json:"options,omitempty"`

	Areas      map[ID]Area      `json:"areas,omitempty"`
	Barriers   map[ID]Barrier   `json:"barriers,omitempty"`
	Trees      map[ID]Tree      `json:"trees,omitempty"`
	KeepDry    map[ID]KeepDry   `json:"keep_dry,omitempty"`
	Elevations map[ID]Elevation `json:"elevations,omitempty"`
	Ties       map[ID]Tie       `json:"ties,omitempty"`

	Supply Supply `json:"supply,omitempty"`

	Heads       map[ID]Head              `json:"heads,omitempty"`
	Zones       map[ID]Zone              `json:"zones,omitempty"`
	Nozzles     map[ID]catalog.Nozzle    `json:"nozzles,omitempty"`      // every row used, copied in
	Bodies      map[ID]catalog.Body      `json:"bodies,omitempty"`       // likewise
	PipeClasses map[ID]catalog.PipeClass `json:"pipe_classes,omitempty"` // likewise
	Devices     map[ID]catalog.Device    `json:"devices,omitempty"`      // likewise: valves, backflow devices, meter …

	Nodes   map[ID]Node   `json:"nodes,omitempty"`
	Pipes   map[ID]Pipe   `json:"pipes,omitempty"`
	Sleeves map[ID]Sleeve `json:"sleeves,omitempty"`

	Controller Controller     `json:"controller,omitempty"`
	Sensors    map[ID]Sensor  `json:"sensors,omitempty"`
	Wires      map[ID]WireRun `json:"wires,omitempty"` // where wire lies away from the pipes
	Boxes      map[ID]Box     `json:"boxes,omitempty"` // for splices away from the valves
	Wiring     Wiring         `json:"wiring,omitempty"`

	Prices map[ID]Price `json:"prices,omitempty"` // the user's own
	Quote  Quote        `json:"quote,omitempty"`

	Watering Watering `json:"watering,omitempty"`
	Proof    Proof    `json:"proof,omitempty"`

	Photos map[ID]Photo `json:"photos,omitempty"`

	Notes    map[ID]Note     `json:"notes,omitempty"`
	Underlay *Underlay       `json:"underlay,omitempty"`
	Accepted map[ID]Accepted `json:"accepted,omitempty"` // findings accepted with a reason
}

// Status says whether a thing is to be bought, is there already, or goes.
type Status string

// The statuses. Decode fills in New; Encode leaves New out.
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
	WindMPH     *units.MPH    `json:"wind_mph,omitempty"`      // of the windy day that is asked about; default 8
	// WindFromDeg is where that wind comes from, anticlockwise from the plan's
	// east as every angle of the document: 180 is a wind from the plan's west.
	// Left out it comes from true west.
	WindFromDeg *units.Degrees `json:"wind_from_deg,omitempty"`
	Lot         geom.Outline   `json:"lot,omitempty"`    // property line, if drawn
	Climate     string         `json:"climate,omitzero"` // in words, for later use

	LocateOn     string `json:"locate_on,omitzero"`     // civil date on which the utilities were asked to mark their lines
	LocateTicket string `json:"locate_ticket,omitzero"` // what they gave the request: number, name

	Address          string `json:"address,omitzero"`            // of the property, in words
	Permit           string `json:"permit,omitzero"`             // number of the permit, as the office that gave it writes it
	PermitOn         string `json:"permit_on,omitzero"`          // civil date on which it was given
	Licence          string `json:"licence,omitzero"`            // who signs for the work, with their licence, in words
	AssociationOn    string `json:"association_on,omitzero"`     // civil date on which the owners' association approved
	RightOfWayOn     string `json:"right_of_way_on,omitzero"`    // civil date of the leave to work in the public right of way
	BackflowTestedOn string `json:"backflow_tested_on,omitzero"` // civil date of the last test of the backflow device
}

// Options are the plan's own choices of reckoning.
type Options struct {
	EdgeLipFt *units.Feet `json:"edge_lip_ft,omitempty"` // strip along outlines left out of the sums; default 0.5 (6 in)
	WallLipFt *units.Feet `json:"wall_lip_ft,omitempty"` // the same along buildings, walls and fences; default 1 (12 in)
	CellFt    units.Feet  `json:"cell_ft,omitzero"`      // raster cell; default by size of plan (0.25 on a house lot)

	// LocalRules are the distances that are kept here, where they are not the
	// usual ones (LocalRuleRows).
	LocalRules map[RuleID]LocalRule `json:"local_rules,omitempty"`

	// Figures are what trenches, wire and parts are reckoned with, where it is not
	// the usual (FigureRows).
	Figures map[ID]Figure `json:"figures,omitempty"`
}
