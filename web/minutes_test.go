package web

import (
	"encoding/json"
	"strings"
	"testing"
)

// The zones say how long they run in a week at peak, and the board what that rests
// on: the plan's own need where it has one.
func TestZonesSayTheirMinutesAtPeak(t *testing.T) {
	f := newFixture(t)
	read := func() Board {
		var b Board
		if err := json.Unmarshal(f.do("GET", "/api/plans/"+f.plan.ID+"/board", "").Body.Bytes(), &b); err != nil {
			t.Fatal(err)
		}
		return b
	}
	b := read()
	usual := b.Zones[0].Minutes
	if !strings.HasSuffix(usual, " min") || !strings.Contains(b.MinutesSays, "1.4 in on turf") || !strings.Contains(b.MinutesSays, "49 % for sprays") {
		t.Errorf("%q, %q", usual, b.MinutesSays)
	}
	f.plan = f.keep(strings.Replace(yard, `"supply":`, `"watering":{"peak_in_per_week":2.8},"supply":`, 1))
	if b := read(); b.Zones[0].Minutes == usual || !strings.Contains(b.MinutesSays, "2.8 in") {
		t.Errorf("of twice the need %q after %q: %q", b.Zones[0].Minutes, usual, b.MinutesSays)
	}
	f.plan = f.keep(strings.Replace(yard, `"supply":`, `"watering":{"audited_du":0.9},"supply":`, 1))
	if b := read(); b.Zones[0].Minutes == usual || !strings.Contains(b.MinutesSays, "audited evenness of 90 %") {
		t.Errorf("audited: %q after %q: %q", b.Zones[0].Minutes, usual, b.MinutesSays)
	}
}
