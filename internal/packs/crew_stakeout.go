package packs

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/stakeout"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// whiteFlags is what marks are white for, and what comes before them (the uniform colour
// code of utility marks: white is a proposed dig).
const whiteFlags = "Locate first: ask the utilities' locating service to mark its lines and wait until it has, and ask who may know of private ones. White flags and paint mark a dig to come; the other colours mean a buried line or a survey. Look at the local pre-mark form: some places want the white marks before the locator comes."

// stakedOf is the stake-out of a plan, with what is dug as its list names it.
func stakedOf(in Input, dig *sheets.Digging) *stakeout.Plan {
	return stakeout.Of(in.Plan, in.Design.Digs, keyTargets(in, dig)...)
}

// stakeOut is the plan of flags with what they are measured from, and the list to walk by.
func (b *builder) stakeOut() error {
	s := b.staked()
	if len(s.Flags)+len(s.Left) > 0 {
		if err := b.ground(groundSheet{list: "C5", also: ownStakes(s), enlarge: (*chart).crowded, draw: func(c *chart) { c.stakes(s) }, beside: func(c *chart, wide float64) []part {
			return []part{c.stakeNotes(wide, s), {c.title("Signs", wide), c.legend(wide)}}
		}}); err != nil {
			return err
		}
	}
	f := b.list()
	f.caution(whiteFlags + " " + trench.Caution)
	if len(s.Flags)+len(s.Left)+len(s.Out) == 0 {
		f.para("Nothing is to be set out: no new head, valve box or sleeve is drawn yet.")
		return nil
	}
	b.stakeHow(f, s)
	if points := sheets.StakePoints(s); len(points.Rows) > 0 {
		f.section("Fixed points")
		f.table(twoColumns(gridOf(points), 8, 42))
	}
	b.stakeList(f, s)
	return b.ctx.Err()
}

// ownStakes are the places of stakes that the crew sets, which may stand off all that is drawn.
func ownStakes(s *stakeout.Plan) []orb.Point {
	var out []orb.Point
	for _, q := range s.Points {
		if q.Own {
			out = append(out, q.At)
		}
	}
	return out
}

// stakeHow says how to work by the list.
func (b *builder) stakeHow(f *flow, s *stakeout.Plan) {
	var points []string
	if s.Own != "" {
		points = append(points, s.Own)
	}
	for _, q := range s.Points {
		if q.Post {
			points = append(points, "Find the posts of the lot first, or have a surveyor set them. Never guess a property line.")
			break
		}
	}
	points = append(points,
		"Along an edge: lay the tape along it from the first letter toward the second, then go square off it with a framing square. The hand is as you look from the first to the second.",
		"Two tapes: hook one to each letter, pull both tight and level at the two lengths and set the flag where they meet, on the hand told as you look from the first letter to the second.",
		fmt.Sprintf("Check every flag. When the check is off by more than %s, read both again. The third length is chosen so that a foot read wrong shows; where it tells the way along alone, look at the short one twice.", b.sys.Length(stakeout.Tolerance)),
		fmt.Sprintf("Lengths are to the nearest %s, to the middle of what the flag is for; no tape is longer than %s.", tapeStep(b), b.sys.Length(s.Tape)),
		s.Start+" The order is a short walk that stays on one side of a building or fence until it is done and leaves tapes hooked where it can. Sort the flags by tag before you start.",
	)
	f.bullets(points...)
	f.section("Flags")
	f.para(b.flagCount(s))
}

