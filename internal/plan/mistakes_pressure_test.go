package plan_test

import (
	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// pressureMistakes are drawn with the supply and the pipes of pipedYard.
var pressureMistakes = []mistake{
	{17, "flow-by-container", pipedYard(supplied(byContainer)), pipedYard()},
	{17, "readings-crossed", pipedYard(readings(50, 52)), pipedYard()},
	{19, "water-too-fast", pipedYard(thinLaterals), pipedYard()},
	{20, "heads-starved", pipedYard(readings(25, 19)), pipedYard()},
	{21, "misting-as-it-runs", pipedYard(bodies("body-4")), pipedYard()},
	{21, "heads-over-table", pipedYard(bodies("body-4"), asStreams), pipedYard(bodies("body-4"), asStreams, readings(48, 40))},
	{22, "pressures-apart", pipedYard(bodies("body-4"), readings(48, 40), roundabout), pipedYard(bodies("body-4"), readings(48, 40))},
	{23, "climb-forgotten", pipedYard(uphill(62)), pipedYard(uphill(0))},
	{24, "double-check", pipedYard(device("backflow-dc-1")), pipedYard(device("backflow-rp-1"))},
	{24, "breaker-pushed-back", pipedYard(pushedBack("pump")), pipedYard(pushedBack("pump"), device("backflow-rp-1"))},
	{24, "fertilizer-by-breaker", pipedYard(injecting), pipedYard(injecting, device("backflow-rp-1"))},
	{24, "taps-after-device", pipedYard(supplied(func(s *plan.Supply) { s.TapsAfter = true })), pipedYard()},
	{25, "breaker-low", pipedYard(breakerAt(0.75)), pipedYard(breakerAt(1))},
	{26, "atmospheric-in-main", pipedYard(device("backflow-avb-1")), pipedYard()},
	{27, "no-isolation", pipedYard(supplied(func(s *plan.Supply) { s.Isolation = "" })), pipedYard()},
	{31, "no-drain", pipedYard(freeze("manual_drain")), pipedYard(freeze("blow_out"))},
	{31, "frost-not-said", pipedYard(freeze("")), pipedYard(freeze("none"))},
}

func supplied(f func(*plan.Supply)) func(*sketch) { return func(s *sketch) { f(&s.Supply) } }

// byContainer is a flow known by a container only.
func byContainer(s *plan.Supply) {
	s.FlowGPM, s.ResidualPSI, s.TimedGal, s.TimedS = 0, 0, 5, 18
}

func readings(static, residual units.PSI) func(*sketch) {
	return supplied(func(s *plan.Supply) { s.StaticPSI, s.ResidualPSI = static, residual })
}

func freeze(how string) func(*sketch) { return supplied(func(s *plan.Supply) { s.Freeze = how }) }

func pushedBack(by string) func(*sketch) {
	return supplied(func(s *plan.Supply) { s.PushBack = by })
}

func injecting(s *sketch) { s.Supply.Injection = true }

func breakerAt(height float64) func(*sketch) {
	return supplied(func(s *plan.Supply) { s.BackflowHeightFt = feet(height) })
}

// device makes another device stand between the yard and the drinking water.
func device(id plan.ID) func(*sketch) {
	return func(s *sketch) { s.Supply.BackflowDevice = s.device(id) }
}

// bodies gives all heads another body.
func bodies(id plan.ID) func(*sketch) {
	return func(s *sketch) {
		b, ok := catalog.FindBody(string(id))
		if !ok {
			panic("no body " + id)
		}
		s.Bodies[id] = b
		for h := range s.Heads {
			s.reset(h, func(v *plan.Head) { v.Body = id })
		}
	}
}

// asStreams makes the nozzles ones that do not mist.
func asStreams(s *sketch) {
	for id, n := range s.Nozzles {
		n.Family = catalog.Stream
		s.Nozzles[id] = n
	}
}

// thinLaterals lays all laterals in 1/2 in.
func thinLaterals(s *sketch) {
	for id, p := range s.Pipes {
		if p.Zone != "" {
			s.repipe(id, func(p *plan.Pipe) { p.Class, p.NominalIn = "pvc-class315", 0.5 })
		}
	}
}

// roundabout leads the pipe to the far row round by the west, in 1/2 in from there.
func roundabout(s *sketch) {
	for _, id := range []plan.ID{"p07", "p08", "p09", "p10"} {
		s.repipe(id, func(p *plan.Pipe) { p.Class, p.NominalIn = "pvc-class315", 0.5 })
	}
	s.repipe("p07", func(p *plan.Pipe) { p.Via = geom.Line(corners(-90, -2, -90, 15)) })
}

// uphill lifts the lawn and the valve above the connection. A reduced-pressure
// device needs no height.
func uphill(rise units.Feet) func(*sketch) {
	return func(s *sketch) {
		device("backflow-rp-1")(s)
		s.Elevations = map[plan.ID]plan.Elevation{}
		for i, e := range []plan.Elevation{{X: 0, Y: -12}, {X: 30, Y: -12}, {X: 0, Y: -4, Z: rise}, {X: 30, Y: -4, Z: rise}, {X: 0, Y: 20, Z: rise}, {X: 30, Y: 20, Z: rise}} {
			s.Elevations[plan.ID([]string{"e1", "e2", "e3", "e4", "e5", "e6"}[i])] = e
		}
	}
}
