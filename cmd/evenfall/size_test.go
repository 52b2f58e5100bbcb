package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
)

const pipedYard = testPlans + "/mistakes/33-size-grows.json"

func TestSolvePrintsTheSolutionAsItIsComputed(t *testing.T) {
	got := ask("", "solve", pipedYard)
	if got.code != 0 || got.err != "" {
		t.Fatalf("%d %s", got.code, got.err)
	}
	var said struct {
		Format string          `json:"format"`
		Plan   string          `json:"plan_sha256"`
		Supply pressure.Supply `json:"supply"`
		Zones  []pressure.Zone `json:"zones"`
	}
	if err := json.Unmarshal([]byte(got.out), &said); err != nil {
		t.Fatal(err)
	}
	p := readFile(t, pipedYard)
	want, _ := pressure.Compute(p, pipework.Of(p))
	if said.Format != "evenfall-pressures/1" || said.Plan != plan.Digest(p.Encode()) || len(said.Zones) != 1 || !said.Zones[0].Solved ||
		said.Zones[0].Flow != want.Zones[0].Flow || said.Supply.DesignGPM != want.Supply.DesignGPM || len(said.Zones[0].Budget) == 0 {
		t.Errorf("%+v", said)
	}
	text := ask("", "solve", "--text", pipedYard)
	for _, w := range []string{"SUPPLY", "ZONE 1", "From street to head", "At the nozzle"} {
		if !strings.Contains(text.out, w) {
			t.Errorf("%q is not in\n%s", w, text.out)
		}
	}
}

// Two zones at once take more of the supply than either alone.
func TestSolveRunsZonesTogether(t *testing.T) {
	demoFile := testPlans + "/demo.json"
	zones := func(args ...string) []pressure.Zone {
		t.Helper()
		got := ask("", append([]string{"solve", demoFile}, args...)...)
		var said struct {
			Zones []pressure.Zone `json:"zones"`
		}
		if err := json.Unmarshal([]byte(got.out), &said); got.code != 0 || err != nil {
			t.Fatal(got.code, got.err, err)
		}
		return said.Zones
	}
	alone, both := zones("--together", "3"), zones("--together", "3, 5")
	if len(alone) != 1 || len(both) != 2 || !both[1].Solved || !(both[0].Heads[0].Inlet < alone[0].Heads[0].Inlet-0.5) {
		t.Errorf("%d and %d zones", len(alone), len(both))
	}
	for args, says := range map[string]string{"1,x": "takes numbers of stations", "1,99": "no zone of the plan is on station 99"} {
		if got := ask("", "solve", demoFile, "--together", args); got.code != exitFailed || !strings.Contains(got.err, says) {
			t.Errorf("%s: %d %s", args, got.code, got.err)
		}
	}
}

func readFile(t *testing.T, name string) *plan.Plan {
	t.Helper()
	doc, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestSizeWritesAPlanAndNeverOverOne(t *testing.T) {
	out := filepath.Join(t.TempDir(), "sized.json")
	got := ask("", "size", pipedYard, "--out", out)
	if got.code != 0 || !strings.Contains(got.err, "CHANGES") || !strings.Contains(got.err, "Good: ") {
		t.Fatalf("%d %s", got.code, got.err)
	}
	sized := readFile(t, out)
	net := pipework.Of(sized)
	for id, v := range net.Pipes {
		if up := net.Nodes[v.From].Up; v.Size.Inside <= 0 || up != "" && net.Pipes[up].Size.Nominal < v.Size.Nominal {
			t.Errorf("%s is %g in", id, float64(v.Size.Nominal))
		}
	}
	first, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if again := ask("", "size", pipedYard, "--out", out); again.code != 1 || !strings.Contains(again.err, "is there already; add --force") {
		t.Errorf("%d %s", again.code, again.err)
	}
	if now, err := os.ReadFile(out); err != nil || string(now) != string(first) {
		t.Error("the file is not as it was", err)
	}
	if forced := ask("", "size", "--force", pipedYard, "--out", out); forced.code != 0 {
		t.Errorf("%d %s", forced.code, forced.err)
	}
	if piped := ask("", "size", pipedYard, "--out", "-"); piped.out != string(first) {
		t.Errorf("standard output is not the plan: %.80s", piped.out)
	}
}

func TestRowA28_SizeSaysWhyItCannot(t *testing.T) {
	out := filepath.Join(t.TempDir(), "sized.json")
	bare := string(plan.Empty("Bare", "us").Encode())
	weak := readFile(t, pipedYard)
	weak.Supply.StaticPSI, weak.Supply.ResidualPSI = 20, 15
	for _, c := range []struct {
		stdin string
		args  []string
		code  int
		says  string
	}{
		{"", []string{"size", pipedYard}, exitUsage, "--out"},
		{"", []string{"size", "--out", out}, exitUsage, "Name one plan file"},
		{"", []string{"solve"}, exitUsage, "Name one plan file"},
		{bare, []string{"size", "-", "--out", out}, exitFailed, "No pipe is drawn yet."},
		{string(weak.Encode()), []string{"size", "-", "--out", out}, exitFailed, "What binds is the pressure of the supply"},
	} {
		if got := ask(c.stdin, c.args...); got.code != c.code || !strings.Contains(got.err, c.says) || got.out != "" {
			t.Errorf("%v: %d %q, want %d with %q", c.args, got.code, got.err, c.code, c.says)
		}
	}
	if _, err := os.Stat(out); !os.IsNotExist(err) {
		t.Error("something was written", err)
	}
}
