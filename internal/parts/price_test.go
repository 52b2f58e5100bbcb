package parts

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// priced is a list of one zone and the main: heads by the piece, pipe in sticks.
func priced() *List {
	pipe := Line{Group: GroupPipe, Item: "Class 200 PVC pipe, 3/4 in", Unit: "ft", Count: 71, Needed: 75, Pack: &Pack{Count: 4, Unit: "stick", Of: 20, Size: "20 ft"}, Sold: "4 sticks of 20 ft"}
	main, zone := pipe, pipe
	main.Count, zone.Count = 31, 40
	main.Pack, zone.Pack, main.Needed, zone.Needed = nil, nil, 0, 0
	body := Line{Group: GroupBody, Item: "Pop-up body 4 in", Unit: "each", Count: 3}
	return &List{
		Zones: []ZoneList{{Kind: OnMain, Name: "Main", Lines: []Line{main}}, {Kind: OfZone, Zone: "z1", Name: "Front", Station: 1, Lines: []Line{body, zone}}},
		Total: []Line{body, pipe},
	}
}

func prices(list ...plan.Price) map[plan.ID]plan.Price {
	out := map[plan.ID]plan.Price{}
	for i, v := range list {
		out[plan.ID(fmt.Sprintf("p%d", i))] = v
	}
	return out
}

func TestPricesGoByItemAndUnit(t *testing.T) {
	const pipe = "Class 200 PVC pipe, 3/4 in"
	for _, c := range []struct {
		name    string
		prices  map[plan.ID]plan.Price
		sum     string
		zones   string
		missing []Missing
	}{
		{"none", nil, "0.00", "0.00 0.00", []Missing{{"Pop-up body 4 in", "each"}, {pipe, "stick of 20 ft"}}},
		{"capitals and spaces aside", prices(plan.Price{Item: " POP-UP  body 4 in", Unit: "EA", Each: 2.5}), "7.50", "0.00 7.50", []Missing{{pipe, "stick of 20 ft"}}},
		// 4 sticks at 5.99 are 23.96: by 31 and 40 ft of 71, 10.461… and 13.498…; the cent left over goes to the larger remainder.
		{"whole sticks", prices(plan.Price{Item: pipe, Unit: "stick", Each: 5.99}), "23.96", "10.46 13.50", []Missing{{"Pop-up body 4 in", "each"}}},
		{"sticks before feet", prices(plan.Price{Item: pipe, Unit: "ft", Each: 9}, plan.Price{Item: pipe, Unit: "Sticks of 20 FT", Each: 5}), "20.00", "8.73 11.27", []Missing{{"Pop-up body 4 in", "each"}}},
		{"each foot needed", prices(plan.Price{Item: pipe, Unit: "foot", Each: 0.335}), "25.13", "10.97 14.16", []Missing{{"Pop-up body 4 in", "each"}}}, // 75 · 0.335 = 25.125, halves up
		{"sticks of another length", prices(plan.Price{Item: pipe, Unit: "stick of 10 ft", Each: 3}), "0.00", "0.00 0.00", []Missing{{"Pop-up body 4 in", "each"}, {pipe, "stick of 20 ft"}}},
		{"the first of two", prices(plan.Price{Item: "pop-up body 4 in", Unit: "each", Each: 1}, plan.Price{Item: "Pop-up body 4 in", Unit: "", Each: 9}), "3.00", "0.00 3.00", []Missing{{pipe, "stick of 20 ft"}}},
	} {
		cost := Priced(priced(), c.prices, "$")
		zones := cost.Lists[0].Sum.String() + " " + cost.Lists[1].Sum.String()
		if cost.Sum.String() != c.sum || zones != c.zones {
			t.Errorf("%s: %s, by zone %s; want %s, %s", c.name, cost.Sum, zones, c.sum, c.zones)
		}
		if diff := cmp.Diff(c.missing, cost.Missing); diff != "" {
			t.Errorf("%s: missing (-want +got):\n%s", c.name, diff)
		}
		if said := strings.Contains(cost.Says, "none") || strings.Contains(cost.Says, "No part"); said != (len(c.missing) > 0) {
			t.Errorf("%s: it says %q", c.name, cost.Says)
		}
	}
}

