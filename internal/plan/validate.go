package plan

import (
	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// Validate returns what keeps the plan from being taken, nil when nothing does:
// a *Problem, or *Problems. Decode has asked it already; it is for a plan made
// or changed in memory, before it is encoded. A plan that is only unfinished or
// unwise is taken; that is for the findings.
func (p *Plan) Validate() error {
	c := &inspector{plan: p, sys: p.Show}
	c.inspect()
	if len(c.list) == 0 {
		return nil
	}
	c = &inspector{plan: p, sys: p.Show, orderly: true}
	c.inspect()
	if len(c.list) == 1 {
		return &c.list[0]
	}
	return &Problems{List: c.list}
}

func (c *inspector) inspect() {
	if c.counts(); c.enough() || len(c.list) > 0 {
		return
	}
	p, whole := c.plan, subject{}
	c.text(whole, "name", p.Name, false)
	c.word(whole, "show", string(p.Show), systems, false)
	c.site(p.Site)
	c.options(p.Options)
	each(c, p.Areas, c.area)
	each(c, p.Barriers, c.barrier)
	each(c, p.Trees, c.tree)
	each(c, p.KeepDry, c.keepDry)
	each(c, p.Elevations, c.elevation)
	each(c, p.Ties, c.tie)
	c.supply(p.Supply)
	each(c, p.Heads, c.head)
	each(c, p.Zones, c.zone)
	each(c, p.Nozzles, c.nozzle)
	each(c, p.Bodies, c.body)
	each(c, p.PipeClasses, c.pipeClass)
	each(c, p.Devices, c.device)
	each(c, p.Nodes, c.node)
	each(c, p.Pipes, c.pipe)
	each(c, p.Sleeves, c.sleeve)
	c.controller(p.Controller)
	each(c, p.Sensors, c.sensor)
	each(c, p.Wires, c.wireRun)
	each(c, p.Boxes, c.box)
	c.wiring(p.Wiring)
	each(c, p.Prices, c.price)
	c.quote(p.Quote)
	c.watering(p.Watering)
	c.proof(p.Proof)
	each(c, p.Photos, c.photo)
	each(c, p.Notes, c.note)
	c.underlay(p.Underlay)
	each(c, p.Accepted, c.accepted)
}

// counts tells of a plan with more in it than the program takes.
func (c *inspector) counts() {
	if n := c.plan.Count(); n > MaxObjects {
		c.tell(subject{}, "", "The plan has %d things in it; the most is %d. Split it into several plans.", n, MaxObjects)
	}
	if n := len(c.plan.Photos); n > MaxPhotos {
		c.tell(subject{}, "photos", "The plan has %d photographs; the most is %d. Take some away.", n, MaxPhotos)
	}
	n := len(c.plan.Site.Lot)
	for _, a := range c.plan.Areas {
		n += len(a.Outline)
		for _, h := range a.Holes {
			n += len(h)
		}
	}
	for _, b := range c.plan.Barriers {
		n += len(b.Line)
	}
	for _, q := range c.plan.Pipes {
		n += len(q.Via)
	}
	for _, w := range c.plan.Wires {
		n += len(w.Line)
	}
	if n > MaxVertices {
		c.tell(subject{}, "", "The outlines of the plan have %d corners in all; the most is %d. Draw them with fewer.", n, MaxVertices)
	}
}

func (c *inspector) site(v Site) {
	s := subject{collection: "site"}
	c.given(s, "latitude_deg", v.Latitude, latitude)
	c.given(s, "longitude_deg", v.Longitude, longitude)
	c.length(s, "elevation_ft", v.ElevationFt, aboveSea)
	c.number(s, "north_deg", float64(v.NorthDeg), turn)
	c.wind(s, v)
	c.text(s, "climate", v.Climate, true)
	c.date(s, "locate_on", v.LocateOn, false)
	c.text(s, "locate_ticket", v.LocateTicket, false)
	c.text(s, "address", v.Address, false)
	c.text(s, "permit", v.Permit, false)
	c.date(s, "permit_on", v.PermitOn, false)
	c.text(s, "licence", v.Licence, false)
	c.date(s, "association_on", v.AssociationOn, false)
	c.date(s, "right_of_way_on", v.RightOfWayOn, false)
	c.date(s, "backflow_tested_on", v.BackflowTestedOn, false)
	if len(v.Lot) > 0 {
		c.shape(s, v.Lot.Validate(), "lot", "")
	}
}

func (c *inspector) options(v Options) {
	s := subject{collection: "options"}
	c.length(s, "edge_lip_ft", v.EdgeLipFt, lip)
	c.length(s, "wall_lip_ft", v.WallLipFt, lip)
	c.number(s, "cell_ft", float64(v.CellFt), cell)
	if v.CellFt > 0 && v.CellFt < leastCell {
		c.tell(s, "cell_ft", "The cell of the map is %s; the finest is %s. Choose a coarser one, or leave it out.",
			feet.show(c.sys, float64(v.CellFt)), feet.show(c.sys, leastCell))
	}
	each(c, v.LocalRules, c.localRule)
	each(c, v.Figures, c.figure)
}

// leastCell is the finest raster cell, in feet. Chosen: six tenths of an inch is
// finer than any head is placed.
const leastCell = 0.05

// given tells of an optional number outside its range.
func (c *inspector) given(s subject, member string, v *float64, r span) {
	if v != nil {
		c.number(s, member, *v, r)
	}
}

// length tells of an optional length outside its range.
func (c *inspector) length(s subject, member string, v *units.Feet, r span) {
	if v != nil {
		c.number(s, member, float64(*v), r)
	}
}

// shape passes on what geom finds wrong with an outline or line, pointing at the
// corner. holes is the member the rings after the first stand in.
func (c *inspector) shape(s subject, err error, outline, holes string) {
	fault, ok := err.(*geom.Fault)
	if !ok {
		return
	}
	member := outline
	if fault.Ring > 0 {
		member = holes + "/" + itoa(fault.Ring-1)
	}
	switch fault.Reason {
	case geom.TooFew, geom.TooMany, geom.NoArea, geom.HoleOutside:
	default:
		member += "/" + itoa(fault.Vertex)
	}
	drawn := sentenceCase(s.String())
	if outline == "lot" {
		drawn = "The lot"
	}
	c.tell(s, member, "%s cannot be drawn like this. %s", drawn, fault.Sentence)
}
