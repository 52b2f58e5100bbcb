package watering

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"evenfall/internal/units"
)

// turnOn is minutes of each zone to begin with, on the days of one program.
func turnOn(in *Input, days string, minutes ...float64) *whole {
	class := make([]int8, len(days))
	for d, c := range days {
		class[d] = -1
		if c == 'x' {
			class[d] = 0
		}
	}
	q := questionOf(in, in.fields(), 6, newPattern(class))
	w := &whole{q: q, a: q.answer(), minutes: make([][classes]float64, len(in.Zones)), starts: [classes]int{1, 1, 1}}
	for z, m := range minutes {
		w.minutes[z][0] = m
	}
	return w
}

// Of two zones that wet the same ground alike the one of more flow gives up its minutes
// first, and neither keeps what is not missed.
func TestTheDearerZoneGivesUpItsMinutes(t *testing.T) {
	t.Parallel()
	for _, flows := range [][2]units.GPM{{9, 3}, {3, 9}} {
		in := turf("xxxxxxx")
		in.Target = Quarter
		in.Areas[0].Need, in.Areas[0].FieldDU, in.Areas[0].Holds = steady(.35), 0, 2
		in.Areas[0].Rates = [][]float32{even(8, 1), even(8, 1)}
		in.Zones = []Zone{{Station: 1, Flow: flows[0], Own: []int{0}}, {Station: 2, Flow: flows[1], Own: []int{0}}}
		w := turnOn(in, "xxxxxxx", 12, 12) // 21 are enough
		w.reduce()
		want := [2]float64{10, 11}
		if flows[0] < flows[1] {
			want = [2]float64{11, 10}
		}
		if got := [2]float64{w.minutes[0][0], w.minutes[1][0]}; got != want {
			t.Errorf("flows %v: %v minutes, want %v", flows, got, want)
		}
	}
	// A zone whose water is not missed at all is off.
	in := bedYard()
	w := turnOn(in, "xxxxxxx", 30, 3)
	if w.reduce(); w.minutes[1][0] != 0 || w.minutes[0][0] != 24 {
		t.Errorf("%v", w.minutes)
	}
}

// Hours are kept wherever some water does, though longer ones would take less; and where
// none does they give way, and no plant goes short.
func TestHoursComeBeforeWaterAndPlantsBeforeHours(t *testing.T) {
	t.Parallel()
	in := turf("x.x.x..")
	in.Target = Quarter
	in.Areas[0].Need, in.Areas[0].FieldDU, in.Areas[0].Intake, in.Areas[0].Holds = steady(.2), 0, 5, 2.4
	in.Areas[0].Rates = [][]float32{even(8, .5), even(8, 2)} // a slow zone of 240 gal an inch, a fast one of 480
	in.Zones = []Zone{{Station: 1, Flow: 2, Own: []int{0}}, {Station: 2, Flow: 16, Own: []int{0}}}
	for _, c := range []struct {
		minutes    int
		slow, fast bool // what runs
		over       bool
	}{{60, true, false, false}, {40, true, true, false}, {15, false, true, false}, {12, false, true, true}} {
		in.Calendar.Until = in.Calendar.From + c.minutes
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		slow, fast := slices.Max(minutesOf(m, 0)), slices.Max(minutesOf(m, 1))
		// A minute more of each of three days is four thirds of the slow zone's for one of
		// the fast one's: 2·4/3 gallons for 16/3, three times.
		if saves, want := m.Programs[0].MinuteSaves, 8.0; c.slow && c.fast && math.Abs(saves-want) > .01 || !c.fast && saves != 0 {
			t.Errorf("%d minutes: one more saves %.3f gallons, want %.3f", c.minutes, saves, want)
		}
		if slow > 0 != c.slow || fast > 0 != c.fast || m.Fits == c.over || m.bound(Hours) != c.over || m.bound(Reach) || m.bound(Soil) {
			t.Errorf("%d minutes: %d and %d, %+v", c.minutes, slow, fast, m.Binds)
		}
	}
}

