package packs

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// watered is the demo, changed, with its watering plan.
func watered(t testing.TB, change func(p *plan.Plan)) Input {
	t.Helper()
	p, err := plan.Decode(demoBytes(t))
	if err != nil {
		t.Fatal(err)
	}
	p.Watering.ETZone, p.Watering.Turf = 12, "cool"
	change(p)
	in := designed(t, p)
	work, _ := wateredOnce.LoadOrStore(string(p.Encode()), sync.OnceValues(func() (Input, error) { return in.Watered(context.Background(), nil) }))
	out, err := work.(func() (Input, error))()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var wateredOnce sync.Map // of documents, as tests only read what is worked out

// wateredPlans are controllers and calendars of every kind that the card has words for.
func wateredPlans(t testing.TB) []namedPlan {
	return []namedPlan{
		{"three days", watered(t, func(*plan.Plan) {})},
		{"two days", watered(t, func(p *plan.Plan) { p.Watering.Days = []string{"mon", "thu"} })},
		{"metric", watered(t, func(p *plan.Plan) { p.Show, p.Watering.ETZone, p.Accepted = units.Metric, 6, nil })},
		{"two days, metric", watered(t, func(p *plan.Plan) {
			p.Show, p.Accepted, p.Watering.Days = units.Metric, nil, []string{"mon", "thu"}
		})},
		{"soaks", watered(t, func(p *plan.Plan) { p.Watering.Days, p.Controller.Soaks = nil, true })},
		{"every other day, no percentage", watered(t, func(p *plan.Plan) {
			p.Watering.Days, p.Watering.Every, p.Controller.Adjusts = nil, 2, "none"
		})},
		{"no percentage", watered(t, func(p *plan.Plan) { p.Controller.Adjusts, p.Watering.ETZone = "none", 9 })},
		{"side by side", watered(t, func(p *plan.Plan) { p.Watering.Together, p.Supply.DesignFlowGPM = true, 16 })},
		{"no climate", watered(t, func(p *plan.Plan) { p.Watering.ETZone, p.Watering.Turf = 0, "" })},
	}
}

// gallonsOf is what a cycle takes that is run as it is keyed in.
func gallonsOf(t testing.TB, in Input, keyed []keyedPrint) float64 {
	t.Helper()
	asked := &in.Program.Asked.Input
	sum := 0.0
	for _, k := range keyed {
		for station, minutes := range k.minutes {
			for _, z := range asked.Zones {
				if z.Station == station {
					sum += float64(timesIn(t, k.days, len(asked.Calendar.Days))*len(k.starts)*minutes) * float64(z.Flow)
				}
			}
		}
	}
	return sum
}

// Whoever keys in what the card says gets the water of the watering plan, to the gallon:
// at the peak, by percentage, and month by month; and a controller that runs its stations
// in turn is done when the card says, no start before the one before is through.
func TestTheProgramCardCanBeKeyedIn(t *testing.T) {
	t.Parallel()
	for _, n := range wateredPlans(t) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			in, paper := n.in, Letter
			if in.Plan.Show == units.Metric {
				paper = A4
			}
			year := in.Program.Year
			peak := year.Months[year.Peak]
			card := readCard(t, oneSheet(t, in, Owner, paper, "O3"))
			if len(card.programs) != len(peak.Programs) {
				t.Fatalf("the card has %d programs, want %d", len(card.programs), len(peak.Programs))
			}
			if got, want := gallonsOf(t, in, card.programs), float64(peak.Gallons); math.Abs(got-want) > 1e-6*want {
				t.Errorf("keyed in it takes %.1f gallons, want %.1f", got, want)
			}
			for i, k := range card.programs {
				inTurn(t, in, &peak.Programs[i], k)
			}
			byMonth := false
			for month, m := range year.Months {
				byMonth = byMonth || len(card.months[month]) > 0
				if card.percents != nil {
					want := "off"
					if m != nil {
						want = fmt.Sprintf("%d %%", year.Percent.ByMonth[month])
					}
					if card.percents[month] != want {
						t.Errorf("month %d is set to %q, want %q", month, card.percents[month], want)
					}
				}
			}
			if byMonth {
				for month, m := range year.Months {
					want := 0.0
					if m != nil {
						want = float64(m.Gallons)
					}
					if got := gallonsOf(t, in, card.months[month]); math.Abs(got-want) > 1e-6*want {
						t.Errorf("month %d keyed in takes %.1f gallons, want %.1f", month, got, want)
					}
				}
			}
			if some := byMonth || card.percents != nil; some == in.Program.Asked.PeakOnly {
				t.Errorf("months are told: %v, and there is no climate: %v", some, in.Program.Asked.PeakOnly)
			}
			if in.Plan.Controller.Adjusts == "none" && card.percents != nil {
				t.Error("percentages for a controller that has none")
			}
		})
	}
}

