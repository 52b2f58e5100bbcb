package wire

import (
	"fmt"
	"math"
	"strings"

	"evenfall/internal/units"
)

// Gauge is one size of solid copper wire.
type Gauge struct {
	AWG int
	// Ohms to 1,000 ft of one conductor. At 75 °C: NEC chapter 9, table 8, solid,
	// uncoated, as reprinted. At 20 °C: a published catalogue table of wire for valves,
	// which is the other times 1 − 0.00323·55 to the digits printed.
	At75, At20 float64
}

// Gauges are the sizes that valves are wired with, thinnest first.
func Gauges() []Gauge {
	return []Gauge{
		{18, 7.77, 6.39},
		{16, 4.89, 4.02},
		{14, 3.07, 2.52},
		{12, 1.93, 1.59},
		{10, 1.21, 1.00},
		{8, 0.764, 0.63},
	}
}

// The thinnest and the thickest of them.
const (
	thinnest = 18
	thickest = 8
)

// Resistance is that of 1,000 ft of one conductor in ohms at a temperature in °C:
// copper's grows in a straight line, drawn here through the two published columns.
// It panics for a size that Gauges does not hold: the plan is read with none such.
func Resistance(awg int, celsius float64) float64 {
	for _, g := range Gauges() {
		if g.AWG == awg {
			return g.At20 + (g.At75-g.At20)*(celsius-20)/55
		}
	}
	panic(fmt.Sprintf("wire: no gauge %d", awg))
}

// MostResistance is what 1,000 ft of each of two equal conductors may have, in ohms, to
// lose no more than drop volts at so many amperes, length away:
// 1000·drop/(2·length·amperes).
func MostResistance(drop, amperes float64, length units.Feet) float64 {
	return 1000 * drop / (2 * float64(length) * amperes)
}

// LongestRun is how far away a valve of so many amperes may be, one way, on
// conductors of so many ohms to 1,000 ft, to lose no more than drop volts:
// drop/(amperes·(hot + common)/1000).
func LongestRun(drop, amperes, hot, common float64) units.Feet {
	return units.Feet(drop / (amperes * (hot + common) / 1000))
}

// Drop is the volts lost there and back.
func Drop(amperes float64, length units.Feet, hot, common float64) float64 {
	return amperes * float64(length) * (hot + common) / 1000
}

// section is the cross-section of a solid wire in square millimetres, by the
// definition of the gauge (ASTM B258): 0.127·92^((36 − n)/39) mm across.
func section(awg int) float64 {
	across := 0.127 * math.Pow(92, float64(36-awg)/39)
	return math.Pi / 4 * across * across
}

// GaugeName is a size as it is asked for: 18 AWG, with its section in metric plans.
func GaugeName(sys units.System, awg int) string {
	if sys == units.Metric {
		return fmt.Sprintf("%d AWG (%s mm²)", awg, figure(section(awg), 2))
	}
	return fmt.Sprintf("%d AWG", awg)
}

// figure prints a number with at most so many decimals.
func figure(v float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, v)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