// Side by side stations take as much of a day as they take of the flow: two slow zones run
// at once where, in turn, faster ones that take more water have to help.
func TestSideBySideTheHoursGoFurther(t *testing.T) {
	t.Parallel()
	in := turf("x.x.x..")
	in.Target = Quarter
	a := in.Areas[0]
	a.Need, a.FieldDU, a.Intake, a.Holds = steady(.2), 0, 5, 2.4
	b := a
	a.Rates, b.Rates = [][]float32{even(8, .5), even(8, .9), nil, nil}, [][]float32{nil, nil, even(8, .5), even(8, .9)}
	in.Areas, in.Zones = []Area{a, b}, []Zone{{Flow: 2, Own: []int{0}}, {Flow: 4, Own: []int{0}}, {Flow: 2, Own: []int{1}}, {Flow: 4, Own: []int{1}}}
	in.Calendar.Until, in.Calendar.Flow = in.Calendar.From+66, 4
	for _, together := range []bool{true, false} {
		in.Calendar.Together = together
		m, err := Plan(context.Background(), in, 6)
		if err != nil || !m.Fits {
			t.Fatalf("together %v: %v, %+v", together, err, m)
		}
		if fast := slices.Max(minutesOf(m, 1)) + slices.Max(minutesOf(m, 3)); (fast > 0) == together {
			t.Errorf("together %v: the fast zones run %d minutes", together, fast)
		}
	}
}

// Whether minutes are enough is told by the cells, whatever cuts are known: as by sorting
// the cells of every run of days.
func TestMinutesHoldAsTheCellsDo(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 61))
	kept, not := 0, 0
	for seed := range uint64(60) {
		in := yard(seed+1500, 3, 8, week("xxxxxxx"))
		in.Target = []Target{Quarter, Half, Mean}[seed%3]
		for range 40 {
			w := turnOn(in, []string{"x.x.x..", "xxxxxxx", "x..x..."}[rng.IntN(3)])
			for z := range w.minutes {
				w.minutes[z][0] = float64(rng.IntN(60))
			}
			zone, worst := rng.IntN(3), math.Inf(1) // least that is left over on any area it reaches
			for i := range in.Areas {
				if in.Areas[i].Rates[zone] != nil {
					worst = min(worst, leftOver(in, w, i))
				}
			}
			if math.Abs(worst) < 1e-4 {
				continue
			}
			if got := w.holds(zone); got != (worst > 0) {
				t.Fatalf("seed %d: minutes %v hold: %v; %.4f in are left over", seed, w.minutes, got, worst)
			}
			if worst > 0 {
				kept++
			} else {
				not++
			}
		}
	}
	if kept < 100 || not < 100 {
		t.Errorf("%d kept, %d not", kept, not)
	}
}

// leftOver is the least that a part of an area has more than it has to, on any run of days
// that begins with a watering, and of the cycle.
func leftOver(in *Input, w *whole, i int) float64 {
	a, class := &in.Areas[i], w.q.p.class
	cells := 0
	for _, r := range a.Rates {
		cells = max(cells, len(r))
	}
	day := make([]float64, cells)
	for z, r := range a.Rates {
		for c, v := range r {
			day[c] += float64(v) * w.minutes[z][0] / 60
		}
	}
	got := lessEven(in, i) * meanOfFirst(day, inOrder(day), shareOf(in.Target)*float64(cells))
	need := float64(a.Need[6])
	may := max(float64(a.Holds)*float64(a.Depleted), need)
	waterings := 0
	for _, c := range class {
		if c == 0 {
			waterings++
		}
	}
	least := float64(waterings)*got - need*float64(len(class))
	for from := range class {
		if class[from] != 0 {
			continue
		}
		wet := 0.0
		for days := 1; days <= len(class); days++ {
			if class[(from+days)%len(class)] == 0 {
				least = min(least, wet+may-need*float64(days))
				wet += got
			}
		}
	}
	return least
}

// Days from one watering to the next are those counted on, all round.
func TestGapsOfAPattern(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		days              string
		shortest, longest int
	}{{"x......", 7, 7}, {"x.x.x..", 2, 3}, {"xx.....", 1, 6}, {"x.....x", 1, 6}, {".x...x.", 3, 4}, {"xxxxxxx", 1, 1}, {"...x", 4, 4}, {"x...x...x.....", 4, 6}} {
		w := turnOn(turf("xxxxxxx"), c.days)
		if p := w.q.p; p.shortest[0] != c.shortest || p.longest[0] != c.longest {
			t.Errorf("%s: %d to %d days, want %d to %d", c.days, p.shortest[0], p.longest[0], c.shortest, c.longest)
		}
	}
}

