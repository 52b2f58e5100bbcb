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
	found := slices.Concat(w.flows(r.Supply), w.meter(r.Supply), w.backflow(), w.shutting(), w.frost(), w.rated(r))
	for i := range r.Zones {
		if z := &r.Zones[i]; z.Solved {
			found = append(found, w.fast(z)...)
			found = append(found, w.pressures(z)...)
		}
	}
	return found
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
func (w *water) flows(s Supply) []plan.Finding {
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
		switch {
		case flow > limit+roundGPM:
			text := fmt.Sprintf("%s asks for %s, and the %s is %s%s.", name, w.sys.Flow(flow), kind, w.sys.Flow(limit), setBy(s))
			found = append(found, plan.Found(plan.ZoneOverFlow, text, ref).Looking(at).Measured("gpm", float64(flow)))
		case flow > flowKept*limit+roundGPM:
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

// setBy says what set the design flow where a limit did.
func setBy(s Supply) string {
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

const (
	// mistFrom is the pressure above which a spray that nothing regulates mists
	// (common practice).
	mistFrom units.PSI = 40
	// spreadMost is how far apart the pressures of unregulated heads may lie.
	spreadMost = 0.20
)

// pressures finds heads that have too little or too much, and zones whose heads
// have too unlike pressures. One cause is told once: where heads starve, the
// spread is no news.
func (w *water) pressures(z *Zone) []plan.Finding {
	by := map[string][]Head{}
	var mist []Head
	for _, h := range z.Heads {
		by[h.State] = append(by[h.State], h)
		if drawn := w.p.Heads[h.ID]; w.p.Nozzles[drawn.Nozzle].Family == catalog.Spray && w.p.Bodies[drawn.Body].Regulated == 0 && h.Nozzle > mistFrom+roundPSI {
			if planned, ok := plannedAt(w.p, h.ID); ok && planned.nozzle <= mistFrom { // else the plan says so itself
				mist = append(mist, h)
			}
		}
	}
	var found []plan.Finding
	if low := by[Starved]; len(low) > 0 {
		found = append(found, w.starved(z, low))
	} else if float64(z.Spread) > spreadMost+0.005 {
		least, most := ends(w.unregulated(z.Heads))
		text := fmt.Sprintf("In %s %s has %s and %s has %s: %s of what the zone is planned at lies between them.", w.p.ZoneName(z.ID),
			w.p.HeadName(least.ID), w.sys.Pressure(least.Nozzle), w.p.HeadName(most.ID), w.sys.Pressure(most.Nozzle), w.sys.Percent(z.Spread))
		found = append(found, w.aboutHeads(plan.PressureSpread, text, z, []Head{least, most}).Measured("share", float64(z.Spread)))
	}
	switch high := by[High]; {
	case len(mist) > 0:
		_, most := ends(mist)
		text := fmt.Sprintf("%s of %s %s at up to %s with nothing to regulate it.", plan.Capital(w.names(mist)), w.p.ZoneName(z.ID), plan.Choose(len(mist), "runs", "run"), w.sys.Pressure(most.Nozzle))
		found = append(found, w.aboutHeads(plan.SprayMisting, text, z, mist).Measured("pressure_psi", float64(most.Nozzle)))
	case len(high) > 0:
		_, most := ends(high)
		text := fmt.Sprintf("%s of %s %s at up to %s, above what %s table holds.", plan.Capital(w.names(high)), w.p.ZoneName(z.ID), plan.Choose(len(high), "runs", "run"),
			w.sys.Pressure(most.Nozzle), plan.Choose(len(high), "its", "their"))
		found = append(found, w.aboutHeads(plan.HeadsHigh, text, z, high).Measured("pressure_psi", float64(most.Nozzle)))
	}
	return found
}

// starved tells of heads under their table, and what takes their pressure: the climb
// or the supply with its devices where no larger pipe could bring it back, else the
// pipes.
func (w *water) starved(z *Zone, low []Head) plan.Finding {
	least, _ := ends(low)
	n := w.p.Nozzles[w.p.Heads[least.ID].Nozzle]
	begins, at := n.Rows[0].Pressure, w.net.HeadAt[least.ID]
	rise := riseTo(w, at)
	before := w.leftFor(z.ID, z.Flow) - loss(w.chain.swing, least.Flow) // at the head by pipe of no loss on level ground
	names, table := plan.Capital(w.names(low)), fmt.Sprintf("the table of %s begins at %s", w.p.NozzleName(w.p.Heads[least.ID].Nozzle), w.sys.Pressure(begins))
	text := fmt.Sprintf("%s of %s %s as little as %s, where %s.", names, w.p.ZoneName(z.ID), plan.Choose(len(low), "gets", "get"), w.sys.Pressure(least.Nozzle), table)
	code, do := plan.HeadsStarved, ""
	switch {
	case rise > 0 && before-rise < begins && before >= begins:
		code = plan.ClimbForgotten
		up := w.net.Nodes[at].Level - w.net.Nodes[w.net.Source].Level
		text = fmt.Sprintf("%s of %s %s %s above the connection, which takes %s and leaves as little as %s; %s.", names, w.p.ZoneName(z.ID),
			plan.Choose(len(low), "stands", "stand up to"), w.sys.Length(up), w.sys.Pressure(rise), w.sys.Pressure(least.Nozzle), table)
	case before < begins:
		text = fmt.Sprintf("%s The supply and the devices on the way leave no more than %s, whatever the pipe.", text, w.sys.Pressure(max(before, 0)))
		do = "No larger pipe cures this: fewer heads on the valve, nozzles made for less pressure, devices that take less, or a pump that boosts the supply."
	}
	f := w.aboutHeads(code, text, z, low).Measured("pressure_psi", float64(least.Nozzle))
	if do != "" {
		f.Do = do
	}
	return f
}

func (w *water) aboutHeads(code, text string, z *Zone, heads []Head) plan.Finding {
	var about []plan.Ref
	for _, h := range heads {
		about = append(about, plan.RefTo("heads", h.ID))
	}
	return plan.Found(code, text, append(about, plan.RefTo("zones", z.ID))...).Looking(w.p.MiddleOf(about))
}

func (w *water) names(heads []Head) string {
	ids := make([]plan.ID, len(heads))
	for i, h := range heads {
		ids[i] = h.ID
	}
	return w.p.HeadNames(ids)
}

func (w *water) unregulated(heads []Head) []Head {
	return slices.DeleteFunc(slices.Clone(heads), func(h Head) bool { return w.p.Bodies[w.p.Heads[h.ID].Body].Regulated > 0 })
}

// ends are the heads of least and of most pressure, the first by id of equal ones.
func ends(heads []Head) (least, most Head) {
	least, most = heads[0], heads[0]
	for _, h := range heads[1:] {
		if h.Nozzle < least.Nozzle {
			least = h
		}
		if h.Nozzle > most.Nozzle {
			most = h
		}
	}
	return least, most
}
