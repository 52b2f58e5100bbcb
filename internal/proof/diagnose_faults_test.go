package proof

import (
	"context"
	"fmt"
	"maps"
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
	"evenfall/internal/units"
)

// fault is something that is wrong in the ground: what it does to the plan, so that its
// network can be solved anew, and by what names it may be told of.
type fault struct {
	name  string
	names []Cause
	do    func(p *plan.Plan, zone plan.ID, rng *rand.Rand)
	once  bool // only while this zone ran
	// among: it needs only be named, since by its figures it is a broken pipe or a missing
	// nozzle as well; whoever looks sees a second zone up.
	among bool
}

// nozzleOf gives a head a nozzle of its own, made from the one it has.
func nozzleOf(p *plan.Plan, head plan.ID, change func(*catalog.Nozzle)) {
	h := p.Heads[head]
	n := p.Nozzles[h.Nozzle]
	n.Rows = append([]catalog.Row(nil), n.Rows...)
	change(&n)
	h.Nozzle = plan.ID("x-" + string(head))
	p.Nozzles[h.Nozzle], p.Heads[head] = n, h
}

func flowTimes(by float64) func(*catalog.Nozzle) {
	return func(n *catalog.Nozzle) {
		for i := range n.Rows {
			n.Rows[i].Flow *= units.GPM(by)
		}
	}
}

// openRiser makes a riser without its nozzle: so many gpm at 30 psi, by the root.
func openRiser(gpm float64) func(*catalog.Nozzle) {
	return func(n *catalog.Nozzle) {
		n.FlowFollowsArc = false
		for i := range n.Rows {
			n.Rows[i].Flow = units.GPM(gpm * float64(i+2) / 3)
		}
	}
}

// deviceTimes replaces a device by one with so many times its loss.
func deviceTimes(p *plan.Plan, id plan.ID, by float64) plan.ID {
	d, _ := p.Device(id)
	d.Loss = append([]catalog.LossPoint(nil), d.Loss...)
	for i := range d.Loss {
		d.Loss[i].Loss *= units.PSI(by)
	}
	p.Devices["x-"+id] = d
	return "x-" + id
}

// headsIn are the heads of a zone but the one the gauge stands at.
func headsIn(p *plan.Plan, zone, but plan.ID) []plan.ID {
	var out []plan.ID
	for _, id := range plan.SortedIDs(p.Heads) {
		if p.Heads[id].Zone == zone && id != but {
			out = append(out, id)
		}
	}
	return out
}

// leakAt joins a hole of so many gpm at 30 psi to the joint before a head.
func leakAt(p *plan.Plan, zone plan.ID, gpm float64) {
	for _, id := range plan.SortedIDs(p.Pipes) {
		v := p.Pipes[id]
		if v.Zone != zone || p.Nodes[v.From].Kind == "valve" {
			continue
		}
		h := p.Heads[headsIn(p, zone, "")[0]]
		n := p.Nodes[v.From]
		h.X, h.Y, h.Tag = n.X+1, n.Y, "leak"
		p.Heads["leak"] = h
		nozzleOf(p, "leak", openRiser(gpm))
		p.Nodes["leak"] = plan.Node{Kind: "head", X: h.X, Y: h.Y, Head: "leak"}
		v.To, v.Via = "leak", nil
		p.Pipes["leak"] = v
		return
	}
	panic("no pipe to leak from")
}

// between draws evenly by powers.
func between(rng *rand.Rand, a, b float64) float64 {
	return a * math.Pow(b/a, rng.Float64())
}

// mainLeak is a hole in the main: as the house it takes from the supply, but the meter
// counts it (see measure).
func mainLeak(p *plan.Plan, gpm float64) {
	p.Supply.HouseGPM += units.GPM(gpm)
	p.Name = leaking + fmt.Sprint(gpm)
}

// What the name of a plan tells measure of a fault that no member of a plan is for.
const (
	leaking  = "leaking main "
	together = "together with "
)

