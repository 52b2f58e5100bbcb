package packs

import (
	"math"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// What stands on the sheet for whoever digs. The distance by hand beside a mark, the
// thickness of a root and the rest are common practice, from memory; each defers to the
// law of the place.
const (
	openCaution = "Leave no trench open where people walk or children play: cover it, fence it, or fill it the same day. Keep soil and people off its edge. What is deeper than a person's knee, or caves in, is not for somebody alone; local rules for trenches hold."
	markCaution = "Dig by hand beside every mark of a buried line, {2 ft} to each side or as far as local law asks, until the line is seen. Stop and call its owner when one is touched, and the emergency number when gas is smelled."
	rootCaution = "Among roots dig by hand, and go under what is thicker than a thumb rather than cut it. A tree that is protected, or stands on other people's ground, is for its owner and a tree specialist to say."
)

// digging is the list of what is dug, worked out once for all sheets, so that names and
// numbers agree.
func (b *builder) digging() *sheets.Digging {
	if b.dug == nil {
		b.dug = sheets.DiggingOf(b.p, b.in.Design.Digs)
	}
	return b.dug
}

// trenchesAndSleeves is what to dig, where it goes, how deep, and in which order; then
// the sleeves with their drawing.
func (b *builder) trenchesAndSleeves() error {
	f := b.list()
	g, d := b.digging(), b.in.Design.Digs
	f.caution(trench.Caution)
	if len(g.Stretches) == 0 {
		f.para(nothingToDig(b.p, d))
	} else {
		f.caution(plan.FixedWords(b.sys, markCaution))
		f.caution(openCaution)
		if d.Totals.By[trench.Roots] > 0 {
			f.caution(rootCaution)
		}
		b.trenchTables(f, g)
	}
	return b.sleeves(f)
}

// nothingToDig says why a list is empty.
func nothingToDig(p *plan.Plan, d *trench.Digs) string {
	if len(d.Segments) == 0 {
		return "No pipe and no wire run is drawn yet, so nothing is to be dug."
	}
	return "All pipe and wire that is drawn is there already, so nothing is to be dug."
}

func (b *builder) trenchTables(f *flow, g *sheets.Digging) {
	d := b.in.Design.Digs
	width, _ := b.p.Figure(plan.TrenchWidth)
	f.section("Trenches in the order of digging")
	f.para("Main first, then zone by zone, wire by itself last. T points are on the pipe and wire plan and in the list after this one; V1 is the valve of station 1. " +
		"A distance on the way is from the first end, along the trench. Every trench is " + b.sys.NominalInches(units.Inches(width)) + " wide. Cover is soil over the top of what lies deepest; depth is to its underside.")
	f.table(b.trenchGrid(g))
	b.trenchTotals(f, d)
	if points := b.pointGrid(g); len(points.Rows) > 0 {
		f.section("Where the T points are")
		f.para("Letters and flags are those of the stake-out. What is found along a stretch is measured in its trench.")
		f.table(points)
	}
}

// trenchGrid is the list of stretches as it is printed.
func (b *builder) trenchGrid(g *sheets.Digging) grid {
	t := gridOf(sheets.TrenchSheet(b.p, g))
	t.Shares = []float64{24, 84, 84, 86, 52, 36, 36, 100, 70}
	t.Numbers = []bool{true, false, false, false, true, true, true, false, false}
	t.Ticks = true
	return t
}

// trenchTotals are the sums and what becomes of the soil.
func (b *builder) trenchTotals(f *flow, d *trench.Digs) {
	f.section("In all")
	t := &d.Totals
	var facts [][2]string
	for _, g := range sheets.Grounds() {
		if l := t.By[g.Ground]; l > 0 {
			facts = append(facts, [2]string{plan.Capital(g.Name), b.sys.Length(l)})
		}
	}
	facts = append(facts, [2]string{"All trench", b.sys.Length(t.Trench)})
	if t.Sleeved > 0 {
		facts = append(facts, [2]string{"Under paving", b.sys.Length(t.Sleeved)})
	}
	facts = append(facts, [2]string{"Soil", "about " + sheets.SpoilWords(b.sys, t.Spoil)})
	f.facts(facts...)
	f.bullets(
		"Lift sod first, in strips, and keep it wet in the shade.",
		"Lay soil on one side, on a sheet where lawn is to live on, topsoil apart from what comes from below.",
		"Fill in layers, tamp each, stones and rubble kept off the pipe, and leave the last one high: it settles.",
	)
}

// pointGrid says where each T point is, and how it is found.
func (b *builder) pointGrid(g *sheets.Digging) grid {
	t := grid{Head: []string{"Point", "Where", "Found by"}, Shares: []float64{6, 34, 60}}
	for k, v := range g.Points {
		if v.Drawn || v.Joint {
			t.Rows = append(t.Rows, []string{v.Name, v.Where, b.pointFound(g, k)})
		}
	}
	return t
}

// pointFound says how a T point is found: by tape from the letters of the stake-out, by
// the flag of a sleeve beside it, or along the trench that comes past it.
func (b *builder) pointFound(g *sheets.Digging, point int) string {
	const beside = 1.5 // feet: sleeves reach past the edge by a foot
	at := g.Points[point].At
	if says := b.byTape(at); says != "" {
		return says
	}
	for i := range b.staked().Flags {
		v := &b.stake.Flags[i]
		if far := math.Hypot(v.At[0]-at[0], v.At[1]-at[1]); far <= beside {
			return b.sys.Length(units.Feet(far)) + " from flag " + v.Tag + "."
		}
	}
	end := ""
	for i := range g.Stretches {
		s := &g.Stretches[i]
		last := len(s.Stops) - 1
		for k, stop := range s.Stops {
			switch {
			case stop.Point != point:
			case k > 0 && k < last:
				return "On stretch " + itoa(s.Number) + ", " + b.sys.Length(stop.At) + " from " + g.Points[s.Stops[0].Point].Name + "."
			case end == "" && k == last:
				end = "End of stretch " + itoa(s.Number) + ", " + b.sys.Length(s.Length) + " from " + g.Points[s.Stops[0].Point].Name + "."
			case end == "" && len(s.Stops) > 1:
				end = "Start of stretch " + itoa(s.Number) + ", " + b.sys.Length(s.Length) + " from " + g.Points[s.Stops[last].Point].Name + "."
			}
		}
	}
	return end
}
