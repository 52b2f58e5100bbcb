package season_test

import (
	"context"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
)

var (
	figure = regexp.MustCompile(`^-?[0-9.]+`)
	ended  = regexp.MustCompile(`, (over ([0-9]+) days|and no more than is used)$`)
)

// redo works out a sum as it is printed, "60 × 0.26 in / (1.5 in/h − 0.2 in/h)"; false
// where the words are none.
func redo(words string) (float64, bool) {
	over := 1.0
	if m := ended.FindStringSubmatch(words); m != nil {
		if m[2] == "" {
			return 0, false
		}
		over, _ = strconv.ParseFloat(m[2], 64)
		words = strings.TrimSuffix(words, m[0])
	}
	if !strings.ContainsAny(words, "×−") && over == 1 || strings.Contains(words, "DU") {
		return 0, false
	}
	words = strings.NewReplacer("in/h", "", "mm/h", "", "×", " × ", "(", " ( ", ")", " ) ").Replace(words)
	var value func(fields []string) (float64, bool)
	value = func(fields []string) (float64, bool) {
		for at, f := range fields { // the last of least force, outside of brackets
			if f == "−" && !strings.Contains(strings.Join(fields[:at], " "), "(") {
				a, ok := value(fields[:at])
				b, both := value(fields[at+1:])
				return a - b, ok && both
			}
		}
		out, op := 1.0, "×"
		for i := 0; i < len(fields); i++ {
			switch f := fields[i]; {
			case f == "×" || f == "/":
				op = f
			case f == "(":
				inside, ok := value(fields[i+1 : len(fields)-1])
				if !ok {
					return 0, false
				}
				return out / inside, true
			case figure.MatchString(f):
				v, err := strconv.ParseFloat(figure.FindString(f), 64)
				if err != nil {
					return 0, false
				}
				if i+1 < len(fields) && fields[i+1] == "%" {
					v /= 100
				}
				if op == "/" {
					v = 1 / v
				}
				out *= v
			}
		}
		return out, true
	}
	if !figure.MatchString(words) {
		return 0, false
	}
	v, ok := value(strings.Fields(words))
	return v / over, ok
}

// Whoever redoes a sum with the figures as they are printed, in either system of units,
// comes to what is printed.
func TestPrintedSumsComeOutAsPrinted(t *testing.T) {
	t.Parallel()
	for _, sys := range []units.System{units.US, units.Metric} {
		p := demo(t)
		p.Show, p.Watering.ETZone, p.Watering.RainIn = sys, 12, twelve(1.2)
		change(p, "entry-bed", func(a *plan.Area) { a.Density, a.Microclimate, a.Soil, a.SlopeShare = 0.9, 1.2, "loam", 0.09 })
		prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
		if err != nil {
			t.Fatal(err)
		}
		redone := 0
		for _, z := range prog.Asked.Input.Zones {
			for _, f := range season.MinutesOf(prog, plan.ID(z.ID), 6) {
				v, ok := redo(f.Source)
				if !ok {
					continue
				}
				redone++
				shown, err := strconv.ParseFloat(figure.FindString(f.Shown(sys)), 64)
				if err != nil {
					t.Fatal(err)
				}
				if f.Unit == season.Share {
					shown /= 100
				}
				if math.Abs(v-shown) > 0.015*shown+0.05 {
					t.Errorf("%s: %s is %s, redone %.4g", f.What, f.Source, f.Shown(sys), v)
				}
			}
		}
		if redone < 6*7 {
			t.Errorf("%d sums could be redone", redone)
		}
	}
}
