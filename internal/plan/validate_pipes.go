package plan

import (
	"evenfall/internal/catalog"
)

// supplyPipes looks at what the supply says of its pipes and devices.
func (c *inspector) supplyPipes(s subject, v Supply) {
	points(c, s, "service_class", v.ServiceClass, "pipe_classes", c.plan.PipeClasses, false)
	c.number(s, "service_fps", float64(v.ServiceFPS), velocity)
	c.deviceOf(s, "meter", v.Meter, catalog.Meter)
	c.deviceOf(s, "isolation", v.Isolation, catalog.Isolation)
	c.deviceOf(s, "filter", v.Filter, catalog.Filter)
	c.deviceOf(s, "master_valve", v.MasterValve, catalog.MasterValve)
	c.deviceOf(s, "backflow_device", v.BackflowDevice, catalog.Backflow)
	c.deviceOf(s, "swing_joint", v.SwingJoint, catalog.SwingJoint)
	c.length(s, "backflow_height_ft", v.BackflowHeightFt, deviceHeight)
}

// supplyReadings looks at what was measured at the supply.
func (c *inspector) supplyReadings(s subject, v Supply) {
	each(c, v.Statics, c.staticReading)
	c.number(s, "timed_gal", float64(v.TimedGal), container)
	c.number(s, "timed_s", float64(v.TimedS), fillTime)
	c.word(s, "measured_where", v.MeasuredWhere, measuredPlaces, false)
	c.number(s, "house_gpm", float64(v.HouseGPM), flow)
	c.word(s, "tap", v.Tap, tapPlaces, false)
	c.number(s, "regulator_psi", float64(v.RegulatorPSI), pressure)
	c.pump(s, v.Pump)
	c.number(s, "pump_least_gpm", float64(v.PumpLeastGPM), flow)
	c.number(s, "needed_psi", float64(v.NeededPSI), pressure)
}

func (c *inspector) staticReading(id ID, v StaticReading) {
	s := subject{"supply/statics", id, ""}
	c.id(s)
	c.number(s, "psi", float64(v.PSI), readPressure)
	if v.Hour != nil {
		c.number(s, "hour", float64(*v.Hour), hourOfDay)
	}
	c.number(s, "month", float64(v.Month), monthOfYear)
	c.text(s, "where", v.Where, false)
}

// pump looks at a pump's curve: by rising flow, and the pressure never rises.
func (c *inspector) pump(s subject, curve []PumpPoint) {
	for i, p := range curve {
		at := "pump/" + itoa(i)
		if p.Flow != p.Flow || p.PSI != p.PSI { // see absent
			c.tell(s, at, "Point %d of the pump's curve needs a flow (flow_gpm) and a pressure (psi). Give it both.", i+1)
			return
		}
		c.number(s, at+"/flow_gpm", float64(p.Flow), flow)
		c.number(s, at+"/psi", float64(p.PSI), pressure)
		if i == 0 {
			continue
		}
		before := curve[i-1]
		if p.Flow < before.Flow+catalog.LeastApartGPM {
			c.tell(s, at+"/flow_gpm", "The pump's curve has %s after %s. Put its points in order of flow, each %s or more above the one before.",
				gpm.show(c.sys, float64(p.Flow)), gpm.show(c.sys, float64(before.Flow)), gpm.show(c.sys, catalog.LeastApartGPM))
		}
		if p.PSI > before.PSI {
			c.tell(s, at+"/psi", "The pump's curve rises from %s to %s where the flow grows. A pump gives no more pressure at more flow; check the two points.",
				psi.show(c.sys, float64(before.PSI)), psi.show(c.sys, float64(p.PSI)))
		}
	}
}

// deviceOf tells of a reference to a device that is not there, or is of another
// kind than its place in the pipe asks for.
func (c *inspector) deviceOf(s subject, member string, to ID, kind catalog.DeviceKind) {
	points(c, s, member, to, "devices", c.plan.Devices, false)
	if d, ok := c.plan.Devices[to]; ok && d.Kind != kind && deviceKinds.has(string(d.Kind)) {
		c.tell(s, member, "The %s of %s is %s, which is of the kind %s. Choose a device of the kind %s.",
			phrase(member), s, quoted(d.Name), quoted(string(d.Kind)), kind)
	}
}

func (c *inspector) pipeClass(id ID, v catalog.PipeClass) {
	s := subject{"pipe_classes", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.text(s, "source", v.Source, false)
	c.text(s, "convention", v.Convention, false)
	c.row(s, v.Validate())
}

func (c *inspector) device(id ID, v catalog.Device) {
	s := subject{"devices", id, v.Name}
	c.id(s)
	c.text(s, "name", v.Name, false)
	c.text(s, "source", v.Source, false)
	for i, p := range v.Loss {
		if p.Loss != p.Loss {
			c.missing(s, "loss/"+itoa(i)+"/loss_psi")
			return
		}
	}
	c.row(s, v.Validate())
}
