package coverage

import (
	"cmp"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// report writes the Result from what was read. runs are in the order of the
// showers.
func (f *Field) report(p *plan.Plan, runs []Run, out []LeftOut) *Result {
	r := &Result{
		CellFt: units.Feet(f.frame.Cell), LipFt: units.Feet(f.lips.edge), WallLipFt: units.Feet(f.lips.wall),
		Areas: []AreaReading{}, Zones: []ZoneReading{}, Heads: []HeadReading{},
		OffTarget: []OffTarget{}, Stopped: []Stopped{}, Gaps: []Gap{}, LeftOut: out,
		Barriers: []BarrierReading{},
	}
	if out == nil {
		r.LeftOut = []LeftOut{}
	}
	f.reportHeads(r, runs)
	f.reportAreas(r, p)
	f.reportZones(r, p)
	f.reportOff(r)
	f.reportStopped(r)
	f.reportBarriers(r)
	return r
}

func (f *Field) reportHeads(r *Result, runs []Run) {
	near := neighbours(f.showers)
	for i, s := range f.showers {
		h := HeadReading{
			ID: s.id, Pressure: runs[i].Pressure, TableThrow: runs[i].TableThrow, Throw: runs[i].Throw,
			FlowGPM: runs[i].Flow, Rate: runs[i].Rate, OwnRate: runs[i].OwnRate, Nearest: near[i],
		}
		h.Landed = f.landings(s)
		var most units.GPM
		for _, l := range h.Landed {
			if f.isTarget(l.Surface) {
				h.OnTarget += l.GPM
				if l.GPM > most { // they come most first
					h.Area, most = l.Surface, l.GPM
				}
			}
		}
		for _, st := range s.stops {
			h.Stopped += units.GPM(st.share * s.flow)
			if st.share >= lostTold {
				h.Caught = append(h.Caught, Catch{f.obstacles[st.of].ref, units.Ratio(st.share)})
			}
		}
		slices.SortStableFunc(h.Caught, func(a, b Catch) int { return cmp.Compare(b.Share, a.Share) })
		r.FlowGPM += h.FlowGPM
		r.OnTargetGPM += h.OnTarget
		r.StoppedGPM += h.Stopped
		r.Heads = append(r.Heads, h)
	}
}

// landings is a head's row of the ledger by area, lips with their areas, most
// first.
func (f *Field) landings(s *shower) []Landing {
	out := make([]Landing, 0, len(s.lands))
	for _, l := range s.lands {
		sf := &f.land.surfaces[l.of]
		if n := len(out); sf.lip && n > 0 && out[n-1].Surface == sf.id {
			out[n-1].GPM += units.GPM(l.gpm)
			continue
		}
		if i := slices.IndexFunc(out, func(o Landing) bool { return sf.id == Band && o.Surface == Band }); i >= 0 {
			out[i].GPM += units.GPM(l.gpm) // the band in another area
			continue
		}
		out = append(out, Landing{sf.id, units.GPM(l.gpm)})
	}
	slices.SortFunc(out, func(a, b Landing) int {
		return cmp.Or(cmp.Compare(b.GPM, a.GPM), cmp.Compare(a.Surface, b.Surface))
	})
	return out
}

func (f *Field) isTarget(id plan.ID) bool {
	i, ok := f.plotOf(id)
	return ok && f.plots[i].target
}

// plotOf is the index of an area among the plots.
func (f *Field) plotOf(id plan.ID) (int, bool) {
	i, ok := f.index[id]
	return i, ok
}

// bringers is the water that lands somewhere by who brings it.
type bringers struct {
	total units.GPM
	ids   []plan.ID
	gpm   []units.GPM
}

func (b *bringers) add(id plan.ID, gpm units.GPM) {
	b.total += gpm
	if n := len(b.ids); n > 0 && b.ids[n-1] == id {
		b.gpm[n-1] += gpm
		return
	}
	b.ids, b.gpm = append(b.ids, id), append(b.gpm, gpm)
}

// mostFirst is who brings it, most first.
func (b *bringers) mostFirst() []plan.ID {
	order := make([]int, len(b.ids))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(b.gpm[j], b.gpm[i]), cmp.Compare(b.ids[i], b.ids[j]))
	})
	out := make([]plan.ID, len(order))
	for k, i := range order {
		out[k] = b.ids[i]
	}
	return out
}

// trace is the flow, in gpm, below which water on a surface is rounding.
const trace = 1e-7

func (f *Field) reportOff(r *Result) {
	by := map[plan.ID]*bringers{}
	for _, h := range r.Heads {
		for _, l := range h.Landed {
			if f.isTarget(l.Surface) || l.GPM < trace {
				continue
			}
			if by[l.Surface] == nil {
				by[l.Surface] = &bringers{}
			}
			by[l.Surface].add(h.ID, l.GPM)
		}
	}
	for _, id := range plan.SortedIDs(by) {
		b := by[id]
		o := OffTarget{
			Surface: id, GPM: b.total, Share: units.Ratio(ratio(float64(b.total), float64(r.FlowGPM))), Heads: b.mostFirst(),
		}
		if i, ok := f.plotOf(id); ok {
			o.Kind, o.Name = f.plots[i].kind, f.plots[i].name
		}
		r.OffTarget = append(r.OffTarget, o)
	}
	slices.SortStableFunc(r.OffTarget, func(a, b OffTarget) int { return cmp.Compare(b.GPM, a.GPM) })
}

func (f *Field) reportStopped(r *Result) {
	by := make([]bringers, len(f.obstacles))
	for _, s := range f.showers {
		for _, st := range s.stops {
			by[st.of].add(s.id, units.GPM(st.share*s.flow))
		}
	}
	for i := range by {
		if b := &by[i]; b.total >= trace {
			r.Stopped = append(r.Stopped, Stopped{
				By: f.obstacles[i].ref, GPM: b.total, Heads: b.mostFirst(),
				Share: units.Ratio(ratio(float64(b.total), float64(r.FlowGPM))),
			})
		}
	}
	slices.SortStableFunc(r.Stopped, func(a, b Stopped) int { return cmp.Compare(b.GPM, a.GPM) })
}