// Whatever the counts and prices, the lists' sums are the total to the cent, and the
// total is the sum of its lines.
func TestSumsOfTheListsAreTheTotalToTheCent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := &List{}
		n := rapid.IntRange(1, 5).Draw(t, "lists")
		for i := range n {
			list.Zones = append(list.Zones, ZoneList{Kind: OfZone, Zone: plan.ID(fmt.Sprint("z", i))})
		}
		book := map[plan.ID]plan.Price{}
		for i := range rapid.IntRange(0, 6).Draw(t, "items") {
			l := Line{Group: GroupPipe, Item: fmt.Sprint("item ", i), Unit: "ft"}
			for j := range list.Zones {
				if k := rapid.IntRange(0, 40).Draw(t, "count"); k > 0 {
					mine := l
					mine.Count = k
					list.Zones[j].Lines = append(list.Zones[j].Lines, mine)
					l.Count += k
				}
			}
			if l.Count == 0 {
				continue
			}
			l.Needed = l.Count
			if rapid.Bool().Draw(t, "packed") {
				l.Pack = &Pack{Count: rapid.IntRange(1, 9).Draw(t, "packs"), Unit: "coil", Of: 100, Size: "100 ft"}
			}
			list.Total = append(list.Total, l)
			if rapid.Bool().Draw(t, "priced") {
				book[plan.ID(fmt.Sprint("p", i))] = plan.Price{Item: l.Item, Unit: rapid.SampledFrom([]string{"ft", "coil"}).Draw(t, "unit"), Each: rapid.Float64Range(0, 1e5).Draw(t, "each")}
			}
		}
		cost := Priced(list, book, "")
		var lists, lines Cents
		missing := 0
		for _, z := range cost.Lists {
			lists += z.Sum
			var own Cents
			for _, l := range z.Lines {
				if l.Sum < 0 {
					t.Fatalf("a share of %s", l.Sum)
				}
				own += l.Sum
			}
			if own != z.Sum {
				t.Fatalf("a list's lines come to %s, it says %s", own, z.Sum)
			}
		}
		for _, l := range cost.Total {
			lines += l.Sum
			if !l.Priced {
				missing++
			}
			want := new(big.Rat).Mul(big.NewRat(int64(l.Bought), 1), exact(l.Each))
			off := want.Sub(want, big.NewRat(int64(l.Sum), 100))
			if off.Abs(off).Cmp(big.NewRat(1, 200)) > 0 {
				t.Fatalf("%d at %v are %s", l.Bought, l.Each, l.Sum)
			}
		}
		if lists != cost.Sum || lines != cost.Sum || missing != len(cost.Missing) {
			t.Fatalf("the lists come to %s, the lines to %s, the total is %s; %d missing, %d told", lists, lines, cost.Sum, missing, len(cost.Missing))
		}
	})
}

func TestMoneyIsWrittenWithItsCents(t *testing.T) {
	for _, c := range []struct {
		cents    Cents
		currency string
		want     string
	}{{0, "", "0.00"}, {5, "$", "$0.05"}, {123456, "EUR", "EUR 1234.56"}, {-70, "€", "-€0.70"}, {-250, "", "-2.50"}, {100, "Fr.", "Fr. 1.00"}} {
		if got := c.cents.In(c.currency); got != c.want {
			t.Errorf("%d in %q is %q, want %q", int64(c.cents), c.currency, got, c.want)
		}
	}
}

