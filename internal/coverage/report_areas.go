package coverage

import (
	"cmp"
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// watersShare is the share of an area's water from which a zone is said to water
// it: less is the edge of a neighbour's throw. Chosen.
const watersShare = 0.01

func (f *Field) reportAreas(r *Result, p *plan.Plan) {
	landed := map[plan.ID]*bringers{} // by area, by zone
	for _, h := range r.Heads {
		zone := p.Heads[h.ID].Zone
		for _, l := range h.Landed {
			if landed[l.Surface] == nil {
				landed[l.Surface] = &bringers{}
			}
			landed[l.Surface].add(zone, l.GPM)
		}
	}
	for _, id := range plan.SortedIDs(f.index) {
		i := f.index[id]
		if !f.plots[i].target {
			continue
		}
		a := f.areaReading(i)
		if b := landed[id]; b != nil {
			a.FlowRate = rateOver(b.total, a.WithLip.AreaSqFt)
			a.Zones = b.zones()
		}
		r.Areas = append(r.Areas, a)
		r.Gaps = append(r.Gaps, f.reads[i].gaps...)
	}
	slices.SortStableFunc(r.Gaps, func(a, b Gap) int { return cmp.Compare(b.AreaSqFt, a.AreaSqFt) })
}

func (f *Field) areaReading(i int) AreaReading {
	read := &f.reads[i]
	with := f.evenness(read.all)
	return AreaReading{
		ID: f.plots[i].id, Evenness: read.even, Driest: read.driest,
		WithLip: LipReading{AreaSqFt: with.AreaSqFt, Mean: with.Mean, DU: with.DU, Driest2: with.Driest2},
	}
}

// zones is who brings more than a trace of the water, by id.
func (b *bringers) zones() []plan.ID {
	sum := map[plan.ID]units.GPM{}
	for i, id := range b.ids {
		sum[id] += b.gpm[i]
	}
	var out []plan.ID
	for _, id := range plan.SortedIDs(sum) {
		if id != "" && float64(sum[id]) >= watersShare*float64(b.total) {
			out = append(out, id)
		}
	}
	return out
}

// rateOver is a flow over ground, 0 where there is none.
func rateOver(q units.GPM, a units.SqFeet) units.InchesPerHour {
	if !(a > 0) {
		return 0
	}
	return units.PrecipitationRate(q, a)
}

// reportZones reads the zones. The ground of an area that several zones water is
// shared among them as their heads stand for ground: throw² for a full circle
// (see standsFor); by water alone, the zone of the higher rate would be given
// more ground than it wets.
func (f *Field) reportZones(r *Result, p *plan.Plan) {
	stands := f.standing(r, p)
	heads := map[plan.ID][]HeadReading{}
	for _, h := range r.Heads {
		zone := p.Heads[h.ID].Zone
		heads[zone] = append(heads[zone], h)
	}
	for _, id := range plan.SortedIDs(p.Zones) {
		if p.Zones[id].Status.Stands() {
			r.Zones = append(r.Zones, f.zoneReading(p, id, heads[id], stands))
		}
	}
}

// standing is the ground that heads stand for, by area, and of that by zone.
type standing struct {
	area map[plan.ID]float64
	zone map[[2]plan.ID]float64 // zone, area
}

func (f *Field) standing(r *Result, p *plan.Plan) standing {
	s := standing{map[plan.ID]float64{}, map[[2]plan.ID]float64{}}
	for _, h := range r.Heads {
		if h.Area == "" {
			continue
		}
		head := p.Heads[h.ID]
		n := p.Nozzles[head.Nozzle]
		ground := float64(standsFor(n, sweepOf(head, n), h.Throw))
		s.area[h.Area] += ground
		s.zone[[2]plan.ID{head.Zone, h.Area}] += ground
	}
	return s
}

func (f *Field) zoneReading(p *plan.Plan, id plan.ID, heads []HeadReading, stands standing) ZoneReading {
	z := ZoneReading{ID: id, Heads: len(heads), Plantings: []string{}, Areas: []plan.ID{}}
	for _, h := range heads {
		z.FlowGPM += h.FlowGPM
		if h.Area != "" && !slices.Contains(z.Areas, h.Area) {
			z.Areas = append(z.Areas, h.Area)
		}
	}
	slices.Sort(z.Areas)
	z.HeadToHead = zoneRate(heads)
	z.RateBySpacing = spacingRate(p, heads)
	z.WorstOff, z.WorstHead = worstOff(heads, z.HeadToHead)
	z.TurnedDown = turnedDownHeads(heads)
	f.zoneGround(&z, stands)
	return z
}

// zoneGround fills in what depends on the areas that the zone's heads stand for.
func (f *Field) zoneGround(z *ZoneReading, stands standing) {
	var ground units.SqFeet
	var all *histogram
	for _, id := range z.Areas {
		i := f.index[id]
		read := &f.reads[i]
		part := ratio(stands.zone[[2]plan.ID{z.ID, id}], stands.area[id])
		ground += units.SqFeet(part * float64(read.all.total) / weightOne * f.frame.CellArea())
		if h := f.plots[i].hydro; !slices.Contains(z.Plantings, h) {
			z.Plantings = append(z.Plantings, h)
		}
		if all == nil {
			all = &read.inner
		} else {
			all = all.plus(&read.inner)
		}
	}
	slices.Sort(z.Plantings)
	z.RateByFlow = rateOver(z.FlowGPM, ground)
	if all != nil {
		e := f.zoneEvenness(z.Areas, all)
		z.RateByGrid, z.Evenness = e.Mean, &e
	}
}

// zoneEvenness reads several areas as one ground. The window of the scheduling
// coefficient does not reach across areas: the driest one counts.
func (f *Field) zoneEvenness(areas []plan.ID, all *histogram) Evenness {
	e := f.evenness(all)
	two, weight := 0.0, 0.0
	for k, id := range areas {
		read := &f.reads[f.index[id]]
		least, most := read.even.Least, read.even.Most
		if k == 0 || least < e.Least {
			e.Least = least
		}
		e.Most = max(e.Most, most)
		two += read.two
		weight += float64(read.inner.total) / weightOne
		if read.even.SC > 0 {
			e.SC = max(e.SC, ratio(float64(e.Mean)*read.even.SC, float64(read.even.Mean)))
		}
	}
	e.TwoHeads = units.Ratio(ratio(two, weight))
	return e
}

// zoneRate is the rate that the heads of a zone are matched against: the middle of
// their nozzles' own, which one odd head does not move; of an even number the lower
// of the two in the middle, so that it is some head's.
func zoneRate(heads []HeadReading) units.InchesPerHour {
	own := make([]units.InchesPerHour, len(heads))
	for i, h := range heads {
		own[i] = h.OwnRate
	}
	if len(own) == 0 {
		return 0
	}
	slices.Sort(own)
	return own[(len(own)-1)/2]
}

// offRate is how far a head's own rate is from a zone's, as a share.
func offRate(h HeadReading, rate units.InchesPerHour) float64 {
	return ratio(math.Abs(float64(h.OwnRate-rate)), float64(rate))
}

// spacingRate is the middle of the heads' rates in the spacing form: the flow of
// a full circle over head spacing times row spacing, as they stand (square or
// triangular alike, since the row spacing is measured: Texas A&M AgriLife's
// scheduling page). A strip has no rows and counts with its own rate; a head
// with no row beside it does not count.
func spacingRate(p *plan.Plan, heads []HeadReading) units.InchesPerHour {
	var rates []units.InchesPerHour
	for _, h := range heads {
		sweep := p.Heads[h.ID].SweepDeg
		switch {
		case p.Nozzles[p.Heads[h.ID].Nozzle].Family == catalog.Strip:
			rates = append(rates, h.Rate)
		case h.Nearest != nil && h.Nearest.RowFt > 0 && sweep > 0:
			full := units.GPM(float64(h.FlowGPM) * 360 / float64(sweep))
			rates = append(rates, units.SpacingRate(full, h.Nearest.DistanceFt, h.Nearest.RowFt))
		}
	}
	return median(rates)
}

func median(rates []units.InchesPerHour) units.InchesPerHour {
	n := len(rates)
	if n == 0 {
		return 0
	}
	slices.Sort(rates)
	return (rates[(n-1)/2] + rates[n/2]) / 2
}

// worstOff is the head whose own rate is farthest from the zone's, and by how much.
func worstOff(heads []HeadReading, rate units.InchesPerHour) (units.Ratio, plan.ID) {
	worst, id := 0.0, plan.ID("")
	for _, h := range heads {
		if off := offRate(h, rate); off > worst {
			worst, id = off, h.ID
		}
	}
	return units.Ratio(worst), id
}

// turnedSlack is the share of its table throw by which a head may fall short and
// still not count as turned down: rounding, as by converting metres.
const turnedSlack = 0.005

func turnedDownHeads(heads []HeadReading) int {
	n := 0
	for _, h := range heads {
		if float64(h.Throw) < (1-turnedSlack)*float64(h.TableThrow) {
			n++
		}
	}
	return n
}
