package watering

import (
	"context"
	"testing"
)

// Of many zones fewer patterns are looked at, all of one program among them, and what they
// cost at least is hardly more than what all cost.
func TestFewerPatternsOfManyZones(t *testing.T) {
	t.Parallel()
	all := patterns(week("xxxxxxx"), classes)
	if few := looked(all, 6); len(few) != len(all) {
		t.Errorf("%d of %d patterns of six zones", len(few), len(all))
	}
	few := looked(all, 48)
	if len(few) != lookedAt/48/48 || len(looked(all, 4000)) != lookMost || len(few) >= len(all) {
		t.Errorf("%d of %d patterns of 48 zones", len(few), len(all))
	}
	alone := func(list []*pattern) int {
		n := 0
		for _, p := range list {
			if p.alone() {
				n++
			}
		}
		return n
	}
	if alone(few) != alone(all) || alone(few) == 0 {
		t.Errorf("%d of %d patterns of one program", alone(few), alone(all))
	}
	for seed := range uint64(6) {
		in := yard(seed+300, 4, 20, week("xxxxxxx"))
		fields := in.fields()
		least := func(list []*pattern) float64 {
			best := -1.0
			for _, p := range list {
				a, err := questionOf(in, fields, 6, p).solve(context.Background(), false)
				if err != nil {
					t.Fatal(err)
				}
				if best < 0 || a.cost < best {
					best = a.cost
				}
			}
			return best
		}
		if of, by := least(all), least(few); by > of*(1+near) {
			t.Errorf("seed %d: %g gallons of fewer patterns, %g of all", seed, by, of)
		}
	}
}

// Looked at again are the cheapest, and of the others the simplest.
func TestAgainAreTheCheapestAndTheSimplest(t *testing.T) {
	t.Parallel()
	var list []*candidate
	for i := range 100 {
		list = append(list, &candidate{visits: 100 - i})
	}
	if got := again(list, 8, 20); len(got) != 100 {
		t.Errorf("%d of a small yard", len(got))
	}
	got := again(list, 8, 35)
	if len(got) != 40 || got[7] != list[7] || got[8] != list[99] || got[39] != list[68] {
		t.Errorf("%d again", len(got))
	}
}

// A month that fits by all days is known to, and one with far too few hours is known not to.
func TestFitsEveryDay(t *testing.T) {
	t.Parallel()
	fit := 0
	for seed := range uint64(8) {
		in := yard(seed+500, 5, 20, week("xx.xxx."))
		in.Calendar.Until = in.Calendar.From + 24*60
		may, err := FitsEveryDay(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		if may {
			fit++
		}
		if may && !m.Fits {
			t.Errorf("seed %d: it fits by all days, and the search finds none that does", seed)
		}
		in.Calendar.Until = in.Calendar.From + 1
		if may, _ := FitsEveryDay(context.Background(), in, 6); may {
			t.Errorf("seed %d fits a minute", seed)
		}
	}
	if fit < 2 {
		t.Errorf("%d fit", fit)
	}
	in := yard(1, 2, 10, week("......."))
	if _, err := FitsEveryDay(context.Background(), in, 6); err == nil {
		t.Error("no day is allowed, and it is no error")
	}
}
