package season_test

import (
	"context"
	"fmt"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
)

// parkLawn is one lawn of so many zones in a row, each of five by five sprays 10 ft
// apart.
func parkLawn(t testing.TB, zones int) *plan.Plan {
	t.Helper()
	p := plan.Empty("Park", units.US)
	p.Areas, p.Heads, p.Zones = map[plan.ID]plan.Area{}, map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}
	n, ok := catalog.FindNozzle("spray-10-f")
	b, both := catalog.FindBody("body-4-reg")
	if !ok || !both {
		t.Fatal("the catalogue has no such spray")
	}
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{"n": n}, map[plan.ID]catalog.Body{"b": b}
	for z := range zones {
		zone := plan.ID(fmt.Sprintf("z%d", z))
		p.Zones[zone] = plan.Zone{Name: "Part", Station: z + 1}
		for i := range 25 {
			p.Heads[plan.ID(fmt.Sprintf("h%d-%d", z, i))] = plan.Head{
				Tag: fmt.Sprintf("%d-%d", z+1, i+1), Nozzle: "n", Body: "b", Zone: zone, SweepDeg: 360,
				X: units.Feet(50*z + 10*(i%5)), Y: units.Feet(10 * (i / 5)),
			}
		}
	}
	w := float64(50*zones - 10)
	p.Areas["lawn"] = plan.Area{Name: "Lawn", Kind: plan.Planting, Outline: geom.Outline{{}, {X: w}, {X: w, Y: 40}, {Y: 40}}}
	p.Watering.ETZone = 12
	return p
}

// A park's lawn is looked at in fewer, larger blocks, with the mean of its readings.
func TestAParksLawnIsInLargerBlocks(t *testing.T) {
	t.Parallel()
	p := parkLawn(t, 16) // 31,600 square feet
	a := areaOf(t, ask(t, p), "lawn")
	r, err := coverage.Compute(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	blocks, sum := 0, 0.0
	for _, rates := range a.Rates {
		blocks = max(blocks, len(rates))
		for _, v := range rates {
			sum += float64(v)
		}
	}
	if blocks > 4000 || blocks < 1000 {
		t.Errorf("%d blocks", blocks)
	}
	near(t, "mean", sum/float64(blocks), float64(r.Areas[0].Mean), 0.02*float64(r.Areas[0].Mean))
}

// BenchmarkPark is the watering plan of one lawn of 60 zones, its evenness drawn, in hours
// that do not suffice.
func BenchmarkPark(b *testing.B) {
	p := parkLawn(b, 60)
	for b.Loop() {
		if _, err := season.Work(context.Background(), p, nil, nil); err != nil {
			b.Fatal(err)
		}
	}
}
