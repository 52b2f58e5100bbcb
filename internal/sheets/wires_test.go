package sheets

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Every valve and sensor of the demo is on the wire list once, with what the wiring
// says of it.
func TestWireListHoldsEveryValve(t *testing.T) {
	p, d := load(t, "demo.json")
	rows := map[string]map[string]string{}
	for _, row := range readCSV(t, "wires.csv", p, d) {
		name := row["Valve or sensor"]
		if rows[name] != nil {
			t.Errorf("%q stands twice", name)
		}
		rows[name] = row
	}
	if len(d.Wiring.Runs) != 6 || len(d.Wiring.Sensors) != 1 {
		t.Fatalf("%d valves and %d sensors", len(d.Wiring.Runs), len(d.Wiring.Sensors))
	}
	for _, r := range d.Wiring.Runs {
		row := rows[plan.Capital(p.ZoneName(r.To.ID()))]
		if row == nil {
			t.Errorf("%s is not listed", r.To)
			continue
		}
		length, err := units.ParseNumber(row["Length one way, ft"])
		if err != nil || math.Abs(length-float64(r.Length)) > 0.0051 || row["Wire"] != "18 AWG" || row["Common"] != "18 AWG" || row["Conductor"] == "" || row["Spliced in"] == "" {
			t.Errorf("%v, of %+v", row, r)
		}
		if row["Note"] != "" {
			t.Errorf("the sum stands where 18 AWG does: %s", row["Note"])
		}
	}
	if row := rows["The rain sensor"]; row["Wire"] != "lead of 2 conductors" || row["Length one way, ft"] == "" {
		t.Errorf("the sensor's lead: %v", row)
	}
	if note := rows[NoteName]["Note"]; !strings.HasPrefix(note, "18 AWG") || !strings.Contains(note, d.Wiring.Why) {
		t.Errorf("note %q", note)
	}
}

// Where the drop asks for thicker wire the sums are in the list and in the report, and
// what has no way says why.
func TestRow37_SumsStandWhereTheDropDecides(t *testing.T) {
	p, d := load(t, "mistakes/37-wire-too-thin-mended.json")
	for _, row := range readCSV(t, "wires.csv", p, d) {
		if station := row["Station"]; station != "" && station != NoteName && !strings.Contains(row["Note"], "20 V are the least") {
			t.Errorf("no sum: %v", row)
		}
	}
	var out bytes.Buffer
	if err := Report(&out, p, d, design.Asked{}); err != nil {
		t.Fatal(err)
	}
	said := []string{"WIRE\n  18 AWG with a common of 14 AWG direct-burial", "leaves 20.6 V", "electrician", "waterproof connectors in 2 boxes"}
	for _, want := range said {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the report does not say %q:\n%s", want, out.String())
		}
	}
	out.Reset()
	if err := WriteFile(&out, "wires.txt", p, d); err != nil {
		t.Fatal(err)
	}
	for _, want := range append(said, "Wire: Wires to two valves", "Common wire 14 AWG, white.", "surge arrester", "taped together every 10 ft", "box of valve 2") {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the wire list does not say %q:\n%s", want, out.String())
		}
	}
	p.Show, p.Wires = units.Metric, nil
	d = run(t, p)
	for _, row := range readCSV(t, "wires.csv", p, d) {
		if station := row["Station"]; station != "" && station != NoteName && (!strings.HasPrefix(row["Note"], "No way for its wire yet: ") || row["Length one way, m"] != "") {
			t.Errorf("no way is drawn, and %v", row)
		}
	}
	p, _ = load(t, "mistakes/37-wire-too-thin-mended.json")
	zone := p.Zones["z1"]
	zone.Status = plan.Existing
	p.Zones["z1"] = zone
	if row := readCSV(t, "wires.csv", p, run(t, p))[0]; row["Note"] != "Its wire is there already." || row["Status"] != "existing" {
		t.Errorf("an old valve: %v", row)
	}
}

func run(t *testing.T, p *plan.Plan) *design.Design {
	t.Helper()
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
