package main

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// astray is a lawn with a head in each corner, one of which is turned away.
const astray = `{"format":"evenfall-plan/1","name":"Astray","show":"us",
"options":{"edge_lip_ft":0},
"areas":{
 "a1":{"name":"Front lawn","kind":"planting","outline":[[0,0],[15,0],[15,15],[0,15]]},
 "a2":{"name":"Walk","kind":"paving","outline":[[15,0],[25,0],[25,15],[15,15]]}},
"heads":{
 "h1":{"tag":"1-1","nozzle":"n1","body":"b1","x_ft":0.4,"y_ft":0.4,"sweep_deg":90,"zone":"z1"},
 "h2":{"tag":"1-2","nozzle":"n1","body":"b1","x_ft":14.6,"y_ft":0.4,"start_deg":0,"sweep_deg":90,"zone":"z1"},
 "h3":{"tag":"1-3","nozzle":"n1","body":"b1","x_ft":14.6,"y_ft":14.6,"start_deg":180,"sweep_deg":90,"zone":"z1"},
 "h4":{"tag":"1-4","nozzle":"n1","body":"b1","x_ft":0.4,"y_ft":14.6,"start_deg":270,"sweep_deg":90,"zone":"z1"}},
"zones":{"z1":{"name":"Front","station":1}},
"nozzles":{"n1":{"name":"Spray 15","family":"spray","generic":true,"source":"made up","arc_least_deg":1,"arc_most_deg":360,"flow_follows_arc":true,"trajectory_deg":25,"profile":{"kind":"linear"},"turn_down":{"usual_share":0.75,"least_share":0.6,"flow_power":1},"best_psi":30,"rows":[{"pressure_psi":30,"throw_ft":15,"flow_gpm":3.7}],"thread":"spray"}},
"bodies":{"b1":{"name":"Body 4","generic":true,"source":"made up","height_in":4,"check_valve":false,"takes":"spray","inlet_in":0.5}}}`

func TestImproveTakesTheChangesAskedFor(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "mended.json")
	got := ask(astray, "improve", "-", "--out", out)
	if got.code != 0 || got.err != "" {
		t.Fatalf("%d %s", got.code, got.err)
	}
	var said mends
	if err := json.Unmarshal([]byte(got.out), &said); err != nil {
		t.Fatal(err)
	}
	if said.Format != "evenfall-mends/1" || len(said.Changes) == 0 || said.Says == "" {
		t.Fatalf("%+v", said)
	}
	first := said.Changes[0]
	if first.Number != 1 || !first.Taken || first.Area != "a1" || len(first.To) == 0 || !(first.After.HardGPM < first.Before.HardGPM) || !(first.After.DU > first.Before.DU) {
		t.Errorf("%+v", first)
	}
	if len(first.To) != 1 || first.To[0].ID != "h2" {
		t.Errorf("it changes %+v", first.To)
	}
	mended := readFile(t, out)
	if h := mended.Heads["h2"]; h.StartDeg == 0 && h.X == 14.6 {
		t.Errorf("head 1-2 is as it was: %+v", h)
	}
	// Nothing taken, the plan is as it was; text says so.
	p, err := plan.Decode([]byte(astray))
	if err != nil {
		t.Fatal(err)
	}
	none := ask(astray, "improve", "-", "--take", "none", "--text", "--out", "-")
	if none.code != 0 || none.out != string(p.Encode()) || !strings.Contains(none.err, "PASSED OVER") || !strings.Contains(none.err, "Before") {
		t.Errorf("%d %s", none.code, none.err)
	}
	// What was mended once needs no second time.
	again := ask(string(mended.Encode()), "improve", "-", "--out", "-")
	var then mends
	if err := json.Unmarshal([]byte(again.err), &then); err != nil || len(then.Changes) >= len(said.Changes) {
		t.Errorf("%v: again %d changes after %d", err, len(then.Changes), len(said.Changes))
	}
	for take, says := range map[string]string{"0": "--take 0: the changes have the numbers 1 to", "1,x": "--take 1,x", "99": "--take 99"} {
		if got := ask(astray, "improve", "-", "--take", take, "--out", "-"); got.code != exitFailed || !strings.Contains(got.err, says) || got.out != "" {
			t.Errorf("%s: %d %q", take, got.code, got.err)
		}
	}
}

func TestMendsAreTakenByNumber(t *testing.T) {
	t.Parallel()
	for list, want := range map[string][]int{"all": {0, 1, 2}, "none": nil, "": nil, "2": {1}, "3, 1,3": {0, 2}} {
		if got, err := mendsTaken(list, 3); err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %v, %v", list, got, err)
		}
	}
	if _, err := mendsTaken("1", 0); err == nil {
		t.Error("a change there is not is taken")
	}
}
