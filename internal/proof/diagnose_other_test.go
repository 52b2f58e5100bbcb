package proof_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/design"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/proof"
	"evenfall/internal/units"
)

// A network that is nothing like the demo's, to hold the diagnosis to: a metric plan, one
// long main, a reduced-pressure device, four zones whose laterals are chains with a branch,
// no body that regulates.

// chain is a zone of it: nozzles and body, how many heads, feet between them.
type chain struct {
	id, nozzle, body string
	heads            int
	apart            float64
	sweep            units.Degrees
	nominal          units.Inches
}

var chains = []chain{
	{"sprays", "spray-12-h", "body-4", 7, 12, 180, 1},
	{"streams", "stream-25", "body-4", 9, 24, 180, 1},
	{"rotors", "rotor-35-2", "body-rotor-4", 5, 34, 180, 1},
	{"corner", "spray-8-q", "body-4", 6, 8, 90, 0.75},
}

// ranch is the plan of it. change may put something wrong into it.
func ranch(t *testing.T, change func(*plan.Plan)) *plan.Plan {
	t.Helper()
	p := plan.Empty("Ranch", units.Metric)
	p.Nozzles, p.Bodies, p.Heads = map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}, map[plan.ID]plan.Head{}
	p.Zones, p.Nodes, p.Pipes = map[plan.ID]plan.Zone{}, map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}
	p.PipeClasses, p.Devices = map[plan.ID]catalog.PipeClass{}, map[plan.ID]catalog.Device{}
	for _, id := range []string{"pvc-sch40", "pvc-class200"} {
		c, ok := catalog.FindPipeClass(id)
		if !ok {
			t.Fatal(id)
		}
		p.PipeClasses[plan.ID(id)] = c
	}
	p.Supply = plan.Supply{Measured: true, StaticPSI: 68, FlowGPM: 16, ResidualPSI: 57, MeasuredWhere: "connection", Connection: &plan.Spot{},
		Meter: "meter-1", Isolation: "isolation-ball-1", Filter: "filter-screen-1", BackflowDevice: "backflow-rp-1", BackflowAt: &plan.Spot{X: 6}}
	joint := func(id, kind string, x, y float64) plan.ID {
		p.Nodes[plan.ID(id)] = plan.Node{Kind: kind, X: units.Feet(x), Y: units.Feet(y)}
		return plan.ID(id)
	}
	pipe := func(id string, from, to plan.ID, class string, nominal units.Inches, zone plan.ID) {
		p.Pipes[plan.ID(id)] = plan.Pipe{From: from, To: to, Class: plan.ID(class), NominalIn: nominal, Zone: zone}
	}
	last := joint("n-c", "connection", 0, 0)
	device := joint("n-b", "backflow", 6, 0)
	pipe("m-b", last, device, "pvc-sch40", 1.25, "")
	last = device
	for k, c := range chains {
		zone, y := plan.ID(c.id), 40*float64(k)
		n, _ := catalog.FindNozzle(c.nozzle)
		b, _ := catalog.FindBody(c.body)
		p.Nozzles[plan.ID(c.nozzle)], p.Bodies[plan.ID(c.body)] = n, b
		tee := joint("n-m-"+c.id, "joint", 10, y+2)
		pipe("m-"+c.id, last, tee, "pvc-sch40", 1.25, "")
		last = tee
		valve := joint("n-v-"+c.id, "valve", 12, y+2)
		v := p.Nodes[valve]
		v.Zone = zone
		p.Nodes[valve] = v
		pipe("v-"+c.id, tee, valve, "pvc-sch40", 1, "")
		p.Zones[zone] = plan.Zone{Name: plan.Capital(c.id), Station: k + 1, Valve: "valve-1", ValveAt: &plan.Spot{X: 12, Y: units.Feet(y + 2)}}
		from := valve
		for i := range c.heads {
			id := plan.ID(fmt.Sprintf("%s-%d", c.id, i+1))
			x := 20 + c.apart*float64(i)
			h := plan.Head{Tag: fmt.Sprintf("%d-%d", k+1, i+1), Nozzle: plan.ID(c.nozzle), Body: plan.ID(c.body), X: units.Feet(x), Y: units.Feet(y + 10), SweepDeg: c.sweep, Zone: zone}
			p.Heads[id] = h
			at := joint("n-"+string(id), "head", x, y+10)
			node := p.Nodes[at]
			node.Head, node.Zone = id, zone
			p.Nodes[at] = node
			under := joint("n-t-"+string(id), "joint", x, y+8)
			pipe("l-"+string(id), from, under, "pvc-class200", c.nominal, zone)
			pipe("r-"+string(id), under, at, "pvc-class200", 0.75, zone)
			if i != 2 { // the fourth head's pipe branches off at the second's
				from = under
			}
		}
	}
	if change != nil {
		change(p)
	}
	for _, id := range []plan.ID{p.Supply.Meter, p.Supply.Isolation, p.Supply.Filter, p.Supply.BackflowDevice, "valve-1"} {
		if _, own := p.Devices[id]; !own {
			d, ok := catalog.FindDevice(string(id))
			if !ok {
				t.Fatalf("no device %s", id)
			}
			p.Devices[id] = d
		}
	}
	q, err := plan.Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// slower is a device with so many times its loss, under a name of its own.
