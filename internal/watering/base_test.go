package watering

import (
	"context"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/units"
)

// lawnAndBed is a lawn that takes nearly all the water, most of it in May, and a bed that
// asks for most in June.
func lawnAndBed(days string, lawn, bed [3]units.Inches) *Input {
	in := turf(days)
	in.Areas[0].Size, in.Areas[0].FieldDU = 5000, 1
	in.Areas = append(in.Areas, in.Areas[0])
	in.Areas[1].Name, in.Areas[1].Size = "bed", 20
	for i := range in.Areas {
		in.Areas[i].Need = steady(0)
		for k, need := range [2][3]units.Inches{lawn, bed}[i] {
			in.Areas[i].Need[4+k] = need
		}
	}
	in.Areas[0].Rates = [][]float32{even(100, .5), nil}
	in.Areas[1].Rates = [][]float32{nil, even(100, .5)}
	in.Zones = append(in.Zones, Zone{Station: 2, Flow: 1, Own: []int{1}})
	in.Controller.Percent = true
	return in
}

// The month that others are turned down from is one that none has to be turned up from,
// though it takes a little less water than another.
func TestBaseOfThePercentage(t *testing.T) {
	t.Parallel()
	in := lawnAndBed("x.x.x.x", [3]units.Inches{.2, .1995, .1}, [3]units.Inches{.1, .16, .08})
	if most := in.peak(); most != 4 {
		t.Fatalf("most water in month %d", most)
	}
	y, err := PlanYear(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	if y.Peak != 5 || !y.Months[5].Fits {
		t.Errorf("base is month %d, fits %v", y.Peak, y.Months[5].Fits)
	}
	for month, percent := range y.Percent.ByMonth {
		if percent > 100 {
			t.Errorf("month %d at %d %%", month, percent)
		}
	}
	// Where each month has to be turned up from another it stays that of most water.
	in = lawnAndBed("x.x.x.x", [3]units.Inches{.2, .18, .1}, [3]units.Inches{.1, .16, .08})
	if y, err = PlanYear(context.Background(), in, nil); err != nil || y.Peak != 4 || y.Percent.Serves {
		t.Errorf("%v: base is month %d, serves %v", err, y.Peak, y.Percent.Serves)
	}
}

// What would help is worked out for the month that is furthest from fitting, though
// another takes more water and fits.
func TestEasesOfTheMonthThatDoesNotFit(t *testing.T) {
	t.Parallel()
	in := lawnAndBed("x..x.x.", [3]units.Inches{.3, .28, .1}, [3]units.Inches{.1, .38, .35})
	y, err := PlanYear(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !y.Months[4].Fits || y.Months[5].Fits || y.Months[6].Fits || y.Peak != 5 {
		t.Fatalf("peak %d, May fits %v, June %v, July %v", y.Peak, y.Months[4].Fits, y.Months[5].Fits, y.Months[6].Fits)
	}
	if !slices.ContainsFunc(y.Months[5].Eases, func(e Ease) bool { return e.Fits }) {
		t.Errorf("nothing helps: %+v", y.Months[5].Eases)
	}
}

// Ground that dries out in a day is told to be watered every day.
func TestEasesByEveryDay(t *testing.T) {
	t.Parallel()
	for _, days := range []string{"x..x...", "x...", "x.x.x.."} {
		in := turf(days)
		in.Areas[0].Holds = .45
		in.Areas[0].Rest = 0
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(m.Eases, func(e Ease) bool { return e.Says == "Every day." })
		if m.Fits || i < 0 || !m.Eases[i].Fits {
			t.Errorf("%s: fits %v, %+v", days, m.Fits, m.Eases)
		}
	}
}

// How much further than it may soil dries is told by the share of what roots reach too.
func TestSoilSaysByHowMuch(t *testing.T) {
	t.Parallel()
	in := turf("x..x...") // 1 in of 2 may be used up; four days take .8
	in.Areas[0].Need = steady(.27)
	for holds, want := range map[units.Inches]string{2: "54 % of what roots reach would be used up, where 50 % may be", .6: "all that roots reach would be used up, and more"} {
		in.Areas[0].Holds = holds
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		if i := slices.IndexFunc(m.Binds, func(b Bind) bool { return b.Limit == Soil }); i < 0 || !strings.Contains(m.Binds[i].Says, want) {
			t.Errorf("%v in: %+v", holds, m.Binds)
		}
	}
}
