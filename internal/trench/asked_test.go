package trench

import (
	"slices"
	"testing"

	"evenfall/internal/plan"
)

func TestAsked(t *testing.T) {
	t.Parallel()
	p := &plan.Plan{Zones: map[plan.ID]plan.Zone{"z1": {Name: "Front", Station: 1}}}
	ask := func(of map[string]string) (Options, error) {
		return Asked(p, func(name string) string { return of[name] })
	}
	o, err := ask(nil)
	if err != nil || !o.Wire || o.Valves != AsPlaced || o.Keep || o.Seed != 1 || o.Effort != 0 || len(o.Zones) != 0 {
		t.Errorf("nothing asked: %+v, %v", o, err)
	}
	o, err = ask(map[string]string{"zones": "1", "wire": "no", "valves": "weighed", "keep": "yes", "seed": "9", "effort": "5000"})
	if err != nil || o.Wire || !o.Keep || o.Valves != Weighed || o.Seed != 9 || o.Effort != 5000 || !slices.Equal(o.Zones, []plan.ID{"z1"}) {
		t.Errorf("all asked: %+v, %v", o, err)
	}
	for name, words := range map[string]string{
		"zones": "z9", "wire": "maybe", "keep": "some", "valves": "anywhere", "seed": "-1", "effort": "0.5",
	} {
		if _, err := ask(map[string]string{name: words}); err == nil {
			t.Errorf("%s %q is taken", name, words)
		}
	}
}
