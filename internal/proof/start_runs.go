package proof

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// held is a run with what it is held against.
type held struct {
	readings
	flowOff, psiOff, staticOff float64 // from the drawn prediction; in gpm, psi, psi
	flowKnown, psiKnown        bool
	at                         string // where the pressure was read, in words
}

// hold puts a run beside its prediction.
func (w *watch) hold(zone plan.ID, v plan.ZoneRun) held {
	q := w.before[zone]
	h := held{}
	sd := predictSD
	if w.d.Pressure.Supply.Assumed {
		sd = assumedSD
	}
	flow, measured := flowOf(v)
	h.drawn, h.at, h.tap = w.stateAt(v, q)
	h.want = h.drawn
	h.atHead = v.PSIAt == "" || v.PSIAt == "head"
	if v.StaticPSI > 0 && q.Static > 0 {
		h.staticKnown, h.staticOff = true, float64(v.StaticPSI-q.Static)
		h.static = h.staticOff / (float64(gaugePSI) / 2 * math.Sqrt2) // two readings of gauges
		if math.Abs(h.static) > within {
			if day, ok := w.onStatic(zone, v.StaticPSI); ok {
				day.Static = v.StaticPSI
				h.want, _, _ = w.stateAt(v, day)
				h.solvedAnew = true
			}
		}
	}
	h.heads, h.others = float64(max(len(q.Heads), 1)), w.otherFlows(zone)
	h.flowSD = math.Hypot(measured*float64(flow), sd*h.drawn.flow)
	h.psiSD = math.Hypot(float64(gaugePSI)/2, psiPredictSD*h.drawn.pressure*sd/predictSD)
	if flow > 0 && q.Flow > 0 {
		h.flowKnown, h.flow, h.flowOff = true, float64(flow), float64(flow-q.Flow)
	}
	if v.RunningPSI > 0 && h.drawn.pressure > 0 {
		h.psiKnown, h.pressure, h.psiOff = true, float64(v.RunningPSI), float64(v.RunningPSI)-h.drawn.pressure
	}
	return h
}

// stateAt is what is predicted where a run's pressure was read; its pressure is 0 where
// that is not known.
func (w *watch) stateAt(v plan.ZoneRun, q Predicted) (s state, at string, tap bool) {
	s = state{flow: float64(q.Flow), rest: float64(q.Static)}
	switch v.PSIAt {
	case "valve":
		s.pressure, at = float64(q.Valve), "behind the valve"
	case "tap":
		s.pressure, at, tap = float64(q.Tap), "at the tap", true
	default:
		at = "at a head that is not in the zone any more"
		head := cmp.Or(v.AtHead, q.Head)
		for _, h := range q.Heads {
			if h.Head == head {
				s.pressure, at = float64(h.Pressure), "at "+w.p.HeadTag(head)
			}
		}
	}
	if s.rest <= s.pressure {
		s.rest = unknownRest * s.pressure
	}
	return s, at, tap
}

// unknownRest is the pressure at rest over that of a running head where nothing is known
// of the supply. Chosen.
const unknownRest = 1.3

// otherFlows are the flows predicted of the other zones, by id.
func (w *watch) otherFlows(zone plan.ID) []float64 {
	var out []float64
	for _, id := range plan.SortedIDs(w.before) {
		if q := w.before[id].Flow; id != zone && q > 0 {
			out = append(out, float64(q))
		}
	}
	return out
}

// onStatic predicts a solved zone on another pressure at rest: the curve of the supply is
// moved by the difference, as a measured one is by the day's.
func (w *watch) onStatic(zone plan.ID, static units.PSI) (Predicted, bool) {
	s := w.p.Supply
	if !w.before[zone].Solved || len(s.Pump) > 0 || s.StaticPSI <= 0 || s.FlowGPM <= 0 || s.ResidualPSI <= 0 {
		return Predicted{}, false
	}
	if hasRegulator(w.p) && static >= s.RegulatorPSI {
		return Predicted{}, false
	}
	q := *w.p
	q.Supply.Statics = nil
	q.Supply.ResidualPSI = static - (s.StaticPSI - s.ResidualPSI)
	q.Supply.StaticPSI = static
	if q.Supply.ResidualPSI <= 0 {
		return Predicted{}, false
	}
	z := pressure.Check(&q, w.d.Pipework, zone)
	if len(z) != 1 || !z[0].Solved {
		return Predicted{}, false
	}
	return predictedBy(z[0]), true
}

// sign is which way a run is off what is predicted on that day's pressure at rest.
func (h held) sign() sign { return h.against(h.want) }

// against is which way a run is off a prediction.
func (h held) against(q state) sign {
	s := sign{known: h.flowKnown || h.psiKnown}
	if h.flowKnown {
		s.flow = side(h.flow-q.flow, within*h.flowSD)
	}
	if h.psiKnown {
		s.pressure = side(h.pressure-q.pressure, within*h.psiSD)
	}
	return s
}

