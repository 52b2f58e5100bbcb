package sheets

import (
	"bytes"
	"strings"
	"testing"
)

// What fills the soil before a month is told wherever that month is keyed in, with what it
// takes, and that no sum has it; a calendar has it on the last watering day before.
func TestWhatFillsTheSoilIsTold(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	if says := RefillsSay(p, prog); says != nil || RefillSays(p, prog, 6) != "" || RefillSays(p, prog, 0) != "" {
		t.Errorf("nothing fills, and it says %q", says)
	}
	july := prog.Year.Months[6]
	july.Refill, july.RefillGallons, july.RefillSays = 1, 290, "On the last watering day before July begins, run all its programs once besides."
	want := july.RefillSays + " This takes 290 gal, which is not in the water of the month."
	var list, text, cal bytes.Buffer
	if err := CSV(&list, ProgramList(p, prog, "")); err != nil {
		t.Fatal(err)
	}
	if err := ProgramText(&text, p, prog, 6, false); err != nil {
		t.Fatal(err)
	}
	if err := ProgramCalendar(&cal, p, prog, "", "2026-06-10"); err != nil {
		t.Fatal(err)
	}
	flat := strings.Join(strings.Fields(text.String()), " ")
	if !strings.Contains(MonthSays(p, prog, 6), want) || !strings.Contains(flat, want) || !strings.Contains(flat, "290 gal a year, which is not in the water of the year") || !strings.Contains(list.String(), july.RefillSays) {
		t.Errorf("it is not told:\n%s\n%s", list.String(), text.String())
	}
	fills := 0
	for _, e := range readCalendar(t, cal.String()) {
		if strings.Contains(e.text["SUMMARY"], "fill the soil before July") {
			// Monday, Wednesday and Friday are allowed; the first of July 2026 is a Wednesday.
			if fills++; e.text["DTSTART"] != "20260629" || !strings.Contains(e.text["DESCRIPTION"], want) {
				t.Errorf("%v", e.text)
			}
		}
	}
	if fills != 1 {
		t.Errorf("%d days to fill the soil on", fills)
	}
}

// A start at midnight is told of, unless every day is watered; so is why a month is off in
// which something is needed.
func TestWhichMidnightAndWhyOff(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	once := prog.Year.Months[3].Programs[0]
	if got := StartsSay(once, 7); got != "" {
		t.Errorf("of a start in the evening: %q", got)
	}
	once.Starts = []int{0}
	if got := StartsSay(once, 7); !strings.Contains(got, "00:00 is the midnight with which a day of the program begins") {
		t.Errorf("of a start at midnight: %q", got)
	}
	if got := StartsSay(once, 1); got != "" {
		t.Errorf("of one on every day: %q", got)
	}
	if got := OffSays(prog); strings.Contains(got, "too little") {
		t.Errorf("nothing is left, and it says %q", got)
	}
	prog.Asked.Needs[0].Month[0].Left, prog.Asked.Needs[0].Month[1].Left = .001, .002
	if got := MonthSays(p, prog, 0); got != "Nothing is to be watered in January. In January no planting needs more than 0.031 in in all of the month, which is too little to water for." {
		t.Errorf("%q", got)
	}
	if got := OffSays(prog); !strings.Contains(got, "In January and February no planting needs more than 0.056 in in all of a month") {
		t.Errorf("%q", got)
	}
}
