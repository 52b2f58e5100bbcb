package design

import (
	"context"
	"fmt"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// park is a lawn with so many heads in each direction, 10 ft apart, 100 to a
// zone.
func park(across, up int) *plan.Plan {
	p := plan.Empty("Park", units.US)
	w, h := float64(across-1)*10, float64(up-1)*10
	p.Areas = map[plan.ID]plan.Area{"lawn": {Name: "Lawn", Kind: plan.Planting, Outline: geom.Outline{{}, {X: w}, {X: w, Y: h}, {Y: h}}}}
	n, _ := catalog.FindNozzle("spray-10-f")
	b, _ := catalog.FindBody("body-4-reg")
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{"n": n}, map[plan.ID]catalog.Body{"b": b}
	p.Heads, p.Zones = map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}
	for i := range across * up {
		zone := plan.ID(fmt.Sprintf("z%d", i/100))
		p.Zones[zone] = plan.Zone{Name: "Part", Station: i/100 + 1}
		p.Heads[plan.ID(fmt.Sprintf("h%05d", i))] = plan.Head{
			Tag: fmt.Sprintf("%d-%d", i/100+1, i%100+1), Nozzle: "n", Body: "b", Zone: zone, SweepDeg: 360,
			X: units.Feet(10 * (i % across)), Y: units.Feet(10 * (i / across)),
		}
	}
	return p
}

// Twenty thousand heads are read, reckoned and checked.
func TestRowB28_TwentyThousandHeadsAreReckoned(t *testing.T) {
	if testing.Short() {
		t.Skip("a long sweep of numbers in one goroutine")
	}
	doc := park(200, 100).Encode()
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	d, err := Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(d.Coverage.Heads); n != 20_000 {
		t.Errorf("%d heads were reckoned, want 20000", n)
	}
	if du := d.Coverage.Areas[0].DU; !(du > 0.5 && du <= 1) {
		t.Errorf("the lawn has a uniformity of %v", du)
	}
	if len(d.Findings) == 0 || len(d.Parts.Total) == 0 {
		t.Errorf("%d findings and %d lines of parts", len(d.Findings), len(d.Parts.Total))
	}
	t.Logf("shown: %d heads, DU %.2f, %d findings", len(d.Coverage.Heads), d.Coverage.Areas[0].DU, len(d.Findings))
}
