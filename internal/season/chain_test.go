package season_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/planting"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// factor is the figure of a chain by its name, the last of that name.
func factor(t *testing.T, chain []season.Factor, what string) season.Factor {
	t.Helper()
	for _, f := range slices.Backward(chain) {
		if f.What == what {
			return f
		}
	}
	t.Fatalf("no %q among %+v", what, chain)
	return season.Factor{}
}

func has(chain []season.Factor, what string) bool {
	return slices.ContainsFunc(chain, func(f season.Factor) bool { return f.What == what })
}

// climates are the demo under each climate a plan can have.
func climates(t testing.TB) map[string]*plan.Plan {
	out := map[string]*plan.Plan{"week at peak": demo(t)}
	zone := demo(t)
	zone.Watering.ETZone, zone.Watering.RainIn, zone.Watering.Turf = 12, twelve(1.2), "cool"
	normals := demo(t)
	normals.Watering.ETIn, normals.Watering.RainIn, normals.Watering.ETFrom = twelve(7.75), twelve(4), "the town"
	degrees := demo(t)
	north := 39.5
	degrees.Site.Latitude, degrees.Watering.HighF, degrees.Watering.LowF = &north, twelve(95), twelve(64.4)
	weather, _ := keep(t, atLyon(t), lyon(allMonths()...))
	out["zone"], out["normals"], out["temperatures"], out["weather"] = zone, normals, degrees, weather
	return out
}

// Whatever the climate is from, each figure of a chain follows from those above it, and
// the last is what the program is asked for.
func TestEveryChainAddsUp(t *testing.T) {
	t.Parallel()
	for name, p := range climates(t) {
		q := ask(t, p)
		for _, n := range q.Needs {
			for month := range 12 {
				c, of := season.ChainOf(q, n.ID, month), climate.MonthNames[month]
				if q.PeakOnly {
					of = fmt.Sprintf("%d days at peak", climate.Days[month])
				}
				for _, f := range c {
					if f.What == "" || f.Source == "" || math.IsNaN(f.Value) || f.Shown(units.US) == "" || f.Shown(units.Metric) == "" {
						t.Fatalf("%s: %+v", name, f)
					}
				}
				et := factor(t, c, "Reference ET of "+of).Value
				uses := et * factor(t, c, "Plant factor").Value * factor(t, c, "Density factor").Value * factor(t, c, "Microclimate factor").Value
				near(t, name+": uses", factor(t, c, "The planting uses in "+of).Value, uses, 1e-9)
				rain := 0.0
				if has(c, "Rain that plants get") {
					rain = factor(t, c, "Rain that plants get").Value
					near(t, name+": rain", rain, min(uses, factor(t, c, "Rain of "+of).Value*factor(t, c, "Rain that counts").Value), 1e-9)
				}
				last := c[len(c)-1]
				near(t, name+": a day", last.Value, (uses-rain)/float64(climate.Days[month]), 1e-9)
				near(t, name+": asked for", last.Value, float64(areaOf(t, q, n.ID).Need[month]), 1e-12)
				if has(c, "Reference ET of a day") {
					near(t, name+": the month's ET", factor(t, c, "Reference ET of a day").Value*float64(climate.Days[month]), et, 0.01)
				}
			}
		}
	}
}

