package packs

import (
	"math"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// What stands on the sheet for whoever digs. The distance by hand beside a mark, the
// thickness of a root and the rest are common practice, from memory; each defers to the
// law of the place.
const (
	openCaution = "Leave no trench open where people walk or children play: cover it, fence it, or fill it the same day. Keep soil and people off its edge; nobody works alone in one that is deeper than a knee or caves in. Local rules for trenches hold."
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
	if len(g.Stretches) == 0 {
		f.caution(trench.Caution)
		f.para(nothingToDig(b.p, d))
	} else {
		f.caution(trench.Caution + " " + plan.FixedWords(b.sys, markCaution))
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
	boxed := ""
	if len(d.Ways) > 0 {
		boxed = " Wire from valve to valve of one box lies in the box and is not listed."
	}
	f.section("Trenches in the order of digging")
	f.para("Main first, then zone by zone, wire by itself last. T points are on the pipe and wire plan, C4, and in the list after this one. Lateral 2 is of zone 2, wire 2 goes to station 2, V2 is the valve of station 2. " +
		"A distance on the way is from the first end, along the trench. Every trench is " + b.sys.NominalInches(units.Inches(width)) + " wide. Cover is soil over the top of what lies deepest; depth is to its underside." + boxed)
	f.table(b.trenchGrid(g))
	if short := b.shortGrid(g); len(short.Rows) > 0 {
		f.table(short)
	}
	b.trenchTotals(f, d)
	if points := b.pointGrid(g); len(points.Rows) > 0 {
		f.section("Where the T points are")
		f.para("Flags are those of the stake-out, C5, with the step that sets them. What is found along a stretch is measured in its trench.")
		f.table(twoColumns(points, 14, 46, 40))
	}
}

// trenchGrid is the list of stretches as it is printed.
func (b *builder) trenchGrid(g *sheets.Digging) grid {
	t := gridOf(sheets.TrenchSheet(b.p, g))
	t.Shares = []float64{20, 48, 48, 120, 48, 30, 30, 130, 76}
	t.Numbers = []bool{true, false, false, false, true, true, true, false, false}
	t.Ticks = true
	return t
}

// shortGrid is what is too short for the list, as it is printed.
func (b *builder) shortGrid(g *sheets.Digging) grid {
	t := gridOf(sheets.ShortSheet(b.p, g))
	t.Shares = []float64{90, 40, 260, 110}
	return t
}

// trenchTotals are the sums and what becomes of the soil.
func (b *builder) trenchTotals(f *flow, d *trench.Digs) {
	f.section("In all")
	t := &d.Totals
	var grounds []string
	for _, g := range sheets.Grounds() {
		if l := t.By[g.Ground]; l > 0 {
			grounds = append(grounds, g.Name+" "+b.sys.Length(l))
		}
	}
	says := plan.Capital(strings.Join(append(grounds, "all trench "+b.sys.Length(t.Trench)), ", "))
	if t.Sleeved > 0 {
		says += "; under paving " + b.sys.Length(t.Sleeved)
	}
	f.para(says + ". Soil: about " + sheets.SpoilWords(b.sys, t.Spoil) + ".")
	f.bullets(
		"Lift sod first, in strips, and keep it wet in the shade.",
		"Lay soil on one side, on a sheet where lawn is to live on, topsoil apart from what comes from below.",
		"Fill in layers, tamp each, stones and rubble kept off the pipe, and leave the last one high: it settles.",
	)
}

// pointGrid says where each T point is, and how it is found; and what stands at a point
// that is more than its name.
func (b *builder) pointGrid(g *sheets.Digging) grid {
	t := grid{Head: []string{"Point", "Where", "Found by"}}
	for k, v := range g.Points {
		if v.Drawn || v.Joint {
			t.Rows = append(t.Rows, []string{v.Name, v.Where, b.pointFound(g, k)})
		}
	}
	return t
}

// pointFound says how a T point is found: by its flag of the stake-out, by the flag of
// something beside it, or along the trench that comes past it.
func (b *builder) pointFound(g *sheets.Digging, point int) string {
	const beside = 1.5 // feet: sleeves reach past the edge by a foot
	at := g.Points[point].At
	if flag := b.flagAt(at); flag != "" {
		return flag
	}
	for i := range b.staked().Flags {
		v := &b.stake.Flags[i]
		if far := math.Hypot(v.At[0]-at[0], v.At[1]-at[1]); far <= beside {
			return b.sys.Length(units.Feet(far)) + " from flag " + v.Tag
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
				return "stretch " + itoa(s.Number) + ", " + b.sys.Length(stop.At) + " from " + g.Points[s.Stops[0].Point].Name
			case end == "" && k == last:
				end = "end of stretch " + itoa(s.Number) + ", " + b.sys.Length(s.Length) + " from " + g.Points[s.Stops[0].Point].Name
			case end == "" && len(s.Stops) > 1:
				end = "start of stretch " + itoa(s.Number) + ", " + b.sys.Length(s.Length) + " from " + g.Points[s.Stops[last].Point].Name
			}
		}
	}
	return end
}
