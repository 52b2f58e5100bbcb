package season_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

func twelve(v float64) []float64 {
	out := make([]float64, 12)
	for m := range out {
		out[m] = v
	}
	return out
}

// The climate goes by the first that is given; rain that counts is taken off.
func TestTheYearGoesByTheFirstThatIsGiven(t *testing.T) {
	t.Parallel()
	p := demo(t)
	p.Watering.ETZone = 12
	year := func() float64 {
		y, peak, err := season.YearOf(p)
		if err != nil || peak || y.Source == "" {
			t.Fatal(peak, y.Source, err)
		}
		return float64(y.Months[6].ET)
	}
	near(t, "zone 12 in July", year(), 8.06, 0)
	p.Watering.RainIn = []float64{6: 1.2, 11: .3}
	for m, fell := range map[int]float64{0: 0, 6: 1.2, 11: .3} {
		y, _, _ := season.YearOf(p)
		near(t, "rain beside a zone", float64(y.Months[m].Rain), fell, 1e-12)
	}
	p.Watering.RainIn = nil
	p.Watering.HighF, p.Watering.LowF = twelve(95), twelve(64.4)
	// FAO-56 eq. 52 at 39.5° N on the 15th of July, Ra by hand from table (d): about 40.8
	near(t, "by temperatures", year(), 0.0023*(26.5+17.8)*4.123106*40.85*0.408*31/25.4, 0.05)
	p.Watering.ETIn = twelve(6.2)
	near(t, "own normals", year(), 6.2, 0)

	p.Watering.RainIn = twelve(2)
	q := ask(t, p)
	n := needOf(t, q, "front-lawn").Month[6]
	near(t, "rain that counts", float64(n.Rain), .5, 1e-12)
	near(t, "a day of July", float64(n.Day), (6.2*.8-.5)/31, 1e-12)
	p.Watering.RainIn = twelve(99)
	near(t, "a day of a wet July", float64(needOf(t, ask(t, p), "front-lawn").Month[6].Day), 0, 0)

	p.Watering.ETIn, p.Site.Latitude = nil, nil
	if _, _, err := season.YearOf(p); err == nil || !strings.Contains(err.Error(), "latitude") {
		t.Errorf("temperatures without a latitude: %v", err)
	}
}

// Every figure of an area can be its own, and says whose it is.
func TestAnAreasOwnFiguresGoBeforeTheTables(t *testing.T) {
	t.Parallel()
	p := demo(t)
	p.Watering.ETIn = twelve(7.75) // .25 in a day of July
	p.Watering.Turf = "warm"
	change(p, "side-lawn", func(a *plan.Area) { a.Soil, a.SlopeShare = "", 0.10 })
	change(p, "entry-bed", func(a *plan.Area) {
		a.PlantFactor, a.Density, a.Microclimate, a.RootsIn, a.Depletion, a.Soil = 0.5, 0.8, 1.2, 12, 0.4, "sand"
	})
	p.Options.Figures = map[plan.ID]plan.Figure{"holds_sand": {Value: 1, Source: "the county's survey"}}
	q := ask(t, p)
	near(t, "warm turf in July", float64(needOf(t, q, "front-lawn").Month[6].Day), .25*.71, 1e-12)
	near(t, "warm turf in April", needOf(t, q, "front-lawn").Month[3].Plant, .72, 0)
	bed := needOf(t, q, "entry-bed")
	near(t, "the bed's need", float64(bed.Month[6].Day), .25*.5*.8*1.2, 1e-12)
	near(t, "the bed holds", float64(bed.Holds), 1, 1e-12)
	near(t, "of it may be used up", float64(areaOf(t, q, "entry-bed").Depleted), .4, 1e-12)
	if bed.Soil[0].Source != "the county's survey" || bed.Soil[1].Source != "this area's own" {
		t.Errorf("sources: %+v", bed.Soil)
	}
	near(t, "stands on a slope of 10 %", float64(areaOf(t, q, "side-lawn").Surface), .26*.6, 1e-12)
	if !strings.Contains(strings.Join(q.Notes, "\n"), `soil of "Side lawn" is not said`) {
		t.Errorf("notes: %q", q.Notes)
	}
	p.Watering.ETIn = nil // the week at peak is one for all months, and so is the factor
	for _, m := range []int{3, 6} {
		near(t, "the week at peak", 7*float64(needOf(t, ask(t, p), "front-lawn").Month[m].Day), 1.4, 1e-12)
	}
	p.Watering.ETIn = twelve(7.75)
	p.Watering.Stage = plan.NewSod
	q = ask(t, p)
	near(t, "new sod", float64(needOf(t, q, "front-lawn").Month[6].Day), .25, 1e-12)
	near(t, "new sod holds", float64(areaOf(t, q, "front-lawn").Holds), 2.125/6, 1e-12)
	near(t, "the bed is as it was", float64(areaOf(t, q, "entry-bed").Holds), 1, 1e-12)
}

