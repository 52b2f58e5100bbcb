package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/pipework"
)

const cornerLot = "../../testdata/plans/demo.json"

func TestRouteWritesPipesThatReachEveryHead(t *testing.T) {
	t.Parallel()
	out := filepath.Join(t.TempDir(), "routed.json")
	got := ask("", "route", cornerLot, "--effort", "2000", "--out", out)
	if got.code != 0 || got.err != "" {
		t.Fatalf("%d %s", got.code, got.err)
	}
	var said routes
	if err := json.Unmarshal([]byte(got.out), &said); err != nil {
		t.Fatal(err)
	}
	if said.Format != "evenfall-routes/1" || len(said.Offers) != 1 || said.Taken != 1 || len(said.Blocked) > 0 {
		t.Fatalf("%+v", said)
	}
	if m := said.Offers[0].Measures; m.Bound <= 0 || m.Bound > m.Cost || m.Trench <= 0 {
		t.Errorf("%+v", m)
	}
	p := readFile(t, out)
	net := pipework.Of(p)
	for id, h := range p.Heads {
		if h.Zone != "" && net.HeadAt[id] == "" {
			t.Errorf("no pipe reaches head %s", h.Tag)
		}
	}
	if piped := ask("", "route", out, "--zones", "5", "--wire", "no", "--effort", "2000", "--out", "-", "--text"); piped.code != 0 || !strings.Contains(piped.err, "ROUTES") {
		t.Errorf("%d %s", piped.code, piped.err)
	}
}

func TestRouteSaysWhyItCannot(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{cornerLot}, exitUsage, "--out"},
		{[]string{cornerLot, "--out", "-", "--valves", "anywhere"}, exitFailed, "as_placed or weighed"},
		{[]string{cornerLot, "--out", "-", "--zones", "99"}, exitFailed, "99"},
		{[]string{cornerLot, "--out", "-", "--effort", "300", "--offer", "7"}, exitFailed, "no offer has this name"},
	} {
		got := ask("", append([]string{"route"}, c.args...)...)
		if got.code != c.code || !strings.Contains(got.err, c.says) {
			t.Errorf("%v: %d %s", c.args, got.code, got.err)
		}
	}
}
