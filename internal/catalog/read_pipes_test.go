package catalog

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// What goes out as a table comes back the same, as the user's own.
func TestPipesAndDevicesGoOutAndComeBack(t *testing.T) {
	var b bytes.Buffer
	classes := PipeClasses()
	for i := range classes {
		classes[i].Generic, classes[i].Metric = false, ""
	}
	classes[0].Name = "=cmd|' /C calc'!A0"
	if err := WritePipes(&b, classes); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "\n=") || strings.Contains(b.String(), ",=") {
		t.Errorf("a cell begins a formula:\n%s", b.String()[:300])
	}
	got := ReadPipes(&b)
	if diff := cmp.Diff(classes, got.Rows); diff != "" || len(got.Errors) > 0 {
		t.Errorf("pipes: %v (-want +got):\n%s", got.Errors, diff)
	}
	devices := Devices()
	for i := range devices {
		devices[i].Generic, devices[i].Metric = false, ""
	}
	b.Reset()
	if err := WriteDevices(&b, devices); err != nil {
		t.Fatal(err)
	}
	back := ReadDevices(&b)
	if diff := cmp.Diff(devices, back.Rows); diff != "" || len(back.Errors) > 0 {
		t.Errorf("devices: %v (-want +got):\n%s", back.Errors, diff)
	}
}

// A table may be in metric columns, in any order of sizes, and leave unsaid what
// goes with the material.
func TestOwnPipesInMillimetres(t *testing.T) {
	got := ReadPipes(strings.NewReader("name,material,nominal_in,outside_mm,wall_mm,inside_mm,rating_bar,price_per_m\n" +
		"Yard pipe,PE,1,33.4,1.78,26.6,6.9,2\nYard pipe,,0.75,26.7,1.5,20.9,6.9,1.5\n"))
	if len(got.Errors) > 0 || len(got.Rows) != 1 {
		t.Fatalf("%v, %d rows", got.Errors, len(got.Rows))
	}
	c := got.Rows[0]
	if c.ID != "p-yard-pipe" || c.Material != PE || c.C != 140 || c.Joint != "insert" || c.Generic || len(c.Sizes) != 2 || c.Sizes[0].Nominal != .75 {
		t.Errorf("%+v", c)
	}
	if s := c.Sizes[1]; math.Abs(float64(s.Inside)-1.0472) > 1e-4 || math.Abs(float64(s.Rating)-100.08) > 0.01 || math.Abs(s.PricePerFt-0.6096) > 1e-9 {
		t.Errorf("1 in: %+v", s)
	}
}

func TestFaultsOfOwnTablesAreToldByLineAndColumn(t *testing.T) {
	const pipes, devices = "name,material,nominal_in,outside_in,wall_in,inside_in,rating_psi\n", "name,kind,backflow,flow_gpm,loss_psi\n"
	for _, c := range []struct {
		name, table string
		device      bool
		line        int
		column      string
		words       string
	}{
		{"nothing under the header", pipes, false, 0, "", "no pipe classes under it"},
		{"a column missing", "name,material\nA,pvc\n", false, 1, "nominal_in", "is missing"},
		{"lead", pipes + "A,lead,1,1.3,.1,1.1,100\n", false, 2, "material", "no material of pipe"},
		{"a size twice", pipes + "A,pvc,1,1.3,.1,1.1,100\nA,,1,1.3,.1,1.1,100\n", false, 3, "nominal_in", "already, on line 2"},
		{"no size", pipes + "A,pvc,,1.3,.1,1.1,100\n", false, 2, "nominal_in", "missing here"},
		{"a size in words", pipes + "A,pvc,one,1.3,.1,1.1,100\n", false, 2, "nominal_in", "one"},
		{"wider inside, on its line", pipes + "A,pvc,2,2.4,.1,2.1,100\nA,,1,1.3,.1,1.5,100\n", false, 3, "inside_in", "wider inside"},
		{"one id twice", "id," + pipes + "a,A,pvc,1,1.3,.1,1.1,100\na,A,pe,1.5,1.9,.1,1.6,100\n", false, 3, "material", "line 2 has"},
		{"no name", pipes + ",pvc,1,1.3,.1,1.1,100\n", false, 2, "name", "names no pipe class"},
		{"a formula for a name", pipes + "=A,pvc,1,1.3,.1,1.1,100\n", false, 2, "name", "formula"},
		{"a device of no use", devices + "A,tap,,5,1\n", true, 2, "kind", "zone_valve"},
		{"backflow unsaid", devices + "A,backflow,,5,1\n", true, 2, "backflow", "how it works"},
		{"loss that falls, on its line", devices + "A,filter,,5,2\nA,,,9,1\n", true, 3, "loss_psi", "never takes less"},
		{"a flow twice", devices + "A,filter,,5,2\nA,,,5,3\n", true, 3, "flow_gpm", "already, on line 2"},
		{"a point without loss", devices + "A,filter,,5,\n", true, 2, "loss_psi", "missing here"},
		{"semicolons", "name;kind;flow_gpm;loss_psi\n", true, 1, "", "semicolons"},
	} {
		errs := ReadPipes(strings.NewReader(c.table)).Errors
		if c.device {
			errs = ReadDevices(strings.NewReader(c.table)).Errors
		}
		if len(errs) == 0 || errs[0].Line != c.line || errs[0].Column != c.column || !strings.Contains(errs[0].Sentence, c.words) {
			t.Errorf("%s: got %v, want line %d, column %q with %q", c.name, errs, c.line, c.column, c.words)
		}
	}
}

// FuzzReadPipes and FuzzReadDevices: any text comes to rows that are sound, with
// ids a plan takes, each once, or to sentences.
func FuzzReadPipes(f *testing.F) {
	var b bytes.Buffer
	if err := WritePipes(&b, PipeClasses()[:2]); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte("name,material,nominal_in,outside_mm,wall_mm,inside_mm,rating_bar\nA,pe,1,33,2,27,7\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		got := ReadPipes(bytes.NewReader(text))
		checkRead(t, len(got.Rows), got.Errors, func(i int) (string, error) { return got.Rows[i].ID, got.Rows[i].Validate() })
	})
}

func FuzzReadDevices(f *testing.F) {
	var b bytes.Buffer
	if err := WriteDevices(&b, Devices()[:3]); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte("name,kind,flow_l_per_min,loss_bar\nA,filter,20,0.1\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		got := ReadDevices(bytes.NewReader(text))
		checkRead(t, len(got.Rows), got.Errors, func(i int) (string, error) { return got.Rows[i].ID, got.Rows[i].Validate() })
	})
}

func checkRead(t *testing.T, rows int, errs []RowError, row func(int) (string, error)) {
	t.Helper()
	if rows > 0 && len(errs) > 0 || rows == 0 && len(errs) == 0 {
		t.Fatalf("%d rows and %d errors", rows, len(errs))
	}
	seen := map[string]bool{}
	for i := range rows {
		id, err := row(i)
		if err != nil || !isID(id) || seen[id] {
			t.Fatalf("row %q: %v, twice %v", id, err, seen[id])
		}
		seen[id] = true
	}
	for _, e := range errs {
		if e.Sentence == "" || !strings.HasSuffix(strings.TrimRight(e.Sentence, "\"”"), ".") {
			t.Fatalf("no sentence: %v", e)
		}
	}
}
