package plan

import (
	"strconv"

	"evenfall/internal/geom"
)

func (c *inspector) area(id ID, v Area) {
	s := subject{"areas", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.word(s, "kind", string(v.Kind), areaKinds, true)
	c.word(s, "status", string(v.Status), statuses, false)
	c.text(s, "note", v.Note, true)
	c.length(s, "height_ft", v.HeightFt, height)
	c.word(s, "planting", string(v.Planting), covers, false)
	c.number(s, "mow_height_in", float64(v.MowHeightIn), mowing)
	c.word(s, "soil", v.Soil, soils, false)
	c.number(s, "slope", float64(v.SlopeShare), slope)
	c.number(s, "slope_toward_deg", float64(v.SlopeTowardDeg), direction)
	c.word(s, "exposure", string(v.Exposure), exposures, false)
	c.word(s, "watering", string(v.Watering), waterings, false)
	c.number(s, "plant_factor", v.PlantFactor, plantFactor)
	c.number(s, "density_factor", v.Density, placeFactor)
	c.number(s, "microclimate", v.Microclimate, placeFactor)
	c.number(s, "roots_in", float64(v.RootsIn), rootDepth)
	c.number(s, "depletion", float64(v.Depletion), wholeShare)
	c.number(s, "plant_height_in", float64(v.PlantHeightIn), rootDepth)
	c.shape(s, geom.ValidatePolygon(v.Outline, v.Holes), "outline", "holes")
}

func (c *inspector) barrier(id ID, v Barrier) {
	s := subject{"barriers", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.word(s, "kind", string(v.Kind), barrierKinds, false)
	c.number(s, "height_ft", float64(v.HeightFt), height)
	c.word(s, "status", string(v.Status), statuses, false)
	c.shape(s, v.Line.Validate(), "line", "")
}

func (c *inspector) tree(id ID, v Tree) {
	s := subject{"trees", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.spot(s, "", v.X, v.Y)
	c.number(s, "trunk_in", float64(v.TrunkIn), trunk)
	c.number(s, "root_zone_ft", float64(v.RootZoneFt), radius)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) keepDry(id ID, v KeepDry) {
	s := subject{"keep_dry", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.spot(s, "", v.X, v.Y)
	c.number(s, "radius_ft", float64(v.RadiusFt), radius)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) elevation(id ID, v Elevation) {
	s := subject{"elevations", id, ""}
	c.id(s)
	c.spot(s, "", v.X, v.Y)
	c.number(s, "z_ft", float64(v.Z), level)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) tie(id ID, v Tie) {
	s := subject{"ties", id, ""}
	c.id(s)
	c.spot(s, "from/", v.From.X, v.From.Y)
	c.spot(s, "to/", v.To.X, v.To.Y)
	c.number(s, "distance_ft", float64(v.DistanceFt), tieLength)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) note(id ID, v Note) {
	s := subject{"notes", id, ""}
	c.id(s)
	c.spot(s, "", v.X, v.Y)
	c.text(s, "text", v.Text, true)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) underlay(v *Underlay) {
	if v == nil {
		return
	}
	s := subject{collection: "underlay"}
	if !hexDigest(v.SHA256) {
		c.tell(s, "sha256", "The underlay names its picture by %s; it must be the picture's SHA-256: 64 of the characters 0-9 and a-f. Add the picture again.", quoted(v.SHA256))
	}
	c.number(s, "ft_per_px", v.FtPerPx, pictureRes)
	c.spot(s, "", v.X, v.Y)
	c.number(s, "rotate_deg", float64(v.RotateDeg), turn)
	c.number(s, "opacity", float64(v.Opacity), opacity)
	c.number(s, "width_px", float64(v.WidthPx), pictureSide)
	c.number(s, "height_px", float64(v.HeightPx), pictureSide)
	c.known(s, "scaled_by", v.ScaledBy)
	c.known(s, "checked_by", v.CheckedBy)
}

// known looks at a length known on the picture.
func (c *inspector) known(s subject, member string, v *KnownLength) {
	if v == nil {
		return
	}
	for _, end := range []struct {
		name string
		at   PicturePoint
	}{{"/from/", v.From}, {"/to/", v.To}} {
		c.number(s, member+end.name+"x_px", end.at.X, picturePx)
		c.number(s, member+end.name+"y_px", end.at.Y, picturePx)
	}
	c.number(s, member+"/distance_ft", float64(v.DistanceFt), tieLength)
	if v.From == v.To {
		c.tell(s, member, "The length %s of the picture goes from a place to the same place. Give it two places, far apart.", quoted(member))
	}
}

func hexDigest(s string) bool {
	for _, r := range s {
		if !('0' <= r && r <= '9' || 'a' <= r && r <= 'f') {
			return false
		}
	}
	return len(s) == 64
}

func itoa(i int) string { return strconv.Itoa(i) }
