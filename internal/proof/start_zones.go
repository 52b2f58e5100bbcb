package proof

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// zonesInOrder are the zones that stand, by station, those without one last, then by
// name and id.
func zonesInOrder(p *plan.Plan) []plan.ID {
	ids := slices.DeleteFunc(plan.SortedIDs(p.Zones), func(id plan.ID) bool { return !p.Zones[id].Status.Stands() })
	slices.SortStableFunc(ids, func(a, b plan.ID) int {
		x, y := p.Zones[a], p.Zones[b]
		return cmp.Or(cmp.Compare(cmp.Or(x.Station, math.MaxInt), cmp.Or(y.Station, math.MaxInt)), cmp.Compare(x.Name, y.Name))
	})
	return ids
}

// zoneHeads are the heads that stand, by zone, each by id.
func zoneHeads(p *plan.Plan) map[plan.ID][]plan.ID {
	of := map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Status.Stands() {
			of[h.Zone] = append(of[h.Zone], id)
		}
	}
	return of
}

// zoneStarts are the zones with what is predicted of them and their runs.
func zoneStarts(p *plan.Plan, d *design.Design) []ZoneStart {
	w := newWatch(p, d)
	out := make([]ZoneStart, 0, len(p.Zones))
	for _, id := range zonesInOrder(p) {
		out = append(out, w.zone(id))
	}
	return out
}

// watch is what runs are held against.
type watch struct {
	p      *plan.Plan
	d      *design.Design
	heads  map[plan.ID][]plan.ID // that stand, by zone
	solved map[plan.ID]pressure.Zone
	static units.PSI // at the connection with nothing running; 0: not known
	// highest is the greatest pressure at rest that the plan knows of.
	highest units.PSI
	before  map[plan.ID]Predicted

	signs    map[runKey]sign      // of runs, as far as asked
	response map[plan.ID]response // as far as asked
}

// runKey names a run of a zone.
type runKey struct{ zone, run plan.ID }

func newWatch(p *plan.Plan, d *design.Design) *watch {
	w := &watch{p: p, d: d, heads: zoneHeads(p), solved: map[plan.ID]pressure.Zone{}, before: map[plan.ID]Predicted{}, signs: map[runKey]sign{}, response: map[plan.ID]response{}}
	for _, z := range d.Pressure.Zones {
		w.solved[z.ID] = z
	}
	w.static = staticOf(d)
	w.highest = max(w.static, p.Supply.StaticPSI)
	for _, r := range p.Supply.Statics { // the greatest: order does not matter
		w.highest = max(w.highest, r.PSI)
	}
	for _, id := range zonesInOrder(p) {
		w.before[id] = w.predict(id)
	}
	return w
}

// staticOf is the pressure at the connection with nothing running: behind a regulator
// where one stands before it.
func staticOf(d *design.Design) units.PSI {
	if at, ok := d.Pressure.Static[d.Pipework.Source]; ok && d.Pressure.Supply.StaticPSI > 0 {
		return at
	}
	return d.Pressure.Supply.StaticPSI
}

// predict is what a zone should show: by the solution of its pipes, or where they are
// not drawn by its heads at their planned pressure.
func (w *watch) predict(id plan.ID) Predicted {
	z := w.solved[id]
	out := Predicted{Static: w.static}
	if z.Solved {
		out = predictedBy(z)
		out.Static = w.static
	} else {
		out.byPlan(w.p, id, w.heads[id])
	}
	out.MeterGal, out.MeterTime = timed(w.p.Show, out.Flow)
	return out
}

// predictedBy reads a prediction out of a solution.
func predictedBy(z pressure.Zone) Predicted {
	out := Predicted{Solved: true, Flow: z.Flow, Head: z.Worst}
	for _, h := range z.Heads {
		out.Heads = append(out.Heads, AtHead{h.ID, h.Nozzle, h.Flow})
		if h.ID == z.Worst {
			out.Pressure = h.Nozzle
		}
	}
	for _, s := range z.Budget {
		switch s.Code {
		case "static", "supply", "meter", "service":
			out.Tap = s.Left
		case "valve", "breaker":
			out.Valve = s.Left
		}
	}
	return out
}

