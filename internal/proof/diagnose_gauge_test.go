package proof

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// Where bodies hold the pressure at the nozzles the flow has to tell most; a cause that it
// can tell at all is among those named.
func TestB16_BodiesThatRegulate(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	p = withOwn(p)
	if p.Devices == nil {
		p.Devices = map[plan.ID]catalog.Device{}
	}
	d := designed(t, p)
	named, all := 0, 0
	for _, f := range faults() {
		if f.names[0] == BlockedFilter { // the demo has no filter
			continue
		}
		for seed, zone := range []plan.ID{"z1", "z2", "z4", "z6"} {
			rng := rand.New(rand.NewPCG(uint64(seed), 13))
			wrong := withOwn(p)
			f.do(wrong, zone, rng)
			now := measured(t, p, wrong, d, rng, plan.SortedIDs(p.Zones)...)
			if f.once {
				then := now.Zones[zone]
				now = measured(t, p, p, d, rng, plan.SortedIDs(p.Zones)...)
				now.Zones[zone] = then
			}
			run := newWatch(now, d).run(zone, "r1", now.Zones[zone].Runs["r1"])
			if run.Good {
				t.Logf("not seen: %s in %s: %s", f.name, zone, run.Says)
				continue
			}
			if all++; placeOf(run.Likely, f.names) < len(run.Likely) {
				named++
			}
			t.Logf("%s in %s: %s %s", f.name, zone, run.Says, list(run.Likely))
		}
	}
	t.Logf("named in %d of %d", named, all)
	if 10*named < 9*all || all < 20 {
		t.Errorf("named in %d of %d", named, all)
	}
}

// Where bodies hold the pressure at the nozzles a gauge behind the valve tells what one at
// a head cannot.
func TestB16_GaugeBehindTheValve(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	p = withOwn(p)
	if p.Devices == nil {
		p.Devices = map[plan.ID]catalog.Device{}
	}
	d := designed(t, p)
	named, all := 0, 0
	for _, f := range faults() {
		if f.among || f.names[0] == BlockedFilter { // the demo has no filter
			continue
		}
		for seed, zone := range []plan.ID{"z1", "z2", "z4"} {
			rng := rand.New(rand.NewPCG(uint64(seed), 12))
			wrong := withOwn(p)
			f.do(wrong, zone, rng)
			now := measured(t, p, wrong, d, rng, plan.SortedIDs(p.Zones)...)
			net := pipework.Of(wrong)
			for _, z := range pressure.Check(wrong, net) {
				if f.once && z.ID != zone {
					continue
				}
				v := now.Zones[z.ID]
				r := v.Runs["r1"]
				r.PSIAt, r.AtHead, r.RunningPSI = "valve", "", predictedBy(z).Valve+units.PSI(rng.NormFloat64())
				v.Runs = map[plan.ID]plan.ZoneRun{"r1": r}
				now.Zones[z.ID] = v
			}
			run := newWatch(now, d).run(zone, "r1", now.Zones[zone].Runs["r1"])
			if run.Good {
				continue
			}
			if all++; placeOf(run.Likely, f.names) < 3 {
				named++
			} else {
				t.Logf("%s in %s: %s %s", f.name, zone, run.Says, list(run.Likely))
			}
		}
	}
	t.Logf("among the first three in %d of %d", named, all)
	if 10*named < 9*all || all < 20 {
		t.Errorf("among the first three in %d of %d", named, all)
	}
}

