package pressure

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"evenfall/internal/hydraulics"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Check solves zones running one by one, all that stand when none is named. It is
// the pressure-true look at sizes that were chosen at planned flows.
func Check(p *plan.Plan, net *pipework.Network, zones ...plan.ID) []Zone {
	w := newWater(p, net)
	if len(zones) == 0 {
		zones = w.standing()
	}
	out := make([]Zone, len(zones))
	for i, z := range zones {
		out[i] = w.solve([]plan.ID{z})[0]
	}
	return out
}

// Together solves zones that run at the same time, in the order they are named.
// One that lacks something runs with none of the others.
func Together(p *plan.Plan, net *pipework.Network, zones ...plan.ID) []Zone {
	return newWater(p, net).solve(zones)
}

// solve runs zones at the same time.
func (w *water) solve(zones []plan.ID) []Zone {
	out := make([]Zone, len(zones))
	var run []plan.ID
	for i, z := range zones {
		out[i] = Zone{ID: z, Heads: []Head{}, Pipes: []Flow{}, Budget: []Step{}, Says: w.lacking(z)}
		if out[i].Says == "" && !slices.Contains(run, z) {
			run = append(run, z)
		}
	}
	if len(run) == 0 {
		return out
	}
	m := w.build(run)
	state, err := hydraulics.Solve(&m.Network, nil)
	for i := range out {
		switch z := &out[i]; {
		case z.Says != "":
		case err != nil:
			z.Says = w.blame(&m, err)
		default:
			w.tell(&m, &state, z)
		}
	}
	return out
}

// blame says what keeps a network from being solved, by the names of the plan.
func (w *water) blame(m *model, err error) string {
	var f *hydraulics.Fault
	if !errors.As(err, &f) || f.Says == "" {
		return plan.Capital(err.Error())
	}
	who := "the system"
	if f.Node == 0 {
		who = "the supply"
	}
	for _, o := range m.heads {
		if o.node == f.Node {
			who = w.p.HeadName(o.id)
		}
	}
	for _, p := range m.above {
		if p.link == f.Link && p.device != nil {
			who = p.device.name
		}
	}
	for _, r := range m.pipes {
		if r.link == f.Link {
			who = w.p.PipeName(r.pipe.ID)
		}
	}
	return plan.Capital(who) + " " + f.Says
}

// tell reads a zone out of a solution.
func (w *water) tell(m *model, state *hydraulics.State, z *Zone) {
	z.Solved = true
	for _, o := range m.heads {
		if o.zone == z.ID {
			inlet := state.Pressure[o.node]
			h := Head{ID: o.id, Inlet: max(inlet, 0), Nozzle: o.atNozzle(inlet), Flow: state.Out[o.node]}
			h.State = o.state(h.Nozzle)
			z.Heads, z.Flow = append(z.Heads, h), z.Flow+h.Flow
		}
	}
	slices.SortFunc(z.Heads, func(a, b Head) int { return cmp.Compare(a.ID, b.ID) })
	for _, r := range m.pipes {
		if r.pipe.Valved && r.pipe.Zone != z.ID {
			continue
		}
		q := state.Flow[r.link]
		l := m.Links[r.link]
		lost, _ := l.Law.Loss(q)
		f := Flow{Pipe: r.pipe.ID, Flow: q, Velocity: hydraulics.Velocity(units.GPM(math.Abs(float64(q))), r.pipe.Size.Inside),
			Loss: lost, From: state.Pressure[l.From], To: state.Pressure[l.To]}
		f.TooFast = f.Velocity > MostVelocity(r.pipe.Class)+roundFPS
		if w.p.Pipes[r.pipe.ID].From != r.pipe.From { // as drawn, from its from to its to
			f.Flow, f.Loss, f.From, f.To = -f.Flow, -f.Loss, f.To, f.From
		}
		z.Pipes = append(z.Pipes, f)
	}
	slices.SortFunc(z.Pipes, func(a, b Flow) int { return cmp.Compare(a.Pipe, b.Pipe) })
	z.Spread = w.spread(m, state, z.ID)
	if worst := m.worst(state, z.ID); worst != nil {
		z.Worst = worst.id
		z.Budget = w.budget(m, state, *worst)
	}
	z.Says = w.cautions(m, state, z)
}