func slower(p *plan.Plan, id plan.ID, by units.PSI) plan.ID {
	d, _ := catalog.FindDevice(string(id))
	d.Loss = slices.Clone(d.Loss)
	for i := range d.Loss {
		d.Loss[i].Loss *= by
	}
	p.Devices["slow-"+id] = d
	return "slow-" + id
}

// jetOf gives a head a nozzle of so many times the flow.
func jetOf(p *plan.Plan, head plan.ID, by units.GPM) {
	h := p.Heads[head]
	n := p.Nozzles[h.Nozzle]
	n.Rows = slices.Clone(n.Rows)
	for i := range n.Rows {
		n.Rows[i].Flow *= by
	}
	h.Nozzle = "own-" + head
	p.Nozzles[h.Nozzle], p.Heads[head] = n, h
}

// open makes a head an open pipe of so many gpm at 30 psi, by the root.
func open(p *plan.Plan, head plan.ID, gpm units.GPM) {
	h := p.Heads[head]
	n := p.Nozzles[h.Nozzle]
	n.FlowFollowsArc, n.Rows = false, slices.Clone(n.Rows)
	for i := range n.Rows {
		n.Rows[i].Flow = gpm * units.GPM(math.Sqrt(float64(n.Rows[i].Pressure)/30))
	}
	h.Nozzle = "open-" + head
	p.Nozzles[h.Nozzle], p.Heads[head] = n, h
}

// trouble is a fault of the ranch and the causes that may be told of it.
type trouble struct {
	name  string
	names []proof.Cause
	// among: it need only be named. Half the flow at the pressure as predicted is as well
	// heads that are stopped up, where pipes lose next to nothing.
	among bool
	do    func(p *plan.Plan, c chain, rng *rand.Rand)
}

