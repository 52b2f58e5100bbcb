package climate

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

const (
	// MaxWeatherRows are the most lines of weather read: thirty years of days, and some.
	MaxWeatherRows = 12_000
	// mostTold are the mistakes that are told one by one; the rest are counted. Chosen.
	mostTold = 200
)

// Record is the weather of one line: of a day, or the mean day of a month. What is nil
// was not measured.
type Record struct {
	Line       int
	Year       int      // 0: a month of many years
	Month      int      // from 1
	Day        int      // of the month; 0: the line is of a month
	TMax, TMin *float64 // °C
	RHMax      *float64 // %
	RHMin      *float64
	VapourKPa  *float64
	SunHours   *float64
	SolarMJ    *float64 // of a day
	WindMS     *float64
	WindHeight *float64 // m
	RainMM     *float64 // of the day, or of the whole month
}

// WeatherFile is what came of reading a file of weather. Records that a mistake was
// found in are not among them, so that they are reckoned with only once Errors are none.
type WeatherFile struct {
	Monthly bool
	Records []Record // by date
	Errors  []catalog.RowError
	Notes   []string // what was passed over or read in a certain way, in whole sentences

	untold int // mistakes beyond mostTold
	commas bool
}

// notMeasured are the ways of saying that a figure is not there.
var notMeasured = []string{"", "-", "--", "na", "n/a", "nan", "null", "m", "missing"}

// ReadWeather reads a table of weather by day or by month (see WeatherHeader): text in
// UTF-8, columns separated by commas, semicolons or tabs, a first line that names them,
// a byte order mark, empty lines and lines that begin with # passed over. Where columns
// are not separated by commas a figure may have one for its decimals.
func ReadWeather(r io.Reader) *WeatherFile {
	f := &WeatherFile{Records: []Record{}, Errors: []catalog.RowError{}, Notes: []string{}}
	comma := ','
	lines, err := catalog.TableLines(r, catalog.TableForm{Comment: '#', MostRows: MaxWeatherRows, Separator: func(text []byte) rune {
		comma = weatherSeparator(text)
		return comma
	}})
	if err != nil {
		var row *catalog.RowError
		if !errors.As(err, &row) {
			row = &catalog.RowError{Sentence: err.Error()}
		}
		f.Errors = append(f.Errors, *row)
		return f
	}
	if len(lines) == 0 {
		f.Errors = append(f.Errors, catalog.RowError{Sentence: "The file is empty. " + WeatherHeader + "."})
		return f
	}
	h, wrong := readHeader(lines[0])
	if f.Errors = append(f.Errors, wrong...); len(wrong) > 0 {
		return f
	}
	f.Monthly = h.date == "month"
	for _, l := range lines[1:] {
		f.line(h, l, comma != ',')
	}
	f.finish(h, len(lines)-1)
	return f
}

// weatherSeparator is what makes most known names of the first line that says something.
func weatherSeparator(text []byte) rune {
	var head []byte
	for line := range bytes.Lines(text) {
		if head = bytes.TrimSpace(line); len(head) > 0 && head[0] != '#' {
			break
		}
	}
	best, most := ',', 0
	for _, mark := range []rune{',', ';', '\t'} {
		found := 0
		for _, field := range strings.Split(string(head), string(mark)) {
			if known(titled(field)) {
				found++
			}
		}
		if found > most {
			best, most = mark, found
		}
	}
	return best
}

func (f *WeatherFile) wrong(line int, column, format string, args ...any) {
	if len(f.Errors) >= mostTold {
		f.untold++
		return
	}
	f.Errors = append(f.Errors, catalog.RowError{Line: line, Column: column, Sentence: fmt.Sprintf(format, args...)})
}

// line reads one line: all that is wrong with it is told.
func (f *WeatherFile) line(h weatherHeader, l catalog.TableLine, decimalCommas bool) {
	before := len(f.Errors) + f.untold
	for i := h.width; i < len(l.Fields); i++ {
		if strings.TrimSpace(l.Fields[i]) != "" {
			f.wrong(l.Number, "", "The line has more fields than the first line has names: %s is left over. Separate by one mark only, and write points for decimals.", catalog.Shown(l.Fields[i]))
			break
		}
	}
	field := func(at int) string {
		if at >= len(l.Fields) {
			return ""
		}
		return strings.TrimSpace(l.Fields[at])
	}
	r := Record{Line: l.Number}
	if sentence := r.dated(h.date, field(h.dateAt)); sentence != "" {
		f.wrong(l.Number, h.date, "%s", sentence)
	}
	var figures [quantities]*float64
	for q, c := range h.column {
		if c == nil {
			continue
		}
		text := field(h.at[q])
		if slices.Contains(notMeasured, strings.ToLower(text)) {
			continue
		}
		if c.quantity == rain && strings.EqualFold(text, "t") { // a trace: too little to measure
			text = "0"
		}
		if decimalCommas && strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
			text, f.commas = strings.Replace(text, ",", ".", 1), true
		}
		v, err := units.ParseBetween(c.says, text, c.low, c.high)
		if err != nil {
			f.wrong(l.Number, c.name, "%s Leave the field empty where nothing was measured.", err)
			continue
		}
		v = c.metric(v)
		figures[q] = &v
	}
	r.take(figures)
	if r.TMax != nil && r.TMin != nil && *r.TMax < *r.TMin {
		f.wrong(l.Number, h.column[highest].name, "The highest temperature is below the lowest. Check whether they are exchanged.")
	}
	if r.RHMax != nil && r.RHMin != nil && *r.RHMax < *r.RHMin {
		f.wrong(l.Number, h.column[humidest].name, "The greatest humidity is below the least. Check whether they are exchanged.")
	}
	if len(f.Errors)+f.untold == before {
		f.Records = append(f.Records, r)
	}
}

