package zones

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

const (
	// flowKept is the part of the design flow that a zone may use; the rest is kept in
	// hand for wear (common practice, 5 % to 10 %), as the finding about zones over the
	// design flow has it.
	flowKept = 0.95
	// valveLeast is the flow under which a 1 in valve may not close surely, in gpm,
	// where its row does not say (common practice, 2 to 3), as the finding has it.
	valveLeast units.GPM = 3
	// roundGPM is what printing a flow may round away.
	roundGPM units.GPM = 0.005
)

// head is a standing head whose flow is known.
type head struct {
	id    plan.ID
	at    orb.Point
	flow  units.GPM
	rate  float64
	area  plan.ID
	zone  plan.ID // that it is in and that stands; "" for none
	key   key
	stays bool
}

// job is a plan read for grouping.
type job struct {
	p      *plan.Plan
	o      Options
	supply pressure.Supply
	read   *coverage.Result
	limit  units.GPM
	least  units.GPM // under which the valve or the pump does not work surely
	valve  plan.ID   // of new zones; "": the generic one
	heads  []head    // by id
	lost   []plan.ID // heads whose flow is not known
	closed map[plan.ID]string
	walls  []geom.Segment // of buildings: pipes go round
	notes  []string
}

func newJob(ctx context.Context, p *plan.Plan, o Options) (*job, error) {
	j := &job{p: p, o: o, supply: pressure.SupplyOf(p), closed: map[plan.ID]string{}}
	for _, id := range o.Areas {
		if _, ok := p.Areas[id]; !ok {
			return nil, &Refusal{plan.RefTo("areas", id), fmt.Sprintf("There is no area %s in the plan. Choose areas that are drawn.", id)}
		}
	}
	var err error
	if j.read, err = coverage.Compute(ctx, p); err != nil {
		return nil, err
	}
	if err := j.limits(); err != nil {
		return nil, err
	}
	j.gather()
	if len(j.heads) == 0 {
		return nil, j.nothing()
	}
	for _, h := range j.heads {
		if !h.stays && h.flow > j.limit+roundGPM {
			return nil, j.tooMuch(h)
		}
	}
	j.closeZones()
	j.walls = buildingWalls(p)
	return j, nil
}

// limits works out what a zone may take, at most and at least.
func (j *job) limits() error {
	j.valve = usualValve(j.p)
	alone := plan.Plan{Zones: map[plan.ID]plan.Zone{"zone": {Valve: j.valve}}, Devices: j.p.Devices}
	_, device := alone.ZoneValve("zone")
	if j.limit = j.o.Limit; j.limit <= 0 {
		j.limit = flowKept * j.supply.DesignGPM
	}
	if !(j.limit > 0) || math.IsInf(float64(j.limit), 0) {
		return &Refusal{"supply", "The supply gives no flow at the pressure that the heads need, so no zone can be made. See the limits under Supply: measure again, or choose nozzles that need less pressure."}
	}
	if device.MostGPM > 0 {
		j.limit = min(j.limit, device.MostGPM)
	}
	if j.least = device.LeastGPM; j.least <= 0 {
		j.least = valveLeast
	}
	j.least = max(j.least, j.p.Supply.PumpLeastGPM)
	return nil
}

// usualValve is the valve that most zones of the plan have; "" for the generic one.
func usualValve(p *plan.Plan) plan.ID {
	count := map[plan.ID]int{}
	for _, z := range p.Zones {
		if z.Status.Stands() {
			count[z.Valve]++
		}
	}
	best := plan.ID("")
	for _, id := range plan.SortedIDs(count) {
		if count[id] > count[best] {
			best = id
		}
	}
	return best
}

// gather reads the standing heads.
func (j *job) gather() {
	scope := map[plan.ID]bool{}
	for _, id := range j.o.Areas {
		scope[id] = true
	}
	reading := map[plan.ID]*coverage.HeadReading{}
	areas := map[plan.ID]bool{}
	for i := range j.read.Heads {
		h := &j.read.Heads[i]
		reading[h.ID] = h
		if h.Area != "" {
			areas[h.Area] = true
		}
	}
	keys := newKeys(j.p, plan.SortedIDs(areas))
	for _, id := range plan.SortedIDs(j.p.Heads) {
		h := j.p.Heads[id]
		if !h.Status.Stands() {
			continue
		}
		r, flow := reading[id], pressure.PlannedFlow(j.p, id)
		if r == nil || flow <= 0 {
			j.lost = append(j.lost, id)
			continue
		}
		one := head{id: id, at: orb.Point{float64(h.X), float64(h.Y)}, flow: flow, rate: float64(r.OwnRate), area: r.Area, key: keys.of(id, r.Area)}
		if z, ok := j.p.Zones[h.Zone]; ok && z.Status.Stands() {
			one.zone = h.Zone
			one.stays = h.Locked || !h.Status.IsNew() || z.Locked || len(scope) > 0 && !scope[r.Area]
		} else if len(scope) > 0 && !scope[r.Area] {
			continue // it has no zone, and none is asked for
		}
		j.heads = append(j.heads, one)
	}
}

