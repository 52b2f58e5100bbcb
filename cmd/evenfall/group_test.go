package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

func TestGroupWritesZonesThatTheSupplyFeeds(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "grouped.json")
	got := ask(astray, "group", "-", "--limit", "4", "--out", out)
	if got.code != 0 || got.err != "" {
		t.Fatalf("%d %s", got.code, got.err)
	}
	var said grouping
	if err := json.Unmarshal([]byte(got.out), &said); err != nil {
		t.Fatal(err)
	}
	if said.Format != "evenfall-zones/1" || len(said.Zones) == 0 || said.Bound.Says == "" || said.Limit != 4 {
		t.Fatalf("%+v", said)
	}
	grouped := readFile(t, out)
	heads := 0
	for _, z := range said.Zones {
		if z.Flow > said.Limit {
			t.Errorf("%s takes %g gpm", z.Name, float64(z.Flow))
		}
		if _, ok := grouped.Zones[z.Zone]; !ok {
			t.Errorf("zone %s is not in the plan", z.Zone)
		}
		for _, id := range z.Heads {
			heads++
			if grouped.Heads[id].Zone != z.Zone {
				t.Errorf("head %s is of zone %s, told %s", id, grouped.Heads[id].Zone, z.Zone)
			}
		}
	}
	if heads != len(grouped.Heads) {
		t.Errorf("%d of %d heads are in zones", heads, len(grouped.Heads))
	}
	if piped := ask(astray, "group", "-", "--limit", "4", "--out", "-", "--text"); piped.out != string(grouped.Encode()) || !strings.Contains(piped.err, "ZONES, AT THE MOST 4.00 GPM EACH") {
		t.Errorf("%d %s", piped.code, piped.err)
	}
}

func TestGroupSaysWhyItCannot(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		stdin string
		args  []string
		code  int
		says  string
	}{
		{astray, []string{"-"}, exitUsage, "--out"},
		{astray, []string{"-", "--out", "-", "--limit", "0"}, exitFailed, "from 0.1 to"},
		{astray, []string{"-", "--out", "-", "--limit", "0.5"}, exitFailed, "0.50 gpm"},
		{astray, []string{"-", "--out", "-", "--areas", "Pool"}, exitFailed, "No area of the plan is called"},
		{string(plan.Empty("Bare", "us").Encode()), []string{"-", "--out", "-"}, exitFailed, "ead"},
	} {
		if got := ask(c.stdin, append([]string{"group"}, c.args...)...); got.code != c.code || !strings.Contains(got.err, c.says) || got.out != "" {
			t.Errorf("%v: %d %q, want %d with %q", c.args, got.code, got.err, c.code, c.says)
		}
	}
}
