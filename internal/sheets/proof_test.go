package sheets

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/units"
)

// provedYard is the demo with what was tested, found and measured on it, in the units of sys.
func provedYard(t testing.TB, sys units.System) (*plan.Plan, *design.Design) {
	t.Helper()
	p, _ := load(t, "demo.json")
	patch, err := os.ReadFile("../../testdata/proved.patch.json")
	if err != nil {
		t.Fatal(err)
	}
	if p, err = plan.Preview(p.Encode(), plan.Patch(patch)); err != nil {
		t.Fatal(err)
	}
	p.Show = sys
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return p, d
}

// auditsOf are the audits of a plan. What a fit says of heads is put in their place by hand,
// as it is the fit's own tests that hold it.
func auditsOf(t testing.TB, p *plan.Plan) []*proof.Audited {
	t.Helper()
	audits, err := proof.Audits(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range audits {
		a.Heads = []proof.HeadFault{
			{Head: "h4-2", Tag: "4-2", Output: "52 % of what it should give (38 to 66 %)", Verdict: "gives about half of its water", Look: "Filter, nozzle, swing pipe.", Fault: true, Sure: true, Share: .52, Low: .38, High: .66},
			{Head: "h4-5", Tag: "4-5", Output: "96 % of what it should give (80 to 112 %)", Tilt: "leans 9° to the south", Verdict: "leans", Fault: true, Share: .96, Low: .8, High: 1.12, TiltDeg: 9, TiltToward: 270},
		}
		a.Faults, a.Unsure = a.Heads, []string{"These cans do not tell heads 4-7 and 4-8 apart."}
	}
	return audits
}

// startOf is the start-up log of a plan. Steps and causes are put in their place by hand, as
// their words are held by the tests of proof.
func startOf(p *plan.Plan, d *design.Design) proof.Start {
	s := proof.StartUp(p, d)
	s.Steps = []proof.Step{
		{ID: proof.StepShut, Title: "Everything shut", How: "Shut-off, zone valves, drains.", Done: &plan.StepDone{On: "2026-05-30", By: "A. Fitter", Note: "61 psi"}},
		{ID: proof.StepFill, Title: "Fill slowly", How: "The inlet first.", Caution: "Nobody stands over a joint."},
	}
	for i := range s.Zones {
		for j := range s.Zones[i].Runs {
			if r := &s.Zones[i].Runs[j]; !r.Good {
				r.Likely = []proof.Likely{{Cause: "nozzle", Says: "stopped-up screens", Why: "less flows, at more pressure", Do: "rinse them", Weight: 0.6}}
			}
		}
	}
	return s
}

// provedTables are the four lists of a plan.
func provedTables(t testing.TB, p *plan.Plan, d *design.Design) map[string]Table {
	t.Helper()
	audits := auditsOf(t, p)
	return map[string]Table{
		"start-up": StartLog(p, startOf(p, d)), "terminal-map": Terminals(proof.WiresAlong(p, d.Wiring)),
		"audits": Audits(p, audits), "as-built": Built(p, proof.BuiltOf(p, d)),
	}
}

// The lists and the text of a yard that was started up, wired, audited and measured, as
// they were looked through once.
func TestProofAsLookedThrough(t *testing.T) {
	t.Parallel()
	for _, sys := range []units.System{units.US, units.Metric} {
		p, d := provedYard(t, sys)
		tables := provedTables(t, p, d)
		for _, name := range []string{"start-up", "terminal-map", "audits", "as-built"} {
			var out bytes.Buffer
			if err := CSV(&out, tables[name]); err != nil {
				t.Fatal(err)
			}
			golden(t, name+"-"+string(sys)+".csv", out.String())
		}
		audits := auditsOf(t, p)
		start, wires := startOf(p, d), proof.WiresAlong(p, d.Wiring)
		var out bytes.Buffer
		if err := ProofText(&out, p, Proved{Start: &start, Wires: &wires, Built: proof.BuiltOf(p, d), Audits: audits, Audited: true}); err != nil {
			t.Fatal(err)
		}
		golden(t, "proof-"+string(sys)+".txt", out.String())
	}
}

// What is entered stands in its list once, beside what is predicted, and no words that a
// user typed run as a formula.
func TestProofListsHoldWhatWasEntered(t *testing.T) {
	t.Parallel()
	p, d := provedYard(t, units.US)
	for name, table := range provedTables(t, p, d) {
		var out bytes.Buffer
		if err := CSV(&out, table); err != nil {
			t.Fatal(err)
		}
		if _, err := csv.NewReader(&out).ReadAll(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for i, row := range table.Rows {
			if len(row) != len(table.Columns) {
				t.Errorf("%s: row %d has %d cells of %d", name, i+1, len(row), len(table.Columns))
			}
		}
	}
	tables := provedTables(t, p, d)
	cell := func(name, column string, of func(row map[string]string) bool) string {
		t.Helper()
		var found []string
		for _, row := range words(tables[name])[1:] {
			line := map[string]string{}
			for i, c := range tables[name].Columns {
				line[c.Name] = row[i]
			}
			if of(line) {
				found = append(found, line[column])
			}
		}
		if len(found) != 1 {
			t.Fatalf("%s: %d rows, not one: %q", name, len(found), found)
		}
		return found[0]
	}
	third := func(row map[string]string) bool { return row["What"] == "Zone" && row["Station"] == "3" }
	if got := cell("start-up", "Flow measured, gpm", third); got != "9.10" {
		t.Errorf("zone 3 ran with %q", got)
	}
	if got := cell("start-up", "Measured at", third); got != "head 3-5" {
		t.Errorf("read at %q", got)
	}
	if got := cell("start-up", "Note", third); got != "-3 heads look weak" {
		t.Errorf("noted %q", got)
	}
	if got := cell("start-up", "Done on", func(row map[string]string) bool { return row["By"] == "A. Fitter" }); got != "2026-05-30" {
		t.Errorf("done on %q", got)
	}
	if got := cell("terminal-map", "Wire", func(row map[string]string) bool { return row["Terminal"] == "1" }); got != "blue" {
		t.Errorf("on terminal 1 is %q", got)
	}
	if got := cell("terminal-map", "To do", func(row map[string]string) bool { return row["Terminal"] == "3" }); !strings.Contains(got, "corroded splice") {
		t.Errorf("of terminal 3: %q", got)
	}
	if got := cell("as-built", "Moved", func(row map[string]string) bool { return row["Thing"] == "Head 1-1" }); !strings.Contains(got, "east") {
		t.Errorf("head 1-1 moved %q", got)
	}
	cans := 0
	for _, row := range words(tables["audits"]) {
		if row[2] == "Can" {
			cans++
		}
	}
	if want := len(p.Proof.Audits["a1"].Cans); cans != want {
		t.Errorf("%d cans listed of %d", cans, want)
	}
}

// A plan on which nothing is noted has lists that say so, or that are to be filled in.
func TestProofListsOfAnEmptyPlan(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Nothing", units.US)
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	for name, table := range provedTables(t, p, d) {
		if len(table.Rows) == 0 {
			t.Errorf("%s is empty and says nothing", name)
		}
	}
	start, wires := proof.StartUp(p, d), proof.WiresAlong(p, d.Wiring)
	var out bytes.Buffer
	if err := ProofText(&out, p, Proved{Start: &start, Wires: &wires, Heads: []proof.HeadStep{}, Built: []proof.BuiltThing{}, Audited: true, Retrofit: &proof.RetrofitPlan{Says: "Nothing is noted."}}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"START-UP", "WIRES AT THE CONTROLLER", "NOZZLES", noneBuilt[:40], noAudit, "Nothing is noted."} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not in\n%s", want, out.String())
		}
	}
}
