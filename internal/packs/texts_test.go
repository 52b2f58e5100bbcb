package packs

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/internal/zones"
)

// changed is the demo with a change.
func changed(t testing.TB, with func(p *plan.Plan)) Input {
	t.Helper()
	p, err := plan.Decode(demoBytes(t))
	if err != nil {
		t.Fatal(err)
	}
	with(p)
	return designed(t, p)
}

// orderSaid is the whole order of work of a plan as one text, small letters.
func orderSaid(t testing.TB, in Input) string {
	t.Helper()
	var out []string
	for _, p := range building(t, in, Crew, Letter).work() {
		out = append(out, p.title)
		for _, s := range p.steps {
			out = append(out, s.says)
		}
	}
	return strings.ToLower(strings.Join(out, "\n"))
}

// inOrder holds texts to come one after another.
func inOrder(t *testing.T, text string, parts ...string) {
	t.Helper()
	at := 0
	for _, p := range parts {
		i := strings.Index(text[at:], strings.ToLower(p))
		if i < 0 {
			if strings.Contains(text, strings.ToLower(p)) {
				t.Errorf("%q comes too early", p)
			} else {
				t.Errorf("%q is not said", p)
			}
			continue
		}
		at += i
	}
}

func TestE17_TheMainIsFilledAtTheInletAndBledAtTheFarthestValve(t *testing.T) {
	t.Parallel()
	text := orderSaid(t, demoInput(t))
	inOrder(t, text,
		"located and marked", "ask for the locate", "set the flags", // before digging
		"shut the water off", "licensed plumber", "make the connection", "rated for drinking water up to the backflow device", "set the backflow device", "set the blow-out port",
		"mark the trenches", "sleeves first", "dig to",
		"pressure class", "solvent cement", "main first", "boxes on bricks", "wire beside and under the main", "no nozzle goes in yet",
		"test with water alone, never with air", "all test cocks closed", "at the bleed of the highest and farthest zone valve, by this plan that of zone 4 (back lawn)", "the inlet slowly until the breaker seats and stops spitting", "the outlet slowly",
		"air out of the main at that bleed", "test cocks are for the tester", "hold the pressure at rest for one to two hours",
		"until water alone comes there", // laterals, ends last
		"tested by a licensed tester before the system is used, and every year",
		"only after the pressure test has passed", "high, as it settles",
		"nozzles out and risers up", "those at the ends last", "put in screens and nozzles", "set each arc",
		"electrician", "read the resistance", "run each station", "key in the program", "record drawing")
	if strings.Contains(text, "test cocks open") || strings.Contains(text, "open the test cocks") {
		t.Error("test cocks are to be opened by the crew")
	}
}

