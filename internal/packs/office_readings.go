package packs

import (
	"fmt"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
)

// coverageFigures are the figures of the coverage sheet: readings, areas, field
// estimate, dry places, where the water goes, and what they rest on.
func (b *builder) coverageFigures(asked design.Asked, rest []part) {
	f := b.listOn()
	d := b.in.Design
	rows := sheets.Readings(b.p, d, asked)
	if rows == nil {
		f.para(sheets.NothingWatered)
	}
	var facts [][2]string
	for _, r := range rows {
		facts = append(facts, [2]string{r[0], plan.Capital(r[1])})
	}
	f.facts(facts...)
	if len(d.Coverage.Areas) > 0 {
		b.areaFigures(f)
		b.installedFigures(f, asked)
		b.dryFigures(f)
	}
	b.zoneFigures(f)
	if d.Coverage.FlowGPM > 0 {
		f.section("Where the water goes")
		g := gridOf(sheets.Water(b.p, d.Coverage))
		g.Numbers = []bool{false, true, true, false}
		g.Note = sheets.WaterNote
		f.table(g)
	}
	f.section("What these figures rest on")
	f.bullets(b.coverageAssumed()...)
	f.besides(rest)
}

// listOn is a list page that goes on with the present sheet; its first when it has none.
func (b *builder) listOn() *flow {
	if n := len(b.pages); n == 0 || b.pages[n-1].sheet.code != b.now.code {
		return b.list()
	}
	f := &flow{b: b}
	f.next()
	return f
}

// besides sets what found no room beside a plan, a part after the other in columns.
func (f *flow) besides(parts []part) {
	for _, p := range parts {
		n := max(1, int(f.wide()/asideWide(1)))
		rows := (len(p.blocks) + n - 1) / n
		high := 0.0
		for _, k := range p.blocks {
			high = max(high, k.high())
		}
		f.keep(p.title.high() + float64(rows)*high + 8)
		f.gap(8)
		p.title.draw(f.q, f.x0, f.y)
		f.y -= p.title.high()
		foot := f.y
		for i := range n {
			y := f.y
			for _, k := range p.blocks[min(i*rows, len(p.blocks)):min((i+1)*rows, len(p.blocks))] {
				k.draw(f.q, f.x0+float64(i)*f.wide()/float64(n), y)
				y -= k.high()
			}
			foot = min(foot, y)
		}
		f.y = foot
	}
}

func (b *builder) areaFigures(f *flow) {
	c := b.in.Design.Coverage
	f.section("Areas watered overhead, as drawn")
	g := gridOf(sheets.Areas(b.p, c, nil), "Area", "Size", "Uniformity", "CU", "SC", "Rate", "Driest 2 %", "Dry", "Two heads", "With lip")
	g.Numbers = []bool{false, true, true, true, true, true, true, true, true, true}
	g.Note = "Uniformity is the mean of the driest quarter over the mean; CU is Christiansen's coefficient; SC, the scheduling coefficient, is the mean over the rate of the driest square that holds 5 % of the area. " + sheets.AreasNote(b.p, c)
	f.table(g)
}

// installedFigures are the layout as drawn beside what is to be expected of it.
func (b *builder) installedFigures(f *flow, asked design.Asked) {
	e := asked.Estimate
	f.section("Field estimate and windy day")
	field, windy := sheets.ByArea(e), map[plan.ID]design.WindyArea{}
	for _, a := range asked.Windy.Areas {
		windy[a.ID] = a
	}
	g := grid{
		Head:    []string{"Area", "As drawn", "Field estimate", "One in ten is below", "In the wind", "Off target, field"},
		Numbers: []bool{false, true, true, true, true, true},
	}
	for _, a := range b.in.Design.Coverage.Areas {
		row := []string{b.p.AreaName(a.ID), b.sys.Percent(a.DU), "–", "–", "–", "–"}
		if v, ok := field[a.ID]; ok {
			row[2], row[3], row[5] = b.sys.Percent(v.Mean), b.sys.Percent(v.P10), b.sys.Percent(v.Off)
		}
		if v, ok := windy[a.ID]; ok {
			row[4] = b.sys.Percent(v.DU)
		}
		g.Rows = append(g.Rows, row)
	}
	g.Note = estimateWords(b.sys, e) + " " + windWords(b.p, asked.Windy)
	f.table(g)
}

