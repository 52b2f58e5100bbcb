package proof

import (
	"context"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/audit"
	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// ruined is how a head of a made-up audit really is.
type ruined struct {
	output float64       // of what it should give
	lean   units.Degrees // off plumb
	toward units.Degrees
}

// caughtIn writes into an audit what its cans would catch of a yard with faults: by the
// raster of the field, which shares no code with the footprints that the audit goes by;
// only what leans is read off its footprint. noise is the standard deviation of a catch as
// a share of it; catches are read to half a millilitre.
func caughtIn(t testing.TB, p *plan.Plan, id plan.ID, faults map[plan.ID]ruined, noise float64, seed uint64) *plan.Plan {
	t.Helper()
	a := p.Proof.Audits[id]
	q := *p
	q.Heads, q.Nozzles = maps.Clone(p.Heads), maps.Clone(p.Nozzles)
	solved, _ := pressure.Compute(p, pipework.Of(p))
	given := design.GivenOf(solved)
	feet, _, err := coverage.Footprints(p, given, coverage.Wind{})
	if err != nil {
		t.Fatal(err)
	}
	leaning := map[plan.ID]ruined{}
	for _, h := range plan.SortedIDs(p.Heads) {
		head, bad := p.Heads[h], faults[h]
		if bad.lean > 0 {
			leaning[h] = bad
		}
		if !(a.Runs[head.Zone] > 0) || bad.lean > 0 {
			delete(q.Heads, h)
			continue
		}
		if bad.output != 0 && bad.output != 1 {
			n := q.Nozzles[head.Nozzle]
			n.Rows = slices.Clone(n.Rows)
			for i := range n.Rows {
				n.Rows[i].Flow *= units.GPM(bad.output)
			}
			own := "own-" + h
			q.Nozzles[own] = n
			head.Nozzle = own
			q.Heads[h] = head
		}
	}
	f := coverage.New()
	if _, _, err := f.UpdateAt(context.Background(), &q, given); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(seed, 7))
	next := *p
	next.Proof.Audits = maps.Clone(p.Proof.Audits)
	cans := maps.Clone(a.Cans)
	minutes := 0.0
	for _, z := range plan.SortedIDs(a.Runs) {
		minutes = a.Runs[z] // all as long
	}
	for _, c := range plan.SortedIDs(cans) {
		can := cans[c]
		at := orb.Point{float64(can.X), float64(can.Y)}
		reading, _ := f.RateAt(at)
		rate := float64(reading.Rate)
		for k := range feet {
			if bad, ok := leaning[feet[k].ID]; ok {
				by := func(to units.Degrees) float64 {
					return audit.LeanedThrow(feet[k].Trajectory(), bad.lean, to-bad.toward)
				}
				rate += max(bad.output, 0.01) * float64(feet[k].RateAt(at, by))
			}
		}
		ml := rate * minutes / 60 * a.ThroatIn2 * audit.MillilitresPerCubicInch * max(1+noise*r.NormFloat64(), 0)
		ml = math.Round(2*ml) / 2
		can.ML = &ml
		cans[c] = can
	}
	a.Cans = cans
	next.Proof.Audits[id] = a
	return &next
}

// setOut is a plan with an audit set out on an area and its minutes as offered.
func setOut(t testing.TB, p *plan.Plan, area plan.ID, by string, count int) (*plan.Plan, plan.ID) {
	t.Helper()
	o := offered(t, p, area, by, count)
	next := takenUp(t, p, o.Patch)
	a := next.Proof.Audits[o.Audit]
	a.ThroatIn2 = 16
	calm := units.MPH(2)
	a.WindMPH = &calm
	a.On = "2026-05-30"
	next.Proof.Audits[o.Audit] = a
	return next, o.Audit
}

func audited(t testing.TB, p *plan.Plan, id plan.ID) *Audited {
	t.Helper()
	a, err := AuditOf(context.Background(), p, id)
	if err != nil {
		t.Fatal(err)
	}
	return a
}
