package pressure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/hydraulics"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// riseTo is the pressure lost by the ground's rise from the connection to a node.
func riseTo(w *water, node plan.ID) units.PSI {
	return hydraulics.Rise(w.net.Nodes[node].Level - w.net.Nodes[w.net.Source].Level)
}

// printed rounds a pressure as it is printed in the plan's units, so that the
// differences of two printed ones are what the reader works out.
func printed(sys units.System, p units.PSI) units.PSI {
	if sys == units.Metric {
		return units.PSI(math.Round(p.Bar()*100) / 100 / units.BarPerPSI)
	}
	return units.PSI(math.Round(float64(p)*10) / 10)
}

// ledger is a budget being written: the pressure left after each row.
type ledger struct {
	sys   units.System
	left  units.PSI
	along units.Feet
	steps []Step
}

// take writes a row that takes so much.
func (l *ledger) take(loss units.PSI, s Step) {
	l.left -= loss
	s.Left, s.Along = printed(l.sys, l.left), l.along
	if n := len(l.steps); n > 0 {
		s.Loss = printed(l.sys, l.steps[n-1].Left-s.Left)
	}
	if s.About == nil {
		s.About = []plan.Ref{}
	}
	l.steps = append(l.steps, s)
}

// stretch is the pipe between two devices of the way.
type stretch struct {
	friction units.PSI
	length   units.Feet
	about    []plan.Ref
	says     []string // fittings
	sizes    []length // one after another
}

// length is pipe of one size that carries one flow.
type length struct {
	feet units.Feet
	of   string
}

// add puts a length behind the others, into the last where it is like it.
func (s *stretch) add(l length) {
	if n := len(s.sizes); n > 0 && s.sizes[n-1].of == l.of {
		s.sizes[n-1].feet += l.feet
		return
	}
	s.sizes = append(s.sizes, l)
}

// words say the lengths: "34 ft of 1-1/4 in at 12.2 gpm".
func (s *stretch) words(p *plan.Plan) string {
	out := make([]string, len(s.sizes))
	for i, l := range s.sizes {
		out[i] = p.About(l.feet) + " of " + l.of
	}
	return plan.Several(out)
}

// budget follows the water from the street to a head. Its rows are in the order
// of the water's way; the ground's rise stands in one row, before the laterals,
// and all fittings in one behind them.
func (w *water) budget(m *model, state *hydraulics.State, o outlet) []Step {
	l := &ledger{sys: w.sys}
	l.left = w.curve.rest
	l.take(0, Step{Code: "static", Name: "Static pressure", Says: w.restSays(),
		Rule: "The design stands on the lowest pressure of the year with nothing running.", Source: commonPractice, About: []plan.Ref{"supply"}})
	total := -state.Out[0]
	running, _ := w.curve.source.Pressure(total)
	l.take(w.curve.rest-running, Step{Code: "supply", Name: "Supply", Says: w.supplySays(total), Rule: "What meter and service take by themselves, as measured: flow and the pressure left, taken together.",
		Source: "NFPA 291, in the form by which hydrants are reckoned; " + commonPractice, About: []plan.Ref{"supply"}})

	var fittings stretch
	var pipe stretch
	main := true
	flush := func() {
		if pipe.length == 0 {
			return
		}
		l.along += pipe.length
		code, name := "main", "Main"
		if !main {
			code, name = "lateral", "Lateral"
		}
		l.take(pipe.friction, Step{Code: code, Name: name, Says: pipe.words(w.p), About: pipe.about,
			Rule: "Friction by Hazen and Williams with the pipe's own inside diameter.", Source: "EPANET 2.2 user manual, chapter 3"})
		pipe = stretch{}
	}
	up := w.way(m, o)
	for _, p := range up {
		q := state.Flow[p.link]
		switch {
		case p.pipe != nil:
			lost := hydraulics.Friction(p.pipe.Length, p.pipe.Size.Inside, p.pipe.Class.C, q)
			pipe.friction, pipe.length = pipe.friction+lost, pipe.length+p.pipe.Length
			pipe.about = append(pipe.about, plan.RefTo("pipes", p.pipe.ID))
			pipe.add(length{p.pipe.Length, w.sys.PipeSize(p.pipe.Size.Nominal) + " at " + w.sys.Flow(units.GPM(math.Abs(float64(q))))})
			fittings.friction += hydraulics.Minor(p.pipe.Size.Inside, velocityHeads(*p.pipe), q)
			if len(p.pipe.Fittings) > 0 {
				fittings.about = append(fittings.about, plan.RefTo("pipes", p.pipe.ID))
			}
			for _, f := range p.pipe.Fittings {
				fittings.says = append(fittings.says, string(f.Kind))
			}
		case p.head != "":
			flush()
			w.closeFittings(l, fittings)
			lost, _ := p.device.law.Loss(q)
			l.take(lost, w.deviceStep(*p.device, q, plan.RefTo("heads", o.id)))
		default:
			flush()
			ref := plan.Ref("supply")
			if p.zone != "" {
				ref = plan.RefTo("zones", p.zone)
			}
			lost, _ := p.device.law.Loss(q)
			l.take(lost, w.deviceStep(*p.device, q, ref))
			behind := p.device.code == "valve" && len(w.chain.breaker) == 0 || p.device.code == "breaker"
			if behind && main { // once, also where a valve stands behind another zone's
				main = false
				w.rise(l, o)
			}
		}
	}
	inlet := state.Pressure[o.node]
	if nozzle := o.atNozzle(inlet); o.regulated.Setting > 0 && inlet > nozzle {
		l.take(inlet-nozzle, Step{Code: "regulator", Name: "Regulating body", Says: fmt.Sprintf("set to %s", w.sys.Pressure(o.regulated.Setting)),
			Rule: "A regulating body holds its nozzle at its setting.", Source: commonPractice + "; 1 % of what is over gets through, chosen", About: []plan.Ref{plan.RefTo("heads", o.id)}})
	}
	return l.steps
}

