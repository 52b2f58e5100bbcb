package proof

import (
	"slices"
	"testing"

	"evenfall/internal/plan"
)

// A zone that only spills on the ground is not run in its audit: what it brings is no
// twentieth of the water.
func TestAuditsRunTheZonesOfTheGround(t *testing.T) {
	t.Parallel()
	p := lawn(60, 45, 15)
	p.Zones["spill"] = plan.Zone{Name: "Bed", Station: 2}
	for _, h := range p.Heads {
		if h.X == 0 && h.Y == 15 {
			h.X, h.Zone, h.SweepDeg = -6, "spill", 360
			p.Heads["beside"] = h
			break
		}
	}
	if _, there := p.Heads["beside"]; !there {
		t.Fatal("no head stands at the edge")
	}
	o, err := OfferCans(p, "lawn", CansByGrid, 96)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(o.Zones, []plan.ID{"z"}) {
		t.Errorf("zones %q are to run, want the lawn's alone", o.Zones)
	}
	for id, h := range p.Heads { // half of the lawn's heads on another valve
		if h.X > 30 && h.Zone == "z" {
			h.Zone = "spill"
			p.Heads[id] = h
		}
	}
	if o, err = OfferCans(p, "lawn", CansByGrid, 96); err != nil || !slices.Equal(o.Zones, []plan.ID{"spill", "z"}) {
		t.Errorf("zones %q are to run, want both: %v", o.Zones, err)
	}
}