// How ET was come by is told for each source of it: of a zone and normals by its name, of
// temperatures by eq. 52, of weather by sun and wind.
func TestETOpensToWhatItIsFrom(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		source string
		has    []string
	}{
		"week at peak": {"the week at peak", nil},
		"zone":         {"zone 12 of the public table", nil},
		"normals":      {"your own figures by month (the town)", nil},
		"temperatures": {"Hargreaves-Samani", []string{"Highest temperature", "Radiation above the air"}},
		"weather":      {"weather by month", []string{"Vapour that it holds", "ET by the sun", "ET by wind and dry air", "Wind at 2 m"}},
	} {
		q := ask(t, climates(t)[name])
		chain := season.ChainOf(q, "front-lawn", 6)
		what := "Reference ET of July"
		if q.PeakOnly {
			what = "Reference ET of 31 days at peak"
		}
		if got := factor(t, chain, what).Source; !strings.Contains(got, c.source) {
			t.Errorf("%s: source %q", name, got)
		}
		for _, what := range c.has {
			factor(t, chain, what)
		}
		if c.has == nil && has(chain, "Highest temperature") {
			t.Errorf("%s opens to weather it has not", name)
		}
	}
	q := ask(t, climates(t)["temperatures"])
	c := season.ChainOf(q, "front-lawn", 6)
	high, low := (factor(t, c, "Highest temperature").Value-32)/1.8, (factor(t, c, "Lowest temperature").Value-32)/1.8
	mm := 0.0023 * ((high+low)/2 + 17.8) * math.Sqrt(high-low) * 0.408 * factor(t, c, "Radiation above the air").Value
	near(t, "eq. 52 from what is shown", factor(t, c, "Reference ET of a day").Value, mm/25.4, 1e-9)

	q = ask(t, climates(t)["weather"])
	c = season.ChainOf(q, "front-lawn", 6)
	near(t, "sun and wind", factor(t, c, "ET by the sun").Value+factor(t, c, "ET by wind and dry air").Value, factor(t, c, "Reference ET of a day").Value, 2e-5)
	if f := factor(t, c, "Wind at 2 m"); f.Shown(units.US) != "4.5 mph" || !strings.HasPrefix(f.Source, "not measured: wind of 2 m/s") {
		t.Errorf("%+v", f)
	}
	if f := factor(t, c, "Highest temperature"); f.Shown(units.Metric) != "26.6 °C" || f.Source != "mean of 1 line of the weather" {
		t.Errorf("%+v", f)
	}
	if f := factor(t, season.ChainOf(q, "front-lawn", 6), "Rain of July"); f.Source != q.Year.Source {
		t.Errorf("rain is from %q", f.Source)
	}
	if season.ChainOf(q, "nowhere", 6) != nil || season.ChainOf(q, "island", 12) != nil {
		t.Error("a chain of nothing")
	}
}

// The composite chain of agronomy g-C, at printed precision: ETo .25 in a day, Kc .80,
// 7 days, PR 1.5 in/h, DU .65 on flat clay loam: 1.40 in, 56.0 min, 70.9 min (by 1/DU
// 86.2), 23.63 min a watering, no cycle over 12.0 min.
func TestCompositeChainAsPrinted(t *testing.T) {
	t.Parallel()
	p := demo(t)
	p.Watering.ETIn, p.Watering.Days = twelve(7.75), []string{"mon", "wed", "fri"}
	q := ask(t, p)
	only := slices.IndexFunc(q.Needs, func(n season.Need) bool { return n.ID == "strip" })
	q.Needs, q.Input.Areas = q.Needs[only:only+1], q.Input.Areas[only:only+1]
	q.Input.Areas[0].Rates = [][]float32{{1.5, 1.5, 1.5, 1.5}}
	q.Input.Zones = []watering.Zone{{ID: "z", Name: "Strip", Station: 1, Flow: 2.6, Own: []int{0}}}
	for target, printed := range map[watering.Target]float64{watering.Half: 70.9, watering.Quarter: 86.2} {
		q.Input.Target = target
		y, err := watering.PlanYear(context.Background(), &q.Input, nil)
		if err != nil {
			t.Fatal(err)
		}
		c := season.MinutesOf(&season.Program{Asked: q, Year: y}, "z", 6)
		near(t, "to bring", factor(t, c, "To bring in a round").Value, 1.40, .005)
		near(t, "at the mean rate", factor(t, c, "Minutes at the mean rate").Value, 56.0, .05)
		near(t, "plain sum", factor(t, c, "Minutes by the plain sum").Value, printed, .05)
		near(t, "longest cycle", factor(t, c, "Longest before it runs off").Value, 12.0, .05)
		if target == watering.Half {
			near(t, "multiplier", factor(t, c, "Run-time multiplier").Value, 1.2658, .00005)
			near(t, "a watering", factor(t, c, "Minutes by the plain sum").Value/3, 23.63, .01)
		}
	}
}

