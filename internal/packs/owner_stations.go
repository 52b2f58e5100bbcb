package packs

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// zonesAndStations tells the owner what each station waters, how fast, and where its
// valve is; then how the water is shut off, and who to call.
func (b *builder) zonesAndStations() error {
	f := b.list()
	b.stations(f)
	f.section("Shut the water off")
	f.bullets(b.shutWords()...)
	b.whoToCall(f)
	return nil
}

func (b *builder) stations(f *flow) {
	zones := b.standingZones()
	if len(zones) == 0 {
		f.para("No zone is drawn yet.")
		return
	}
	f.para("A zone is the heads that one valve opens; its station is its number at the controller. Marks are those of the plan, O1.")
	depth := units.Inches(1)
	if b.sys == units.Metric {
		depth = units.Inches(25 / 25.4)
	}
	g := grid{Head: []string{"Station", "Zone", "What it waters", "Heads", "Minutes for " + b.sys.Depth(depth)},
		Numbers: []bool{false, false, false, true, true}, Shares: []float64{2, 5, 9, 2, 3}, Mark: b.zoneMarker(zones)}
	where := grid{Head: []string{"Station", "On the plan", "Where its valve is"}, Shares: []float64{2, 2, 14}, Mark: b.zoneMarker(zones)}
	c := newChart(b.in, 1, 1)
	unknown := false
	for _, id := range zones {
		z := b.p.Zones[id]
		waters, minutes, n := "nothing yet", "–", 0
		for _, r := range b.in.Design.Coverage.Zones {
			if r.ID != id {
				continue
			}
			n = r.Heads
			if names := b.areaNames(r.Areas); len(names) > 0 {
				waters = plan.Series(names)
			}
			if m := coverage.WeekMinutes(depth, rateOf(r), 1); m > 0 {
				minutes = fmt.Sprintf("%.0f", math.Ceil(m))
			}
		}
		unknown = unknown || minutes == "–"
		g.Rows = append(g.Rows, []string{stationName(z), zoneTitle(b.p, id), waters, itoa(n), minutes})
		where.Rows = append(where.Rows, []string{stationName(z), c.valveTag(id), b.valveWhere(c, id)})
	}
	g.Note = "Minutes are for the mean over the ground the zone waters, in calm air. Dry places get less: the program card allows for that."
	if unknown {
		g.Note += " A dash: the rate is not known yet."
	}
	f.table(g)
	f.section("Where the valves are")
	f.para("Each is in a box with its cover level with the ground. Before anybody digs near it: wire, and pipe under pressure, lie there.")
	f.table(where)
}

// rateOf is the mean rate over the ground that a zone waters: of the map, else by flow.
func rateOf(r coverage.ZoneReading) units.InchesPerHour {
	if r.RateByGrid > 0 {
		return r.RateByGrid
	}
	return r.RateByFlow
}

// standingZones are the zones that stand, in their order.
func (b *builder) standingZones() []plan.ID {
	return slices.DeleteFunc(zonesInOrder(b.p), func(id plan.ID) bool { return !b.p.Zones[id].Status.Stands() })
}

func stationName(z plan.Zone) string {
	if z.Station > 0 {
		return itoa(z.Station)
	}
	return "none yet"
}

// zoneTitle is a zone by its name alone, as its station stands beside it.
func zoneTitle(p *plan.Plan, id plan.ID) string {
	if name := p.Zones[id].Name; name != "" {
		return name
	}
	return plan.Capital(p.ZoneName(id))
}

func (b *builder) areaNames(ids []plan.ID) []string {
	var out []string
	for _, id := range ids {
		if name := b.p.AreaName(id); !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// zoneMarker draws the marks of zones in the rows of a table.
func (b *builder) zoneMarker(zones []plan.ID) func(row int, at orb.Point) []drawing.Item {
	c := newChart(b.in, 1, 1.2)
	return func(row int, at orb.Point) []drawing.Item {
		if row >= len(zones) {
			return nil
		}
		return c.numbered(at, c.zones[zones[row]])
	}
}

// areaUnder names the area that has the ground at a place, "" where none is drawn.
func (c *chart) areaUnder(at orb.Point) string {
	name := ""
	for _, id := range c.areasInOrder() { // the one that has the ground comes last
		a := c.p.Areas[id]
		if a.Kind == plan.NoDig || a.Name == "" || !geom.RingContains(a.Outline.Ring(), at) {
			continue
		}
		if !slices.ContainsFunc(a.Holes, func(o geom.Outline) bool { return geom.RingContains(o.Ring(), at) }) {
			name = a.Name
		}
	}
	return name
}

// valveWhere says in words where a zone's valve is.
func (b *builder) valveWhere(c *chart, id plan.ID) string {
	at, ok := c.valvePlace(id)
	if !ok {
		return "Not drawn yet."
	}
	says := plan.Capital(b.p.Whereabouts(at)) + "."
	if area := c.areaUnder(at); area != "" {
		says = "In " + area + ", " + b.p.Whereabouts(at) + "."
	}
	for _, x := range b.in.Design.Digs.Boxes {
		if !slices.Contains(x.Zones, id) || len(x.Zones) < 2 {
			continue
		}
		var others []string
		for _, z := range x.Zones {
			if z != id {
				others = append(others, stationName(b.p.Zones[z]))
			}
		}
		says += fmt.Sprintf(" In one box with %s %s.", plan.Choose(len(others), "station", "stations"), plan.Series(others))
	}
	return says
}
