package plan

import (
	"fmt"
	"regexp"

	"evenfall/internal/units"
)

// braced is a quantity in fixed words: {12 in}, {0.75 in/h}.
var braced = regexp.MustCompile(`\{([0-9.]+) ([a-z/]+)\}`)

// InUnits puts the fixed words of findings, in place, into the units a plan is
// shown in: a quantity in braces is read as it stands in US units, and converted
// for metric plans. Sentences are in the plan's units from the start.
func InUnits(sys units.System, findings []Finding) {
	for i := range findings {
		f := &findings[i]
		f.Title, f.Why, f.Do, f.Source = inUnits(sys, f.Title), inUnits(sys, f.Why), inUnits(sys, f.Do), inUnits(sys, f.Source)
	}
}

// FixedWords puts fixed words with quantities in braces into the units of a system.
func FixedWords(sys units.System, words string) string { return inUnits(sys, words) }

func inUnits(sys units.System, words string) string {
	return braced.ReplaceAllStringFunc(words, func(s string) string {
		m := braced.FindStringSubmatch(s)
		if sys != units.Metric {
			return m[1] + " " + m[2]
		}
		v, err := units.ParseNumber(m[1])
		if err != nil {
			panic(fmt.Sprintf("plan: a rule says %s: %v", s, err)) // a test reads every rule
		}
		switch m[2] {
		case "in":
			if long := units.Inches(v).Feet(); long.Metres() >= 1 {
				return sys.Length(long)
			}
			return sys.Inches(units.Inches(v))
		case "ft":
			return sys.Length(units.Feet(v))
		case "psi":
			return sys.Pressure(units.PSI(v))
		case "gpm":
			return sys.Flow(units.GPM(v))
		case "ft/s":
			return sys.Velocity(units.FeetPerSecond(v))
		case "in/h":
			return sys.Rate(units.InchesPerHour(v))
		}
		panic("plan: a rule speaks in a unit that is not known: " + s)
	})
}
