package sheets

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// watered is the demo with a program that is written by hand, so that what is printed of
// it does not hang on how programs are sought: nothing in winter, one program in spring
// and autumn, two at the peak of July, which does not fit.
func watered(t testing.TB) (*plan.Plan, *season.Program) {
	t.Helper()
	p, _ := load(t, "demo.json")
	p.Watering.ETZone = 12
	y, _, err := season.YearOf(p)
	if err != nil {
		t.Fatal(err)
	}
	q := &season.Question{Year: y, Notes: []string{`The soil of "Front lawn" is not said: it is reckoned as clay loam.`}, Unwet: []plan.ID{"strip"}}
	for i, id := range []plan.ID{"front-lawn", "island"} {
		n, err := season.NeedOf(p, id, y)
		if err != nil {
			t.Fatal(err)
		}
		n.FieldDU, n.DUFrom = 0.65, "the field estimate"
		q.Needs = append(q.Needs, n)
		a := watering.Area{ID: string(id), Name: n.Name, Size: units.SqFeet(1000 * (i + 1)), Holds: n.Holds, Depleted: 0.5, Intake: 0.2, Surface: 0.26, FieldDU: 0.65,
			Rates: [][]float32{{0.4, 0.5}, {1.4, 1.5}}}
		for m := range n.Month {
			a.Need[m] = n.Month[m].Day
		}
		q.Input.Areas = append(q.Input.Areas, a)
	}
	q.Input.Zones = []watering.Zone{{ID: "z1", Name: "Front lawn, west", Station: 1, Flow: 8, Own: []int{0}}, {ID: "z6", Name: "Flowers", Station: 6, Flow: 5, Own: []int{1}}}
	q.Input.Calendar = watering.Calendar{Days: []bool{true, false, true, false, true, false, false}, From: 22 * 60, Until: 30 * 60}
	q.Input.Target, q.Input.Show = watering.Half, p.Show

	plain := func(waterings int) []watering.Plain {
		return []watering.Plain{
			{Zone: 0, Area: 0, Need: 0.2, Days: 7, Depth: 1.4, Rate: 0.45, Base: 186.7, DU: 0.65, Multiplier: 1.27, Minutes: 237, Interval: 3, Waterings: waterings, EachMinutes: 237 / float64(waterings), Longest: 62, Cycles: 2, CycleMinutes: 39.5, SoakMinutes: 78, Gallons: 1896},
			{Zone: 1, Area: -1, Days: 7},
		}
	}
	once := watering.Program{Days: []int{2}, Starts: []int{22 * 60}, Ends: 22*60 + 40, Runs: []watering.Run{{Zone: 0, Minutes: 30, Cycles: 1}, {Zone: 1, Minutes: 10, Cycles: 1}},
		Steps: []watering.Step{{Zone: 0, From: 1320, Until: 1350}, {Zone: 1, From: 1350, Until: 1360}}}
	twice := watering.Program{Days: []int{0, 4}, Starts: []int{1320, 1450}, Ends: 1500, Runs: []watering.Run{{Zone: 0, Minutes: 80, Cycles: 2, Soak: 78}, {Zone: 1, Minutes: 20, Cycles: 2, Soak: 78}},
		Steps: []watering.Step{{Zone: 0, From: 1320, Until: 1360}, {Zone: 1, From: 1360, Until: 1370}, {Zone: 0, From: 1450, Until: 1490}, {Zone: 1, From: 1490, Until: 1500}}}
	months := &watering.Year{Peak: 6, Percent: &watering.Percent{Serves: true, Year: 0.031}, SavedSays: "Solved together the zones take 15,420 gal a year, 42,543 gal less than the 57,963 gal of sums zone by zone."}
	for m := range months.Months {
		var is *watering.Month
		switch {
		case m == 6:
			is = &watering.Month{Programs: []watering.Program{twice, once}, Gallons: 8*190 + 5*50, Least: 1765, Over: 12, Saved: 100,
				Binds: []watering.Bind{{Limit: watering.Hours, Area: -1, Program: 0, By: 12, Says: "Program A takes 8 h 12 min a day, soaking included; 8 h 00 min are allowed."}},
				Eases: []watering.Ease{{Day: 1, Fits: true, Gallons: 1700, Says: "One more day, Tuesday."}, {Day: -1, Minutes: 12, Says: "Hours longer by 0 h 12 min a day. It helps, but is not enough by itself."}}}
		case m >= 3 && m <= 9:
			is = &watering.Month{Programs: []watering.Program{once}, Gallons: 8*30 + 5*10, Least: 285, Fits: true}
		default:
			continue
		}
		is.Month, is.Plain, is.PlainGallons, is.SavedSays = m, plain(2), 1896, "Solved together the zones take 1,770 gal a week, 126 gal less than the 1,896 gal of sums zone by zone."
		is.Areas = []watering.Received{{Need: 1.4, Mean: 1.8, Counts: 1.41, Lowest: 0.6, Allowed: 0.71, Interval: 3}, {Need: 1.1, Mean: 1.3, Counts: 1.12, Lowest: 0.5, Allowed: 0.53, Interval: 3}}
		months.Months[m], months.Percent.ByMonth[m] = is, 20
		months.Gallons += is.Gallons * units.Gallons(climate.Days[m]) / 7
		months.PlainGallons += is.PlainGallons * units.Gallons(climate.Days[m]) / 7
	}
	months.Percent.ByMonth[6] = 100
	return p, &season.Program{Asked: q, Year: months}
}