// take puts figures where they belong.
func (r *Record) take(figures [quantities]*float64) {
	r.TMax, r.TMin = figures[highest], figures[lowest]
	r.RHMax, r.RHMin = figures[humidest], figures[driest]
	r.SunHours, r.SolarMJ = figures[sunshine], figures[solar]
	r.WindMS, r.WindHeight = figures[wind], figures[windHeight]
	r.RainMM = figures[rain]
	if dew := figures[dewPoint]; dew != nil {
		v := SaturationPressure(*dew) // FAO-56 eq. 14
		r.VapourKPa = &v
	}
}

// dated reads the date in the way its column says; the sentence is what is wrong with it.
func (r *Record) dated(column, text string) string {
	forms := map[string][]string{
		"date": {"2006-1-2", "2006/1/2", "20060102"}, "date_mdy": {"1/2/2006", "1-2-2006"},
		"date_dmy": {"2/1/2006", "2.1.2006", "2-1-2006"}, "month": {"2006-1", "2006/1"},
	}[column]
	if column == "month" {
		if n, err := units.ParseCount("The month", text, 1, 12); err == nil {
			r.Month = int(n)
			return ""
		}
	}
	for _, form := range forms {
		if d, err := time.Parse(form, text); err == nil && d.Year() >= 1800 && d.Year() <= 2200 {
			r.Year, r.Month, r.Day = d.Year(), int(d.Month()), d.Day()
			if column == "month" {
				r.Day = 0
			}
			return ""
		}
	}
	wanted := map[string]string{
		"date":     "Write year, month and day, such as 2024-07-15, or name the column date_mdy or date_dmy.",
		"date_mdy": "Write month, day and year, such as 7/15/2024.",
		"date_dmy": "Write day, month and year, such as 15.7.2024.",
		"month":    "Write year and month, such as 2024-07, or the month alone from 1 to 12.",
	}[column]
	if text == "" {
		return "The line has no date. " + wanted
	}
	return catalog.Shown(text) + " is no date that is known here. " + wanted
}

// order is a number that grows with the date.
func (r Record) order() int { return (r.Year*100+r.Month)*100 + r.Day }

// finish orders the records, tells dates that stand twice, and what was done with the
// file as a whole.
func (f *WeatherFile) finish(h weatherHeader, lines int) {
	slices.SortStableFunc(f.Records, func(a, b Record) int { return a.order() - b.order() })
	once := f.Records[:0]
	for _, r := range f.Records {
		if n := len(once); n > 0 && once[n-1].order() == r.order() {
			f.wrong(r.Line, h.date, "The same date stands in line %d. Keep one of them.", once[n-1].Line)
			continue
		}
		once = append(once, r)
	}
	f.Records = once
	// Months without a year come first.
	if n := len(once); n > 0 && once[0].Year == 0 && once[n-1].Year != 0 {
		f.wrong(once[0].Line, h.date, "Other lines have a year and this one has none. Write all months with their year, or none.")
	}
	slices.SortStableFunc(f.Errors, func(a, b catalog.RowError) int { return a.Line - b.Line })
	if f.untold > 0 {
		f.Errors = append(f.Errors, catalog.RowError{Sentence: fmt.Sprintf("%d more mistakes were found beyond those listed.", f.untold)})
	}
	if lines == 0 {
		f.Errors = append(f.Errors, catalog.RowError{Sentence: "There is no line of weather under the names of the columns."})
	}
	if len(h.passed) > 0 {
		f.Notes = append(f.Notes, "Columns passed over: "+strings.Join(h.passed[:min(len(h.passed), 12)], ", ")+".")
	}
	if f.commas {
		f.Notes = append(f.Notes, "Commas in figures were read as decimal points.")
	}
}
