package climate

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// Columns of a weather file. The unit is part of the name, so that no figure can be
// taken for another: a file has one column of each kind at most.
//
//	date        2024-07-15, of a day; or date_mdy (7/15/2024), date_dmy (15.7.2024)
//	month       2024-07, or 7 for the mean of many years: instead of date
//	tmax_c      highest temperature; tmax_f
//	tmin_c      lowest temperature; tmin_f
//	rh_max_pct  greatest humidity
//	rh_min_pct  least humidity
//	dew_c       dew point; dew_f. It goes before humidity (FAO-56 eq. 14)
//	sun_h       hours of bright sunshine of a day
//	solar_mj_m2 radiation of a day; or its mean as solar_w_m2. It goes before sunshine
//	wind_m_s    wind; wind_km_h, wind_mph
//	wind_height_m  height of its gauge; wind_height_ft. Without: as the place says
//	rain_mm     rain of the day or of the whole month; rain_in
//
// Of a month, figures are means of its days, but for rain.

// quantity is what a column tells.
type quantity int

const (
	highest quantity = iota
	lowest
	humidest
	driest
	dewPoint
	sunshine
	solar
	wind
	windHeight
	rain
	quantities
)

// weatherColumn is a figure in one unit.
type weatherColumn struct {
	name      string
	quantity  quantity
	says      string  // in a sentence
	low, high float64 // in its unit; wider than anything on earth
	factor    float64 // to the unit of Weather, after less is taken off
	less      float64
}

var weatherColumns = []weatherColumn{
	{"tmax_c", highest, "The highest temperature in °C", -90, 60, 1, 0},
	{"tmax_f", highest, "The highest temperature in °F", -130, 140, 5.0 / 9, 32},
	{"tmin_c", lowest, "The lowest temperature in °C", -90, 60, 1, 0},
	{"tmin_f", lowest, "The lowest temperature in °F", -130, 140, 5.0 / 9, 32},
	{"rh_max_pct", humidest, "The greatest humidity in per cent", 0, 100, 1, 0},
	{"rh_min_pct", driest, "The least humidity in per cent", 0, 100, 1, 0},
	{"dew_c", dewPoint, "The dew point in °C", -90, 40, 1, 0},
	{"dew_f", dewPoint, "The dew point in °F", -130, 104, 5.0 / 9, 32},
	{"sun_h", sunshine, "The sunshine in hours", 0, 24, 1, 0},
	{"solar_mj_m2", solar, "The radiation in MJ/m²", 0, 50, 1, 0},
	{"solar_w_m2", solar, "The mean radiation in W/m²", 0, 550, 0.0864, 0}, // 86,400 s a day
	{"wind_m_s", wind, "The wind in m/s", 0, 100, 1, 0},
	{"wind_km_h", wind, "The wind in km/h", 0, 360, 1 / 3.6, 0},
	{"wind_mph", wind, "The wind in mph", 0, 220, units.KilometresPerMile / 3.6, 0},
	{"wind_height_m", windHeight, "The height of the wind gauge in m", 0.5, 100, 1, 0},
	{"wind_height_ft", windHeight, "The height of the wind gauge in ft", 1.7, 328, units.MetresPerFoot, 0},
	{"rain_mm", rain, "The rain in mm", 0, 15_000, 1, 0},
	{"rain_in", rain, "The rain in inches", 0, 590, units.MillimetresPerInch, 0},
}

// dateColumns are the ways a date may be written, by the name of the column.
var dateColumns = []string{"date", "date_mdy", "date_dmy", "month"}

// WeatherHeader names the columns of a weather file in words, for help and refusals.
const WeatherHeader = "Its first line names the columns: date (2024-07-15) or month (2024-07), tmax_c and tmin_c, and what else there is: rh_max_pct, rh_min_pct, dew_c, sun_h, solar_mj_m2, wind_m_s, rain_mm. Other units: tmax_f, tmin_f, dew_f, solar_w_m2, wind_mph, wind_km_h, rain_in"

// titled is the name of a column as it is compared.
func titled(field string) string {
	t := strings.ToLower(strings.Trim(strings.TrimSpace(field), "*:\"'"))
	t = strings.NewReplacer(" ", "_", "-", "_", "/", "_", "%", "pct", "°", "", "²", "2").Replace(t)
	return strings.Trim(t, "_")
}

// known reports whether a title names a column.
func known(title string) bool {
	return slices.Contains(dateColumns, title) || slices.ContainsFunc(weatherColumns, func(c weatherColumn) bool { return c.name == title })
}

// weatherHeader is where the columns are.
type weatherHeader struct {
	date   string // of dateColumns
	dateAt int
	column [quantities]*weatherColumn // nil: there is none
	at     [quantities]int
	width  int
	passed []string // titles that are not known
}

// readHeader finds the columns; all that is wrong with them is told.
func readHeader(l catalog.TableLine) (weatherHeader, []catalog.RowError) {
	h := weatherHeader{width: len(l.Fields)}
	var wrong []catalog.RowError
	say := func(column, format string, args ...any) {
		wrong = append(wrong, catalog.RowError{Line: l.Number, Column: column, Sentence: fmt.Sprintf(format, args...)})
	}
	for i, field := range l.Fields {
		title := titled(field)
		if slices.Contains(dateColumns, title) {
			if h.date != "" {
				say(title, "There is a column %s already. Keep one of them.", h.date)
				continue
			}
			h.date, h.dateAt = title, i
			continue
		}
		n := slices.IndexFunc(weatherColumns, func(c weatherColumn) bool { return c.name == title })
		if n < 0 {
			if with := withUnits(title); with != "" {
				say(title, "The column does not say its unit. Name it %s.", with)
			} else if title != "" {
				h.passed = append(h.passed, catalog.Shown(field))
			}
			continue
		}
		c := &weatherColumns[n]
		if other := h.column[c.quantity]; other != nil {
			say(title, "There is a column %s already, which tells the same. Keep one of them.", other.name)
			continue
		}
		h.column[c.quantity], h.at[c.quantity] = c, i
	}
	if h.date == "" {
		say("", "No column is named date or month. %s.", WeatherHeader)
	}
	for _, need := range []struct {
		quantity quantity
		bare     string // part of all its names
	}{{highest, "tmax"}, {lowest, "tmin"}} {
		told := slices.ContainsFunc(wrong, func(e catalog.RowError) bool { return strings.HasPrefix(e.Column, need.bare) })
		if h.column[need.quantity] == nil && !told {
			say("", "No column is named %s_c or %s_f: without temperatures nothing can be reckoned.", need.bare, need.bare)
		}
	}
	return h, wrong
}

// withUnits are the columns that a title without its unit may mean; "" for none.
func withUnits(title string) string {
	var names []string
	for _, c := range weatherColumns {
		if title != "" && strings.HasPrefix(c.name, title+"_") {
			names = append(names, c.name)
		}
	}
	return strings.Join(names, " or ")
}

// metric is a figure of the column in the unit of Weather.
func (c *weatherColumn) metric(v float64) float64 { return (v - c.less) * c.factor }