// MinutesOf joins the need to what is keyed in: minutes of programs by their days are the
// minutes solved, and what the ground gets of them is what the programs say.
func TestMinutesFollowFromWhatIsKeyedIn(t *testing.T) {
	t.Parallel()
	for name, p := range climates(t) {
		if name == "zone" { // every day allowed: programs for different days
			p.Watering.Days = nil
		}
		prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, z := range prog.Asked.Input.Zones {
			c := season.MinutesOf(prog, plan.ID(z.ID), prog.Year.Peak)
			m := prog.Year.Months[prog.Year.Peak]
			sum := 0.0
			for i, program := range m.Programs {
				if what := "Program " + string(rune('A'+i)); has(c, what) {
					sum += factor(t, c, what).Value * float64(len(program.Days))
				}
			}
			near(t, name+": "+z.Name, factor(t, c, "Minutes as solved").Value, sum, 1e-9)
			if has(c, "Of it counts") {
				if got, need := factor(t, c, "Of it counts").Value, factor(t, c, "To bring in a round").Value; m.Fits && got < need-0.01 {
					t.Errorf("%s: %s: %g in count of %g needed", name, z.Name, got, need)
				}
			}
			for _, f := range c {
				if f.What == "" || f.Source == "" {
					t.Errorf("%s: %+v", name, f)
				}
			}
		}
	}
	p := demo(t)
	prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
	if err != nil {
		t.Fatal(err)
	}
	if season.MinutesOf(prog, "nobody", 6) != nil || season.MinutesOf(prog, "z1", -1) != nil {
		t.Error("a chain of nothing")
	}
}

// A month that rain waters has minutes of nought, and says so.
func TestAMonthThatNeedsNothing(t *testing.T) {
	t.Parallel()
	p := demo(t)
	p.Watering.ETIn, p.Watering.RainIn = twelve(5), append(slices.Repeat([]float64{0}, 11), 99)
	prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
	if err != nil {
		t.Fatal(err)
	}
	c := season.MinutesOf(prog, "z1", 11)
	if f := c[len(c)-1]; f.Value != 0 || f.Unit != season.Minutes || prog.Year.Months[11] != nil {
		t.Errorf("December ends in %+v", f)
	}
	if got := factor(t, c, "Rain that plants get"); got.Value >= 99 || !strings.HasSuffix(got.Source, "no more than is used") {
		t.Errorf("%+v", got)
	}
}

// The plan's plant factors are chosen among the published ones, so that a cover has one
// figure whoever is asked: the plan's.
func TestPlantFactorsAreThePublishedOnes(t *testing.T) {
	t.Parallel()
	p := plan.Empty("", "us")
	for cover, kind := range map[plan.Cover]planting.Kind{
		plan.Turf: planting.CoolTurf, plan.Shrubs: planting.Moderate, plan.TreeBed: planting.Moderate, plan.Vegetables: planting.Annuals,
	} {
		f, err := planting.FactorOf(kind)
		if err != nil {
			t.Fatal(err)
		}
		got, _ := p.Figure(plan.PlantFactor(cover))
		near(t, string(cover), got, float64(f.Factor), 0)
	}
	moderate, err := planting.FactorOf(planting.Moderate)
	if err != nil {
		t.Fatal(err)
	}
	for _, cover := range []plan.Cover{plan.Flowers, plan.Groundcover} {
		got, _ := p.Figure(plan.PlantFactor(cover))
		near(t, string(cover), got, float64(moderate.High), 0)
	}
}