// way is the links from the source to a head.
func (w *water) way(m *model, o outlet) []piece {
	var out []piece
	for at := o.node; at != 0; {
		p := m.above[at]
		out = append(out, p)
		at = p.from
	}
	slices.Reverse(out)
	return out
}

func (w *water) rise(l *ledger, o outlet) {
	at := w.net.HeadAt[o.id]
	up := w.net.Nodes[at].Level - w.net.Nodes[w.net.Source].Level
	if math.Abs(float64(up)) < 0.005 {
		return
	}
	says := w.sys.Length(units.Feet(math.Abs(float64(up)))) + " up from the connection"
	if up < 0 {
		says = strings.Replace(says, " up ", " down ", 1)
	}
	l.take(hydraulics.Rise(up), Step{Code: "rise", Name: "Rise of the ground", Says: says,
		Rule: plan.FixedWords(w.sys, "Each {1 ft} up takes {0.433 psi}; each down gives it back."), Source: "Ohio State University Extension Bulletin 912; constant as EPANET 2.2 has it",
		About: []plan.Ref{plan.RefTo("heads", o.id)}})
}

func (w *water) closeFittings(l *ledger, f stretch) {
	if len(f.says) == 0 {
		return
	}
	count := map[string]int{}
	var kinds []string
	for _, k := range f.says {
		if count[k] == 0 {
			kinds = append(kinds, k)
		}
		count[k]++
	}
	for i, k := range kinds {
		kinds[i] = fmt.Sprintf("%d × %s", count[k], strings.ReplaceAll(k, "_", " "))
	}
	l.take(f.friction, Step{Code: "fittings", Name: "Fittings", Says: plan.Several(kinds), About: f.about,
		Rule: "Each fitting takes so many velocity heads, K·v²/2g.", Source: "EPANET 2.2 user manual, chapter 3, minor loss coefficients"})
}

var deviceNames = map[string]string{
	"meter": "Meter", "service": "Service line", "isolation": "Isolation valve", "backflow": "Backflow device", "breaker": "Atmospheric breaker",
	"filter": "Filter", "master_valve": "Master valve", "valve": "Zone valve", "swing_joint": "Riser and body",
}

func (w *water) deviceStep(d device, q units.GPM, about plan.Ref) Step {
	return Step{Code: d.code, Name: deviceNames[d.code], Says: fmt.Sprintf("%s at %s", d.name, w.sys.Flow(q)),
		Rule: "What a device takes follows its own loss curve.", Source: d.row.Source, Unsure: d.row.Replace, About: []plan.Ref{about}}
}

func (w *water) restSays() string {
	switch {
	case behindRegulator(w.p.Supply) && (w.static == 0 || w.p.Supply.RegulatorPSI < w.static):
		return fmt.Sprintf("held by the regulator at %s", w.sys.Pressure(w.p.Supply.RegulatorPSI))
	case w.curve.kind == pumped:
		return "the pump with nothing running"
	case w.static > 0:
		return w.staticSays
	case w.curve.kind == level:
		return fmt.Sprintf("not measured: taken as the %s left at %s", w.sys.Pressure(w.residual), w.sys.Flow(w.flow))
	}
	return "assumed until it is measured"
}

func (w *water) supplySays(q units.GPM) string {
	at := "at " + w.sys.Flow(q)
	if house := w.p.Supply.HouseGPM; house > 0 {
		at += " and " + w.sys.Flow(house) + " in the house"
	}
	behind := ""
	if len(w.inCurve) > 0 {
		names := make([]string, len(w.inCurve))
		for i, d := range w.inCurve {
			names[i] = d.name
		}
		behind = ", less what is taken by " + plan.Several(names)
	}
	if behindRegulator(w.p.Supply) {
		behind += fmt.Sprintf(", and no more than the regulator's %s, whose own falling off with the flow is not known", w.sys.Pressure(w.p.Supply.RegulatorPSI))
	}
	switch w.curve.kind {
	case tested:
		left, were := w.static-w.drop, "were"
		if math.Abs(float64(left-w.residual)) > float64(roundPSI) { // on the day of the lowest reading
			were = "would be"
		}
		return fmt.Sprintf("%s: %s %s left at %s%s", at, w.sys.Pressure(left), were, w.sys.Flow(w.flow), behind)
	case pumped:
		return at + " by the pump's curve" + behind
	case level:
		return fmt.Sprintf("%s: %s taken as level up to %s%s", at, w.sys.Pressure(w.residual), w.sys.Flow(w.flow), behind)
	case rough:
		return fmt.Sprintf("%s, by one rough point: %s into an open container%s", at, w.sys.Flow(w.open), behind)
	}
	return at + ", assumed until it is measured" + behind
}
