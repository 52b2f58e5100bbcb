package sheets

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/watering"
)

// The forms of days and times in iCalendar (RFC 5545 3.3.4 and 3.3.5). Times float: they
// are the time of the wall clock wherever the controller hangs, as it has no other.
const (
	icalDay  = "20060102"
	icalTime = "20060102T150405"
)

// icalWeekdays are the days of a week of rules, Monday first.
var icalWeekdays = [7]string{"MO", "TU", "WE", "TH", "FR", "SA", "SU"}

// ProgramCalendar writes the programs of twelve months as iCalendar (RFC 5545), from a day
// such as 2026-05-01: the first of them from that day on, the others whole; where no
// climate is given, the week at peak for a year. Each start of
// each program is a rule by week, or by days where the cycle is another, until the end of
// its month; on the first day of each month stands what to do at the controller. Without
// a program the calendar has one day, that says no, the sentence why. The same question
// has the same bytes. The error is the writer's, or names the day that cannot be read.
func ProgramCalendar(w io.Writer, p *plan.Plan, prog *season.Program, no, from string) error {
	first, err := time.Parse(time.DateOnly, from)
	if err != nil {
		return fmt.Errorf("a calendar begins on a day such as 2026-05-01, and %q is none", from)
	}
	c := &programCalendar{p: p, prog: prog, first: first, out: ics.NewCalendar()}
	c.out.SetProductId("-//Evenfall//Watering program//EN")
	c.out.SetCalscale("GREGORIAN")
	c.out.SetXWRCalName(icalWords("Watering, " + nameOf(p)))
	switch year := first.AddDate(1, 0, -1); {
	case prog == nil:
		c.day("none", first, "No watering program", no)
	case prog.Asked.PeakOnly && prog.Year.Peak >= 0:
		c.span(first.Format("20060102"), first, year, prog.Year.Peak)
	default:
		for begins := first; begins.Before(first.AddDate(0, 0, 1-first.Day()).AddDate(1, 0, 0)); {
			next := begins.AddDate(0, 0, 1-begins.Day()).AddDate(0, 1, 0)
			c.span(begins.Format("200601"), begins, next.AddDate(0, 0, -1), int(begins.Month())-1)
			begins = next
		}
	}
	if err := c.out.SerializeTo(w, ics.WithNewLine("\r\n")); err != nil {
		return fmt.Errorf("sheets: writing the calendar: %w", err)
	}
	return nil
}

// sentences are those of some that say something.
func sentences(some ...string) []string {
	return slices.DeleteFunc(some, func(s string) bool { return s == "" })
}

// programCalendar is a calendar being made.
type programCalendar struct {
	p     *plan.Plan
	prog  *season.Program
	first time.Time
	out   *ics.Calendar
}

// span adds the program of a month from one day to another.
func (c *programCalendar) span(stamp string, begins, last time.Time, month int) {
	title, says := "Watering: key in the program of "+MonthTitle(c.prog, month), []string{MonthSays(c.p, c.prog, month)}
	m := c.prog.Year.Months[month]
	if m == nil {
		title, says = "Watering: off", append(says, WinterCaution)
	}
	if percent, ok := MonthPercent(c.p, c.prog, month); ok {
		says = append(says, fmt.Sprintf("Or leave the program of %s in and turn it to %d %%.", peakName(c.prog), percent))
	}
	c.day(stamp, begins, title, strings.Join(slices.Concat(says, WhyNot(c.prog, month), sentences(StartsMeetSay(c.prog, month)), c.prog.Asked.Notes, []string{SensorSays(c.p), ProgramCaution}), "\n"))
	if m == nil {
		return
	}
	if on := c.lastBefore(begins); m.Refill > 0 && begins.Day() == 1 && !on.Before(c.first) {
		c.day(stamp+"-fill", on, "Watering: fill the soil before "+MonthTitle(c.prog, month), RefillSays(c.p, c.prog, month))
	}
	for i, program := range m.Programs {
		for s := range program.Starts {
			c.start(fmt.Sprintf("%s-%s%d", stamp, strings.ToLower(ProgramLetter(i)), s+1), begins, last, month, i, s)
		}
	}
}

// lastBefore is the last day before another on which water is allowed, as far as days of
// the week say so.
func (c *programCalendar) lastBefore(day time.Time) time.Time {
	allowed := c.prog.Asked.Input.Calendar.Days
	for back := 1; back <= 7 && len(allowed) == 7; back++ {
		if on := day.AddDate(0, 0, -back); allowed[(int(on.Weekday())+6)%7] {
			return on
		}
	}
	return day.AddDate(0, 0, -1)
}

