package plan

import (
	"evenfall/internal/geom"
	"evenfall/internal/units"
)

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

// Strength orders the kinds of area from the one that yields its ground to every
// other to the one that has it (see Area); -1 for what takes none.
func (k Kind) Strength() int {
	switch k {
	case RightOfWay:
		return 0
	case Planting:
		return 1
	case Ground:
		return 2
	case Paving:
		return 3
	case Water:
		return 4
	case Building:
		return 5
	}
	return -1
}

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
	Planting       Cover         `json:"planting,omitzero"`         // what grows; default turf
	MowHeightIn    units.Inches  `json:"mow_height_in,omitzero"`    // turf: default 3
	Soil           string        `json:"soil,omitzero"`             // texture: sand | loamy_sand | sandy_loam | loam | silt_loam | clay_loam | clay
	SlopeShare     units.Ratio   `json:"slope,omitzero"`            // rise over run
	SlopeTowardDeg units.Degrees `json:"slope_toward_deg,omitzero"` // direction the ground falls
	Exposure       Exposure      `json:"exposure,omitzero"`         // default sun
	Watering       WateringKind  `json:"watering,omitzero"`         // how it gets water; default overhead

	// For the watering plan; what is 0 goes by the figures of its planting and soil.
	PlantFactor   float64      `json:"plant_factor,omitzero"`    // its need over reference ET
	Density       float64      `json:"density_factor,omitzero"`  // over a full planting; 0: 1
	Microclimate  float64      `json:"microclimate,omitzero"`    // over open ground in full sun; 0: by its exposure
	RootsIn       units.Inches `json:"roots_in,omitzero"`        // depth
	Depletion     units.Ratio  `json:"depletion,omitzero"`       // share of the water roots reach that may be used up
	PlantHeightIn units.Inches `json:"plant_height_in,omitzero"` // leaves so high catch what other zones throw over
	OwnZonesOnly  bool         `json:"own_zones_only,omitzero"`  // what other zones throw over is not counted
}

// Cover is what grows on a planting area.
type Cover string

// The covers.
const (
	Turf        Cover = "turf"
	Flowers     Cover = "flowers"
	Shrubs      Cover = "shrubs"
	Groundcover Cover = "groundcover"
	Vegetables  Cover = "vegetables"
	TreeBed     Cover = "trees"
)

// Exposure is how much sun a planting area gets.
type Exposure string

// The exposures.
const (
	Sun       Exposure = "sun"
	PartShade Exposure = "part_shade"
	Shade     Exposure = "shade"
)

// WateringKind is how a planting area gets its water.
type WateringKind string

// The ways a planting area gets water.
const (
	Overhead    WateringKind = "overhead"
	PointSource WateringKind = "point"
	ByHand      WateringKind = "by_hand"
	NoWatering  WateringKind = "none"
)

// BarrierKind is what a barrier is made of.
type BarrierKind string

// The kinds of barrier.
const (
	Wall  BarrierKind = "wall"
	Fence BarrierKind = "fence"
	Hedge BarrierKind = "hedge"
)

// Barrier is a wall, fence or hedge that stops water below its height.
type Barrier struct {
	Name     string      `json:"name"`
	Kind     BarrierKind `json:"kind,omitzero"` // default fence
	Line     geom.Line   `json:"line"`
	HeightFt units.Feet  `json:"height_ft"`
	Status   Status      `json:"status,omitzero"`
	Locked   bool        `json:"locked,omitzero"`
}

// Tree is a trunk with its root zone; the trunk stands in the way of water.
type Tree struct {
	Name       string       `json:"name"`
	X          units.Feet   `json:"x_ft"`
	Y          units.Feet   `json:"y_ft"`
	TrunkIn    units.Inches `json:"trunk_in"`              // diameter
	RootZoneFt units.Feet   `json:"root_zone_ft,omitzero"` // radius; 0: not given
	Status     Status       `json:"status,omitzero"`
	Locked     bool         `json:"locked,omitzero"`
}

// KeepDry is a thing water must not reach: air-conditioner, meter, window well.
type KeepDry struct {
	Name     string     `json:"name"`
	X        units.Feet `json:"x_ft"`
	Y        units.Feet `json:"y_ft"`
	RadiusFt units.Feet `json:"radius_ft,omitzero"` // default 1.5
	Status   Status     `json:"status,omitzero"`
	Locked   bool       `json:"locked,omitzero"`
}

// Elevation is a spot height: of the ground as it lies when existing, of the
// finished grade when new.
type Elevation struct {
	X      units.Feet `json:"x_ft"`
	Y      units.Feet `json:"y_ft"`
	Z      units.Feet `json:"z_ft"` // above the plan's own level 0
	Status Status     `json:"status,omitzero"`
}

// Tie is a measured distance between two places, kept to check the drawing.
type Tie struct {
	From       Spot       `json:"from"`
	To         Spot       `json:"to"`
	DistanceFt units.Feet `json:"distance_ft"`
	Status     Status     `json:"status,omitzero"`
}

// Spot is a place on the plan.
type Spot struct {
	X units.Feet `json:"x_ft"`
	Y units.Feet `json:"y_ft"`
}
