package units

import (
	"math"
	"strings"
	"unicode"
)

// Bounds of what is typed. Chosen: far above any supply.
const (
	MaxFlow     GPM = 10_000
	MaxPressure PSI = 1_000
)

// scale is how much one of a written unit is, in the unit we keep.
type scale struct {
	name string
	one  float64
}

var flowScales = []scale{
	{"gpm", 1}, {"gal/min", 1},
	{"l/min", 1 / LitresPerGallon}, {"lpm", 1 / LitresPerGallon},
	{"l/h", 1 / LitresPerGallon / 60}, {"l/s", 60 / LitresPerGallon},
	{"m3/h", GPMPerCubicMetreH}, {"m³/h", GPMPerCubicMetreH},
}

var pressureScales = []scale{
	{"psi", 1}, {"bar", 1 / BarPerPSI}, {"kpa", 1 / KPaPerPSI},
}

// ParseFlow reads a flow: 12.5, 12.5 gpm, 47 l/min, 2.8 m3/h. A number without
// a unit is gpm, or l/min in a metric plan. It must be above zero and at most
// MaxFlow.
func ParseFlow(s string, sys System) (GPM, error) {
	bare := "gpm"
	if sys == Metric {
		bare = "l/min"
	}
	v, err := parseScaled(s, flowScales, bare, "flow", "gpm, l/min or m3/h")
	switch {
	case err != nil:
		return 0, err
	case v <= 0:
		return 0, refuse(s, "A flow must be more than zero.")
	case GPM(v) > MaxFlow:
		return 0, refuse(s, "%s is more than %s. Check the unit.", quote(s), sys.Flow(MaxFlow))
	}
	return GPM(v), nil
}

// ParsePressure reads a gauge pressure: 45, 45 psi, 3.1 bar, 310 kPa. A number
// without a unit is psi, or bar in a metric plan. It must be above zero and at
// most MaxPressure.
func ParsePressure(s string, sys System) (PSI, error) {
	bare := "psi"
	if sys == Metric {
		bare = "bar"
	}
	v, err := parseScaled(s, pressureScales, bare, "pressure", "psi, bar or kPa")
	switch {
	case err != nil:
		return 0, err
	case v <= 0:
		return 0, refuse(s, "A pressure must be more than zero.")
	case PSI(v) > MaxPressure:
		return 0, refuse(s, "%s is more than %s. Check the unit.", quote(s), sys.Pressure(MaxPressure))
	}
	return PSI(v), nil
}

// parseScaled reads a number and one of the units.
func parseScaled(s string, scales []scale, bare, what, names string) (float64, error) {
	number, unit := splitUnit(s)
	v, err := ParseNumber(number)
	if err != nil {
		return 0, &Refusal{Typed: s, Sentence: err.Error()}
	}
	if unit == "" {
		unit = bare
	}
	for _, c := range scales {
		if c.name == unit {
			return v * c.one, nil
		}
	}
	return 0, refuse(s, "%s is not a unit of %s. Write %s.", quote(unit), what, names)
}

// splitUnit cuts "3.1 Bar" into "3.1" and "bar".
func splitUnit(s string) (number, unit string) {
	t := strings.TrimSpace(s)
	n := strings.IndexFunc(t, unicode.IsLetter)
	if n < 0 {
		return t, ""
	}
	// An exponent belongs to the number, so that 1e3 is refused or read as one.
	if isNumber(t) {
		return t, ""
	}
	return strings.TrimSpace(t[:n]), strings.ToLower(strings.ReplaceAll(t[n:], " ", ""))
}

// ParseAngle reads an angle in degrees: 90, 22.5°, -45 deg, or a compass bearing
// such as N 45 E, which it turns into degrees anticlockwise from east. It lies
// within -360 and 360.
func ParseAngle(s string) (Degrees, error) {
	t := strings.ToLower(strings.TrimSpace(s))
	if d, ok, err := parseBearing(s, t); ok || err != nil {
		return d, err
	}
	for _, suffix := range []string{"°", "degrees", "degree", "deg"} {
		if cut, ok := strings.CutSuffix(t, suffix); ok {
			t = strings.TrimSpace(cut)
			break
		}
	}
	v, err := ParseNumber(t)
	if err != nil {
		return 0, &Refusal{Typed: s, Sentence: err.Error()}
	}
	if math.Abs(v) > 360 {
		return 0, refuse(s, "%s is more than a whole turn. Write an angle up to 360 degrees.", quote(s))
	}
	return Degrees(v), nil
}

// parseBearing reads N 45 E: from north or south, so many degrees toward east
// or west.
func parseBearing(s, t string) (d Degrees, ok bool, err error) {
	if len(t) < 3 || !strings.ContainsAny(t[:1], "ns") || !strings.ContainsAny(t[len(t)-1:], "ew") {
		return 0, false, nil
	}
	v, err := ParseNumber(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(t[1:len(t)-1]), "°")))
	if err != nil || v < 0 || v > 90 {
		return 0, false, refuse(s, "%s is not a bearing. Write one such as N 45 E, with 0 to 90 degrees.", quote(s))
	}
	fromNorth, fromSouth := t[0] == 'n', t[0] == 's'
	east := t[len(t)-1] == 'e'
	switch {
	case fromNorth && east:
		return Degrees(90 - v), true, nil
	case fromNorth:
		return Degrees(90 + v), true, nil
	case fromSouth && east:
		return Degrees(270 + v), true, nil
	}
	return Degrees(270 - v), true, nil
}