// start adds the rules of one start of a program. A start past midnight is put where a
// controller runs it, in the small hours of the named day (StartsSay).
func (c *programCalendar) start(id string, begins, last time.Time, month, letter, start int) {
	program := c.prog.Year.Months[month].Programs[letter]
	at, ends := startSpan(program, start)
	minutes := time.Duration(at%minutesOfDay) * time.Minute
	lasts := time.Duration(ends-at) * time.Minute
	title := fmt.Sprintf("Watering %s: %s", ProgramLetter(letter), stationsOf(c.prog, program))
	if n := len(program.Starts); n > 1 {
		title += fmt.Sprintf(", start %d of %d", start+1, n)
	}
	says := c.startSays(month, letter, program, start)
	if cycle := CycleDays(c.prog); cycle != 7 {
		for k, d := range program.Days {
			// Days of such a cycle are counted from the calendar's first.
			gone := int(begins.Sub(c.first).Hours()) / 24
			begin := begins.AddDate(0, 0, ((d-gone)%cycle+cycle)%cycle)
			if !begin.After(last) {
				c.event(fmt.Sprintf("%s-%d", id, k+1), begin.Add(minutes), lasts, fmt.Sprintf("FREQ=DAILY;INTERVAL=%d", cycle), last.Add(minutes), title, says)
			}
		}
		return
	}
	days := make([]string, len(program.Days))
	for i, d := range program.Days {
		days[i] = icalWeekdays[d]
	}
	for begin := begins; !begin.After(last); begin = begin.AddDate(0, 0, 1) {
		if slices.Contains(program.Days, (int(begin.Weekday())+6)%7) {
			c.event(id, begin.Add(minutes), lasts, "FREQ=WEEKLY;BYDAY="+strings.Join(days, ","), last.Add(minutes), title, says)
			return
		}
	}
}

// startSpan is from when to when a start of a program runs, in minutes after midnight of
// the day that the program begins.
func startSpan(program watering.Program, start int) (from, until int) {
	from, until = program.Starts[start], program.Ends
	if start+1 == len(program.Starts) {
		return from, until
	}
	until = from
	for _, s := range program.Steps {
		if s.From >= from && s.From < program.Starts[start+1] {
			until = max(until, s.Until)
		}
	}
	return from, until
}

// startSays is what is keyed in for a start, station by station.
func (c *programCalendar) startSays(month, letter int, program watering.Program, start int) string {
	says := []string{fmt.Sprintf("Program %s of %s: %s, start at %s.", ProgramLetter(letter), MonthTitle(c.prog, month), ProgramDays(CycleDays(c.prog), program.Days), Clock(program.Starts[start]))}
	for _, r := range program.Runs {
		z := c.prog.Asked.Input.Zones[r.Zone]
		line := fmt.Sprintf("%s %s: %d min", waterStation(z), zoneName(c.p, z), KeyedMinutes(program, r))
		if len(program.Starts) == 1 && r.Cycles > 1 {
			line += ", " + CycleWords(r)
		}
		says = append(says, strings.TrimSpace(line))
	}
	if s := StartsSay(program, CycleDays(c.prog)); s != "" {
		says = append(says, s)
	}
	return strings.Join(says, "\n")
}

// stationsOf names the stations of a program: "stations 1, 2 and 5".
func stationsOf(prog *season.Program, program watering.Program) string {
	var names []string
	for _, r := range program.Runs {
		z := prog.Asked.Input.Zones[r.Zone]
		if z.Station > 0 {
			names = append(names, fmt.Sprint(z.Station))
		}
	}
	if len(names) == 0 {
		return plan.Plural(len(program.Runs), "zone", "zones")
	}
	return plan.Choose(len(names), "station ", "stations ") + plan.Series(names)
}

// event adds what comes again and again, until a time.
func (c *programCalendar) event(id string, at time.Time, lasts time.Duration, rule string, until time.Time, title, says string) {
	e := c.add(id, title, says)
	e.SetProperty(ics.ComponentPropertyDtStart, at.Format(icalTime))
	e.SetProperty(ics.ComponentPropertyDtEnd, at.Add(lasts).Format(icalTime))
	e.AddRrule(rule + ";UNTIL=" + until.Format(icalTime))
}

// day adds a day with something to do on it.
func (c *programCalendar) day(id string, on time.Time, title, says string) {
	e := c.add(id, title, says)
	e.SetProperty(ics.ComponentPropertyDtStart, on.Format(icalDay), ics.WithValue("DATE"))
	e.SetProperty(ics.ComponentPropertyDtEnd, on.AddDate(0, 0, 1).Format(icalDay), ics.WithValue("DATE"))
}

// add adds an event. Its name is the same whenever a calendar is made of a plan of the
// same name, so that a later one takes the place of an earlier; its stamp is the
// calendar's first day, as there is no clock here.
func (c *programCalendar) add(id, title, says string) *ics.VEvent {
	e := c.out.AddEvent(plan.Digest([]byte(c.p.Name))[:12] + "-" + id + "@evenfall")
	e.SetDtStampTime(c.first)
	e.SetSummary(icalWords(title))
	e.SetDescription(icalWords(says))
	e.SetProperty(ics.ComponentPropertyTransp, string(ics.TransparencyTransparent)) // nobody is busy while it waters
	return e
}

// icalWords leaves out what a line of a calendar cannot hold.
func icalWords(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' {
			return ' '
		}
		return r
	}, lineEnds.Replace(strings.ToValidUTF8(s, "\uFFFD")))
}
