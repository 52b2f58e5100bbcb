package web

import (
	"fmt"
	"math"
	"strings"

	"evenfall/internal/climate"
	"evenfall/internal/units"
	"evenfall/internal/watering"
	"evenfall/web/view"
)

// The plot of a picture of soil water, in its own units.
const (
	soilWide, soilHigh   = 640.0, 170.0
	soilLeft, soilRight  = 68.0, 632.0
	soilTop, soilBottom  = 22.0, 142.0
	soilRoom             = 1.12 // of the deepest that is shown
	soilMarkW, soilMarkH = 3.2, 6.0
)

// soilChart draws the days of an area from a first to before a last: how far below full
// its soil is, falling as plants drink and rising as it is watered.
func (m *waterMaker) soilChart(w *watering.AreaWater, first, last int, title string) view.SoilChart {
	deepest := 0.05 // of soil that hardly dries
	for _, day := range w.Days[first:last] {
		deepest = max(deepest, float64(day.Below), float64(w.May[day.Month]))
	}
	deepest *= soilRoom
	x := func(day float64) float64 {
		return soilLeft + (soilRight-soilLeft)*(day-float64(first))/float64(last-first)
	}
	y := func(below units.Inches) float64 {
		return soilTop + (soilBottom-soilTop)*min(max(float64(below), 0), deepest)/deepest
	}
	c := view.SoilChart{
		Title: title, Box: fmt.Sprintf("0 0 %g %g", soilWide, soilHigh),
		Left: at(soilLeft), Right: at(soilRight), DepthX: at(soilLeft - 6), TickY: at(soilHigh - 10),
	}
	var level, limit strings.Builder
	for d := first; d < last; d++ {
		day := w.Days[d]
		command := " L"
		if d == first {
			command = "M"
		}
		after := max(day.Below-day.Need, 0) // watered, before the day's need is taken
		fmt.Fprintf(&level, "%s%s %s L%s %s", command, at(x(float64(d))), at(y(after)), at(x(float64(d+1))), at(y(day.Below)))
		if may := w.May[day.Month]; d == first {
			fmt.Fprintf(&limit, "M%s %s", at(x(float64(d))), at(y(may)))
		} else if before := w.May[w.Days[d-1].Month]; before != may {
			fmt.Fprintf(&limit, " L%s %s L%s %s", at(x(float64(d))), at(y(before)), at(x(float64(d))), at(y(may)))
		}
		middle := x(float64(d) + 0.5)
		if isPast(w, d) {
			c.Past = append(c.Past, fmt.Sprintf("M%s %s l%g %g h%g z", at(middle), at(soilBottom-soilMarkH), soilMarkW, soilMarkH, -2*soilMarkW))
		}
		if last-first <= 31 && day.Got > 0 {
			c.Drops = append(c.Drops, fmt.Sprintf("M%s %s l%g %g h%g z", at(middle), at(soilTop-1), soilMarkW, -soilMarkH, -2*soilMarkW))
		}
	}
	end := w.May[w.Days[last-1].Month]
	fmt.Fprintf(&limit, " L%s %s", at(soilRight), at(y(end)))
	c.Level, c.Limit = level.String(), limit.String()
	c.Water = c.Level + fmt.Sprintf(" L%s %s L%s %s z", at(soilRight), at(soilBottom), at(soilLeft), at(soilBottom))
	c.LimitSays = "may be used up: " + depthOf(m.sys, end)
	c.LimitX, c.LimitY = at(soilRight), at(y(end)+11)
	if y(end)+11 > soilBottom-2 {
		c.LimitY = at(y(end) - 4)
	}
	c.Ticks, c.Depths = soilTicks(w, first, last, x), m.soilDepths(deepest, y)
	return c
}

// isPast reports whether a day ends with soil further below full than it may be.
func isPast(w *watering.AreaWater, d int) bool {
	return w.Days[d].Below > w.May[w.Days[d].Month]+pastBy
}

// pastBy is from where soil counts as too dry: the hundredth that is printed.
const pastBy units.Inches = 0.005

// soilTicks name the days: months of a year, every fifth day of a month.
func soilTicks(w *watering.AreaWater, first, last int, x func(float64) float64) []view.SoilTick {
	var ticks []view.SoilTick
	for d := first; d < last; d++ {
		day := w.Days[d]
		switch {
		case last-first > 31 && day.Day == 1:
			ticks = append(ticks, view.SoilTick{At: at(x(float64(d) + 0.5*float64(climate.Days[day.Month]))), Says: climate.MonthNames[day.Month][:3]})
		case last-first <= 31 && (day.Day == 1 || day.Day%5 == 0):
			ticks = append(ticks, view.SoilTick{At: at(x(float64(d) + 0.5)), Says: fmt.Sprint(day.Day)})
		}
	}
	return ticks
}

