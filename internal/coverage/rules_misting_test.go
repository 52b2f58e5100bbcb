package coverage_test

import (
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// A spray mists past 40 psi at the nozzle; a body that regulates keeps it below,
// and streams are made for more.
func TestMistingLimits(t *testing.T) {
	for _, c := range []struct {
		name, nozzle, body string
		zone               units.PSI
		rank               plan.Rank
	}{
		{"at the limit", "spray-10-q", "body-4", 40, ""},
		{"past it", "spray-10-q", "body-4", 40.1, plan.Notice},
		{"at its best where the zone names none", "spray-10-q", "body-4", 0, ""},
		{"regulated to 30 psi", "spray-10-q", "body-4-reg", 45, ""},
		{"regulated to 40 psi", "spray-10-q", "body-4-reg40", 45, ""},
		{"a strip", "strip-side-30", "body-4", 45, plan.Notice},
		{"a stream", "stream-16", "body-4", 45, ""},
		{"a rotor", "rotor-30-1_5", "body-rotor-4", 45, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := newLot(30, 30)
			z := l.Zones["z1"]
			z.Pressure = c.zone
			l.Zones["z1"] = z
			l.head(c.nozzle, c.body, 0, 0, 0, 90)
			l.want(t, plan.SprayMisting, c.rank)
		})
	}
}
