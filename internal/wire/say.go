package wire

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// metresPerKm and feetPerKft turn ohms to 1,000 ft into ohms to a kilometre.
const ohmsPerKm = 1 / units.MetresPerFoot

// length prints the length of a wire: whole feet, or metres to the tenth.
func length(sys units.System, l units.Feet) string {
	if sys == units.Metric {
		return fmt.Sprintf("%.1f m", l.Metres())
	}
	return fmt.Sprintf("%.0f ft", float64(l))
}

// Length prints the length of a wire as the lists have it.
func Length(sys units.System, l units.Feet) string { return length(sys, l) }

// ohms prints resistances to a length, summed in brackets.
func ohms(sys units.System, each ...float64) string {
	unit := "Ω to 1,000 ft"
	if sys == units.Metric {
		unit = "Ω to 1 km"
	}
	var terms []string
	for _, r := range each {
		if sys == units.Metric {
			r *= ohmsPerKm
		}
		terms = append(terms, fmt.Sprintf("%.2f", r))
	}
	if len(terms) == 1 {
		return terms[0] + " " + unit
	}
	return "(" + strings.Join(terms, " + ") + ") " + unit
}

// sum is how the volts at a valve are reckoned, in words and figures.
func (w *work) sum(r *Run, v load) string {
	sys := w.p.Show
	rh, rc := Resistance(r.Hot, w.celsius), Resistance(r.Common, w.celsius)
	s := fmt.Sprintf("%s V at the controller less %s A × %s × %s", figure(w.volts, 2), figure(w.inrush, 3), length(sys, v.length), ohms(sys, rh, rc))
	if v.beside > 0 {
		s += fmt.Sprintf(" and less %s A × %s of the common × %s for what opens with it", figure(w.inrush, 3), length(sys, v.beside), ohms(sys, rc))
	}
	if v.detour > 0 {
		s += fmt.Sprintf(" and less %s A × %s × %s for the common's way round by a box", figure(w.inrush, 3), length(sys, v.detour), ohms(sys, rc))
	}
	s += fmt.Sprintf(" leaves %.1f V at the valve as it opens, %.2f V being lost; %s V are the least.", r.Volts, r.Drop, figure(w.least, 2))
	if r.Most < mostFeet {
		s += fmt.Sprintf(" These sizes, %s and a common of %s, reach %s.", GaugeName(sys, r.Hot), GaugeName(sys, r.Common), length(sys, r.Most))
	}
	return s + fmt.Sprintf(" Copper at %s °C.", figure(w.celsius, 0))
}

// say puts the wiring into one line.
func (w *work) say() {
	var lost int
	for _, r := range w.Runs {
		if r.New && !r.Known {
			lost++
		}
	}
	switch {
	case len(w.Runs) == 0 && len(w.Sensors) == 0:
		w.Says = "No valve is placed that wire could lead to."
	case len(w.paths) == 0 && lost == 0:
		w.Says = "No wire is to be laid."
	case len(w.paths) > 0:
		w.Says = w.laidLine()
	}
	if lost > 0 {
		w.Says = strings.TrimSpace(fmt.Sprintf("%s No way is drawn for the wire of %s yet.", sentence(w.Says), plan.Plural(lost, "valve", "valves")))
	}
}

// sentence ends a line that another sentence follows.
func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// laidLine is what is laid: "18 AWG direct-burial, 8 conductors, 210 ft".
func (w *work) laidLine() string {
	sys := w.p.Show
	far := w.Lines[0]
	hots := map[int]int{}
	for _, p := range w.paths {
		hots[w.run(p.to).Hot]++
	}
	var each []string
	for _, g := range Gauges() {
		if n := hots[g.AWG]; n > 0 && len(hots) == 1 {
			each = append(each, GaugeName(sys, g.AWG))
		} else if n > 0 {
			each = append(each, fmt.Sprintf("%s to %s", GaugeName(sys, g.AWG), plan.Plural(n, "valve", "valves")))
		}
	}
	size := plan.Series(each)
	if len(hots) > 1 || w.Common != w.run(w.paths[0].to).Hot {
		size += fmt.Sprintf(" with a common of %s", GaugeName(sys, w.Common))
	}
	most := 0
	for _, s := range w.Stretches {
		most = max(most, s.Conductors)
	}
	if w.Cable == Single {
		return fmt.Sprintf("%s direct-burial, %d conductors at most, %s to the farthest box", size, max(most, len(w.paths)+1+w.Spares), length(sys, w.groups[0].paths[0].length))
	}
	sold := make([]string, 0, len(far.Sold))
	for _, n := range far.Sold {
		sold = append(sold, fmt.Sprint(n))
	}
	line := fmt.Sprintf("%s direct-burial, %s conductors, %s", size, strings.Join(sold, " + "), length(sys, far.Length))
	if more := w.Lines[1:]; len(more) > 0 {
		var total units.Feet
		kinds := map[int]bool{}
		for _, l := range more {
			total += l.Length
			for _, n := range l.Sold {
				kinds[n] = true
			}
		}
		var names []string
		for _, n := range jackets {
			if kinds[n] {
				names = append(names, fmt.Sprint(n))
			}
		}
		line += fmt.Sprintf(", and %s of %s conductors, %s", plan.Plural(len(more), "branch", "branches"), plan.Series(names), length(sys, total))
	}
	return line
}

// Named is what a run leads to as sentences say it: zone 3 (Side lawn), the master
// valve, the rain sensor.
func Named(p *plan.Plan, to plan.Ref) string {
	collection, id := to.Split()
	switch collection {
	case "zones":
		return p.ZoneName(id)
	case "sensors":
		return "the " + p.Sensors[id].Kind + " sensor"
	}
	return "the master valve"
}

// names lists what runs lead to, by station.
func (w *Wiring) names(p *plan.Plan, refs []plan.Ref) string {
	var out []string
	for _, r := range w.Runs {
		if slices.Contains(refs, r.To) {
			out = append(out, Named(p, r.To))
		}
	}
	return plan.Several(out)
}
