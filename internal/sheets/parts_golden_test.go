package sheets

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"evenfall/internal/design"
	"evenfall/internal/units"
)

// The parts list of a small yard with everything from street to nozzle, in both
// systems of units. Its pipe by hand: the main 3 + 6 ft; of the lateral 3.4 ft in 1
// in, and in 3/4 in along the south row 14.6 + 1 + 13.6 ft, up 14.2 ft, and along the
// north row as along the south one: 72.6 ft.
func TestPartsOfAPipedYard(t *testing.T) {
	for _, sys := range []units.System{units.US, units.Metric} {
		p, _ := load(t, "mistakes/45-pipe-ends-mended.json")
		p.Show = sys
		d, err := design.Run(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		var got bytes.Buffer
		if err := WriteFile(&got, "parts.csv", p, d); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join("../../testdata/golden", "piped-yard-parts-"+string(sys)+".csv")
		if *update {
			if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got.String(), "\n")); diff != "" {
			t.Errorf("%s differs (go test ./internal/sheets -update; -want +got):\n%s", path, diff)
		}
		lengths := map[string]string{}
		for _, l := range d.Parts.Total {
			if l.Group == "pipe" {
				lengths[l.Item] = fmt.Sprintf("%.3f", float64(l.Length))
			}
		}
		by := map[string]string{}
		for name, length := range map[string]string{"Schedule 40 PVC pipe, 1 in": "9.000", "Class 200 PVC pipe, 1 in": "3.400", "Class 200 PVC pipe, 3/4 in": "72.600"} {
			if sys == units.Metric {
				name = strings.NewReplacer("3/4 in", "DN 20", "1 in", "DN 25").Replace(name)
			}
			by[name] = length
		}
		if diff := cmp.Diff(by, lengths); diff != "" {
			t.Errorf("feet of pipe (-by hand +listed):\n%s", diff)
		}
	}
}

// The workbook has the same lines as the CSV file: the parts zone by zone on one
// sheet, in total on another, with how pipe is sold.
func TestWorkbookHasThePipe(t *testing.T) {
	p, d := load(t, "mistakes/45-pipe-ends-mended.json")
	var file bytes.Buffer
	if err := WriteFile(&file, "parts.xlsx", p, d); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(&file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = book.Close() }()
	for sheet, want := range map[string]string{"Parts in total": "Pipe|Class 200 PVC pipe, 3/4 in|73|ft|4 sticks of 20 ft", "Parts": "Main||Pipe|Schedule 40 PVC pipe, 1 in|9|ft|"} {
		rows, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, row := range rows {
			found = found || strings.HasPrefix(strings.Join(row, "|"), want)
		}
		if !found {
			t.Errorf("%s lacks %q: %q", sheet, want, rows)
		}
	}
}
