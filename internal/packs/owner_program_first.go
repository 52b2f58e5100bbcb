package packs

import (
	"fmt"
	"math"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/zones"
)

// firstFigure is a program before any is worked out: the minutes of a week at peak, shared
// among the days.
func (b *builder) firstFigure(f *flow, ids []plan.ID) {
	w := zones.WindowOf(b.p)
	week := zones.PeakMinutes(b.p, b.in.Design.Coverage)
	b.noProgram(f)
	f.facts(
		[2]string{"Days a week", b.daysWords(w.Days)},
		[2]string{"Time to water in", b.windowWords()},
		[2]string{"Starts", b.startWords(week, max(w.Days, 1))},
		[2]string{"Controller", b.controllerWords()},
	)
	g := grid{Head: []string{"Station", "Zone", "Minutes a week", "Minutes a day", "Keyed in", "Later", "Later"},
		Numbers: []bool{false, false, true, true, false, false, false}, Shares: []float64{2, 5, 2, 2, 2, 2, 2}, Mark: b.zoneMarker(ids)}
	unknown := false
	sum := 0.0
	for _, id := range ids {
		row := []string{stationName(b.p.Zones[id]), zoneTitle(b.p, id), "–", "–", "", "", ""}
		if m := week[id]; m > 0 {
			day := math.Ceil(m / float64(max(w.Days, 1)))
			sum += day
			row[2], row[3] = fmt.Sprintf("%.0f", math.Ceil(m)), fmt.Sprintf("%.0f", day)
		} else {
			unknown = true
		}
		g.Rows = append(g.Rows, row)
	}
	g.Rows = append(g.Rows, []string{"All, in turn", "", "", fmt.Sprintf("%.0f", sum), "", "", ""})
	g.Heavy = map[int]bool{len(g.Rows) - 1: true}
	g.Note = zones.PeakSays(b.p, b.in.Design.Coverage)
	if unknown {
		g.Note += " A dash: no water of the zone's own heads is reckoned yet."
	}
	f.table(g)
	f.para(b.dayFits(sum, w))
	f.section("Cycle and soak")
	f.para("Where water runs off before a station is done, let the whole program run twice with half of its minutes: " + b.twoStarts(week, max(w.Days, 1)) + " A controller that splits minutes by itself (cycle and soak) needs one start. Slopes, clay and sprays need it first.")
	f.gap(8)
	b.byHand(f, "Program A: days", "Program A: starts", "Program B: days", "Program B: starts")
	f.section("Seasonal percentage")
	f.para("100 % is the hottest weeks. Write in what you set through the year, so that the next one starts right.")
	f.table(percentGrid(nil))
	f.note("New sod or seed wants a program of its own: short and often, until it is rooted. Local rules on days and hours go before this card.")
}

// noProgram says that what follows is a first figure, and why there is no more.
func (b *builder) noProgram(f *flow) {
	why := "It is not worked out from your weather yet."
	switch prog := b.in.Program; {
	case prog != nil && prog.Year.Peak >= 0:
		f.caution("No program serves this plan as it is. " + strings.Join(severalSay(sheets.WhyNot(prog, prog.Year.Peak)), " "))
	case prog != nil && len(prog.Asked.Input.Areas) == 0:
		why = "No water of a zone lands yet on planting that is watered from above, so that no program was worked out."
	case prog != nil:
		why = "By the climate of the plan nothing has to be watered from above in any month, so that no program was worked out."
	case b.in.NoProgram != "":
		why = "No program could be worked out from your weather: " + lowerFirst(b.in.NoProgram)
	}
	f.para("A first figure, to start with in the hottest weeks. " + why + " Key it in, look at the ground after a week, and change it: more where it dries out first, less where it stays wet.")
}

var dayNames = map[string]string{"mon": "Monday", "tue": "Tuesday", "wed": "Wednesday", "thu": "Thursday", "fri": "Friday", "sat": "Saturday", "sun": "Sunday"}