// What is printed of a program written by hand, in either system, is what was read over
// once and kept. Chains are season's, and kept there.
func TestTheProgramAsItIsPrinted(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	for _, sys := range []units.System{units.US, units.Metric} {
		p.Show, prog.Asked.Input.Show = sys, sys
		var list, text, cal bytes.Buffer
		if err := CSV(&list, ProgramList(p, prog, "")); err != nil {
			t.Fatal(err)
		}
		if err := ProgramText(&text, p, prog, 6, false); err != nil {
			t.Fatal(err)
		}
		if err := ProgramCalendar(&cal, p, prog, "", "2026-05-15"); err != nil {
			t.Fatal(err)
		}
		golden(t, "program-"+string(sys)+".csv", list.String())
		golden(t, "program-"+string(sys)+".txt", text.String())
		if sys == units.US {
			golden(t, "program.ics", cal.String())
		}
	}
}

// Every row of every table has a cell for each column, in each month; a month in which
// nothing is needed has none of what is keyed in.
func TestProgramTablesAreWhole(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	for month := range 12 {
		tables := []Table{
			Program(p, prog, month), Timetable(p, prog, month), AreasWatered(p, prog, month), PlainSums(p, prog, month), Soils(p, prog, month),
			ProgramYear(p, prog), Needs(p, prog), Chain(p, prog, "z1", month), Chain(p, prog, "z6", month), ProgramList(p, prog, ""),
		}
		for i, table := range tables {
			for _, row := range table.Rows {
				if len(row) != len(table.Columns) {
					t.Fatalf("%s: %d cells in %d columns", table.Title, len(row), len(table.Columns))
				}
			}
			if needed := prog.Year.Months[month] != nil; i < 4 && (len(table.Rows) > 0) != needed {
				t.Errorf("%s: %d rows, needed: %v", table.Title, len(table.Rows), needed)
			}
			if i >= 4 && len(table.Rows) == 0 {
				t.Errorf("%s has no rows", table.Title)
			}
		}
	}
	if rows := len(Program(p, prog, 6).Rows); rows != 4 {
		t.Errorf("%d rows in July, want one for each station of each program", rows)
	}
}

// Minutes keyed in are those of a start; the one-zone sum is shared by the days it runs.
func TestMinutesAreOfOneStart(t *testing.T) {
	t.Parallel()
	_, prog := watered(t)
	july := prog.Year.Months[6]
	if got := KeyedMinutes(july.Programs[0], july.Programs[0].Runs[0]); got != 40 {
		t.Errorf("80 minutes at two starts are keyed in as %d", got)
	}
	if got, ok := PlainMinutes(july, 0); !ok || got != 79 {
		t.Errorf("237 minutes on three days are %g, %v", got, ok)
	}
	if _, ok := PlainMinutes(july, 1); ok {
		t.Error("a zone that no area asks of has a one-zone sum")
	}
	if got := ZoneMinutes(july, 0); got != 190 {
		t.Errorf("%d minutes of the zone, want 2 × 80 + 30", got)
	}
}

// Without a climate the week at peak stands once for all months, and no percentage is
// told that nothing is known of.
func TestWithoutAClimateTheWeekAtPeakStandsOnce(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	prog.Asked.PeakOnly = true
	for m := range prog.Year.Months {
		prog.Year.Months[m] = prog.Year.Months[6]
	}
	if rows := ProgramYear(p, prog).Rows; len(rows) != 1 || rows[0][0].String() != "The week at peak" || rows[0][3].String() != "" {
		t.Errorf("the year is %v", rows)
	}
	if n := len(Needs(p, prog).Columns); n != 2 {
		t.Errorf("%d columns of needs", n)
	}
	for _, s := range []string{MonthSays(p, prog, 6), AdjustSays(p, prog), SavedSays(p, prog, -1)} {
		if strings.Contains(s, "July") || !strings.Contains(s, "week at peak") {
			t.Errorf("%q", s)
		}
	}
}

// A plan without a program says why wherever one would stand.
func TestNoProgramSaysWhy(t *testing.T) {
	t.Parallel()
	p, _ := watered(t)
	const no = "Temperatures tell reference ET only with the latitude of the site; give it one."
	rows := ProgramList(p, nil, no).Rows
	if len(rows) != 1 || rows[0][0].String() != NoteName || rows[0][3].String() != no {
		t.Errorf("the list says %v", rows)
	}
	var b bytes.Buffer
	if err := ProgramCalendar(&b, p, nil, no, "2026-05-15"); err != nil {
		t.Fatal(err)
	}
	events := readCalendar(t, b.String())
	if len(events) != 1 || events[0].text["DESCRIPTION"] != no {
		t.Errorf("the calendar says %+v", events)
	}
}