// closeZones finds the zones that take no more heads, and says why: the locked
// ones, and those whose heads that stay do not go together or take too much.
func (j *job) closeZones() {
	stay := map[plan.ID][]head{}
	for _, h := range j.heads {
		if h.stays {
			stay[h.zone] = append(stay[h.zone], h)
		}
	}
	for _, id := range plan.SortedIDs(stay) {
		heads := stay[id]
		var flow units.GPM
		rates, mixed := make([]float64, len(heads)), false
		for i, h := range heads {
			flow += h.flow
			rates[i] = h.rate
			mixed = mixed || h.key != heads[0].key
		}
		name := plan.Capital(j.p.ZoneName(id))
		switch {
		case j.p.Zones[id].Locked:
			j.closed[id] = fmt.Sprintf("%s is locked: it keeps its heads and takes no more.", name)
		case flow > j.limit+roundGPM:
			j.closed[id] = fmt.Sprintf("%s keeps %s that may not be moved and take %s together, more than the %s of a zone. Unlock some of them.",
				name, plan.Plural(len(heads), "head", "heads"), j.p.Show.Flow(flow), j.p.Show.Flow(j.limit))
		case mixed || unmatched(rates) > 0:
			j.closed[id] = fmt.Sprintf("%s keeps heads that may not be moved and do not go together; it takes no more. Unlock those that are to go to another zone.", name)
		}
		if why := j.closed[id]; why != "" {
			j.notes = append(j.notes, why)
		}
	}
}

func (j *job) nothing() error {
	switch {
	case len(j.lost) > 0:
		return &Refusal{plan.RefTo("heads", j.lost[0]), fmt.Sprintf("None of the heads can be reckoned: %s is used outside its nozzle's table. Give the heads settings that their tables hold.", j.p.HeadName(j.lost[0]))}
	case len(j.o.Areas) > 0:
		return &Refusal{plan.RefTo("areas", j.o.Areas[0]), "No head stands for these areas, so there is nothing to group. Place heads there first."}
	}
	return &Refusal{"heads", "There are no heads to group. Place heads first."}
}

func (j *job) tooMuch(h head) error {
	return &Refusal{plan.RefTo("heads", h.id), fmt.Sprintf("%s takes %s by itself, and a zone may take %s at most (%s). Choose a nozzle of less flow for it, or lock it in a zone of its own.",
		plan.Capital(j.p.HeadName(h.id)), j.p.Show.Flow(h.flow), j.p.Show.Flow(j.limit), j.limitFrom())}
}

// limitFrom says where the limit comes from.
func (j *job) limitFrom() string {
	assumed := ""
	if j.supply.Assumed {
		assumed = "assumed "
	}
	design := j.p.Show.Flow(j.supply.DesignGPM)
	switch {
	case j.o.Limit > 0 && j.limit == j.o.Limit:
		return "as asked for"
	case j.limit < flowKept*j.supply.DesignGPM && j.o.Limit <= 0:
		return "the most of the zone valve"
	case j.o.Limit > 0:
		return "the most of the zone valve, less than asked for"
	}
	return fmt.Sprintf("the %sdesign flow of %s, less 5 %% in hand", assumed, design)
}

// buildingWalls are the sides of standing buildings.
func buildingWalls(p *plan.Plan) []geom.Segment {
	var out []geom.Segment
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		if a.Kind != plan.Building || !a.Status.Stands() {
			continue
		}
		ring := a.Outline.Ring()
		for i := 1; i < len(ring); i++ {
			out = append(out, geom.Segment{A: ring[i-1], B: ring[i]})
		}
	}
	return out
}

// equalFirst reports whether equal flows come before compact zones: where a pump
// gives the water, for it wears by switching on and off.
func (j *job) equalFirst() bool {
	s := j.p.Supply
	return s.Kind == plan.Well || s.Kind == plan.Pond || len(s.Pump) > 0
}

// byZone lists heads under their zone.
func byZone(heads []head) map[plan.ID][]head {
	in := map[plan.ID][]head{}
	for _, h := range heads {
		in[h.zone] = append(in[h.zone], h)
	}
	return in
}