func (b *builder) daysWords(n int) string {
	if every := b.p.Watering.Every; every > 0 {
		return sheets.ProgramDays(every, []int{0})
	}
	if len(b.p.Watering.Days) == 0 {
		return fmt.Sprintf("%d, none chosen yet: local rules may name them", n)
	}
	var names []string
	for _, d := range b.p.Watering.Days {
		names = append(names, or(dayNames[d], d))
	}
	return plan.Series(names)
}

func (b *builder) windowWords() string {
	from, to := b.p.Watering.StartHHMM, b.p.Watering.EndHHMM
	if from == "" || to == "" {
		return "not chosen yet; night and early morning lose least"
	}
	return from + " to " + to
}

func (b *builder) controllerWords() string {
	c := b.p.Controller
	var says []string
	if c.Place != "" {
		says = append(says, c.Place)
	}
	if c.Stations > 0 {
		says = append(says, plan.Plural(c.Stations, "station", "stations"))
	}
	if len(says) == 0 {
		return "not placed yet"
	}
	return strings.Join(says, ", ")
}

// passMinutes is how long all stations run in turn when each has one part in so many of
// its minutes of a day, rounded up as they are keyed in.
func (b *builder) passMinutes(week map[plan.ID]float64, days, parts int) float64 {
	sum := 0.0
	for _, id := range b.standingZones() {
		sum += math.Ceil(math.Ceil(week[id]/float64(days)) / float64(parts))
	}
	return sum
}

// clockAfter is the time so many minutes after one, "22:00" and 90 being "23:30"; ok
// is false of what is no time.
func clockAfter(from string, minutes float64) (string, bool) {
	var h, m int
	if n, err := fmt.Sscanf(from, "%d:%d", &h, &m); err != nil || n != 2 || !(minutes < 24*60) {
		return "", false
	}
	at := (h*60 + m + int(math.Ceil(minutes))) % (24 * 60)
	return fmt.Sprintf("%02d:%02d", at/60, at%60), true
}

// startWords say how many starts are keyed in: a second start runs all stations again,
// the most usual slip at a controller (common practice, from memory).
func (b *builder) startWords(week map[plan.ID]float64, days int) string {
	says := "one for each watering day: the stations follow one another by themselves, and each further start runs all of them again"
	sum := b.passMinutes(week, days, 1)
	if done, ok := clockAfter(b.p.Watering.StartHHMM, sum); ok && sum > 0 {
		next := ""
		if done < b.p.Watering.StartHHMM {
			next = " the next morning"
		}
		says = fmt.Sprintf("one, at %s; done at about %s%s. The stations follow one another by themselves: each further start runs all of them again", b.p.Watering.StartHHMM, done, next)
	}
	return says
}

// twoStarts say when the second of two starts may be.
func (b *builder) twoStarts(week map[plan.ID]float64, days int) string {
	half := b.passMinutes(week, days, 2)
	if second, ok := clockAfter(b.p.Watering.StartHHMM, half); ok && half > 0 {
		return fmt.Sprintf("starts at %s and %s, not sooner, as the first has to be through.", b.p.Watering.StartHHMM, second)
	}
	return "a second start once the first is through."
}

// dayFits says whether a day's minutes, stations in turn, go into the time there is.
func (b *builder) dayFits(minutes float64, w zones.Window) string {
	if minutes <= 0 {
		return "No minutes are known yet."
	}
	says := fmt.Sprintf("One after another the stations run %.1f hours on each of %s", minutes/60, plan.Plural(w.Days, "day", "days"))
	if minutes <= w.Hours*60+0.5 {
		return says + fmt.Sprintf(": that fits into the %g hours there are.", math.Round(w.Hours*10)/10)
	}
	return says + fmt.Sprintf(": MORE than the %g hours there are. Water on more days, or start earlier.", math.Round(w.Hours*10)/10)
}
