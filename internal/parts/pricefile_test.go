package parts

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// said puts a file into lines.
func readSaid(text string) []string {
	f := ReadPrices(strings.NewReader(text))
	var out []string
	for _, r := range f.Rows {
		out = append(out, fmt.Sprintf("%d: %s | %s | %v | %s", r.Line, r.Item, r.Unit, r.Each, r.Code))
	}
	for _, e := range f.Errors {
		out = append(out, "! "+e.Error())
	}
	for _, n := range f.Notes {
		out = append(out, "– "+n)
	}
	return out
}

func TestPriceListsAreReadAsPeopleKeepThem(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"plain", "item,unit,price,code\nZone valve 1 in,each,19.90,V-1\n", []string{"2: Zone valve 1 in | each | 19.9 | V-1"}},
		{"another order, other names, a mark of order", "\xEF\xBB\xBFSKU;Unit Price;Description;UoM\r\nA7;0,45;PVC ell;ea\r\n", []string{"2: PVC ell | ea | 0.45 | A7"}},
		{"tabs, and inches by their mark", "Item\tPrice\nElbow 3/4\" PVC\t1,20\n", []string{"2: Elbow 3/4\" PVC |  | 1.2 | "}},
		{"currencies and thousands", "item;price\na;€ 1.234,50\nb;1 299,00 EUR\nc;7,–\nd;2.000\n", []string{"2: a |  | 1234.5 | ", "3: b |  | 1299 | ", "4: c |  | 7 | ", "5: d |  | 2000 | "}},
		{"dollars", "item,price\na,\"$1,234.50\"\nb,$.75\nc,0.375\nd,\"2,000\"\n", []string{"2: a |  | 1234.5 | ", "3: b |  | 0.75 | ", "4: c |  | 0.375 | ", "5: d |  | 2000 | "}},
		{"a decimal comma between commas", "item,price\na,\"1,5\"\nb,\"12,50\"\n", []string{"2: a |  | 1.5 | ", "3: b |  | 12.5 | "}},
		{"said by a spreadsheet", "sep=;\nitem;price\na;1,5\n", []string{"3: a |  | 1.5 | "}},
		{"said otherwise", "sep=,\nitem,price\na,1.5\n", []string{"3: a |  | 1.5 | "}},
		{"guarded against formulas", "item,price\n'=Valve,2\n'quoted,3\n", []string{"2: =Valve |  | 2 | ", "3: 'quoted |  | 3 | "}},
		{"no price, twice, otherwise", "item,price\na,1\nb,\nA ,1.00\na,2\n", []string{"2: a |  | 1 | ",
			"! Line 5, column price: “a” is on line 2 already, with another price. The first one is taken; leave one of them out.",
			"– 1 line has no price and is passed over.", "– 1 line has an item that was there before at the same price."}},
		{"columns passed over", "Item,Stock,Price,\na,7,1,\n", []string{"2: a |  | 1 | ", "– This column was passed over: “Stock”."}},
		{"what is no price", "item,price\na,call us\nb,-3\nc,12 a foot\nd,1.2.3\ne,1e9\nf,999999999\n,4\ng,5\n", []string{"9: g |  | 5 | ",
			"! Line 2, column price: “call us” is not a price. Write a number, such as 12.50, or leave it empty.",
			"! Line 3, column price: “-3” is less than nothing. A price is 0 or more.",
			"! Line 4, column price: “12 a foot” is not a price alone. Write the number, with a currency at most, and the unit in a column of its own.",
			"! Line 5, column price: “1.2.3” is not a price. Write a number, such as 12.50.",
			"! Line 6, column price: “1e9” is not a price. Write a number, such as 12.50.",
			"! Line 7, column price: “999999999” is more than a price can be here.",
			"! Line 8, column item: The line has a price and no item."}},
		{"both marks in one file", "item;price\na;1,5\nb;2.5\nc;1.000\n", []string{"2: a |  | 1.5 | ", "3: b |  | 2.5 | ",
			"! Line 4, column price: “1.000” can be read in two ways. Write decimals as elsewhere in the file, or more of them."}},
		{"a mark left open", "item,price\na,1\n\"b,2\nc,3\n", []string{"2: a |  | 1 | ",
			"! Line 3: A text goes on over several lines: a quotation mark is not closed, or a line break stands in it. The lines it takes in are left out."}},
		{"no header", "Zone valve,19.90\n", []string{"! Line 1: No column is named item. Its first line names the columns: item and price, and unit and code if there are any."}},
		{"nothing", "", []string{"! The file is empty. Its first line names the columns: item and price, and unit and code if there are any."}},
		{"only names", "item,price\n", []string{"! The table has a line of names and no prices under it."}},
		{"not text", "item\x00", []string{"! The file is not text in UTF-8. Save it as “CSV UTF-8”."}},
	} {
		if diff := cmp.Diff(c.want, readSaid(c.text)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// A price list written with any separator, mark of decimals and order of columns is
// read as it was meant.
func TestPriceListsComeBackAsTheyWereWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		comma := rapid.SampledFrom([]rune{',', ';', '\t'}).Draw(t, "separator")
		decimals := rapid.SampledFrom([]string{".", ","}).Draw(t, "decimals")
		columns := rapid.Permutation([]string{"item", "unit", "price", "code"}).Draw(t, "columns")
		var text bytes.Buffer
		w := csv.NewWriter(&text)
		w.Comma = comma
		w.Write(columns)
		var want []PriceRow
		for i := range rapid.IntRange(1, 12).Draw(t, "rows") {
			row := PriceRow{Line: i + 2, Item: fmt.Sprintf("%s %d", rapid.SampledFrom([]string{"Valve, 1 in", `Ell 3/4" × 1/2"`, "Röhre; lang"}).Draw(t, "item"), i),
				Unit: rapid.SampledFrom([]string{"", "each", "stick of 20 ft"}).Draw(t, "unit"), Code: rapid.SampledFrom([]string{"", "A-1"}).Draw(t, "code"),
				Each: float64(rapid.IntRange(0, 1e7).Draw(t, "cents")) / 100}
			want = append(want, row)
			line := make([]string, 4)
			for j, c := range columns {
				line[j] = map[string]string{"item": row.Item, "unit": row.Unit, "code": row.Code, "price": strings.Replace(strconv.FormatFloat(row.Each, 'f', 2, 64), ".", decimals, 1)}[c]
			}
			w.Write(line)
		}
		w.Flush()
		got := ReadPrices(&text)
		if diff := cmp.Diff(want, got.Rows); diff != "" || len(got.Errors) > 0 {
			t.Fatalf("%v\n%s", got.Errors, diff)
		}
	})
}

