package packs

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"evenfall/internal/drawing"
)

// What a person at the controller reads off the program card: the words of its tables by
// where they stand, and nothing of how they were made.

// printedLine is what stands on one line, from left to right.
type printedLine struct {
	page  int
	y     float64
	words []printedWord
}

type printedWord struct {
	x    float64 // of its right end where it is set to the right
	bold bool
	s    string
}

// linesOf are the lines of pages from the top down.
func linesOf(pages []*page) []printedLine {
	var out []printedLine
	for n, q := range pages {
		var all []*drawing.Text
		for _, it := range q.Items {
			if v, ok := it.(*drawing.Text); ok {
				all = append(all, v)
			}
		}
		sort.SliceStable(all, func(i, j int) bool { return all[i].At[1] > all[j].At[1] })
		y := math.Inf(1)
		for _, v := range all {
			if y-v.At[1] > 2 {
				y = v.At[1]
				out = append(out, printedLine{page: n, y: y})
			}
			l := &out[len(out)-1]
			l.words = append(l.words, printedWord{v.At[0], v.Bold, v.S})
		}
	}
	for _, l := range out {
		sort.SliceStable(l.words, func(i, j int) bool { return l.words[i].x < l.words[j].x })
	}
	return out
}

func (l printedLine) String() string {
	var out []string
	for _, w := range l.words {
		out = append(out, w.s)
	}
	return strings.Join(out, "|")
}

// keyedCard is a controller as it is keyed in by the card.
type keyedCard struct {
	programs []keyedPrint
	percents []string         // by month; nil: there is none
	months   [12][]keyedPrint // of the table by month; empty where there is none
	cycle    map[int][2]int   // by station: cycle at most and soak
}

type keyedPrint struct {
	days    string
	starts  []int       // minutes after midnight, as printed
	done    int         // likewise; -1 where it is not printed
	minutes map[int]int // by station, of each start
}

var clockPrint = regexp.MustCompile(`\b(\d\d):(\d\d)\b`)

func clocksIn(s string) []int {
	var out []int
	for _, m := range clockPrint.FindAllStringSubmatch(s, -1) {
		h, _ := strconv.Atoi(m[1])
		n, _ := strconv.Atoi(m[2])
		out = append(out, h*60+n)
	}
	return out
}

// readCard keys in what the card says. Names of zones must not be numbers.
func readCard(t testing.TB, pages []*page) keyedCard {
	t.Helper()
	c := keyedCard{cycle: map[int][2]int{}}
	lines := linesOf(pages)
	find := func(from int, start string) int {
		for i := from; i < len(lines); i++ {
			if strings.HasPrefix(lines[i].String(), start) {
				return i
			}
		}
		return -1
	}
	i := find(0, "Program|Days|Starts|Done at")
	if i < 0 {
		t.Fatal("there is no table of programs")
	}
	heads := lines[i].words
	for i++; i < len(lines); i++ {
		w := lines[i].words
		if w[0].x > heads[1].x-1 && len(c.programs) > 0 { // the rest of a cell
			c.programs[len(c.programs)-1].read(w, heads)
			continue
		}
		if len(w[0].s) != 1 || w[0].s[0] != byte('A'+len(c.programs)) {
			break
		}
		c.programs = append(c.programs, keyedPrint{done: -1, minutes: map[int]int{}})
		c.programs[len(c.programs)-1].read(w[1:], heads)
	}
	c.readStations(t, lines, find)
	if i := find(0, "Set to|"); i >= 0 {
		for _, w := range lines[i].words[1:] {
			c.percents = append(c.percents, w.s)
		}
	}
	if i := find(0, "Minutes keyed in|Jan"); i >= 0 {
		c.readMonths(t, lines[i:])
	}
	return c
}

// read takes the words of a line of the table of programs.
func (k *keyedPrint) read(words, heads []printedWord) {
	for _, w := range words {
		switch {
		case w.x < heads[2].x-1:
			k.days = strings.TrimSpace(k.days + " " + w.s)
		case w.x < heads[3].x-1:
			k.starts = append(k.starts, clocksIn(w.s)...)
		case w.x < heads[4].x-1 && len(clocksIn(w.s)) > 0:
			k.done = clocksIn(w.s)[0]
		}
	}
}

