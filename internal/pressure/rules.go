package pressure

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// find holds supply and zones to the rules.
func (w *water) find(r *Result) []plan.Finding {
	found := slices.Concat(w.flows(r.Supply, r.Zones), w.chosen(r.Supply), w.backflow(), w.unfit(), w.taps(), w.shutting(), w.frost(), w.rated(r))
	starving := false
	for i := range r.Zones {
		if z := &r.Zones[i]; z.Solved {
			found = append(found, w.fast(z)...)
			found = append(found, w.pressures(z)...)
			starving = starving || slices.ContainsFunc(z.Heads, func(h Head) bool { return h.State == Starved })
		}
	}
	if !starving { // else it is told with its heads
		found = append(found, w.weak(r.Supply)...)
	}
	return found
}

// none reports whether nothing flows at the pressure that the heads need.
func none(s Supply) bool {
	return (s.Binding == OnCurve || s.Binding == OnPump) && s.DesignGPM <= roundGPM
}

// nearlyShare is the part of the pressure needed from which a supply is near enough
// for its plan to be mended rather than stopped: tables of nozzles hold as much less
// than their best. Chosen.
const nearlyShare = 0.75

// weak finds a supply that has not the pressure its heads are planned for, however
// little flows: once, and not zone by zone.
func (w *water) weak(s Supply) []plan.Finding {
	if !none(s) || len(w.p.Heads) == 0 {
		return nil
	}
	f := plan.Found(plan.HeadsStarved, plan.Capital(s.Limits[len(s.Limits)-1].Says)+".", "supply")
	f.Title = "Supply without the pressure the heads need"
	f.Do = "Plan the zones at less pressure where their nozzles' tables hold it, or choose nozzles made for less, devices that take less, or a pump that boosts the supply. No larger pipe cures this."
	if need, _ := w.needed(); w.curve.rest >= nearlyShare*need {
		f = f.Ranked(plan.Mend)
	}
	return []plan.Finding{w.looking(f)}
}

// chosen finds a design flow that was chosen above a limit: what the meter is made
// for, or any other without a reason kept.
func (w *water) chosen(s Supply) []plan.Finding {
	if found := w.meter(s); len(found) > 0 {
		return found
	}
	flow, code := least(s.Limits)
	if s.Binding != Override || s.Override != "" || code == "" || s.DesignGPM <= flow+roundGPM {
		return nil
	}
	text := fmt.Sprintf("The plan counts on %s, chosen without a reason, where %s is the most by a limit (%s).", w.sys.Flow(s.DesignGPM), w.sys.Flow(flow), titleOf(s, code))
	f := plan.Found(plan.SupplyRough, text, "supply").Ranked(plan.Notice)
	f.Title = "Design flow chosen without a reason"
	f.Why = "Who reads the plan later, or digs by it, cannot tell whether the limit was weighed or overlooked."
	f.Do = "Write down why it may be more, or leave the flow to the limits."
	f.Source = commonPractice
	return []plan.Finding{w.looking(f)}
}

func titleOf(s Supply, code string) string {
	for _, l := range s.Limits {
		if l.Code == code {
			return l.Title
		}
	}
	return code
}

const (
	// flowKept is the part of the design flow a zone may use; the rest is kept in
	// hand for wear (common practice, 5 % to 10 %).
	flowKept = 0.95
	// valveLeast is the flow under which a 1 in valve may not close surely, in
	// gpm, where its row does not say (common practice, 2 to 3).
	valveLeast units.GPM = 3
	// roundGPM is what printing a flow may round away.
	roundGPM units.GPM = 0.005
)

// asked is what the heads of a zone ask for as planned.
func (w *water) asked(zone plan.ID) (flow units.GPM, heads []plan.Ref) {
	for _, id := range w.headsOf[zone] {
		flow += PlannedFlow(w.p, id)
		heads = append(heads, plan.RefTo("heads", id))
	}
	return flow, heads
}

