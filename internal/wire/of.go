package wire

import (
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// master is the master valve among what wire leads to (see trench.Way).
const master plan.Ref = "supply"

// leadAWG is the size of sensors' leads (common practice).
const leadAWG = thinnest

// work is a wiring as it comes to be.
type work struct {
	*Wiring
	p     *plan.Plan
	digs  *trench.Digs
	slack slack
	current
	paths  []*path // of the runs to be laid
	loads  []load
	groups []group
	laying
}

// Of reckons the wiring of p along its digs. A wire's length one way is its way
// along the ground and a coil to every so many feet of it, a loop in every box it comes
// through, its own last, and the rise from the trench up to the controller; each by
// the plan's figures. Programs run one valve at a time, with the master valve if there
// is one; valves on one station open together. A common that comes by way of a box off the
// valve's way is reckoned with its detour.
func Of(p *plan.Plan, digs *trench.Digs) *Wiring {
	w := &work{Wiring: &Wiring{}, p: p, digs: digs, slack: slackOf(p), current: currentOf(p)}
	for _, id := range plan.SortedIDs(p.Zones) {
		if p.Zones[id].Status.Stands() {
			w.Used++
		}
	}
	w.gather()
	if len(w.paths) > 0 {
		w.lead()
		w.size()
		w.bundle()
		w.splice()
	}
	w.leads()
	w.stretch()
	w.say()
	return w.Wiring
}

// gather reads the ways.
func (w *work) gather() {
	start := controllerAt(w.p)
	boxAt := boxFinder(w.digs, start)
	for _, way := range w.digs.Ways {
		collection, id := way.To.Split()
		r := Run{To: way.To, Known: way.Missing == "", Missing: way.Missing, Box: -1}
		status := w.p.Supply.Status
		switch collection {
		case "zones":
			r.Station, status = w.p.Zones[id].Station, w.p.Zones[id].Status
		case "sensors":
			status = w.p.Sensors[id].Status
		}
		r.New = status.IsNew()
		lead := collection == "sensors"
		if r.Known {
			path := pathOf(w.digs, way, start, boxAt, w.slack)
			r.Ground, r.Box, r.Length = way.Length, path.own, path.length
			if lead {
				r.Length += w.leadRise(id)
			} else if r.New {
				w.paths = append(w.paths, &path)
			}
		}
		if lead {
			w.Sensors = append(w.Sensors, r)
		} else {
			w.Runs = append(w.Runs, r)
		}
	}
}

// leadRise is how far a sensor's lead goes up where it hangs.
func (w *work) leadRise(id plan.ID) units.Feet {
	if h := w.p.Sensors[id].HeightFt; h != nil {
		return *h
	}
	return 0
}

// lead chooses between cable and single conductors, and leads their lines.
func (w *work) lead() {
	spares, _ := w.p.Figure(plan.WireSpares)
	w.Spares = int(spares)
	w.groups = groupsOf(w.paths)
	for _, p := range w.paths {
		w.loads = append(w.loads, load{length: p.length, beside: w.shared(p)})
	}
	cabled := lay(w.digs, w.groups, true, w.slack)
	cabled.count(w.groups, w.Spares)
	w.Cable, w.Why = w.suits(&cabled)
	if w.laying = cabled; w.Cable == Single {
		w.laying = lay(w.digs, w.groups, false, w.slack)
		w.laying.count(w.groups, w.Spares)
	}
	w.Lines, w.Unboxed = w.laying.lines, w.laying.unboxed
	for i, p := range w.paths {
		g := slices.IndexFunc(w.groups, func(g group) bool { return slices.Contains(g.paths, p) })
		w.loads[i].detour = w.Lines[w.served[g]].Detour
	}
}

// shared is how much of the common a valve shares with those that open with it:
// a zone's valve with the master valve and the others of its station, the master valve
// with the zone that shares most.
func (w *work) shared(p *path) units.Feet {
	station := func(p *path) int { return w.p.Zones[p.to.ID()].Station }
	with := map[int]units.Feet{} // by station, for the master valve
	var sum, most units.Feet
	for _, o := range w.paths {
		if o == p {
			continue
		}
		at := station(o)
		switch {
		case p.to == master && at > 0:
			with[at] += w.slack.laid(w.common(p, o))
			most = max(most, with[at])
		case p.to == master:
			most = max(most, w.slack.laid(w.common(p, o)))
		case o.to == master, at > 0 && at == station(p):
			sum += w.slack.laid(w.common(p, o))
		}
	}
	return sum + most
}

// common is the ground that two paths share from the controller on, the boxes on
// it, and that it begins at the controller.
func (w *work) common(a, b *path) (units.Feet, int, bool) {
	k := 0
	var ground units.Feet
	for k < min(len(a.segments), len(b.segments)) && a.segments[k] == b.segments[k] {
		ground += w.digs.Segments[a.segments[k]].Length
		k++
	}
	return ground, len(a.passed(0, k)), true
}

// size chooses the gauges and reckons each run with them.
func (w *work) size() {
	var common units.Feet
	for _, l := range w.Lines {
		common += l.Length
	}
	chosen := wanted{w.p.Wiring.HotAWG, w.p.Wiring.CommonAWG, w.Cable == Multi}
	g := w.choose(w.loads, common, chosen)
	w.Common = g.common
	for i, p := range w.paths {
		r, v := w.run(p.to), w.loads[i]
		r.Hot, r.Common, r.Detour = g.hots[i], g.common, v.detour
		r.Drop, r.Volts, r.Most = w.drop(v, r.Hot, r.Common), w.left(v, r.Hot, r.Common), w.most(v, r.Hot, r.Common)
		r.Sum = w.sum(r, v)
		w.Drops = w.Drops || w.left(v, thinnest, thinnest) < w.least
	}
}

// run is the run to a thing.
func (w *work) run(to plan.Ref) *Run {
	return &w.Runs[slices.IndexFunc(w.Runs, func(r Run) bool { return r.To == to })]
}

// leads buys the leads of sensors.
func (w *work) leads() {
	waste, _ := w.p.Figure(plan.WireWaste)
	for _, r := range w.Sensors {
		if !r.Known || !r.New || w.p.Sensors[r.To.ID()].Wireless {
			continue
		}
		w.Cables = append(w.Cables, Cable{AWG: leadAWG, Conductors: 2, What: "sensor", Laid: r.Length, Length: wasted(r.Length, waste), For: []plan.Ref{r.To},
			Why: "A sensor's lead of two conductors, without a splice on its way; its maker says which wire."})
	}
	if len(w.paths) > 0 {
		w.Conduit += w.slack.rise
	}
}

// wasted is what is bought of a length.
func wasted(l units.Feet, share float64) units.Feet {
	return l + units.Feet(float64(l)*share)
}

// stretch counts what lies in each segment.
func (w *work) stretch() {
	at := make([]Stretch, len(w.digs.Segments))
	for _, p := range w.paths {
		for _, s := range p.segments {
			at[s].Hots++
		}
	}
	for _, l := range w.Lines {
		for _, s := range l.Segments {
			at[s].Commons++
		}
	}
	if len(w.groups) > 0 {
		for _, s := range w.groups[0].paths[0].segments {
			at[s].Spares = w.Spares
		}
	}
	for _, way := range w.digs.Ways {
		if id, ok := strings.CutPrefix(string(way.To), "sensors/"); ok && way.Missing == "" && w.p.Sensors[plan.ID(id)].Status.IsNew() && !w.p.Sensors[plan.ID(id)].Wireless {
			for _, s := range way.Segments {
				at[s].Sensors += 2
			}
		}
	}
	for i, s := range at {
		if s.Hots+s.Sensors == 0 {
			continue
		}
		s.Segment = i
		if s.Hots > 0 {
			s.Commons = max(s.Commons, 1) // within a box
			s.Conductors = s.Hots + s.Commons + s.Spares
		}
		s.Conduit = w.digs.Segments[i].Ground == trench.Paved
		w.Stretches = append(w.Stretches, s)
	}
}
