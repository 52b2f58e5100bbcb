package pressure

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/hydraulics"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The codes of the limits, and what else may set the design flow.
const (
	MeterShare      = "meter_share"
	MeterLoss       = "meter_loss"
	ServiceVelocity = "service_velocity"
	OnCurve         = "curve"
	OnPump          = "pump"
	Override        = "override"
	Assumed         = "assumed"
)

const (
	// meterShare is the part of a meter's safe flow that is drawn for long.
	meterShare = 0.75
	// meterLossShare is the part of the static pressure the meter may take.
	meterLossShare = 0.10
	// plasticFPS and metalFPS are the greatest velocities in a service line by what
	// it is made of (common practice: 5 ft/s in plastic, 7 to 7.5 in copper and steel).
	plasticFPS units.FeetPerSecond = 5
	metalFPS   units.FeetPerSecond = 7.5
)

// limits are the named reasons for a least flow, in the order of the water's way.
func (s *supply) limits() []Limit {
	var out []Limit
	_, _, metered := s.p.Meter()
	if kind := s.p.Supply.Kind; kind.IsZero() || kind == plan.Reclaimed || metered {
		out = append(out, s.meterShare(), s.meterLoss())
	}
	if len(s.p.Supply.Pump) == 0 {
		out = append(out, s.serviceVelocity())
	}
	out = append(out, s.onCurve())
	for i := range out {
		s.lessHouse(&out[i])
	}
	return out
}

// lessHouse takes what the house draws at the same time off a limit of what comes
// through the shared pipe.
func (s *supply) lessHouse(l *Limit) {
	house := s.p.Supply.HouseGPM
	if house <= 0 || l.Missing != "" || l.Code == OnCurve || l.Code == OnPump { // the curve has it taken off
		return
	}
	l.Flow = max(l.Flow-house, 0)
	l.Says += fmt.Sprintf(", less %s that the house draws meanwhile", s.sys.Flow(house))
}

func (s *supply) meterShare() Limit {
	l := Limit{Code: MeterShare, Title: "Meter: three quarters of its safe flow",
		Rule:   "A meter is asked for at most 75 % of its safe flow for long.",
		Source: "Common practice; safe flows of displacement meters: AWWA standard pressure loss table, as the end of each column"}
	_, m, ok := s.p.Meter()
	switch {
	case !ok:
		l.Missing = "The size of the meter is not given: it is cast in its lid or body."
	case m.MostGPM <= 0:
		l.Missing = "The row of the meter does not give its safe flow."
	default:
		l.Flow = units.GPM(meterShare * float64(m.MostGPM))
		l.Says = fmt.Sprintf("75 %% of %s, the safe flow of the meter (%s)", s.sys.Flow(m.MostGPM), catalog.NameIn(s.sys, m.Name))
	}
	return l
}

func (s *supply) meterLoss() Limit {
	l := Limit{Code: MeterLoss, Title: "Meter: a tenth of the static pressure",
		Rule:   "The meter takes at most 10 % of the static pressure.",
		Source: "Common practice, from memory; losses: AWWA standard pressure loss of displacement meters"}
	_, m, ok := s.p.Meter()
	switch {
	case !ok:
		l.Missing = "The size of the meter is not given: it is cast in its lid or body."
	case s.static <= 0:
		l.Missing = "The static pressure is not measured."
	default:
		most := units.PSI(meterLossShare * float64(s.static))
		l.Flow = flowAtLoss(m, most)
		l.Says = fmt.Sprintf("at %s the meter takes %s, 10 %% of %s", s.sys.Flow(l.Flow), s.sys.Pressure(most), s.sys.Pressure(s.static))
	}
	return l
}

// flowAtLoss is the flow at which a device takes so much, at most its safe flow.
func flowAtLoss(d catalog.Device, loss units.PSI) units.GPM {
	law, err := curveOf(d)
	if err != nil {
		return 0
	}
	q := hydraulics.FlowAt(hydraulics.After{Supply: hydraulics.Fixed(loss), Laws: []hydraulics.Law{law}}, 0)
	if d.MostGPM > 0 {
		q = min(q, d.MostGPM)
	}
	return q
}