func side(off, room float64) int {
	switch {
	case off > room:
		return 1
	case off < -room:
		return -1
	}
	return 0
}

// besides is the run of a zone that one of another zone is compared with: of an old system
// before it was mended or not, as that was; of the same day, else the last before it, else
// the first after it.
func besides(z plan.Zone, v plan.ZoneRun) (id plan.ID, found bool) {
	for _, r := range plan.SortedIDs(z.Runs) {
		w := z.Runs[r]
		if (w.When == "before") != (v.When == "before") {
			continue
		}
		best := z.Runs[id]
		switch { // civil dates sort as texts
		case !found, w.On <= v.On && (best.On > v.On || w.On >= best.On), w.On > v.On && best.On > v.On && w.On < best.On:
			id, found = r, true
		}
	}
	return id, found
}

// signOf is which way a run that stands in the plan is off.
func (w *watch) signOf(zone, id plan.ID) sign {
	at := runKey{zone, id}
	s, ok := w.signs[at]
	if !ok {
		s = w.hold(zone, w.p.Zones[zone].Runs[id]).sign()
		w.signs[at] = s
	}
	return s
}

// shareOf is whether other zones are off as this one is in a run.
func (w *watch) shareOf(zone plan.ID, v plan.ZoneRun, s sign) share {
	same, others := 0, 0
	for _, id := range zonesInOrder(w.p) {
		r, found := besides(w.p.Zones[id], v)
		if id == zone || !found {
			continue
		}
		if o := w.signOf(id, r); o.known {
			others++
			if s.alike(o) {
				same++
			}
		}
	}
	switch {
	case others == 0:
		return unasked
	case 3*same >= 2*others:
		return everyZone
	case 3*same <= others:
		return alone
	}
	return withOther
}

// run is one run beside what was predicted, with what a difference most likely means.
func (w *watch) run(zone, id plan.ID, v plan.ZoneRun) Run {
	out := Run{ID: id, Run: v}
	out.Flow, _ = flowOf(v)
	h := w.hold(zone, v)
	s, drawn := h.sign(), h.against(h.drawn)
	h.share = w.shareOf(zone, v, s)
	out.Known = s.known
	// The plan stands on the least pressure at rest that is known: less is told of, more
	// only where it is more than was ever read and shows.
	strange := h.staticKnown && (h.static < -within || h.static > within && v.StaticPSI > w.highest+gaugePSI && !drawn.none())
	out.Good = s.known && s.none() && !strange
	strained := false
	if s.known && !out.Good {
		if !s.none() || !h.solvedAnew { // else the supply of that day explains it
			r := w.responds(zone)
			h.behind, h.before = w.curveAt(r.behind, v, h.want), w.curveAt(r.before, v, h.want)
		}
		out.Likely, strained = likely(w.p, h.readings)
		for i := range out.Likely {
			w.word(zone, h, &out.Likely[i])
		}
	}
	out.Says = w.says(zone, v, out, h)
	if out.Good && !drawn.none() {
		out.Says += "; all as the pressure at rest of that day makes it"
	}
	if strained {
		out.Says += "; no one cause explains this well: read it again, or look for two"
	}
	return out
}

// says is a run in a sentence: "8.1 gpm, 12 % under; 31 psi at 3-7, 8 psi under".
func (w *watch) says(zone plan.ID, v plan.ZoneRun, r Run, h held) string {
	sys := w.p.Show
	var say []string
	if r.Flow > 0 {
		text := sys.Flow(r.Flow)
		if h.flowKnown {
			text += ", " + beside(h.flowOff, within*h.flowSD, fmt.Sprintf("%.0f %%", 100*math.Abs(h.flowOff)/h.drawn.flow))
		}
		say = append(say, text)
	}
	if v.RunningPSI > 0 {
		text := sys.Pressure(v.RunningPSI) + " " + h.at
		if h.psiKnown {
			text += ", " + beside(h.psiOff, within*h.psiSD, sys.Pressure(units.PSI(math.Abs(h.psiOff))))
		}
		say = append(say, text)
	}
	if v.StaticPSI > 0 {
		text := sys.Pressure(v.StaticPSI) + " at rest"
		if h.staticKnown {
			text += ", " + beside(h.staticOff, within*float64(gaugePSI)/2*math.Sqrt2, sys.Pressure(units.PSI(math.Abs(h.staticOff))))
		}
		say = append(say, text)
	}
	if len(say) == 0 {
		return "Nothing measured yet"
	}
	if !r.Known {
		say = append(say, "nothing to hold it against: "+w.unknownShort(zone))
	}
	return strings.Join(say, "; ")
}

func (w *watch) unknownShort(zone plan.ID) string {
	if w.before[zone].Flow <= 0 {
		return "nothing is predicted for this zone"
	}
	return "neither flow nor pressure where one is predicted"
}

func beside(off, room float64, by string) string {
	switch side(off, room) {
	case 1:
		return by + " over"
	case -1:
		return by + " under"
	}
	return "as predicted"
}
