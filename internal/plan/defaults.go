package plan

import (
	"cmp"

	"evenfall/internal/units"
)

// A default stands for a member that is left out. Those of the words are filled
// in by Decode and left out again by Encode (the IsZero methods below), so that
// a document never says what goes without saying and two documents of the same
// meaning are the same bytes. Those of the numbers stay out of the plan and are
// asked for by the methods further down.
const (
	defaultShow     = units.US
	defaultStatus   = New
	defaultCover    = Turf
	defaultExposure = Sun
	defaultWatering = Overhead
	defaultBarrier  = Fence
	defaultSupply   = TownMeter
)

// IsZero reports whether the status goes without saying.
func (s Status) IsZero() bool { return s == "" || s == defaultStatus }

// IsZero reports whether the cover goes without saying.
func (c Cover) IsZero() bool { return c == "" || c == defaultCover }

// IsZero reports whether the exposure goes without saying.
func (e Exposure) IsZero() bool { return e == "" || e == defaultExposure }

// IsZero reports whether the way of watering goes without saying.
func (w WateringKind) IsZero() bool { return w == "" || w == defaultWatering }

// IsZero reports whether the kind of barrier goes without saying.
func (b BarrierKind) IsZero() bool { return b == "" || b == defaultBarrier }

// IsZero reports whether the kind of supply goes without saying.
func (s SupplyKind) IsZero() bool { return s == "" || s == defaultSupply }

// IsNew reports whether the thing is to be bought: its status is New or not said.
func (s Status) IsNew() bool { return s.IsZero() }

// Stands reports whether the thing is there when the work is done: it is not to
// be removed.
func (s Status) Stands() bool { return s != Remove }

// fill sets the words that go without saying.
func (p *Plan) fill() {
	or(&p.Show, defaultShow)
	for id, a := range p.Areas {
		or(&a.Status, defaultStatus)
		if a.Kind == Planting {
			or(&a.Planting, defaultCover)
			or(&a.Exposure, defaultExposure)
			or(&a.Watering, defaultWatering)
		}
		p.Areas[id] = a
	}
	for id, b := range p.Barriers {
		or(&b.Kind, defaultBarrier)
		or(&b.Status, defaultStatus)
		p.Barriers[id] = b
	}
	fillStatus(p.Trees, func(v *Tree) *Status { return &v.Status })
	fillStatus(p.KeepDry, func(v *KeepDry) *Status { return &v.Status })
	fillStatus(p.Elevations, func(v *Elevation) *Status { return &v.Status })
	fillStatus(p.Ties, func(v *Tie) *Status { return &v.Status })
	or(&p.Supply.Kind, defaultSupply)
	or(&p.Supply.Status, defaultStatus)
	fillStatus(p.Heads, func(v *Head) *Status { return &v.Status })
	fillStatus(p.Zones, func(v *Zone) *Status { return &v.Status })
	fillStatus(p.Nodes, func(v *Node) *Status { return &v.Status })
	fillStatus(p.Pipes, func(v *Pipe) *Status { return &v.Status })
	fillStatus(p.Sleeves, func(v *Sleeve) *Status { return &v.Status })
	or(&p.Controller.Status, defaultStatus)
	fillStatus(p.Sensors, func(v *Sensor) *Status { return &v.Status })
	fillStatus(p.Wires, func(v *WireRun) *Status { return &v.Status })
	fillStatus(p.Boxes, func(v *Box) *Status { return &v.Status })
	fillStatus(p.Notes, func(v *Note) *Status { return &v.Status })
}

// fillStatus sets the statuses of a collection that go without saying.
func fillStatus[T any](things map[ID]T, status func(*T) *Status) {
	for id, t := range things {
		if s := status(&t); *s == "" {
			*s = defaultStatus
			things[id] = t
		}
	}
}

// or sets a word that is not given.
func or[T ~string](word *T, otherwise T) {
	if *word == "" {
		*word = otherwise
	}
}

// The numbers that go without saying.
const (
	defaultEdgeLip        units.Feet   = 0.5 // 6 in: what a mower's edge and the spray of neighbours blur
	defaultWallLip        units.Feet   = 1   // 12 in: how far heads stand off walls and fences (common practice)
	defaultBuildingHeight units.Feet   = 10  // to the eaves of one storey
	defaultMowHeight      units.Inches = 3
	defaultKeepDry        units.Feet   = 1.5
	defaultOpacity        units.Ratio  = 1
)

// EdgeLip returns the width of the strip along outlines that is left out of the
// sums, in feet: what the plan says, or 6 in.
func (p *Plan) EdgeLip() units.Feet {
	if p.Options.EdgeLipFt == nil {
		return defaultEdgeLip
	}
	return *p.Options.EdgeLipFt
}

// WallLip returns the width of the strip along buildings, walls and fences that
// is left out of the sums, in feet: what the plan says, or 12 in. Where it meets
// the edge lip the wider of the two counts.
func (p *Plan) WallLip() units.Feet {
	if p.Options.WallLipFt == nil {
		return defaultWallLip
	}
	return *p.Options.WallLipFt
}

// Height returns the height of a building in feet: as given, or 10 ft. It means
// nothing for other kinds of area.
func (a Area) Height() units.Feet {
	if a.HeightFt == nil {
		return defaultBuildingHeight
	}
	return *a.HeightFt
}

// MowHeight returns the height turf is mown at in inches: as given, or 3 in.
func (a Area) MowHeight() units.Inches {
	if a.MowHeightIn == 0 {
		return defaultMowHeight
	}
	return a.MowHeightIn
}

// Cover returns what grows on a planting area: as given, or turf.
func (a Area) Cover() Cover { return cmp.Or(a.Planting, defaultCover) }

// Sunlight returns how much sun a planting area gets: as given, or full sun.
func (a Area) Sunlight() Exposure { return cmp.Or(a.Exposure, defaultExposure) }

// WateredBy returns how a planting area gets its water: as given, or overhead.
func (a Area) WateredBy() WateringKind { return cmp.Or(a.Watering, defaultWatering) }

// Radius returns how far around the place must stay dry, in feet: as given, or
// 18 in.
func (k KeepDry) Radius() units.Feet {
	if k.RadiusFt == 0 {
		return defaultKeepDry
	}
	return k.RadiusFt
}

// Shown returns how opaque the picture is, from 0 to 1: as given, or 1.
func (u Underlay) Shown() units.Ratio {
	if u.Opacity == 0 {
		return defaultOpacity
	}
	return u.Opacity
}