// Of a long cycle there is a pattern for each number of days, and they are as evenly
// spread as they come: no gap is more than a day longer than another.
func TestLongCyclesAreSpreadEvenly(t *testing.T) {
	t.Parallel()
	for _, n := range []int{10, 14, 31} {
		counts := map[int]bool{}
		for _, p := range patterns(slices.Repeat([]bool{true}, n), classes) {
			if p.count[1] == 0 {
				counts[p.count[0]] = true
				if p.longest[0]-p.shortest[0] > 1 {
					t.Errorf("%d days: %v", n, p.class)
				}
			}
			days := 0
			for _, c := range p.class {
				if c >= 0 {
					days++
				}
			}
			if days != p.count[0]+p.count[1]+p.count[2] {
				t.Errorf("%v: counts %v", p.class, p.count)
			}
		}
		if len(counts) != n {
			t.Errorf("%d days: programs of %d lengths", n, len(counts))
		}
	}
}

// A run takes as many cycles as the longest goes into it, one where it is as long as that.
func TestCyclesOfARun(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ longest, minutes, cycles int }{{12, 0, 0}, {12, 1, 1}, {12, 12, 1}, {12, 13, 2}, {12, 24, 2}, {12, 25, 3}, {1, 5, 5}, {0, 500, 1}, {0, 0, 0}} {
		if n := (limit{cycle: c.longest}).cycles(c.minutes); n != c.cycles {
			t.Errorf("%d minutes, %d at once: %d cycles, want %d", c.minutes, c.longest, n, c.cycles)
		}
	}
}

// A controller holds a program with just as many starts, and stations, as it has; with one
// less it does not, and by how many is told.
func TestStartsAndStationsOfTheController(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		c        Controller
		zones    int
		need     units.Inches // of a day
		starts   float64      // missing
		stations float64
	}{
		{Controller{Starts: 2}, 1, .2, 0, 0}, {Controller{Starts: 1}, 1, .2, 1, 0}, {Controller{Starts: 1, Soaks: true}, 1, .2, 0, 0},
		{Controller{}, 1, .4, 0, 0}, {Controller{}, 1, .44, 1, 0}, // 4 starts of 12 minutes, where nothing is said
		{Controller{Stations: 3, Starts: 9}, 3, .05, 0, 0}, {Controller{Stations: 2, Starts: 9}, 3, .05, 0, 1},
		{Controller{Starts: 9}, 8, .05, 0, 0}, {Controller{Starts: 9}, 9, .05, 0, 1}, // 8 where nothing is said
	} {
		in := turf("x.x.x..")
		in.Controller, in.Calendar.Until = c.c, in.Calendar.From+24*60
		in.Areas[0].Need, in.Areas[0].Holds = steady(c.need), 4
		in.Areas[0].Rates = make([][]float32, c.zones)
		in.Areas[0].Rates[0] = even(8, 1.5)
		for z := 1; z < c.zones; z++ {
			in.Zones = append(in.Zones, Zone{Station: z + 1, Flow: 5, Own: []int{z}})
			a := in.Areas[0]
			a.Rates = make([][]float32, c.zones)
			a.Rates[z] = even(8, 1.5)
			in.Areas = append(in.Areas, a)
		}
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		missing := map[string]float64{}
		for _, b := range m.Binds {
			missing[b.Limit] = b.By
		}
		if missing[Starts] != c.starts || missing[Stations] != c.stations || m.Fits != (c.starts+c.stations == 0) {
			t.Errorf("%+v of %d zones that need %g in a day: %+v", c.c, c.zones, float64(c.need), m.Binds)
		}
	}
}

// Turf that rests is in the program of the fewest days whose gaps its soil lasts; where it
// does not last a cycle of days of rest it does not rest.
func TestTurfThatRestsIsInTheFewestDays(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		holds units.Inches
		want  [classes]bool
	}{{2.4, [classes]bool{1: true}}, {1.2, [classes]bool{0: true}}, {.8, [classes]bool{0: true, 1: true}}} {
		in := turf("xxxxxxx")
		in.Areas[0].Holds, in.Areas[0].Rest = c.holds, 2 // .2 in a day of half of it: 6, 3 and 2 days
		q := questionOf(in, in.fields(), 6, newPattern([]int8{0, 1, 0, -1, 0, 1, -1}))
		if q.may[0] != c.want {
			t.Errorf("holds %g: %v, want %v", float64(c.holds), q.may[0], c.want)
		}
	}
}