// soilDepths name depths below full: full, and the whole steps that go in.
func (m *waterMaker) soilDepths(deepest float64, y func(units.Inches) float64) []view.SoilTick {
	one := 1.0
	if m.sys == units.Metric {
		one = units.MillimetresPerInch
	}
	step := roundStep(deepest * one / 3)
	ticks := []view.SoilTick{{At: at(soilTop + 4), Says: "full", Rule: at(soilTop)}}
	for k := 1; float64(k)*step <= deepest*one && k < 8; k++ {
		depth := units.Inches(float64(k) * step / one)
		ticks = append(ticks, view.SoilTick{At: at(y(depth) + 4), Says: "−" + stepWords(m.sys, float64(k)*step), Rule: at(y(depth))})
	}
	return ticks
}

// roundStep is the step of 1, 2 or 5 of a power of ten that is at least so much.
func roundStep(least float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(max(least, 1e-9))))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= least {
			return f * power
		}
	}
	return 10 * power
}

func stepWords(sys units.System, v float64) string {
	unit := " in"
	if sys == units.Metric {
		unit = " mm"
	}
	return fmt.Sprintf("%.4g", v) + unit
}

// at is a place in a picture, to the tenth of its unit.
func at(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }

// soilPicture is the soil water of one area: the year, one month of it, and the table.
// Where no climate is given there is no year: four weeks at peak stand for it.
func (m *waterMaker) soilPicture(w *watering.AreaWater, name string, month int) view.SoilPicture {
	pic := view.SoilPicture{
		Name: name, Says: m.soilSays(w),
		Table: view.Table{
			Columns: []string{"Month", "Need a day", "Days watered", "Furthest below full", "May be below", "Days past it"},
			Numbers: []bool{false, true, true, true, true, true},
		},
	}
	const days = "; triangles above are days that are watered, and the table says the same."
	if m.prog.Asked.PeakOnly {
		const weeks = 28
		pic.Close = m.soilChart(w, 0, weeks, "Soil water of "+name+" in four weeks at peak, below full, day by day"+days)
		pic.CloseSays = "Four weeks at peak, day by day"
		pic.Table.Columns[0] = "When"
		pic.Table.Rows = [][]string{m.soilRow(w, 0, weeks, "Four weeks at peak")}
		return pic
	}
	first := 0
	for i, name := range climate.MonthNames {
		next := first + climate.Days[i]
		pic.Table.Rows = append(pic.Table.Rows, m.soilRow(w, first, next, name))
		if i == month {
			pic.Close = m.soilChart(w, first, next, "Soil water of "+pic.Name+" in "+name+", below full, day by day"+days)
			pic.CloseSays = name + ", day by day"
		}
		first = next
	}
	pic.Year = m.soilChart(w, 0, len(w.Days), "Soil water of "+name+" through the year, below full; the table says the same by month.")
	return pic
}

// soilRow is what an area's soil does from a first day to before a last.
func (m *waterMaker) soilRow(w *watering.AreaWater, first, last int, name string) []string {
	watered, past, most := 0, 0, units.Inches(0)
	for d := first; d < last; d++ {
		most = max(most, w.Days[d].Below)
		if w.Days[d].Got > 0 {
			watered++
		}
		if isPast(w, d) {
			past++
		}
	}
	day := w.Days[first]
	return []string{name, depthOf(m.sys, day.Need), fmt.Sprint(watered), depthOf(m.sys, most), depthOf(m.sys, w.May[day.Month]), fmt.Sprint(past)}
}

// soilSays says whether the soil of an area is kept through the year.
func (m *waterMaker) soilSays(w *watering.AreaWater) string {
	past, worst, months := 0, units.Inches(0), []string(nil)
	for d := range w.Days {
		if !isPast(w, d) {
			continue
		}
		past++
		day := w.Days[d]
		worst = max(worst, day.Below-w.May[day.Month])
		if name := climate.MonthNames[day.Month]; len(months) == 0 || months[len(months)-1] != name {
			months = append(months, name)
		}
	}
	if m.prog.Asked.PeakOnly {
		if past == 0 {
			return fmt.Sprintf("Kept at peak: it is %s below full at the most.", depthOf(m.sys, w.Most))
		}
		return fmt.Sprintf("Too dry on some days of the week at peak, by %s at the most.", depthOf(m.sys, worst))
	}
	if past == 0 {
		return fmt.Sprintf("Kept on every day of the year: it is %s below full at the most.", depthOf(m.sys, w.Most))
	}
	return fmt.Sprintf("Too dry on %d days, by %s at the most: %s.", past, depthOf(m.sys, worst), strings.Join(months, ", "))
}