// flows finds zones that ask for more than the supply gives, or for less than
// their valve needs.
func (w *water) flows(s Supply, zones []Zone) []plan.Finding {
	limit, kind := s.DesignGPM, "design flow"
	if s.Assumed {
		kind = "assumed design flow"
	}
	var found []plan.Finding
	for _, id := range w.standing() {
		flow, heads := w.asked(id)
		if flow == 0 {
			continue
		}
		name, ref, at := plan.Capital(w.p.ZoneName(id)), plan.RefTo("zones", id), w.p.MiddleOf(heads)
		least := w.leastOf(id)
		over := flow > limit+roundGPM && !none(s)
		switch {
		case over && (s.Binding == OnCurve || s.Binding == OnPump) && allGood(zones, id):
			text := fmt.Sprintf("%s asks for %s, and the %s is %s%s; its own heads still get their pressure, with little in hand.", name, w.sys.Flow(flow), kind, w.sys.Flow(limit), setBy(s))
			found = append(found, plan.Found(plan.ZoneOverFlow, text, ref).Ranked(plan.Mend).Looking(at).Measured("gpm", float64(flow)))
		case over:
			text := fmt.Sprintf("%s asks for %s, and the %s is %s%s.", name, w.sys.Flow(flow), kind, w.sys.Flow(limit), setBy(s))
			found = append(found, plan.Found(plan.ZoneOverFlow, text, ref).Looking(at).Measured("gpm", float64(flow)))
		case flow > flowKept*limit+roundGPM && !none(s):
			text := fmt.Sprintf("%s asks for %s of the %s of %s, which leaves less than 5 %% in hand.", name, w.sys.Flow(flow), kind, w.sys.Flow(limit))
			f := plan.Found(plan.ZoneOverFlow, text, ref).Ranked(plan.Mend).Looking(at).Measured("gpm", float64(flow))
			f.Title = "Zone leaves no flow in hand"
			found = append(found, f)
		case flow < w.p.Supply.PumpLeastGPM-roundGPM:
			text := fmt.Sprintf("%s asks for only %s of a pump that wants at least %s.", name, w.sys.Flow(flow), w.sys.Flow(w.p.Supply.PumpLeastGPM))
			f := plan.Found(plan.LowValveFlow, text, ref).Ranked(plan.Mend).Looking(at).Measured("gpm", float64(flow))
			f.Title = "Low flow for the pump"
			f.Why = "A pump that gives too little switches on and off all the time, runs hot and wears out."
			f.Do = "Put more heads on the zone, run it together with another, or give the pump a tank."
			found = append(found, f)
		case flow < least-roundGPM:
			text := fmt.Sprintf("%s runs only %s through its valve; under %s %s.", name, w.sys.Flow(flow), w.sys.Flow(least), w.closes(id))
			found = append(found, plan.Found(plan.LowValveFlow, text, ref).Looking(at).Measured("gpm", float64(flow)))
		}
	}
	return found
}

// allGood reports whether a zone is solved and all its heads have their pressure.
func allGood(zones []Zone, id plan.ID) bool {
	i := slices.IndexFunc(zones, func(z Zone) bool { return z.ID == id })
	return i >= 0 && zones[i].Solved && !slices.ContainsFunc(zones[i].Heads, func(h Head) bool { return h.State == Low || h.State == Starved })
}

// setBy says what set the design flow where a limit did.
func setBy(s Supply) string {
	if s.Binding == Override {
		return ", as chosen in the plan"
	}
	for _, l := range s.Limits {
		if l.Code == s.Binding {
			return fmt.Sprintf(" (%s)", l.Title)
		}
	}
	return ""
}

// leastOf is the least flow a zone's valve closes surely at.
func (w *water) leastOf(zone plan.ID) units.GPM {
	if _, d := w.p.ZoneValve(zone); d.LeastGPM > 0 {
		return d.LeastGPM
	}
	return valveLeast
}