func troubles() []trouble {
	head := func(c chain, i int) plan.ID { return plan.ID(fmt.Sprintf("%s-%d", c.id, i+1)) }
	within := func(rng *rand.Rand, a, b float64) float64 { return a + (b-a)*rng.Float64() }
	return []trouble{
		{"a nozzle is missing", []proof.Cause{proof.MissingNozzle}, false, func(p *plan.Plan, c chain, rng *rand.Rand) {
			open(p, head(c, rng.IntN(c.heads-1)), units.GPM(within(rng, 4, 6)))
		}},
		{"a pipe is broken", []proof.Cause{proof.BrokenPipe}, false, func(p *plan.Plan, c chain, rng *rand.Rand) {
			open(p, head(c, rng.IntN(c.heads-1)), units.GPM(within(rng, 11, 18)))
		}},
		{"the valve opens by half", []proof.Cause{proof.ValveNotOpen, proof.CrushedPipe}, false, func(p *plan.Plan, c chain, rng *rand.Rand) {
			z := p.Zones[plan.ID(c.id)]
			z.Valve = slower(p, "valve-1", units.PSI(within(rng, 8, 25)))
			p.Zones[plan.ID(c.id)] = z
		}},
		{"nozzles a size up", []proof.Cause{proof.LargerNozzles}, false, func(p *plan.Plan, c chain, rng *rand.Rand) {
			by := units.GPM(within(rng, 1.3, 1.55))
			for i := range c.heads - 1 {
				jetOf(p, head(c, i), by)
			}
		}},
		{"nozzles a size down, or stopped up", []proof.Cause{proof.SmallNozzles, proof.BlockedHeads}, false, func(p *plan.Plan, c chain, rng *rand.Rand) {
			by := units.GPM(within(rng, 0.55, 0.75))
			for i := range c.heads - 1 {
				jetOf(p, head(c, i), by)
			}
		}},
		{"the supply is low", []proof.Cause{proof.LowSupply}, false, func(p *plan.Plan, _ chain, rng *rand.Rand) {
			by := units.PSI(within(rng, 10, 18))
			p.Supply.StaticPSI -= by
			p.Supply.ResidualPSI -= by
		}},
		{"the filter is stopped up", []proof.Cause{proof.BlockedFilter, proof.MainShutOff}, false, func(p *plan.Plan, _ chain, rng *rand.Rand) {
			p.Supply.Filter = slower(p, p.Supply.Filter, units.PSI(within(rng, 8, 20)))
		}},
		{"a shut-off is half shut", []proof.Cause{proof.BlockedFilter, proof.MainShutOff}, false, func(p *plan.Plan, _ chain, rng *rand.Rand) {
			p.Supply.Isolation = slower(p, p.Supply.Isolation, units.PSI(within(rng, 60, 200)))
		}},
		{"one reading of the meter is amiss", []proof.Cause{proof.MeterReading}, true, nil},
		{"cubic feet are read as gallons", []proof.Cause{proof.MeterReading}, false, nil},
	}
}

// worstHeads are where the gauge is put, by zone.
func worstHeads(t *testing.T, d *design.Design) map[plan.ID]plan.ID {
	t.Helper()
	out := map[plan.ID]plan.ID{}
	for _, z := range d.Pressure.Zones {
		if !z.Solved {
			t.Fatalf("%s: %s", z.ID, z.Says)
		}
		out[z.ID] = z.Worst
	}
	return out
}

// readInto runs every zone of what is in the ground and notes it as a run of a plan.
func readInto(ground, into *plan.Plan, worst map[plan.ID]plan.ID, rng *rand.Rand, id plan.ID, v plan.ZoneRun) {
	net := pipework.Of(ground)
	now, _ := pressure.Compute(ground, net)
	for _, z := range now.Zones {
		v.StaticPSI = now.Static[net.Source] + units.PSI(rng.NormFloat64())
		for _, h := range z.Heads {
			if h.ID == worst[z.ID] {
				v.AtHead, v.RunningPSI = h.ID, h.Nozzle+units.PSI(rng.NormFloat64())
			}
		}
		v.MeterGal = 50 / units.LitresPerGallon
		v.MeterS = units.Seconds(float64(v.MeterGal) * 60 / float64(z.Flow) * (1 + 0.015*rng.NormFloat64()))
		zone := into.Zones[z.ID]
		if zone.Runs == nil {
			zone.Runs = map[plan.ID]plan.ZoneRun{}
		}
		zone.Runs[id] = v
		into.Zones[z.ID] = zone
	}
}

