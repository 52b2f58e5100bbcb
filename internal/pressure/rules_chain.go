package pressure

import (
	"fmt"
	"math"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// piped reports whether a main is drawn: until then nothing is said of what
// should stand in it.
func (w *water) piped() bool { return w.net.Source != "" && len(w.net.Pipes) > 0 }

const (
	// breakerAbove and atmosphericAbove are how far the critical level of a breaker
	// stands above the highest outlet and all piping behind it, in feet: 12 in and
	// 6 in, 30 TAC 344.50 (Texas).
	breakerAbove     units.Feet = 1
	atmosphericAbove units.Feet = 0.5
)

// Breaker is how high the critical level of a vacuum breaker must stand above its
// own ground.
type Breaker struct {
	Need    units.Feet // above the ground at the device
	Above   units.Feet // of the highest outlet, as the rule has it
	Ground  units.Feet // level at the device
	Highest plan.ID    // head that decides it
	Level   units.Feet // of the ground there
	At      plan.Spot  // the device
}

// BreakerHeight is the height a plan's breakers need: of one in the main above all
// heads, of atmospheric ones the greatest above the heads of their own zone; and as
// much above their own ground, where the pipe behind them lies. False when the device
// is no breaker, has no place or there is no head.
func BreakerHeight(p *plan.Plan) (Breaker, bool) {
	_, d, ok := p.BackflowDevice()
	if !ok {
		return Breaker{}, false
	}
	ground := p.Relief()
	level := func(s plan.Spot) units.Feet { z, _ := ground.Height(point(s)); return units.Feet(z) }
	best, found := Breaker{Need: units.Feet(math.Inf(-1))}, false
	all, byZone := standingHeads(p)
	look := func(at *plan.Spot, above units.Feet, heads []plan.ID) {
		if at == nil {
			return
		}
		own := level(*at)
		for _, id := range heads {
			h := p.Heads[id]
			z := level(plan.Spot{X: h.X, Y: h.Y})
			if need := z + above - own; need > best.Need+1e-9 {
				best, found = Breaker{need, above, own, id, z, *at}, true
			}
		}
	}
	switch d.Backflow {
	case catalog.PressureBreaker, catalog.SpillResistantBreaker:
		look(p.Supply.BackflowAt, breakerAbove, all)
	case catalog.AtmosphericBreaker:
		for _, z := range plan.SortedIDs(p.Zones) {
			if p.Zones[z].Status.Stands() {
				look(p.Zones[z].ValveAt, atmosphericAbove, byZone[z])
			}
		}
	}
	best.Need = max(best.Need, best.Above) // the pipe that leaves it lies at its own ground
	return best, found
}

// roundFt is what printing a height to the sixteenth of an inch may round away.
const roundFt units.Feet = 1.0 / 192

// TooLow reports whether a backflow device stands lower than it must.
func TooLow(has, need units.Feet) bool { return has < need-roundFt }

// unsaidFt is how much higher than a breaker's own ground a head must stand before its
// height is asked for: on level ground whoever sets it knows it by heart. Chosen.
const unsaidFt units.Feet = 0.25

// backflow finds a device of a kind to ask about, too low or at a wrong place.
func (w *water) backflow() []plan.Finding {
	_, d, ok := w.p.BackflowDevice()
	if !ok {
		return nil
	}
	var found []plan.Finding
	name := catalog.NameIn(w.sys, d.Name)
	if d.Backflow == catalog.DoubleCheck && w.p.Supply.Kind.Drunk() && Unfit(w.p) == "" {
		found = append(found, w.looking(plan.Found(plan.BackflowDoubtful, fmt.Sprintf("The plan names a double check (%s) between the yard and the drinking water.", name), "supply")))
	}
	found = append(found, w.breaker()...)
	for _, id := range w.net.Order {
		n := w.net.Nodes[id]
		if w.p.Nodes[id].Kind != "backflow" {
			continue
		}
		text := ""
		switch atmospheric := d.Backflow == catalog.AtmosphericBreaker; {
		case atmospheric && !n.Valved:
			text = fmt.Sprintf("An atmospheric breaker (%s) is drawn in the main, before the zone valves, where it always stands under pressure.", name)
		case !atmospheric && n.Valved:
			text = fmt.Sprintf("The %s is drawn behind the valve of %s, so that the main and the other zones are not guarded.", name, w.p.ZoneName(n.Zone))
		default:
			continue
		}
		found = append(found, plan.Found(plan.BreakerMisplaced, text, "supply", plan.RefTo("nodes", id)).Looking(point(w.p.Nodes[id].Spot())))
		break
	}
	return found
}

// breaker finds a vacuum breaker that stands too low for its heads, or higher ground
// at one whose height is not given.
func (w *water) breaker() []plan.Finding {
	b, ok := BreakerHeight(w.p)
	if !ok {
		return nil
	}
	low := func(text string) plan.Finding {
		return plan.Found(plan.BreakerLow, text, "supply", plan.RefTo("heads", b.Highest)).Looking(point(b.At)).Measured("needs_ft", float64(b.Need))
	}
	switch given := w.p.Supply.BackflowHeightFt; {
	case given == nil && b.Need > b.Above+unsaidFt:
		f := low(fmt.Sprintf("The plan does not say how high the breaker stands: its critical level needs %s above its own ground, since %s stands higher than it.",
			w.sys.Length(b.Need), w.p.HeadName(b.Highest))).Ranked(plan.Notice)
		f.Title = "Height of the breaker not given"
		return []plan.Finding{f}
	case given != nil && TooLow(*given, b.Need):
		over := "the ground of " + w.p.HeadName(b.Highest) + ", the highest"
		if b.Level <= b.Ground {
			over = "the pipe that leaves it"
		}
		return []plan.Finding{low(fmt.Sprintf("The critical level of the breaker stands %s above its ground, and %s is needed there: %s above %s.",
			w.sys.Length(*given), w.sys.Length(b.Need), w.sys.Inches(b.Above.Inches()), over))}
	}
	return nil
}

// shutting finds a main that nothing shuts: neither the valve chosen for the supply,
// nor one by hand that is drawn in the main.
func (w *water) shutting() []plan.Finding {
	_, _, shut := w.p.Isolation()
	for id, n := range w.net.Nodes {
		v := w.p.Nodes[id]
		shut = shut || v.Kind == "valve" && v.Zone == "" && v.Status.Stands() && !n.Valved && n.Up != ""
	}
	if shut || !w.piped() {
		return nil
	}
	return []plan.Finding{plan.Found(plan.NoIsolation, "Between the point of connection and the zone valves the plan has no valve to shut the system off.", "supply").
		Looking(point(w.p.Nodes[w.net.Source].Spot()))}
}

// coldFrom is the latitude from which frost in the ground is taken as sure, in
// degrees. Chosen; hills and coasts differ, so that it only makes a note of what
// the plan leaves open into something to mend.
const coldFrom = 38.0

// frost finds a system with nothing planned against it.
func (w *water) frost() []plan.Finding {
	if !w.piped() {
		return nil
	}
	latitude := w.p.Site.Latitude
	cold := latitude != nil && math.Abs(*latitude) >= coldFrom
	drains := false
	for _, n := range w.p.Nodes {
		drains = drains || n.Kind == "drain" && n.Status.Stands()
	}
	f := plan.Found(plan.FreezeUnready, "", "supply").Looking(point(w.p.Nodes[w.net.Source].Spot()))
	switch freeze := w.p.Supply.Freeze; {
	case freeze == "" && !cold:
		f.Title = "Freezing not settled yet"
		f.Sentence, f.Rank = "The plan does not say how the pipes are kept from freezing.", plan.Notice
	case freeze == "":
		f.Sentence = fmt.Sprintf("The plan does not say how the pipes are kept from freezing, and the yard lies at %.0f° of latitude.", math.Abs(*latitude))
	case freeze == "none" && cold:
		f.Sentence = fmt.Sprintf("Nothing is planned against frost, and the yard lies at %.0f° of latitude.", math.Abs(*latitude))
	case (freeze == "manual_drain" || freeze == "automatic_drain") && !drains:
		f.Sentence = fmt.Sprintf("The pipes are to be emptied by %s, and no drain is drawn.", map[string]string{"manual_drain": "hand", "automatic_drain": "drains that open by themselves"}[freeze])
		f.Title, f.Do = "Drains are missing", "Draw a drain at each low point of main and laterals, and let the pipe fall towards it."
	default:
		return nil
	}
	return []plan.Finding{f}
}
