package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// ProgramCaution stands under every watering program.
const ProgramCaution = "The program follows from the plan and from mean weather: hot spells want more, cool ones less. Local rules on days and hours, and a drought's, go before it. Key it in, look at the ground after a week, and change what you see. New sod or seed wants water short and often until it is rooted."

// WinterCaution stands where a program is switched off for the year.
const WinterCaution = "Where the ground freezes, close the water and clear the pipes before the first hard frost; leave clearing by compressed air to who is trained in it, and never stand over heads or boxes meanwhile."

// MonthSays is the verdict on a month in sentences: what MonthTakes says, whether that
// fits, and what soil wants that lasts less than a day (OftenSays).
func MonthSays(p *plan.Plan, prog *season.Program, month int) string {
	says, m := MonthTakes(p, prog, month), prog.Year.Months[month]
	switch {
	case m == nil || len(m.Programs) == 0 || len(prog.Asked.Input.Areas) == 0:
		return says
	case m.Fits:
		says += " It fits."
	default:
		says += " It does not fit: " + plan.Plural(len(m.Binds), "limit is", "limits are") + " not kept."
	}
	return strings.TrimSpace(says + " " + OftenSays(p, prog, month))
}

// MonthTakes is what a month takes in sentences: programs, days, hours, minutes and water,
// and what fills the soil before it.
func MonthTakes(p *plan.Plan, prog *season.Program, month int) string {
	name, m := MonthTitle(prog, month), prog.Year.Months[month]
	if len(prog.Asked.Input.Areas) == 0 {
		return "There is nothing to water: no zone's water lands on planting yet."
	}
	if m == nil {
		return strings.TrimSpace("Nothing is to be watered in " + name + ". " + leftSays(prog, []int{month}))
	}
	if len(m.Programs) == 0 {
		return "No station can run in " + name + "."
	}
	on := daysRun(prog, m)
	if !strings.HasPrefix(on, "every") {
		on = "on " + on
	}
	says := fmt.Sprintf("%s takes %s %s, from %s to %s at the longest: %s of stations and %s %s.",
		plan.Capital(name), plan.Plural(len(m.Programs), "program", "programs"), on, Clock(m.Begins()), EndClock(lastEnd(m)),
		plan.Plural(minutesOf(m), "minute", "minutes"), waterWords(p.Show, m.Gallons), watering.CycleWord(CycleDays(prog)))
	if fill := RefillSays(p, prog, month); fill != "" {
		says += " " + fill
	}
	return says
}

// RefillSays says of a month what fills the soil on the last watering day before it begins,
// and what that takes, which is in no other sum; "" where nothing does.
func RefillSays(p *plan.Plan, prog *season.Program, month int) string {
	m := prog.Year.Months[month]
	if m == nil || m.RefillSays == "" {
		return ""
	}
	return fmt.Sprintf("%s This takes %s, which is not in the water of the month.", m.RefillSays, waterWords(p.Show, m.RefillGallons))
}

// RefillsSay is what fills the soil before the months of a year that ask for it, and what
// that takes in all, which is not in the water of the year; nil where no month asks.
func RefillsSay(p *plan.Plan, prog *season.Program) []string {
	var says []string
	sum := units.Gallons(0)
	for _, m := range prog.Year.Months {
		if m != nil && m.RefillSays != "" {
			says, sum = append(says, m.RefillSays), sum+m.RefillGallons
		}
	}
	if len(says) > 0 {
		says = append(says, "Filling soil before a month takes "+waterWords(p.Show, sum)+" a year, which is not in the water of the year.")
	}
	return says
}

// daysRun names the days on which any program of a month runs.
func daysRun(prog *season.Program, m *watering.Month) string {
	var days []int
	for _, program := range m.Programs {
		days = append(days, program.Days...)
	}
	slices.Sort(days)
	return ProgramDays(CycleDays(prog), slices.Compact(days))
}

// waterWords is a volume to be read: whole gallons or litres.
func waterWords(sys units.System, v units.Gallons) string {
	return sys.Volume(units.Gallons(wholeVolume(sys, v)))
}

// wholeVolume rounds a volume to whole gallons, or to whole litres.
func wholeVolume(sys units.System, v units.Gallons) float64 {
	if sys == units.Metric {
		return math.Round(float64(v)*units.LitresPerGallon) / units.LitresPerGallon
	}
	return math.Round(float64(v))
}

// WhyNot are the limits that a month does not keep, in sentences.
func WhyNot(prog *season.Program, month int) []string {
	var says []string
	if m := prog.Year.Months[month]; m != nil {
		for _, b := range m.Binds {
			says = append(says, b.Says)
		}
	}
	return says
}

