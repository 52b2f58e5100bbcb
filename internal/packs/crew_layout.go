package packs

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// layoutPlan is the plan of areas, heads and zones.
func (b *builder) layoutPlan() error {
	return b.ground(groundSheet{list: "C6", draw: func(c *chart) {
		c.ground()
		c.heights()
		c.throws()
		c.supply()
		c.controls()
		c.valves(true)
		c.heads(true)
		c.notes()
	}, beside: func(c *chart, wide float64) []part {
		return []part{{c.title("Zones, by station", wide), c.zoneBlocks(wide)}, {c.title("Signs", wide), c.legend(wide)}, c.layoutNotes(wide), c.noteBlocks(wide)}
	}})
}

// zoneBlocks are the zones for the column beside a plan: mark, number of the station and
// name, then heads, kinds of nozzle, flow and rate.
func (c *chart) zoneBlocks(wide float64) []block {
	readings := map[plan.ID]coverage.ZoneReading{}
	for _, z := range c.d.Coverage.Zones {
		readings[z.ID] = z
	}
	var out []block
	heads := zoneHeads(c.p)
	for _, id := range zonesInOrder(c.p) {
		m, z := c.zones[id], c.p.Zones[id]
		name := m.number
		if z.Name != "" {
			name += "  " + z.Name
		}
		var says []string
		if z.Station == 0 {
			says = append(says, "no station yet")
		}
		n, kinds := heads[id].n, heads[id].kinds
		says = append(says, plan.Plural(n, "head", "heads"))
		says = append(says, kinds...)
		if r, ok := readings[id]; ok && n > 0 {
			says = append(says, c.p.Show.Flow(r.FlowGPM))
			if r.RateByFlow > 0 {
				says = append(says, c.p.Show.Rate(r.RateByFlow))
			}
		}
		if !z.Status.IsNew() {
			says = append(says, map[bool]string{true: "there already", false: "to be removed"}[z.Status.Stands()])
		}
		status := z.Status
		out = append(out, c.headed(name, strings.Join(says, ", "), wide, func(box orb.Bound) drawing.Item { return c.zoneSample(m, status, box) }))
	}
	return out
}

// zoneCount is how many standing heads a zone has, and their kinds of nozzle.
type zoneCount struct {
	n     int
	kinds []string
}

// zoneHeads counts the standing heads of every zone.
func zoneHeads(p *plan.Plan) map[plan.ID]zoneCount {
	out := map[plan.ID]zoneCount{}
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		if !h.Status.Stands() {
			continue
		}
		z := out[h.Zone]
		z.n++
		if k := string(p.Nozzles[h.Nozzle].Family); k != "" && !slices.Contains(z.kinds, familyWords(k)) {
			z.kinds = append(z.kinds, familyWords(k))
			slices.Sort(z.kinds)
		}
		out[h.Zone] = z
	}
	return out
}

func familyWords(family string) string {
	switch family {
	case "spray":
		return "sprays"
	case "stream":
		return "streams"
	case "rotor":
		return "rotors"
	case "strip":
		return "strips"
	}
	return family
}

// zoneSample is the mark of a zone with its number.
func (c *chart) zoneSample(m zoneMark, status plan.Status, box orb.Bound) drawing.Item {
	t := &chart{p: c.p, d: c.d, zones: c.zones, perFoot: 1, k: c.k}
	at := orb.Point{}
	items := []drawing.Item{
		t.zoneOutline(at, m, 4.2*c.k, t.penOf(status, m.ink(), 1.3), drawing.White),
	}
	size := 5.4 * c.k
	if len(m.number) > 1 {
		size *= 0.85
	}
	items = append(items, &drawing.Text{At: orb.Point{0, -size * 0.36}, Size: size, Bold: true, Anchor: drawing.Middle, S: m.number})
	return &drawing.View{Box: box.Pad(1.5 * c.k), PerFoot: 1, Items: items}
}

// layoutNotes say what is missing and what to know of the layout.
func (c *chart) layoutNotes(wide float64) part {
	var says []string
	if len(c.p.Areas) == 0 {
		says = append(says, "No area is drawn yet.")
	}
	untagged, loose, out := 0, 0, 0
	for _, h := range c.p.Heads {
		if h.Tag == "" {
			untagged++
		}
		if h.Zone == "" {
			loose++
		}
	}
	out = len(c.d.Coverage.LeftOut)
	switch {
	case len(c.p.Heads) == 0:
		says = append(says, "No head is drawn yet.")
	case untagged > 0:
		says = append(says, plan.Plural(untagged, "head has", "heads have")+" no tag yet: give tags before flags are set.")
	}
	if len(c.p.Zones) == 0 {
		says = append(says, "No zone is drawn yet.")
	} else if loose > 0 {
		says = append(says, plan.Plural(loose, "head is", "heads are")+" in no zone yet.")
	}
	if out > 0 {
		says = append(says, plan.Plural(out, "head cannot", "heads cannot")+" run as planned, so that no throw is drawn.")
	}
	if len(c.p.Heads) > 0 {
		says = append(says, "Set heads by the stake-out, C5, not by measuring on this sheet. What to set on each is on C6.")
	}
	p := part{title: c.title("To know", wide)}
	for _, s := range says {
		p.blocks = append(p.blocks, c.block(s, wide, nil))
	}
	return p
}
