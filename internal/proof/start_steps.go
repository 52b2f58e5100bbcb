package proof

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The names of the steps of a start-up, keys of plan.Proof.Checks.
const (
	StepShut     plan.ID = "shut"
	StepDevice   plan.ID = "device_shut"
	StepFill     plan.ID = "fill"
	StepAir      plan.ID = "air_out"
	StepHold     plan.ID = "hold"
	StepLaterals plan.ID = "laterals"
	StepFlush    plan.ID = "flush"
	StepNozzles  plan.ID = "nozzles"
	StepWires    plan.ID = "wires"
	StepRun      plan.ID = "run"
	StepTester   plan.ID = "backflow_test"
	StepRecord   plan.ID = "record"
)

// avbAbove is how far an atmospheric breaker stands above what it feeds: 6 in (trade.md 25).
const avbAbove units.Feet = 0.5

// mostRest is the pressure at rest above which a regulator is put in: common plumbing
// practice, from memory (trade.md B2).
const mostRest units.PSI = 80

// startJob is what a start-up goes by.
type startJob struct {
	p                                *plan.Plan
	pumped, metered, inLine, breaker bool
	fresh                            bool // there is new pipe, so that trenches are open
	device                           catalog.Device
	chosen                           bool
}

func startJobOf(p *plan.Plan) startJob {
	k := p.Supply.Kind
	own := k == plan.Well || k == plan.Pond
	y := startJob{p: p, pumped: own || len(p.Supply.Pump) > 0}
	_, y.device, y.chosen = p.BackflowDevice()
	y.breaker = y.chosen && y.device.Backflow == catalog.AtmosphericBreaker
	y.inLine = y.chosen && !y.breaker || !y.chosen && (p.Supply.Backflow != "" || k.Drunk())
	_, _, meter := p.Meter()
	y.metered = meter || p.Supply.MeterIn > 0 || !own // a pump on town water stands behind the meter
	y.fresh = len(p.Pipes) == 0
	for _, v := range p.Pipes {
		y.fresh = y.fresh || v.Status.IsNew()
	}
	return y
}

// steps are the start-up in order (trade.md E17, B16): everything shut, filled slowly,
// air out, held at pressure before cover, flushed, nozzles, each zone run, the device
// tested by who is licensed. Common practice, from memory, where no row is named.
func steps(p *plan.Plan) []Step {
	y := startJobOf(p)
	list := []Step{y.shut()}
	if y.inLine {
		list = append(list, Step{ID: StepDevice, Title: "Close the backflow device",
			How: "All test cocks closed, both shut-offs of the device closed. Test cocks are for the tester: they let no air out of the main."})
	}
	list = append(list, y.fill(), y.air(), y.hold(), y.laterals(), y.flush(),
		Step{ID: StepNozzles, Title: "Nozzles in and set",
			How: "Screens and nozzles in from the valve outward. Then head by head on the walk: left edge, arc, throw, top flush with grade and plumb." + y.setSoFar()},
		Step{ID: StepWires, Title: "Find the wires",
			How:     "With the controller unplugged read the resistance of each wire to the common, then run each station: does the zone open that the plan says?",
			Caution: "Only the low-voltage side, and unplugged before a terminal is touched. A controller wired to the mains is a licensed electrician's work."},
		y.run())
	switch {
	case y.breaker:
		list = append(list, Step{ID: StepTester, Title: "Breakers looked at",
			How:     "An atmospheric breaker has no test cocks. Who inspects plumbing there looks at each: upright, after its zone valve with no valve behind it, " + p.Show.Length(avbAbove) + " above the highest outlet of its zone or more, never under pressure for more than 12 hours in 24.",
			Caution: "It keeps the drinking water clean: local code and a licensed plumber or tester decide, and nobody else changes it."})
	case y.inLine:
		list = append(list, Step{ID: StepTester, Title: "Backflow device tested",
			How:     "By a licensed tester before the system is used, and every year after. Keep the report; send it where local code asks.",
			Caution: "Nobody else takes the device apart, adjusts or removes it: it keeps the drinking water clean."})
	}
	list = append(list, Step{ID: StepRecord, Title: "Program in, record drawn",
		How: "Key in the program of the month, set clock and date. Note what stands elsewhere than drawn, with distances from fixed corners."})
	for i := range list {
		s := &list[i]
		done, ok := p.Proof.Checks[s.ID]
		if ok {
			s.Done = &done
		}
		if on := p.Site.BackflowTestedOn; s.ID == StepTester && on > done.On { // civil dates sort as texts
			s.Done = &plan.StepDone{On: on}
		}
	}
	return list
}

