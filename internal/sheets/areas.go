package sheets

import (
	"fmt"
	"strings"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Areas are the readings of every area watered overhead, in words. field is the
// field estimate by area; an area without one has a dash.
func Areas(p *plan.Plan, r *coverage.Result, field map[plan.ID]coverage.Estimate) Table {
	t := Table{Title: "Areas watered overhead", Columns: []Column{{Name: "Area"}, {Name: "Size"}, {Name: "Uniformity"}, {Name: "Field"}, {Name: "CU"}, {Name: "SC"},
		{Name: "Rate"}, {Name: "Driest 2 %"}, {Name: "Dry"}, {Name: "Two heads"}, {Name: "With lip"}}}
	sys := p.Show
	for _, a := range r.Areas {
		even := "–"
		if e, ok := field[a.ID]; ok {
			even = sys.Percent(e.Mean)
		}
		t.Rows = append(t.Rows, texts(
			p.AreaName(a.ID), sys.Area(a.WithLip.AreaSqFt), sys.Percent(a.DU), even, sys.Percent(a.CU), coefficient(a.SC), sys.Rate(a.Mean),
			sys.Percent(a.Driest2), sys.Percent(a.DryShare), sys.Percent(a.TwoHeads), sys.Percent(a.WithLip.DU),
		))
	}
	return t
}

// AreasNote says what the figures of Areas leave out.
func AreasNote(p *plan.Plan, r *coverage.Result) string {
	return fmt.Sprintf("The figures leave out an edge lip of %s along outlines and %s along walls, which heads set back from them cannot water; the last column counts it in. Dry is under half the mean.",
		p.Show.Inches(r.LipFt.Inches()), p.Show.Inches(r.WallLipFt.Inches()))
}

// Water is where the water goes: on target, on each surface off it, and stopped. The
// lines add up to the flow but for traces (WaterNote).
func Water(p *plan.Plan, r *coverage.Result) Table {
	t := Table{Title: "Where the water goes", Columns: []Column{{Name: "Where"}, {Name: "Flow"}, {Name: "Share"}, {Name: "Heads"}}}
	share := func(q units.GPM) string { return fmt.Sprintf("%.1f %%", 100*float64(q/r.FlowGPM)) }
	add := func(cells ...string) { t.Rows = append(t.Rows, texts(cells...)) }
	if r.FlowGPM <= 0 {
		return t
	}
	add("All heads", p.Show.Flow(r.FlowGPM), "", "")
	add("On planting watered overhead", p.Show.Flow(r.OnTargetGPM), share(r.OnTargetGPM), "")
	for _, o := range r.OffTarget {
		if share(o.GPM) != "0.0 %" {
			add(surfaceTitle(p, o), p.Show.Flow(o.GPM), share(o.GPM), "most by "+firstTags(p, o.Heads, 3))
		}
	}
	add("Stopped by walls, fences, trunks", p.Show.Flow(r.StoppedGPM), share(r.StoppedGPM), "")
	return t
}

// WaterNote says what Water leaves out.
const WaterNote = "Surfaces under 0.05 % of the water are not listed."

func texts(cells ...string) []Cell {
	out := make([]Cell, len(cells))
	for i, c := range cells {
		out[i] = Text(c)
	}
	return out
}

// words are the lines of a table, its columns first.
func words(t Table) [][]string {
	head := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		head[i] = c.Name
	}
	rows := [][]string{head}
	for _, r := range t.Rows {
		row := make([]string, len(r))
		for i, c := range r {
			row[i] = c.String()
		}
		rows = append(rows, row)
	}
	return rows
}

// coefficient prints a scheduling coefficient, of which 0 stands for a window
// that gets no water.
func coefficient(sc float64) string {
	if sc == 0 {
		return "no water"
	}
	return fmt.Sprintf("%.2f", sc)
}

func surfaceTitle(p *plan.Plan, o coverage.OffTarget) string {
	name := coverage.SurfaceName(p, o.Surface)
	if o.Kind == "" {
		return plan.Capital(name)
	}
	return fmt.Sprintf("%s (%s)", name, plan.Words(string(o.Kind)))
}

func firstTags(p *plan.Plan, ids []plan.ID, n int) string {
	tags := make([]string, 0, n)
	for _, id := range ids[:min(n, len(ids))] {
		tags = append(tags, headTag(p, id))
	}
	return strings.Join(tags, ", ")
}
