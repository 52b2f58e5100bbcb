package season_test

import (
	"context"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/season"
)

// A month of which rain leaves less to bring than is worth a watering is off, and its
// chain says so; the soil is hardly drier for it, and the months after keep it.
func TestAMonthThatNeedsHardlyAnythingIsOff(t *testing.T) {
	t.Parallel()
	p := demo(t)
	p.Watering.ETIn, p.Watering.RainIn = twelve(5), twelve(2)
	p.Watering.ETIn[0], p.Watering.RainIn[0] = 1.1, 3.3 // lawns use .88 in, of which .825 falls
	prog, err := season.Work(context.Background(), p, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	q := prog.Asked
	near(t, "left in January", float64(q.Left(0)), 1.1*.8-3.3/4, 1e-9)
	if prog.Year.Months[0] != nil || prog.Year.Months[1] == nil || q.Left(1) != 0 || prog.Year.Percent.ByMonth[0] != 0 {
		t.Errorf("January: %+v; February: %+v", prog.Year.Months[0], prog.Year.Months[1])
	}
	c := season.ChainOf(q, "front-lawn", 0)
	near(t, "of the month", factor(t, c, "Left to bring in January").Value, 1.1*.8-3.3/4, 1e-9)
	near(t, "to bring", c[len(c)-1].Value, 0, 0)
	year := prog.Year.SoilWater(&q.Input)
	for _, a := range year {
		// Played with what was left as well, for which nothing ran: a bucket by itself.
		need, below := q.Needs[a.Area].Month, 0.0
		for _, d := range a.Days {
			below = max(0, below-float64(d.Got)) + float64(need[d.Month].Day+need[d.Month].Left)
			if below > float64(a.May[d.Month])+float64(need[0].Left)*31+1e-6 {
				t.Fatalf("%s: %g in below full on day %d of month %d, %g may", q.Needs[a.Area].Name, below, d.Day, d.Month+1, float64(a.May[d.Month]))
			}
		}
		if a.Past != 0 {
			t.Errorf("%s: %d days past what may be used up", q.Needs[a.Area].Name, a.Past)
		}
	}

	day := func() float64 { return float64(needOf(t, ask(t, p), "front-lawn").Month[0].Day) }
	p.Options.Figures = map[plan.ID]plan.Figure{plan.LeastMonth: {Value: .05}}
	near(t, "by a smaller least", day(), .055/31, 1e-9)
	p.Options.Figures = nil
	near(t, "by the usual", day(), 0, 0)
	change(p, "front-lawn", func(a *plan.Area) { a.Soil, a.RootsIn = "sand", 2 })
	near(t, "soil that holds hardly more", day(), .055/31, 1e-9)
	change(p, "front-lawn", func(a *plan.Area) { a.Soil, a.RootsIn = "", 0 })
	p.Watering.Stage, p.Watering.ETIn[0] = plan.NewSod, (3.3/4 + .055)
	near(t, "new sod is kept wet", day(), .055/31, 1e-9)
}