// inTurn runs a program as a controller does.
func inTurn(t *testing.T, in Input, p *watering.Program, k keyedPrint) {
	t.Helper()
	if k.done != p.Ends%minutesOfDay {
		t.Errorf("done at %d, want %d", k.done, p.Ends)
	}
	if partsItself(*p) || in.Program.Asked.Input.Calendar.Together {
		return // its own timetable is not a person's to follow
	}
	pass, now := 0, -1
	for _, m := range k.minutes {
		pass += m
	}
	for _, s := range k.starts {
		if s < p.Starts[0] {
			s += minutesOfDay
		}
		if s < now {
			t.Errorf("a start at %d, while the one before runs until %d", s, now)
		}
		now = s + pass
	}
	if now%minutesOfDay != k.done {
		t.Errorf("run in turn it is done at %d, and the card says %d", now, k.done)
	}
}

// Where a controller parts minutes by itself, no cycle keyed in is longer than the
// longest reckoned, and none makes more cycles than were.
func TestCyclesKeyedInPartNoMoreThanReckoned(t *testing.T) {
	t.Parallel()
	in := watered(t, func(p *plan.Plan) { p.Watering.Days, p.Controller.Soaks = nil, true })
	peak := in.Program.Year.Months[in.Program.Year.Peak]
	card := readCard(t, oneSheet(t, in, Owner, Letter, "O3"))
	parted := 0
	for _, p := range peak.Programs {
		for _, r := range p.Runs {
			if r.Cycles == 1 {
				continue
			}
			parted++
			c := card.cycle[in.Program.Asked.Input.Zones[r.Zone].Station]
			if c[0] == 0 || (r.Minutes+c[0]-1)/c[0] > r.Cycles || c[1] < r.Soak {
				t.Errorf("%+v is keyed in by cycles of %d with %d between", r, c[0], c[1])
			}
		}
	}
	if parted == 0 {
		t.Error("no station is parted, so that nothing was tested")
	}
}

// A house lot's card that one percentage serves hangs on one page; its small print follows.
func TestTheProgramCardHangsOnOnePage(t *testing.T) {
	t.Parallel()
	in := watered(t, func(p *plan.Plan) { p.Controller.Soaks, p.Watering.ETZone, p.Watering.Turf = true, 9, "" })
	if _, serves := sheets.MonthPercent(in.Plan, in.Program, in.Program.Year.Peak); !serves || !sheets.MonthFits(in.Program, in.Program.Year.Peak) {
		t.Fatal("no percentage serves, or it does not fit: another plan is wanted here")
	}
	for _, paper := range []PaperID{Letter, A4} {
		pages := oneSheet(t, in, Owner, paper, "O3")
		first, rest := writtenOn(pages[:1]), writtenOn(pages[1:])
		if len(pages) > 3 || !strings.Contains(first, sheets.ProgramCaution[:30]) || !strings.Contains(rest, "From weather to minutes") || strings.Contains(first, "Where these figures") {
			t.Errorf("%s: %d pages, the first:\n%s", paper, len(pages), first)
		}
	}
}

// What does not fit stands first, with why and what would help; metric cards name no inch;
// no words lie on others.
func TestTheProgramCardOfEveryKind(t *testing.T) {
	t.Parallel()
	for _, n := range wateredPlans(t) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			for _, paper := range []PaperID{Letter, A4} {
				pages := oneSheet(t, n.in, Owner, paper, "O3")
				for _, q := range pages {
					if k := overlaps(q, t); k > 0 {
						t.Errorf("%s: %d texts overlap", q.Name, k)
					}
				}
				shoot(t, "program-"+strings.ReplaceAll(n.name, " ", "-")+"-"+string(paper), pages)
				text := writtenOn(pages)
				peak := n.in.Program.Year.Months[n.in.Program.Year.Peak]
				if strings.Contains(text, "does not fit as the plan stands") == peak.Fits {
					t.Errorf("it fits: %v, and the card says\n%s", peak.Fits, text)
				}
				keyed, _, _ := strings.Cut(text, "Where these figures come from") // sources name what was published
				if found := usPrint.FindString(keyed); found != "" && n.in.Plan.Show == units.Metric {
					t.Errorf("a metric card says %q", found)
				}
				for _, b := range peak.Binds[:min(len(peak.Binds), mostSaid-1)] {
					if !strings.Contains(text, b.Says) {
						t.Errorf("that %q is not on the card", b.Says)
					}
				}
				for _, e := range peak.Eases {
					if !strings.Contains(text, e.Says) {
						t.Errorf("what would help, %q, is not on the card", e.Says)
					}
				}
			}
		})
	}
}

