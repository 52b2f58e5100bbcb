package sheets

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

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
			coefficient(a.SC), r.sys.Rate(a.Mean), r.sys.Percent(a.Driest2), r.sys.Percent(a.DryShare),
			r.sys.Percent(a.TwoHeads), r.sys.Percent(a.WithLip.DU),
		})
	}
	r.table(rows)
	r.wrap("  ", fmt.Sprintf("The figures leave out an edge lip of %s along outlines and %s along walls, which heads set back from them cannot water; the last column counts it in. Dry is under half the mean.",
		r.sys.Inches(c.LipFt.Inches()), r.sys.Inches(c.WallLipFt.Inches())))
}

// scheduling tells the scheduling coefficient by size of window.
func (r *reporter) scheduling() {
	var rows [][]string
	for _, s := range r.windows {
		if len(s.Windows) == 0 {
			continue
		}
		row, head := []string{r.p.AreaName(s.ID)}, []string{"Area"}
		for _, w := range s.Windows {
			head = append(head, r.sys.Percent(w.Share))
			row = append(row, coefficient(w.SC))
		}
		if len(rows) == 0 {
			rows = append(rows, head)
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		return
	}
	r.section("Scheduling coefficient by size of window")
	r.table(rows)
	r.wrap("  ", "The mean over the rate of the driest square window that holds that share of the area.")
}

// coefficient prints a scheduling coefficient, of which 0 stands for a window
// that gets no water.
func coefficient(sc float64) string {
	if sc == 0 {
		return "no water"
	}
	return fmt.Sprintf("%.2f", sc)
}

func (r *reporter) zones() {
	c := r.d.Coverage
	if len(c.Zones) == 0 {
		return
	}
	r.section("Zones")
	rows := [][]string{{"Zone", "Heads", "Flow", "Rate on the map", "By flow", "By spacing", "Farthest off", "Uniformity", "Waters"}}
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
			plan.Capital(r.p.ZoneName(z.ID)), fmt.Sprint(z.Heads), r.sys.Flow(z.FlowGPM), r.sys.Rate(z.RateByGrid), r.sys.Rate(z.RateByFlow),
			r.sys.Rate(z.RateBySpacing), off, even, refNames(r.p, areaRefs(z.Areas)),
		})
	}
	r.table(rows)
	r.wrap("  ", "Reckon run times by the rate on the map, the mean of the ground. By spacing is the flow of a full circle over head spacing times row spacing, as the heads stand, and fair only where they stand in even rows. Farthest off is against the rate of the zone's nozzles, each thrown to the next head: within 10 % is matched, past 25 % is not; a turned-down head counts with its nozzle's own rate, and turning down has a finding of its own.")
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
		return math.MaxInt
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
		rows = append(rows, []string{surfaceTitle(r.p, o), r.sys.Flow(o.GPM), share(o.GPM), "most by " + firstTags(r.p, o.Heads, 3)})
	}
	rows = append(rows, []string{"Stopped by walls, fences, trunks", r.sys.Flow(c.StoppedGPM), share(c.StoppedGPM), ""})
	r.table(rows)
	r.line("  Surfaces under 0.05 %% of the water are not listed.")
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
