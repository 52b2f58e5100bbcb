package climate

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"evenfall/internal/units"
)

// Place is where the weather was measured, as far as the equations ask.
type Place struct {
	LatitudeDeg float64 // north positive
	ElevationM  float64
	WindHeightM float64 // of the gauge where a record does not say; 0: 2 m
	ByTheSea    bool
}

// Year reckons reference ET of each record (FAO-56 eq. 6) and takes the mean by month,
// with the mean of every figure on the way. Rain of a month is the mean of its days that
// have any figure, or of its months, so that what is missing is taken to be as wet as the
// rest. Months that the file says nothing of are base's, and so is the rain of those it
// has no figure of; without a base, and where the file has mistakes, it is an error.
// Notes say what is missing and how it was taken.
func (f *WeatherFile) Year(at Place, base *Year) (y Year, notes []string, err error) {
	if len(f.Errors) > 0 {
		return Year{}, nil, fmt.Errorf("the weather has mistakes, which come first: %w", f.Errors[0])
	}
	y.Source = "weather by day (FAO-56 Penman-Monteith)"
	if f.Monthly {
		y.Source = "weather by month (FAO-56 Penman-Monteith)"
	}
	soil := f.soilHeat()
	var means [12]chainMean
	var rain, rainOf [12]float64
	without, dry := 0, 0
	for _, r := range f.Records {
		m := r.Month - 1
		if r.RainMM != nil {
			rain[m] += *r.RainMM
			rainOf[m]++
		} else {
			dry++
		}
		if r.TMax == nil || r.TMin == nil {
			without++
			continue
		}
		c, err := Penman(r.weather(at, soil[m]))
		if err != nil {
			return Year{}, nil, fmt.Errorf("line %d: %w", r.Line, err)
		}
		means[m].add(c)
	}
	notes = f.gaps()
	one, many := "day", "days"
	if f.Monthly {
		one, many = "month", "months"
	}
	if without > 0 {
		notes = append(notes, fmt.Sprintf("Without the highest or the lowest temperature, and left out for ET: %s.", counted(without, one, many)))
	}
	if dry > 0 && dry < len(f.Records) {
		notes = append(notes, fmt.Sprintf("Without a figure of rain, and left out of its mean: %s. Write 0 where it was dry.", counted(dry, one, many)))
	} else if dry > 0 && base == nil {
		notes = append(notes, "The weather has no rain; none is counted.")
	} else if dry > 0 {
		notes = append(notes, fmt.Sprintf("The weather has no rain; that of %s stays.", base.Source))
	}
	var missing []string
	for m := range y.Months {
		if means[m].n == 0 {
			missing = append(missing, MonthNames[m])
			if base != nil {
				y.Months[m] = base.Months[m]
			}
			continue
		}
		c := means[m].mean(one, many)
		y.Months[m] = Month{ET: units.Inches(c.ETo * float64(Days[m]) / mmPerInch), Chain: c, Lines: means[m].n}
		if rainOf[m] > 0 {
			total := rain[m] / rainOf[m]
			if !f.Monthly {
				total *= float64(Days[m])
			}
			y.Months[m].Rain = units.Inches(total / mmPerInch)
		} else if base != nil {
			y.Months[m].Rain = base.Months[m].Rain
		}
	}
	if len(missing) == 12 {
		return Year{}, nil, fmt.Errorf("no line of the weather has both temperatures")
	}
	if len(missing) > 0 {
		list := strings.Join(missing, ", ")
		if base == nil {
			return Year{}, nil, fmt.Errorf("the weather has nothing to reckon %s by; add lines, or choose what those months are taken from", list)
		}
		y.Source += fmt.Sprintf("; %s: %s", list, base.Source)
		notes = append(notes, fmt.Sprintf("Not in the weather, and taken from %s: %s.", base.Source, list))
	}
	return y, notes, nil
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// weather is the record as Penman reads it.
func (r Record) weather(at Place, soilMJ float64) Weather {
	inland := !at.ByTheSea
	w := Weather{
		Day: middleDay(r.Month - 1), LatitudeDeg: at.LatitudeDeg, ElevationM: at.ElevationM,
		TMax: *r.TMax, TMin: *r.TMin, RHMax: r.RHMax, RHMin: r.RHMin, VapourKPa: r.VapourKPa,
		SunHours: r.SunHours, SolarMJ: r.SolarMJ, WindMS: r.WindMS, WindHeightM: at.WindHeightM,
		Interior: &inland, SoilMJ: soilMJ,
	}
	if r.Day > 0 {
		w.Day = r.date().YearDay()
	}
	if r.WindHeight != nil {
		w.WindHeightM = *r.WindHeight
	}
	return w
}

func (r Record) date() time.Time {
	return time.Date(r.Year, time.Month(r.Month), r.Day, 0, 0, 0, 0, time.UTC)
}

// soilHeat is by month what goes into the soil, by the mean temperatures of the months
// before and after (FAO-56 eq. 43), or of one of them and itself (eq. 44); nought for
// days (eq. 42), and where no neighbour is known.
func (f *WeatherFile) soilHeat() (soil [12]float64) {
	if !f.Monthly {
		return soil
	}
	var sum, n [12]float64
	for _, r := range f.Records {
		if r.TMax != nil && r.TMin != nil {
			sum[r.Month-1] += (*r.TMax + *r.TMin) / 2
			n[r.Month-1]++
		}
	}
	for m := range soil {
		before, after := (m+11)%12, (m+1)%12
		switch {
		case n[m] == 0:
		case n[before] > 0 && n[after] > 0:
			soil[m] = SoilHeatBetween(sum[before]/n[before], sum[after]/n[after])
		case n[before] > 0:
			soil[m] = SoilHeat(sum[before]/n[before], sum[m]/n[m])
		case n[after] > 0:
			soil[m] = SoilHeat(sum[m]/n[m], sum[after]/n[after])
		}
	}
	return soil
}

// gaps says which days, or months, between the first and the last are not there.
func (f *WeatherFile) gaps() []string {
	if len(f.Records) == 0 || f.Records[0].Year == 0 {
		return nil
	}
	const mostSaid = 6
	form, one, many := "2006-01-02", "day", "days"
	if f.Monthly {
		form, one, many = "2006-01", "month", "months"
	}
	at := func(r Record) time.Time {
		if f.Monthly {
			r.Day = 1
		}
		return r.date()
	}
	step := func(t time.Time, n int) time.Time {
		if f.Monthly {
			return t.AddDate(0, n, 0)
		}
		return t.AddDate(0, 0, n)
	}
	var stretches []string
	missing := 0
	for i, r := range f.Records[1:] {
		from, until := step(at(f.Records[i]), 1), at(r)
		if !from.Before(until) {
			continue
		}
		if f.Monthly {
			missing += (until.Year()-from.Year())*12 + int(until.Month()) - int(from.Month())
		} else {
			missing += int(math.Round(until.Sub(from).Hours() / 24))
		}
		said := from.Format(form)
		if last := step(until, -1); last.After(from) {
			said += " to " + last.Format(form)
		}
		stretches = append(stretches, said)
	}
	first, last := at(f.Records[0]).Format(form), at(f.Records[len(f.Records)-1]).Format(form)
	notes := []string{fmt.Sprintf("The weather runs from %s to %s.", first, last)}
	if missing == 0 {
		return notes
	}
	said := strings.Join(stretches[:min(len(stretches), mostSaid)], ", ")
	if more := len(stretches) - mostSaid; more > 0 {
		said += fmt.Sprintf(", and %s more", counted(more, "stretch", "stretches"))
	}
	return append(notes, fmt.Sprintf("Missing in it: %s (%s).", counted(missing, one, many), said))
}

// chainMean gathers chains.
type chainMean struct {
	n         int
	sum       Chain
	estimates []string // as they come
	times     []int
}

// figures are all figures of a chain, in order.
func (c *Chain) figures() []*float64 {
	return []*float64{
		&c.TMax, &c.TMin, &c.TMean, &c.Pressure, &c.Gamma, &c.Delta, &c.Saturation, &c.Actual, &c.Ra, &c.Daylight, &c.Rs, &c.Rso,
		&c.Rns, &c.Rnl, &c.Rn, &c.Wind2, &c.Radiation, &c.Aerodynamic, &c.ETo,
	}
}

func (g *chainMean) add(c *Chain) {
	g.n++
	of := c.figures()
	for i, sum := range g.sum.figures() {
		*sum += *of[i]
	}
	for _, e := range c.Estimated {
		i := slices.Index(g.estimates, e)
		if i < 0 {
			i = len(g.estimates)
			g.estimates, g.times = append(g.estimates, e), append(g.times, 0)
		}
		g.times[i]++
	}
}

// mean is the chain of the means; what was not always measured says how often.
func (g *chainMean) mean(one, many string) *Chain {
	c := g.sum
	for _, v := range c.figures() {
		*v /= float64(g.n)
	}
	c.Estimated = nil
	for i, e := range g.estimates {
		if g.times[i] < g.n {
			e = fmt.Sprintf("%s, on %d of %s", e, g.times[i], counted(g.n, one, many))
		}
		c.Estimated = append(c.Estimated, e)
	}
	return &c
}
