package proof

import (
	"context"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func demo(t testing.TB) (*plan.Plan, *design.Design) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return p, d
}

// emptyPlan is a plan of nothing.
func emptyPlan(t testing.TB) (*plan.Plan, *design.Design) {
	t.Helper()
	p := plan.Empty("Nothing yet", units.US)
	return p, designed(t, p)
}

// deviceOf is the id of a backflow device of a kind.
func deviceOf(t testing.TB, kind catalog.BackflowKind) plan.ID {
	t.Helper()
	for _, e := range catalog.Devices() {
		if e.Backflow == kind {
			return plan.ID(e.ID)
		}
	}
	t.Fatalf("no %s in the catalogue", kind)
	return ""
}

// The order of trade.md E17 and B16, whatever the plan: shut, device shut, filled by the
// inlet first, air at a zone valve, held, flushed, nozzles; the tester before use.
func TestE17_StepsComeInTheirOrder(t *testing.T) {
	t.Parallel()
	whole := []plan.ID{StepShut, StepDevice, StepFill, StepAir, StepHold, StepLaterals, StepFlush, StepNozzles, StepWires, StepRun, StepTester, StepRecord}
	for name, c := range map[string]struct {
		change func(*plan.Plan)
		want   []plan.ID
		has    []string // in the whole text
		hasNot []string
	}{
		"a vacuum breaker on a town meter": {func(*plan.Plan) {}, whole,
			[]string{"the INLET of the device slowly until the breaker seats and stops spitting. Then the OUTLET", "dial of the meter", "one to two hours", "licensed tester", "never with air", "cement of the joints has cured"}, []string{"bucket", "relief opening"}},
		"a reduced-pressure device": {func(p *plan.Plan) { p.Supply.BackflowDevice = deviceOf(t, catalog.ReducedPressure) }, whole,
			[]string{"the INLET of the device slowly. The relief opening may spit; wait until it stops. Then the OUTLET"}, []string{"breaker seats"}},
		"a double check": {func(p *plan.Plan) { p.Supply.BackflowDevice = deviceOf(t, catalog.DoubleCheck) }, whole,
			[]string{"the INLET of the device slowly until it is full. Then the OUTLET"}, []string{"breaker seats", "relief opening"}},
		"breakers after each valve": {func(p *plan.Plan) { p.Supply.BackflowDevice = deviceOf(t, catalog.AtmosphericBreaker) },
			slices.DeleteFunc(slices.Clone(whole), func(id plan.ID) bool { return id == StepDevice }),
			[]string{"a quarter turn at a time", "an atmospheric breaker has no test cocks", `6" above`}, []string{"INLET", "By a licensed tester"}},
		"a pond with a pump": {func(p *plan.Plan) {
			p.Supply = plan.Supply{Kind: plan.Pond, Pump: []plan.PumpPoint{{Flow: 0, PSI: 60}, {Flow: 20, PSI: 40}}}
		}, slices.DeleteFunc(slices.Clone(whole), func(id plan.ID) bool { return id == StepDevice || id == StepTester }),
			[]string{"bucket", "pump off", "electrician"}, []string{"dial of the meter", "INLET"}},
		"a pump on town water": {func(p *plan.Plan) {
			p.Supply.Meter, p.Supply.MeterIn = "", 0
			p.Supply.Pump = []plan.PumpPoint{{Flow: 0, PSI: 60}, {Flow: 20, PSI: 40}}
		}, whole, []string{"dial of the meter", "electrician"}, []string{"bucket"}},
		"all pipe there already": {func(p *plan.Plan) {
			p.Pipes = maps.Clone(p.Pipes)
			for id, v := range p.Pipes {
				v.Status = plan.Existing
				p.Pipes[id] = v
			}
		}, whole, []string{"quarter of an hour"}, []string{"Before anything is covered", "Cap the risers"}},
	} {
		p, _ := demo(t)
		c.change(p)
		list := steps(p)
		var got []plan.ID
		text := ""
		for _, s := range list {
			got = append(got, s.ID)
			text += s.Title + " " + s.How + " " + s.Caution + "\n"
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
		for _, w := range c.has {
			if !strings.Contains(strings.ToLower(text), strings.ToLower(w)) {
				t.Errorf("%s: nothing says %q:\n%s", name, w, text)
			}
		}
		for _, w := range c.hasNot {
			if strings.Contains(text, w) {
				t.Errorf("%s: it says %q", name, w)
			}
		}
	}
}

// No step lets air out by a test cock: they are for the tester (trade.md E17).
func TestE17_NoAirIsLetOutByTestCocks(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	for _, s := range steps(p) {
		switch {
		case s.ID == StepAir && (!strings.Contains(s.How, "highest and farthest zone valve, by this plan that of zone 4") || !strings.Contains(s.How, "No test cock is opened")):
			t.Errorf("air goes out by %q", s.How)
		case s.ID == StepDevice && !strings.Contains(s.How, "All test cocks closed"):
			t.Errorf("the device is shut by %q", s.How)
		}
	}
}

func TestStepsDoneAreTold(t *testing.T) {
	t.Parallel()
	p, d := demo(t)
	p.Proof.Checks = map[plan.ID]plan.StepDone{StepFlush: {On: "2026-05-01", By: "Jo", Note: "much sand"}}
	p.Site.BackflowTestedOn = "2026-05-03"
	s := StartUp(p, d)
	for _, step := range s.Steps {
		switch done := step.Done; {
		case step.ID == StepFlush && (done == nil || done.By != "Jo"), step.ID == StepTester && (done == nil || done.On != "2026-05-03"):
			t.Errorf("%s is not told as done: %+v", step.ID, done)
		case step.ID != StepFlush && step.ID != StepTester && done != nil:
			t.Errorf("%s is told as done", step.ID)
		}
	}
	if s.Says != "2 of 12 steps, 0 of 6 zones run" {
		t.Error(s.Says)
	}
	h := p.Heads["h1-1"]
	h.State = &plan.HeadState{SetOn: "2026-05-02"}
	p.Heads["h1-1"] = h
	run(p, "z3", plan.ZoneRun{Flushed: "2026-05-01"})
	run(p, "z4", plan.ZoneRun{Flushed: "2026-05-01", FlowGPM: 8})
	text := ""
	s = StartUp(p, d)
	for _, step := range s.Steps {
		text += step.How
	}
	for _, want := range []string{"Flushed so far: 2 of 6 zones.", "Run so far: 1 of 6 zones.", "Set so far: 1 of 48 heads."} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing says %q", want)
		}
	}
	p.Proof.Checks[StepTester] = plan.StepDone{On: "2026-04-01", By: "the tester"}
	if s.Says != "2 of 12 steps, 1 of 6 zones run" || doneOn(StartUp(p, d), StepTester) != "2026-05-03" {
		t.Errorf("%s, tested on %s", s.Says, doneOn(StartUp(p, d), StepTester))
	}
	p.Proof.Checks[StepTester] = plan.StepDone{On: "2027-04-01", By: "the tester"}
	if got := doneOn(StartUp(p, d), StepTester); got != "2027-04-01" {
		t.Error(got)
	}
}

