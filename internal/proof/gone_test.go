package proof_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// Records outlive what they name: a zone, a head and an area that were taken off the plan
// after they were noted. Nothing fails by it, and what cannot be told any more says why.
func TestWhatRecordsNameMayBeGone(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	o, err := proof.OfferCans(p, "back-lawn", proof.CansByGrid, 24)
	if err != nil {
		t.Fatal(err)
	}
	if p, err = plan.Preview(p.Encode(), o.Patch); err != nil {
		t.Fatal(err)
	}
	a := p.Proof.Audits["a1"]
	for _, id := range plan.SortedIDs(a.Cans) {
		c, ml := a.Cans[id], 25.0
		c.ML = &ml
		a.Cans[id] = c
	}
	a.ThroatIn2 = 16
	part, area := a, a
	part.Runs = map[plan.ID]float64{"z4": 20, "gone": 20}
	area.Area, area.Runs = "gone", map[plan.ID]float64{"gone": 20}
	p.Proof.Audits = map[plan.ID]plan.Audit{"a1": part, "a2": area}
	p.Proof.Cans, p.Proof.Minutes, p.Proof.ThroatIn2 = a.Cans, 20, 16 // and one of an older document
	p.Proof.Wires = map[plan.ID]plan.FoundWire{"w1": {Order: 1, Mark: "red", Terminal: 2}, "w2": {Order: 2, Mark: "white", Common: true}}
	away := p.Zones["z5"]
	away.Status = plan.Remove
	p.Zones["z5"] = away
	p.Proof.Wires["w3"] = plan.FoundWire{Order: 3, Mark: "blue", Terminal: 5}
	p.Proof.Touches = map[plan.ID]plan.Touch{"t3": {Order: 3, Wire: "w3", Ran: []plan.ID{"z5"}}, "t1": {Order: 1, Wire: "w1", Ran: []plan.ID{"gone"}}, "t2": {Order: 2, Wire: "gone", Ran: []plan.ID{"z1"}}}
	p.Proof.Tests = map[plan.ID]plan.PressureTest{"t1": {Of: "gone", Start: 60, End: 60, Minutes: 20}}
	z := p.Zones["z1"]
	z.Runs = map[plan.ID]plan.ZoneRun{"r1": {On: "2026-05-01", AtHead: "gone", RunningPSI: 30, FlowGPM: 8}}
	p.Zones["z1"] = z
	if p, err = plan.Decode(p.Encode()); err != nil {
		t.Fatal(err)
	}
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	has := func(what string, list []string, want string) {
		t.Helper()
		if !strings.Contains(strings.Join(list, "\n"), want) {
			t.Errorf("%s: %q says nothing of %q", what, list, want)
		}
	}
	x, err := proof.AuditOf(context.Background(), p, "a1")
	if err != nil {
		t.Fatal(err)
	}
	has("an audit of two zones", x.Notes, "1 zone that ran is gone from the plan")
	for i := 1; i < len(x.Heads); i++ {
		if plan.NaturalKey(x.Heads[i-1].Tag) > plan.NaturalKey(x.Heads[i].Tag) {
			t.Errorf("%s comes before %s", x.Heads[i-1].Tag, x.Heads[i].Tag)
		}
	}
	if x, err = proof.AuditOf(context.Background(), p, "a2"); err != nil {
		t.Fatal(err)
	}
	has("an audit whose zone is gone", append(x.Unsure, x.Uses), "The zones that ran are gone from the plan")
	if x.Area != "" || !x.Known || x.Patch != nil {
		t.Errorf("an audit whose zone is gone: %+v", x)
	}
	if x, err = proof.AuditOf(context.Background(), p, ""); err != nil || !x.Known {
		t.Errorf("the audit of an older document: %v, %+v", err, x)
	}
	if got := len(proof.AuditLines(p)); got != 3 {
		t.Errorf("%d audits, want 3", got)
	}
	w := proof.Wires(p)
	has("a wire", []string{w.Wires[0].Warn}, "no zone of the plan any more")
	has("the wire of a zone to be removed", []string{w.Wires[2].Warn}, "no zone of the plan any more")
	if w.Wires[2].Moves != "" || w.Wires[2].Goes != "" {
		t.Errorf("the wire of a zone to be removed goes on %q: %s", w.Wires[2].Goes, w.Wires[2].Moves)
	}
	listed := ""
	for _, e := range w.Terminals {
		listed += e.Wire + " "
	}
	has("the terminal map", []string{listed}, "red blue")
	if w.Found != 0 {
		t.Errorf("%d zones found by wires of what is gone", w.Found)
	}
	s := proof.StartUp(p, d)
	has("a test", []string{s.Tests[0].Of}, "gone")
	has("a run", []string{s.Zones[0].Runs[0].Says}, "at a head that is not in the zone any more")
}