// readStations takes the table of the stations, on all the pages it goes over.
func (c *keyedCard) readStations(t testing.TB, lines []printedLine, find func(int, string) int) {
	parted := slices.ContainsFunc(lines, func(l printedLine) bool { return strings.Contains(l.String(), "|Soak|") })
	for i := find(0, "Station|Zone|"); i >= 0 && i < len(lines); i++ {
		var numbers []int
		for _, w := range lines[i].words {
			n, err := strconv.Atoi(w.s)
			if err != nil && w.s != "–" {
				continue
			}
			numbers = append(numbers, n)
		}
		if strings.HasPrefix(lines[i].String(), "Through the year") {
			return
		}
		if len(numbers) < 3 || lines[i].words[0].bold && lines[i].words[0].s == "All, in turn" {
			continue
		}
		station, rest := numbers[1], numbers[2:] // after the number in its mark
		if parted {
			c.cycle[station] = [2]int{rest[0], rest[1]}
			rest = rest[2:]
		}
		if len(rest) != len(c.programs) {
			t.Fatalf("%q has minutes of %d programs, want %d", lines[i], len(rest), len(c.programs))
		}
		for k, n := range rest {
			c.programs[k].minutes[station] = n
		}
	}
}

// readMonths takes the table of what is keyed in by month.
func (c *keyedCard) readMonths(t testing.TB, lines []printedLine) {
	heads := lines[0].words[1:]
	var title string
	var rows [][]string // a row: its name, then its months
	left := lines[0].words[0].x
	flush := func() {
		if title != "" {
			c.monthsOf(t, title, rows)
		}
		rows = nil
	}
	for _, l := range lines[1:] {
		w := l.words
		switch {
		case strings.HasPrefix(w[0].s, "Minutes are of each start"):
			flush()
			return
		case w[0].bold && programTitle.MatchString(w[0].s):
			flush()
			title = w[0].s
			continue
		case w[0].bold: // the head again, on the next page
			continue
		case math.Abs(w[0].x-left) < 1:
			rows = append(rows, append([]string{w[0].s}, make([]string, 12)...))
			w = w[1:]
		}
		for _, v := range w {
			for k, h := range heads {
				if math.Abs(v.x-h.x) < 1 {
					row := rows[len(rows)-1]
					row[k+1] = strings.TrimSpace(row[k+1] + " " + v.s)
				}
			}
		}
	}
	flush()
}

// programTitle heads a program in the table by month.
var programTitle = regexp.MustCompile(`^Program [A-Z]($|[:,])`)

// monthsOf takes one program of that table.
func (c *keyedCard) monthsOf(t testing.TB, title string, rows [][]string) {
	for month := range 12 {
		k := keyedPrint{done: -1, minutes: map[int]int{}, starts: clocksIn(title)}
		if _, days, named := strings.Cut(title, ": "); named {
			k.days, _, _ = strings.Cut(days, ", start")
		}
		runs := false
		for _, row := range rows {
			cell := row[month+1]
			switch {
			case cell == "–":
			case row[0] == "Days":
				k.days, runs = cell, true
			case strings.HasPrefix(row[0], "Start "):
				k.starts, runs = append(k.starts, clocksIn(cell)...), true
			default:
				var station int
				if _, err := fmt.Sscan(row[0], &station); err != nil {
					t.Fatalf("row %q has no station", row[0])
				}
				n, err := strconv.Atoi(cell)
				if err != nil {
					t.Fatalf("row %q has %q in month %d", row[0], cell, month)
				}
				k.minutes[station], runs = n, true
			}
		}
		if runs {
			c.months[month] = append(c.months[month], k)
		}
	}
}

// timesIn is on how many days of a cycle of so many a program runs by its words.
func timesIn(t testing.TB, days string, cycle int) int {
	t.Helper()
	s := strings.ToLower(days)
	switch {
	case s == "every day" || s == "all":
		return cycle
	case cycle == 7:
		n := 0
		for _, d := range []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"} {
			n += strings.Count(s, d)
		}
		return n
	case s == fmt.Sprintf("every %d days", cycle):
		return 1
	}
	return len(regexp.MustCompile(`\d+`).FindAllString(strings.TrimSuffix(s, fmt.Sprintf("of every %d", cycle)), -1))
}