func TestAPreviewSaysWhatAPriceListChanges(t *testing.T) {
	p := plan.Empty("Yard", units.US)
	p.Prices = map[plan.ID]plan.Price{"mine": {Item: "Pop-up body 4 in", Unit: "each", Each: 3, Code: "B4"}, "other": {Item: "Shovel", Unit: "each", Each: 30}}
	f := ReadPrices(strings.NewReader("item,unit,price\npop-up BODY 4 in,,2.50\n\"Class 200 PVC pipe, 3/4 in\",stick,5.99\nGarden gnome,each,12\nShovel,ea,30\n"))
	v := PreviewPrices(p, priced(), f)
	var got []string
	for _, r := range v.Rows {
		got = append(got, fmt.Sprintf("%s %s %s %v %v %v %s", r.Does, r.Item, r.Unit, r.Was, r.Each, r.Listed, r.Note))
	}
	if diff := cmp.Diff([]string{
		"changed pop-up BODY 4 in each 3 2.5 true ", "new Class 200 PVC pipe, 3/4 in stick 0 5.99 true ",
		"new Garden gnome each 0 12 false Not on the list of this plan.", "same Shovel ea 0 30 false Not on the list of this plan.",
	}, got); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	if v.New != 2 || v.Changed != 1 || v.Same != 1 || v.Unknown != 2 || len(v.Missing) != 0 {
		t.Errorf("%+v", v)
	}
	next, err := plan.Preview(p.Encode(), v.Patch)
	if err != nil {
		t.Fatal(err)
	}
	want := map[plan.ID]plan.Price{
		"mine": {Item: "pop-up BODY 4 in", Unit: "each", Each: 2.5, Code: "B4"}, "other": {Item: "Shovel", Unit: "each", Each: 30},
		"pr-class-200-pvc-pipe-3-4-in": {Item: "Class 200 PVC pipe, 3/4 in", Unit: "stick", Each: 5.99}, "pr-garden-gnome": {Item: "Garden gnome", Unit: "each", Each: 12},
	}
	if diff := cmp.Diff(want, next.Prices); diff != "" {
		t.Errorf("prices (-want +got):\n%s", diff)
	}
	if again := PreviewPrices(next, priced(), f); again.Patch != nil || again.Same != 4 {
		t.Errorf("the same list again changes %s", again.Patch)
	}
}

