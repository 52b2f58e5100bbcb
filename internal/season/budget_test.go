package season_test

import (
	"context"
	"slices"
	"testing"

	"evenfall/internal/season"
	"evenfall/internal/units"
)

// California's worked example, Fresno (agronomy e-5): 51.1 in on 50,000 ft² at .70 is
// 1,108,870 gal; so at .55 it is 871,255. And EPA's own arithmetic at 7.0 in on 5,000 ft²:
// 15,270.9 gal of a month.
func TestBudgetsAsPrinted(t *testing.T) {
	t.Parallel()
	p := demo(t)
	p.Watering.ETIn = slices.Repeat([]float64{4.0090909}, 12)
	p.Watering.ETIn[6] = 51.1 - 11*4.0090909
	prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
	if err != nil {
		t.Fatal(err)
	}
	whole := 0.0
	for _, a := range prog.Asked.Input.Areas {
		whole += float64(a.Size)
	}
	budget := func(ground float64) []season.Factor {
		for i := range prog.Asked.Input.Areas {
			prog.Asked.Input.Areas[i].Size *= units.SqFeet(ground / whole)
		}
		whole = ground
		b, err := season.Budget(prog)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	near(t, "allowance", factor(t, budget(50_000), "Most that California's ordinance allows a home").Value, 1_108_870*.55/.7, 1)
	near(t, "EPA", factor(t, budget(5_000), "EPA's budget allows in July").Value, 15_270.9, 1)

	peakOnly, err := season.Work(context.Background(), demo(t), even(p, 0.65), nil)
	if err != nil {
		t.Fatal(err)
	}
	if b, err := season.Budget(peakOnly); b != nil || err != nil {
		t.Errorf("a budget without a climate: %v, %v", b, err)
	}
}

// What the ordinance expects is the sum of the areas' own needs over its efficiency.
func TestWhatTheOrdinanceExpects(t *testing.T) {
	t.Parallel()
	p := climates(t)["zone"]
	prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
	if err != nil {
		t.Fatal(err)
	}
	budget, err := season.Budget(prog)
	if err != nil {
		t.Fatal(err)
	}
	want := 0.0
	for i, n := range prog.Asked.Needs {
		for m := range n.Month {
			want += 0.62 / 0.75 * float64(n.Month[m].ET) * float64(n.Month[m].All) * float64(prog.Asked.Input.Areas[i].Size)
		}
	}
	near(t, "expected", factor(t, budget, "What its sums expect of these plantings").Value, want, 1e-6*want)
	near(t, "takes", factor(t, budget, "These programs take in a year").Value, float64(prog.Year.Gallons), 0)
	near(t, "ET of zone 12", factor(t, budget, "Reference ET of the year").Value, 53.37, 1e-9)
}
