package packs

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// yardPlan is the plan for whoever lives there: what is watered by which station, and
// where valves, shut-off and controller are. Pipe is drawn without sizes, so that nobody
// digs into it.
func (b *builder) yardPlan() error {
	return b.ground(groundSheet{draw: func(c *chart) {
		c.ground()
		c.pipesPlain()
		c.supply()
		c.controls()
		c.spliceBoxes()
		c.valves(true)
		c.headPlain()
		c.nameShutOff()
	}, beside: func(c *chart, wide float64) []part {
		return []part{c.shutOff(wide), {c.title("Stations", wide), c.stationBlocks(wide)}, {c.title("Signs", wide), c.legend(wide)}}
	}})
}

// nameShutOff has the point of connection called by what an owner looks for there.
func (c *chart) nameShutOff() {
	if _, _, isolated := c.p.Isolation(); !isolated {
		return
	}
	for i := range c.labels {
		if t := &c.labels[i].want.Text; t.S == signWords[signConnection] {
			t.S = "shut-off, " + t.S
		}
	}
}

// headPlain draws heads with the marks of their zones and their numbers in them, and by
// each its tag, as places are told by it and flags and spare parts go by it.
func (c *chart) headPlain() {
	for _, id := range plan.SortedIDs(c.p.Heads) {
		h := c.p.Heads[id]
		if !h.Status.Stands() {
			continue
		}
		at := orb.Point{float64(h.X), float64(h.Y)}
		m, zoned := c.zones[h.Zone]
		if !zoned {
			c.use(signLoneHead)
			c.put(layerHeads, c.headMark(at, m, false, "", plan.New)...)
		} else {
			c.use(signStationHead)
			c.put(layerHeads, c.numbered(at, m)...)
		}
		c.take(at, 4.4*c.k)
		if h.Tag != "" {
			c.labels = append(c.labels, label{about: at, of: plan.RefTo("heads", id), want: drawing.Want{
				Text: drawing.Text{S: h.Tag, Size: 5.4 * c.k, Halo: true}, Clear: 4.6 * c.k, Priority: 4,
			}})
		}
	}
}

// numbered draws the mark of a zone with its number in it.
func (c *chart) numbered(at orb.Point, m zoneMark) []drawing.Item {
	size := 5.2 * c.k
	if len(m.number) > 1 {
		size *= 0.85
	}
	return []drawing.Item{
		c.zoneOutline(at, m, 4.4*c.k, drawing.Pen{Ink: m.ink(), Width: 1.2 * c.k}, drawing.White),
		&drawing.Text{At: orb.Point{at[0], at[1] - c.pt(size*0.36)}, Size: size, Bold: true, Anchor: drawing.Middle, S: m.number},
	}
}

// pipesPlain draws all pipe alike and thin.
func (c *chart) pipesPlain() {
	pen := drawing.Pen{Ink: drawing.RGB(0x8a8a8a), Width: 0.8 * c.k}
	l := c.lanesOf(false)
	for _, id := range plan.SortedIDs(c.p.Pipes) {
		v := c.p.Pipes[id]
		if pts := c.pipePath(id, l); v.Status.Stands() && len(pts) > 1 {
			c.use(signPlainPipe)
			c.line(pts...)
			c.put(layerLateral, &drawing.Line{Pen: pen, Points: pts})
		}
	}
	segs := c.d.Digs.Segments
	for i := range segs {
		s := &segs[i]
		if hasWire(s) && len(s.Pipes) == 0 {
			c.use(signWire)
			c.put(layerWire, c.wire([]orb.Point{s.From, s.To}, false, plan.New)...)
		}
	}
}

// stationBlocks tell what each station waters.
func (c *chart) stationBlocks(wide float64) []block {
	areas := map[plan.ID][]string{}
	for _, z := range c.d.Coverage.Zones {
		for _, id := range z.Areas {
			areas[z.ID] = append(areas[z.ID], c.p.AreaName(id))
		}
	}
	var out []block
	if len(c.p.Areas) == 0 && len(c.p.Heads) == 0 {
		out = append(out, c.block("Nothing is drawn yet.", wide, nil))
	}
	heads := zoneHeads(c.p)
	for _, id := range zonesInOrder(c.p) {
		z, m := c.p.Zones[id], c.zones[id]
		if !z.Status.Stands() {
			continue
		}
		head := "No station yet"
		if z.Station > 0 {
			head = fmt.Sprintf("Station %d", z.Station)
		}
		if z.Name != "" {
			head += "  " + z.Name
		}
		says := []string{plan.Plural(heads[id].n, "head", "heads")}
		if list := slices.Compact(areas[id]); len(list) > 0 {
			says = append(says, "waters "+plan.Several(list))
		}
		if len(c.p.Zones) > 0 {
			says = append(says, "valve "+c.valveTag(id))
		}
		status := z.Status
		out = append(out, c.headed(head, strings.Join(says, "; "), wide, func(box orb.Bound) drawing.Item { return c.zoneSample(m, status, box) }))
	}
	return out
}

// shutOff says how the water is shut off and where.
func (c *chart) shutOff(wide float64) part {
	var says []string
	s := &c.p.Supply
	_, dev, isolated := c.p.Isolation()
	switch {
	case isolated && s.Connection != nil:
		says = append(says, "All water to the system: "+lowerFirst(or(c.p.DeviceName(s.Isolation), dev.Name))+", at the point of connection ("+c.p.Whereabouts(spotAt(*s.Connection))+"), before the backflow device.")
	case s.Connection != nil:
		says = append(says, "No shut-off valve is named in the plan. Look for one by the point of connection ("+c.p.Whereabouts(spotAt(*s.Connection))+"), or ask who installs it to set one.")
	default:
		says = append(says, "The point of connection is not placed yet, nor a shut-off valve.")
	}
	if s.BackflowAt != nil {
		says = append(says, "The backflow device keeps the system's water out of the drinking water. Leave it as it is, and have it tested by who is licensed to.")
	}
	place := strings.TrimSpace(c.p.Controller.Place)
	switch {
	case place != "":
		says = append(says, "Controller: "+place+".")
	case c.p.Controller.At == nil:
		says = append(says, "The controller is not placed yet.")
	}
	if len(c.p.Pipes) > 0 {
		says = append(says, "Pipe and wire lie under these lines, or near them. Before anybody digs, look here and have buried lines located.")
	} else {
		says = append(says, "No pipe is drawn yet.")
	}
	p := part{title: c.title("Shut off, and before digging", wide)}
	for _, w := range says {
		p.blocks = append(p.blocks, c.block(w, wide, nil))
	}
	return p
}
