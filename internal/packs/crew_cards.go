package packs

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
	"evenfall/internal/wire"
)

// zoneCards are a card for each zone, and one for each other list of parts, so that the
// cards together are the whole job.
func (b *builder) zoneCards() error {
	f := b.list()
	list := b.in.Design.Parts
	cards := b.allCards()
	if len(cards) == 0 {
		f.para("No zone is drawn yet, and nothing is to be bought.")
		return nil
	}
	f.para("A card for each valve, and one for each list of what serves all. The parts on the cards add up to the parts list, line by line. Pressures are those with the zone running by itself.")
	if b.supply != "" {
		f.caution(b.supply)
	}
	for i := range cards {
		b.setCard(f, &cards[i])
	}
	f.note(list.Scope)
	return nil
}

// zoneCard is one card in the making: facts, tables, and its parts.
type zoneCard struct {
	title  string
	zone   plan.ID
	facts  [][2]string
	tables []grid
	says   string // in place of parts
	parts  grid
	list   int // of parts.List.Zones; -1: none
}

// allCards are the zones in their order, then the other lists in theirs.
func (b *builder) allCards() []zoneCard {
	list := b.in.Design.Parts
	cost := sheets.CostOf(b.p, b.in.Design)
	var out []zoneCard
	listed := map[plan.ID]int{}
	for i, z := range list.Zones {
		if z.Kind == parts.OfZone {
			listed[z.Zone] = i
		}
	}
	add := func(c zoneCard) {
		c.says = "Nothing to buy: what it has is there already."
		if c.list >= 0 && len(list.Zones[c.list].Lines) > 0 {
			c.says = ""
			c.parts = partsGrid(sheets.PartsOf(b.p, list, cost, c.list))
		}
		out = append(out, c)
	}
	for _, id := range zonesInOrder(b.p) {
		if !b.p.Zones[id].Status.Stands() {
			continue
		}
		at, there := listed[id]
		if !there {
			at = -1
		}
		delete(listed, id)
		c := b.zoneCard(id)
		c.list = at
		add(c)
	}
	for i, z := range list.Zones {
		_, left := listed[z.Zone]
		if len(z.Lines) == 0 || z.Kind == parts.OfZone && !left {
			continue
		}
		add(zoneCard{title: sheets.PartsOf(b.p, list, cost, i).Title, list: i})
	}
	return out
}

// zoneCard tells one zone.
func (b *builder) zoneCard(id plan.ID) zoneCard {
	p, d := b.p, b.in.Design
	c := zoneCard{title: plan.Capital(p.ZoneName(id)), zone: id}
	fact := func(name, says string) {
		if says != "" {
			c.facts = append(c.facts, [2]string{name, says})
		}
	}
	for _, z := range d.Coverage.Zones {
		if z.ID != id {
			continue
		}
		var areas []string
		for _, a := range z.Areas {
			areas = append(areas, p.AreaName(a))
		}
		waters := plan.Series(areas)
		if kinds := strings.Join(z.Plantings, "; "); kinds != "" {
			waters += ": " + kinds
		}
		fact("Waters", waters)
		flow := b.sys.Flow(z.FlowGPM)
		if z.RateByFlow > 0 {
			flow += ", " + b.sys.Rate(z.RateByFlow)
		}
		fact("Flow, rate", flow)
	}
	b.pressureFacts(id, fact)
	if v, ok := d.Pipework.Zones[id]; ok && v.Valve != "" {
		fact("Valve", b.valvePlace(id, v.Valve))
	} else {
		fact("Valve", "not drawn yet")
	}
	station := "no station yet"
	if n := p.Zones[id].Station; n > 0 {
		station = "station " + itoa(n)
	}
	for _, r := range d.Wiring.Runs {
		if r.To == plan.RefTo("zones", id) {
			station += ": " + wireWords(b, &r)
		}
	}
	fact("Wire", station)
	c.tables = append(c.tables, b.nozzleGrid(id))
	if g := b.unsizedGrid(id); len(g.Rows) > 0 {
		c.tables = append(c.tables, g)
	}
	return c
}

// valvePlace says where a valve is: in which box, and how that is found.
func (b *builder) valvePlace(id, node plan.ID) string {
	digs := b.in.Design.Digs
	for i := range digs.Boxes {
		if x := &digs.Boxes[i]; slices.Contains(x.Zones, id) {
			return plan.Capital(sheets.BoxTitle(b.p, digs, i)) + ": " + lowerFirst(b.whereIs(x.At))
		}
	}
	n := b.p.Nodes[node]
	return b.whereIs(orb.Point{float64(n.X), float64(n.Y)})
}

