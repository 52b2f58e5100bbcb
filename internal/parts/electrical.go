package parts

import (
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// made are the numbers of stations that controllers are made with (common practice,
// from memory; shops differ).
var made = []int{4, 6, 8, 12, 16, 24, 32, 48}

// electrical counts controller, sensors, wire and what joins it.
func electrical(p *plan.Plan, digs *trench.Digs, wired *wire.Wiring, ts tallies) {
	here := place{kind: Electrical}
	if c := p.Controller; c.At != nil && c.Status.IsNew() {
		ts.on(here).add(controller(p))
		conduit(p, ts.on(here))
	}
	for _, id := range plan.SortedIDs(p.Sensors) {
		s := p.Sensors[id]
		if !s.Status.IsNew() {
			continue
		}
		item := plan.Capital(s.Kind) + " sensor"
		if s.Wireless {
			item += ", wireless, with its receiver"
		}
		ts.on(here).add(piece{GroupSensor, item, "One for each placed on the plan as new.", plan.RefTo("sensors", id)})
	}
	for _, c := range wired.Cables {
		cable(p, c, ts.on(here))
	}
	for _, s := range wired.Splices {
		from := plan.RefTo("controller", "at")
		if s.Box >= 0 && s.Box < len(digs.Boxes) {
			switch b := digs.Boxes[s.Box]; {
			case b.Drawn != "":
				from = plan.RefTo("boxes", b.Drawn)
			case len(b.Zones) > 0:
				from = plan.RefTo("zones", b.Zones[0])
			}
		}
		ts.on(here).addFrom(piece{group: GroupWire, item: "Waterproof wire connector, for wet ground", rule: "One for each splice, in boxes only; its package says how many wires of which size it takes."}, s.Connectors, []plan.Ref{from})
	}
}

// controller is the one to buy: with the stations the plan says, else the next number
// made above those used and the spare ones.
func controller(p *plan.Plan) piece {
	c, used, highest := p.Controller, 0, 0
	for _, z := range p.Zones {
		if z.Status.Stands() {
			used, highest = used+1, max(highest, z.Station)
		}
	}
	item, rule := "Controller", "The one placed on the plan."
	stations := c.Stations
	if stations == 0 && used > 0 {
		share, _ := p.Figure(plan.StationsSpare)
		want := max(wholeUp(float64(used)*(1+share)), highest)
		stations = want
		for _, n := range made {
			if n >= want {
				stations = n
				break
			}
		}
		rule += fmt.Sprintf(" %s used and %s to spare make %d; the next number that controllers are made with.", plan.Plural(used, "station", "stations"), percent(share), want)
	}
	if stations > 0 {
		item += ", " + plan.Plural(stations, "station", "stations")
	}
	if c.Outdoors {
		item += ", in a weatherproof case"
	}
	return piece{GroupClock, item, rule + " Local code decides on electrical work; mains wiring is an electrician's.", plan.RefTo("controller", "at")}
}

// conduit is what wire climbs the wall in, to the controller.
func conduit(p *plan.Plan, on *tally) {
	rise, _ := p.Figure(plan.WireRise)
	if rise <= 0 {
		return
	}
	on.addAmount(amount{of: rise, in: byLength, packing: packing{one: "length", sizes: []float64{conduitFt}},
		piece: piece{GroupWire, "Conduit for wire, " + p.Show.PipeSize(0.75) + ", with straps and a bend", "From the trench up the wall to the controller. None is needed in the soil around wire made for direct burial.", plan.RefTo("controller", "at")}})
}

// cable counts one wire or cable.
func cable(p *plan.Plan, c wire.Cable, on *tally) {
	item := fmt.Sprintf("Cable for direct burial, %s, %d conductors", wire.GaugeName(p.Show, c.AWG), c.Conductors)
	if c.Conductors == 1 {
		item = fmt.Sprintf("Wire for direct burial, %s, single, %s", wire.GaugeName(p.Show, c.AWG), c.Colour)
	}
	for i, ref := range c.For {
		a := amount{in: byLength, packing: packing{one: "roll", sizes: rolls, inOne: true},
			piece: piece{GroupWire, item, "The length along its way, with slack at each splice, coils and what is lost. On one roll if one holds it all, so that nothing is spliced in the soil.", ref}}
		if i == 0 {
			a.of = float64(c.Length)
		}
		on.addAmount(a)
	}
}
