package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/jsonschema-go/jsonschema"

	"evenfall/internal/plan"
)

// provedDemo is the demo with what was tested, found and measured on it, changed by a patch.
func provedDemo(t testing.TB, patch string) string {
	t.Helper()
	doc, err := os.ReadFile(filepath.Join(testPlans, "demo.json"))
	if err != nil {
		t.Fatal(err)
	}
	proved, err := os.ReadFile("../../testdata/proved.patch.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Preview(doc, plan.Patch(proved))
	if err == nil && patch != "" {
		p, err = plan.Preview(p.Encode(), plan.Patch(patch))
	}
	if err != nil {
		t.Fatal(err)
	}
	return string(p.Encode())
}

// The schema is made from the types and from the words after them, so that it cannot say
// anything else.
func TestSchemaOfProofIsTrueToTheTypes(t *testing.T) {
	freshSchema[proofAnswer](t, "proof", "Evenfall proof",
		"What was tested, found and measured on the system of one plan, beside what the plan predicts. Sentences are in the units of the plan, figures in those of their names.")
}

// What is printed for programs keeps to its schema, whatever parts are asked for, and is
// the same every time.
func TestProofAsJSONKeepsToItsSchema(t *testing.T) {
	t.Parallel()
	var s jsonschema.Schema
	if err := json.Unmarshal(proofSchema, &s); err != nil {
		t.Fatal(err)
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	full := provedDemo(t, "")
	for _, c := range []struct {
		doc   string
		parts []string
	}{
		{full, nil}, {full, []string{"--part", "wires"}}, {full, []string{"--part", "start, audit"}},
		{demo(t), nil}, {string(plan.Empty("Nothing", "us").Encode()), nil},
	} {
		args := append(append([]string{"proof", "--json"}, c.parts...), "-")
		got, again := ask(c.doc, args...), ask(c.doc, args...)
		if got.code != 0 || got.out != again.out || got.err != "" {
			t.Fatalf("%q: code %d, twice alike: %v, %s", args, got.code, got.out == again.out, got.err)
		}
		var v any
		if err := json.Unmarshal([]byte(got.out), &v); err != nil {
			t.Fatal(err)
		}
		if err := r.Validate(v); err != nil {
			t.Errorf("%q: %v", args, err)
		}
	}
	var a proofAnswer
	if err := json.Unmarshal([]byte(ask(full, "proof", "--json", "-").out), &a); err != nil {
		t.Fatal(err)
	}
	if a.Format != "evenfall-proof/1" || len(a.Plan) != 64 || a.Start == nil || len(a.Start.Zones) != 6 || len(a.Start.Steps) < 8 || len(a.Heads) == 0 || len(a.Built) != 3 || len(a.Audits) != 1 || a.Retrofit == nil {
		t.Fatalf("%+v", a)
	}
	// The map by hand: red ran zone 2, blue zone 1, so these two are swapped.
	if w := a.Wires; len(w.Wires) != 8 || w.Wires[1].Goes != "2" || w.Wires[1].Moves != "Move from 1 to 2." || w.Next == nil || w.Next.Kind != "touch" || w.Terminals[1].Wire != "blue" {
		t.Errorf("%+v", a.Wires)
	}
	if cans := a.Audits[0].Cans; len(cans) != 24 || cans[0].Depth == nil || cans[0].Expected == nil {
		t.Errorf("%d cans", len(cans))
	}
	some := ask(full, "proof", "--json", "--part", "wires", "-").out
	for _, gone := range []string{`"start_up"`, `"heads":`, `"audits"`, `"retrofit"`, `"as_built"`} {
		if strings.Contains(some, gone+" ") || strings.Contains(some, gone+":") || strings.Contains(some, "\n  "+gone) {
			t.Errorf("%s is printed, and was not asked for", gone)
		}
	}
}

func TestProofCommandsAnswer(t *testing.T) {
	t.Parallel()
	full := provedDemo(t, "")
	for _, c := range []struct {
		name string
		doc  string
		args []string
		code int
		out  string
		err  string
	}{
		{"help", "", []string{"-h"}, 0, "Usage: evenfall proof", ""},
		{"schema", "", []string{"--schema"}, 0, "urn:evenfall:proof:1", ""},
		{"no file", "", nil, 2, "", "Name one plan file"},
		{"no such part", demo(t), []string{"--part", "pipes", "-"}, 2, "", `--part takes start, wires, heads, built, audit and retrofit, with commas between them, not "pipes".`},
		{"not a plan", "hello", []string{"-"}, 1, "", "evenfall proof: -: "},
		{"all", full, []string{"-"}, 0, "AN OLD SYSTEM", ""},
		{"start", full, []string{"--part", "start", "-"}, 0, "9.10 gpm, 25 % under", ""},
		{"wires", full, []string{"--part=wires", "-"}, 0, "Red and blue are swapped", ""},
		{"wires in metric", provedDemo(t, `{"show":"metric"}`), []string{"--part=start", "-"}, 0, "L/min", ""},
		{"heads", demo(t), []string{"--part", "heads", "-"}, 0, "0 of ", ""},
		{"built", demo(t), []string{"--part", "built", "-"}, 0, "No built place is measured yet", ""},
		{"audit", full, []string{"--part", "audit", "-"}, 0, "Christiansen's coefficient", ""},
		{"retrofit of nothing", string(plan.Empty("Nothing", "us").Encode()), []string{"--part", "retrofit", "-"}, 0, "AN OLD SYSTEM", ""},
	} {
		got := ask(c.doc, append([]string{"proof"}, c.args...)...)
		if got.code != c.code || !strings.Contains(got.out, c.out) || !strings.Contains(got.err, c.err) || c.err == "" && got.err != "" {
			t.Errorf("%s: code %d, prints %.300q, says %.200q", c.name, got.code, got.out, got.err)
		}
	}
}

// FuzzProof asks for the proof of a small yard changed by any patch: an answer that keeps
// to its form, or a sentence.
func FuzzProof(f *testing.F) {
	doc, err := os.ReadFile(filepath.Join(testPlans, "mistakes", "43-edge-shared.json"))
	if err != nil {
		f.Fatal(err)
	}
	for _, patch := range []string{
		`{}`, `{"zones":null}`, `{"heads":null,"show":"metric"}`,
		`{"proof":{"wires":{"a":{"order":1,"common":true},"b":{"order":2,"terminal":9}},"touches":{"t":{"order":1,"wire":"b","ran":["gone"]}},"resistances":{"r":{"order":1,"from":"a","to":"b","ohms":0}}}}`,
		`{"proof":{"pressure_tests":{"m":{"start_psi":60,"end_psi":10,"minutes":60}},"checks":{"fill":{"on":"2026-05-01"}},"started_up":"2026-05-02"}}`,
		`{"proof":{"audits":{"a":{"runs":{"gone":10},"throat_in2":16,"cans":{"c1":{"x_ft":1,"y_ft":1,"catch_ml":0},"c2":{"x_ft":2,"y_ft":1,"catch_ml":30}}}}}}`,
		`{"proof":{"cans":{"c1":{"x_ft":5,"y_ft":5,"catch_ml":20}},"minutes":10,"throat_in2":15.9}}`,
	} {
		f.Add([]byte(patch))
	}
	f.Fuzz(func(t *testing.T, patch []byte) {
		p, err := plan.Preview(doc, plan.Patch(patch))
		if err != nil {
			return
		}
		for _, args := range [][]string{{"proof", "--json", "-"}, {"proof", "-"}} {
			got := ask(string(p.Encode()), args...)
			if got.code == exitOK && got.err == "" && got.out != "" && (args[1] != "--json" || json.Valid([]byte(got.out))) {
				continue
			}
			if got.code != exitFailed || len(got.err) < 20 || strings.Contains(got.err, "unsupported value") {
				t.Errorf("%q of %q: code %d, %.300q, %q", args, patch, got.code, got.out, got.err)
			}
		}
	})
}
