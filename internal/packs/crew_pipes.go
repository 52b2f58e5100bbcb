package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/stakeout"
)

// pipePlan is the plan of pipe and wire with sizes, sleeves, boxes and key dimensions.
func (b *builder) pipePlan() error {
	staked, dig := b.staked(), b.digging()
	return b.ground(groundSheet{list: "C7", enlarge: (*chart).crowded, draw: func(c *chart) {
		c.ground()
		c.sleeves()
		c.pipes(true)
		c.sizes()
		c.supply()
		c.controls()
		c.spliceBoxes()
		c.valves(true)
		c.headDots()
		for _, q := range dig.Points {
			if q.Drawn {
				c.use(signKey)
				c.put(layerFixed, c.key(q.At)...)
				c.take(q.At, 2*c.k)
				c.labels = append(c.labels, label{about: q.At, of: "trench", want: drawing.Want{
					Text: drawing.Text{S: q.Name, Size: 5.6 * c.k, Bold: true, Halo: true}, Clear: 2 * c.k, Leader: c.leader(), Priority: 6,
				}})
			}
		}
		c.keyMarks(staked)
	}, beside: func(c *chart, wide float64) []part {
		return []part{c.pipeNotes(wide), {c.title("Signs", wide), c.legend(wide)}, c.fixedPoints(wide, staked), c.keyDimensions(wide, staked)}
	}})
}

// headDots draws heads small, in their zone's colour, with their tags: on the plan of
// pipes they only tell where pipe goes.
func (c *chart) headDots() {
	for _, id := range plan.SortedIDs(c.p.Heads) {
		h := c.p.Heads[id]
		if !h.Status.Stands() {
			continue
		}
		at := orb.Point{float64(h.X), float64(h.Y)}
		ink := drawing.Black
		if m, ok := c.zones[h.Zone]; ok {
			ink = m.ink()
		}
		c.use(signHeadDot)
		c.put(layerHeads, c.dot(at, ink)...)
		c.take(at, 2.2*c.k)
		if h.Tag != "" {
			c.labels = append(c.labels, label{about: at, without: true, of: plan.RefTo("heads", id), want: drawing.Want{
				Text: drawing.Text{S: h.Tag, Size: 5.6 * c.k, Ink: drawing.RGB(0x333333), Halo: true}, Clear: 2.2 * c.k, Priority: 3,
			}})
		}
	}
}

func (c *chart) dot(at orb.Point, ink drawing.Ink) []drawing.Item {
	return []drawing.Item{&drawing.Arc{Centre: at, Radius: 2 * c.k, SweepDeg: 360, OnPaper: true, Pen: drawing.Pen{Ink: ink, Width: 0.8 * c.k}, Fill: drawing.White}}
}

// fixedMarks draws all fixed points that places are measured from.
func (c *chart) fixedMarks(s *stakeout.Plan) {
	for i := range s.Points {
		c.fixedMark(&s.Points[i])
	}
}

// keyMarks draws those that key dimensions are measured from.
func (c *chart) keyMarks(s *stakeout.Plan) {
	used := keyPoints(s)
	for i := range s.Points {
		if used[i] {
			c.fixedMark(&s.Points[i])
		}
	}
}

func (c *chart) fixedMark(q *stakeout.Point) {
	if q.Flag {
		return
	}
	c.use(signFixed)
	c.put(layerFixed, c.fixed(q.At)...)
	c.take(q.At, 1.6*c.k)
	c.labels = append(c.labels, label{about: q.At, badge: q.Letter, want: drawing.Want{
		Text: c.badgeRoom(), Clear: 1.6 * c.k, Leader: c.leader(), Priority: 8,
	}})
}

func (c *chart) letterSample(letter string) func(box orb.Bound) drawing.Item {
	return func(box orb.Bound) drawing.Item {
		t := &chart{perFoot: 1, k: c.k}
		return &drawing.View{Box: box, PerFoot: 1, Items: t.badge(orb.Point{}, letter)}
	}
}

// pipeNotes say what is missing and what to know of the pipes.
func (c *chart) pipeNotes(wide float64) part {
	var says []string
	unsized := 0
	for _, v := range c.p.Pipes {
		if v.NominalIn <= 0 && v.Status.IsNew() {
			unsized++
		}
	}
	switch {
	case len(c.p.Pipes) == 0:
		says = append(says, "No pipe is drawn yet.")
	case unsized > 0:
		says = append(says, fmt.Sprintf("%s not sized yet. Do not buy or lay pipe from this sheet before sizes are chosen.", plan.Plural(unsized, "pipe is", "pipes are")))
	}
	if c.p.Supply.Connection == nil {
		says = append(says, "The point of connection is not placed yet.")
	}
	if c.p.Supply.BackflowAt == nil {
		says = append(says, "The backflow device is not placed yet. Local code says which kind, where and how high; have it tested by who is licensed to.")
	}
	if len(c.p.Zones) > 0 && len(c.p.Wires) == 0 && len(c.d.Digs.Ways) > 0 {
		missing := 0
		for _, w := range c.d.Digs.Ways {
			if w.Missing != "" {
				missing++
			}
		}
		if missing > 0 {
			says = append(says, fmt.Sprintf("Wire has no way yet to %s.", plan.Plural(missing, "valve or sensor", "valves or sensors")))
		}
	}
	if n := len(c.d.Digs.Segments); n > 0 {
		says = append(says, "Lines of one trench are drawn side by side so that each is seen. Depths, and what lies in each trench, are on C7; wires on C8.")
	}
	says = append(says, "Have buried lines located before you dig. Local code decides depth, sleeves and permits.")
	p := part{title: c.title("To know", wide)}
	for _, s := range says {
		p.blocks = append(p.blocks, c.block(s, wide, nil))
	}
	return p
}
