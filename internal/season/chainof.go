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
	n, days := &q.Needs[i], climate.Days[month]
	x, name := &n.Month[month], climate.MonthNames[month]
	f := append(weatherOf(q.Year, month), Factor{"Reference ET of " + name, float64(x.ET), Inches, etSource(q.Year, month, days)})
	f = append(f, Factor{"Need over reference ET", x.Plant, "", x.Source})
	factors, share := []float64{float64(x.ET), x.Plant}, Factor{}
	for _, each := range n.Factors {
		if each.What == rainCounts {
			share = each
			continue
		}
		f, factors = append(f, each), append(factors, each.Value)
	}
	uses := x.ET * units.Inches(x.All)
	f = append(f, Factor{"The planting uses in " + name, float64(uses), Inches, product(factors...)})
	rain := q.Year.Months[month].Rain
	if rain > 0 {
		how := product(float64(rain), share.Value)
		if float64(x.Rain) < float64(rain)*share.Value-1e-9 {
			how += ", and no more than is used"
		}
		f = append(f, Factor{"Rain of " + name, float64(rain), Inches, cmp.Or(q.Year.RainFrom, q.Year.Source)}, share, Factor{"Rain that plants get", float64(x.Rain), Inches, how})
	}
	how := fmt.Sprintf("%s over %d days", trim(float64(uses), 3), days)
	if x.Rain > 0 {
		how = fmt.Sprintf("%s − %s, over %d days", trim(float64(uses), 3), trim(float64(x.Rain), 3), days)
	}
	return append(f, Factor{"Sprinklers have to bring", float64(x.Day), InchesDay, how})
}

// weatherOf is how reference ET of a month was come by, as far as the year knows.
func weatherOf(y climate.Year, month int) []Factor {
	c := y.Months[month].Chain
	if c == nil {
		return nil
	}
	source := y.Source
	if n := y.Months[month].Lines; n > 0 {
		source = "mean of " + plural(n, "line", "lines") + " of the weather"
	}
	by := func(first string) string {
		for _, e := range c.Estimated {
			if strings.HasPrefix(e, first) {
				return "not measured: " + e
			}
		}
		return source
	}
	inches := func(mm float64) float64 { return mm / units.MillimetresPerInch }
	f := []Factor{
		{"Highest temperature", fahrenheit(c.TMax), Warmth, source},
		{"Lowest temperature", fahrenheit(c.TMin), Warmth, source},
	}
	if c.Saturation == 0 { // by temperatures alone
		return append(f,
			Factor{"Radiation above the air", c.Ra, Energy, "day of the year and latitude (FAO-56 eq. 21)"},
			Factor{"Reference ET of a day", inches(c.ETo), InchesDay, "0.0023 × (mean in °C + 17.8) × √(range in °C) × 0.408 × radiation, in mm (Hargreaves-Samani, FAO-56 eq. 52)"})
	}
	return append(f,
		Factor{"Vapour that the air can hold", c.Saturation, Vapour, "temperatures (FAO-56 eq. 11 and 12)"},
		Factor{"Vapour that it holds", c.Actual, Vapour, by("vapour")},
		Factor{"Sunshine on the ground", c.Rs, Energy, by("sunshine")},
		Factor{"Of it and the sky's stays", c.Rn, Energy, "FAO-56 eq. 38 to 40"},
		Factor{"Wind at 2 m", c.Wind2 / metresASecond, Wind, by("wind")},
		Factor{"ET by the sun", inches(c.Radiation), InchesDay, "first part of FAO-56 eq. 6"},
		Factor{"ET by wind and dry air", inches(c.Aerodynamic), InchesDay, "second part of FAO-56 eq. 6"},
		Factor{"Reference ET of a day", inches(c.ETo), InchesDay, "both (FAO-56 Penman-Monteith), and never below 0"})
}

func etSource(y climate.Year, month, days int) string {
	if y.Months[month].Chain != nil {
		return fmt.Sprintf("a day's by %d days; %s", days, y.Source)
	}
	return y.Source
}
