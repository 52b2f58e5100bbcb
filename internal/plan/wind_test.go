package plan

import (
	"testing"

	"evenfall/internal/units"
)

func mphOf(v units.MPH) *units.MPH             { return &v }
func degreesOf(v units.Degrees) *units.Degrees { return &v }

// The wind of a windy day is 8 mph from true west unless the plan says otherwise,
// and its name goes by true north whatever way the sheet is turned.
func TestWindOfThePlan(t *testing.T) {
	for _, c := range []struct {
		name  string
		site  Site
		speed units.MPH
		from  units.Degrees
		words string
	}{
		{"nothing said", Site{}, 8, 180, "the west"},
		{"nothing said on a turned sheet", Site{NorthDeg: 30}, 8, 210, "the west"},
		{"north to the left of the sheet", Site{NorthDeg: 90, WindFromDeg: degreesOf(90)}, 8, 90, "the east"},
		{"said", Site{WindMPH: mphOf(12), WindFromDeg: degreesOf(0)}, 12, 0, "the east"},
		{"calm", Site{WindMPH: mphOf(0), WindFromDeg: degreesOf(316)}, 0, 316, "the south-east"},
		{"the other way round", Site{NorthDeg: -359}, 8, 181, "the west"},
	} {
		if speed, from := c.site.Wind(); speed != c.speed || from != c.from {
			t.Errorf("%s: %v from %v°, want %v from %v°", c.name, speed, from, c.speed, c.from)
		}
		if got := c.site.WindFrom(); got != c.words {
			t.Errorf("%s: from %q, want %q", c.name, got, c.words)
		}
	}
}
