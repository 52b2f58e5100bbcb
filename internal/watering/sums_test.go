package watering

import (
	"context"
	"math"
	"testing"

	"evenfall/internal/units"
)

// The year is its months, each as often as its days have cycles; what one percentage takes
// more is reckoned here anew, and whether it serves.
func TestTheYearIsTheSumOfItsMonths(t *testing.T) {
	t.Parallel()
	serves, not := 0, 0
	for seed := range uint64(16) {
		in := yard(seed+1900, 3, 16, week("x.x.x.x"))
		in.Calendar.Until = in.Calendar.From + 24*60
		in.Controller.Percent = seed%4 != 3
		if seed%4 == 1 { // one area asks as much all year
			in.Areas[0].Need = steady(.2)
		}
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		gallons, plain, more, good := 0.0, 0.0, 0.0, in.Controller.Percent
		var each [12]float64
		for month, days := range []float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31} {
			m := y.Months[month]
			if m == nil {
				continue
			}
			gallons += float64(m.Gallons) * days / 7
			plain += float64(m.PlainGallons) * days / 7
			each[month] = max(0, float64(y.Months[y.Peak].Gallons)*float64(y.Percent.ByMonth[month])/100-float64(m.Gallons)) * days / 7
			more += each[month]
			if got, want := float64(y.Percent.Extra[month]), each[month]/(float64(m.Gallons)*days/7); math.Abs(got-want) > 1e-9 {
				t.Errorf("seed %d, month %d: %.4f more, told %.4f", seed, month, want, got)
			}
		}
		for month, m := range y.Months {
			if m != nil && (float64(y.Percent.Extra[month]) > .10 && each[month] > .01*gallons || y.Percent.ByMonth[month] > 100) {
				good = false
			}
		}
		for what, v := range map[string][2]float64{
			"gallons": {float64(y.Gallons), gallons}, "plain sums": {float64(y.PlainGallons), plain}, "saved": {float64(y.Saved), plain - gallons},
			"more by one percentage": {float64(y.Percent.Year), more / gallons},
		} {
			if math.Abs(v[0]-v[1]) > 1e-6*(1+math.Abs(v[1])) {
				t.Errorf("seed %d: %s of the year are %.4f, told %.4f", seed, what, v[1], v[0])
			}
		}
		if y.Percent.Serves != good {
			t.Errorf("seed %d: one percentage serves: %v, want %v; %+v", seed, y.Percent.Serves, good, y.Percent)
		}
		if good {
			serves++
		} else if in.Controller.Percent {
			not++
		}
	}
	if serves == 0 || not == 0 {
		t.Errorf("one percentage serves %d yards and does not serve %d", serves, not)
	}
}

// The peak is the month that asks for most water, not for most depth on a small bed.
func TestThePeakIsOfWater(t *testing.T) {
	t.Parallel()
	in := bedYard()
	for m := range 12 {
		in.Areas[0].Need[m], in.Areas[1].Need[m] = .1, .1
	}
	in.Areas[0].Need[6], in.Areas[1].Need[0] = .2, .5
	if got := in.peak(); got != 6 {
		t.Errorf("month %d", got)
	}
	in.Areas[0].Size = 100
	if got := in.peak(); got != 0 {
		t.Errorf("of a small lawn month %d", got)
	}
}

// The sum of a zone is that of the area that asks longest of it, as often as its soil
// asks for water; by an audit, or else by the evenness as drawn.
func TestTheOneZoneSumIsOfTheAreaThatAsksLongest(t *testing.T) {
	t.Parallel()
	in := turf("x.x.x..")
	in.Target = Quarter
	other := in.Areas[0]
	in.Areas[0].FieldDU, other.FieldDU = 0, 0
	other.Need = steady(.1)
	in.Areas = append(in.Areas, other)
	in.Areas[0].Rates = [][]float32{{1, 1, 1, 1, 2, 2, 2, 2}}
	in.Areas[1].Rates = [][]float32{even(8, 1.5)}
	for _, own := range [][]int{{0, 1}, {1, 0}} {
		in.Zones[0].Own = own
		p := in.plain(6, 0)[0]
		if p.Area != 0 {
			t.Errorf("of %v it is area %d", own, p.Area)
		}
		within(t, "evenness as drawn", float64(p.DU), 1/1.5, 1e-9)
		within(t, "minutes", p.Minutes, 60*1.4/1.5*1.5, 1e-9)
		if p.Interval != 5 || p.Waterings != 2 { // 1 in at .2 a day: every 5 of 7 days
			t.Errorf("lasts %d days, %d waterings", p.Interval, p.Waterings)
		}
	}
}

// Stations that wet the same slow ground one right after the other run off however many
// starts there are, where a minute of both is too much for it; it is told, and a controller
// that keeps them apart helps.
func TestStationsOnTheSameSlowGroundRunOff(t *testing.T) {
	t.Parallel()
	in := turf("xxxxxxx")
	in.Target = Quarter
	a := &in.Areas[0]
	a.Need, a.FieldDU, a.Surface = steady(.03), 0, .03
	one, two := make([]float32, 20), make([]float32, 20)
	for c := range 20 {
		if c < 14 {
			one[c] = 1.5
		}
		if c > 6 {
			two[c] = 1.5
		}
	}
	a.Rates = [][]float32{one, two}
	in.Zones = []Zone{{Station: 1, Flow: 5, Own: []int{0}}, {Station: 2, Flow: 5, Own: []int{0}}}
	in.Calendar.Until, in.Controller.Starts = in.Calendar.From+24*60, 20
	m, err := Plan(context.Background(), in, 6)
	if err != nil || m.Fits || !m.bound(Runoff) || m.Binds[0].Area != 0 {
		t.Fatalf("%v, %+v", err, m.Binds)
	}
	helps := false
	for _, e := range m.Eases {
		helps = helps || e.Soaks && e.Fits
	}
	if !helps {
		t.Errorf("eases %+v", m.Eases)
	}
	a.Surface = units.Inches(.2)
	if m, err = Plan(context.Background(), in, 6); err != nil || m.bound(Runoff) {
		t.Errorf("on ground that bears it: %v, %+v", err, m.Binds)
	}
}
