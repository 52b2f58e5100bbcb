package packs

import (
	"slices"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
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

// provedOwner makes the sheets of what was proved from figures made by hand.
func TestLookProvedSheets(t *testing.T) {
	t.Parallel()
	in := proved(t)
	for _, show := range []units.System{units.US, units.Metric} {
		in.Plan.Show = show
		paper := UsualPaper(show)
		one := func(code string, of func(b *builder, f *flow)) {
			b := building(t, in, Owner, paper)
			for _, s := range sheetsOf(Owner) {
				if s.code == code {
					b.now = s
				}
			}
			of(b, b.list())
			b.finish()
			shoot(t, code+"-"+string(paper), b.pages)
		}
		one("O7", func(b *builder, f *flow) { b.terminals(f, handWires(in.Plan)) })
		one("O8", func(b *builder, f *flow) { b.startUp(f, proof.StartUp(in.Plan, in.Design)) })
		one(auditCode, func(b *builder, f *flow) { b.audited(f, handAudit(in.Plan)) })
		shoot(t, "blank-"+string(paper), slices.Concat(oneSheet(t, demoInput(t), Owner, paper, "O7"), oneSheet(t, demoInput(t), Owner, paper, "O8"), oneSheet(t, demoInput(t), Owner, paper, "O9"), oneSheet(t, demoInput(t), Owner, paper, "O10")))
	}
}

// handWires is a map of wires made by hand: one swapped, one shorted, one spare.
func handWires(p *plan.Plan) proof.WireMap {
	m := proof.Wires(p)
	return m
}

// handAudit is an audit made by hand: 24 cans over the back lawn, one corner dry.
func handAudit(p *plan.Plan) *proof.Audited {
	a := &proof.Audited{ID: "a1", Name: "Back lawn", Known: true, Says: "DU 0.61 where 0.74 was predicted, 24 cans", Read: 23, Placed: 24,
		Figures: []proof.AuditFigure{
			{Name: "Distribution uniformity (low quarter)", Measured: "0.61", Expected: "0.74", Form: "mean of the driest quarter over the mean"},
			{Name: "Mean depth", Measured: `0.21"`, Expected: `0.24"`, Form: "catch over the opening of a can"},
		},
		Faults: []proof.HeadFault{{Head: "h-4-3", Tag: "4-3", Output: "52 % of what it should give (38 to 66 %)", Tilt: "", Verdict: "gives about half of its water", Look: "Filter and nozzle: rinse both, let the zone flush.", Sure: true},
			{Head: "h-4-8", Tag: "4-8", Output: "90 % of what it should give (70 to 110 %)", Tilt: "leans 9° to the south", Verdict: "leans", Look: "Set it plumb, tamp the ground about it."}},
		Unsure: []string{"4-1 and 4-2 cannot be told apart from these cans."},
		Rules:  []string{"Wind was 6 mph: cans are read below 5 mph (common practice, from memory)."},
		Uses:   "Taken into the watering program, zone 4 waters 1.4 times as long.",
	}
	for id, x := range p.Areas {
		if x.Name == "Back lawn" {
			a.Area = id
		}
	}
	for id, h := range p.Heads {
		if h.Zone == "z4" {
			a.Heads = append(a.Heads, proof.HeadFault{Head: id, Tag: h.Tag})
		}
	}
	slices.SortFunc(a.Heads, func(x, y proof.HeadFault) int { return strings.Compare(x.Tag, y.Tag) })
	for i := range 24 {
		x, y := 55+9.0*float64(i%6), 76+8.5*float64(i/6)
		measured, expected := 60+(i*37)%90, 80+(i*13)%50
		c := proof.CanRead{ID: plan.ID("c" + itoa(i)), X: units.Feet(x), Y: units.Feet(y), Number: i + 1, Catch: itoa(15+i) + " ml", Depth: `0.21"`, Predicted: `0.24"`, Percent: itoa(measured - 1)}
		c.MeasuredByte, c.ExpectedByte = &measured, &expected
		c.Out, c.Low = i == 7, measured < 75
		if c.Out {
			c.Note = "tipped"
		}
		a.Cans = append(a.Cans, c)
	}
	return a
}