func doneOn(s Start, step plan.ID) string {
	for _, x := range s.Steps {
		if x.ID == step && x.Done != nil {
			return x.Done.On
		}
	}
	return ""
}

// The valve that air goes to: the highest, of those as high the farthest.
func TestFarthestValve(t *testing.T) {
	t.Parallel()
	p, _ := emptyPlan(t)
	if got := FarthestValve(p); got != "" {
		t.Errorf("a plan without zones has %s", got)
	}
	spot := func(x, y float64) *plan.Spot { return &plan.Spot{X: units.Feet(x), Y: units.Feet(y)} }
	p.Supply.Connection = spot(0, 0)
	p.Zones = map[plan.ID]plan.Zone{
		"z1": {Name: "A", ValveAt: spot(10, 0)}, "z2": {Name: "B", ValveAt: spot(90, 0)}, "z3": {Name: "C", ValveAt: spot(40, 0)},
		"z4": {Name: "D", ValveAt: spot(500, 0), Status: plan.Remove}, "z5": {Name: "E"},
	}
	if got := FarthestValve(p); got != "z2" {
		t.Errorf("on level ground %s", got)
	}
	p.Elevations = map[plan.ID]plan.Elevation{"e1": {X: 0, Y: 0, Z: 0}, "e2": {X: 40, Y: 0, Z: 6}, "e3": {X: 100, Y: 0, Z: 0}, "e4": {X: 40, Y: 30, Z: 6}}
	if got := FarthestValve(p); got != "z3" {
		t.Errorf("with a rise in the middle %s", got)
	}
}

// A volume is round in the plan's units and takes long enough that a second's slip is
// little; the time is volume over flow.
func TestTimedVolumes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sys  units.System
		q    units.GPM
		want string
	}{
		{units.US, 2, "2 gal in 60 s"}, {units.US, 8, "10 gal in 75 s"}, {units.US, 15, "10 gal in 40 s"}, {units.US, 400, "200 gal in 30 s"},
		{units.Metric, 8, "50 L in 99 s"}, {units.Metric, 2, "10 L in 79 s"},
	} {
		gal, s := timed(c.sys, c.q)
		if got := fmt.Sprintf("%s in %.0f s", c.sys.Volume(gal), float64(s)); got != c.want {
			t.Errorf("%g gpm: %s, want %s", c.q, got, c.want)
		}
		if back := float64(gal) / float64(s) * 60; math.Abs(back-float64(c.q)) > 1e-9 {
			t.Errorf("%g gpm is timed as %g", c.q, back)
		}
	}
	if gal, s := timed(units.US, 0); gal != 0 || s != 0 {
		t.Error("no flow is timed")
	}
}

