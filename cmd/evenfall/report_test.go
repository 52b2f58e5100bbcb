package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/coverage"
	"evenfall/internal/packs"
	"evenfall/internal/plan"
)

const testPlans = "../../testdata/plans"

// answer is what the program said.
type answer struct {
	code     int
	out, err string
}

// ask runs the program as a user types it.
func ask(stdin string, args ...string) answer {
	var out, errs bytes.Buffer
	code := run(context.Background(), args, func(string) string { return "" }, strings.NewReader(stdin), &out, &errs)
	return answer{code, out.String(), errs.String()}
}

func demo(t *testing.T) string {
	t.Helper()
	doc, err := os.ReadFile(filepath.Join(testPlans, "demo.json"))
	if err != nil {
		t.Fatal(err)
	}
	return string(doc)
}

// What the commands answer, with words the answer must hold.
func TestCommandsAnswer(t *testing.T) {
	demoFile := filepath.Join(testPlans, "demo.json")
	broken := filepath.Join(t.TempDir(), "broken.json")
	text := strings.Replace(demo(t), `"show":"us"`, `"show":"leagues"`, 1)
	if !strings.Contains(text, "leagues") {
		text = strings.Replace(text, `"name":"Corner lot (demo)"`, `"name":"Corner lot (demo)","show":"leagues"`, 1)
	}
	if err := os.WriteFile(broken, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	cases := []struct {
		name  string
		stdin string
		args  []string
		code  int
		out   []string
		err   []string
	}{
		{"report help", "", []string{"report", "--help"}, 0, []string{"Usage: evenfall report"}, nil},
		{"export help", "", []string{"export", "-h"}, 0, []string{"Usage: evenfall export"}, nil},
		{"import help", "", []string{"import-geojson", "--help"}, 0, []string{"Usage: evenfall import-geojson", "right_of_way"}, nil},
		{"report of the demo", "", []string{"report", demoFile}, 0, []string{"STOP  Rates mixed on one valve", "Head 2-8 stands"}, nil},
		{"report from standard input", demo(t), []string{"report", "--draws", "0", "-"}, 0, []string{"no field estimate was made"}, nil},
		{"options after the file", "", []string{"report", demoFile, "--draws", "0"}, 0, []string{"no field estimate was made"}, nil},
		{"schema of the report", "", []string{"report", "--schema"}, 0, []string{"urn:evenfall:report:1"}, nil},
		{"no file", "", []string{"report"}, 2, nil, []string{"Name one plan file", "Usage:"}},
		{"two files", "", []string{"report", "a", "b"}, 2, nil, []string{"Name one plan file"}},
		{"unknown option", "", []string{"report", "--nope", "x"}, 2, nil, []string{"there is no option -nope"}},
		{"draws that are no number", "", []string{"report", "--draws", "x", "y"}, 2, nil, []string{`cannot use "x" for flag -draws`}},
		{"too many draws", "", []string{"report", "--draws", "100000", demoFile}, 2, nil, []string{"from 0 to 1000"}},
		{"file that is not there", "", []string{"report", "nothing.json"}, 1, nil, []string{"there is no file or folder nothing.json"}},
		{"folder for a file", "", []string{"report", t.TempDir()}, 1, nil, []string{"evenfall report: "}},
		{"not a plan", "hello", []string{"report", "-"}, 1, nil, []string{"evenfall report: -: "}},
		{"plan with something wrong", "", []string{"report", broken}, 1, nil, []string{broken + ": /show: "}},
		{"after two dashes a file may be called --json", "", []string{"report", "--", "--json"}, 1, nil, []string{"there is no file or folder --json"}},
		{"export to nowhere", "", []string{"export", demoFile}, 2, nil, []string{"--out"}},
		{"export of nothing", "", []string{"export", "--out", "x"}, 2, nil, []string{"Name one plan file"}},
		{"import to nowhere", "", []string{"import-geojson", "x.geojson"}, 2, nil, []string{"--out"}},
		{"import with half a place", "", []string{"import-geojson", "x", "--out", "y", "--lat", "40"}, 2, nil, []string{"--lat and --lon together"}},
		{"import with a place that is no number", "", []string{"import-geojson", "x", "--out", "y", "--lat", "NaN"}, 2, nil, []string{`cannot use "NaN"`}},
		{"import in other units", "", []string{"import-geojson", "x", "--out", "y", "--show", "leagues"}, 2, nil, []string{"us or metric"}},
		{"import of something else", "{}", []string{"import-geojson", "-", "--out", filepath.Join(t.TempDir(), "p.json")}, 1, nil, []string{"evenfall import-geojson: -: "}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := ask(c.stdin, c.args...)
			if got.code != c.code {
				t.Errorf("code %d, want %d\n%s", got.code, c.code, got.err)
			}
			for _, want := range c.out {
				if !strings.Contains(got.out, want) {
					t.Errorf("it does not print %q:\n%s", want, got.out)
				}
			}
			for _, want := range c.err {
				if !strings.Contains(got.err, want) {
					t.Errorf("it does not say %q:\n%s", want, got.err)
				}
			}
			if c.code == 0 && got.err != "" {
				t.Errorf("it complains: %s", got.err)
			}
			for _, word := range []string{"invalid", "illegal", "panic", "goroutine"} {
				if strings.Contains(got.out+got.err, word) {
					t.Errorf("it says %q:\n%s%s", word, got.out, got.err)
				}
			}
		})
	}
}