func TestTheOrderOfWorkSaysOnlyWhatApplies(t *testing.T) {
	t.Parallel()
	device := func(id plan.ID) func(p *plan.Plan) {
		return func(p *plan.Plan) {
			d, _ := catalog.FindDevice(string(id))
			p.Devices[id] = d
			p.Supply.BackflowDevice, p.Supply.BackflowHeightFt = id, nil
		}
	}
	pipe := func(id plan.ID) func(p *plan.Plan) {
		return func(p *plan.Plan) {
			p.PipeClasses[id], _ = catalog.FindPipeClass(string(id))
			for k, v := range p.Pipes {
				v.Class = id
				p.Pipes[k] = v
			}
			p.Supply.Freeze = "blow_out"
		}
	}
	for _, c := range []struct {
		name       string
		with       func(p *plan.Plan)
		says, mute []string
	}{
		{"as it is", func(*plan.Plan) {}, []string{"solvent cement", "sleeves first", "the meter's own stop", "blow-out port"},
			[]string{"clamps", "pump off", "reclaimed", "soldering", "relief opening", "drains", "assumes"}},
		{"well", func(p *plan.Plan) { p.Supply.Kind = plan.Well }, []string{"pump off at its disconnect", "lock and tag", "a gauge stands still"}, []string{"meter's own stop", "dial of the meter"}},
		{"polyethylene", pipe("pe-100"), []string{"clamps of stainless steel", "hot water, never by flame"}, []string{"solvent cement", "primer"}},
		{"copper", pipe("copper-l"), []string{"lead-free solder"}, []string{"solvent cement", "clamps"}},
		{"no device", func(p *plan.Plan) { p.Supply.BackflowDevice, p.Supply.Backflow, p.Supply.BackflowAt = "", "", nil }, []string{"no backflow device is chosen"}, nil},
		{"reduced pressure", device("backflow-rp-1"), []string{"relief opening may spit"}, []string{"breaker seats"}},
		{"atmospheric", device("backflow-avb-1"), []string{"after each zone valve its atmospheric breaker", "shut-off at the connection slowly"}, []string{"all test cocks closed", "breaker seats", "tested by a licensed tester"}},
		{"drains", func(p *plan.Plan) { p.Supply.Freeze = "automatic_drain" }, []string{"automatic drains"}, []string{"blow-out port"}},
		{"no frost", func(p *plan.Plan) { p.Supply.Freeze = "none" }, nil, []string{"blow-out port", "winter card", "drains"}},
		{"reclaimed", func(p *plan.Plan) { p.Supply.Kind = plan.Reclaimed }, []string{"purple pipe", "ever joined to one of drinking water"}, []string{"licensed plumber or irrigator may connect"}},
		{"assumed", func(p *plan.Plan) { p.Supply.Measured = false }, []string{"measure the supply", "only assumes"}, nil},
		{"no sleeves", func(p *plan.Plan) {
			p.Sleeves = nil
			for id, a := range p.Areas {
				if a.Kind == plan.Paving {
					delete(p.Areas, id)
				}
			}
		}, nil, []string{"sleeves first", "boring"}},
		{"no trees", func(p *plan.Plan) { p.Trees = nil }, nil, []string{"near trees"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			text := orderSaid(t, changed(t, c.with))
			for _, s := range c.says {
				if !strings.Contains(text, s) {
					t.Errorf("%q is not said", s)
				}
			}
			for _, s := range c.mute {
				if strings.Contains(text, s) {
					t.Errorf("%q is said", s)
				}
			}
		})
	}
}

// Every sheet a step names is one of a pack.
func TestStepsNameSheetsThatAre(t *testing.T) {
	t.Parallel()
	var codes []string
	for _, k := range []Kind{Crew, Owner, Office} {
		for _, s := range sheetsOf(k) {
			codes = append(codes, s.code)
		}
	}
	named := 0
	for _, p := range building(t, demoInput(t), Crew, Letter).work() {
		for _, s := range p.steps {
			for _, code := range regexp.MustCompile(`[A-Z]\d+`).FindAllString(s.sheets, -1) {
				named++
				if !slices.Contains(codes, code) {
					t.Errorf("%q names the sheet %s", s.says, code)
				}
			}
		}
	}
	if named < 30 {
		t.Errorf("only %d sheets are named", named)
	}
}

// The blow-out names the pressure of the pipe that is there: PVC 80 psi, polyethylene
// 50 psi at the hose, never through the backflow device (trade.md A7).
func TestRow31_TheWinterCardIsTheOneOfThePlan(t *testing.T) {
	t.Parallel()
	pe := func(all bool) func(p *plan.Plan) {
		return func(p *plan.Plan) {
			p.PipeClasses["pe-100"], _ = catalog.FindPipeClass("pe-100")
			for k, v := range p.Pipes {
				if all || v.Zone != "" {
					v.Class = "pe-100"
					p.Pipes[k] = v
				}
			}
		}
	}
	for _, c := range []struct {
		name       string
		with       func(p *plan.Plan)
		says, mute []string
	}{
		{"PVC", func(*plan.Plan) {}, []string{"never more than 80 psi at the hose: the pipe is PVC", "not by pressure", "AFTER the backflow device and never through it", "Eye protection"}, []string{"50 psi"}},
		{"metric", func(p *plan.Plan) { p.Show = units.Metric }, []string{"never more than 5.5 bar"}, []string{"psi"}},
		{"both", pe(false), []string{"never more than 50 psi"}, []string{"80 psi"}},
		{"PE", pe(true), []string{"never more than 50 psi at the hose: the pipe is polyethylene"}, []string{"80 psi"}},
		{"by hand", func(p *plan.Plan) { p.Supply.Freeze = "manual_drain" }, []string{"opened by hand", "None is drawn on the plan yet", "every drain"}, []string{"psi", "compressor", "blow-out"}},
		{"by itself", func(p *plan.Plan) { p.Supply.Freeze = "automatic_drain" }, []string{"open by themselves", "taken in by who is licensed"}, []string{"compressor", "blow-out"}},
		{"none", func(p *plan.Plan) { p.Supply.Freeze = "none" }, []string{"do not freeze here", "openings free"}, []string{"compressor", "half open", "blow-out", "spring"}},
		{"not said", func(p *plan.Plan) { p.Supply.Freeze = "" }, []string{"does not say yet"}, []string{"compressor", "blow-out port."}},
		{"device not chosen", func(p *plan.Plan) { p.Supply.BackflowDevice = "" }, []string{"does not say which it is", "by who is licensed for it"}, []string{"half open"}},
		{"atmospheric", func(p *plan.Plan) {
			d, _ := catalog.FindDevice("backflow-avb-1")
			p.Devices["backflow-avb-1"] = d
			p.Supply.BackflowDevice = "backflow-avb-1"
		}, []string{"No air may be driven through the breakers"}, []string{"AFTER the backflow"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			text := writtenOn(oneSheet(t, changed(t, c.with), Owner, Letter, "O4"))
			for _, s := range c.says {
				if !strings.Contains(text, s) {
					t.Errorf("%q is not said in\n%s", s, text)
				}
			}
			for _, s := range c.mute {
				if strings.Contains(text, s) {
					t.Errorf("%q is said", s)
				}
			}
		})
	}
}

