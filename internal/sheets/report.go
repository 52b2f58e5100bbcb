package sheets

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode"
	"unicode/utf8"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Report writes a design as plain text to read: the three readings and the
// supply first, then the findings, the areas, the zones, the water off target,
// and the parts. estimates are the field estimates by area; without them the
// report says that none was made.
func Report(w io.Writer, p *plan.Plan, d *design.Design, estimates []coverage.Estimate) error {
	r := &reporter{p: p, d: d, sys: p.Show, field: map[plan.ID]coverage.Estimate{}}
	for _, e := range estimates {
		r.field[e.ID] = e
	}
	r.head()
	r.readings()
	r.findings()
	r.areas()
	r.zones()
	r.offTarget()
	r.parts()
	if _, err := w.Write(r.out.Bytes()); err != nil {
		return fmt.Errorf("sheets: writing the report: %w", err)
	}
	return nil
}

// textWidth is how wide the sentences of the report run, in characters.
const textWidth = 92

// reporter writes the sections of one report.
type reporter struct {
	p     *plan.Plan
	d     *design.Design
	sys   units.System
	field map[plan.ID]coverage.Estimate
	out   bytes.Buffer
}

// line prints one line. Names are the user's: a control character in one must
// not reach the terminal.
func (r *reporter) line(format string, args ...any) {
	text := strings.Map(func(c rune) rune {
		if unicode.IsControl(c) && c != '\n' {
			return unicode.ReplacementChar
		}
		return c
	}, fmt.Sprintf(format, args...))
	r.out.WriteString(strings.TrimRight(text, " "))
	r.out.WriteByte('\n')
}

// section begins a part of the report with its title.
func (r *reporter) section(title string) { r.line("\n%s", strings.ToUpper(title)) }

// table prints rows in columns, two spaces in. The first row names the columns.
// It writes to a buffer, which takes everything, so no error is lost.
func (r *reporter) table(rows [][]string) {
	var text bytes.Buffer
	w := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = strings.Join(strings.Fields(cell), " ") // a tab would be a column
		}
		_, _ = fmt.Fprintln(w, "  "+strings.Join(cells, "\t"))
	}
	_ = w.Flush()
	for line := range strings.Lines(text.String()) {
		r.line("%s", strings.TrimRight(line, "\n"))
	}
}

