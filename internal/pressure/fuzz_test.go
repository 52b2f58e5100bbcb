package pressure

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Whatever is drawn, its zones end in a solution or in a sentence.
func FuzzCompute(f *testing.F) {
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 9))
		tape := make([]byte, 400)
		for i := range tape {
			tape[i] = byte(rng.Uint32())
		}
		f.Add(tape)
	}
	f.Fuzz(func(t *testing.T, tape []byte) {
		y := strayYard(rand.New(&dice{tape: tape, after: rand.NewPCG(1, 9)}))
		net := pipework.Of(y.Plan)
		r, found := Compute(y.Plan, net)
		holds(t, "fuzzed", y.Plan, net, r)
		for _, f := range found {
			if f.Sentence == "" || len(f.About) == 0 {
				t.Errorf("%+v", f)
			}
		}
	})
}

// dice falls as a tape says, a byte a throw, and by chance when that has ended.
type dice struct {
	tape  []byte
	after rand.Source
}

// Uint64 makes the rand.Source.
func (d *dice) Uint64() uint64 {
	if len(d.tape) == 0 {
		return d.after.Uint64()
	}
	b := d.tape[0]
	d.tape = d.tape[1:]
	return uint64(b) * 0x0101010101010101
}

// strayYard is a yard as anyYard's, drawn on by somebody who joins anything to
// anything, places valves twice, and writes down figures at the ends of what a plan
// may hold.
func strayYard(rng *rand.Rand) yard {
	y := anyYard(rng)
	pick := func(values ...float64) float64 { return values[rng.IntN(len(values))] }
	zone := func() plan.ID { return []plan.ID{"", "z1", "z1", "z2"}[rng.IntN(4)] }
	if _, ok := y.Zones["z2"]; !ok {
		y.Zones["z2"] = plan.Zone{Name: "Second", Station: 2, ValveAt: &plan.Spot{X: 20, Y: 5}}
	}
	for i := range rng.IntN(3) {
		y.node(plan.ID(fmt.Sprintf("x%d", i)), []string{"valve", "joint", "backflow", "drain", "connection"}[rng.IntN(5)], zone(), 200*rng.Float64(), 50)
	}
	y.PipeClasses["odd"] = catalog.PipeClass{Name: "Odd", Material: catalog.PVC, C: pick(20, 150, 200), ModulusPSI: 1, Joint: "cement", Sizes: []catalog.PipeSize{
		{Nominal: 1, Outside: 1.2, Wall: 0.1, Inside: units.Inches(pick(0.001, 0.05, 1)), Rating: 100}}}
	nodes := plan.SortedIDs(y.Nodes)
	for range rng.IntN(5) {
		if a, b := nodes[rng.IntN(len(nodes))], nodes[rng.IntN(len(nodes))]; a != b {
			y.pipe(zone(), []plan.ID{"pvc-sch40", "odd", "pvc-sch40"}[rng.IntN(3)], 1, a, b)
		}
	}
	s := &y.Supply
	s.RegulatorPSI, s.Regulator = units.PSI(pick(0, 0.01, 45, 300)), rng.IntN(2) == 0
	s.HouseGPM, s.NeededPSI, s.DesignFlowGPM = units.GPM(pick(0, 0, 3, 10_000)), units.PSI(pick(0, 0, 300)), units.GPM(pick(0, 0, 0.001, 10_000))
	switch rng.IntN(6) {
	case 0:
		s.FlowGPM = units.GPM(pick(0.001, 10_000))
	case 1:
		s.StaticPSI, s.ResidualPSI = units.PSI(pick(0.001, 300)), units.PSI(pick(0.001, 300))
	case 2:
		s.MeasuredWhere, s.MeterIn, s.ServiceClass, s.ServiceIn, s.ServiceLengthFt = "hydrant", 0.75, "copper-l", 1, units.Feet(pick(0, 60, 32_808))
	case 3:
		s.Pump = []plan.PumpPoint{{Flow: units.GPM(pick(0, 0.01, 5)), PSI: units.PSI(pick(0, 40, 300))}}
	}
	y.Zones["z1"] = plan.Zone{Name: "First", Station: 1, Pressure: units.PSI(pick(0, 0, 30, 80))}
	return y
}
