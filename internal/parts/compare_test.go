package parts

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// What two designs differ by, line by line, is what they differ by in all.
func TestAComparisonAddsUpToTheDifference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var costs []*Cost
		book := map[plan.ID]plan.Price{}
		for range 2 {
			p := yard(t)
			p.Show = units.US
			list, _ := compute(p)
			for _, m := range Priced(list, nil, "").Missing {
				if rapid.IntRange(0, 3).Draw(t, "price") > 0 {
					book[plan.ID(fmt.Sprintf("p%d", len(book)))] = plan.Price{Item: m.Item, Unit: m.Unit, Each: float64(rapid.IntRange(0, 9999).Draw(t, "cents")) / 100}
				}
			}
			costs = append(costs, Priced(list, book, ""))
		}
		c := Compare(costs[0], costs[1])
		var more Cents
		for _, l := range c.Lines {
			more += l.More
		}
		if more != c.More || c.More != costs[1].Sum-costs[0].Sum || c.Whole != (len(costs[0].Missing)+len(costs[1].Missing) == 0) {
			t.Fatalf("the lines come to %s, the difference is %s of %s and %s", more, c.More, costs[0].Sum, costs[1].Sum)
		}
		back := Compare(costs[1], costs[0])
		if back.More != -c.More || len(back.Lines) != len(c.Lines) || back.Same != c.Same {
			t.Fatalf("there %+v, back %+v", c, back)
		}
	})
}