func wireWords(b *builder, r *wire.Run) string {
	switch {
	case !r.Known:
		return "no way yet: " + r.Missing
	case !r.New:
		return "there already"
	}
	says := strings.Join(r.Colours, ", then ") + ", " + wire.GaugeName(b.sys, r.Hot)
	if box := sheets.BoxTitle(b.p, b.in.Design.Digs, r.Box); box != "" {
		says += ", spliced in the " + box
	}
	return says
}

// pressureFacts are the pressure behind the valve and at the head that has least.
func (b *builder) pressureFacts(id plan.ID, fact func(name, says string)) {
	for _, z := range b.in.Design.Pressure.Zones {
		if z.ID != id {
			continue
		}
		if !z.Solved {
			fact("Pressure", z.Says)
			return
		}
		var says []string
		for _, s := range z.Budget {
			if s.Code == "valve" {
				says = append(says, b.sys.Pressure(s.Left)+" behind the valve")
			}
		}
		for _, h := range z.Heads {
			if h.ID == z.Worst {
				says = append(says, b.sys.Pressure(h.Nozzle)+" at the nozzle of "+b.p.HeadName(h.ID)+", the least")
			}
		}
		fact("Pressure", strings.Join(says, "; "))
	}
}

// nozzleGrid is the heads of a zone by their nozzle: item, count and unit, as lists of
// parts have them.
func (b *builder) nozzleGrid(id plan.ID) grid {
	g := grid{Head: []string{"Nozzle and heads", "Heads", ""}, Numbers: []bool{false, true, false}, Shares: []float64{80, 12, 8}}
	by := map[string][]string{}
	var names []string
	heads := b.standingHeads(id)
	for _, h := range heads {
		v := b.p.Heads[h]
		name := b.p.NozzleName(v.Nozzle)
		if name == "" {
			name = string(v.Nozzle)
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
		by[name] = append(by[name], b.p.HeadTag(h))
	}
	for _, n := range names {
		g.Rows = append(g.Rows, []string{n + ": " + strings.Join(by[n], ", "), itoa(len(by[n])), ""})
	}
	g.Note = "Heads by nozzle: " + plan.Plural(len(heads), "head", "heads")
	if len(heads) == 0 {
		g.Note = "No head yet"
	}
	return g
}

// unsizedGrid is the drawn laterals of a zone that no list of parts counts: those
// without a size, and those that are there already.
func (b *builder) unsizedGrid(id plan.ID) grid {
	g := grid{Head: []string{"Lateral", "Length", ""}, Numbers: []bool{false, true, false}, Shares: []float64{70, 22, 8}, Note: "Laterals not among the parts"}
	var unsized, there units.Feet
	for _, v := range b.in.Design.Pipework.Zones[id].Pipes {
		drawn, long := b.p.Pipes[v], b.in.Design.Pipework.Pipes[v].Length
		switch {
		case !drawn.Status.IsNew():
			there += long
		case drawn.NominalIn <= 0:
			unsized += long
		}
	}
	if unsized > 0 {
		g.Rows = append(g.Rows, []string{"not sized yet", b.sys.Length(unsized), ""})
	}
	if there > 0 {
		g.Rows = append(g.Rows, []string{"there already", b.sys.Length(there), ""})
	}
	return g
}

// marks are the marks of the zones.
func (b *builder) marks() map[plan.ID]zoneMark { return zoneMarks(b.p) }

// zoneBadge is the mark of a zone with its number, at most 14 points high.
func zoneBadge(m zoneMark, at orb.Point) []drawing.Item {
	const size = 6.0
	pen := drawing.Pen{Ink: m.ink(), Width: 1.3}
	var shape drawing.Item = &drawing.Arc{Centre: at, Radius: size, SweepDeg: 360, Pen: pen}
	if ring := m.shape().outline(); ring != nil {
		placed := make([]orb.Point, len(ring))
		for i, q := range ring {
			placed[i] = orb.Point{at[0] + q[0]*size/9, at[1] + q[1]*size/9}
		}
		shape = &drawing.Area{Pen: pen, Rings: [][]orb.Point{placed}}
	}
	return []drawing.Item{shape, &drawing.Text{At: orb.Point{at[0], at[1] - 2.3}, Size: 6.5, Bold: true, Anchor: drawing.Middle, S: m.number}}
}

// lowerFirst begins words with a small letter.
func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}