// Of what is sold in packs a price without a unit may be for a foot or for a stick.
func TestAPriceOfAPackSaysItsUnit(t *testing.T) {
	p := plan.Empty("Yard", units.US)
	v := PreviewPrices(p, priced(), ReadPrices(strings.NewReader("item,price\n\"Class 200 PVC pipe, 3/4 in\",5.99\n")))
	if len(v.Rows) != 0 || len(v.Errors) != 1 || !strings.Contains(v.Errors[0].Sentence, "sold by the stick of 20 ft: say whether its price is for that or for one ft") {
		t.Errorf("%+v", v)
	}
	v = PreviewPrices(p, priced(), ReadPrices(strings.NewReader("item,unit,price\n\"Class 200 PVC pipe, 3/4 in\",crate,5.99\n")))
	if len(v.Rows) != 1 || v.Rows[0].Listed || v.Rows[0].Note != "The list has it by the ft or the stick of 20 ft." || len(v.Missing) != 2 {
		t.Errorf("%+v", v)
	}
}

// Any text is read or told of, and what is read a plan can take.
func FuzzReadPrices(f *testing.F) {
	for _, seed := range []string{
		"item,unit,price,code\nZone valve 1 in,each,19.90,V-1\n", "sep=;\nitem;price\na;€ 1.234,50\n", "item\tprice\n\"a\t1,5\nb\t2", "\xEF\xBB\xBFItem,Price\n'=x,$.5\n",
		"price,item\n1.2.3,a\n-1,b\n1 000,c\n", "item,price\n\x01,2\n", "item,price\n,\n", "price\n",
	} {
		f.Add([]byte(seed))
	}
	p := plan.Empty("Yard", units.US)
	f.Fuzz(func(t *testing.T, text []byte) {
		got := ReadPrices(bytes.NewReader(text))
		for _, e := range got.Errors {
			if e.Sentence == "" || strings.Contains(e.Error(), "%!") {
				t.Fatalf("%+v", e)
			}
		}
		for _, r := range got.Rows {
			if r.Item == "" || r.Each < 0 || r.Each > maxPrice || r.Line < 2 {
				t.Fatalf("%+v", r)
			}
		}
		v := PreviewPrices(p, priced(), got)
		if v.New+v.Changed > 0 != (v.Patch != nil) {
			t.Fatalf("%+v", v)
		}
		if v.Patch == nil {
			return
		}
		next, err := plan.Preview(p.Encode(), v.Patch)
		if err != nil {
			t.Fatal(err)
		}
		if again := PreviewPrices(next, priced(), got); again.Patch != nil {
			t.Fatalf("taken again it changes %s", again.Patch)
		}
	})
}

// As many prices as a file may hold, all called alike but for what ids leave out.
func BenchmarkPreviewPrices(b *testing.B) {
	var text strings.Builder
	text.WriteString("item,price\n")
	for i := range 5000 {
		fmt.Fprintf(&text, "%c%c,1\n", rune(0x4e00+i), rune(0x5e00+i))
	}
	p, list := plan.Empty("Yard", units.US), priced()
	for b.Loop() {
		if v := PreviewPrices(p, list, ReadPrices(strings.NewReader(text.String()))); v.New != 5000 {
			b.Fatal(v.Says)
		}
	}
}