// A plan that no program can be worked out for has its papers all the same, with a first
// figure and why; a question called off is no reason.
func TestPapersWithoutAProgram(t *testing.T) {
	t.Parallel()
	p, err := plan.Decode(demoBytes(t))
	if err != nil {
		t.Fatal(err)
	}
	in := designed(t, p)
	in.NoProgram = "Rain is given for one month."
	same, err := in.Watered(context.Background(), nil)
	if err != nil || same.Program != nil || same.NoProgram != in.NoProgram {
		t.Errorf("%v, %q, %v", same.Program, same.NoProgram, err)
	}
	text := writtenOn(oneSheet(t, in, Owner, Letter, "O3"))
	for _, want := range []string{"A first figure", "No program could be worked out from your weather: rain is given for one month.", "Seasonal percentage"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, text)
		}
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if in, err := demoInput(t).Watered(stopped, nil); err == nil || in.NoProgram != "" {
		t.Errorf("called off it says %q, %v", in.NoProgram, err)
	}
	for _, n := range hardPlans(t) {
		in, err := n.in.Watered(context.Background(), nil)
		if err != nil {
			t.Fatal(err)
		}
		if (in.Program == nil) == (in.NoProgram == "") {
			t.Errorf("%s: a program, or why not: %v, %q", n.name, in.Program != nil, in.NoProgram)
		}
		for _, q := range oneSheet(t, in, Owner, Letter, "O3") {
			if k := overlaps(q, t); k > 0 {
				t.Errorf("%s, %s: %d texts overlap", n.name, q.Name, k)
			}
		}
	}
}

// Two programs that share a night are told apart by the days and starts they have.
func TestProgramsThatMeetPastMidnight(t *testing.T) {
	t.Parallel()
	program := func(pass int, starts []int, days ...int) watering.Program {
		return watering.Program{Days: days, Starts: starts, Runs: []watering.Run{{Minutes: pass * len(starts), Cycles: len(starts)}}}
	}
	late := []int{22 * 60, 24*60 + 30}
	for i, c := range []struct {
		a, b watering.Program
		meet bool
	}{
		{program(100, late, 0, 2), program(200, late, 4), false},
		{program(100, late, 0, 2), program(200, late, 1), true},
		{program(100, late, 0, 2), program(150, late, 1), false}, // through by half past midnight
		{program(200, []int{60, 120}, 0), program(100, late, 6), false},
		{program(100, late, 0), program(300, []int{23 * 60}, 6), true}, // over the end of the week
		{program(100, nil, 0), program(100, nil, 6), false},
	} {
		m := &watering.Month{Programs: []watering.Program{c.a, c.b}}
		if _, _, ok := sheets.StartsMeet(m, 7); ok != c.meet {
			t.Errorf("%d: they meet: %v", i, ok)
		}
	}
}

// A station that nothing is worked out for is never told to run for nothing.
func TestStationsWithoutAProgramAreNamed(t *testing.T) {
	t.Parallel()
	in := watered(t, func(p *plan.Plan) {
		p.Zones["drip"] = plan.Zone{Name: "Drip along the wall", Station: 7, Status: plan.New}
		p.Areas["far"] = plan.Area{Name: "Far bed", Kind: plan.Planting, Outline: rectangle(300, 300, 320, 320), Status: plan.New}
	})
	text := writtenOn(oneSheet(t, in, Owner, Letter, "O3"))
	for _, want := range []string{"Nothing is worked out for zone 7", "Key in by hand", "No zone's water lands on Far bed: the program leaves it dry."} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, text)
		}
	}
	if strings.Contains(text, "0 minutes: station 7") {
		t.Error("it is told to run for nothing")
	}
}
