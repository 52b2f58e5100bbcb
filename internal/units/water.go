package units

import (
	"math"
	"strings"
)

// Bounds of what is typed about water in pipes and containers. Chosen: a pipe's
// water never nears them.
const (
	MaxVelocity FeetPerSecond = 100
	MaxVolume   Gallons       = 100_000
	MaxTime     Seconds       = 86_400
)

// Velocity prints the velocity of water in a pipe: 4.9 ft/s, or 1.49 m/s.
func (s System) Velocity(v FeetPerSecond) string {
	if s == Metric {
		return decimals(float64(v)*MetresPerFoot, 2) + " m/s"
	}
	return decimals(float64(v), 1) + " ft/s"
}

// Volume prints a volume: 5 gal, 2.5 gal, 283,530 gal, or 18.9 L.
func (s System) Volume(v Gallons) string {
	if s == Metric {
		return Grouped(strings.TrimSuffix(decimals(float64(v)*LitresPerGallon, 1), ".0")) + " L"
	}
	return Grouped(short(float64(v))) + " gal"
}

// Time prints a short time in seconds: 22.5 s.
func (System) Time(t Seconds) string { return strings.TrimSuffix(decimals(float64(t), 1), ".0") + " s" }

// PipeSize prints a nominal pipe size as it is asked for: 1-1/4 in, or by the
// metric designation of ISO 6708, DN 32. A size that has none prints in whole
// millimetres.
func (s System) PipeSize(in Inches) string {
	if !isFinite(float64(in)) {
		return unknown
	}
	if s == Metric {
		for _, dn := range diameters {
			if in == dn.nominal {
				return "DN " + dn.name
			}
		}
		return s.Inches(in)
	}
	whole := math.Floor(float64(in))
	rest := strings.TrimSuffix(s.Inches(in-Inches(whole)), `"`)
	switch {
	case rest == "0":
		return decimals(whole, 0) + " in"
	case whole == 0:
		return rest + " in"
	case !strings.Contains(rest, "/"):
		return s.NominalInches(in)
	}
	return decimals(whole, 0) + "-" + rest + " in"
}

// diameters are the designations of ISO 6708 for the inch sizes.
var diameters = []struct {
	nominal Inches
	name    string
}{
	{.5, "15"}, {.625, "16"}, {.75, "20"}, {1, "25"}, {1.25, "32"}, {1.5, "40"}, {2, "50"}, {2.5, "65"}, {3, "80"}, {4, "100"}, {6, "150"}, {8, "200"},
}

var velocityScales = []scale{
	{"ft/s", 1}, {"fps", 1}, {"m/s", 1 / MetresPerFoot},
}

var volumeScales = []scale{
	{"gal", 1}, {"gallon", 1}, {"gallons", 1},
	{"l", 1 / LitresPerGallon}, {"litre", 1 / LitresPerGallon}, {"litres", 1 / LitresPerGallon}, {"liter", 1 / LitresPerGallon}, {"liters", 1 / LitresPerGallon},
}

var timeScales = []scale{
	{"s", 1}, {"sec", 1}, {"seconds", 1}, {"min", 60}, {"minutes", 60},
}

// ParseVelocity reads the velocity of water: 5, 5 ft/s, 1.5 m/s. A number without
// a unit is ft/s, or m/s in a metric plan.
func ParseVelocity(s string, sys System) (FeetPerSecond, error) {
	bare := "ft/s"
	if sys == Metric {
		bare = "m/s"
	}
	v, err := parseScaled(s, velocityScales, bare, "velocity", "ft/s or m/s")
	switch {
	case err != nil:
		return 0, err
	case v <= 0:
		return 0, refuse(s, "A velocity must be more than zero.")
	case FeetPerSecond(v) > MaxVelocity:
		return 0, refuse(s, "%s is more than %s. Check the unit.", quote(s), sys.Velocity(MaxVelocity))
	}
	return FeetPerSecond(v), nil
}

// ParseVolume reads a volume: 5, 5 gal, 20 l. A number without a unit is gallons,
// or litres in a metric plan.
func ParseVolume(s string, sys System) (Gallons, error) {
	bare := "gal"
	if sys == Metric {
		bare = "l"
	}
	v, err := parseScaled(s, volumeScales, bare, "volume", "gal or l")
	switch {
	case err != nil:
		return 0, err
	case v <= 0:
		return 0, refuse(s, "A volume must be more than zero.")
	case Gallons(v) > MaxVolume:
		return 0, refuse(s, "%s is more than %s. Check the unit.", quote(s), sys.Volume(MaxVolume))
	}
	return Gallons(v), nil
}

// ParseTime reads a short time: 22.5, 22.5 s, 1.5 min. A number without a unit is
// seconds.
func ParseTime(s string) (Seconds, error) {
	v, err := parseScaled(s, timeScales, "s", "time", "s or min")
	switch {
	case err != nil:
		return 0, err
	case v <= 0:
		return 0, refuse(s, "A time must be more than zero.")
	case Seconds(v) > MaxTime:
		return 0, refuse(s, "%s is more than a day. Check the unit.", quote(s))
	}
	return Seconds(v), nil
}
