package plan

import (
	"evenfall/internal/catalog"
)

func (c *inspector) supply(v Supply) {
	s := subject{collection: "supply"}
	c.word(s, "kind", string(v.Kind), supplyKinds, false)
	c.number(s, "static_psi", float64(v.StaticPSI), pressure)
	c.text(s, "measured_at", v.MeasuredAt, false)
	c.number(s, "flow_gpm", float64(v.FlowGPM), flow)
	c.number(s, "residual_psi", float64(v.ResidualPSI), pressure)
	c.number(s, "design_flow_gpm", float64(v.DesignFlowGPM), flow)
	c.text(s, "design_flow_reason", v.DesignFlowReason, true)
	c.at(s, "connection/", v.Connection)
	c.number(s, "meter_in", float64(v.MeterIn), pipeSizeOr0)
	c.text(s, "service_material", v.ServiceMaterial, false)
	c.number(s, "service_in", float64(v.ServiceIn), pipeSizeOr0)
	c.number(s, "service_length_ft", float64(v.ServiceLengthFt), pipeLength)
	c.text(s, "backflow", v.Backflow, false)
	c.at(s, "backflow_at/", v.BackflowAt)
	c.word(s, "push_back", v.PushBack, pushBacks, false)
	c.supplyPipes(s, v)
	c.supplyReadings(s, v)
	c.word(s, "freeze", v.Freeze, freezeKinds, false)
	c.word(s, "status", string(v.Status), statuses, false)
}

// at tells of an optional place off the plan.
func (c *inspector) at(s subject, prefix string, v *Spot) {
	if v != nil {
		c.spot(s, prefix, v.X, v.Y)
	}
}

func (c *inspector) head(id ID, v Head) {
	s := subject{"heads", id, v.Tag}
	c.id(s)
	c.text(s, "tag", v.Tag, false)
	points(c, s, "nozzle", v.Nozzle, "nozzles", c.plan.Nozzles, true)
	points(c, s, "body", v.Body, "bodies", c.plan.Bodies, true)
	points(c, s, "zone", v.Zone, "zones", c.plan.Zones, false)
	c.spot(s, "", v.X, v.Y)
	c.number(s, "start_deg", float64(v.StartDeg), direction)
	c.number(s, "sweep_deg", float64(v.SweepDeg), sweep)
	if n, ok := c.plan.Nozzles[v.Nozzle]; ok && v.SweepDeg == 0 && n.Family != catalog.Strip {
		c.tell(s, "sweep_deg", "%s has no arc. Give it one of more than 0° and at most 360°; only a strip nozzle has none.", sentenceCase(s.String()))
	}
	c.length(s, "throw_ft", v.ThrowFt, throw)
	c.length(s, "setback_ft", v.SetBack, setBack)
	c.state(s, v.State)
	c.built(s, v.Built)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) zone(id ID, v Zone) {
	s := subject{"zones", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.number(s, "station", float64(v.Station), terminals)
	c.text(s, "flag", v.Flag, false)
	c.at(s, "valve_at/", v.ValveAt)
	c.deviceOf(s, "valve", v.Valve, catalog.ZoneValve)
	c.number(s, "pressure_psi", float64(v.Pressure), pressure)
	c.number(s, "audited_du", float64(v.AuditedDU), wholeShare)
	c.runs(s, v.Runs)
	c.built(s, v.Built)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) node(id ID, v Node) {
	s := subject{"nodes", id, ""}
	c.id(s)
	c.word(s, "kind", v.Kind, nodeKinds, true)
	c.spot(s, "", v.X, v.Y)
	points(c, s, "head", v.Head, "heads", c.plan.Heads, v.Kind == "head")
	points(c, s, "zone", v.Zone, "zones", c.plan.Zones, false)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) pipe(id ID, v Pipe) {
	s := subject{"pipes", id, ""}
	c.id(s)
	points(c, s, "from", v.From, "nodes", c.plan.Nodes, true)
	points(c, s, "to", v.To, "nodes", c.plan.Nodes, true)
	if v.From == v.To && v.From != "" {
		c.tell(s, "to", "%s ends where it begins, at %s. Join it to another.", sentenceCase(s.String()), quoted(string(v.To)))
	}
	c.via(s, v)
	points(c, s, "class", v.Class, "pipe_classes", c.plan.PipeClasses, false)
	c.text(s, "material", v.Material, false)
	c.number(s, "nominal_in", float64(v.NominalIn), pipeSizeOr0)
	points(c, s, "zone", v.Zone, "zones", c.plan.Zones, false)
	c.word(s, "status", string(v.Status), statuses, false)
}

// via looks at the corners between a pipe's ends: one is enough, unlike in a line.
func (c *inspector) via(s subject, v Pipe) {
	if len(v.Via) == 1 {
		at := v.Via[0]
		if !place10km.holds(at.X) || !place10km.holds(at.Y) {
			c.tell(s, "via/0", "The corner of %s is more than 10 km (32,808 ft) from the origin. Check its coordinates.", s)
		}
		return
	}
	if len(v.Via) > 1 {
		c.shape(s, v.Via.Validate(), "via", "")
	}
}

func (c *inspector) sleeve(id ID, v Sleeve) {
	s := subject{"sleeves", id, ""}
	c.id(s)
	c.spot(s, "from/", v.From.X, v.From.Y)
	c.spot(s, "to/", v.To.X, v.To.Y)
	c.number(s, "nominal_in", float64(v.NominalIn), pipeSizeOr0)
	c.word(s, "carries", v.Carries, sleeveLoads, false)
	c.word(s, "method", v.Method, sleeveMethods, false)
	c.built(s, v.Built)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) controller(v Controller) {
	s := subject{collection: "controller"}
	c.at(s, "at/", v.At)
	c.number(s, "stations", float64(v.Stations), terminals)
	c.number(s, "programs", float64(v.Programs), programsHeld)
	c.number(s, "starts", float64(v.Starts), startsHeld)
	c.word(s, "adjusts", v.Adjusts, adjustments, false)
	c.text(s, "place", v.Place, false)
	c.at(s, "outlet_at/", v.OutletAt)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) sensor(id ID, v Sensor) {
	s := subject{"sensors", id, ""}
	c.id(s)
	c.word(s, "kind", v.Kind, sensorKinds, true)
	c.length(s, "height_ft", v.HeightFt, overGround)
	c.spot(s, "", v.X, v.Y)
	c.word(s, "status", string(v.Status), statuses, false)
}

func (c *inspector) nozzle(id ID, v catalog.Nozzle) {
	s := subject{"nozzles", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.text(s, "source", v.Source, false)
	c.text(s, "thread", v.Thread, false)
	for _, m := range []struct {
		member string
		v      float64
	}{
		{"trajectory_deg", float64(v.Trajectory)},
		{"turn_down/flow_power", v.TurnDown.FlowPower},
	} {
		if m.v != m.v {
			c.missing(s, m.member)
			return
		}
	}
	c.row(s, v.Validate())
}

func (c *inspector) body(id ID, v catalog.Body) {
	s := subject{"bodies", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.text(s, "source", v.Source, false)
	c.text(s, "takes", v.Takes, false)
	c.row(s, v.Validate())
}

// row passes on what the catalogue finds wrong with a row copied into the plan.
func (c *inspector) row(s subject, err error) {
	if fault, ok := err.(*catalog.Fault); ok {
		c.tell(s, fault.Member[1:], "%s cannot be used. %s", sentenceCase(s.String()), fault.Sentence)
	}
}