func (s *supply) serviceVelocity() Limit {
	l := Limit{Code: ServiceVelocity, Title: "Service line: velocity",
		Rule:   plan.FixedWords(s.sys, "Water moves at most {5 ft/s} in a plastic service line, and {7.5 ft/s} in one of copper or steel, unless the plan says otherwise."),
		Source: "Plastic: Ohio State University Extension Bulletin 912; metal services: common practice, from memory"}
	v := s.p.Supply
	class, size, ok := s.p.ServicePipe()
	switch {
	case class.Name == "" && v.ServiceMaterial != "":
		l.Missing = fmt.Sprintf("No class of pipe is known for a service line of “%s”; choose its class.", v.ServiceMaterial)
		return l
	case class.Name == "":
		l.Missing = "What the service line is made of is not given."
		return l
	case v.ServiceIn <= 0:
		l.Missing = "The size of the service line is not given."
		return l
	case !ok:
		l.Missing = fmt.Sprintf("%s has no row for %s; choose another size or class for the service line.", catalog.NameIn(s.sys, class.Name), s.sys.PipeSize(v.ServiceIn))
		return l
	}
	usual := MostVelocity(class)
	most := usual
	if v.ServiceFPS > 0 {
		most = v.ServiceFPS
	}
	l.Flow = hydraulics.FlowAtVelocity(most, size.Inside)
	l.Says = fmt.Sprintf("%s in %s of %s, %s inside", s.sys.Velocity(most), s.sys.PipeSize(v.ServiceIn), catalog.NameIn(s.sys, class.Name), inside(s.sys, size.Inside))
	if most != usual {
		l.Says += fmt.Sprintf("; %s at the %s usual in %s", s.sys.Flow(hydraulics.FlowAtVelocity(usual, size.Inside)), s.sys.Velocity(usual), class.Material)
	}
	if usual == metalFPS && most == usual {
		l.Says += fmt.Sprintf("; %s at the %s of plastic", s.sys.Flow(hydraulics.FlowAtVelocity(plasticFPS, size.Inside)), s.sys.Velocity(plasticFPS))
	}
	return l
}

// inside prints an inside diameter to the thousandth of an inch.
func inside(sys units.System, d units.Inches) string {
	if sys == units.Metric {
		return fmt.Sprintf("%.1f mm", d.Millimetres())
	}
	return fmt.Sprintf("%.3f in", float64(d))
}

// MostVelocity is the greatest velocity in pipe of a class by what it is made of.
func MostVelocity(class catalog.PipeClass) units.FeetPerSecond {
	if class.Material == catalog.Copper || class.Material == catalog.Steel {
		return metalFPS
	}
	return plasticFPS
}

// onCurve is the flow the measured curve, or the pump's, still gives at the
// pressure that the zone valves need before them.
func (s *supply) onCurve() Limit {
	l := Limit{Code: OnCurve, Title: "Supply: flow at the pressure needed",
		Rule:   "A flow counts only at the pressure that the heads need, never at an open pipe.",
		Source: "Flow and residual taken together, as hydrants are tested (NFPA 291); " + commonPractice}
	if s.curve.kind == pumped {
		l.Code, l.Title, l.Source = OnPump, "Pump: flow at the pressure needed", "The pump's own curve, as given in the plan"
	}
	need, from := s.needed()
	left := hydraulics.After{Supply: s.curve.source, Laws: s.chain.beforeLaterals()}
	rest, _ := left.Pressure(0)
	switch kind := s.curve.kind; {
	case kind == unknown && (s.p.Supply.Kind == plan.Well || s.p.Supply.Kind == plan.Pond):
		l.Missing = "The pump's curve is not given, and no flow was measured with the pressure left."
		return l
	case kind == unknown:
		l.Missing = "Flow and the pressure left while it runs were not measured."
		return l
	case kind == rough:
		l.Missing = fmt.Sprintf("A container was filled at %s, at no pressure: that is one rough point of the curve and no limit. Measure again with a gauge on a second tap.", s.sys.Flow(s.open))
		return l
	case kind == level && s.p.Supply.Measured && tooLittle(left, s.curve.ends, need):
		l.Missing = fmt.Sprintf("At %s there were %s left, and %s are needed before the zone valves (%s); what a lesser flow leaves is not known until the static pressure is measured.",
			s.sys.Flow(s.flow), s.sys.Pressure(s.residual), s.sys.Pressure(need), from)
		return l
	case kind == level:
		l.Flow = max(s.curve.ends, 0)
		l.Says = fmt.Sprintf("%s at %s, %s; the static pressure is not known, so nothing is read between", s.sys.Flow(s.curve.ends), s.sys.Pressure(s.residual), measuredOrAssumed(s.p))
		return l
	case rest < need:
		l.Says = fmt.Sprintf("even with nothing running there are %s before the zone valves, and %s are needed: %s", s.sys.Pressure(rest), s.sys.Pressure(need), from)
		return l
	}
	l.Flow = min(hydraulics.FlowAt(left, need), s.curve.ends)
	l.Says = fmt.Sprintf("%s before the zone valves: %s", s.sys.Pressure(need), from)
	if s.p.Supply.HouseGPM > 0 {
		l.Says += fmt.Sprintf(", with %s drawn by the house", s.sys.Flow(s.p.Supply.HouseGPM))
	}
	if s.p.Supply.MeasuredWhere == "outside_tap" {
		l.Says += ", as measured at an outside tap: pipe between it and the connection is not told apart"
	}
	if l.Flow == s.curve.ends {
		l.Says += fmt.Sprintf("; past %s the curve is not known", s.sys.Flow(s.curve.ends))
	}
	return l
}