// Sentences that stand alone.
func TestProgramSentences(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	for want, got := range map[string]string{
		"Nothing is to be watered in January.":                        MonthSays(p, prog, 0),
		"April takes 1 program on Wednesday":                          MonthSays(p, prog, 3),
		"It does not fit: 1 limit is not kept.":                       MonthSays(p, prog, 6),
		"July takes 2 programs on Monday, Wednesday and Friday":       MonthSays(p, prog, 6),
		"Nothing is to be watered in November to March: switch":       OffSays(prog),
		"Then it fits, with 1,700 gal a week.":                        strings.Join(WouldFit(p, prog, 6), " "),
		"Key in the program of July":                                  AdjustSays(p, prog),
		"July: solved together the zones take 1,770 gal a week":       SavedSays(p, prog, 6),
		"The start at 00:10 is past midnight":                         StartsSay(prog.Year.Months[6].Programs[0], 7),
		"Program A takes 8 h 12 min":                                  strings.Join(WhyNot(prog, 6), " "),
		"The rain sensor holds the program back":                      SensorSays(p),
		"every day":                                                   ProgramDays(7, []int{0, 1, 2, 3, 4, 5, 6}),
		"every 3 days":                                                ProgramDays(3, []int{1}),
		"days 1 and 4 of every 5":                                     ProgramDays(5, []int{0, 3}),
		"Monday and Thursday":                                         ProgramDays(7, []int{0, 3}),
		"April, June and November to February":                        MonthSpan([]int{0, 1, 3, 5, 10, 11}),
		"every month":                                                 MonthSpan([]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}),
		"06:00 the next day":                                          EndClock(30 * 60),
		"3 × 22 min, 30 min between":                                  CycleWords(watering.Run{Minutes: 65, Cycles: 3, Soak: 30}),
		"22:00, 00:10 and 02:20":                                      StartClocks([]int{1320, 1450, 1580}),
		"The plan has no rain sensor: switch the controller off in":   SensorSays(plan.Empty("", units.US)),
		"There is nothing to water: no zone's water lands on":         MonthSays(p, &season.Program{Asked: &season.Question{}, Year: &watering.Year{Peak: -1}}, 0),
		"Nothing is ever to be watered.":                              AdjustSays(p, &season.Program{Asked: &season.Question{}, Year: &watering.Year{Peak: -1}}),
		"a day, in 3 days, a week":                                    strings.Join([]string{watering.CycleWord(1), watering.CycleWord(3), watering.CycleWord(7)}, ", "),
		"No zone's water lands on Drive strip: the program leaves it": strings.Join(UnwetSay(p, prog), " "),
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q does not hold %q", got, want)
		}
	}
	p.Controller.Adjusts = "none"
	if got := AdjustSays(p, prog); !strings.Contains(got, "has no percentage") {
		t.Errorf("%q", got)
	}
	if n, ok := MonthPercent(p, prog, 3); ok {
		t.Errorf("a controller without a percentage is turned to %d", n)
	}
}

// The list is read back as it was written, formulas in names and all.
func TestProgramListIsReadBack(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	z := p.Zones["z6"]
	z.Name = "=1+1, \"Flowers\"\nand more"
	p.Zones["z6"] = z
	table := ProgramList(p, prog, "")
	var b bytes.Buffer
	if err := CSV(&b, table); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != len(table.Rows)+1 {
		t.Fatalf("%d rows of %d, %v", len(rows), len(table.Rows), err)
	}
	held := 0
	for i, row := range rows[1:] {
		for k, cell := range row {
			want := table.Rows[i][k].String()
			if strings.HasPrefix(want, "=") {
				held++
				want = "'" + want
			}
			if cell != want {
				t.Errorf("row %d, column %d: %q, want %q", i, k, cell, want)
			}
		}
	}
	if held != 8 {
		t.Errorf("%d names were guarded", held)
	}
}

// Programs of which one would begin while another runs are told of, wherever the
// program is printed.
func TestStartsThatMeetAreTold(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	july := prog.Year.Months[6]
	if got := StartsMeetSay(prog, 6) + StartsMeetSay(prog, 0); got != "" {
		t.Errorf("%q", got)
	}
	// A's start at 00:10 comes on Monday and Friday; B runs from 22:00 the evening before.
	july.Programs[1].Days, july.Programs[1].Runs = []int{3}, []watering.Run{{Zone: 0, Minutes: 200, Cycles: 1}}
	const want = "Program B runs past midnight into a day of program A."
	var text, cal bytes.Buffer
	if err := ProgramText(&text, p, prog, 6, false); err != nil {
		t.Fatal(err)
	}
	if err := ProgramCalendar(&cal, p, prog, "", "2026-07-01"); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(StartsMeetSay(prog, 6), want) || !strings.Contains(text.String(), want) || !strings.Contains(readCalendar(t, cal.String())[0].text["DESCRIPTION"], want) {
		t.Errorf("it is not told:\n%s", text.String())
	}
}
