package pressure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/hydraulics"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// throughValve returns how much passes each device when a zone runs, by code.
func throughValve(t *testing.T, y yard, zone plan.ID) (flows map[string]float64, out float64) {
	t.Helper()
	w := newWater(y.Plan, pipework.Of(y.Plan))
	m := w.build([]plan.ID{zone})
	z := w.solve([]plan.ID{zone})[0]
	if !z.Solved {
		t.Fatal(z.Says)
	}
	state, err := hydraulics.Solve(&m.Network, nil)
	if err != nil {
		t.Fatal(err)
	}
	flows = map[string]float64{}
	for _, p := range m.above {
		if p.device != nil && p.head == "" {
			flows[p.device.code] += math.Abs(float64(state.Flow[p.link]))
		}
	}
	return flows, float64(z.Flow)
}

// A main that goes on past a zone's valve does so before the valve: the next zone's
// water meets its own valve alone.
func TestTheMainGoesOnBeforeAValve(t *testing.T) {
	y := straight(2)
	y.Zones["z2"] = plan.Zone{Name: "Next", Station: 2}
	y.node("v2", "valve", "z2", 20, 30)
	y.pipe("", "pvc-sch40", 1, "v", "v2")
	y.head("h9", "flat", "body", "z2", 180, 40, 30)
	y.pipe("z2", "pvc-class200", 1, "v2", "h9")
	if flows, out := throughValve(t, y, "z2"); math.Abs(flows["valve"]-out) > 1e-6 {
		t.Errorf("%.3f gpm pass valves on the way of %.3f", flows["valve"], out)
	}
}

// In a loop of the main all water of a zone still passes its valve and the backflow
// device, whichever way round it comes.
func TestRowE3_AllWaterOfALoopedMainPassesTheDevices(t *testing.T) {
	for _, loopFrom := range []plan.ID{"c", "b"} {
		y := straight(3)
		y.Supply.BackflowDevice = "backflow-pvb-1"
		if loopFrom == "b" {
			y.node("b", "backflow", "", 5, 0)
			first := y.Pipes["p01"]
			first.To = "b"
			y.Pipes["p01"] = first
			y.pipe("", "pvc-sch40", 1, "b", "v")
		}
		y.node("j", "joint", "", 20, 30)
		y.pipe("", "pvc-sch40", 1, loopFrom, "j", "v")
		flows, out := throughValve(t, y, "z1")
		for _, code := range []string{"backflow", "valve"} {
			if math.Abs(flows[code]-out) > 1e-6 {
				t.Errorf("loop from %s: %.3f gpm of %.3f pass the %s", loopFrom, flows[code], out, code)
			}
		}
	}
}

// A valve by hand in the main shuts the system off as well as one chosen for the
// supply; one in a lateral, or with no pipe, does not.
func TestRow27_AValveByHandShutsTheSystemOff(t *testing.T) {
	y := straight(3)
	y.want(t, plan.NoIsolation, plan.Mend, "no valve to shut the system off")
	y.node("hand", "valve", "", 10, 0)
	y.want(t, plan.NoIsolation, plan.Mend, "no valve")
	first := y.Pipes["p01"]
	first.To = "hand"
	y.Pipes["p01"] = first
	y.pipe("", "pvc-sch40", 1, "hand", "v")
	y.want(t, plan.NoIsolation, "")
}

// A body regulates only what it has: heads whose bodies get less than their setting
// count in the spread of their zone as bare ones do, and those at it do not.
func TestRowE15_BodiesUnderTheirSettingCountInTheSpread(t *testing.T) {
	spread := func(body plan.ID, static units.PSI) float64 {
		y := straight(9)
		y.root("flat", catalog.Rotor, 2)
		y.Bodies["held"] = catalog.Body{Name: "Held", Regulated: 40}
		y.Supply.StaticPSI, y.Supply.ResidualPSI = static, static-3
		for i := range 9 {
			id := plan.ID(fmt.Sprintf("h%d", i+1))
			h := y.Heads[id]
			h.Body = body
			y.Heads[id] = h
		}
		for i := range 9 {
			y.pipeSize(plan.ID(fmt.Sprintf("p%02d", i+2)), "pvc-class200", 0.75)
		}
		z := y.compute().Zones[0]
		if !z.Solved {
			t.Fatal(z.Says)
		}
		return float64(z.Spread)
	}
	bare, under, at := spread("body", 45), spread("held", 45), spread("held", 90)
	if bare < 0.05 || math.Abs(under-bare) > 1e-9 || at != 0 {
		t.Errorf("spread %.3f bare, %.3f under the setting, %.3f at it", bare, under, at)
	}
}