// TestIndependentDiagnosis holds the diagnosis to the ranch: every fault is put into its
// network, which is solved anew, and read with a gauge that is off by a psi or so and a
// meter by a per cent and a half.
func TestIndependentDiagnosis(t *testing.T) {
	t.Parallel()
	p := ranch(t, nil)
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	worst := worstHeads(t, d)
	tried, second := 0, 0
	for _, f := range troubles() {
		n, first, next, later, good, strained := 0, 0, 0, 0, 0, 0
		odd := ""
		for _, c := range chains {
			for seed := range 4 {
				rng := rand.New(rand.NewPCG(uint64(seed), 404))
				q := ranch(t, nil)
				if f.do == nil {
					readInto(q, q, worst, rng, "r1", plan.ZoneRun{On: "2026-06-01"})
					for id, z := range q.Zones {
						v := z.Runs["r1"]
						switch {
						case !f.among:
							v.MeterS *= 7.48
						case id == plan.ID(c.id):
							v.MeterS *= 2
						}
						z.Runs["r1"] = v
					}
				} else {
					wrong := ranch(t, func(p *plan.Plan) { f.do(p, c, rng) })
					readInto(wrong, q, worst, rng, "r1", plan.ZoneRun{On: "2026-06-01"})
				}
				for _, z := range proof.StartUp(q, d).Zones {
					if string(z.ID) != c.id {
						continue
					}
					n++
					run := z.Runs[0]
					if strings.Contains(run.Says, "no one cause") {
						strained++
					}
					switch at := slices.IndexFunc(run.Likely, func(l proof.Likely) bool { return slices.Contains(f.names, l.Cause) }); {
					case run.Good:
						good++
					case at == 0:
						first++
					case at == 1, at > 0 && f.among:
						next++
					default:
						later++
						odd = fmt.Sprintf("%s: %s:", c.id, run.Says)
						for _, l := range run.Likely {
							odd += fmt.Sprintf(" %s %.2f", l.Cause, l.Weight)
						}
					}
				}
			}
		}
		t.Logf("%-36s of %d first %d, second %d, later %d, not seen %d %s", f.name, n, first, next, later, good, odd)
		if 10*strained > n {
			t.Errorf("%s: of %d, %d are told to have no one cause", f.name, n, strained)
		}
		tried, second = tried+n-good, second+first+next
		if 5*later > n {
			t.Errorf("%s: named neither first nor second in %d of %d", f.name, later, n)
		}
	}
	t.Logf("first or second in %d of %d", second, tried)
	if 10*second < 9*tried {
		t.Errorf("first or second in %d of %d", second, tried)
	}
}

// A run is compared with those that other zones had then, and not with what they show since
// they were mended.
func TestRunsAreComparedWithThoseOfTheirDay(t *testing.T) {
	t.Parallel()
	p := ranch(t, nil)
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	worst := worstHeads(t, d)
	shut := ranch(t, func(p *plan.Plan) { p.Supply.Isolation = slower(p, p.Supply.Isolation, 200) })
	for name, c := range map[string]struct{ then, now plan.ZoneRun }{
		"before and after mending":    {plan.ZoneRun{When: "before", On: "2026-06-01"}, plan.ZoneRun{When: "after", On: "2026-06-01"}},
		"one day and the next":        {plan.ZoneRun{On: "2026-06-01"}, plan.ZoneRun{On: "2026-06-02"}},
		"the next noted first, by id": {plan.ZoneRun{On: "2026-06-02"}, plan.ZoneRun{On: "2026-06-01"}},
	} {
		q := ranch(t, nil)
		rng := rand.New(rand.NewPCG(8, 15))
		readInto(shut, q, worst, rng, "r1", c.then)
		readInto(p, q, worst, rng, "r2", c.now)
		for _, z := range proof.StartUp(q, d).Zones {
			for _, r := range z.Runs {
				if r.ID == "r1" && !r.Good && (len(r.Likely) == 0 || !slices.Contains([]proof.Cause{proof.BlockedFilter, proof.MainShutOff}, r.Likely[0].Cause)) {
					t.Errorf("%s, %s: %s %+v", name, z.ID, r.Says, r.Likely)
				}
			}
		}
	}
}

// What no cause explains is read once more.
func TestWhatNothingExplainsIsReadOnceMore(t *testing.T) {
	t.Parallel()
	q := ranch(t, nil)
	d, err := design.Run(context.Background(), q)
	if err != nil {
		t.Fatal(err)
	}
	z := q.Zones["sprays"]
	z.Runs = map[plan.ID]plan.ZoneRun{"r1": {FlowGPM: 900, RunningPSI: 150}}
	q.Zones["sprays"] = z
	run := proof.StartUp(q, d).Zones[0].Runs[0]
	if !strings.HasSuffix(run.Says, "read it again, or look for two") || len(run.Likely) != 1 || run.Likely[0].Cause != proof.MeterReading || run.Likely[0].Do == "" {
		t.Errorf("%s %+v", run.Says, run.Likely)
	}
}
