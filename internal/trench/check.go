package trench

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Check holds what is dug against the rules of the trade: sleeves under paving and
// what lies in them, and where a trench must not go. What is there already is not
// dug, and found no fault with. net and d are p's own.
func Check(p *plan.Plan, net *pipework.Network, d *Digs) []plan.Finding {
	c := checker{p: p, net: net, d: d}
	return slices.Concat(c.sleevesMissing(), c.sleevesSmall(), c.sleevesShort(), c.sleevesShared(), c.boresLong(),
		c.roots(), c.noDig(), c.astray())
}

type checker struct {
	p   *plan.Plan
	net *pipework.Network
	d   *Digs
}

// byFigure names the plan's own source where it has its own figure.
func (c *checker) byFigure(f plan.Finding, id plan.ID) plan.Finding {
	if _, own := c.p.Options.Figures[id]; own {
		_, f.Source = c.p.Figure(id)
	}
	return f
}

// crossed is crossings that a finding is about.
type crossed struct {
	about   []plan.Ref
	names   []string // of their paving, each once
	at      orb.Point
	length  units.Feet
	longest units.Feet // the one at
	n       int
}

func (c *checker) add(to *crossed, x *Crossing) {
	if name := c.p.AreaName(x.Area); !slices.Contains(to.names, name) {
		to.names = append(to.names, name)
	}
	to.about = append(to.about, plan.RefTo("areas", x.Area))
	for _, id := range x.Pipes {
		to.about = append(to.about, plan.RefTo("pipes", id))
	}
	to.n++
	to.length += x.Length
	if x.Length > to.longest {
		to.longest, to.at = x.Length, middle(x.From, x.To)
	}
}

func middle(a, b orb.Point) orb.Point { return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2} }

// what is what goes through a crossing, in words.
func (c *checker) what(x *Crossing) string {
	main, laterals := false, 0
	for _, id := range x.Pipes {
		if c.net.Pipes[id].Valved {
			laterals++
		} else {
			main = true
		}
	}
	switch {
	case len(x.Pipes) == 0:
		return "wire"
	case main && laterals > 0:
		return "the main and " + plan.Choose(laterals, "a lateral", "laterals")
	case main:
		return "the main"
	}
	return plan.Choose(laterals, "a lateral", "laterals")
}

// sleevesMissing finds new ways under paving for which no sleeve is drawn.
func (c *checker) sleevesMissing() []plan.Finding {
	var bare crossed
	var first *Crossing
	for i := range c.d.Crossings {
		x := &c.d.Crossings[i]
		if x.New && len(x.Sleeves) == 0 {
			c.add(&bare, x)
			if first == nil {
				first = x
			}
		}
	}
	if bare.n == 0 {
		return nil
	}
	what := c.what(first)
	text := fmt.Sprintf("%d ways of pipe and wire cross %s with no sleeve, %s in all.", bare.n, plan.Series(bare.names), c.p.Show.Length(bare.length))
	if bare.n == 1 {
		verb := "crosses"
		if what == "laterals" || len(first.Pipes) > 1 {
			verb = "cross"
		}
		text = fmt.Sprintf("%s %s %s with no sleeve, %s under it.", plan.Capital(what), verb, bare.names[0], c.p.Show.Length(bare.length))
	}
	return []plan.Finding{plan.Found(plan.SleeveMissing, text, bare.about...).Looking(bare.at).
		Measured("crossings", float64(bare.n)).Measured("length_ft", float64(bare.length))}
}

// sleevesSmall finds sleeves too small for what goes through them. One that is there
// already is what it is: whether it will do is worth trying.
func (c *checker) sleevesSmall() []plan.Finding {
	var found []plan.Finding
	seen := map[plan.ID]bool{}
	for i := range c.d.Crossings {
		x := &c.d.Crossings[i]
		for _, n := range x.Needs {
			v := c.p.Sleeves[n.Sleeve]
			if n.Sleeve == "" || seen[n.Sleeve] || v.NominalIn == 0 || v.NominalIn >= n.Nominal {
				continue
			}
			seen[n.Sleeve] = true
			what := "the wire in it takes"
			if n.Carries == "pipe" {
				what = "the pipe in it takes"
			} else if n.Carries == "spare" {
				what = "a spare like the others is"
			}
			text := fmt.Sprintf("The sleeve of %s under %s is too small: %s %s (%s).", c.p.Show.PipeSize(v.NominalIn), c.p.AreaName(x.Area), what, c.p.Show.PipeSize(n.Nominal), n.Why)
			f := plan.Found(plan.SleeveSmall, text, plan.RefTo("sleeves", n.Sleeve)).Looking(middle(x.From, x.To)).
				Measured("size_in", float64(v.NominalIn)).Measured("needed_in", float64(n.Nominal))
			if !v.Status.IsNew() {
				f = f.Ranked(plan.Notice)
			}
			found = append(found, c.byFigure(f, plan.SleeveTimes))
		}
	}
	return found
}

// shortBy is how much a sleeve may lack of its length past an edge, in feet: what a
// drawing is not exact to. Chosen.
const shortBy = 0.05