// The cover warns of what is open, and gives each sheet's first page.
func TestTheCoverWarnsAndGivesPages(t *testing.T) {
	t.Parallel()
	made, err := Make(context.Background(), demoInput(t), Asked{Kind: Crew}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var first []*page
	for i := range made.Sheets[0].Pages {
		first = append(first, &page{Page: made.Document.Pages[i]})
	}
	text := writtenOn(first)
	for _, want := range []string{"2 findings are open", "Rates mixed on one valve", "Left so on purpose", "At 7 ft they stay on the island", "ticket 26-0511-088", "Gas line", "PVC: saw"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the cover", want)
		}
	}
	for _, s := range made.Sheets {
		if want := s.Title + " " + s.Holds + " " + itoa(s.First+1); !strings.Contains(text, want) {
			t.Errorf("%q is not on the cover:\n%s", want, text)
		}
	}
	if strings.Contains(text, pageMark) {
		t.Error("a page's number was not filled in")
	}
}

// A valve is named by its bed, the nearest head and the stations it shares its box with.
func TestStationsSayWhereTheirValvesAre(t *testing.T) {
	t.Parallel()
	text := writtenOn(oneSheet(t, demoInput(t), Owner, Letter, "O2"))
	for _, want := range []string{"1 V1 In Bed B, 5 ft east of head 2-7. In one box with stations 2 and 6.", "5 V5 In Entry bed, 3 ft south-west of head 6-5.", "Minutes for 1 in", "the ball valve 1 in at the point of connection, 2 ft west of head 2-3", "the main stop at the meter", "licensed tester"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said in\n%s", want, text)
		}
	}
}

// Who does not know whether it freezes is not told to run water in winter.
func TestSeasonsGoByTheFrostOfThePlan(t *testing.T) {
	t.Parallel()
	for freeze, want := range map[string][2]string{
		"":         {"This plan does not say it", "Run each station some minutes a month"},
		"none":     {"Run each station some minutes a month", "before the first hard frost"},
		"blow_out": {"before the first hard frost", "Run each station some minutes a month"},
	} {
		text := writtenOn(oneSheet(t, changed(t, func(p *plan.Plan) { p.Supply.Freeze, p.Site.BackflowTestedOn = freeze, "2026-06-05" }), Owner, Letter, "O5"))
		if !strings.Contains(text, want[0]) || strings.Contains(text, want[1]) || !strings.Contains(text, "knows of was on 2026-06-05") {
			t.Errorf("%q: wants %q and not %q:\n%s", freeze, want[0], want[1], text)
		}
	}
}

// A second start never falls into the first run, and the clock goes over midnight.
func TestTwoStartsDoNotMeet(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from    string
		minutes float64
		want    string
		ok      bool
	}{{"22:00", 90, "23:30", true}, {"22:00", 412, "04:52", true}, {"05:00", 0.2, "05:01", true}, {"", 5, "", false}, {"22:00", 1440, "", false}} {
		if got, ok := clockAfter(c.from, c.minutes); got != c.want || ok != c.ok {
			t.Errorf("%g minutes after %q: %q, %v", c.minutes, c.from, got, ok)
		}
	}
}

