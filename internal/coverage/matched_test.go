package coverage_test

import (
	"context"
	"slices"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func (l lot) zone(t *testing.T) coverage.ZoneReading {
	t.Helper()
	r, err := coverage.Compute(context.Background(), l.Plan)
	if err != nil {
		t.Fatal(err)
	}
	return r.Zones[0]
}

// The figure of the table and the finding are of one rate: the nozzles' own,
// turned down or not.
func TestRowA28_MatchedReadsAsTheFindingJudges(t *testing.T) {
	l := newLot(8, 8)
	l.square(8)
	short := units.Feet(7.5)
	l.set(func(h *plan.Head) { h.ThrowFt = &short })
	l.want(t, plan.RatesMixed, "")
	if z := l.zone(t); z.WorstOff > 1e-9 || z.TurnedDown != 1 {
		t.Errorf("turned down: %.3f off, %d turned down; want 0 and 1", z.WorstOff, z.TurnedDown)
	}
	l.head("stream-16", "body-4", 4, 4, 0, 90)
	got := of(l.check(t), plan.RatesMixed)
	z := l.zone(t)
	if len(got) != 1 || got[0].Values["worst_off_share"] != float64(z.WorstOff) || z.WorstHead != "h05" {
		t.Errorf("found %+v, the zone reads %.4f off at %s", got, z.WorstOff, z.WorstHead)
	}
}

// What a valve waters is told in words, not in the document's choices.
func TestPlantingsAreInWords(t *testing.T) {
	l := newLot(10, 10)
	l.square(10)
	l.edit("lawn", func(a *plan.Area) { a.Exposure, a.Soil = plan.PartShade, "clay_loam" })
	if got := l.zone(t).Plantings; !slices.Equal(got, []string{"turf, part shade, clay loam"}) {
		t.Errorf("got %q", got)
	}
}
