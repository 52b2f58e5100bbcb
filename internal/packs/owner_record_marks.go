package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
)

// recordGround draws what is in the ground: pipe with its sizes, sleeves, wire, boxes and
// every head, new, there before and to be removed; what was measured is marked.
func (c *chart) recordGround(r *record) {
	c.ground()
	c.sleeves()
	c.pipes(true)
	c.sizes()
	c.supply()
	c.controls()
	c.spliceBoxes()
	c.valves(true)
	c.recordHeads()
	for i := range r.things {
		c.recordMark(&r.things[i])
	}
	for i := range r.stake.Flags {
		if f := &r.stake.Flags[i]; f.What != "head" {
			c.use(signTape)
			c.put(layerMeasured, c.taped(r.stake, f)...)
			c.tapeLengths(r.stake, f)
		}
	}
	c.fixedMarks(r.stake)
	if c.used[signExisting] || c.used[signRemove] {
		c.use(signNew)
	}
}

// tapeLengths want the lengths along the tapes to a box or the backflow device; what finds
// no room is in the list.
func (c *chart) tapeLengths(s *stakeout.Plan, f *stakeout.Flag) {
	if f.What != "valve" && f.What != "box" && f.What != "backflow" {
		return
	}
	for _, item := range c.taped(s, f) {
		line, ok := item.(*drawing.Line)
		if !ok || len(line.Points) < 3 {
			continue
		}
		for i, length := range []units.Feet{f.A, f.B} {
			a, b := line.Points[i], line.Points[i+1]
			mid := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
			c.labels = append(c.labels, label{about: mid, along: []orb.Point{a, b}, without: true, of: f.Of, want: drawing.Want{
				Text: drawing.Text{S: c.p.Show.Length(length), Size: 5 * c.k, Italic: true, Ink: drawing.RGB(0x555555), Halo: true}, Clear: 0.8 * c.k, Priority: 2,
			}})
		}
	}
}

// recordHeads draws all heads with their tags. What goes says so.
func (c *chart) recordHeads() {
	for _, id := range plan.SortedIDs(c.p.Heads) {
		h := c.p.Heads[id]
		at := orb.Point{float64(h.X), float64(h.Y)}
		m, zoned := c.zones[h.Zone]
		family := c.p.Nozzles[h.Nozzle].Family
		if !zoned {
			c.use(signLoneHead)
		}
		c.use(familySignOf(family))
		c.useStatus(h.Status)
		c.put(layerHeads, c.headMark(at, m, zoned, family, h.Status)...)
		half := markSize * c.k * 1.1
		c.take(at, half)
		words := h.Tag
		if !h.Status.Stands() {
			words = joined(words, "(goes)")
		}
		if words != "" {
			c.labels = append(c.labels, label{about: at, of: plan.RefTo("heads", id), want: drawing.Want{
				Text:  drawing.Text{S: words, Size: 5.8 * c.k, Bold: h.Status.IsNew(), Italic: !h.Status.IsNew(), Halo: true},
				Clear: half, Leader: c.leader(), Priority: 5,
			}})
		}
	}
}

// recordMark puts the sign of what was measured about a thing, and where it was drawn
// before; a sleeve's ends and the main's bends get their tags.
func (c *chart) recordMark(t *recorded) {
	if t.built != nil {
		c.use(signBuilt)
		c.put(layerMeasured, c.brackets(t.at)...)
		for _, was := range t.was {
			c.use(signWas)
			c.put(layerMeasured, c.was(was, t.at)...)
		}
	}
	switch t.what {
	case "main":
		c.use(signMainPlace)
		c.put(layerFixed, c.key(t.at)...)
		c.take(t.at, 2*c.k)
		c.smallTag(t, 2*c.k)
	case "sleeve":
		c.smallTag(t, 3*c.k)
	case "box": // its name stands there already
		c.smallTag(t, 4*c.k)
	}
}

func (c *chart) smallTag(t *recorded, clear float64) {
	c.labels = append(c.labels, label{about: t.at, of: t.of, want: drawing.Want{
		Text: drawing.Text{S: t.tag, Size: 5.6 * c.k, Bold: true, Halo: true}, Clear: clear, Leader: c.leader(), Priority: 6,
	}})
}

// brackets are four corners about a thing whose place was measured.
func (c *chart) brackets(at orb.Point) []drawing.Item {
	const half, arm = 6.2, 2.6
	pen := drawing.Pen{Ink: drawing.Black, Width: 0.8 * c.k}
	var out []drawing.Item
	for _, s := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		out = append(out, &drawing.Line{Pen: pen, Points: c.about(at, c.k,
			orb.Point{s[0] * (half - arm), s[1] * half}, orb.Point{s[0] * half, s[1] * half}, orb.Point{s[0] * half, s[1] * (half - arm)})})
	}
	return out
}

// was is where a thing was drawn before, with a line to where it is.
func (c *chart) was(drawn, is orb.Point) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Black, Width: 0.6 * c.k, Dash: []float64{1 * c.k, 1.2 * c.k}}
	return []drawing.Item{
		&drawing.Line{Pen: pen, Points: []orb.Point{drawn, is}},
		&drawing.Arc{Centre: drawn, Radius: 2.4 * c.k, SweepDeg: 360, OnPaper: true, Pen: pen},
	}
}

// recordNotes say what of the drawing was measured, and what to know of it.
func (c *chart) recordNotes(wide float64, r *record) part {
	heads, of, boxes, ofBoxes, gone := 0, 0, 0, 0, 0
	for i := range r.things {
		t := &r.things[i]
		switch {
		case !t.status.Stands():
			gone++
		case t.what == "head":
			of++
			if t.built != nil {
				heads++
			}
		case t.what == "valve" || t.what == "box":
			ofBoxes++
			if t.built != nil {
				boxes++
			}
		}
	}
	var says []string
	measured := 0
	for i := range r.things {
		if r.things[i].built != nil {
			measured++
		}
	}
	switch {
	case len(r.things) == 0:
		says = append(says, "Nothing is drawn yet.")
	case measured == 0:
		says = append(says, "Nothing has been measured in the ground yet: all is shown where it was planned. Strike out what went elsewhere, draw it in, and write its two lengths into the list that follows.")
	default:
		says = append(says, fmt.Sprintf("Measured where they went: %d of %s and %d of %s. What has no brackets about it is shown where it was planned.", heads, plan.Plural(of, "head", "heads"), boxes, plan.Plural(ofBoxes, "box", "boxes")))
	}
	if gone > 0 {
		says = append(says, plan.Plural(gone, "thing is", "things are")+" to be removed: crossed out here.")
	}
	if on := c.p.Proof.StartedUp; on != "" {
		says = append(says, "Started up on "+on+".")
	}
	if len(r.stake.Flags) > 0 {
		says = append(says, "How each thing is found by tape from the fixed points is in the list that follows. Tapes to heads are not drawn.")
	}
	if len(c.p.Pipes) > 0 {
		says = append(says, "Pipe is shown as it was drawn, lines of one trench side by side. Before anybody digs, have buried lines located.")
	}
	p := part{title: c.title("What this drawing is", wide)}
	for _, s := range says {
		p.blocks = append(p.blocks, c.block(s, wide, nil))
	}
	return p
}

// recordPoints lists the letters that things are measured from.
func (c *chart) recordPoints(wide float64, r *record) part {
	p := part{title: c.title("Fixed points", wide)}
	for _, q := range r.stake.Points {
		if !q.Flag {
			p.blocks = append(p.blocks, c.block(q.Name, wide, c.letterSample(q.Letter)))
		}
	}
	return p
}
