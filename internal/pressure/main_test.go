package pressure

import (
	"math"
	"testing"

	"evenfall/internal/hydraulics"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
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
