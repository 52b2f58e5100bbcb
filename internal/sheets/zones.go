package sheets

import (
	"strings"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
)

// Zones is the zone table: flow, the precipitation rate three ways, how far the
// farthest head is from the zone's rate, what it waters and how evenly.
func Zones(p *plan.Plan, r *coverage.Result, water pressure.Supply) Table {
	sys := p.Show
	t := Table{Title: "Zones", Columns: []Column{
		{"Station", 9}, {"Zone", 20}, {"Status", 10}, {"Heads", 8},
		flows.column(sys, "Flow", 11), flows.column(sys, "Design flow", 12), {"Supply", 10},
		rates.column(sys, "Rate by flow", 14), rates.column(sys, "Rate by spacing", 16), rates.column(sys, "Rate on the map", 16),
		{"Farthest from the rate, %", 14}, {"At head", 10},
		{"Layout uniformity, %", 12}, {"Plantings", 28}, {"Areas", 32},
	}}
	supply := "measured"
	switch {
	case water.Assumed:
		supply = "assumed"
	case water.Binding == pressure.Override:
		supply = "chosen"
	}
	for _, z := range r.Zones {
		zone := p.Zones[z.ID]
		station, even := Text(""), Text("")
		if zone.Station > 0 {
			station = Count(zone.Station)
		}
		if z.Evenness != nil {
			even = percent(float64(z.Evenness.DU))
		}
		areas := make([]string, len(z.Areas))
		for i, id := range z.Areas {
			areas[i] = p.AreaName(id)
		}
		t.Rows = append(t.Rows, []Cell{
			station, Text(refName(p, plan.RefTo("zones", z.ID))), Text(statusWord(zone.Status)), Count(z.Heads),
			flows.cell(sys, float64(z.FlowGPM)), flows.cell(sys, float64(water.DesignGPM)), Text(supply),
			rates.cell(sys, float64(z.RateByFlow)), rates.cell(sys, float64(z.RateBySpacing)), rates.cell(sys, float64(z.RateByGrid)),
			percent(float64(z.WorstOff)), Text(headTag(p, z.WorstHead)),
			even, Text(strings.Join(z.Plantings, "; ")), Text(strings.Join(areas, "; ")),
		})
	}
	return t
}

// percent is a share as whole percents.
func percent(share float64) Cell { return Number(100*share, 0) }

func headTag(p *plan.Plan, id plan.ID) string {
	if id == "" {
		return ""
	}
	return refName(p, plan.RefTo("heads", id))
}

func statusWord(s plan.Status) string {
	if s.IsNew() {
		return string(plan.New)
	}
	return string(s)
}