// The papers to live with are a page a sheet, and the office's cover is one.
func TestPacksOfAHouseLotAreShort(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	for _, paper := range []PaperID{Letter, A4} {
		for _, code := range []string{"O1", "O2", "O3", "O4", "O5"} {
			if n := len(oneSheet(t, in, Owner, paper, code)); n != 1 {
				t.Errorf("%s on %s: %d pages", code, paper, n)
			}
		}
		if n := len(oneSheet(t, in, Office, paper, "F1")); n != 1 {
			t.Errorf("the office's cover on %s: %d pages", paper, n)
		}
	}
}

// The program card has the minutes that the board shows.
func TestTheProgramCardHasTheMinutesOfTheBoard(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	text := writtenOn(oneSheet(t, in, Owner, Letter, "O3"))
	week := zones.PeakMinutes(in.Plan, in.Design.Coverage)
	for _, id := range plan.SortedIDs(in.Plan.Zones) {
		want := in.Plan.Zones[id].Name + " " + itoa(int(week[id]+1-1e-9))
		if !(week[id] > 0) || !strings.Contains(text, want) {
			t.Errorf("%q is not on the card:\n%s", want, text)
		}
	}
	for _, want := range []string{"A first figure", "not worked out from your weather yet", "Monday, Wednesday and Friday", "22:00 to 06:00", "Seasonal percentage", "one, at 22:00; done at about 0"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said", want)
		}
	}
}

// usPrint are figures in units that metric plans do not read.
var usPrint = regexp.MustCompile(`\d+(\.\d+)?('|"| (in|ft|psi|gpm|gal|in/h|ft/s)\b)`)

// Sheets of a metric plan name no inch, foot or psi.
func TestTextSheetsReadMetric(t *testing.T) {
	t.Parallel()
	p, err := plan.Decode(demoBytes(t))
	if err != nil {
		t.Fatal(err)
	}
	p.Show = units.Metric
	p.Accepted = nil // its reason is in the user's words
	in := designed(t, p)
	for _, s := range textSheets {
		text := writtenOn(oneSheet(t, in, s.kind, A4, s.code))
		if found := usPrint.FindString(text); found != "" {
			t.Errorf("%s says %q", s.code, found)
		}
	}
	if found := usPrint.FindString(writtenOn(oneSheet(t, in, Crew, A4, "C10"))); found != "" {
		t.Errorf("the details say %q", found)
	}
}

var textSheets = []struct {
	kind Kind
	code string
}{{Crew, "C1"}, {Crew, "C2"}, {Owner, "O2"}, {Owner, "O3"}, {Owner, "O4"}, {Owner, "O5"}, {Owner, "O7"}, {Owner, "O8"}, {Owner, auditCode}, {Owner, "O10"}}

// Plans without anything, with names without end, with a great many findings: every
// sheet comes out, its texts apart.
func TestTextSheetsOfOddPlans(t *testing.T) {
	t.Parallel()
	for _, n := range slices.Concat(detailPlans(t), crowdedPlans(t)) {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			for _, s := range textSheets {
				pages := oneSheet(t, n.in, s.kind, Letter, s.code)
				for _, q := range pages {
					if k := overlaps(q, t); k > 0 {
						t.Errorf("%s: %d texts overlap", q.Name, k)
					}
				}
			}
		})
	}
	empty := designed(t, plan.Empty("", units.US))
	for code, want := range map[string]string{"O2": "No zone is drawn yet", "O3": "No zone is drawn yet"} {
		if text := writtenOn(oneSheet(t, empty, Owner, Letter, code)); !strings.Contains(text, want) {
			t.Errorf("%s of an empty plan says\n%s", code, text)
		}
	}
	if text := writtenOn(oneSheet(t, empty, Crew, Letter, "C1")); !strings.Contains(text, "Locate asked for on: ____") || !strings.Contains(text, "ASSUMED") {
		t.Errorf("the cover of an empty plan says\n%s", text)
	}
}

func TestTextsLook(t *testing.T) {
	t.Parallel()
	demo, empty := demoInput(t), designed(t, plan.Empty("Nothing yet", units.Metric))
	for _, s := range textSheets {
		shoot(t, "demo-"+s.code, oneSheet(t, demo, s.kind, Letter, s.code))
		shoot(t, "empty-"+s.code, oneSheet(t, empty, s.kind, A4, s.code))
	}
}
