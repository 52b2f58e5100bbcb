package main

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/jsonschema-go/jsonschema"

	"evenfall/internal/plan"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// inClimate is the demo with a climate, changed by a patch.
func inClimate(t testing.TB, patch string) string {
	t.Helper()
	doc, err := os.ReadFile(filepath.Join(testPlans, "demo.json"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Preview(doc, plan.Patch(`{"watering":{"et_zone":12,"turf":"cool","audited_du":0.7}}`))
	if err == nil && patch != "" {
		p, err = plan.Preview(p.Encode(), plan.Patch(patch))
	}
	if err != nil {
		t.Fatal(err)
	}
	return string(p.Encode())
}

// The schema is made from the types and from the words after them, so that it cannot say
// anything else than they do.
func TestSchemaOfWaterIsTrueToTheTypes(t *testing.T) {
	freshSchema[waterAnswer](t, "water", "Evenfall watering program",
		"The watering program of one plan, each figure with the chain it follows from. Depths are inches, times of day as 22:00; months are counted from 1 January, days of a cycle from 1, Monday of a week.")
}

// What is printed for programs keeps to its schema, and its figures go together: a
// month's water is its minutes by its flows, and each zone's chain ends in its minutes.
func TestWaterAsJSONKeepsToItsSchemaAndAddsUp(t *testing.T) {
	t.Parallel()
	doc := inClimate(t, "")
	got, again := ask(doc, "water", "--json", "-"), ask(doc, "water", "--json", "-")
	if got.code != 0 || got.out != again.out || got.err != "" {
		t.Fatalf("code %d, twice alike: %v, %s", got.code, got.out == again.out, got.err)
	}
	var s jsonschema.Schema
	if err := json.Unmarshal(waterSchema, &s); err != nil {
		t.Fatal(err)
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal([]byte(got.out), &v); err != nil {
		t.Fatal(err)
	}
	if err := r.Validate(v); err != nil {
		t.Error(err)
	}
	var a waterAnswer
	if err := json.Unmarshal([]byte(got.out), &a); err != nil {
		t.Fatal(err)
	}
	if a.Format != "evenfall-water/1" || len(a.Plan) != 64 || len(a.Months) != 12 || len(a.Zones) != 6 || len(a.Areas) != 6 || a.PeakMonth != 7 {
		t.Fatalf("%s of %s: %d months, %d zones, %d areas, peak %d", a.Format, a.Plan, len(a.Months), len(a.Zones), len(a.Areas), a.PeakMonth)
	}
	flow := map[plan.ID]float64{}
	for _, z := range a.Zones {
		flow[z.ID] = float64(z.Flow)
	}
	year := 0.0
	for _, m := range a.Months {
		year += float64(m.OfMonth)
		minutes, gallons := map[plan.ID]int{}, 0.0
		for _, p := range m.Programs {
			for _, run := range p.Stations {
				minutes[run.Zone] += run.Minutes * len(p.Days)
				gallons += float64(run.Minutes*len(p.Days)) * flow[run.Zone]
				if run.Keyed*len(p.Starts) != run.Minutes {
					t.Errorf("month %d: %d minutes at %d starts are not %d", m.Month, run.Keyed, len(p.Starts), run.Minutes)
				}
			}
		}
		if math.Abs(gallons-float64(m.Gallons)) > 1e-4*gallons {
			t.Errorf("month %d: %g gallons, and its minutes make %g", m.Month, float64(m.Gallons), gallons)
		}
		for _, z := range m.Zones {
			ends := math.NaN()
			for _, f := range z.Chain {
				if f.Source == "" {
					t.Errorf("month %d: %q has no source", m.Month, f.What)
				}
				if f.What == "Minutes as solved" {
					ends = float64(f.Value)
				}
			}
			if z.Minutes != minutes[z.ID] || ends != float64(z.Minutes) {
				t.Errorf("month %d, zone %s: %d minutes, the programs run %d, the chain ends in %g", m.Month, z.ID, z.Minutes, minutes[z.ID], ends)
			}
		}
	}
	if math.Abs(year-float64(a.Year.Gallons)) > 1e-6*year {
		t.Errorf("the months make %g gallons, the year says %g", year, float64(a.Year.Gallons))
	}
}

// One month is that month of all, and text names it.
func TestWaterOfOneMonth(t *testing.T) {
	t.Parallel()
	doc := inClimate(t, "")
	var all, one waterAnswer
	if err := json.Unmarshal([]byte(ask(doc, "water", "--json", "-").out), &all); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(ask(doc, "water", "--json", "--month", "Apr", "-").out), &one); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(all.Months[3:4], one.Months); diff != "" || len(one.Areas[0].Needs) != 1 {
		t.Errorf("April by itself is another, with %d needs: %s", len(one.Areas[0].Needs), diff)
	}
	short, long := ask(doc, "water", "--month", "april", "-").out, ask(doc, "water", "--month", "april", "--chains", "-").out
	if !strings.Contains(short, "PROGRAM A OF APRIL") || strings.Contains(short, "FROM WEATHER") || strings.Count(long, "FROM WEATHER TO MINUTES") != 6 {
		t.Errorf("%d and %d characters", len(short), len(long))
	}
}

// Two days do not hold the demo's peak, and it is said why and what would help.
func TestWaterThatDoesNotFitSaysWhy(t *testing.T) {
	t.Parallel()
	got := ask(inClimate(t, `{"watering":{"days":["mon","thu"]}}`), "water", "-")
	for _, want := range []string{"It does not fit", "Why: ", "Would help: "} {
		if got.code != 0 || !strings.Contains(strings.Join(strings.Fields(got.out), " "), strings.TrimSpace(want)) {
			t.Errorf("code %d, it does not say %q:\n%.2000s", got.code, want, got.out)
		}
	}
}

func TestWaterCommandsAnswer(t *testing.T) {
	t.Parallel()
	kept := filepath.Join(t.TempDir(), "water.txt")
	for _, c := range []struct {
		name string
		doc  string
		args []string
		code int
		out  string
		err  string
	}{
		{"help", "", []string{"-h"}, 0, "Usage: evenfall water", ""},
		{"schema", "", []string{"--schema"}, 0, "urn:evenfall:water:1", ""},
		{"no file", "", nil, 2, "", "Name one plan file"},
		{"no month", demo(t), []string{"--month", "ju", "-"}, 2, "", `--month takes the name of a month, as july, not "ju".`},
		{"not a plan", "hello", []string{"-"}, 1, "", "evenfall water: -: "},
		{"no climate", demo(t), []string{"-"}, 0, "The week at peak takes", ""},
		{"temperatures without a place", inClimate(t, `{"site":{"latitude_deg":null,"longitude_deg":null},"watering":{"et_zone":null,"high_f":[60,60,60,60,60,60,60,60,60,60,60,60],"low_f":[40,40,40,40,40,40,40,40,40,40,40,40]}}`), []string{"-"}, 1, "", "latitude"},
		{"nothing to water", string(plan.Empty("Nothing", "us").Encode()), []string{"-"}, 0, "There is nothing to water", ""},
		{"into a file", demo(t), []string{"--out", kept, "-"}, 0, "", ""},
		{"into a file that is there", demo(t), []string{"--out", kept, "-"}, 1, "", "is there already"},
		{"into it all the same", demo(t), []string{"--json", "--out", kept, "--force", "-"}, 0, "", ""},
	} {
		got := ask(c.doc, append([]string{"water"}, c.args...)...)
		if got.code != c.code || !strings.Contains(got.out, c.out) || !strings.Contains(got.err, c.err) || c.err == "" && got.err != "" {
			t.Errorf("%s: code %d, prints %.200q, says %.200q", c.name, got.code, got.out, got.err)
		}
	}
	if text, err := os.ReadFile(kept); err != nil || !strings.HasPrefix(string(text), "{") {
		t.Errorf("the file holds %.40q, %v", text, err)
	}
}

// FuzzWater asks for the program of a small yard changed by any patch: an answer that
// keeps to its form, or a sentence.
func FuzzWater(f *testing.F) {
	doc, err := os.ReadFile(filepath.Join(testPlans, "mistakes", "43-edge-shared.json"))
	if err != nil {
		f.Fatal(err)
	}
	for _, patch := range []string{
		`{}`, `{"watering":{"et_zone":18,"days":["sun"],"start":"23:59","end":"00:01","together":true,"target":"low_quarter"}}`,
		`{"watering":{"every":3,"stage":"seed","et_in":[0,0,0,0,0,9,9,9,0,0,0,0],"rain_in":[9,9,9,9,9,9,0,0,9,9,9,9],"audited_du":0.3}}`,
		`{"controller":{"stations":1,"programs":1,"starts":1,"soaks":true,"adjusts":"none"},"options":{"figures":{"takes_in_clay_loam":{"value":0.001,"source":"none"}}}}`,
		`{"show":"metric","heads":null}`, `{"zones":null}`, `{"areas":{"lawn":{"plant_factor":2,"roots_in":0.1,"depletion":0.01,"plant_height_in":99,"own_zones_only":true}}}`,
	} {
		f.Add([]byte(patch), "")
	}
	f.Add([]byte(`{"name":"\u0000=1;,\\n"}`), "december")
	f.Fuzz(func(t *testing.T, patch []byte, month string) {
		p, err := plan.Preview(doc, plan.Patch(patch))
		if err != nil {
			return
		}
		for _, args := range [][]string{{"water", "--json", "-"}, {"water", "--chains", "--month=" + month, "-"}} {
			got := ask(string(p.Encode()), args...)
			if got.code == exitOK && got.err == "" && got.out != "" && (args[1] != "--json" || json.Valid([]byte(got.out))) {
				continue
			}
			if got.code != exitFailed && (got.code != exitUsage || month == "") || len(got.err) < 20 || strings.Contains(got.err, "unsupported value") {
				t.Errorf("%q of %q: code %d, %.300q, %q", args, patch, got.code, got.out, got.err)
			}
		}
	})
}
