package sheets

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"evenfall/internal/design"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// pricedDemo is the demo with an invented price for every item but one in seven, and
// rates of work.
func pricedDemo(t *testing.T) (*plan.Plan, *design.Design) {
	t.Helper()
	p, d := load(t, "demo.json")
	p.Prices = map[plan.ID]plan.Price{}
	for i, m := range parts.Priced(d.Parts, nil, "").Missing {
		if i%7 != 3 {
			p.Prices[plan.ID(fmt.Sprintf("p%d", i))] = plan.Price{Item: m.Item, Unit: m.Unit, Each: float64(100+13*i) / 100, Code: fmt.Sprintf("C-%d", i)}
		}
	}
	p.Quote = plan.Quote{Currency: "EUR", PerTrenchFt: 2.25, PerHead: 6, MarkUpShare: 0.1, TaxShare: 0.19, TaxOn: "all", Notes: "Good for 30 days.",
		Rentals: map[plan.ID]plan.Rental{"r": {What: "Trencher", Days: 1.5, Each: 120}}}
	return p, d
}

// The demo's parts, priced with the invented prices above, and its quote. The prices
// are of no shop; what is held is how a list reads and adds up.
func TestPartsOfTheDemoPricedAndQuoted(t *testing.T) {
	p, d := pricedDemo(t)
	for file, name := range map[string]string{"parts.csv": "demo-priced-parts.csv", "quote.txt": "demo-quote.txt", "prices.csv": "demo-price-list.csv"} {
		path := "../../testdata/golden/" + name
		got := written(t, file, p, d)
		if *update {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); diff != "" {
			t.Errorf("%s differs (go test ./internal/sheets -update; -want +got):\n%s", path, diff)
		}
	}
}

// The template holds every item once; filled in and read back it prices the whole
// list as the plan did.
func TestThePriceListComesBackFilledIn(t *testing.T) {
	for _, sys := range []units.System{units.US, units.Metric} {
		p, _ := load(t, "demo.json")
		p.Show = sys
		d, err := design.Run(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		table := PriceTable(p, d.Parts)
		for i := range table.Rows {
			table.Rows[i][2] = Number(0.25*float64(i+1), 2)
		}
		var file bytes.Buffer
		if err := CSV(&file, table); err != nil {
			t.Fatal(err)
		}
		read := parts.ReadPrices(&file)
		if len(read.Errors) > 0 || len(read.Rows) != len(table.Rows) {
			t.Fatalf("%s: %d rows of %d are read: %v", sys, len(read.Rows), len(table.Rows), read.Errors)
		}
		v := parts.PreviewPrices(p, d.Parts, read)
		if v.New != len(table.Rows) || v.Unknown != 0 || len(v.Missing) != 0 || len(v.Errors) != 0 {
			t.Errorf("%s: %s, %d unknown, missing %v, %v", sys, v.Says, v.Unknown, v.Missing, v.Errors)
		}
		next, err := plan.Preview(p.Encode(), v.Patch)
		if err != nil {
			t.Fatal(err)
		}
		again := PriceTable(next, d.Parts)
		for i, row := range again.Rows {
			if row[2].String() != table.Rows[i][2].String() {
				t.Errorf("%s: the price of %s is %s, was %s", sys, row[0], row[2], table.Rows[i][2])
			}
		}
	}
}

// Each sheet of the workbook ends in its sum of money; the sheets of the lists add up
// to that of the total, which is what the parts package says.
func TestTheSheetsOfAWorkbookAddUpToTheTotal(t *testing.T) {
	p, d := pricedDemo(t)
	var file bytes.Buffer
	if err := WriteFile(&file, "parts.xlsx", p, d); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(&file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = book.Close() }()
	sums := map[string]string{}
	for _, sheet := range book.GetSheetList() {
		rows, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			if row[0] == SumName && sheet != "Parts" {
				sums[sheet] = row[7]
			}
		}
	}
	cost := parts.Priced(d.Parts, p.Prices, "EUR")
	want := map[string]string{"Parts in total": cost.Sum.String()}
	var all parts.Cents
	for _, z := range cost.Lists {
		title := z.Name
		if z.Station > 0 {
			title = fmt.Sprintf("%d %s", z.Station, title)
		}
		want[title] = z.Sum.String()
		all += z.Sum
	}
	if diff := cmp.Diff(want, sums); diff != "" || all != cost.Sum || cost.Sum == 0 || len(cost.Missing) == 0 {
		t.Errorf("the lists come to %s of %s, %d missing; sheets (-want +got):\n%s", all, cost.Sum, len(cost.Missing), diff)
	}
}

func TestAQuoteIsReadAsItAddsUp(t *testing.T) {
	p, d := pricedDemo(t)
	lines := readCSV(t, "quote.csv", p, d)
	q := QuoteOf(p, d)
	got := map[string]string{}
	for _, l := range lines {
		got[l["What"]] = l["Sum, EUR"]
	}
	for what, want := range map[string]parts.Cents{"Parts": q.Parts, "Mark-up": q.MarkUp, "Trencher": 18000, "Heads, set": 48 * 600, "Subtotal": q.Subtotal, "Tax": q.Tax, "Total": q.Total} {
		if got[what] != want.String() {
			t.Errorf("%s: %q, want %s", what, got[what], want)
		}
	}
	var text bytes.Buffer
	if err := WriteFile(&text, "quote.txt", p, d); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Total  ", q.Total.String(), "Heads, set: 48 heads at 6.00", "Tax: 19 % of everything above", "NOT IN IT", "Parts without a price: ", "Work: valves, set, since it has no rate.", "Good for 30 days."} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the quote lacks %q:\n%s", want, text.String())
		}
	}
	for line := range strings.Lines(text.String()) {
		if len([]rune(line)) > textWidth+1 {
			t.Errorf("a line of %d characters: %s", len([]rune(line)), line)
		}
	}
}
