package packs

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
)

func spotAt(s plan.Spot) orb.Point { return orb.Point{float64(s.X), float64(s.Y)} }

// valveTag is what a zone's valve goes by on drawings and flags: V3 by its station.
func (c *chart) valveTag(zone plan.ID) string { return "V" + c.zones[zone].number }

// valvePlace is where a zone's valve stands, if it has a place.
func (c *chart) valvePlace(zone plan.ID) (orb.Point, bool) {
	if at := c.p.Zones[zone].ValveAt; at != nil {
		return spotAt(*at), true
	}
	if n := c.d.Pipework.Zones[zone].Valve; n != "" {
		return spotAt(c.p.Nodes[n].Spot()), true
	}
	return orb.Point{}, false
}

// valves draws the zone valves, and the boxes about those that stand together. The
// valves of one box share a label.
func (c *chart) valves(boxes bool) {
	boxed := map[plan.ID]bool{}
	if boxes {
		for i := range c.d.Digs.Boxes {
			x := &c.d.Digs.Boxes[i]
			if x.Kind == trench.SpliceBox {
				continue
			}
			status := plan.New
			if !x.New {
				status = plan.Existing
			}
			bound := orb.Bound{Min: x.At, Max: x.At}
			var tags []string
			for _, id := range x.Zones {
				if at, ok := c.valvePlace(id); ok {
					bound = bound.Extend(at)
					boxed[id] = true
					tags = append(tags, c.valveTag(id))
				}
			}
			if x.Master {
				tags = append([]string{"master valve"}, tags...)
			}
			pad := c.pt(5.2 * c.k)
			bound = orb.Bound{Min: orb.Point{bound.Min[0] - pad, bound.Min[1] - pad*0.8}, Max: orb.Point{bound.Max[0] + pad, bound.Max[1] + pad*0.8}}
			c.use(signValveBox)
			c.useStatus(status)
			c.put(layerValves, c.box(bound, status))
			half := max(bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1]) / 2 * c.perFoot
			if len(tags) > 0 {
				c.strong(strings.Join(tags, " "), bound.Center(), half, plan.RefTo("zones", firstOf(x.Zones)))
			}
		}
	}
	for _, id := range zonesInOrder(c.p) {
		at, ok := c.valvePlace(id)
		if !ok {
			continue
		}
		status := c.p.Zones[id].Status
		c.use(signValve)
		c.useStatus(status)
		c.put(layerValves, c.valve(at, c.zones[id], status)...)
		c.take(at, 3.6*c.k)
		if !boxed[id] {
			c.strong(c.valveTag(id), at, 3.6*c.k, plan.RefTo("zones", id))
		}
	}
}

func firstOf(ids []plan.ID) plan.ID {
	if len(ids) == 0 {
		return ""
	}
	return ids[0]
}

// strong wants a label in bold beside a mark.
func (c *chart) strong(s string, at orb.Point, half float64, of plan.Ref) {
	c.labels = append(c.labels, label{about: at, of: of, want: drawing.Want{
		Text: drawing.Text{S: s, Size: 6.4 * c.k, Bold: true, Halo: true}, Clear: half, Leader: c.leader(), Priority: 8,
	}})
}

// spliceBoxes draws the boxes for splices alone.
func (c *chart) spliceBoxes() {
	for i := range c.d.Digs.Boxes {
		x := &c.d.Digs.Boxes[i]
		if x.Kind != trench.SpliceBox {
			continue
		}
		status := plan.New
		if !x.New {
			status = plan.Existing
		}
		c.use(signSpliceBox)
		c.useStatus(status)
		c.put(layerWire, c.splices(x.At, status)...)
		c.take(x.At, 3.8*c.k)
		c.tag(clipped(or(c.p.Boxes[x.Drawn].Name, "splice box")), x.At, 3.8*c.k, 5)
	}
}

func or(s, otherwise string) string {
	if strings.TrimSpace(s) == "" {
		return otherwise
	}
	return s
}

// fixture draws a thing that stands by itself with its name beside it. half is half the
// width of its mark, points on Letter.
func (c *chart) fixture(at orb.Point, s sign, status plan.Status, layer string, items []drawing.Item, half float64, name string, priority int) {
	c.use(s)
	c.useStatus(status)
	c.put(layer, items...)
	c.take(at, half*c.k)
	c.tag(name, at, half*c.k, priority)
}

