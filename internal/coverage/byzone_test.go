package coverage_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/testdata/plans"
)

func demoPlan(t testing.TB) *plan.Plan {
	t.Helper()
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		t.Fatal(err)
	}
	p.Options.CellFt = 0.5 // that of ByZone, so that the fields compared have the same cells
	return p
}

// only is a plan with no heads but some.
func only(p *plan.Plan, keep func(plan.Head) bool) *plan.Plan {
	q := *p
	q.Heads = maps.Clone(p.Heads)
	maps.DeleteFunc(q.Heads, func(_ plan.ID, h plan.Head) bool { return !keep(h) })
	return &q
}

// compared holds some zones of a plan by itself to the field of q: area means, and
// the rate on every whole cell.
func compared(t *testing.T, what string, g *coverage.ZoneGround, zones []int, q *plan.Plan) {
	t.Helper()
	f := coverage.New()
	r, _, err := f.UpdateAt(context.Background(), q, nil)
	if err != nil {
		t.Fatal(err)
	}
	if f.Frame() != g.Frame {
		t.Fatalf("%s: the frames differ: %+v, %+v", what, f.Frame(), g.Frame)
	}
	if len(r.Areas) != len(g.Areas) {
		t.Fatalf("%s: %d areas, want %d", what, len(g.Areas), len(r.Areas))
	}
	const rounding = 2e-5 // in/h: the two fields count in steps of 2^-21 and 2^-22, head by head
	for i, a := range g.Areas {
		if a.ID != r.Areas[i].ID || math.Abs(float64(a.SqFt-r.Areas[i].AreaSqFt)) > 0.01 {
			t.Errorf("%s: area %s of %.3f sqft, want %s of %.3f", what, a.ID, a.SqFt, r.Areas[i].ID, r.Areas[i].AreaSqFt)
		}
		sum, ground, looked := 0.0, 0.0, 0
		for k, w := range a.Weights {
			rate := 0.0
			for _, z := range zones {
				if a.Rates[z] != nil {
					rate += float64(a.Rates[z][k])
				}
			}
			sum += float64(w) * rate
			ground += float64(w)
			if w < 1 {
				continue
			}
			x, y := int(a.Cells[k])%g.Frame.NX, int(a.Cells[k])/g.Frame.NX
			at, ok := f.RateAt(orb.Point{g.Frame.Origin[0] + (float64(x)+.5)*g.Frame.Cell, g.Frame.Origin[1] + (float64(y)+.5)*g.Frame.Cell})
			if looked++; !ok || at.Surface != a.ID || math.Abs(float64(at.Rate)-rate) > rounding {
				t.Fatalf("%s: %.6f in/h on a cell of %s, the field has %.6f on %s", what, rate, a.ID, at.Rate, at.Surface)
			}
		}
		if looked == 0 {
			t.Errorf("%s: no whole cell of %s", what, a.ID)
		}
		if mean := sum / ground; math.Abs(mean-float64(r.Areas[i].Mean)) > rounding {
			t.Errorf("%s: mean of %s %.6f, the readings have %.6f", what, a.ID, mean, r.Areas[i].Mean)
		}
	}
}

// The zones together are the field, and each by itself is the field of its heads alone.
func TestByZoneIsTheFieldOfEachZonesHeads(t *testing.T) {
	t.Parallel()
	p := demoPlan(t)
	h := p.Heads["h1-4"] // of no valve: it runs with none
	h.Zone = ""
	p.Heads["h1-4"] = h
	p.Zones["z9"] = plan.Zone{Name: "without heads"}
	gone := p.Zones["z4"]
	gone.Status = plan.Remove
	p.Zones["z4"] = gone
	g, err := coverage.ByZone(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Zones) != 5 || len(g.Areas) != 6 {
		t.Fatalf("%d zones on %d areas, want 5 on 6", len(g.Zones), len(g.Areas))
	}
	all := []int{0, 1, 2, 3, 4}
	compared(t, "together", g, all, only(p, func(h plan.Head) bool { return h.Zone != "" && h.Zone != "z4" }))
	for i, zone := range g.Zones {
		compared(t, string(zone.ID), g, all[i:i+1], only(p, func(h plan.Head) bool { return h.Zone == zone.ID }))
	}
}

// The island bed gets the lawn's streams and its own sprays; the side lawn's rotors
// reach neither bed.
func TestByZoneKnowsWhatLandsNowhere(t *testing.T) {
	t.Parallel()
	g, err := coverage.ByZone(context.Background(), demoPlan(t))
	if err != nil {
		t.Fatal(err)
	}
	for i, own := range []string{"[front-lawn]", "[front-lawn]", "[side-lawn]", "[back-lawn]", "[strip]", "[entry-bed island]"} {
		if z := g.Zones[i]; fmt.Sprint(z.Own) != own || z.Flow < 2 || z.Flow > 13 {
			t.Errorf("%s of %.1f gpm stands for %v, want %s", z.ID, z.Flow, z.Own, own)
		}
	}
	wets := map[plan.ID][]plan.ID{}
	for _, a := range g.Areas {
		for z, rates := range a.Rates {
			if rates != nil {
				wets[a.ID] = append(wets[a.ID], g.Zones[z].ID)
			}
		}
	}
	for _, a := range g.Areas {
		for z, rates := range a.Rates {
			if wet := slices.ContainsFunc(rates, func(r float32) bool { return r > 0 }); rates != nil && !wet {
				t.Errorf("%s has rates on %s, all nought", g.Zones[z].ID, a.ID)
			}
		}
	}
	for area, zone := range map[plan.ID]plan.ID{"island": "z3", "entry-bed": "z3", "strip": "z1"} {
		for _, z := range wets[area] {
			if z == zone {
				t.Errorf("%s wets %s", zone, area)
			}
		}
	}
	if got := wets["island"]; len(got) != 3 || got[0] != "z1" || got[1] != "z2" || got[2] != "z6" {
		t.Errorf("the island is wetted by %v, want z1 z2 z6", got)
	}
}

func TestByZoneStopsWhenCalledOff(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if g, err := coverage.ByZone(ctx, demoPlan(t)); !errors.Is(err, context.Canceled) || g != nil {
		t.Errorf("got %v, %v", g, err)
	}
}

func TestByZoneOfAnEmptyPlan(t *testing.T) {
	t.Parallel()
	g, err := coverage.ByZone(context.Background(), plan.Empty("", "us"))
	if err != nil || len(g.Zones) != 0 || len(g.Areas) != 0 {
		t.Errorf("got %+v, %v", g, err)
	}
}

// BenchmarkByZone is the demo; the aim is 50 ms.
func BenchmarkByZone(b *testing.B) {
	p := demoPlan(b)
	p.Options.CellFt = 0
	for b.Loop() {
		if _, err := coverage.ByZone(context.Background(), p); err != nil {
			b.Fatal(err)
		}
	}
}