// wrap prints a sentence with every line indented.
func (r *reporter) wrap(indent, s string) {
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && utf8.RuneCountInString(indent+line)+1+utf8.RuneCountInString(word) > textWidth {
			r.line("%s%s", indent, line)
			line = ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	r.line("%s%s", indent, line)
}

func (r *reporter) head() {
	name := r.p.Name
	if name == "" {
		name = "Plan without a name"
	}
	r.line("%s", strings.ReplaceAll(name, "\n", " "))
	r.line("Layout figures are for calm air and ideal nozzles at planned pressures; what a yard shows")
	r.line("later is nearer to the field estimate, which is the layout set out with small errors.")
}

// readings are the three figures of the whole plan and the use of the supply.
func (r *reporter) readings() {
	c := r.d.Coverage
	worst := leastEven(c)
	r.section("Readings")
	if worst == nil {
		r.line("  No planting is watered yet: draw a planting area and place heads.")
		return
	}
	even := fmt.Sprintf("%s layout uniformity on %s, the least even area", r.sys.Percent(worst.DU), r.p.AreaName(worst.ID))
	if len(c.Areas) == 1 {
		even = fmt.Sprintf("%s layout uniformity on %s", r.sys.Percent(worst.DU), r.p.AreaName(worst.ID))
	}
	rows := [][]string{{"Evenness", even}}
	if e, ok := r.field[worst.ID]; ok {
		rows = append(rows, []string{"", fmt.Sprintf("%s field estimate; one installation in ten comes out below %s", r.sys.Percent(e.Mean), r.sys.Percent(e.P10))})
	} else {
		rows = append(rows, []string{"", "no field estimate was made"})
	}
	rows = append(rows,
		[]string{"Driest place", r.driest(worst)},
		[]string{"Rate", r.rate()},
		[]string{"Supply", r.supply()},
	)
	r.table(rows)
}

// leastEven is the watered area of the lowest uniformity; nil without any.
func leastEven(c *coverage.Result) *coverage.AreaReading {
	var worst *coverage.AreaReading
	for i := range c.Areas {
		if a := &c.Areas[i]; a.Mean > 0 && (worst == nil || a.DU < worst.DU) {
			worst = a
		}
	}
	return worst
}

func (r *reporter) driest(worst *coverage.AreaReading) string {
	if gaps := r.d.Coverage.Gaps; len(gaps) > 0 {
		g := gaps[0]
		return fmt.Sprintf("%s, %s: %s under half the mean", r.p.AreaName(g.Area), r.p.Whereabouts(g.At), r.sys.Area(g.AreaSqFt))
	}
	if worst.Driest == nil {
		return "nowhere"
	}
	return fmt.Sprintf("%s, %s: %s of the mean", r.p.AreaName(worst.ID), r.p.Whereabouts(*worst.Driest), r.sys.Percent(worst.Driest2))
}

func (r *reporter) rate() string {
	var slow, fast *coverage.AreaReading
	for i := range r.d.Coverage.Areas {
		a := &r.d.Coverage.Areas[i]
		if a.Mean <= 0 {
			continue
		}
		if slow == nil || a.Mean < slow.Mean {
			slow = a
		}
		if fast == nil || a.Mean > fast.Mean {
			fast = a
		}
	}
	if slow == fast {
		return r.sys.Rate(slow.Mean)
	}
	return fmt.Sprintf("%s on %s to %s on %s", r.sys.Rate(slow.Mean), r.p.AreaName(slow.ID), r.sys.Rate(fast.Mean), r.p.AreaName(fast.ID))
}

// supply is the thirstiest zone against the design flow.
func (r *reporter) supply() string {
	limit, measured := coverage.DesignFlow(r.p)
	kind := "design flow"
	if !measured {
		kind = "ASSUMED supply, not measured"
	}
	zones := r.d.Coverage.Zones
	if len(zones) == 0 {
		return fmt.Sprintf("%s %s; no zones yet", r.sys.Flow(limit), kind)
	}
	top := slices.MaxFunc(zones, func(a, b coverage.ZoneReading) int { return cmp.Compare(a.FlowGPM, b.FlowGPM) })
	return fmt.Sprintf("%s of %s %s, by %s", r.sys.Flow(top.FlowGPM), r.sys.Flow(limit), kind, r.p.ZoneName(top.ID))
}

// rankWords head the findings of a rank.
var rankWords = map[plan.Rank]string{plan.Stop: "STOP", plan.Mend: "MEND", plan.Notice: "note"}

func (r *reporter) findings() {
	r.section("Findings")
	if len(r.d.Findings) == 0 {
		r.line("  None.")
	}
	for _, f := range r.d.Findings {
		r.line("  %s  %s", rankWords[f.Rank], f.Title)
		r.wrap("        ", f.Sentence)
		switch {
		case f.Accepted != nil:
			by := ""
			if f.Accepted.By != "" {
				by = " by " + f.Accepted.By
			}
			r.wrap("        ", fmt.Sprintf("Accepted%s on %s: %s", by, f.Accepted.On, f.Accepted.Reason))
		case f.Rank != plan.Notice:
			r.wrap("        ", "Do: "+f.Do)
			r.wrap("        ", "Rule: "+f.Source)
		}
	}
}

func (r *reporter) areas() {
	c := r.d.Coverage
	if len(c.Areas) == 0 {
		return
	}
	r.section("Areas watered overhead")
	rows := [][]string{{"Area", "Size", "Uniformity", "Field", "CU", "SC", "Rate", "Driest 2 %", "Dry", "Two heads", "With lip"}}
	for _, a := range c.Areas {
		field := "–"
		if e, ok := r.field[a.ID]; ok {
			field = r.sys.Percent(e.Mean)
		}
		rows = append(rows, []string{
			r.p.AreaName(a.ID), r.sys.Area(a.WithLip.AreaSqFt), r.sys.Percent(a.DU), field, r.sys.Percent(a.CU),
			fmt.Sprintf("%.2f", a.SC), r.sys.Rate(a.Mean), r.sys.Percent(a.Driest2), r.sys.Percent(a.DryShare),
			r.sys.Percent(a.TwoHeads), r.sys.Percent(a.WithLip.DU),
		})
	}
	r.table(rows)
	r.wrap("  ", fmt.Sprintf("The figures leave out an edge lip of %s along outlines and %s along walls, which heads set back from them cannot water; the last column counts it in. Dry is under half the mean.",
		r.sys.Inches(c.LipFt.Inches()), r.sys.Inches(c.WallLipFt.Inches())))
}

func (r *reporter) zones() {
	c := r.d.Coverage
	if len(c.Zones) == 0 {
		return
	}
	r.section("Zones")
	rows := [][]string{{"Zone", "Heads", "Flow", "Rate by flow", "By spacing", "By map", "Farthest off", "Uniformity", "Waters"}}
	for _, z := range r.zoneOrder() {
		even := "–"
		if z.Evenness != nil {
			even = r.sys.Percent(z.Evenness.DU)
		}
		off := r.sys.Percent(z.WorstOff)
		if z.WorstHead != "" && z.WorstOff >= 0.005 {
			off += " at " + headTag(r.p, z.WorstHead)
		}
		rows = append(rows, []string{
			plan.Capital(r.p.ZoneName(z.ID)), fmt.Sprint(z.Heads), r.sys.Flow(z.FlowGPM), r.sys.Rate(z.RateByFlow), r.sys.Rate(z.RateBySpacing),
			r.sys.Rate(z.RateByGrid), off, even, refNames(r.p, areaRefs(z.Areas)),
		})
	}
	r.table(rows)
}

func areaRefs(ids []plan.ID) []plan.Ref {
	out := make([]plan.Ref, len(ids))
	for i, id := range ids {
		out[i] = plan.RefTo("areas", id)
	}
	return out
}

// zoneOrder are the zones by station; those without one last, by id.
func (r *reporter) zoneOrder() []coverage.ZoneReading {
	station := func(z coverage.ZoneReading) int {
		if n := r.p.Zones[z.ID].Station; n > 0 {
			return n
		}
		return int(^uint(0) >> 1)
	}
	return slices.SortedStableFunc(slices.Values(r.d.Coverage.Zones), func(a, b coverage.ZoneReading) int {
		return cmp.Compare(station(a), station(b))
	})
}

// offTarget tells where the water goes: on target, on each surface off it, and
// stopped. The lines add up to the flow.
func (r *reporter) offTarget() {
	c := r.d.Coverage
	if c.FlowGPM <= 0 {
		return
	}
	r.section("Where the water goes")
	share := func(q units.GPM) string { return fmt.Sprintf("%.1f %%", 100*float64(q/c.FlowGPM)) }
	rows := [][]string{
		{"All heads", r.sys.Flow(c.FlowGPM), "", ""},
		{"On planting watered overhead", r.sys.Flow(c.OnTargetGPM), share(c.OnTargetGPM), ""},
	}
	for _, o := range c.OffTarget {
		if share(o.GPM) == "0.0 %" {
			continue
		}
		rows = append(rows, []string{surfaceTitle(o), r.sys.Flow(o.GPM), share(o.GPM), "most by " + firstTags(r.p, o.Heads, 3)})
	}
	rows = append(rows, []string{"Stopped by walls, fences, trunks", r.sys.Flow(c.StoppedGPM), share(c.StoppedGPM), ""})
	r.table(rows)
	r.line("  Surfaces under 0.05 %% of the water are not listed.")
}

func surfaceTitle(o coverage.OffTarget) string {
	if o.Surface == coverage.Outside {
		return "Outside every area"
	}
	return fmt.Sprintf("%s (%s)", o.Name, strings.ReplaceAll(string(o.Kind), "_", " "))
}

func firstTags(p *plan.Plan, ids []plan.ID, n int) string {
	tags := make([]string, 0, n)
	for _, id := range ids[:min(n, len(ids))] {
		tags = append(tags, headTag(p, id))
	}
	return strings.Join(tags, ", ")
}

// parts prints what to buy: a line an item, a column a zone.
func (r *reporter) parts() {
	list := r.d.Parts
	r.section("Parts to buy")
	if len(list.Total) == 0 {
		r.line("  Nothing: no head or zone is new.")
		return
	}
	header := []string{"Item"}
	for _, z := range list.Zones {
		header = append(header, zoneColumn(z.Zone, z.Station))
	}
	rows := [][]string{append(header, "Total")}
	for _, line := range list.Total {
		row := []string{line.Item}
		for _, z := range list.Zones {
			row = append(row, countOf(z.Lines, line))
		}
		rows = append(rows, append(row, fmt.Sprint(line.Count)))
	}
	r.table(rows)
	r.wrap("  ", "Columns are stations. New things only; the zone, the heads and the rule behind each count are in parts.csv.")
}
