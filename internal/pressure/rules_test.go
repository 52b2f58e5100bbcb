package pressure

import (
	"math"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// want holds the findings of a code to one of a rank that says all the words; none
// where the rank is "".
func (y yard) want(t *testing.T, code string, rank plan.Rank, words ...string) {
	t.Helper()
	_, found := Compute(y.Plan, pipework.Of(y.Plan))
	var of []plan.Finding
	for _, f := range found {
		if f.Code == code {
			of = append(of, f)
		}
	}
	switch {
	case rank == "" && len(of) > 0:
		t.Errorf("found %s: %s", code, of[0].Sentence)
	case rank != "" && (len(of) != 1 || of[0].Rank != rank):
		t.Errorf("found %+v, want one %s of rank %s among %+v", of, code, rank, found)
	case rank != "":
		for _, w := range words {
			if !strings.Contains(of[0].Sentence, w) {
				t.Errorf("%q does not say %q", of[0].Sentence, w)
			}
		}
	}
}

func TestZoneFlowAgainstTheDesignFlow(t *testing.T) {
	for _, c := range []struct {
		design units.GPM
		rank   plan.Rank
		words  string
	}{{8.5, "", ""}, {8.43, "", ""}, {8.4, plan.Mend, "leaves less than 5 %"}, {8, plan.Mend, ""}, {7.9, plan.Stop, "design flow is 7.90 gpm"}} { // four heads take 8
		y := straight(4)
		y.Supply.DesignFlowGPM = c.design
		y.want(t, plan.ZoneOverFlow, c.rank, c.words)
	}
	y := straight(4)
	y.Supply = plan.Supply{FlowGPM: 1}
	y.want(t, plan.ZoneOverFlow, "")
	y.Supply.ResidualPSI = 45
	y.want(t, plan.ZoneOverFlow, plan.Stop, "assumed design flow is 1.00 gpm")
	y = straight(4)
	y.Supply.MeterIn, y.Supply.ServiceMaterial, y.Supply.ServiceIn = 0.75, "PVC", 0.5
	y.want(t, plan.ZoneOverFlow, plan.Stop, "Service line: velocity")
}

func TestValveAgainstItsLeastFlow(t *testing.T) {
	y := straight(1)
	y.want(t, plan.LowValveFlow, plan.Notice, "under 3.00 gpm some valves do not close")
	z := y.Zones["z1"]
	z.Valve = "valve-1-low"
	y.Zones["z1"] = z
	y.want(t, plan.LowValveFlow, "")
	straight(2).want(t, plan.LowValveFlow, "")
	pump := straight(2)
	pump.Supply.PumpLeastGPM = 5
	pump.want(t, plan.LowValveFlow, plan.Mend, "asks for only 4.00 gpm of a pump that wants at least 5.00 gpm")
}

func TestMeterAgainstTheChosenFlow(t *testing.T) {
	for _, c := range []struct {
		supply plan.Supply
		rank   plan.Rank
		words  string
	}{
		{plan.Supply{DesignFlowGPM: 15, MeterIn: 0.625}, "", ""},
		{plan.Supply{DesignFlowGPM: 15.1, MeterIn: 0.625}, plan.Mend, "is made for 20.0 gpm: three quarters of that is 15.0 gpm"},
		{plan.Supply{DesignFlowGPM: 37.5, MeterIn: 1}, "", ""},
		{plan.Supply{DesignFlowGPM: 90, MeterIn: 0.875}, "", ""}, // a size that is not known
		{plan.Supply{DesignFlowGPM: 13, MeterIn: 0.75, HouseGPM: 10}, plan.Mend, "counts on 23.0 gpm"},
		{plan.Supply{DesignFlowGPM: 14, MeterIn: 0.625, StaticPSI: 60}, plan.Mend, "takes 7.2 psi, more than a tenth of the 60 psi"},
		{plan.Supply{MeterIn: 0.625, StaticPSI: 60}, "", ""}, // what is worked out keeps to the meter
	} {
		y := straight(2)
		y.Supply = c.supply
		y.want(t, plan.MeterOverdrawn, c.rank, c.words)
	}
}

func TestWaterTooFast(t *testing.T) {
	y := straight(4) // 8 gpm in 1 in Class 200 runs at 2.39 ft/s
	y.want(t, plan.VelocityHigh, "")
	y.pipeSize("p02", "pvc-class200", 0.75) // 3.95 ft/s
	y.want(t, plan.VelocityHigh, "")
	y.pipeSize("p02", "pvc-class315", 0.5) // 6.75 ft/s
	y.pipeSize("p03", "pvc-class315", 0.5) // 5.06 ft/s
	y.want(t, plan.VelocityHigh, plan.Mend, "8.00 gpm through 1/2 in of Class 315 PVC runs at 6.7 ft/s, where 5.0 ft/s is the most; 1 other pipe is")
	y.pipeSize("p03", "copper-l", 0.5) // 8.25 ft/s in copper
	y.pipeSize("p02", "pvc-class200", 1)
	y.want(t, plan.VelocityHigh, plan.Mend, "where 7.5 ft/s is the most")
}

func (y yard) pipeSize(id, class plan.ID, size units.Inches) {
	p := y.Pipes[id]
	p.Class, p.NominalIn = class, size
	y.Pipes[id] = p
}

// root is a nozzle that obeys the root of the pressure, q = best at 40 psi, in a
// table from 25 to 55 psi.
func (y yard) root(id plan.ID, family catalog.Family, best units.GPM) {
	n := catalog.Nozzle{Name: "Root", Family: family, ArcLeast: 1, ArcMost: 360, BestPSI: 40}
	for _, p := range []units.PSI{25, 40, 55} {
		n.Rows = append(n.Rows, catalog.Row{Pressure: p, Throw: 30, Flow: best * units.GPM(sqrt(float64(p)/40))})
	}
	y.Nozzles[id] = n
}

func TestPressuresOfAZone(t *testing.T) {
	y := straight(6)
	y.root("flat", catalog.Rotor, 2)
	for _, code := range []string{plan.HeadsStarved, plan.HeadsHigh, plan.PressureSpread, plan.ClimbForgotten, plan.SprayMisting} {
		y.want(t, code, "")
	}
	low := straight(6)
	low.root("flat", catalog.Rotor, 2)
	low.Supply.StaticPSI, low.Supply.ResidualPSI = 30, 25
	low.want(t, plan.HeadsStarved, plan.Stop, "where the table of Root begins at 25 psi")
	low.want(t, plan.ClimbForgotten, "")
	low.want(t, plan.PressureSpread, "")
	hill := straight(6)
	hill.root("flat", catalog.Rotor, 2)
	hill.Elevations["e1"], hill.Elevations["e2"] = plan.Elevation{}, plan.Elevation{X: 80, Z: 70}
	hill.want(t, plan.ClimbForgotten, plan.Stop, "above the connection, which takes", "the table of Root begins at 25 psi")
	hill.want(t, plan.HeadsStarved, "")
	weak := straight(6)
	weak.root("flat", catalog.Rotor, 2)
	weak.Supply.StaticPSI, weak.Supply.ResidualPSI = 27, 20
	weak.want(t, plan.HeadsStarved, plan.Stop, "The supply and the devices on the way leave no more than", "whatever the pipe")
	thin := straight(6) // two feet up, but half an inch of pipe takes the pressure
	thin.root("flat", catalog.Rotor, 2)
	thin.Elevations["e1"], thin.Elevations["e2"] = plan.Elevation{}, plan.Elevation{X: 80, Z: 2}
	thin.Supply.StaticPSI, thin.Supply.ResidualPSI, thin.Supply.NeededPSI = 42, 39, 20
	thin.pipeSize("p03", "pvc-sch40", 0.5)
	thin.pipeSize("p01", "pvc-sch40", 0.5)
	thin.pipeSize("p02", "pvc-sch40", 0.5)
	thin.want(t, plan.HeadsStarved, plan.Stop, "where the table of Root begins at 25 psi.")
	thin.want(t, plan.ClimbForgotten, "")
	high := straight(3)
	high.root("flat", catalog.Rotor, 2)
	high.Supply.StaticPSI, high.Supply.ResidualPSI = 75, 70
	high.want(t, plan.HeadsHigh, plan.Mend, "Heads h1, h2 and h3 of zone 1 (Row) run at up to", "above what their table holds")
	high.root("flat", catalog.Spray, 2)
	high.want(t, plan.HeadsHigh, "")
	high.want(t, plan.SprayMisting, plan.Notice, "with nothing to regulate it")
	high.Bodies["body"] = catalog.Body{Regulated: 30}
	high.want(t, plan.SprayMisting, "")
	long := straight(8)
	long.root("flat", catalog.Rotor, 2)
	for id, p := range long.Pipes {
		if p.Zone != "" {
			long.pipeSize(id, "pvc-class315", 0.5)
		}
	}
	long.want(t, plan.PressureSpread, plan.Mend, "head h8 has", "head h1 has", "lies between them")
}

func TestHeightOfABreaker(t *testing.T) {
	breaker := func(kind catalog.BackflowKind, height units.Feet) yard {
		y := straight(2)
		y.Elevations["e1"], y.Elevations["e2"] = plan.Elevation{}, plan.Elevation{X: 40, Z: 2} // the last head 2 ft up
		y.Devices["b"] = catalog.Device{Name: "Breaker", Kind: catalog.Backflow, Backflow: kind, Loss: []catalog.LossPoint{{Flow: 12, Loss: 3}}}
		z := y.Zones["z1"]
		z.ValveAt = &plan.Spot{X: 20}
		y.Zones["z1"] = z
		y.Supply.BackflowDevice, y.Supply.BackflowAt, y.Supply.BackflowHeightFt = "b", &plan.Spot{X: 5}, &height
		return y
	}
	breaker(catalog.PressureBreaker, 2.75).want(t, plan.BreakerLow, "") // 2 + 1 less its own 0.25
	breaker(catalog.PressureBreaker, 2.7).want(t, plan.BreakerLow, plan.Stop, `stands 2' 8 1/2" above its ground, and 2' 9" is needed there: 12" above the ground of head h2`)
	breaker(catalog.SpillResistantBreaker, 1).want(t, plan.BreakerLow, plan.Stop)
	breaker(catalog.ReducedPressure, 1).want(t, plan.BreakerLow, "")
	breaker(catalog.AtmosphericBreaker, 1.5).want(t, plan.BreakerLow, "") // at the valve, 1 ft up: 2 + 0.5 - 1
	breaker(catalog.AtmosphericBreaker, 1.4).want(t, plan.BreakerLow, plan.Stop, `6" above`)
}

func TestPlaceOfABreaker(t *testing.T) {
	with := func(device plan.ID, behindValve bool) yard {
		y := straight(2)
		y.Supply.BackflowDevice = device
		if behindValve {
			y.node("b", "backflow", "z1", 25, 0)
			y.repipe("p02", "v", "b")
			y.pipe("z1", "pvc-class200", 1, "b", "h1")
		} else {
			y.node("b", "backflow", "", 10, 0)
			y.repipe("p01", "c", "b")
			y.pipe("", "pvc-sch40", 1, "b", "v")
		}
		return y
	}
	with("backflow-avb-1", true).want(t, plan.BreakerMisplaced, "")
	with("backflow-avb-1", false).want(t, plan.BreakerMisplaced, plan.Stop, "drawn in the main, before the zone valves")
	with("backflow-pvb-1", false).want(t, plan.BreakerMisplaced, "")
	with("backflow-pvb-1", true).want(t, plan.BreakerMisplaced, plan.Stop, "behind the valve of zone 1 (Row)")
	with("backflow-dc-1", false).want(t, plan.BackflowDoubtful, plan.Notice, "names a double check")
	with("backflow-rp-1", false).want(t, plan.BackflowDoubtful, "")
}

// What pushes back, and what is put into the water, decides on the kind of device:
// International Plumbing Code 608, from memory.
func TestRow24_KindOfBackflowDeviceByWhatStandsAfterIt(t *testing.T) {
	with := func(device plan.ID, change func(*plan.Supply)) yard {
		y := straight(2)
		y.Supply.BackflowDevice = device
		change(&y.Supply)
		return y
	}
	pump := func(s *plan.Supply) { s.PushBack = "pump" }
	second := func(s *plan.Supply) { s.PushBack = "second_source" }
	injecting := func(s *plan.Supply) { s.Injection = true }
	both := func(s *plan.Supply) { s.PushBack, s.Injection = "pump", true }
	for _, breaker := range []plan.ID{"backflow-pvb-1", "backflow-svb-1", "backflow-avb-1"} {
		with(breaker, func(*plan.Supply) {}).want(t, plan.BackflowUnfit, "")
		with(breaker, pump).want(t, plan.BackflowUnfit, plan.Stop, "a booster pump after it can push water back")
		with(breaker, second).want(t, plan.BackflowUnfit, plan.Stop, "a second source of water after it")
		with(breaker, injecting).want(t, plan.BackflowUnfit, plan.Stop, "chemicals are put into the water")
		with(breaker, both).want(t, plan.BackflowUnfit, plan.Stop, "can push it back; the backflow device")
	}
	with("backflow-rp-1", both).want(t, plan.BackflowUnfit, "")
	with("backflow-dc-1", pump).want(t, plan.BackflowUnfit, "")
	with("backflow-dc-1", pump).want(t, plan.BackflowDoubtful, plan.Notice)
	with("backflow-dc-1", injecting).want(t, plan.BackflowUnfit, plan.Stop, "not made to keep them out")
	with("backflow-dc-1", injecting).want(t, plan.BackflowDoubtful, "") // one cause, told once
	with("", both).want(t, plan.BackflowUnfit, "")                      // plan.NoBackflow tells it
	with("", func(s *plan.Supply) { both(s); s.Backflow = "a brass one" }).want(t, plan.BackflowUnfit, plan.Mend, "not one chosen by its kind")
	with("backflow-pvb-1", func(s *plan.Supply) { both(s); s.Kind = plan.Pond }).want(t, plan.BackflowUnfit, "")
	with("backflow-pvb-1", func(s *plan.Supply) { both(s); s.Status = plan.Remove }).want(t, plan.BackflowUnfit, "")
}

// Nothing for drinking or hoses is taken off after the device.
func TestRow24_TapsAfterTheBackflowDevice(t *testing.T) {
	with := func(change func(*plan.Supply)) yard {
		y := straight(2)
		y.Supply.BackflowDevice, y.Supply.TapsAfter = "backflow-rp-1", true
		change(&y.Supply)
		return y
	}
	with(func(*plan.Supply) {}).want(t, plan.TapsAfterDevice, plan.Mend, "no longer safe to drink")
	with(func(s *plan.Supply) { s.Injection = true }).want(t, plan.TapsAfterDevice, plan.Stop, "fertilizer")
	with(func(s *plan.Supply) { s.Kind = plan.Reclaimed }).want(t, plan.TapsAfterDevice, plan.Stop, "reclaimed water")
	with(func(s *plan.Supply) { s.Kind = plan.Pond }).want(t, plan.TapsAfterDevice, "")
	with(func(s *plan.Supply) { s.TapsAfter = false }).want(t, plan.TapsAfterDevice, "")
}

func (y yard) repipe(id, from, to plan.ID) {
	p := y.Pipes[id]
	p.From, p.To = from, to
	y.Pipes[id] = p
}

func TestShuttingOffAndFrost(t *testing.T) {
	y := straight(2)
	y.want(t, plan.NoIsolation, plan.Mend, "no valve to shut the system off")
	y.want(t, plan.FreezeUnready, plan.Notice, "does not say how")
	north := 44.0
	y.Site.Latitude = &north
	y.want(t, plan.FreezeUnready, plan.Mend, "lies at 44° of latitude")
	y.Supply.Freeze = "none"
	y.want(t, plan.FreezeUnready, plan.Mend, "Nothing is planned against frost")
	south := 28.0
	y.Site.Latitude = &south
	y.want(t, plan.FreezeUnready, "")
	y.Supply.Isolation, y.Supply.Freeze = "isolation-ball-1", "manual_drain"
	y.want(t, plan.NoIsolation, "")
	y.want(t, plan.FreezeUnready, plan.Mend, "emptied by hand, and no drain is drawn")
	y.node("d", "drain", "", 5, 5)
	y.want(t, plan.FreezeUnready, "")
	y.Supply.Freeze = "blow_out"
	y.want(t, plan.FreezeUnready, "")
	bare := yard{plan.Empty("Bare", units.US)}
	for _, code := range []string{plan.NoIsolation, plan.FreezeUnready} { // nothing is said before a main is drawn
		bare.want(t, code, "")
	}
}

func sqrt(v float64) float64 { return math.Sqrt(v) }

// A supply that has not the pressure its heads need is told once, not zone by zone,
// and not beside the heads that starve by it.
func TestRow20_ASupplyWithoutThePressureNeededIsToldOnce(t *testing.T) {
	y := straight(3)
	y.root("flat", catalog.Rotor, 1)
	y.Supply.StaticPSI, y.Supply.ResidualPSI = 40, 35
	y.want(t, plan.HeadsStarved, plan.Mend, "Even with nothing running there are 40 psi before the zone valves, and 45 psi are needed: 40 psi at the most demanding head (h1), and 5 psi for valve and lateral.")
	y.want(t, plan.ZoneOverFlow, "")
	y.Pipes = nil // and so before any pipe is drawn
	y.Supply.StaticPSI, y.Supply.ResidualPSI = 33, 30
	y.want(t, plan.HeadsStarved, plan.Stop, "Even with nothing running")
	weak := straight(6)
	weak.root("flat", catalog.Rotor, 2)
	weak.Supply.StaticPSI, weak.Supply.ResidualPSI = 27, 20
	weak.want(t, plan.HeadsStarved, plan.Stop, "whatever the pipe")
}

// A design flow above the limits is asked for its reason, one below them is not.
func TestRow15_AnOverrideWantsAReason(t *testing.T) {
	y := straight(3)
	y.Supply.DesignFlowGPM = 30
	y.want(t, plan.SupplyRough, plan.Notice, "counts on 30.0 gpm, chosen without a reason, where 18.7 gpm is the most by a limit (Supply: flow at the pressure needed)")
	y.Supply.DesignFlowReason = "measured again"
	y.want(t, plan.SupplyRough, "")
	y.Supply.DesignFlowGPM, y.Supply.DesignFlowReason = 8, ""
	y.want(t, plan.SupplyRough, "")
}