func (y startJob) shut() Step {
	s := Step{ID: StepShut, Title: "Everything shut",
		How: "The system's shut-off closed, every zone valve closed with its bleed, drains and blow-out port closed, the controller off. Read and note the pressure at rest, at a tap before the system, no water running. Over " +
			y.p.Show.Pressure(mostRest) + " a regulator comes first."}
	if y.pumped {
		s.How = "The pump off at its disconnect and the valve behind the tank closed, every zone valve closed with its bleed, drains and blow-out port closed, the controller off."
		s.Caution = "Pump and pressure switch are on the mains: what is behind their covers is an electrician's."
	}
	return s
}

func (y startJob) fill() Step {
	s := Step{ID: StepFill, Title: "Fill slowly", Caution: "Fast filling drives air ahead of the water and breaks joints. Eye protection on; nobody stands over a joint."}
	from := "Open the shut-off at the connection, "
	switch {
	case y.pumped && y.inLine:
		from = "Switch the pump on with the valve behind the tank nearly shut, open that a little at a time, "
	case y.pumped:
		s.How = "Switch the pump on with the valve behind the tank nearly shut; open it a quarter turn at a time until no more water is heard."
		return s
	}
	switch {
	case !y.inLine:
		s.How = "Open the shut-off at the connection slowly, a quarter turn at a time, until no more water is heard."
	case y.device.Backflow == catalog.ReducedPressure:
		s.How = from + "then the INLET of the device slowly. The relief opening may spit; wait until it stops. Then the OUTLET slowly."
	case y.device.Backflow == catalog.DoubleCheck:
		s.How = from + "then the INLET of the device slowly until it is full. Then the OUTLET slowly."
	default:
		s.How = from + "then the INLET of the device slowly until the breaker seats and stops spitting. Then the OUTLET slowly."
	}
	return s
}

func (y startJob) air() Step {
	at := "the bleed of the highest and farthest zone valve"
	if id := FarthestValve(y.p); id != "" {
		at += ", by this plan that of " + y.p.ZoneName(id)
	}
	return Step{ID: StepAir, Title: "Air out of the main", How: "Open " + at + ", until water runs without spitting, and close it. No test cock is opened for this."}
}

func (y startJob) hold() Step {
	s := Step{ID: StepHold, Title: "Hold the main at pressure",
		Caution: "Test with water alone, never with air: a pipe that bursts with air throws splinters."}
	watch := "Nothing drips and the dial of the meter stands still, no water used in the house."
	if !y.metered {
		watch = "Pump off and the valve to the tank closed: nothing drips and the gauge stands still."
	}
	if y.fresh {
		s.How = "Before anything is covered, and after the cement of the joints has cured as its can says: the pressure at rest for one to two hours. " + watch + " What drips is cut out, made anew and tested again."
	} else {
		s.How = "All zone valves closed, the pressure at rest for a quarter of an hour, longer where you can. " + watch + " Soft or wet ground over the main tells as well."
	}
	return s
}

func (y startJob) laterals() Step {
	s := Step{ID: StepLaterals, Title: "Laterals, zone by zone"}
	if y.fresh {
		s.How = "Cap the risers but those at the ends. Once the cement has cured open the zone valve slowly by its bleed until water alone comes there, close it, cap these too, open it again, look at every joint under pressure, close it."
	} else {
		s.How = "Open each zone valve slowly by its bleed and walk the zone: drips, wet ground, heads that do not rise or lean."
	}
	return s
}

