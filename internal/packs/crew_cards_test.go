package packs

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// priced is a plan with a price for most of its items, of odd cents.
func priced(t testing.TB, in Input) Input {
	t.Helper()
	p, err := plan.Decode(in.Plan.Encode())
	if err != nil {
		t.Fatal(err)
	}
	p.Prices = map[plan.ID]plan.Price{}
	for i, l := range parts.Priced(in.Design.Parts, nil, "").Total {
		if i%7 != 3 {
			p.Prices[plan.ID(fmt.Sprintf("p%d", i))] = plan.Price{Item: l.Item, Unit: l.Per, Each: 0.37 + 1.13*float64(i)}
		}
	}
	return designed(t, p)
}

// The parts on all cards together are the parts list, line by line and to the cent, on
// every plan, by what the cards print.
func TestCardsAddUpToThePartsList(t *testing.T) {
	t.Parallel()
	plans := append([]namedPlan{{"demo", demoInput(t)}, {"routed", demoRouted(t, "demo")}, {"hundred", designed(t, hundredHeads())}}, crowdedPlans(t)...)
	for _, n := range slices.Clone(plans) {
		plans = append(plans, namedPlan{n.name + " priced", priced(t, n.in)})
	}
	for _, n := range plans {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			b, err := newBuilder(t.Context(), n.in, Asked{Kind: Crew})
			if err != nil {
				t.Fatal(err)
			}
			cost := sheets.CostOf(n.in.Plan, n.in.Design)
			counts, cents, lines := map[string]int{}, map[string]int{}, 0
			for _, c := range b.allCards() {
				for i, row := range c.parts.Rows {
					if c.parts.Heavy[i] {
						continue // the card's own sum
					}
					lines++
					counts[row[0]+" · "+row[2]] += wholeOf(t, row[1])
					if len(row) > 3 && row[3] != "" {
						cents[row[0]+" · "+row[2]] += wholeOf(t, strings.ReplaceAll(row[3], ".", ""))
					}
				}
			}
			want, wantCents, sum := map[string]int{}, map[string]int{}, 0
			for i, l := range n.in.Design.Parts.Total {
				want[l.Item+" · "+l.Unit] += l.Count
				if cost != nil && cost.Total[i].Priced {
					wantCents[l.Item+" · "+l.Unit] += int(cost.Total[i].Sum)
					sum += int(cost.Total[i].Sum)
				}
			}
			for _, k := range slices.Sorted(maps.Keys(want)) {
				if counts[k] != want[k] {
					t.Errorf("%s: %d on the cards, %d on the list", k, counts[k], want[k])
				}
				if cents[k] != wantCents[k] {
					t.Errorf("%s: %d cents on the cards, %d on the list", k, cents[k], wantCents[k])
				}
			}
			if len(counts) != len(want) || lines == 0 {
				t.Errorf("%d items on the cards, %d on the list", len(counts), len(want))
			}
			if cost != nil && (sum == 0 || sum != int(cost.Sum)) {
				t.Errorf("the list's lines come to %d cents, its sum is %d", sum, cost.Sum)
			}
			cardsPrinted(t, b)
		})
	}
}

func wholeOf(t *testing.T, s string) int {
	t.Helper()
	return int(readNumber(t, s))
}

// cardsPrinted holds that every line of parts is on a page: as many of each count as the
// cards have.
func cardsPrinted(t *testing.T, b *builder) {
	t.Helper()
	b.now = sheet{code: "C9", title: "Zone cards"}
	b.tell = func(string, float64) {}
	if err := b.zoneCards(); err != nil {
		t.Fatal(err)
	}
	got := map[string]int{}
	var read func(items []drawing.Item)
	read = func(items []drawing.Item) {
		for _, i := range items {
			switch v := i.(type) {
			case *drawing.Text:
				if v.Size == partSize && v.Anchor == drawing.End {
					got[v.S]++
				}
			case *drawing.Layer:
				read(v.Items)
			}
		}
	}
	for _, q := range b.pages {
		read(q.Items)
		for _, i := range q.Items {
			if v, ok := i.(*drawing.Text); ok && v.At[1] < q.room.Min[1] {
				t.Errorf("%q is set under the room of its page", v.S)
			}
		}
	}
	want := map[string]int{}
	for _, c := range b.allCards() {
		for _, g := range append(c.tables[:len(c.tables):len(c.tables)], c.parts) {
			for _, r := range partsOf(g, 200) {
				want[r.count]++
				if r.cost != "" {
					want[r.cost]++
				}
			}
		}
	}
	for _, s := range slices.Sorted(maps.Keys(want)) {
		if got[s] != want[s] {
			t.Errorf("%q is printed %d times, it stands on the cards %d times", s, got[s], want[s])
		}
	}
}

// Every zone has a card with its heads by nozzle, all of them and once.
func TestCardsNameEveryHead(t *testing.T) {
	t.Parallel()
	for _, n := range append([]namedPlan{{"demo", demoInput(t)}}, crowdedPlans(t)...) {
		b, err := newBuilder(t.Context(), n.in, Asked{Kind: Crew})
		if err != nil {
			t.Fatal(err)
		}
		cards := 0
		for _, c := range b.allCards() {
			if c.zone == "" {
				continue
			}
			cards++
			var want, got []string
			for _, id := range plan.SortedIDs(n.in.Plan.Heads) {
				if h := n.in.Plan.Heads[id]; h.Zone == c.zone && h.Status.Stands() {
					want = append(want, n.in.Plan.HeadTag(id))
				}
			}
			for _, row := range c.tables[0].Rows {
				got = append(got, strings.Split(row[0][strings.LastIndex(row[0], ": ")+2:], ", ")...)
			}
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(want, got) {
				t.Errorf("%s, %s: heads %v on the card, %v in the plan", n.name, c.title, got, want)
			}
		}
		if cards != len(n.in.Plan.Zones) {
			t.Errorf("%s: %d cards of zones, %d zones", n.name, cards, len(n.in.Plan.Zones))
		}
	}
}
