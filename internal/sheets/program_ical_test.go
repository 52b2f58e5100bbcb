package sheets

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// icalEvent is an event as this test reads it by RFC 5545, with none of the code that
// wrote it.
type icalEvent struct {
	text       map[string]string // by property, unescaped
	begin, end time.Time
	all        bool // of a whole day
	rule       map[string]string
}

// readCalendar reads a calendar, and holds each line to the standard on the way: ended by
// CR LF, 75 octets at most, letters whole, and what every event has to have.
func readCalendar(t *testing.T, file string) []icalEvent {
	t.Helper()
	lines := strings.Split(file, "\r\n")
	if lines[len(lines)-1] != "" || strings.Contains(strings.ReplaceAll(file, "\r\n", ""), "\n") || strings.Contains(strings.ReplaceAll(file, "\r\n", ""), "\r") {
		t.Error("a line does not end in CR LF")
	}
	var whole []string
	for _, line := range lines[:len(lines)-1] {
		if len(line) > 75 || !utf8.ValidString(line) {
			t.Errorf("%d octets, letters whole: %v: %q", len(line), utf8.ValidString(line), line)
		}
		if strings.HasPrefix(line, " ") && len(whole) > 0 {
			whole[len(whole)-1] += line[1:]
			continue
		}
		whole = append(whole, line)
	}
	if whole[0] != "BEGIN:VCALENDAR" || whole[len(whole)-1] != "END:VCALENDAR" || !slices.Contains(whole, "VERSION:2.0") || !slices.ContainsFunc(whole, func(s string) bool { return strings.HasPrefix(s, "PRODID:") }) {
		t.Errorf("no calendar: %q", whole)
	}
	var events []icalEvent
	var e *icalEvent
	for _, line := range whole {
		head, value, ok := strings.Cut(line, ":")
		name, param, _ := strings.Cut(head, ";")
		switch {
		case !ok || name == "":
			t.Errorf("a line without a name or value: %q", line)
		case line == "BEGIN:VEVENT":
			events = append(events, icalEvent{text: map[string]string{}, rule: map[string]string{}})
			e = &events[len(events)-1]
		case line == "END:VEVENT":
			for _, must := range []string{"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"} {
				if e.text[must] == "" {
					t.Errorf("an event without %s: %v", must, e.text)
				}
			}
			e = nil
		case e != nil:
			if e.text[name] != "" {
				t.Errorf("%s twice", name)
			}
			e.text[name] = icalUnescaped(value)
			layout := "20060102T150405"
			if param == "VALUE=DATE" {
				layout, e.all = "20060102", true
			}
			var err error
			switch name {
			case "DTSTART":
				e.begin, err = time.Parse(layout, value)
			case "DTEND":
				e.end, err = time.Parse(layout, value)
			case "RRULE":
				for part := range strings.SplitSeq(value, ";") {
					k, v, _ := strings.Cut(part, "=")
					e.rule[k] = v
				}
			}
			if err != nil {
				t.Errorf("%q: %v", line, err)
			}
		}
	}
	return events
}