// On a morning with more pressure at rest than the least that the plan stands on, more
// flows; as long as that was read before, nothing is wrong.
func TestB16_AMorningOfMorePressureIsNoFault(t *testing.T) {
	t.Parallel()
	p := bare(t)
	d := designed(t, p)
	for _, c := range []struct {
		by   units.PSI
		good bool
		says string
	}{
		{8, true, "all as the pressure at rest of that day makes it"}, // 70 psi at 5 am is among the demo's readings
		{22, false, "22 psi over"},
		{-12, false, "12 psi under"},
	} {
		day := withOwn(p)
		day.Supply.Statics = nil
		day.Supply.StaticPSI += c.by
		day.Supply.ResidualPSI += c.by
		truth := pressure.Check(day, d.Pipework, "z3")[0]
		h := predictedBy(truth)
		v := plan.ZoneRun{StaticPSI: 62 + c.by, AtHead: h.Head, RunningPSI: h.Pressure, MeterGal: 10, MeterS: units.Seconds(600 / h.Flow)}
		run := newWatch(p, d).run("z3", "r1", v)
		if run.Good != c.good || !strings.Contains(run.Says, c.says) {
			t.Errorf("%+g psi: %v, %s %s", c.by, run.Good, run.Says, list(run.Likely))
		}
		if want := map[bool]Cause{true: HighSupply, false: LowSupply}[c.by > 0]; !c.good && run.Likely[0].Cause != want {
			t.Errorf("%+g psi: %s", c.by, list(run.Likely))
		}
	}
}

// An old system whose pipes nobody drew is held against what its heads take as planned:
// what flows out or not is still told, where a body holds the pressure.
func TestB16_WithoutPipesDrawn(t *testing.T) {
	t.Parallel()
	p, drawn := demo(t)
	p = withOwn(p)
	loose := withOwn(p)
	loose.Pipes, loose.Nodes = nil, nil
	d := designed(t, loose)
	named, all, good := 0, 0, 0
	for _, f := range append(faults(), fault{name: "nothing", do: func(*plan.Plan, plan.ID, *rand.Rand) {}}) {
		if f.among || f.once || len(f.names) > 0 && shownBy(f.names[0]).all {
			continue // which needs the supply
		}
		for seed, zone := range []plan.ID{"z1", "z2", "z4", "z6"} {
			rng := rand.New(rand.NewPCG(uint64(seed), 14))
			wrong := withOwn(p)
			f.do(wrong, zone, rng)
			now := measured(t, p, wrong, drawn, rng, plan.SortedIDs(p.Zones)...)
			old := withOwn(loose)
			old.Zones = now.Zones
			run := newWatch(old, d).run(zone, "r1", now.Zones[zone].Runs["r1"])
			switch {
			case len(f.names) == 0 && !run.Good:
				t.Errorf("nothing wrong in %s: %s %s", zone, run.Says, list(run.Likely))
			case run.Good:
				good++
			default:
				if all++; placeOf(run.Likely, f.names) < len(run.Likely) {
					named++
				} else {
					t.Logf("%s in %s: %s %s", f.name, zone, run.Says, list(run.Likely))
				}
			}
		}
	}
	t.Logf("named in %d of %d, %d within measuring", named, all, good)
	if 10*named < 9*all || all < 15 {
		t.Errorf("named in %d of %d", named, all)
	}
}

// A head that is stopped up lowers the pressure at itself alone: a gauge behind the valve
// does not see it.
func TestB16_OneHeadShowsOnlyAtItself(t *testing.T) {
	t.Parallel()
	p, d := demo(t)
	q := withOwn(p)
	w := newWatch(q, d)
	z := w.before["z2"]
	for _, c := range []struct {
		at    string
		psi   units.PSI
		named bool
	}{{"head", 0.7 * z.Pressure, true}, {"", 0.7 * z.Pressure, true}, {"valve", 0.7 * z.Valve, false}, {"tap", 0.7 * z.Tap, false}} {
		run := w.run("z2", "r1", plan.ZoneRun{On: "2026-05-01", FlowGPM: z.Flow, RunningPSI: c.psi, PSIAt: c.at})
		named := slices.ContainsFunc(run.Likely, func(l Likely) bool { return l.Cause == BlockedHead })
		if run.Good || named != c.named {
			t.Errorf("read at %q it names %s", c.at, list(run.Likely))
		}
	}
}
