package sheets

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

func (r *reporter) areas() {
	c := r.d.Coverage
	if len(c.Areas) == 0 {
		return
	}
	r.section("Areas watered overhead")
	r.table(words(Areas(r.p, c, r.field)))
	r.wrap("  ", AreasNote(r.p, c))
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

// offTarget tells where the water goes.
func (r *reporter) offTarget() {
	if r.d.Coverage.FlowGPM <= 0 {
		return
	}
	r.section("Where the water goes")
	r.table(words(Water(r.p, r.d.Coverage))[1:])
	r.line("  %s", WaterNote)
}
