package sheets

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/parts"
	"evenfall/internal/units"
)

// Another spreadsheet opens the workbook and finds on the sheets of the lists what its
// first sheet has in total: of every item the count, and of all of them the money.
func TestAnotherProgramFindsTheSameTotals(t *testing.T) {
	p, d := pricedDemo(t)
	dir := t.TempDir()
	var file bytes.Buffer
	if err := WriteFile(&file, "parts.xlsx", p, d); err != nil {
		t.Fatal(err)
	}
	book := filepath.Join(dir, "parts.xlsx")
	if err := os.WriteFile(book, file.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	open := exec.Command("ssconvert", "-S", book, filepath.Join(dir, "sheet.csv"))
	open.Env = append(os.Environ(), "HOME="+dir, "LC_ALL=C.UTF-8")
	if says, err := open.CombinedOutput(); err != nil {
		t.Fatalf("%v (go run ./cmd/dev test -only install brings it)\n%s", err, says)
	}
	type sheet struct {
		counts map[string]float64
		sum    float64
		added  float64
	}
	read := func(n int) sheet {
		text, err := os.ReadFile(filepath.Join(dir, fmt.Sprintf("sheet.csv.%d", n)))
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		s := sheet{counts: map[string]float64{}}
		number := func(text string) float64 {
			if text == "" {
				return 0
			}
			v, err := units.ParseNumber(text)
			if err != nil {
				t.Fatalf("sheet %d: %v", n, err)
			}
			return v
		}
		for _, row := range rows[1:] {
			switch row[0] {
			case SumName:
				s.sum = number(row[7])
			case NoteName:
			default:
				s.counts[row[0]+" "+row[1]] += number(row[2])
				s.added += number(row[7])
			}
		}
		return s
	}
	total := read(0)
	counts, sum := map[string]float64{}, 0.0
	for i := range d.Parts.Zones {
		s := read(i + 1)
		for item, n := range s.counts {
			counts[item] += n
		}
		sum += s.sum
		if cents(s.added) != cents(s.sum) {
			t.Errorf("sheet %d: its lines come to %.2f, it says %.2f", i+1, s.added, s.sum)
		}
	}
	cost := parts.Priced(d.Parts, p.Prices, p.Quote.Currency)
	if diff := cmp.Diff(total.counts, counts); diff != "" || len(counts) == 0 {
		t.Errorf("counts of the sheets added up (-total +lists):\n%s", diff)
	}
	if cents(sum) != cost.Sum || cents(total.sum) != cost.Sum || cents(total.added) != cost.Sum {
		t.Errorf("the lists come to %.2f, the total says %.2f and adds up to %.2f; want %s", sum, total.sum, total.added, cost.Sum)
	}
}

func cents(v float64) parts.Cents { return parts.Cents(v*100 + 0.5) }
