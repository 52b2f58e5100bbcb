package pressure

import (
	"fmt"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/hydraulics"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// device is one device of the chain with its law.
type device struct {
	code string // of its row in a budget
	name string
	row  catalog.Device
	law  hydraulics.Law
}

// chain is what stands between street and laterals, by its place. Its order is
// that of the kind of backflow device: an atmospheric breaker stands after every
// zone valve, all others in the main.
type chain struct {
	street   []device             // meter and service line, when the flow was measured before them
	shut     []device             // isolation
	inLine   []device             // filter, backflow device in the main, and what follows it
	breaker  []device             // atmospheric breaker, after each zone valve
	swing    map[plan.ID][]device // under each head, by its body
	unloaded string               // what stands there and has no row, in words
}

func chainOf(p *plan.Plan) chain {
	var c chain
	add := func(list *[]device, code string, d catalog.Device) {
		if law, err := curveOf(d); err == nil { // plan.Decode has seen to it
			*list = append(*list, device{code, catalog.NameIn(p.Show, d.Name), d, law})
		}
	}
	if p.Supply.MeasuredWhere == "hydrant" {
		if _, d, ok := p.Meter(); ok {
			add(&c.street, "meter", d)
		}
		if class, size, ok := p.ServicePipe(); ok && p.Supply.ServiceLengthFt > 0 {
			c.street = append(c.street, device{"service", p.Show.PipeSize(size.Nominal) + " " + catalog.NameIn(p.Show, class.Name),
				catalog.Device{Source: class.Source}, hydraulics.NewPipe(p.Supply.ServiceLengthFt, size.Inside, class.C, 0)})
		}
	}
	if _, d, ok := p.Isolation(); ok {
		add(&c.shut, "isolation", d)
	}
	if _, d, ok := p.Filter(); ok {
		add(&c.inLine, "filter", d)
	}
	switch _, d, ok := p.BackflowDevice(); {
	case ok && d.Backflow == catalog.AtmosphericBreaker:
		add(&c.breaker, "breaker", d)
	case ok:
		add(&c.inLine, "backflow", d)
	case p.Supply.Backflow != "":
		c.unloaded = fmt.Sprintf("the backflow device (%s)", p.Supply.Backflow)
	}
	if _, d, ok := p.MasterValve(); ok {
		add(&c.inLine, "master_valve", d)
	}
	c.swing = map[plan.ID][]device{}
	for _, h := range p.Heads { // any order: a body has one joint
		if _, done := c.swing[h.Body]; !done {
			_, d := p.SwingJoint(h.Body)
			var under []device
			add(&under, "swing_joint", d)
			c.swing[h.Body] = under
		}
	}
	return c
}

// valveOf is the valve of a zone.
func valveOf(p *plan.Plan, zone plan.ID) []device {
	_, d := p.ZoneValve(zone)
	law, err := curveOf(d)
	if err != nil {
		return nil
	}
	return []device{{"valve", catalog.NameIn(p.Show, d.Name), d, law}}
}

// curveOf is the law of a device by its loss curve.
func curveOf(d catalog.Device) (hydraulics.Curve, error) {
	points := make([]hydraulics.LossPoint, len(d.Loss))
	for i, at := range d.Loss {
		points[i] = hydraulics.LossPoint{Flow: at.Flow, Loss: at.Loss}
	}
	return hydraulics.NewCurve(points)
}

// beforeLaterals are the laws of all devices between the measured point and the
// laterals but the zone valves themselves.
func (c chain) beforeLaterals() []hydraulics.Law {
	return slices.Concat(lawsOf(c.street), lawsOf(c.shut), lawsOf(c.inLine), lawsOf(c.breaker))
}

func lawsOf(list []device) []hydraulics.Law {
	out := make([]hydraulics.Law, len(list))
	for i, d := range list {
		out[i] = d.law
	}
	return out
}

// loss is what devices take together at a flow.
func loss(list []device, q units.GPM) units.PSI {
	sum := units.PSI(0)
	for _, d := range list {
		p, _ := d.law.Loss(q)
		sum += p
	}
	return sum
}