func faults() []fault {
	supplyBy := func(least, most float64) func(*plan.Plan, plan.ID, *rand.Rand) {
		return func(p *plan.Plan, _ plan.ID, rng *rand.Rand) {
			by := units.PSI(least + (most-least)*rng.Float64())
			p.Supply.Statics = nil
			p.Supply.StaticPSI += by
			p.Supply.ResidualPSI += by
		}
	}
	return []fault{
		{name: "one nozzle missing", names: []Cause{MissingNozzle}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) {
			list := headsIn(p, z, "")
			nozzleOf(p, list[rng.IntN(len(list))], openRiser(between(rng, 4, 6.5)))
		}},
		{name: "leak in a lateral", names: []Cause{Leak}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) { leakAt(p, z, between(rng, 1, 2.2)) }},
		{name: "pipe broken", names: []Cause{BrokenPipe}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) { leakAt(p, z, between(rng, 10, 20)) }},
		{name: "valve half open", names: []Cause{ValveNotOpen}, do: func(p *plan.Plan, zone plan.ID, rng *rand.Rand) {
			z := p.Zones[zone]
			id, _ := p.ZoneValve(zone)
			z.Valve = deviceTimes(p, id, between(rng, 8, 40))
			p.Zones[zone] = z
		}},
		{name: "larger nozzles", names: []Cause{LargerNozzles}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) {
			by := between(rng, 1.25, 1.6)
			for _, h := range headsIn(p, z, "") {
				nozzleOf(p, h, flowTimes(by))
			}
		}},
		{name: "smaller nozzles", names: []Cause{SmallNozzles}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) {
			by := between(rng, 0.6, 0.8)
			for _, h := range headsIn(p, z, "") {
				nozzleOf(p, h, flowTimes(by))
			}
		}},
		{name: "heads stopped up", names: []Cause{BlockedHeads}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) {
			for _, h := range headsIn(p, z, "")[:2+rng.IntN(2)] {
				nozzleOf(p, h, flowTimes(between(rng, 0.1, 0.4)))
			}
		}},
		{name: "supply low", names: []Cause{LowSupply}, do: supplyBy(-20, -10)},
		{name: "filter stopped up", names: []Cause{BlockedFilter}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) {
			p.Supply.Filter = deviceTimes(p, p.Supply.Filter, between(rng, 8, 25))
		}},
		{name: "shut-off half open", names: []Cause{MainShutOff}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) {
			p.Supply.Isolation = deviceTimes(p, p.Supply.Isolation, between(rng, 300, 800))
		}},
		{name: "supply high", names: []Cause{HighSupply}, do: supplyBy(12, 25)},
		{name: "the house draws", names: []Cause{OtherUse}, do: func(p *plan.Plan, _ plan.ID, rng *rand.Rand) {
			mainLeak(p, between(rng, 3, 8))
		}, once: true},
		{name: "another zone runs", names: []Cause{SecondZone}, do: func(p *plan.Plan, z plan.ID, rng *rand.Rand) {
			p.Name = together + string([]plan.ID{"z1", "z2", "z3", "z4", "z6"}[rng.IntN(5)])
		}, once: true, among: true},
		{name: "main leaks", names: []Cause{MainLeak}, do: func(p *plan.Plan, _ plan.ID, rng *rand.Rand) { mainLeak(p, between(rng, 3, 8)) }},
	}
}

// bare is the demo without regulating bodies, with a filter, so that pressures show.
func bare(t testing.TB) *plan.Plan {
	p, _ := demo(t)
	for id, b := range p.Bodies {
		b.Regulated = 0
		p.Bodies[id] = b
	}
	for _, e := range catalog.Devices() {
		if e.Kind == catalog.Filter && p.Supply.Filter == "" {
			p.Supply.Filter = plan.ID(e.ID)
		}
	}
	if p.Devices == nil {
		p.Devices = map[plan.ID]catalog.Device{}
	}
	return p
}

func designed(t testing.TB, p *plan.Plan) *design.Design {
	t.Helper()
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func withOwn(p *plan.Plan) *plan.Plan {
	q := *p
	q.Heads, q.Nozzles, q.Zones, q.Devices = maps.Clone(p.Heads), maps.Clone(p.Nozzles), maps.Clone(p.Zones), maps.Clone(p.Devices)
	q.Nodes, q.Pipes = maps.Clone(p.Nodes), maps.Clone(p.Pipes)
	return &q
}

// measure reads the gauge at a head and times the meter as a person would: the gauge good
// for one psi, the meter for 1.5 %, each one standard deviation.
func measure(z pressure.Zone, head plan.ID, static units.PSI, rng *rand.Rand) plan.ZoneRun {
	v := plan.ZoneRun{On: "2026-05-02", AtHead: head, StaticPSI: static + units.PSI(rng.NormFloat64())}
	for _, h := range z.Heads {
		if h.ID == head {
			v.RunningPSI = h.Nozzle + units.PSI(rng.NormFloat64())
		}
	}
	v.MeterGal = 10
	v.MeterS = units.Seconds(600 / float64(z.Flow) * (1 + 0.015*rng.NormFloat64()))
	return v
}

// measured is p with its zones run and read while wrong is what is in the ground.
func measured(t testing.TB, p, wrong *plan.Plan, d *design.Design, rng *rand.Rand, zones ...plan.ID) *plan.Plan {
	t.Helper()
	net := pipework.Of(wrong)
	now, _ := pressure.Compute(wrong, net)
	q := withOwn(p)
	for _, truth := range now.Zones {
		if !slices.Contains(zones, truth.ID) {
			continue
		}
		if !truth.Solved {
			t.Fatalf("%s is not solved: %s", truth.ID, truth.Says)
		}
		z := q.Zones[truth.ID]
		lost, with := 0.0, plan.ID(strings.TrimPrefix(wrong.Name, together))
		if n, _ := fmt.Sscanf(wrong.Name, leaking+"%g", &lost); n == 1 {
			truth.Flow += units.GPM(lost)
		}
		if _, ok := p.Zones[with]; ok && with != truth.ID {
			both := pressure.Together(wrong, net, truth.ID, with)
			both[0].Flow += both[1].Flow
			truth = both[0]
		}
		z.Runs = map[plan.ID]plan.ZoneRun{"r1": measure(truth, zoneOf(d, truth.ID).Worst, now.Static[net.Source], rng)}
		q.Zones[truth.ID] = z
	}
	return q
}

func zoneOf(d *design.Design, id plan.ID) pressure.Zone {
	for _, z := range d.Pressure.Zones {
		if z.ID == id {
			return z
		}
	}
	return pressure.Zone{}
}

func runOf(s Start, zone plan.ID) Run {
	for _, z := range s.Zones {
		if z.ID == zone {
			return z.Runs[0]
		}
	}
	return Run{}
}

func placeOf(list []Likely, names []Cause) int {
	for i, l := range list {
		for _, n := range names {
			if l.Cause == n {
				return i
			}
		}
	}
	return len(list)
}

func list(l []Likely) string {
	out := ""
	for _, c := range l {
		out += fmt.Sprintf(" %s %.2f", c.Cause, c.Weight)
	}
	return out
}
