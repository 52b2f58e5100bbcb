package web

import (
	"encoding/csv"
	"encoding/json"
	"net/http"
	"os"
	"strings"
	"testing"

	"evenfall/internal/packs"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

const csvType = "Content-Type: text/csv"

// filled is the price list of a plan with a price in every line: 1.00, 2.00, 3.00 in
// turn.
func filled(t *testing.T, f *fixture) string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(f.do("GET", "/plans/"+f.plan.ID+"/files/prices.csv", "").Body.String(), "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 10 || rows[0][2] != "Price" {
		t.Fatalf("%d rows, the first %q", len(rows), rows[0])
	}
	for i, row := range rows[1:] {
		if row[1] != "" { // the last is a note
			row[2] = []string{"1.00", "2.00", "3.00"}[i%3]
		}
	}
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func demoFixture(t *testing.T) *fixture {
	t.Helper()
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	f := newFixture(t)
	f.plan = f.keep(string(doc))
	return f
}

func previewOf(t *testing.T, f *fixture, list string) PricesView {
	t.Helper()
	w := f.do("POST", "/api/plans/"+f.plan.ID+"/prices/preview", list, csvType)
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	var v PricesView
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// take stores the patch of a preview as the page does.
func (f *fixture) take(t *testing.T, patch json.RawMessage) {
	t.Helper()
	w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(patch), patchType, `If-Match: "`+"1"+`"`)
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
}

// A price list goes out, comes back filled in and shows what it would do; only when
// its patch is stored does the board tell costs, and then for every line.
func TestAPriceListIsShownBeforeItIsTaken(t *testing.T) {
	t.Parallel()
	f := demoFixture(t)
	v := previewOf(t, f, filled(t, f))
	if len(v.Rows) < 10 || len(v.Errors) != 0 || len(v.Missing) != 0 || v.Patch == nil || !strings.HasSuffix(v.Label, " prices from a list") {
		t.Fatalf("%d rows, errors %v, missing %q, label %q", len(v.Rows), v.Errors, v.Missing, v.Label)
	}
	if now := f.now(); now.Rev != 1 || string(now.Doc) != string(f.plan.Doc) {
		t.Fatal("looking at prices changed the plan")
	}
	var board struct{ Costs CostView }
	read := func() {
		t.Helper()
		board.Costs = CostView{}
		if err := json.Unmarshal(f.do("GET", "/api/plans/"+f.plan.ID+"/board", "").Body.Bytes(), &board); err != nil {
			t.Fatal(err)
		}
	}
	read()
	if board.Costs.Sum != "" || len(board.Costs.Lists) != 0 || board.Costs.Total[0].Sum != "" || len(board.Costs.Total[0].Per) == 0 {
		t.Errorf("without a price: %+v", board.Costs)
	}
	f.take(t, v.Patch)
	read()
	p, err := plan.Decode(f.now().Doc)
	if err != nil {
		t.Fatal(err)
	}
	b := billOf(p)
	if board.Costs.Sum != b.cost.Sum.String() || b.cost.Sum == 0 || len(b.cost.Missing) != 0 {
		t.Errorf("the board has %q, the parts come to %s with %d missing", board.Costs.Sum, b.cost.Sum, len(b.cost.Missing))
	}
	for i, l := range board.Costs.Total {
		price, there := p.Prices[l.Price]
		if !there || price.Item != b.list.Total[i].Item || l.Sum == "" {
			t.Errorf("line %d (%s) goes by %q (%s)", i, b.list.Total[i].Item, l.Price, price.Item)
		}
	}
	if again := previewOf(t, f, filled(t, f)); again.Patch != nil || again.Rows[0].Does != "as it was" {
		t.Errorf("the same list again: %q, patch %s", again.Rows[0].Does, again.Patch)
	}
}

// Lines at fault are told by row in words and left out; prices for other plans are
// kept and said to be so; what is for this plan comes first.
func TestFaultsOfAPriceListAreToldByRow(t *testing.T) {
	t.Parallel()
	f := newFixture(t)
	v := previewOf(t, f, "Item,Unit,Price\nGarden gnome,each,12\nBody 4,each,4.20\nSpray 15,each,two\n,each,3\n")
	if len(v.Rows) != 2 || v.Rows[0].Item != "Body 4" || !v.Rows[0].Listed || v.Rows[0].Each != "4.20 each" || v.Rows[1].Note == "" {
		t.Errorf("rows %+v", v.Rows)
	}
	if len(v.Errors) != 2 || v.Errors[0].Line != 4 || v.Errors[1].Line != 5 {
		t.Errorf("errors %+v", v.Errors)
	}
	f.play(t, []scenario{
		{name: "empty", method: "POST", path: "/api/plans/PLAN/prices/preview", header: []string{csvType}, status: 200, has: []string{`"rows":[]`, "The file is empty"}},
		{name: "not a list", method: "POST", path: "/api/plans/PLAN/prices/preview", header: []string{csvType}, body: "hello,world\n1,2\n", status: 200, has: []string{"No column is named item"}},
		{name: "not text", method: "POST", path: "/api/plans/PLAN/prices/preview", header: []string{csvType}, body: "\xff\xfe\x00\x01", status: 200, has: []string{`"rows":[]`}},
		{name: "another kind", method: "POST", path: "/api/plans/PLAN/prices/preview", header: []string{"Content-Type: text/plain"}, body: "Item,Price\n", status: 415},
		{name: "no plan", method: "POST", path: "/api/plans/nowhere/prices/preview", header: []string{csvType}, body: "Item,Price\n", status: 404},
		{name: "another revision", method: "POST", path: "/api/plans/PLAN/prices/preview?rev=9", header: []string{csvType}, body: "Item,Price\n", status: 412},
	})
}

// Two states of a plan are compared by the prices of now, line by line.
func TestAPlanIsComparedWithAnEarlierState(t *testing.T) {
	t.Parallel()
	f := newFixture(t)
	f.play(t, []scenario{
		{name: "the same", method: "GET", path: "/api/plans/PLAN/compare?step=0", status: 200, has: []string{`"says":"Both take the same parts."`, `"rows":[]`}},
		{name: "a head less", method: "PATCH", path: "/api/plans/PLAN", header: []string{patchType, `If-Match: "1"`}, body: `{"heads":{"h1":null}}`, status: 200},
		{name: "by count", method: "GET", path: "/api/plans/PLAN/compare?step=0", status: 200, has: []string{`"item":"Body 4","from":"4","to":"3","more":""`, "compared by count", `"sums":[]`}},
		{name: "priced", method: "PATCH", path: "/api/plans/PLAN", header: []string{patchType, `If-Match: "2"`}, body: `{"prices":{"p1":{"item":"Body 4","unit":"each","each":4.2}},"quote":{"currency":"$"}}`, status: 200},
		{name: "by price", method: "GET", path: "/api/plans/PLAN/compare?step=0", status: 200, has: []string{`"item":"Body 4","from":"4","to":"3","more":"-$4.20"`, "costs $4.20 less", "not the whole difference"}},
		{name: "neither", method: "GET", path: "/api/plans/PLAN/compare", status: 422},
		{name: "no such step", method: "GET", path: "/api/plans/PLAN/compare?step=99", status: 404},
		{name: "no number", method: "GET", path: "/api/plans/PLAN/compare?point=x", status: 404},
	})
}

// The quote page adds up as the quote does, says what is not in it, and says what to
// do while there is nothing to add up.
func TestTheQuotePage(t *testing.T) {
	t.Parallel()
	f := demoFixture(t)
	quote := func() string {
		t.Helper()
		w := f.do("GET", "/plans/"+f.plan.ID+"/quote", "")
		if w.Code != http.StatusOK {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		return w.Body.String()
	}
	empty := quote()
	for _, words := range []string{"Nothing has a price or a rate yet", "Save the price list", "permits, fees"} {
		if !strings.Contains(strings.ToLower(empty), strings.ToLower(words)) {
			t.Errorf("the empty quote does not say %q", words)
		}
	}
	if strings.Contains(empty, "0.00") {
		t.Error("a quote of nothing shows sums")
	}
	f.take(t, previewOf(t, f, filled(t, f)).Patch)
	rates := `{"quote":{"currency":"$","per_head":12.5,"per_trench_ft":4,"mark_up_share":0.1,"tax_share":0.0825,"rentals":{"r1":{"what":"Trencher","days":2,"each":95}},"notes":"Good for 30 days."}}`
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, rates, patchType, `If-Match: "2"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	p, err := plan.Decode(f.now().Doc)
	if err != nil {
		t.Fatal(err)
	}
	b := billOf(p)
	page := quote()
	want := []string{b.quote.Total.In("$"), b.quote.Tax.In("$"), b.quote.MarkUp.In("$"), "8.25 %", "Trencher", "2 days", "$95.00 a day", "Good for 30 days.", "Heads, set"}
	for _, l := range b.cost.Lists {
		want = append(want, l.Sum.In("$"))
	}
	for _, words := range want {
		if !strings.Contains(page, words) {
			t.Errorf("the quote does not say %q", words)
		}
	}
	if b.quote.Total <= b.quote.Parts || strings.Contains(page, "not the whole") {
		t.Errorf("total %s of parts %s", b.quote.Total, b.quote.Parts)
	}
}

// Offers of routes are priced where anything has a price, and only there.
func TestOffersOfRoutesArePriced(t *testing.T) {
	t.Parallel()
	p := readPlan(t, "../testdata/plans/demo.json")
	found := &trench.Proposal{Offers: []trench.Offer{{Name: "One", Patch: plan.Patch(`{"name":"As offered"}`)}, {Name: "Two"}}}
	v := routeWords(p, 1, found)
	bare := len(v.Rows)
	if err := priceOffers(p, v, found); err != nil || len(v.Rows) != bare {
		t.Fatalf("without prices: %d rows, %v", len(v.Rows), err)
	}
	item := billOf(p).list.Total[0].Item
	p.Prices = map[plan.ID]plan.Price{"p1": {Item: item, Unit: "each", Each: 3}}
	if err := priceOffers(p, v, found); err != nil || len(v.Rows) != bare+3 {
		t.Fatalf("with prices: %d rows, %v", len(v.Rows), err)
	}
	for _, o := range v.Offers {
		if len(o.Figures) != len(v.Rows) || len(o.Least) != len(v.Rows) || o.Figures[bare] == "0.00" || !strings.HasSuffix(o.Figures[bare+1], " parts") {
			t.Errorf("%q", o.Figures)
		}
	}
}

// Every list that can be saved is in the menu Export of the board.
func TestTheBoardOffersEveryList(t *testing.T) {
	t.Parallel()
	f := newFixture(t)
	page := f.do("GET", "/plans/"+f.plan.ID, "").Body.String()
	for _, file := range packs.Files() {
		name := file.Name
		if file.Pack != "" {
			continue // on the page of papers, with paper and scale
		}
		at := "/plans/" + f.plan.ID + "/files/" + name
		if !strings.Contains(page, `href="`+at+`" download>`+file.Title+`</a>`) {
			t.Errorf("the board does not offer %s as %q", name, file.Title)
		}
		if w := f.do("GET", at, ""); w.Code != http.StatusOK || w.Body.Len() == 0 {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
}

func TestPricesInWords(t *testing.T) {
	t.Parallel()
	for want, got := range map[string]string{
		"$4.20 each":             eachWords(4.2, "each", "$"),
		"EUR 0.125 a ft":         eachWords(0.125, "ft", "EUR"),
		"12.00 a stick of 20 ft": eachWords(12, "stick of 20 ft", ""),
		"+$1.00":                 signed(parts.Cents(100), "$"),
		"-$1.00":                 signed(parts.Cents(-100), "$"),
		"none":                   countIn(0, "ft"),
		"12 ft":                  countIn(12, "ft"),
		"1 day":                  quoteCount(parts.QuoteLine{Count: 1, Unit: "day"}),
		"2.5 days":               quoteCount(parts.QuoteLine{Count: 2.5, Unit: "day"}),
		"120 ft":                 quoteCount(parts.QuoteLine{Count: 120, Unit: "ft"}),
		"Station 2: Back":        listTitle(parts.CostList{Kind: parts.OfZone, Name: "Back", Station: 2, Zone: "z"}),
		"z9":                     listTitle(parts.CostList{Kind: parts.OfZone, Zone: "z9"}),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