// twoColumns sets a table twice beside itself, down the left first, its columns by shares.
func twoColumns(t grid, shares ...float64) grid {
	out := grid{Head: append(append([]string{}, t.Head...), t.Head...), Shares: append(append([]float64{}, shares...), shares...)}
	half := (len(t.Rows) + 1) / 2
	for i := range half {
		row := append([]string{}, t.Rows[i]...)
		if i+half < len(t.Rows) {
			row = append(row, t.Rows[i+half]...)
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

func tapeStep(b *builder) string {
	if b.sys == units.Metric {
		return "centimetre"
	}
	return "half inch"
}

// flagCount says how many flags to take along, as the parts list counts them.
func (b *builder) flagCount(s *stakeout.Plan) string {
	heads, other := 0, map[string]int{}
	var kinds []string
	count := func(what string, of plan.Ref) {
		if what == "head" || strings.HasPrefix(string(of), "heads/") {
			heads++
			return
		}
		if other[what]++; other[what] == 1 {
			kinds = append(kinds, what)
		}
	}
	for i := range s.Flags {
		count(s.Flags[i].What, s.Flags[i].Of)
	}
	for _, l := range s.Left {
		count(l.What, l.Of)
	}
	spare, _ := b.p.Figure(plan.FlagsSpare)
	out := fmt.Sprintf("%s with printed tags, one for each new head, as the parts list has them; spares there are %s of those.", plan.Plural(heads, "white flag", "white flags"), b.sys.Percent(units.Ratio(spare)))
	var words []string
	for _, k := range kinds {
		words = append(words, fmt.Sprintf("%d for %s", other[k], stakeKind(k)))
	}
	if len(words) > 0 {
		out += " To be written on, or white paint instead: " + plan.Series(words) + "."
	}
	return out
}

func stakeKind(what string) string {
	switch what {
	case "valve":
		return "valve boxes"
	case "box":
		return "splice boxes"
	case "sleeve":
		return "ends of sleeves"
	case "main":
		return "bends and branches of the main"
	case "backflow":
		return "the backflow device"
	case "controller":
		return "the controller"
	}
	return what
}

// stakeList is the list in walking order, then what is not placed and what is taken out.
func (b *builder) stakeList(f *flow, s *stakeout.Plan) {
	if len(s.Flags) > 0 {
		f.section("In walking order")
		placed := *s
		placed.Left = nil
		t := gridOf(sheets.Stakes(b.p, &placed), "Step", "Flag", "For", "First", "Then", "Hand", "Check")
		for _, row := range t.Rows { // the room is for the lengths
			row[2] = strings.TrimPrefix(row[2], "end of ")
			row[4] = strings.TrimSuffix(row[4], " it")
		}
		t.Shares = []float64{6, 11, 13, 50, 18, 13, 20}
		t.Numbers = nil
		t.Ticks = true
		f.table(t)
	}
	if len(s.Left) > 0 {
		f.section("Not placed by tape")
		t := grid{Head: []string{"Flag", "Why, and what to do"}, Shares: []float64{15, 85}}
		for _, l := range s.Left {
			t.Rows = append(t.Rows, []string{l.Tag, l.Why})
		}
		f.table(t)
	}
	if len(s.Out) > 0 {
		f.section("Heads to take out")
		f.para("They get no flag: mark them apart from the white ones, and cap or take out what feeds them as the order of work says.")
		t := grid{Head: []string{"Head", "Where"}, Shares: []float64{15, 85}, Ticks: true}
		for _, o := range s.Out {
			t.Rows = append(t.Rows, []string{o.Tag, plan.Capital(o.Where)})
		}
		f.table(t)
	}
}

// stakes draws the ground, what is measured, and the flags.
func (c *chart) stakes(s *stakeout.Plan) {
	c.ground()
	for i := range s.Flags {
		f := &s.Flags[i]
		c.use(signTape)
		c.put(layerMeasured, c.taped(s, f)...)
	}
	for _, id := range plan.SortedIDs(c.p.Heads) {
		if h := c.p.Heads[id]; !h.Status.IsNew() {
			at := orb.Point{float64(h.X), float64(h.Y)}
			c.useStatus(h.Status)
			m, zoned := c.zones[h.Zone]
			c.put(layerHeads, c.headMark(at, m, zoned, c.p.Nozzles[h.Nozzle].Family, h.Status)...)
			c.take(at, markSize*c.k)
		}
	}
	c.fixedMarks(s)
	for i := range s.Flags {
		f := &s.Flags[i]
		c.use(signFlag)
		c.put(layerFlags, c.flag(f.At)...)
		c.take(orb.Point{f.At[0] + c.pt(1.5*c.k), f.At[1] + c.pt(3.5*c.k)}, 4*c.k)
		c.tag(f.Tag, f.At, 4.5*c.k, 8)
	}
	for _, l := range s.Left {
		c.use(signFlag)
		c.put(layerFlags, c.flag(l.At)...)
		c.tag(l.Tag+" (not placed)", l.At, 4.5*c.k, 8)
	}
}

// flag draws a flag stuck in at a place.
func (c *chart) flag(at orb.Point) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Black, Width: 0.7 * c.k}
	return []drawing.Item{
		&drawing.Line{Pen: pen, Points: c.about(at, c.k, orb.Point{}, orb.Point{0, 8})},
		&drawing.Area{Pen: pen, Fill: drawing.White, Rings: [][]orb.Point{c.about(at, c.k, orb.Point{0, 8}, orb.Point{5, 6.2}, orb.Point{0, 4.4})}},
		&drawing.Arc{Centre: at, Radius: 1 * c.k, SweepDeg: 360, OnPaper: true, Fill: drawing.Black},
	}
}

// manyTapes is past how many flags what is measured is drawn paler, so that it does not
// hide them. Chosen.
const manyTapes = 80

// taped draws what is measured to a flag: along the edge and off it, or both tapes.
func (c *chart) taped(s *stakeout.Plan, f *stakeout.Flag) []drawing.Item {
	pen := c.tapePen()
	if len(s.Flags) > manyTapes {
		pen.Ink = drawing.Pale
	}
	from, to := s.Points[f.From].At, s.Points[f.To].At
	if f.How == stakeout.AlongEdge {
		l := math.Hypot(to[0]-from[0], to[1]-from[1])
		t := float64(f.A) / l
		foot := orb.Point{from[0] + (to[0]-from[0])*t, from[1] + (to[1]-from[1])*t}
		return []drawing.Item{&drawing.Line{Pen: pen, Points: []orb.Point{from, foot, f.At}}}
	}
	return []drawing.Item{&drawing.Line{Pen: pen, Points: []orb.Point{from, f.At, to}}}
}

func (c *chart) tapePen() drawing.Pen {
	return drawing.Pen{Ink: drawing.RGB(0x8a8a8a), Width: 0.4 * c.k, Dash: []float64{3 * c.k, 1.6 * c.k}}
}

// stakeNotes are what comes before the first flag.
func (c *chart) stakeNotes(wide float64, s *stakeout.Plan) part {
	p := part{title: c.title("Before the first flag", wide)}
	p.blocks = append(p.blocks, c.block(whiteFlags, wide, nil))
	if s.Own != "" {
		p.blocks = append(p.blocks, c.block(s.Own, wide, nil))
	}
	p.blocks = append(p.blocks, c.block("How far, and by which points, is in the list that follows, in walking order.", wide, nil))
	return p
}