// supply draws the point of connection, the backflow device and the drains.
func (c *chart) supply() {
	s := &c.p.Supply
	if s.Connection != nil {
		at := spotAt(*s.Connection)
		c.fixture(at, signConnection, s.Status, layerSupply, c.connection(at, s.Status), 5, "point of connection", 7)
	}
	if s.BackflowAt != nil {
		at := spotAt(*s.BackflowAt)
		c.fixture(at, signBackflow, s.Status, layerSupply, c.backflow(at, s.Status), 4.6, "backflow device", 7)
	}
	for _, id := range plan.SortedIDs(c.p.Nodes) {
		n := c.p.Nodes[id]
		if n.Kind != "drain" {
			continue
		}
		at := spotAt(n.Spot())
		c.fixture(at, signDrain, n.Status, layerSupply, c.drain(at, n.Status), 4, "drain", 5)
	}
}

// controls draws the controller and the sensors.
func (c *chart) controls() {
	if k := c.p.Controller; k.At != nil {
		at := spotAt(*k.At)
		c.fixture(at, signController, k.Status, layerControl, c.controller(at, k.Status), 4.6, "controller", 7)
	}
	for _, id := range plan.SortedIDs(c.p.Sensors) {
		s := c.p.Sensors[id]
		at := orb.Point{float64(s.X), float64(s.Y)}
		c.fixture(at, signSensor, s.Status, layerControl, c.sensor(at, s.Status), 4, s.Kind+" sensor", 5)
	}
}

// sleeves draws the sleeves with their numbers and sizes. What is needed and not drawn
// is dashed.
func (c *chart) sleeves() {
	for _, s := range sheets.LaidSleeves(c.p, c.d.Digs) {
		status := plan.New
		if !s.New {
			status = plan.Existing
		}
		if s.ID == "" {
			c.use(signSleeveNeeded)
		} else {
			c.use(signSleeve)
			c.useStatus(status)
		}
		c.put(layerSleeves, c.sleeve(s.From, s.To, status, s.ID != "")...)
		size := notSized
		if s.Size > 0 {
			size = c.p.Show.PipeSize(s.Size)
		}
		mid := orb.Point{(s.From[0] + s.To[0]) / 2, (s.From[1] + s.To[1]) / 2}
		c.labels = append(c.labels, label{about: mid, along: []orb.Point{s.From, s.To}, of: plan.RefTo("sleeves", s.ID), want: drawing.Want{
			Text: drawing.Text{S: fmt.Sprintf("sleeve %d: %s", s.Number, size), Size: 5.8 * c.k, Halo: true}, Clear: 3 * c.k, Leader: c.leader(), Priority: 7,
		}})
	}
}

// standingNotes are the notes of a plan that say something, in order.
func standingNotes(p *plan.Plan) []plan.ID {
	return slices.DeleteFunc(plan.SortedIDs(p.Notes), func(id plan.ID) bool {
		return !p.Notes[id].Status.Stands() || strings.TrimSpace(p.Notes[id].Text) == ""
	})
}

// notes wants the numbers of the plan's notes where they are; what they say stands
// beside the plan.
func (c *chart) notes() {
	for i, id := range standingNotes(c.p) {
		n := c.p.Notes[id]
		at := orb.Point{float64(n.X), float64(n.Y)}
		c.labels = append(c.labels, label{about: at, of: plan.RefTo("notes", id), want: drawing.Want{
			Text: drawing.Text{S: fmt.Sprintf("note %d", i+1), Size: 6 * c.k, Italic: true, Halo: true}, Leader: c.leader(), Priority: 4, On: true,
		}})
	}
}

// noteBlocks are what the notes say.
func (c *chart) noteBlocks(wide float64) part {
	p := part{title: c.title("Notes", wide)}
	for i, id := range standingNotes(c.p) {
		p.blocks = append(p.blocks, c.headed(fmt.Sprintf("note %d", i+1), c.p.Notes[id].Text, wide, nil))
	}
	return p
}
