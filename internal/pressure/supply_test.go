package pressure

import (
	"math"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func limitOf(t *testing.T, s Supply, code string) Limit {
	t.Helper()
	for _, l := range s.Limits {
		if l.Code == code {
			return l
		}
	}
	t.Fatalf("no limit %s among %+v", code, s.Limits)
	return Limit{}
}

// A container filled at an open tap is flow at no pressure: one rough point, never
// a limit. By it, 12 gpm at nothing from 60 psi are 5.7 gpm at 45 psi (our page of
// the trade, E2, by the hydrant form).
func TestAContainerIsARoughPointAndNoLimit(t *testing.T) {
	y := straight(2)
	y.Supply = plan.Supply{Measured: true, StaticPSI: 60, TimedGal: 5, TimedS: 25}
	s := SupplyOf(y.Plan)
	l := limitOf(t, s, OnCurve)
	if !s.Rough || l.Missing == "" || l.Flow != 0 || !strings.Contains(l.Missing, "12.0 gpm") || s.Binding != Assumed || s.DesignGPM != 10 || !s.Assumed {
		t.Errorf("%+v of %+v", l, s)
	}
	near(t, "the rough curve at 5.7 gpm", float64(curveAt(y.Plan, 5.66)), 45, 0.1)
	near(t, "its end", float64(s.EndsAtGPM), 12, 1e-9)
	y.Supply.FlowGPM, y.Supply.ResidualPSI = 9, 52 // measured as well, with its pressure
	if s := SupplyOf(y.Plan); s.Rough || s.Binding != OnCurve {
		t.Errorf("%+v", s)
	}
}

func curveAt(p *plan.Plan, q units.GPM) units.PSI {
	left, _ := newSupply(p).curve.source.Pressure(q)
	return left
}

func TestKindsOfCurve(t *testing.T) {
	for _, c := range []struct {
		name    string
		supply  plan.Supply
		at      units.GPM
		left    float64
		ends    float64
		assumed bool
	}{
		{"as measured", plan.Supply{Measured: true, StaticPSI: 62, FlowGPM: 13.3, ResidualPSI: 55}, 12, 56.215, 17.29, false},
		{"on the lowest static, with the drop of the day", plan.Supply{Measured: true, StaticPSI: 70, FlowGPM: 13.3, ResidualPSI: 63, Statics: map[plan.ID]plan.StaticReading{"r": {PSI: 62}}}, 12, 56.215, 17.29, false},
		{"a flow with its pressure alone", plan.Supply{Measured: true, FlowGPM: 10, ResidualPSI: 45}, 9, 45, 10, false},
		{"assumed", plan.Empty("", units.US).Supply, 9, 45, 10, true},
		{"nothing", plan.Supply{}, 9, 45, 10, true},
		{"static alone", plan.Supply{Measured: true, StaticPSI: 80}, 10, 45, 10, false},
		{"low static alone", plan.Supply{Measured: true, StaticPSI: 40}, 10, 30, 10, false},
		{"a pump", plan.Supply{Measured: true, Kind: plan.Well, Pump: []plan.PumpPoint{{Flow: 0, PSI: 60}, {Flow: 10, PSI: 50}, {Flow: 20, PSI: 20}}}, 15, 35, 20, false},
		{"behind a regulator", plan.Supply{Measured: true, StaticPSI: 90, FlowGPM: 10, ResidualPSI: 70, Regulator: true, RegulatorPSI: 60}, 8, 60, 13, false},
		{"before the house's regulator", plan.Supply{Measured: true, FlowGPM: 10, ResidualPSI: 70, Tap: "before_regulator", RegulatorPSI: 60}, 8, 70, 10, false},
		{"the house draws 3", plan.Supply{Measured: true, StaticPSI: 62, FlowGPM: 13.3, ResidualPSI: 55, HouseGPM: 3}, 9, 56.215, 14.29, false},
	} {
		y := straight(2)
		y.Supply = c.supply
		s := SupplyOf(y.Plan)
		near(t, c.name+": left", float64(curveAt(y.Plan, c.at)), c.left, 0.01)
		near(t, c.name+": known to", float64(s.EndsAtGPM), c.ends, 0.01)
		if s.Assumed != c.assumed && c.name != "static alone" && c.name != "low static alone" {
			t.Errorf("%s: assumed %v", c.name, s.Assumed)
		}
	}
}

// What the house draws takes pressure while the system runs, and none at rest.
func TestTheHousesDrawIsInTheSupplysRow(t *testing.T) {
	y := straight(3)
	y.Supply.HouseGPM = 4
	r := y.compute()
	near(t, "at rest", float64(r.Static["c"]), 60, 1e-9)
	near(t, "static", float64(step(t, r.Zones[0], "static").Left), 60, 1e-9)
	s := step(t, r.Zones[0], "supply")
	near(t, "supply", float64(s.Loss), 10*math.Pow(10./15, 1/0.54), 0.051) // 6 gpm and 4
	if !strings.Contains(s.Says, "at 6.00 gpm and 4.00 gpm in the house") {
		t.Error(s.Says)
	}
}

// The least of the limits sets the flow; the rules' own figures (our page of
// hydraulics, c2 and T8; of the trade, E5): 15, 22.5 and 37.5 gpm through meters of
// 5/8, 3/4 and 1 in; 7.5 gpm in 3/4 in type L copper at 5 ft/s and 11.3 at 7.5.
func TestLimitsOfTheDesignFlow(t *testing.T) {
	for size, want := range map[units.Inches]float64{0.625: 15, 0.75: 22.5, 1: 37.5, 1.5: 75, 2: 120} {
		y := straight(2)
		y.Supply.MeterIn = size
		near(t, "three quarters", float64(limitOf(t, SupplyOf(y.Plan), MeterShare).Flow), want, 1e-9)
	}
	for fps, want := range map[units.FeetPerSecond]float64{0: 11.3, 5: 7.5} {
		y := straight(2)
		y.Supply.ServiceMaterial, y.Supply.ServiceIn, y.Supply.ServiceFPS = "type L copper", 0.75, fps
		l := limitOf(t, SupplyOf(y.Plan), ServiceVelocity)
		near(t, "service", float64(l.Flow), want, 0.06)
		if !strings.Contains(l.Says, "11.3 gpm") && !strings.Contains(l.Says, "7.54 gpm") { // both are shown
			t.Error(l.Says)
		}
	}
	y := straight(2)
	y.Supply.MeterIn, y.Supply.HouseGPM = 0.75, 4
	l := limitOf(t, SupplyOf(y.Plan), MeterShare)
	near(t, "less the house", float64(l.Flow), 18.5, 1e-9)
	if !strings.Contains(l.Says, "less 4.00 gpm that the house draws") {
		t.Error(l.Says)
	}
	y.Supply.MeterIn = 0
	for code, words := range map[string]string{MeterShare: "size of the meter", MeterLoss: "size of the meter", ServiceVelocity: "made of"} {
		if l := limitOf(t, SupplyOf(y.Plan), code); !strings.Contains(l.Missing, words) || l.Flow != 0 || l.Says != "" {
			t.Errorf("%+v", l)
		}
	}
	y.Supply.DesignFlowGPM, y.Supply.DesignFlowReason = 9, "the well driller's word"
	if s := SupplyOf(y.Plan); s.DesignGPM != 9 || s.Binding != Override || s.Override != "the well driller's word" {
		t.Errorf("%+v", s)
	}
	y = straight(2)
	y.Supply.NeededPSI = 61
	if s := SupplyOf(y.Plan); s.Binding != OnCurve || s.DesignGPM != 0 || !strings.HasPrefix(limitOf(t, s, OnCurve).Says, "even with nothing running there are 60 psi") {
		t.Errorf("%+v", s)
	}
	y.Supply.NeededPSI = 55 // half of the drop of 10 psi at 15 gpm: 15 · 0.5^0.54
	near(t, "the curve", float64(limitOf(t, SupplyOf(y.Plan), OnCurve).Flow), 10.316, 0.01)
	y.Supply.NeededPSI = 20
	l = limitOf(t, SupplyOf(y.Plan), OnCurve)
	near(t, "no further than known", float64(l.Flow), 19.5, 1e-9)
	if !strings.Contains(l.Says, "past 19.5 gpm the curve is not known") {
		t.Error(l.Says)
	}
	y.Supply.Kind, y.Supply.Pump = plan.Well, []plan.PumpPoint{{Flow: 0, PSI: 60}, {Flow: 20, PSI: 40}}
	s := SupplyOf(y.Plan)
	if len(s.Limits) != 1 || s.Binding != OnPump {
		t.Errorf("a pump has the limits %+v", s.Limits)
	}
}

// A flow counts at the pressure that the heads need where they stand: what they climb
// from the connection, and a breaker behind the valve, come on top.
func TestRowE2_TheCurveIsReadAtThePressureNeeded(t *testing.T) {
	flow := func(change func(yard)) Limit {
		y := straight(3)
		y.Supply.MeterIn = 0.75
		change(y)
		return limitOf(t, SupplyOf(y.Plan), OnCurve)
	}
	flat := flow(func(yard) {}) // 40 psi and 5 of 60, 10 less at 15 gpm: 15 · 1.5^0.54
	near(t, "on level ground", float64(flat.Flow), 18.67, 0.01)
	hill := flow(func(y yard) {
		y.Elevations["a"], y.Elevations["b"] = plan.Elevation{}, plan.Elevation{X: 50, Z: 10}
	})
	near(t, "10 ft up", float64(hill.Flow), 15*math.Pow(1.0667, 0.54), 0.01)
	if !strings.Contains(hill.Says, "49.3 psi before the zone valves: 40 psi at the most demanding head (h3), 4.3 psi to climb to it, and 5 psi") {
		t.Error(hill.Says)
	}
	if down := flow(func(y yard) {
		y.Elevations["a"], y.Elevations["b"] = plan.Elevation{}, plan.Elevation{X: 50, Z: -10}
	}); down.Flow != flat.Flow {
		t.Error("a fall gives the valves pressure that is only behind them")
	}
	if avb := flow(func(y yard) { y.Supply.BackflowDevice = "backflow-avb-1" }); avb.Flow >= flat.Flow-1 || !strings.Contains(avb.Says, "beside what the breaker behind the valve takes") {
		t.Errorf("%+v", avb)
	}
}

// Where no flow is known at the pressure needed, the other limits only say what must
// not flow: no more is planned on than the flow assumed of any small house.
func TestRow17_AFlowOfUnknownPressureIsAssumed(t *testing.T) {
	for name, s := range map[string]plan.Supply{
		"static alone":       {Measured: true, StaticPSI: 60, MeterIn: 0.75},
		"container":          {Measured: true, StaticPSI: 60, TimedGal: 5, TimedS: 20, MeterIn: 0.75},
		"too little, static": {Measured: true, FlowGPM: 13, ResidualPSI: 20, MeterIn: 0.75},
		"a well of no curve": {Measured: true, Kind: plan.Well, StaticPSI: 60, MeterIn: 0.75},
	} {
		y := straight(2)
		y.Supply = s
		if got := SupplyOf(y.Plan); !got.Assumed || got.Binding != Assumed || got.DesignGPM != 10 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// A flow measured with nearly the pressure needed, and no static beside it, counts.
func TestRow17_NearlyThePressureNeededIsAMeasuredFlow(t *testing.T) {
	y := straight(2)
	y.Supply = plan.Supply{Measured: true, FlowGPM: 13, ResidualPSI: 43} // of 45
	if got := SupplyOf(y.Plan); got.Assumed || got.DesignGPM != 13 || got.Binding != OnCurve {
		t.Errorf("%+v", got)
	}
}

func TestWordsOfReadings(t *testing.T) {
	y := newYard()
	seven, noon := 19, 12
	y.Supply.StaticPSI, y.Supply.MeasuredAt = 70, "5 am in July"
	y.Supply.Statics = map[plan.ID]plan.StaticReading{"a": {PSI: 62, Hour: &seven, Month: 7, Where: "at the connection"}, "b": {PSI: 66, Hour: &noon}}
	if s := SupplyOf(y.Plan); s.StaticPSI != 62 || s.StaticSays != "62 psi, 7 pm in July, at the connection, the lowest of 3 readings" {
		t.Errorf("%q", s.StaticSays)
	}
	for hour, want := range map[int]string{0: "midnight", 5: "5 am", 12: "noon", 23: "11 pm"} {
		if got := clock(hour); got != want {
			t.Errorf("%d is %s, want %s", hour, got, want)
		}
	}
}

// Each kind of device has its own chain: the atmospheric breaker after every zone
// valve, with the zone's flow alone; all others once in the main.
func TestTheChainOfEachBackflowDevice(t *testing.T) {
	order := func(device plan.ID) string {
		y := straight(3)
		y.Supply.BackflowDevice, y.Supply.Isolation, y.Supply.Filter, y.Supply.MasterValve = device, "isolation-ball-1", "filter-screen-1", "master-valve-1"
		var codes []string
		for _, s := range y.compute().Zones[0].Budget {
			codes = append(codes, s.Code)
		}
		return strings.Join(codes, " ")
	}
	for device, want := range map[plan.ID]string{
		"backflow-pvb-1": "static supply isolation filter backflow master_valve main valve lateral fittings swing_joint",
		"backflow-rp-1":  "static supply isolation filter backflow master_valve main valve lateral fittings swing_joint",
		"backflow-avb-1": "static supply isolation filter master_valve main valve breaker lateral fittings swing_joint",
	} {
		if got := order(device); got != want {
			t.Errorf("%s: %s, want %s", device, got, want)
		}
	}
}

// What keeps a zone from being solved is said in a sentence that names it.
func TestWhatAZoneLacksIsSaid(t *testing.T) {
	says := func(change func(yard)) string {
		y := straight(3)
		change(y)
		return y.compute().Zones[0].Says
	}
	for _, c := range []struct {
		words  string
		change func(yard)
	}{
		{"", func(yard) {}},
		{"No pipes are drawn yet", func(y yard) { clear(y.Pipes) }},
		{"no point of connection", func(y yard) { y.Nodes["c"] = plan.Node{Kind: "joint"} }},
		{"No pipe leads to the valve of zone 1", func(y yard) { y.Nodes["v"] = plan.Node{Kind: "joint", X: 20} }},
		{"has no way to the point of connection", func(y yard) { delete(y.Pipes, "p01") }},
		{"No head of zone 1 (Row) is joined", func(y yard) { delete(y.Pipes, "p02") }},
		{"1 pipe has no class or size yet on the way of the water to zone 1 (Row), the first on the main", func(y yard) { y.pipeSize("p01", "", 0) }},
		{"Class 200 PVC is not made in 1/2 in, the size of", func(y yard) { y.pipeSize("p02", "pvc-class200", 0.5) }},
		{"2 pipes have no class or size yet on the way of the water to zone 1 (Row), the first on its laterals", func(y yard) { y.pipeSize("p02", "pvc-class200", 0); y.pipeSize("p03", "", 1) }},
		{"Head h2 is used outside its nozzle's table", func(y yard) { h := y.Heads["h2"]; h.Nozzle = "none"; y.Heads["h2"] = h }},
		{"What the backflow device (double check) takes is not counted", func(y yard) { y.Supply.Backflow = "double check" }},
		{"1 head of the zone has no pipe and is left out", func(y yard) { delete(y.Pipes, "p04") }},
		{"and the supply is not known past", func(y yard) { y.flat("flat", 20) }},
		{"More flows than the loss table holds for: Swing joint", func(y yard) { y.flat("flat", 7); y.Supply.FlowGPM = 40 }},
	} {
		if got := says(c.change); c.words == "" && got != "" || !strings.Contains(got, c.words) {
			t.Errorf("says %q, want %q", got, c.words)
		}
	}
}

// A regulating body holds its nozzle, and a head below its setting has what there
// is.
func TestRegulatedHeads(t *testing.T) {
	y := straight(2)
	y.root("flat", catalog.Rotor, 2)
	y.Bodies["body"] = catalog.Body{Regulated: 40}
	z := y.compute().Zones[0]
	for _, h := range z.Heads {
		near(t, "held", float64(h.Nozzle), 40+0.01*float64(h.Inlet-40), 1e-6)
	}
	if last := z.Budget[len(z.Budget)-1]; last.Code != "regulator" || z.Spread != 0 {
		t.Errorf("%+v, spread %v", last, z.Spread)
	}
	y.Supply.StaticPSI, y.Supply.ResidualPSI = 40, 35
	for _, h := range y.compute().Zones[0].Heads {
		if h.Nozzle != h.Inlet || h.Nozzle >= 40 {
			t.Errorf("%+v", h)
		}
	}
}

// Whatever curve a plan may hold, however near its points, can be solved with:
// what the catalogue and the plan let by, the solver takes.
func TestCurvesOfPlansAreTakenByTheSolver(t *testing.T) {
	apart := units.GPM(catalog.LeastApartGPM)
	d := catalog.Device{Name: "Close", Kind: catalog.ZoneValve, Loss: []catalog.LossPoint{{Flow: apart, Loss: 1}, {Flow: 5}, {Flow: 5 + apart, Loss: 1000}}}
	d.Loss[1].Loss = 1
	if err := d.Validate(); err != nil {
		t.Fatal(err)
	}
	if _, err := curveOf(d); err != nil {
		t.Error(err)
	}
	y := straight(1)
	y.Supply.Pump = []plan.PumpPoint{{Flow: 5, PSI: 60}, {Flow: 5 + apart, PSI: 40}}
	if s := SupplyOf(y.Plan); s.Assumed || s.EndsAtGPM != 5+apart {
		t.Errorf("assumed %v, known to %v", s.Assumed, s.EndsAtGPM)
	}
}

// Measured in the street, the pressure passes meter and service line before a
// regulator behind them; and what the house draws passes them as well.
func TestRow18_MeterAndServiceStandBeforeTheRegulatorAndCarryTheHouse(t *testing.T) {
	street := func(change func(*plan.Supply)) (*Result, float64) {
		y := straight(3)
		y.Supply = plan.Supply{Measured: true, StaticPSI: 70, FlowGPM: 15, ResidualPSI: 65, MeasuredWhere: "hydrant", MeterIn: 0.75, ServiceMaterial: "copper", ServiceIn: 1, ServiceLengthFt: 60}
		change(&y.Supply)
		r := y.compute()
		return r, float64(step(t, r.Zones[0], "main").Left)
	}
	bare, plain := street(func(*plan.Supply) {})
	if step(t, bare.Zones[0], "meter").Loss <= 0 {
		t.Error("no row of the meter")
	}
	r, left := street(func(s *plan.Supply) { s.Tap, s.RegulatorPSI = "after_regulator", 60 })
	near(t, "held at 60 behind meter and service", float64(step(t, r.Zones[0], "supply").Left), 60, 1e-9)
	if says := step(t, r.Zones[0], "supply").Says; !strings.Contains(says, "less what is taken by Water meter 3/4 in and 1 in Copper, type L, and no more than the regulator's 60 psi") {
		t.Error(says)
	}
	_, loose := street(func(s *plan.Supply) { s.Tap, s.RegulatorPSI = "after_regulator", 69 })
	if left >= plain || math.Abs(loose-plain) > 0.11 { // one that never holds changes nothing
		t.Errorf("%.1f psi behind a regulator of 60, %.1f of 69, %.1f without", left, loose, plain)
	}
	house, _ := street(func(s *plan.Supply) { s.HouseGPM = 5 })
	meter, _ := catalog.FindDevice("meter-0_75")
	with, _ := meter.LossAt(11)
	alone, _ := meter.LossAt(6)
	if more := step(t, house.Zones[0], "supply").Loss - step(t, bare.Zones[0], "supply").Loss; more < with-alone {
		t.Errorf("5 gpm of the house take %.2f psi more, and the meter alone takes %.2f", float64(more), float64(with-alone))
	}
}

// A curve moved down to the lowest reading does not tell of figures nobody read.
func TestALowerReadingIsNotToldAsMeasured(t *testing.T) {
	y := straight(3)
	y.Supply.Statics = map[plan.ID]plan.StaticReading{"r": {PSI: 50}}
	if says := step(t, y.compute().Zones[0], "supply").Says; !strings.Contains(says, "40 psi would be left at 15.0 gpm") {
		t.Error(says)
	}
}

// The rules read in the plan's units, as their figures do.
func TestRulesAreInThePlansUnits(t *testing.T) {
	y := straight(3)
	y.Show, y.Supply.ServiceMaterial, y.Supply.ServiceIn = units.Metric, "pvc", 1
	y.Elevations["a"], y.Elevations["b"] = plan.Elevation{}, plan.Elevation{X: 50, Z: 2}
	r := y.compute()
	words := step(t, r.Zones[0], "rise").Rule
	for _, l := range r.Supply.Limits {
		words += " " + l.Says + " " + l.Rule
	}
	for _, us := range []string{"psi", "ft/s", "gpm", " ft ", "foot"} {
		if strings.Contains(words, us) {
			t.Errorf("%q stands in %s", us, words)
		}
	}
}