// byPlan predicts a zone by the planned pressures of its heads.
func (out *Predicted) byPlan(p *plan.Plan, zone plan.ID, heads []plan.ID) {
	for _, id := range heads {
		run, err := coverage.Running(p, id)
		if err != nil {
			*out = Predicted{Static: out.Static} // a part of a zone's flow would mislead
			return
		}
		out.Heads = append(out.Heads, AtHead{id, run.Pressure, run.Flow})
		out.Flow += run.Flow
		if out.Head == "" || fromValve(p, zone, id) > fromValve(p, zone, out.Head) {
			out.Head, out.Pressure = id, run.Pressure
		}
	}
}

// fromValve is how far a head stands from the valve of a zone, in feet; from the origin
// where the valve has no place.
func fromValve(p *plan.Plan, zone, head plan.ID) float64 {
	h, at := p.Heads[head], plan.Spot{}
	if v := p.Zones[zone].ValveAt; v != nil {
		at = *v
	}
	return math.Hypot(float64(h.X-at.X), float64(h.Y-at.Y))
}

// volumes are round ones to be timed at a meter, in gallons and in litres; leastTiming is
// how many seconds it should take, so that a second's slip is little. Chosen.
var volumes = map[units.System][]float64{units.US: {2, 5, 10, 20, 50, 100, 200}, units.Metric: {10, 20, 50, 100, 200, 500, 1000}}

const leastTiming = 40

// timed is a round volume of the plan's units and what it takes at a flow.
func timed(sys units.System, q units.GPM) (units.Gallons, units.Seconds) {
	if !(q > 0) {
		return 0, 0
	}
	list := volumes[units.US]
	per := 1.0
	if sys == units.Metric {
		list, per = volumes[units.Metric], units.LitresPerGallon
	}
	for _, v := range list {
		gal := units.Gallons(v / per)
		if t := units.Seconds(float64(gal) * 60 / float64(q)); t >= leastTiming {
			return gal, t
		}
	}
	gal := units.Gallons(list[len(list)-1] / per)
	return gal, units.Seconds(float64(gal) * 60 / float64(q))
}

// zone is a zone with its prediction in words and its runs.
func (w *watch) zone(id plan.ID) ZoneStart {
	z, sys := w.p.Zones[id], w.p.Show
	s := ZoneStart{ID: id, Station: z.Station, Name: z.Name, Predicted: w.before[id], Unknown: w.unknown(id)}
	if q := s.Predicted; q.Flow > 0 {
		s.Flow = sys.Flow(q.Flow)
		s.Pressure = sys.Pressure(q.Pressure)
		s.HeadTag = w.p.HeadTag(q.Head)
		s.MeterTime = fmt.Sprintf("%s in %.0f s", sys.Volume(q.MeterGal), float64(q.MeterTime))
		if !startJobOf(w.p).metered {
			s.MeterTime = w.bucket(q)
		}
	}
	if w.static > 0 {
		s.Static = sys.Pressure(w.static)
	}
	for _, r := range plan.SortedIDs(z.Runs) {
		s.Runs = append(s.Runs, w.run(id, r, z.Runs[r]))
	}
	slices.SortStableFunc(s.Runs, func(a, b Run) int { return cmp.Compare(a.Run.On, b.Run.On) })
	return s
}

// buckets are a pail's volume, in gallons and in litres. Chosen.
var buckets = map[units.System]units.Gallons{units.US: 2, units.Metric: 10 / units.LitresPerGallon}

// bucket is what a pail under the head named should take, where there is no meter.
func (w *watch) bucket(q Predicted) string {
	for _, h := range q.Heads {
		if gal := buckets[w.p.Show]; h.Head == q.Head && h.Flow > 0 && gal > 0 {
			return fmt.Sprintf("no meter: a bucket of %s at %s in %.0f s", w.p.Show.Volume(gal), w.p.HeadTag(h.Head), float64(gal)*60/float64(h.Flow))
		}
	}
	return ""
}

// unknown says why nothing is predicted for a zone, or how far to trust it.
func (w *watch) unknown(id plan.ID) string {
	q, z := w.before[id], w.solved[id]
	var say []string
	switch {
	case len(q.Heads) == 0 && len(w.heads[id]) == 0:
		return "No head stands in this zone yet."
	case q.Flow <= 0:
		return "Nothing is predicted: " + cmp.Or(z.Says, "a head is used outside its nozzle's table.")
	case !q.Solved:
		say = append(say, "By the planned pressure of its heads alone: "+cmp.Or(z.Says, "its pipes are not drawn."))
	case z.Says != "":
		say = append(say, z.Says)
	}
	if w.d.Pressure.Supply.Assumed {
		say = append(say, "The supply was never measured: what is predicted stands on an assumed one.")
	}
	return strings.Join(say, " ")
}