func (y startJob) flush() Step {
	how := "Nozzles out. Zone by zone open the valve slowly by its bleed and let it run until every riser is clear, those at the ends of the lines last. Note the date with the zone."
	if !y.fresh {
		how = "Where heads throw short or in streaks, or pipe was opened: take the nozzles of that zone out and let it run until every riser is clear, those at the ends last."
	}
	if _, _, ok := y.p.Filter(); ok {
		how += " Then, with the water shut off, clean the filter at the supply."
	}
	how += y.soFar("Flushed", func(z plan.Zone) bool {
		return anyRun(z, func(v plan.ZoneRun) bool { return v.Flushed != "" })
	})
	return Step{ID: StepFlush, Title: "Flush, ends last", How: how}
}

func (y startJob) run() Step {
	s := Step{ID: StepRun, Title: "Run each zone and measure"}
	flow := "time the volume named with the zone at the meter, no other water running"
	if y.p.Show != units.Metric {
		flow += " (a dial of cubic feet: 7.48 gal each)"
	}
	if !y.metered {
		flow = "there is no meter on this plan, so time a bucket: a hose slipped over a nozzle, at two or three heads of the zone, times their number"
	}
	s.How = "One zone at a time. Once its heads are up: the pressure at the head named, with a gauge teed in under its nozzle or a pitot held in a rotor's stream; " + flow + ". Look for drips, soft ground, water on walks; heads go down when it stops."
	s.How += y.soFar("Run", func(z plan.Zone) bool { return anyRun(z, measuredAny) })
	return s
}

// soFar counts the zones of which something is done; "" where of none.
func (y startJob) soFar(what string, is func(plan.Zone) bool) string {
	done, all := 0, zonesInOrder(y.p)
	for _, id := range all {
		if is(y.p.Zones[id]) {
			done++
		}
	}
	if done == 0 {
		return ""
	}
	return fmt.Sprintf(" %s so far: %d of %s.", what, done, plan.Plural(len(all), "zone", "zones"))
}

// anyRun reports whether a run of a zone is of some kind.
func anyRun(z plan.Zone, is func(plan.ZoneRun) bool) bool {
	for _, v := range z.Runs { // any one: order does not matter
		if is(v) {
			return true
		}
	}
	return false
}

// measuredAny reports whether a run has a figure.
func measuredAny(v plan.ZoneRun) bool {
	q, _ := flowOf(v)
	return q > 0 || v.RunningPSI > 0
}

// setSoFar counts the heads that are set; "" where none is.
func (y startJob) setSoFar() string {
	done, all := 0, 0
	for _, h := range y.p.Heads { // counted: order does not matter
		if h.Status.Stands() {
			all++
			if h.State != nil && h.State.SetOn != "" {
				done++
			}
		}
	}
	if done == 0 {
		return ""
	}
	return fmt.Sprintf(" Set so far: %d of %s.", done, plan.Plural(all, "head", "heads"))
}

// FarthestValve is the zone valve that air goes to when the main is filled: the highest
// by the ground's heights, of those as high the farthest from the connection; "" where
// no valve has a place.
func FarthestValve(p *plan.Plan) plan.ID {
	ground := p.Relief()
	from := orb.Point{}
	if c := p.Supply.Connection; c != nil {
		from = orb.Point{float64(c.X), float64(c.Y)}
	}
	best, high, far := plan.ID(""), 0.0, 0.0
	for _, id := range zonesInOrder(p) {
		z := p.Zones[id]
		if z.ValveAt == nil {
			continue
		}
		at := orb.Point{float64(z.ValveAt.X), float64(z.ValveAt.Y)}
		level, _ := ground.Height(at)
		dx, dy := at[0]-from[0], at[1]-from[1]
		away := dx*dx + dy*dy
		if best == "" || level > high+0.05 || level > high-0.05 && away > far {
			best, high, far = id, level, away
		}
	}
	return best
}