// Audits go before the estimate, a zone's before the plan's; then nothing is drawn.
func TestE21_EvennessIsAuditedOrEstimatedNeverDrawn(t *testing.T) {
	t.Parallel()
	p := demo(t)
	q := ask(t, p)
	for _, a := range q.Input.Areas {
		near(t, a.ID, float64(a.FieldDU), .65, 0)
	}
	du := 0.6
	p.Watering.AuditedDU = &du
	for zone, du := range map[plan.ID]units.Ratio{"z1": 0.55, "z2": 0.5} { // both water the front lawn: the least holds
		z := p.Zones[zone]
		z.AuditedDU = du
		p.Zones[zone] = z
	}
	none := func(int, int) { t.Error("an estimate was drawn where audits say of every area") }
	q, err := season.Ask(context.Background(), p, nil, none)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range q.Input.Areas {
		want := .6
		if a.ID == "front-lawn" {
			want = .5
		}
		near(t, a.ID, float64(a.FieldDU), want, 0)
	}
	if n := needOf(t, q, "front-lawn"); n.DUFrom != "the audit of "+p.Zones["z2"].Name {
		t.Errorf("from %q", n.DUFrom)
	}
}

// A bed's water from the lawn's streams counts whole, in part, or not at all.
func TestE22_CreditFadesWithTheHeightOfPlants(t *testing.T) {
	t.Parallel()
	p := demo(t)
	credit := func() []units.Ratio { return areaOf(t, ask(t, p), "island").Credit }
	if c := credit(); c != nil {
		t.Errorf("low plants: %v", c)
	}
	for _, c := range []struct {
		height units.Inches
		own    bool
		want   float64
	}{{12, false, 1}, {24, false, .5}, {36, false, 0}, {100, false, 0}, {0, true, 0}} {
		change(p, "island", func(a *plan.Area) { a.PlantHeightIn, a.OwnZonesOnly = c.height, c.own })
		got := credit()
		if got == nil {
			got = []units.Ratio{1, 1, 1, 1, 1, 1}
		}
		near(t, "the lawn's", float64(got[0]), c.want, 1e-12)
		near(t, "its own", float64(got[5]), 1, 0)
	}
}

func TestCalendarAndControllerAreThePlans(t *testing.T) {
	t.Parallel()
	p := demo(t)
	q := ask(t, p)
	c := q.Input.Calendar
	if c.From != 22*60 || c.Until != 30*60 || c.Together || len(c.Days) != 7 || !c.Days[0] || c.Days[1] || !c.Days[4] {
		t.Errorf("calendar %+v", c)
	}
	if k := q.Input.Controller; k.Stations != 8 || !k.Percent || k.Soaks || q.Input.Target != watering.Half {
		t.Errorf("controller %+v, target %q", k, q.Input.Target)
	}
	p.Watering = plan.Watering{Together: true, StartHHMM: "05:00", EndHHMM: "05:00", Target: plan.ByMean}
	p.Controller.Programs, p.Controller.Starts, p.Controller.Adjusts, p.Controller.Soaks = 2, 6, "none", true
	q = ask(t, p)
	if c := q.Input.Calendar; c.Until-c.From != 24*60 || !c.Together || c.Flow < 12 || c.Flow > 13 || !c.Days[6] {
		t.Errorf("calendar %+v", c)
	}
	p.Watering = plan.Watering{Target: plan.ByLowQuarter}
	if q := ask(t, p); q.Input.Calendar.From != 22*60 || q.Input.Calendar.Until != 30*60 || q.Input.Target != watering.Quarter {
		t.Errorf("no hours are named: %+v, target %q", q.Input.Calendar, q.Input.Target)
	}
	if k := q.Input.Controller; k.Programs != 2 || k.Starts != 6 || k.Percent || !k.Soaks || q.Input.Target != watering.Mean {
		t.Errorf("controller %+v, target %q", k, q.Input.Target)
	}
}

// Planting that no zone wets is told apart; an empty plan has nothing to ask; a stop is
// heeded.
func TestWhatCannotBeAsked(t *testing.T) {
	t.Parallel()
	p := demo(t)
	for _, id := range plan.SortedIDs(p.Heads) {
		if p.Heads[id].Zone == "z5" {
			delete(p.Heads, id)
		}
	}
	q := ask(t, p)
	if len(q.Unwet) != 1 || q.Unwet[0] != "strip" || len(q.Input.Areas) != 5 || len(q.Input.Zones) != 5 {
		t.Errorf("unwet %v, %d areas, %d zones", q.Unwet, len(q.Input.Areas), len(q.Input.Zones))
	}
	empty, err := season.Ask(context.Background(), plan.Empty("", "us"), nil, nil)
	if err != nil || len(empty.Input.Areas) != 0 || len(empty.Input.Zones) != 0 {
		t.Errorf("empty: %+v, %v", empty, err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := season.Ask(ctx, p, nil, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("called off: %v", err)
	}
}

// BenchmarkAsk is the demo with its estimates known, and drawing them.
func BenchmarkAsk(b *testing.B) {
	p := demo(b)
	for name, known := range map[string][]coverage.Estimate{"known": even(p, 0.65), "drawn": nil} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := season.Ask(context.Background(), p, known, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