// icalUnescaped undoes RFC 5545 3.3.11 letter by letter.
func icalUnescaped(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) {
			i++
			if s[i] == 'n' || s[i] == 'N' {
				b.WriteByte('\n')
				continue
			}
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// times are when an event comes, by its rule, a day at a time.
func (e icalEvent) times(t *testing.T) []time.Time {
	t.Helper()
	if len(e.rule) == 0 {
		return []time.Time{e.begin}
	}
	until, err := time.Parse("20060102T150405", e.rule["UNTIL"])
	if err != nil {
		t.Fatal(err)
	}
	every := 1
	if e.rule["INTERVAL"] != "" {
		every, _ = strconv.Atoi(e.rule["INTERVAL"])
	}
	var out []time.Time
	for at, n := e.begin, 0; !at.After(until); at, n = at.AddDate(0, 0, 1), n+1 {
		switch e.rule["FREQ"] {
		case "WEEKLY":
			if strings.Contains(e.rule["BYDAY"], strings.ToUpper(at.Weekday().String()[:2])) {
				out = append(out, at)
			}
		case "DAILY":
			if n%every == 0 {
				out = append(out, at)
			}
		default:
			t.Fatalf("a rule that is not read here: %v", e.rule)
		}
	}
	if len(out) == 0 || !out[0].Equal(e.begin) {
		t.Errorf("%s does not begin when its rule says: %v, %v", e.text["UID"], e.begin, e.rule)
	}
	return out
}

// The calendar has every start of every program on its days, as long as its stations run,
// in the twelve months from its first day, and nothing else.
func TestTheCalendarHasEveryStart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, from string
		cycle      int
		on         []int // of the cycle
	}{
		{"a week from mid May", "2026-05-15", 7, nil}, {"a week over a leap day", "2027-08-31", 7, nil},
		{"every third day", "2026-05-15", 3, []int{0}}, {"two days of five", "2026-12-31", 5, []int{1, 3}}, {"every day", "2026-01-01", 1, []int{0}},
	} {
		p, prog := watered(t)
		first, err := time.Parse(time.DateOnly, c.from)
		if err != nil {
			t.Fatal(err)
		}
		prog.Asked.Input.Calendar.Days = make([]bool, c.cycle)
		if c.on != nil {
			for _, m := range prog.Year.Months {
				for i := 0; m != nil && i < len(m.Programs); i++ {
					m.Programs[i].Days = c.on
				}
			}
		}
		want := map[string]int{}
		after := time.Date(first.Year()+1, first.Month(), 1, 0, 0, 0, 0, time.UTC)
		for day, n := first, 0; day.Before(after); day, n = day.AddDate(0, 0, 1), n+1 {
			m := prog.Year.Months[day.Month()-1]
			if m == nil {
				continue
			}
			for i, program := range m.Programs {
				of := n % c.cycle
				if c.cycle == 7 {
					of = (int(day.Weekday()) + 6) % 7
				}
				if !slices.Contains(program.Days, of) {
					continue
				}
				for s, start := range program.Starts {
					lasts := 0
					for _, step := range program.Steps {
						if step.From >= start && (s+1 == len(program.Starts) || step.From < program.Starts[s+1]) {
							lasts += step.Until - step.From
						}
					}
					want[fmt.Sprintf("%s %s %d min, %c", day.Format(time.DateOnly), Clock(start), lasts, 'A'+i)]++
				}
			}
		}
		var b bytes.Buffer
		if err := ProgramCalendar(&b, p, prog, "", c.from); err != nil {
			t.Fatal(err)
		}
		got, ids := map[string]int{}, map[string]bool{}
		days := 0
		for _, e := range readCalendar(t, b.String()) {
			if ids[e.text["UID"]] {
				t.Errorf("%s: %s stands twice", c.name, e.text["UID"])
			}
			ids[e.text["UID"]] = true
			if e.all {
				days++
				continue
			}
			for _, at := range e.times(t) {
				got[fmt.Sprintf("%s %d min, %c", at.Format("2006-01-02 15:04"), int(e.end.Sub(e.begin).Minutes()), e.text["SUMMARY"][len("Watering ")])]++
			}
		}
		if !maps.Equal(got, want) || days != 12 {
			t.Errorf("%s: %d starts, want %d; %d days of what to do", c.name, len(got), len(want), days)
			for k := range want {
				if got[k] != want[k] {
					t.Logf("%s: %d, want %d", k, got[k], want[k])
				}
			}
		}
	}
}

// Names of any letters come through whole.
func TestTheCalendarHoldsAnyName(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	z := p.Zones["z6"]
	z.Name = `Größe; \n, "x": ` + strings.Repeat("草地の散水 ", 30) + "end\\"
	p.Zones["z6"] = z
	var b bytes.Buffer
	if err := ProgramCalendar(&b, p, prog, "", "2026-07-01"); err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, e := range readCalendar(t, b.String()) {
		if strings.Contains(e.text["DESCRIPTION"], "\n6 "+z.Name+": ") {
			found++
		}
	}
	if found < 3 {
		t.Errorf("the name is found in %d events", found)
	}
}

func TestACalendarNeedsItsFirstDay(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	for _, from := range []string{"", "2026-02-30", "May"} {
		if err := ProgramCalendar(&bytes.Buffer{}, p, prog, "", from); err == nil || !strings.Contains(err.Error(), "begins on a day such as") {
			t.Errorf("%q: %v", from, err)
		}
	}
}

// Without a climate one rule goes through the year.
func TestTheCalendarOfTheWeekAtPeak(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	prog.Asked.PeakOnly = true
	var b bytes.Buffer
	if err := ProgramCalendar(&b, p, prog, "", "2026-05-15"); err != nil {
		t.Fatal(err)
	}
	events := readCalendar(t, b.String())
	if len(events) != 4 { // a day of what to do, two starts of one program, one of the other
		t.Fatalf("%d events", len(events))
	}
	times := events[1].times(t)
	if last := times[len(times)-1]; last.Format(time.DateOnly) != "2027-05-14" || len(times) != 105 {
		t.Errorf("%d times to %v", len(times), last)
	}
}

// A calendar of a plan in which no station has a number, or that has none at all.
func TestTheCalendarOfAlmostNothing(t *testing.T) {
	t.Parallel()
	_, prog := watered(t)
	for i := range prog.Asked.Input.Zones {
		prog.Asked.Input.Zones[i].Station = 0
	}
	if got := stationsOf(prog, prog.Year.Months[6].Programs[0]); got != "2 zones" {
		t.Errorf("%q", got)
	}
	var b bytes.Buffer
	empty := plan.Empty("", units.US)
	if err := ProgramCalendar(&b, empty, &season.Program{Asked: &season.Question{Input: watering.Input{}}, Year: &watering.Year{Peak: -1}}, "", "2026-05-15"); err != nil {
		t.Fatal(err)
	}
	if events := readCalendar(t, b.String()); len(events) != 12 || events[0].text["SUMMARY"] != "Watering: off" {
		t.Errorf("%d events of nothing", len(events))
	}
}