// By hand: parts 23.96 + 7.50 = 31.46. Mark-up 15 % = 4.719 → 4.72. Trenches 100.2 ft,
// so 101 at 3 = 303.00; 12.01 ft under paving, so 13 at 20 = 260.00; 2 heads at 8.50 =
// 17.00; no rate for the valve. Trencher 1.5 days at 99.99 = 149.985 → 149.99.
// Subtotal 31.46 + 4.72 + 303 + 260 + 17 + 149.99 = 766.17. Tax 8.25 % of parts and
// mark-up, 36.18, = 2.98485 → 2.98; of all 63.209 → 63.21.
func TestAQuoteAddsUpOnPaper(t *testing.T) {
	p := &plan.Plan{
		Heads: map[plan.ID]plan.Head{"h1": {}, "h2": {}, "h3": {Status: plan.Existing}}, Zones: map[plan.ID]plan.Zone{"z1": {}},
		Quote: plan.Quote{Currency: "$", PerTrenchFt: 3, PerSleeveFt: 20, PerHead: 8.5, MarkUpShare: 0.15, TaxShare: 0.0825,
			Rentals: map[plan.ID]plan.Rental{"r": {What: "Trencher", Days: 1.5, Each: 99.99}}},
	}
	cost := Priced(priced(), prices(plan.Price{Item: "Pop-up body 4 in", Unit: "each", Each: 2.5}, plan.Price{Item: "Class 200 PVC pipe, 3/4 in", Unit: "stick", Each: 5.99}), "$")
	digs := &trench.Digs{Totals: trench.Totals{Trench: 100.2, Sleeved: 12.01}}
	for _, c := range []struct{ on, tax, total, by string }{
		{"", "2.98", "769.15", "8.25 % of the parts with their mark-up"}, {"parts", "2.98", "769.15", "8.25 % of the parts with their mark-up"},
		{"all", "63.21", "829.38", "8.25 % of everything above"},
	} {
		p.Quote.TaxOn = c.on
		q := Quoted(p, cost, digs)
		if q.Parts.String() != "31.46" || q.MarkUp.String() != "4.72" || q.Subtotal.String() != "766.17" || q.Tax.String() != c.tax || q.Total.String() != c.total || q.TaxBy != c.by {
			t.Errorf("tax on %q: %+v", c.on, q)
		}
		left := strings.Join(q.Left, "\n")
		if !strings.Contains(left, "valves, set, since it has no rate") || strings.Contains(left, "tax") || strings.Contains(left, "without a price") {
			t.Errorf("left out: %s", left)
		}
	}
	p.Quote = plan.Quote{}
	q := Quoted(p, Priced(priced(), nil, ""), &trench.Digs{})
	left := strings.Join(q.Left, "\n")
	for _, want := range []string{"parts without a price: “Pop-up body 4 in”", "heads, set, since it has no rate", "machines to rent", "tax, since no rate", "trenches, since none is drawn"} {
		if !strings.Contains(left, want) {
			t.Errorf("an empty quote does not say that it lacks %q: %s", want, left)
		}
	}
	if q.Total != 0 || len(q.Work) != 0 {
		t.Errorf("an empty quote comes to %s by %v", q.Total, q.Work)
	}
}

// A metric plan is quoted by the metre, at the rate that was typed.
func TestAMetricPlanIsQuotedByTheMetre(t *testing.T) {
	p := &plan.Plan{Show: units.Metric, Quote: plan.Quote{PerTrenchFt: 12.5 * units.MetresPerFoot}}
	q := Quoted(p, Priced(&List{}, nil, ""), &trench.Digs{Totals: trench.Totals{Trench: 100}})
	if len(q.Work) != 1 || q.Work[0].Unit != "m" || q.Work[0].Count != 31 || q.Work[0].Each != 12.5 || q.Total.String() != "387.50" {
		t.Errorf("%+v", q.Work)
	}
}

func TestTwoDesignsAreComparedLineByLine(t *testing.T) {
	book := prices(plan.Price{Item: "Pop-up body 4 in", Unit: "each", Each: 2.5}, plan.Price{Item: "Class 200 PVC pipe, 3/4 in", Unit: "stick", Each: 5.99})
	a := priced()
	b := priced()
	b.Total[0].Count, b.Zones[1].Lines[0].Count = 5, 5
	b.Total = append(b.Total, Line{Group: GroupFlag, Item: "Flag", Unit: "each", Count: 2})
	got := Compare(Priced(a, book, "$"), Priced(b, book, "$"))
	want := []ComparedLine{
		{Group: GroupBody, Item: "Pop-up body 4 in", Unit: "each", From: 3, To: 5, More: 500, Priced: true},
		{Group: GroupFlag, Item: "Flag", Unit: "each", To: 2},
	}
	if diff := cmp.Diff(want, got.Lines); diff != "" || got.Same != 1 || got.More != 500 || got.Whole {
		t.Errorf("%+v\n%s", got, diff)
	}
	if !strings.Contains(got.Says, "no price") {
		t.Error(got.Says)
	}
	back := Compare(Priced(b, book, "$"), Priced(a, book, "$"))
	if back.More != -500 || len(back.Lines) != 2 || back.Lines[1].From != 2 || back.Lines[1].To != 0 {
		t.Errorf("%+v", back)
	}
	if same := Compare(Priced(a, book, "$"), Priced(a, book, "$")); !same.Whole || len(same.Lines) != 0 || same.Says != "Both take the same parts." {
		t.Errorf("%+v", same)
	}
}
