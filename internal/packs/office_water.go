package packs

import (
	"cmp"
	"fmt"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/sheets"
)

// supplyKinds are the kinds of supply as a permit desk reads them.
var supplyKinds = map[plan.SupplyKind]string{
	plan.TownMeter: "town water, behind a meter", plan.HousePipe: "from the house's own pipe", plan.Well: "well with a pump",
	plan.Pond: "pond or stream with a pump", plan.Reclaimed: "reclaimed water, not for drinking",
}

// waterFacts are what a permit desk asks of the water: where it comes from, what was
// measured, what keeps it from flowing back, and how much is drawn at once.
func (b *builder) waterFacts() [][2]string {
	p, s, d := b.p, &b.p.Supply, b.in.Design
	from := []string{supplyKinds[cmp.Or(s.Kind, plan.TownMeter)]}
	if id, _, ok := p.Meter(); ok {
		from = append(from, lowerFirst(p.DeviceName(id)))
	}
	if class, size, ok := p.ServicePipe(); ok {
		from = append(from, "service pipe: "+catalog.NameIn(b.sys, class.Name)+", "+b.sys.PipeSize(size.Nominal))
	}
	out := [][2]string{{"Water", strings.Join(from, "; ")}}
	if w := d.Pressure.Supply; !w.Assumed {
		says := w.StaticSays + " at no flow"
		if s.FlowGPM > 0 && s.ResidualPSI > 0 {
			says += fmt.Sprintf("; %s left at %s", b.sys.Pressure(s.ResidualPSI), b.sys.Flow(s.FlowGPM))
		}
		out = append(out, [2]string{"Measured", says})
	}
	switch id, dev, chosen := p.BackflowDevice(); {
	case chosen:
		says := lowerFirst(or(p.DeviceName(id), dev.Name))
		if s.BackflowHeightFt != nil {
			says += fmt.Sprintf(", %s above its ground", b.sys.Length(*s.BackflowHeightFt))
		}
		if s.BackflowAt != nil {
			says += ", " + p.Whereabouts(spotAt(*s.BackflowAt))
		}
		out = append(out, [2]string{"Backflow", says})
	case s.Backflow != "":
		out = append(out, [2]string{"Backflow", s.Backflow + ", not chosen from the table yet"})
	default:
		out = append(out, [2]string{"Backflow", "no device is chosen yet"})
	}
	for _, r := range sheets.Readings(p, d, design.Asked{}) {
		if r[0] == "Supply" {
			out = append(out, [2]string{"Most at once", r[1]})
		}
	}
	return out
}

// zoneFigures list each zone with what it draws and what pressure is left at its head
// that has least, running by itself.
func (b *builder) zoneFigures(f *flow) {
	d := b.in.Design
	if len(d.Coverage.Zones) == 0 {
		return
	}
	solved := map[plan.ID]pressure.Zone{}
	for _, z := range d.Pressure.Zones {
		if z.Solved {
			solved[z.ID] = z
		}
	}
	if n := len(d.Coverage.Zones); n <= 20 { // chosen: so many stand on one page, not on two
		f.keep(80 + 14*float64(n))
	}
	f.section("Zones, each running by itself")
	g := grid{Head: []string{"Station", "Zone", "Heads", "Flow planned", "Flow reckoned", "Rate on the ground", "Least pressure at a nozzle"},
		Numbers: []bool{false, false, true, true, true, true, true}}
	lacks := false
	for _, z := range d.Coverage.Zones {
		zone := b.p.Zones[z.ID]
		row := []string{stationName(zone), zoneTitle(b.p, z.ID), itoa(z.Heads), b.sys.Flow(z.FlowGPM), "–", b.sys.Rate(rateOf(z)), "–"}
		if v, ok := solved[z.ID]; ok {
			row[4] = b.sys.Flow(v.Flow)
			for _, h := range v.Heads {
				if h.ID == v.Worst {
					row[6] = b.sys.Pressure(h.Nozzle) + " at " + b.p.HeadTag(h.ID)
				}
			}
		}
		lacks = lacks || row[4] == "–"
		g.Rows = append(g.Rows, row)
	}
	g.Note = fmt.Sprintf("Planned is by each nozzle's table at its planned pressure; reckoned is by the pipe as drawn and the supply. %s to plan on.", b.sys.Flow(d.Pressure.Supply.DesignGPM))
	if lacks {
		g.Note += " A dash: the zone is not drawn whole, so that its pipe cannot be reckoned."
	}
	f.table(g)
}