const (
	// roundFPS and roundPSI are what printing a figure may round away.
	roundFPS units.FeetPerSecond = 0.05
	roundPSI units.PSI           = 0.05
	// lowShare is the part of its planned pressure under which a head is told of as
	// low, though still in its table. Chosen.
	lowShare = 0.9
)

// The states of a head.
const (
	Good    = "good"
	Low     = "low"
	High    = "high"
	Starved = "starved"
)

// state says how a head fares at a pressure.
func (o outlet) state(nozzle units.PSI) string {
	rows := o.nozzle.Rows
	switch {
	case nozzle < rows[0].Pressure-roundPSI:
		return Starved
	case nozzle > rows[len(rows)-1].Pressure+roundPSI:
		return High
	case nozzle < lowShare*o.planned.Nozzle-roundPSI:
		return Low
	}
	return Good
}

// worst is the head with the least share of the pressure it wants before it; of
// equal ones the first by id.
func (m *model) worst(state *hydraulics.State, zone plan.ID) *outlet {
	var worst *outlet
	least := math.Inf(1)
	for i := range m.heads {
		o := &m.heads[i]
		if o.zone != zone {
			continue
		}
		share := float64(state.Pressure[o.node] / o.planned.Inlet)
		if share < least-1e-9 || share <= least+1e-9 && o.id < worst.id {
			worst, least = o, min(share, least)
		}
	}
	return worst
}

// spread is how far apart the pressures lie at those heads of a zone whose bodies
// hold them to no setting, as a share of what they are planned at.
func (w *water) spread(m *model, state *hydraulics.State, zone plan.ID) units.Ratio {
	least, most, nominal := units.PSI(math.Inf(1)), units.PSI(0), units.PSI(math.Inf(1))
	for _, o := range m.heads {
		if at := max(state.Pressure[o.node], 0); o.zone == zone && !held(o.regulated.Setting, at) {
			least, most, nominal = min(least, at), max(most, at), min(nominal, o.planned.Nozzle)
		}
	}
	if most <= least || nominal <= 0 {
		return 0
	}
	return units.Ratio((most - least) / nominal)
}

// held reports whether a body holds its nozzle at its setting: one that has less
// before it lets all of it by, as a body without a regulator does.
func held(setting, inlet units.PSI) bool { return setting > 0 && inlet >= setting }

// cautions says what a solution leaves out or stretches.
func (w *water) cautions(m *model, state *hydraulics.State, z *Zone) string {
	var say []string
	if w.chain.unloaded != "" {
		say = append(say, fmt.Sprintf("What %s takes is not counted: choose its row.", w.chain.unloaded))
	}
	if n := len(w.net.Zones[z.ID].Unfed); n > 0 {
		say = append(say, fmt.Sprintf("%s no pipe and %s left out.", plan.Plural(n, "head of the zone has", "heads of the zone have"), plan.Choose(n, "is", "are")))
	}
	if up := w.net.Pipes[w.net.Nodes[w.net.Zones[z.ID].Valve].Up]; up.Valved {
		say = append(say, fmt.Sprintf("Its valve stands behind the one of %s: this holds only while that one is open too.", w.p.ZoneName(up.Zone)))
	}
	if total := -state.Out[0]; total > w.curve.ends+0.005 {
		more := "measure it at a greater flow"
		if w.curve.kind == pumped {
			more = "its pump's curve ends there"
		}
		say = append(say, fmt.Sprintf("%s flow, and the supply is not known past %s: %s.", w.sys.Flow(total), w.sys.Flow(w.curve.ends), more))
	}
	stretched := map[int]bool{}
	for _, l := range state.PastLinks {
		stretched[l] = true
	}
	past := map[string]bool{}
	for _, p := range m.above {
		if p.device != nil && stretched[p.link] && (p.zone == "" || p.zone == z.ID) {
			past[p.device.name] = true
		}
	}
	if len(past) > 0 {
		say = append(say, fmt.Sprintf("More flows than the loss table holds for: %s.", plan.Several(slices.Sorted(maps.Keys(past)))))
	}
	return strings.Join(say, " ")
}