// estimateWords say how the field estimate was drawn, so that it can be drawn again.
func estimateWords(sys units.System, e design.FieldEstimate) string {
	if e.Draws == 0 {
		return "No field estimate was made."
	}
	return fmt.Sprintf("The field estimate is the mean uniformity of %d installations drawn from seed %d, in calm air, with errors of one standard deviation of %s in place, %s in throw, %s in flow and %s in the arc; the same seed gives the same figures.",
		e.Draws, e.Seed, sys.Inches(coverage.StrayPlace.Inches()), sys.Percent(coverage.StrayThrow), sys.Percent(coverage.StrayFlow), fmt.Sprintf("%g°", float64(coverage.StrayArc)))
}

// windWords say what the windy day rests on.
func windWords(p *plan.Plan, w *design.WindyDay) string {
	return fmt.Sprintf("In the wind is the layout as drawn in a steady wind of %s from %s, if it carries water about %s of the distance thrown: an assumption, not a measurement.",
		p.Show.Speed(w.Speed), p.Site.WindFrom(), p.Show.Percent(w.Drift))
}

// dryFigures list the dry places by their names on the map, or, where there are none,
// the driest place of each area.
func (b *builder) dryFigures(f *flow) {
	c := b.in.Design.Coverage
	if len(c.Gaps) == 0 {
		f.section("Driest places")
		g := grid{Head: []string{"Area", "Where its driest square is", "Driest 2 % of the mean"}, Numbers: []bool{false, false, true}}
		for _, a := range c.Areas {
			if a.Driest != nil {
				g.Rows = append(g.Rows, []string{b.p.AreaName(a.ID), b.p.Whereabouts(*a.Driest), b.sys.Percent(a.Driest2)})
			}
		}
		g.Note = "No place of " + b.sys.Area(coverage.LeastGap) + " or more gets less than half of its area's mean."
		f.table(g)
		return
	}
	f.section("Dry places")
	g := grid{Head: []string{"On the map", "Area", "Where", "Size", "Mean rate there"}, Numbers: []bool{false, false, false, true, true}}
	for i, v := range c.Gaps {
		if i == mostDry {
			g.Note = fmt.Sprintf("%s not listed; all are smaller.", plan.Choose(len(c.Gaps)-mostDry, "One more is", fmt.Sprintf("%d more are", len(c.Gaps)-mostDry)))
			break
		}
		g.Rows = append(g.Rows, []string{dryName(i), b.p.AreaName(v.Area), b.p.Whereabouts(v.At), b.sys.Area(v.AreaSqFt), b.sys.Rate(v.MeanRate)})
	}
	f.table(g)
}

// coverageAssumed is what the figures of water rest on.
func (b *builder) coverageAssumed() []string {
	c := b.in.Design.Coverage
	out := []string{uniformityAssumed, b.pressuresAssumed()}
	if b.supply != "" {
		out = append(out, b.supply)
	}
	out = append(out,
		fmt.Sprintf("Cells of the map are %s wide. Each area is shown against its own mean, water off target against the mean of all ground on target.", b.sys.Inches(c.CellFt.Inches())),
		"Buildings stop water; walls, fences, hedges and trunks stop what meets them below their height. Left out are evaporation, tilt, slope, run-off and worn or clogged nozzles.")
	if n := len(c.LeftOut); n > 0 {
		out = append(out, fmt.Sprintf("%s cannot be reckoned and %s in no figure: see the findings.", plan.Plural(n, "head", "heads"), plan.Choose(n, "is", "are")))
	}
	return append(out, "A measurement with catch cans after the start-up tells what the yard really gets.")
}
