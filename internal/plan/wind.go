package plan

import (
	"math"

	"evenfall/internal/units"
)

// MostWindMPH is the strongest wind of a windy day that can be asked about, in
// miles per hour. Chosen: trade teaching has trouble begin above 10 mph, and in
// 25 mph nobody waters.
const MostWindMPH = 25

// defaultWind is the wind of a windy day unless the plan names one: the least of
// the strongest band of the usual spacing table (0 to 3, 4 to 7, 8 to 12 mph).
const defaultWind units.MPH = 8

// Wind is the wind of the windy day that is asked about: its speed, and where it
// comes from as an angle of the plan.
func (s Site) Wind() (units.MPH, units.Degrees) {
	speed, from := defaultWind, 180+s.NorthDeg
	if s.WindMPH != nil {
		speed = *s.WindMPH
	}
	if s.WindFromDeg != nil {
		from = *s.WindFromDeg
	}
	return speed, units.Degrees(math.Mod(float64(from)+720, 360))
}

// WindFrom is where the wind of the windy day comes from in words, by true
// north: "the west".
func (s Site) WindFrom() string {
	_, from := s.Wind()
	return "the " + byCompass(float64(from-s.NorthDeg))
}

// byCompass names the nearest of the eight winds to a direction in degrees
// anticlockwise from true east.
func byCompass(deg float64) string {
	eighth := int(math.Round(deg/45)) % len(winds)
	return winds[(eighth+len(winds))%len(winds)]
}

// wind tells of a wind outside what can be asked about.
func (c *inspector) wind(s subject, v Site) {
	if v.WindMPH != nil {
		if speed := float64(*v.WindMPH); speed > MostWindMPH {
			c.tell(s, "wind_mph", "The wind of %s is %s; sprinklers are not run in such wind. Give %s or less.",
				s, c.sys.Speed(*v.WindMPH), c.sys.Speed(MostWindMPH))
		} else {
			c.number(s, "wind_mph", speed, windSpeed)
		}
	}
	if v.WindFromDeg != nil {
		c.number(s, "wind_from_deg", float64(*v.WindFromDeg), direction)
	}
}