// What is predicted is what the pressures of the plan say, and where no pipes are drawn
// what its heads take as planned.
func TestPredictionsAreThePlans(t *testing.T) {
	t.Parallel()
	p, d := demo(t)
	for _, z := range StartUp(p, d).Zones {
		want := zoneOf(d, z.ID)
		if z.Predicted.Flow != want.Flow || z.Predicted.Head != want.Worst || !z.Predicted.Solved || z.Unknown != want.Says {
			t.Errorf("%s: %+v against %+v", z.ID, z.Predicted, want)
		}
		for _, h := range want.Heads {
			if h.ID == want.Worst && z.Predicted.Pressure != h.Nozzle {
				t.Errorf("%s: pressure %g, its worst head has %g", z.ID, z.Predicted.Pressure, h.Nozzle)
			}
		}
		if !(z.Predicted.Tap > z.Predicted.Valve) || !(z.Predicted.Valve >= z.Predicted.Pressure) || z.Predicted.Static != 62 {
			t.Errorf("%s: tap %g, behind the valve %g, head %g, static %g", z.ID, z.Predicted.Tap, z.Predicted.Valve, z.Predicted.Pressure, z.Predicted.Static)
		}
	}
	p.Pipes, p.Nodes = nil, nil
	d = designed(t, p)
	for _, z := range StartUp(p, d).Zones {
		sum := 0.0
		for _, h := range d.Coverage.Heads {
			if p.Heads[h.ID].Zone == z.ID {
				sum += float64(h.FlowGPM)
			}
		}
		if z.Predicted.Solved || math.Abs(float64(z.Predicted.Flow)-sum) > 1e-9 || z.Unknown == "" {
			t.Errorf("%s: %+v, its heads take %g", z.ID, z.Predicted, sum)
		}
	}
}

// Without a meter a bucket is timed at the head that is named.
func TestABucketWhereThereIsNoMeter(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	p.Supply.Kind, p.Supply.Meter, p.Supply.MeterIn = plan.Well, "", 0
	d := designed(t, p)
	z := StartUp(p, d).Zones[1]
	flow := 0.0
	for _, h := range z.Predicted.Heads {
		if h.Head == z.Predicted.Head {
			flow = float64(h.Flow)
		}
	}
	if want := fmt.Sprintf("no meter: a bucket of 2 gal at %s in %.0f s", z.HeadTag, 2*60/flow); z.MeterTime != want {
		t.Errorf("%q, want %q", z.MeterTime, want)
	}
}

func TestStartOfAnEmptyPlan(t *testing.T) {
	t.Parallel()
	p, d := emptyPlan(t)
	s := StartUp(p, d)
	if len(s.Steps) == 0 || len(s.Zones) != 0 || len(Walk(p, d, nil)) != 0 || len(BuiltOf(p, d)) != 0 {
		t.Errorf("%+v", s)
	}
	p.Zones = map[plan.ID]plan.Zone{"z1": {Name: "Front", Runs: map[plan.ID]plan.ZoneRun{"r1": {On: "2026-05-01", FlowGPM: 5}}}}
	z := StartUp(p, designed(t, p)).Zones[0]
	if z.Unknown == "" || z.Runs[0].Known || z.Runs[0].Good || !strings.Contains(z.Runs[0].Says, "nothing to hold it against") {
		t.Errorf("%+v", z)
	}
}

func BenchmarkStartUp(b *testing.B) {
	p := bare(b)
	d := designed(b, p)
	q := measured(b, p, p, d, newRand(1), plan.SortedIDs(p.Zones)...)
	for b.Loop() {
		StartUp(q, d)
	}
}

// A rise of static every run: each is solved anew.
func BenchmarkStartUpOnAnotherStatic(b *testing.B) {
	p := bare(b)
	d := designed(b, p)
	q := measured(b, p, p, d, newRand(1), plan.SortedIDs(p.Zones)...)
	for id, z := range q.Zones {
		r := z.Runs["r1"]
		r.StaticPSI, r.RunningPSI = 50, 20
		z.Runs = map[plan.ID]plan.ZoneRun{"r1": r}
		q.Zones[id] = z
	}
	for b.Loop() {
		StartUp(q, d)
	}
}

// Three hundred heads on a lawn with nothing fixed about it.
func BenchmarkWalkOfThreeHundred(b *testing.B) {
	p := littleYard(b)
	p.Areas["a1"] = plan.Area{Name: "Lawn", Kind: plan.Planting, Outline: rectangle(0, 0, 300)}
	for i := range 300 {
		h := p.Heads["h1"]
		h.X, h.Y, h.Tag = units.Feet(i%20)*15, units.Feet(i/20)*15, fmt.Sprint("1-", i)
		p.Heads[plan.ID(fmt.Sprint("g", i))] = h
	}
	d := designed(b, p)
	for b.Loop() {
		Walk(p, d, nil)
	}
}