func (w *water) closes(zone plan.ID) string {
	if w.p.Zones[zone].Valve == "" {
		return "some valves do not close"
	}
	return "it may not close"
}

// meter finds a chosen design flow that the meter is not made for. One that is
// worked out never passes it.
func (w *water) meter(s Supply) []plan.Finding {
	_, m, ok := w.p.Meter()
	if !ok || s.Binding != Override && s.Binding != Assumed {
		return nil
	}
	flow := s.DesignGPM + w.p.Supply.HouseGPM
	most := units.GPM(meterShare * float64(m.MostGPM))
	name := catalog.NameIn(w.sys, m.Name)
	text := ""
	switch taken, _ := m.LossAt(flow); {
	case m.MostGPM > 0 && flow > most+1e-9:
		text = fmt.Sprintf("The plan counts on %s through a meter (%s) that is made for %s: three quarters of that is %s.", w.sys.Flow(flow), name, w.sys.Flow(m.MostGPM), w.sys.Flow(most))
	case w.static > 0 && float64(taken) > meterLossShare*float64(w.static)+float64(roundPSI):
		text = fmt.Sprintf("At %s the meter (%s) takes %s, more than a tenth of the %s with nothing running.", w.sys.Flow(flow), name, w.sys.Pressure(taken), w.sys.Pressure(w.static))
	default:
		return nil
	}
	return []plan.Finding{w.looking(plan.Found(plan.MeterOverdrawn, text, "supply").Measured("gpm", float64(flow)))}
}

// looking points a finding about the supply at the connection, if that is placed.
func (w *water) looking(f plan.Finding) plan.Finding {
	if at := w.p.Supply.Connection; at != nil {
		return f.Looking(point(*at))
	}
	return f
}

func point(s plan.Spot) orb.Point { return orb.Point{float64(s.X), float64(s.Y)} }

// fast finds pipes whose water is too fast, once for a zone.
func (w *water) fast(z *Zone) []plan.Finding {
	var about []plan.Ref
	var top Flow
	for _, f := range z.Pipes {
		if f.TooFast && w.firstWithin(f.Pipe, z.ID) {
			about = append(about, plan.RefTo("pipes", f.Pipe))
			if f.Velocity > top.Velocity {
				top = f
			}
		}
	}
	if len(about) == 0 {
		return nil
	}
	v := w.net.Pipes[top.Pipe]
	text := fmt.Sprintf("With %s running, %s through %s of %s runs at %s, where %s is the most", w.p.ZoneName(z.ID), w.sys.Flow(units.GPM(math.Abs(float64(top.Flow)))),
		w.sys.PipeSize(v.Size.Nominal), catalog.NameIn(w.sys, v.Class.Name), w.sys.Velocity(top.Velocity), w.sys.Velocity(MostVelocity(v.Class)))
	if n := len(about) - 1; n > 0 {
		text += fmt.Sprintf("; %s too fast as well", plan.Plural(n, "other pipe is", "other pipes are"))
	}
	return []plan.Finding{plan.Found(plan.VelocityHigh, text+".", append(about, plan.RefTo("zones", z.ID))...).
		Looking(w.middle(top.Pipe)).Measured("velocity_fps", float64(top.Velocity))}
}

// firstWithin reports whether a pipe is the zone's own, or of the main and worst
// with this zone: a main pipe is told of once.
func (w *water) firstWithin(pipe, zone plan.ID) bool {
	return w.net.Pipes[pipe].Valved || w.hardest[pipe] == zone
}

// middle is a place on a pipe: half way between its ends.
func (w *water) middle(pipe plan.ID) orb.Point {
	a, b := w.p.Nodes[w.net.Pipes[pipe].From], w.p.Nodes[w.net.Pipes[pipe].To]
	return orb.Point{float64(a.X+b.X) / 2, float64(a.Y+b.Y) / 2}
}