func TestReportAsJSONIsTheSameTwice(t *testing.T) {
	file := filepath.Join(testPlans, "demo.json")
	a, b := ask("", "report", "--json", file), ask(demo(t), "report", "--json", "-")
	if a.code != 0 || a.out != b.out {
		t.Fatalf("codes %d and %d; the two differ:\n%s", a.code, b.code, cmp.Diff(a.out, b.out))
	}
	var got struct {
		Format   string
		Plan     string `json:"plan_sha256"`
		Supply   struct{ Measured bool }
		Estimate struct {
			Seed, Draws int
			Areas       []struct{ ID string }
		} `json:"field_estimate"`
		Findings []struct{ Rank, Title string }
	}
	if err := json.Unmarshal([]byte(a.out), &got); err != nil {
		t.Fatal(err)
	}
	if got.Format != "evenfall-report/1" || len(got.Plan) != 64 || !got.Supply.Measured || got.Estimate.Draws != coverage.UsualDraws || len(got.Estimate.Areas) != 6 {
		t.Errorf("the report says %+v", got)
	}
	if got.Findings[0].Rank != "stop" || got.Findings[0].Title != "Rates mixed on one valve" {
		t.Errorf("the first finding is %+v", got.Findings[0])
	}
}

func TestExportWritesEveryListAndKeepsWhatIsThere(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	file := filepath.Join(testPlans, "demo.json")
	got := ask("", "export", file, "--out", dir)
	var want []string
	for _, f := range packs.Files() {
		want = append(want, f.Name)
	}
	for _, name := range []string{"parts.csv", "parts.xlsx", "prices.csv", "quote.csv", "quote.txt", "zones.csv", "heads.csv", "trenches.csv",
		"sleeves.csv", "sleeves.svg", "wires.csv", "findings.csv", "crew.pdf", "owner.pdf", "office.pdf", "pipe-table.csv", "plan.json", "outlines.geojson", "system.geojson", "plan.dxf", "layout.svg"} {
		if !slices.Contains(want, name) {
			t.Errorf("no list %s is written", name)
		}
		if help := ask("", "export", "--help").out; !strings.Contains(help, "  "+name+" ") {
			t.Errorf("the help does not name %s:\n%s", name, help)
		}
	}
	var lines []string
	for _, name := range want {
		lines = append(lines, filepath.Join(dir, name))
	}
	if got.code != 0 || got.out != strings.Join(lines, "\n")+"\n" {
		t.Fatalf("code %d\n%s%s", got.code, got.out, got.err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != len(want) {
		t.Errorf("the folder holds %v", entries)
	}
	plans, err := os.ReadFile(filepath.Join(dir, "plan.json"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(plans)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(p.Encode(), plans) {
		t.Error("plan.json is not canonical")
	}
	f, err := os.Open(filepath.Join(dir, "heads.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 49 {
		t.Errorf("heads.csv has %d lines, %v; want 48 heads and their header", len(rows), err)
	}

	// A second export keeps what is there: even one file in the way stops it all.
	if err := os.WriteFile(filepath.Join(dir, "zones.csv"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(dir, "parts.csv")); err != nil {
		t.Fatal(err)
	}
	again := ask("", "export", "--out", dir, file)
	if again.code != 1 || !strings.Contains(again.err, "is there already; add --force") {
		t.Errorf("code %d: %s", again.code, again.err)
	}
	if _, err := os.Stat(filepath.Join(dir, "parts.csv")); err == nil {
		t.Error("a refused export wrote a file")
	}
	if mine, err := os.ReadFile(filepath.Join(dir, "zones.csv")); err != nil || string(mine) != "mine" {
		t.Errorf("zones.csv is now %q, %v", mine, err)
	}
	if forced := ask("", "export", "--force", "--out", dir, file); forced.code != 0 {
		t.Errorf("forced: code %d: %s", forced.code, forced.err)
	}
	if mine, err := os.ReadFile(filepath.Join(dir, "zones.csv")); err != nil || string(mine) == "mine" {
		t.Errorf("--force did not replace zones.csv: %v", err)
	}
}

func TestExportOfAPlanWithoutAPlaceHasNoOutlines(t *testing.T) {
	dir := t.TempDir()
	got := ask(string(plan.Empty("Nowhere", "us").Encode()), "export", "--out", dir, "-")
	if got.code != 0 || strings.Contains(got.out, "outlines.geojson") {
		t.Errorf("code %d\n%s%s", got.code, got.out, got.err)
	}
}

const geodata = "../../testdata/geodata/parcel-and-house.geojson"

func TestImportMakesAPlanOfOpenGeodata(t *testing.T) {
	out := filepath.Join(t.TempDir(), "plan.json")
	got := ask("", "import-geojson", geodata, "--out", out)
	if got.code != 0 || !strings.Contains(got.err, "building") || !strings.Contains(got.err, "lot") {
		t.Fatalf("code %d\n%s", got.code, got.err)
	}
	doc, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Site.Lot) == 0 || len(p.Areas) != 1 || p.Site.Latitude == nil || p.Name != "parcel-and-house" {
		t.Errorf("the plan %q has a lot of %d corners and the areas %v", p.Name, len(p.Site.Lot), p.Areas)
	}
	if again := ask("", "import-geojson", geodata, "--out", out); again.code != 1 || !strings.Contains(again.err, "--force") {
		t.Errorf("a second import: code %d: %s", again.code, again.err)
	}
	if forced := ask("", "import-geojson", geodata, "--out", out, "--force", "--name", "Home", "--show", "metric"); forced.code != 0 {
		t.Errorf("forced: code %d: %s", forced.code, forced.err)
	}
	if report := ask("", "report", out); report.code != 0 || !strings.HasPrefix(report.out, "Home\n") {
		t.Errorf("the report of it: code %d\n%s%s", report.code, report.out, report.err)
	}
}

func TestImportTakesTheUsersWordForAShape(t *testing.T) {
	data, err := os.ReadFile(geodata)
	if err != nil {
		t.Fatal(err)
	}
	outlines, err := plan.FromGeoJSON(data, nil)
	if err != nil {
		t.Fatal(err)
	}
	last := outlines.Shapes[len(outlines.Shapes)-1].Name
	got := ask(string(data), "import-geojson", "-", "--out", "-", "--kind", last+"=paving")
	if got.code != 0 {
		t.Fatalf("code %d: %s", got.code, got.err)
	}
	p, err := plan.Decode([]byte(got.out))
	if err != nil {
		t.Fatal(err)
	}
	kinds := []plan.Kind{}
	for _, id := range plan.SortedIDs(p.Areas) {
		kinds = append(kinds, p.Areas[id].Kind)
	}
	if !slices.Contains(kinds, plan.Paving) {
		t.Errorf("the areas are %v", kinds)
	}
	for _, c := range []struct{ kind, want string }{
		{"Nobody=paving", "no shape of the file has this name"},
		{last + "=lava", "a shape can be one of planting, building"},
		{last, "takes NAME=KIND"},
	} {
		if got := ask(string(data), "import-geojson", "-", "--out", "-", "--kind", c.kind); got.code != 1 || !strings.Contains(got.err, c.want) {
			t.Errorf("--kind %q: code %d: %s", c.kind, got.code, got.err)
		}
	}
}
