package pressure

import (
	"fmt"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// mistFrom is the pressure above which a spray that nothing regulates mists
	// (common practice).
	mistFrom units.PSI = 40
	// MostSpread is how far apart the pressures may lie of a zone's heads that are not held at a setting,
	// over its nominal pressure (Merkley and Allen, Utah State University, lecture 7).
	MostSpread units.Ratio = 0.20
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
			if planned, ok := PlannedAt(w.p, h.ID); ok && planned.Nozzle <= mistFrom { // else the plan says so itself
				mist = append(mist, h)
			}
		}
	}
	var found []plan.Finding
	if low := by[Starved]; len(low) > 0 {
		found = append(found, w.starved(z, low))
	} else if z.Spread > MostSpread+0.005 {
		least, most := ends(w.unregulated(z.Heads))
		text := fmt.Sprintf("In %s %s has %s and %s has %s: %s of what the zone is planned at lies between them.", w.p.ZoneName(z.ID),
			w.p.HeadName(least.ID), w.sys.Pressure(least.Nozzle), w.p.HeadName(most.ID), w.sys.Pressure(most.Nozzle), w.sys.Percent(z.Spread))
		found = append(found, w.aboutHeads(plan.PressureSpread, text, z, []Head{least, most}).Measured("share", float64(z.Spread)))
	}
	if low := by[Low]; len(low) > 0 && len(by[Starved]) == 0 && w.p.Supply.Measured {
		found = append(found, w.under(z, low))
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

// under tells of heads that run within their table, but well under the pressure the
// plan draws them at.
func (w *water) under(z *Zone, low []Head) plan.Finding {
	least, _ := ends(low)
	planned, _ := PlannedAt(w.p, least.ID)
	text := fmt.Sprintf("%s of %s %s as little as %s, where %s is planned.", plan.Capital(w.names(low)), w.p.ZoneName(z.ID), plan.Choose(len(low), "gets", "get"),
		w.sys.Pressure(least.Nozzle), w.sys.Pressure(planned.Nozzle))
	f := w.aboutHeads(plan.HeadsStarved, text, z, low).Ranked(plan.Notice).Measured("pressure_psi", float64(least.Nozzle))
	f.Title = "Heads under their planned pressure"
	f.Why = "They throw shorter than they are drawn, and give less; how the ground fares shows with the map as the zones run."
	f.Do = "Look at the map as the zones run. Where it falls short: larger pipe, fewer heads on the valve, or a lower pressure planned for the zone."
	f.Source = "A tenth under the planned pressure taken as told: " + commonPractice
	return f
}

// climbShare is how much of what supply and devices take a climb must take to be
// told as what starves its heads. Chosen.
const climbShare = 0.5

// starved tells of heads under their table, and what takes their pressure: the climb
// or the supply with its devices where no larger pipe could bring it back, else the
// pipes.
func (w *water) starved(z *Zone, low []Head) plan.Finding {
	least, _ := ends(low)
	n := w.p.Nozzles[w.p.Heads[least.ID].Nozzle]
	begins, at := n.Rows[0].Pressure, w.net.HeadAt[least.ID]
	rise := riseTo(w, at)
	before := w.leftFor(z.ID, z.Flow) - loss(w.chain.swing[w.p.Heads[least.ID].Body], least.Flow) // at the head by pipe of no loss on level ground
	names, table := plan.Capital(w.names(low)), fmt.Sprintf("the table of %s begins at %s", w.p.NozzleName(w.p.Heads[least.ID].Nozzle), w.sys.Pressure(begins))
	text := fmt.Sprintf("%s of %s %s as little as %s, where %s.", names, w.p.ZoneName(z.ID), plan.Choose(len(low), "gets", "get"), w.sys.Pressure(least.Nozzle), table)
	code, do := plan.HeadsStarved, ""
	switch {
	case before-rise < begins && before >= begins && rise >= climbShare*(w.curve.rest-before):
		code = plan.ClimbForgotten
		up := w.net.Nodes[at].Level - w.net.Nodes[w.net.Source].Level
		text = fmt.Sprintf("%s of %s %s %s above the connection, which takes %s and leaves as little as %s; %s.", names, w.p.ZoneName(z.ID),
			plan.Choose(len(low), "stands", "stand up to"), w.sys.Length(up), w.sys.Pressure(rise), w.sys.Pressure(least.Nozzle), table)
	case before-max(rise, 0) < begins:
		what := "The supply and the devices on the way"
		if rise > roundPSI {
			what = "The supply, the devices on the way and the climb"
		}
		text = fmt.Sprintf("%s %s leave no more than %s, whatever the pipe.", text, what, w.sys.Pressure(max(before-max(rise, 0), 0)))
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
	return slices.DeleteFunc(slices.Clone(heads), func(h Head) bool { return held(w.p.Bodies[w.p.Heads[h.ID].Body].Regulated, h.Inlet) })
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