// tooLittle reports whether a supply has, at a flow, well under the pressure needed:
// so much that heads would be told of as low.
func tooLittle(s hydraulics.Source, at units.GPM, need units.PSI) bool {
	p, _ := s.Pressure(at)
	return p < lowShare*need
}

func measuredOrAssumed(p *plan.Plan) string {
	if p.Supply.Measured {
		return "as measured"
	}
	return "assumed"
}

// valveAndLateral is the pressure kept for the zone valve and all behind it where
// the plan does not say what is needed before the valve, in psi. Chosen.
const valveAndLateral units.PSI = 5

// needed is the pressure wanted before the zone valves, and how it came about: that of
// the head which wants most with its climb from the connection.
func (s *supply) needed() (units.PSI, string) {
	if s.p.Supply.NeededPSI > 0 {
		return s.p.Supply.NeededPSI, "as the plan says"
	}
	climb := s.climbs()
	most, up, whose := units.PSI(0), units.PSI(0), plan.ID("")
	for _, id := range plan.SortedIDs(s.p.Heads) {
		if h := s.p.Heads[id]; h.Status.Stands() {
			if w, ok := PlannedAt(s.p, id); ok && w.Inlet+climb(h) > most+up {
				most, up, whose = w.Inlet, climb(h), id
			}
		}
	}
	if most == 0 {
		return assumedPSI, "no head says yet what it needs"
	}
	from := fmt.Sprintf("%s at the most demanding head (%s), ", s.sys.Pressure(most), s.p.HeadTag(whose))
	if up > roundPSI {
		from += s.sys.Pressure(up) + " to climb to it, "
	}
	from += fmt.Sprintf("and %s for valve and lateral", s.sys.Pressure(valveAndLateral))
	if len(s.chain.breaker) > 0 {
		from += ", beside what the breaker behind the valve takes"
	}
	return most + up + valveAndLateral, from
}

// climbs tells what the ground's rise from the connection takes from a head; nothing
// where it falls, or where the connection has no place yet.
func (s *supply) climbs() func(plan.Head) units.PSI {
	at := s.p.Supply.Connection
	for _, id := range plan.SortedIDs(s.p.Nodes) {
		if n := s.p.Nodes[id]; at == nil && n.Kind == "connection" && n.Status.Stands() {
			spot := n.Spot()
			at = &spot
		}
	}
	if at == nil || len(s.p.Elevations) < 2 {
		return func(plan.Head) units.PSI { return 0 }
	}
	ground := s.p.Relief()
	own, _ := ground.Height(point(*at))
	return func(h plan.Head) units.PSI {
		z, _ := ground.Height(point(plan.Spot{X: h.X, Y: h.Y}))
		return max(hydraulics.Rise(units.Feet(z-own)), 0)
	}
}