// What is shown of a zone whose valve stands behind another's says so.
func TestAZoneBehindAnothersValveSaysSo(t *testing.T) {
	y := straight(2)
	y.Zones["z2"] = plan.Zone{Name: "Behind", Station: 2}
	y.node("v2", "valve", "z2", 60, 0)
	y.pipe("z1", "pvc-class200", 1, "h2", "v2")
	y.head("h9", "flat", "body", "z2", 180, 90, 0)
	y.pipe("z2", "pvc-class200", 1, "v2", "h9")
	if z := y.compute().Zones[1]; !strings.Contains(z.Says, "behind the one of zone 1 (Row): this holds only while that one is open too.") {
		t.Errorf("%+v", z.Says)
	}
}

// The curve is read for the most demanding head of the plan; a zone of less demanding
// ones that passes it is to be mended, not stopped, while its heads get their pressure.
func TestRow15_AZoneWhoseHeadsAreServedIsNoStop(t *testing.T) {
	y := straight(3)
	y.root("flat", catalog.Rotor, 2)
	y.root("hard", catalog.Rotor, 1)
	hard := y.Nozzles["hard"]
	hard.BestPSI = 54
	y.Nozzles["hard"] = hard
	y.Zones["z2"] = plan.Zone{Name: "Hard", Station: 2}
	y.head("h9", "hard", "body", "z2", 180, 90, 40)
	y.want(t, plan.ZoneOverFlow, plan.Mend, "Zone 1 (Row) asks for 6.00 gpm, and the design flow is", "its own heads still get their pressure")
	y.Pipes = nil // nothing shows that they do
	y.want(t, plan.ZoneOverFlow, plan.Stop, "(Supply: flow at the pressure needed).")
	y.Supply.DesignFlowGPM, y.Supply.DesignFlowReason = 5, "as measured last year"
	y.want(t, plan.ZoneOverFlow, plan.Stop, "the design flow is 5.00 gpm, as chosen in the plan.")
}

// A little climb is not blamed for what a weak supply leaves: it is named beside it.
func TestRow23_ALittleClimbIsNotTheCause(t *testing.T) {
	y := straight(6)
	y.root("flat", catalog.Rotor, 2)
	y.Supply.StaticPSI, y.Supply.ResidualPSI = 32, 27
	y.Elevations["e1"], y.Elevations["e2"] = plan.Elevation{}, plan.Elevation{X: 80, Z: 5}
	y.want(t, plan.ClimbForgotten, "")
	y.want(t, plan.HeadsStarved, plan.Stop, "The supply, the devices on the way and the climb leave no more than", "whatever the pipe")
}

// Where heads stand higher than the breaker, its height is asked for; on level ground,
// and where it is given high enough, it is not.
func TestRow25_ABreakerUnderItsHeadsWantsItsHeightSaid(t *testing.T) {
	y := straight(3)
	y.Supply.BackflowDevice, y.Supply.BackflowAt = "backflow-pvb-1", &plan.Spot{X: 5}
	y.want(t, plan.BreakerLow, "")
	y.Elevations["a"], y.Elevations["b"] = plan.Elevation{}, plan.Elevation{X: 50, Z: 2}
	y.want(t, plan.BreakerLow, plan.Notice, "does not say how high", "2' 9 1/2\" above its own ground, since head h3")
	high := units.Feet(2.9)
	y.Supply.BackflowHeightFt = &high
	y.want(t, plan.BreakerLow, "")
}

// Heads in their table but well under what they are planned at are noted, once a zone,
// by a measured supply; an assumed one is to be measured first.
func TestRow20_HeadsUnderTheirPlannedPressureAreNoted(t *testing.T) {
	y := straight(6)
	y.root("flat", catalog.Rotor, 2)
	y.Supply.StaticPSI, y.Supply.ResidualPSI, y.Supply.NeededPSI = 42, 39, 20
	y.want(t, plan.HeadsStarved, plan.Notice, "of zone 1 (Row) get as little as", "where 40 psi is planned.")
	y.Supply.Measured = false
	y.want(t, plan.HeadsStarved, "")
}

// A breaker stands above the pipe that leaves it as well: heads below it do not let it
// down to the ground.
func TestRow25_ABreakerStandsAboveItsOwnPipe(t *testing.T) {
	y := straight(3)
	y.Supply.BackflowDevice, y.Supply.BackflowAt = "backflow-pvb-1", &plan.Spot{X: 5}
	y.Elevations["a"], y.Elevations["b"] = plan.Elevation{}, plan.Elevation{X: 50, Z: -6}
	low, high := units.Feet(0.5), units.Feet(1)
	y.Supply.BackflowHeightFt = &low
	y.want(t, plan.BreakerLow, plan.Stop, "stands 6\" above its ground, and 1' 0\" is needed there: 12\" above the pipe that leaves it.")
	y.Supply.BackflowHeightFt = &high
	y.want(t, plan.BreakerLow, "")
}
