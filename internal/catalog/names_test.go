package catalog

import (
	"regexp"
	"testing"

	"evenfall/internal/units"
)

// Names of built-in rows read in the system of the plan, each its own; what a user
// named stays as it is.
func TestNamesOfRowsAreInThePlansUnits(t *testing.T) {
	for us, metric := range map[string]string{
		"Spray 8 ft, quarter":                              "Spray 2.4 m, quarter",
		"Stream 16 ft, 90° to 210°":                        "Stream 4.9 m, 90° to 210°",
		"Strip 4 x 15 ft, end, from the middle":            "Strip 1.2 x 4.6 m, end, from the middle",
		"Rotor 30 ft, 0.75 gpm nozzle":                     "Rotor 9.1 m, 2.8 L/min nozzle",
		"Pop-up body 4 in":                                 "Pop-up body 10 cm",
		"Water meter 3/4 in":                               "Water meter DN 20",
		"Zone valve 1-1/2 in":                              "Zone valve DN 40",
		"Polyethylene, 100 psi":                            "Polyethylene, 6.9 bar",
		"Schedule 40 PVC":                                  "Schedule 40 PVC",
		"Pop-up body 12 in, regulated 30 psi, check valve": "Pop-up body 30 cm, regulated 2.1 bar, check valve",
	} {
		if got := NameIn(units.Metric, us); got != metric {
			t.Errorf("%s: got %q, want %q", us, got, metric)
		}
		if got := NameIn(units.US, us); got != us {
			t.Errorf("%s: in US units got %q", us, got)
		}
	}
	if got := NameIn(units.Metric, "My 12 ft nozzle"); got != "My 12 ft nozzle" {
		t.Errorf("a user's own name became %q", got)
	}
	other := regexp.MustCompile(`[0-9] (ft|in|psi|gpm)\b`)
	rows, seen := len(Nozzles())+len(Bodies())+len(Devices())+1, map[string]string{} // and the one pipe class named by a pressure
	for us, metric := range MetricNames() {
		if other.MatchString(metric) || !other.MatchString(us) {
			t.Errorf("%q is %q in metric", us, metric)
		}
		if twin, twice := seen[metric]; twice {
			t.Errorf("%q and %q are both %q", us, twin, metric)
		}
		seen[metric] = us
	}
	if len(seen) != rows {
		t.Errorf("%d names for %d rows", len(seen), rows)
	}
}
