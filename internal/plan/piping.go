package plan

import (
	"cmp"
	"math"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// genericValve stands where a plan names none.
const genericValve ID = "valve-1"

// genericSwingJoints stand where a plan names none, by the inlet they take.
var genericSwingJoints = []struct {
	inlet units.Inches
	id    ID
}{{.5, "swing-joint-0_5"}, {.75, "swing-joint-0_75"}, {1, "swing-joint-1"}}

// PipeClass returns a pipe class: the plan's own row, else the catalogue's.
func (p *Plan) PipeClass(id ID) (catalog.PipeClass, bool) {
	if c, ok := p.PipeClasses[id]; ok {
		return c, true
	}
	return catalog.FindPipeClass(string(id))
}

// Device returns a device: the plan's own row, else the catalogue's.
func (p *Plan) Device(id ID) (catalog.Device, bool) {
	if d, ok := p.Devices[id]; ok {
		return d, true
	}
	return catalog.FindDevice(string(id))
}

// Row returns the class and the size of a pipe; sized is false where either is
// not chosen, or the class is not made in that size.
func (p *Plan) Row(v Pipe) (class catalog.PipeClass, size catalog.PipeSize, sized bool) {
	class, ok := p.PipeClass(v.Class)
	if !ok {
		return class, size, false
	}
	size, sized = class.Size(v.NominalIn)
	return class, size, sized
}

// ZoneValve returns the valve of a zone: as chosen, or the generic 1 in valve.
func (p *Plan) ZoneValve(zone ID) (ID, catalog.Device) {
	return p.deviceOr(p.Zones[zone].Valve, genericValve)
}

// SwingJoint returns what stands under a head of a body: as chosen for all heads,
// or the generic joint that takes its inlet; the smallest where the body has none,
// the largest where none is as large.
func (p *Plan) SwingJoint(body ID) (ID, catalog.Device) {
	inlet, last := p.Bodies[body].InletIn, len(genericSwingJoints)-1
	for _, j := range genericSwingJoints[:last] {
		if inlet <= j.inlet*(1+nominalSlack) {
			return p.deviceOr(p.Supply.SwingJoint, j.id)
		}
	}
	return p.deviceOr(p.Supply.SwingJoint, genericSwingJoints[last].id)
}

// Meter returns the water meter: as chosen, or the generic one of its size. A
// plan may say neither.
func (p *Plan) Meter() (ID, catalog.Device, bool) {
	if id := p.Supply.Meter; id != "" {
		d, ok := p.Device(id)
		return id, d, ok
	}
	for _, e := range catalog.Devices() {
		if e.Kind == catalog.Meter && SameNominal(p.Supply.MeterIn, e.Nominal) {
			return ID(e.ID), e.Device, true
		}
	}
	return "", catalog.Device{}, false
}

// nominalSlack is how far off a size one may be written that is meant by it, as a
// share: metric meters go by round millimetres, and 20 mm is 5 % over 3/4 in.
const nominalSlack = 0.06

// SameNominal reports whether a size is meant by a nominal one, which is not 0.
func SameNominal(size, nominal units.Inches) bool {
	return math.Abs(float64(size/nominal)-1) <= nominalSlack
}

// BackflowDevice returns the device in line, or after each valve where it is an
// atmospheric breaker. A plan may name none.
func (p *Plan) BackflowDevice() (ID, catalog.Device, bool) {
	return p.chosen(p.Supply.BackflowDevice)
}

// Isolation returns the valve the whole system is shut off by, if one is chosen.
func (p *Plan) Isolation() (ID, catalog.Device, bool) { return p.chosen(p.Supply.Isolation) }

// Filter returns the filter at the supply, if one is chosen.
func (p *Plan) Filter() (ID, catalog.Device, bool) { return p.chosen(p.Supply.Filter) }

// MasterValve returns the valve before all zone valves, if one is chosen.
func (p *Plan) MasterValve() (ID, catalog.Device, bool) { return p.chosen(p.Supply.MasterValve) }

// ServicePipe returns the pipe from the meter to the connection: its class, as
// chosen or by the material in words, and its size. A plan may say neither.
func (p *Plan) ServicePipe() (class catalog.PipeClass, size catalog.PipeSize, known bool) {
	id := cmp.Or(p.Supply.ServiceClass, serviceClass(p.Supply.ServiceMaterial))
	return p.Row(Pipe{Class: id, NominalIn: p.Supply.ServiceIn})
}

// serviceClass is the usual class of a material in words: "type L copper", "PVC".
func serviceClass(words string) ID {
	words = strings.ToLower(words)
	for _, m := range []struct {
		word string
		id   ID
	}{
		{"copper", "copper-l"}, {"vinyl", "pvc-sch40"}, {"polyethylene", "pe-100"}, {"poly", "pe-100"}, {"pvc", "pvc-sch40"},
		{"steel", "steel-40"}, {"galvani", "steel-40"}, {"iron", "steel-40"},
	} {
		if strings.Contains(words, m.word) {
			return m.id
		}
	}
	if strings.TrimSpace(words) == "pe" {
		return "pe-100"
	}
	return ""
}

func (p *Plan) chosen(id ID) (ID, catalog.Device, bool) {
	if id == "" {
		return "", catalog.Device{}, false
	}
	d, ok := p.Device(id)
	return id, d, ok
}

func (p *Plan) deviceOr(id, generic ID) (ID, catalog.Device) {
	if d, ok := p.Device(id); ok && id != "" {
		return id, d
	}
	d, _ := p.Device(generic)
	return generic, d
}

// PipeClassName returns the name of a pipe class as it reads in the plan's units,
// "" where there is none.
func (p *Plan) PipeClassName(id ID) string {
	c, _ := p.PipeClass(id)
	return catalog.NameIn(p.Show, c.Name)
}

// DeviceName returns the name of a device as it reads in the plan's units, ""
// where there is none.
func (p *Plan) DeviceName(id ID) string {
	d, _ := p.Device(id)
	return catalog.NameIn(p.Show, d.Name)
}

// Spot returns where a node stands.
func (n Node) Spot() Spot { return Spot{n.X, n.Y} }