// sleevesShort finds sleeves that end too near to the edge of the paving.
func (c *checker) sleevesShort() []plan.Finding {
	past, _ := c.p.Figure(plan.SleevePast)
	var short []plan.Ref
	var names []string
	var at orb.Point
	least := math.Inf(1)
	for i := range c.d.Crossings {
		x := &c.d.Crossings[i]
		for _, id := range x.Sleeves {
			if !c.p.Sleeves[id].Status.IsNew() {
				continue // where it ends is seen when it is dug for
			}
			a, b := SleeveEnds(c.p.Sleeves[id])
			for _, e := range PastEdges(c.p, a, b, x) {
				if float64(e.Past) >= past/12-shortBy {
					continue
				}
				short = append(short, plan.RefTo("sleeves", id))
				if name := c.p.AreaName(x.Area); !slices.Contains(names, name) {
					names = append(names, name)
				}
				if float64(e.Past) < least {
					least, at = float64(e.Past), e.At
				}
			}
		}
	}
	slices.Sort(short)
	short = slices.Compact(short)
	if len(short) == 0 {
		return nil
	}
	what := fmt.Sprintf("%s past its edge", c.p.Show.Length(units.Feet(max(least, 0))))
	if least < 0 {
		what = fmt.Sprintf("%s short of its edge", c.p.Show.Length(units.Feet(-least)))
	}
	text := fmt.Sprintf("The sleeve under %s ends %s, where %s is the least.", plan.Series(names), what, c.p.Show.Inches(inches(past)))
	if len(short) > 1 {
		text = fmt.Sprintf("%d sleeves under %s end too near to its edge, one %s, where %s is the least.", len(short), plan.Series(names), what, c.p.Show.Inches(inches(past)))
	}
	f := plan.Found(plan.SleeveShort, text, short...).Looking(at).Measured("past_in", least*12).Measured("needed_in", past)
	return []plan.Finding{c.byFigure(f, plan.SleevePast)}
}

// sleevesShared finds wire that goes through a sleeve of pipe, or through its own
// without a spare conductor, and paving to be laid over no spare sleeve.
func (c *checker) sleevesShared() []plan.Finding {
	var mixed, wire, spare crossed
	for i := range c.d.Crossings {
		x := &c.d.Crossings[i]
		if !x.New || len(x.Sleeves) == 0 {
			continue
		}
		for _, n := range x.Needs {
			if n.Carries == "wire" && n.Sleeve != "" {
				c.add(&wire, x)
			} else if n.Carries == "wire" && len(x.Pipes) > 0 {
				c.add(&mixed, x)
			} else if n.Sleeve == "" && n.Carries == "spare" {
				c.add(&spare, x)
			}
		}
	}
	var found []plan.Finding
	if mixed.n > 0 {
		text := fmt.Sprintf("Under %s wire goes through the sleeve of the pipe: no other is drawn for it.", plan.Series(mixed.names))
		found = append(found, plan.Found(plan.SleeveShared, text, mixed.about...).Looking(mixed.at).Measured("crossings", float64(mixed.n)))
	}
	if spares, _ := c.p.Figure(plan.WireSpares); spares < 1 && wire.n > 0 {
		text := fmt.Sprintf("No spare conductor is planned in the sleeves under %s.", plan.Series(wire.names))
		f := plan.Found(plan.SleeveShared, text, wire.about...).Looking(wire.at).Ranked(plan.Notice).Measured("crossings", float64(wire.n))
		f.Title = "No spare conductor under paving"
		f.Why = "Where one wire fails under paving, the spare takes its place; without one new wire is pulled through."
		f.Do = "Plan one spare conductor to the farthest box, among the plan's figures."
		found = append(found, f)
	}
	if spare.n > 0 {
		text := fmt.Sprintf("%s %s still to be laid, and no spare sleeve is planned under %s.", plan.Capital(plan.Series(spare.names)),
			plan.Choose(len(spare.names), "is", "are"), plan.Choose(len(spare.names), "it", "them"))
		f := plan.Found(plan.SleeveShared, text, spare.about...).Looking(spare.at).Ranked(plan.Notice).Measured("crossings", float64(spare.n))
		f.Title = "No spare sleeve under new paving"
		f.Why = "What is forgotten, or added in ten years, goes through a spare; without one the paving is bored or cut."
		f.Do = "Lay one more sleeve beside the others while the ground is open, its ends taped and located."
		found = append(found, f)
	}
	return found
}

// boresLong finds ways under paving that lies already, too long to bore by hand.
func (c *checker) boresLong() []plan.Finding {
	longest, _ := c.p.Figure(plan.BoreLongest)
	var long crossed
	for i := range c.d.Crossings {
		x := &c.d.Crossings[i]
		if x.New && float64(x.Length) > longest && (x.Method == "water_bore" || x.Method == "other_bore") {
			c.add(&long, x)
		}
	}
	if long.n == 0 {
		return nil
	}
	text := fmt.Sprintf("The longest bore is %s, under %s: by hand %s is the most.", c.p.Show.Length(long.longest), long.names[0], c.p.Show.Length(units.Feet(longest)))
	if long.n > 1 {
		text = fmt.Sprintf("%d bores, under %s, are longer than the %s that are bored by hand, the longest %s.", long.n, plan.Series(long.names), c.p.Show.Length(units.Feet(longest)), c.p.Show.Length(long.longest))
	}
	return []plan.Finding{plan.Found(plan.BoreLong, text, long.about...).Looking(long.at).Measured("longest_ft", float64(long.longest))}
}
