package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

func TestE22_KeepOffWritesThePlanWithArcsTurnedIn(t *testing.T) {
	t.Parallel()
	doc, err := os.ReadFile("../../testdata/plans/bed-end.json")
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "kept.json")
	got := ask(string(doc), "keep-off", "-", "--area", "Flower bed", "--out", out)
	var said keptOff
	if err := json.Unmarshal([]byte(got.out), &said); err != nil || got.code != 0 || got.err != "" {
		t.Fatalf("%v: %d %s", err, got.code, got.err)
	}
	if said.Format != "evenfall-kept-off/1" || said.Area != "bed" || !said.Offered || len(said.Changes) != 3 || len(said.Grounds) != 1 || said.Before.Others < 0.2 || said.After.Others > 1e-6 || !(said.After.Own > 1) {
		t.Errorf("%+v", said)
	}
	if h := readFile(t, out).Heads["h1-4"]; h.StartDeg != 90 || h.SweepDeg != 90 {
		t.Errorf("head 1-4: %+v", h)
	}
	// Where it is not worth it the plan stays, and the text says so.
	demo, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(demo)
	if err != nil {
		t.Fatal(err)
	}
	not := ask(string(demo), "keep-off", "-", "--area", "island", "--text", "--out", "-")
	if not.code != 0 || not.out != string(p.Encode()) || !strings.Contains(not.err, "Not worth it: Island bed") || !strings.Contains(not.err, "WHAT WOULD HAVE TO CHANGE") {
		t.Errorf("%d %s", not.code, not.err)
	}
	for _, c := range []struct{ area, says string }{{"", "Name the one planting area"}, {"drive", "Drive is not a planting area"}, {"island,strip", "Name the one planting area"}} {
		if got := ask(string(demo), "keep-off", "-", "--area", c.area, "--out", "-"); got.code != exitFailed || got.out != "" || !strings.Contains(got.err, c.says) {
			t.Errorf("%q: %d %q", c.area, got.code, got.err)
		}
	}
}
