package packs

import (
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// proved is the demo as it was built: some of it was there, some goes, most was measured
// where it went, and it was started up, wired and audited.
func proved(t testing.TB) Input {
	t.Helper()
	p, err := plan.Decode(demoRouted(t, "demo-mended").Plan.Encode())
	if err != nil {
		t.Fatal(err)
	}
	for i, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		switch {
		case i%9 == 0:
			h.Status = plan.Existing
		case i%13 == 5:
			h.Status = plan.Remove
		}
		if h.Status.Stands() && i%4 != 3 {
			h.Built = &plan.Built{On: "2026-05-18"}
			if i%3 == 0 {
				h.Built.Was = &plan.Spot{X: h.X, Y: h.Y}
				h.X, h.Y = h.X+0.8, h.Y+0.5
			}
		}
		p.Heads[id] = h
	}
	for i, id := range plan.SortedIDs(p.Zones) {
		z := p.Zones[id]
		if z.ValveAt != nil && i%2 == 0 {
			z.Built = &plan.Built{On: "2026-05-12", DepthIn: 8}
		}
		p.Zones[id] = z
	}
	for _, id := range plan.SortedIDs(p.Sleeves) {
		s := p.Sleeves[id]
		s.Built = &plan.Built{On: "2026-05-09", DepthIn: 20, Note: "capped, a brick on each end"}
		p.Sleeves[id] = s
	}
	for _, id := range plan.SortedIDs(p.Boxes) {
		x := p.Boxes[id]
		x.Built = &plan.Built{On: "2026-05-12", Was: &plan.Spot{X: x.X, Y: x.Y}}
		x.X += 2
		p.Boxes[id] = x
	}
	p.Proof.StartedUp = "2026-05-20"
	return designed(t, p)
}

func TestLookProved(t *testing.T) {
	t.Parallel()
	shoot(t, "proved-letter", oneSheet(t, proved(t), Owner, Letter, "O6"))
	in := proved(t)
	in.Plan.Show = units.Metric
	shoot(t, "proved-a4", oneSheet(t, in, Owner, A4, "O6"))
	shoot(t, "demo-letter", oneSheet(t, demoInput(t), Owner, Letter, "O6"))
	shoot(t, "retrofit-letter", oneSheet(t, retrofit(t), Owner, Letter, "O6"))
}
