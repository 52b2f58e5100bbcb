package season

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// ChainOf is every figure from the weather of a month, 0 January, to what sprinklers have
// to bring an area on a day of it, whatever the climate is from; the last is that need.
// nil for an area that is not among the needs.
func ChainOf(q *Question, area plan.ID, month int) []Factor {
	i := slices.IndexFunc(q.Needs, func(n Need) bool { return n.ID == area })
	if i < 0 || month < 0 || month > 11 {
		return nil
	}
	n, days, sys := &q.Needs[i], climate.Days[month], q.Input.Show
	x, name := &n.Month[month], climate.MonthNames[month]
	if q.PeakOnly { // it is no month's
		name = fmt.Sprintf("%d days at peak", days)
	}
	et := Factor{"Reference ET of " + name, float64(x.ET), Inches, etSource(q.Year, month, days)}
	of := []Factor{et, {"Plant factor", x.Plant, "", x.Source}}
	share := Factor{}
	for _, each := range n.Factors {
		if each.What == rainCounts {
			share = each
			continue
		}
		of = append(of, each)
	}
	uses := Factor{"The planting uses in " + name, float64(x.ET) * float64(x.All), Inches, product(sys, of...)}
	f := slices.Concat(weatherOf(q.Year, month), of, []Factor{uses})
	rest := uses.Shown(sys)
	if fell := q.Year.Months[month].Rain; fell > 0 {
		rain := Factor{"Rain of " + name, float64(fell), Inches, cmp.Or(q.Year.RainFrom, q.Year.Source)}
		counts := Factor{"Rain that plants get", float64(x.Rain), Inches, product(sys, rain, share)}
		if counts.Value < rain.Value*share.Value-1e-9 {
			counts.Source += ", and no more than is used"
		}
		f = append(f, rain, share, counts)
		rest += " − " + counts.Shown(sys)
	}
	if x.Left > 0 {
		month := Factor{"Left to bring in " + name, float64(x.Left) * float64(days), Inches, rest}
		return append(f, month, Factor{"Sprinklers have to bring", 0, InchesDay, month.Shown(sys) + " of a month is too little to water for: see the plan's figures"})
	}
	return append(f, Factor{"Sprinklers have to bring", float64(x.Day), InchesDay, fmt.Sprintf("%s, over %d days", rest, days)})
}

// weatherOf is how reference ET of a month was come by, as far as the year knows.
func weatherOf(y climate.Year, month int) []Factor {
	c := y.Months[month].Chain
	if c == nil {
		return nil
	}
	source := y.Source
	if n := y.Months[month].Lines; n > 0 {
		source = "mean of " + plan.Plural(n, "line", "lines") + " of the weather"
	}
	by := func(first string) string {
		for _, e := range c.Estimated {
			if strings.HasPrefix(e, first) {
				return "not measured: " + e
			}
		}
		return source
	}
	day := func(mm float64) float64 { return mm / units.MillimetresPerInch }
	f := []Factor{
		{"Highest temperature", fahrenheit(c.TMax), Warmth, source},
		{"Lowest temperature", fahrenheit(c.TMin), Warmth, source},
	}
	if c.Saturation == 0 { // by temperatures alone
		return append(f,
			Factor{"Radiation above the air", c.Ra, Energy, "day of the year and latitude (FAO-56 eq. 21)"},
			Factor{"Reference ET of a day", day(c.ETo), InchesDay, "0.0023 × (mean in °C + 17.8) × √(range in °C) × 0.408 × radiation, in mm (Hargreaves-Samani, FAO-56 eq. 52)"})
	}
	return append(f,
		Factor{"Vapour that the air can hold", c.Saturation, Vapour, "temperatures (FAO-56 eq. 11 and 12)"},
		Factor{"Vapour that it holds", c.Actual, Vapour, by("vapour")},
		Factor{"Sunshine on the ground", c.Rs, Energy, by("sunshine")},
		Factor{"Of it and the sky's stays", c.Rn, Energy, "FAO-56 eq. 38 to 40"},
		Factor{"Wind at 2 m", c.Wind2 / metresASecond, Wind, by("wind")},
		Factor{"ET by the sun", day(c.Radiation), InchesDay, "first part of FAO-56 eq. 6"},
		Factor{"ET by wind and dry air", day(c.Aerodynamic), InchesDay, "second part of FAO-56 eq. 6"},
		Factor{"Reference ET of a day", day(c.ETo), InchesDay, "both (FAO-56 Penman-Monteith), and never below 0"})
}

func etSource(y climate.Year, month, days int) string {
	if y.Months[month].Chain != nil {
		return fmt.Sprintf("a day's by %d days; %s", days, y.Source)
	}
	if slices.ContainsFunc(y.Months[:], func(m climate.Month) bool { return m.Lines > 0 }) {
		return "not by the weather of this month; " + y.Source
	}
	return y.Source
}