// WouldFit is what would make a month fit, in sentences, each with whether it does by
// itself and what water it then takes. It is worked out for the peak; of another month
// that does not fit it says so.
func WouldFit(p *plan.Plan, prog *season.Program, month int) []string {
	var says []string
	if prog.Asked.PeakOnly {
		month = max(prog.Year.Peak, 0) // all are alike
	}
	m := prog.Year.Months[month]
	if m == nil {
		return nil
	}
	for _, e := range m.Eases {
		s := e.Says
		if e.Fits {
			s += " Then it fits, with " + waterWords(p.Show, e.Gallons) + " " + watering.CycleWord(CycleDays(prog)) + "."
		}
		says = append(says, s)
	}
	if peak := prog.Year.Peak; !m.Fits && month != peak && len(prog.Year.Months[peak].Eases) > 0 {
		says = append(says, "What would help is worked out for "+MonthName(peak)+", the month that is furthest from fitting.")
	}
	return says
}

// SavedSays compares a month with its one-zone sums, or the year where month is -1, in
// sentences; the week at peak for the year where no climate is given. "" where nothing is
// needed.
func SavedSays(p *plan.Plan, prog *season.Program, month int) string {
	y := prog.Year
	if prog.Asked.PeakOnly && month < 0 {
		month = y.Peak
	}
	plain, says := y.PlainGallons, y.SavedSays
	if month >= 0 {
		m := y.Months[month]
		if m == nil {
			return ""
		}
		plain, says = m.PlainGallons, plan.Capital(MonthTitle(prog, month))+": "+lowered(m.SavedSays)
	}
	if plain <= 0 {
		return ""
	}
	return says
}

// lowered is a sentence that goes on from a name and a colon.
func lowered(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// AdjustSays says whether the program of the peak, turned by one percentage a month,
// serves the year, and what that takes more than a program of each month's own.
func AdjustSays(p *plan.Plan, prog *season.Program) string {
	y := prog.Year
	switch {
	case y.Percent == nil:
		return "Nothing is ever to be watered."
	case prog.Asked.PeakOnly:
		return "No climate is given, so what other weeks need less than the week at peak is not known: turn the program down as it gets cooler."
	case !percentHeld(p):
		return "The controller has no percentage for all minutes, so each month has a program of its own to key in."
	case y.Percent.Serves:
		return fmt.Sprintf("Key in the program of %s and turn it by one percentage a month: no plant goes short, and it takes %s more water in the year than a program of each month's own.", peakName(prog), p.Show.Percent(y.Percent.Year))
	}
	worst, most := -1, units.Ratio(0)
	for month, more := range y.Percent.Extra {
		if more > most {
			worst, most = month, more
		}
	}
	why := fmt.Sprintf("it would take %s more water in the year", p.Show.Percent(y.Percent.Year))
	if worst >= 0 {
		why += fmt.Sprintf(", and %s more in %s", p.Show.Percent(most), MonthName(worst))
	}
	if _, ok := InsteadPercent(p, prog, y.Peak); ok {
		return fmt.Sprintf("Key in the program of each month. Or leave that of %s and turn it by one percentage a month: no plant goes short, but %s.", peakName(prog), why)
	}
	return fmt.Sprintf("One percentage a month of the program of %s does not serve: %s. Key in the program of each month.", peakName(prog), why)
}

// OffSays says in which months nothing is watered, and where hardly anything is needed in
// some of them; "" when there is none.
func OffSays(prog *season.Program) string {
	var off []int
	for month, m := range prog.Year.Months {
		if m == nil {
			off = append(off, month)
		}
	}
	if len(off) == 0 {
		return ""
	}
	return strings.TrimSpace("Nothing is to be watered in " + MonthSpan(off) + ": switch the controller off and leave its program in it. " + leftSays(prog, off))
}

// leftSays says in which months that are off something is needed, and that it is too
// little to water for; "" where in none.
func leftSays(prog *season.Program, off []int) string {
	var little []int
	most := units.Inches(0)
	for _, month := range off {
		if left := prog.Asked.Left(month); left > 0 {
			little, most = append(little, month), max(most, left)
		}
	}
	if len(little) == 0 {
		return ""
	}
	names := MonthSpan(little)
	if prog.Asked.PeakOnly {
		names = "it"
	}
	depth := season.Factor{Value: float64(most), Unit: season.Inches}.Shown(prog.Asked.Input.Show)
	return fmt.Sprintf("In %s no planting needs more than %s in all of %s, which is too little to water for.", names, depth, plan.Choose(len(little), "the month", "a month"))
}

// SensorSays is what a rain sensor has to do with the program: the plan's, or that there
// is none.
func SensorSays(p *plan.Plan) string {
	for _, id := range plan.SortedIDs(p.Sensors) {
		switch p.Sensors[id].Kind {
		case "rain":
			return "The rain sensor holds the program back after rain: see that the controller heeds it. Minutes count mean rain only as far as the plan says."
		case "soil":
			return "The soil sensor holds the program back while the ground is wet: see that the controller heeds it."
		}
	}
	return "The plan has no rain sensor: switch the controller off in rain. Many places ask for one."
}