// Figures are printed finely enough to follow, in the units of the plan.
func TestFactorsAreShownInThePlansUnits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		f          season.Factor
		us, metric string
	}{
		{season.Factor{Value: 8.06, Unit: season.Inches}, "8.06 in", "204.7 mm"},
		{season.Factor{Value: .148, Unit: season.InchesDay}, "0.148 in a day", "3.8 mm a day"},
		{season.Factor{Value: 1.439, Unit: season.InchesHr}, "1.439 in/h", "36.6 mm/h"},
		{season.Factor{Value: .65, Unit: season.Share}, "65 %", "65 %"},
		{season.Factor{Value: 1.26582}, "1.266", "1.266"},
		{season.Factor{Value: 43.18, Unit: season.Minutes}, "43.2 min", "43.2 min"},
		{season.Factor{Value: 1, Unit: season.Days}, "1 day", "1 day"},
		{season.Factor{Value: 7, Unit: season.Days}, "7 days", "7 days"},
		{season.Factor{Value: 12.4, Unit: season.Gallons}, "12 gal", "45.4 L"},
		{season.Factor{Value: 86, Unit: season.Warmth}, "86 °F", "30 °C"},
		{season.Factor{Value: 4.4739, Unit: season.Wind}, "4.5 mph", "7.2 km/h"},
		{season.Factor{Value: 2.583, Unit: season.Vapour}, "2.58 kPa", "2.58 kPa"},
		{season.Factor{Value: 22.29, Unit: season.Energy}, "22.29 MJ/m² a day", "22.29 MJ/m² a day"},
		{season.Factor{Value: -0.0001, Unit: season.InchesDay}, "0 in a day", "0 mm a day"},
	} {
		if us, metric := c.f.Shown(units.US), c.f.Shown(units.Metric); us != c.us || metric != c.metric {
			t.Errorf("%g %s: %q and %q", c.f.Value, c.f.Unit, us, metric)
		}
	}
}

// What zones bring an area is told by hand's sums: rates by minutes, and of other zones
// the half that counts of a bed half grown.
func TestWhatZonesBringIsTold(t *testing.T) {
	t.Parallel()
	p := islandYard(t)
	change(p, "island", func(a *plan.Area) { a.PlantHeightIn = 31 })
	prog, m := peakOf(t, p)
	a, c := areaOf(t, prog.Asked, "island"), season.MinutesOf(prog, "z7", prog.Year.Peak)
	own, others := 0.0, 0.0
	for z, rates := range a.Rates {
		minutes := 0.0
		for _, of := range minutesBy(prog, m, plan.ID(prog.Asked.Input.Zones[z].ID)) {
			minutes += float64(of)
		}
		for _, r := range rates {
			depth := float64(r) * minutes / 60 / float64(len(rates))
			if prog.Asked.Input.Zones[z].ID == "z7" {
				own += depth
			} else {
				others += depth * (36 - 31) / (36 - 12)
			}
		}
	}
	near(t, "its own zones bring", factor(t, c, "Its own zones bring").Value, own, 1e-6)
	near(t, "other zones bring", factor(t, c, "Other zones bring").Value, others, 1e-6)
	near(t, "in the mean", float64(receivedBy(t, prog, m, "island").Mean), own+others, 1e-6)
	if own == 0 || others == 0 {
		t.Errorf("%g and %g in", own, others)
	}
}

// A valve of two beds opens to the one that asks longest of it.
func TestAValveOfTwoBedsOpensToTheOneThatAsksLongest(t *testing.T) {
	t.Parallel()
	for _, bed := range []plan.ID{"island", "entry-bed"} {
		p := yard(t, "demo-mended.json")
		change(p, bed, func(a *plan.Area) { a.PlantFactor = 0.9 })
		prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "plants of "+string(bed), factor(t, season.MinutesOf(prog, "z6", prog.Year.Peak), "Plant factor").Value, 0.9, 0)
	}
}
