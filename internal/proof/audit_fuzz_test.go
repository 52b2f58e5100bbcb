package proof

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// FuzzAudit reckons audits of any shape that a plan takes: the text of one, and one drawn
// from a seed, with cans anywhere, catches of any size and zones that are gone. None may
// end the program, and what is offered has to be taken.
func FuzzAudit(f *testing.F) {
	f.Add(`{"area":"back-lawn","throat_in2":16,"runs":{"z4":12},"cans":{"c1":{"x_ft":30,"y_ft":80,"catch_ml":20},"c2":{"x_ft":40,"y_ft":80,"catch_ml":30}}}`, uint64(1))
	f.Add(`{"scale":"depth","runs":{"z4":12,"gone":3},"wind_mph":9,"wind_from_deg":270,"cans":{"c1":{"x_ft":30,"y_ft":80,"depth_in":0.2},"k":{"x_ft":-900,"y_ft":80,"depth_in":0}}}`, uint64(2))
	f.Add(`{"cans":{"c1":{"x_ft":30,"y_ft":80,"catch_ml":0},"c2":{"x_ft":30,"y_ft":80,"catch_ml":0.0001,"left_out":true}}}`, uint64(3))
	f.Add(`{}`, uint64(4))
	text := demoYard(f).Encode()
	f.Fuzz(func(t *testing.T, audit string, seed uint64) {
		if p, err := plan.Preview(text, plan.Patch(`{"proof":{"audits":{"x":`+audit+`}}}`)); err == nil {
			if _, there := p.Proof.Audits["x"]; there {
				reckoned(t, p)
			}
		}
		p := demoYard(t)
		p.Proof.Audits = map[plan.ID]plan.Audit{"x": drawnAudit(rand.New(rand.NewPCG(seed, 1)), p)}
		if p.Validate() == nil {
			reckoned(t, p)
		}
	})
}

// drawnAudit is an audit drawn at random.
func drawnAudit(r *rand.Rand, p *plan.Plan) plan.Audit {
	areas := append(plan.SortedIDs(p.Areas), "", "gone")
	a := plan.Audit{Area: areas[r.IntN(len(areas))], Runs: map[plan.ID]float64{}, Cans: map[plan.ID]plan.CatchCan{}}
	for _, z := range append(plan.SortedIDs(p.Zones), "gone") {
		if r.IntN(3) == 0 {
			a.Runs[z] = []float64{0.1, 5, 12, 240}[r.IntN(4)]
		}
	}
	if r.IntN(4) > 0 {
		a.ThroatIn2 = []float64{1, 16, 16.5, 100}[r.IntN(4)]
	}
	if r.IntN(3) == 0 {
		a.Scale = ByDepth
	}
	if r.IntN(2) == 0 {
		speed, from := units.MPH(r.Float64()*30), units.Degrees(r.Float64()*360)
		a.WindMPH, a.WindFromDeg = &speed, &from
	}
	for n := range r.IntN(40) {
		c := plan.CatchCan{X: units.Feet(r.Float64()*140 - 20), Y: units.Feet(r.Float64()*140 - 20), Out: r.IntN(9) == 0}
		if r.IntN(8) > 0 {
			ml := []float64{0, 1e-6, 20, 400}[r.IntN(4)] * r.Float64()
			depth := units.Inches(ml / 250)
			c.ML, c.Depth = &ml, &depth
		}
		a.Cans[plan.ID(fmt.Sprintf("%s%d", []string{"c", "k"}[r.IntN(2)], n))] = c
	}
	return a
}

func reckoned(t *testing.T, p *plan.Plan) {
	t.Helper()
	a, err := AuditOf(context.Background(), p, "x")
	if err != nil {
		t.Fatalf("an audit that a plan takes is refused: %v", err)
	}
	if a.Says == "" || len(a.Cans) != len(p.Proof.Audits["x"].Cans) || a.Read > a.Placed {
		t.Errorf("%q of %d cans, %d read", a.Says, len(a.Cans), a.Read)
	}
	if a.Patch != nil {
		if _, err := plan.Preview(p.Encode(), a.Patch); err != nil {
			t.Errorf("the patch is refused: %v", err)
		}
	}
	for _, h := range a.Heads {
		if !(h.Low <= h.Share && h.Share <= h.High) || math.IsInf(float64(h.High), 0) || h.Verdict == "" {
			t.Errorf("head %s gives %v, from %v to %v: %q", h.Tag, h.Share, h.Low, h.High, h.Verdict)
		}
	}
	for _, c := range a.Cans {
		for _, b := range []*int{c.MeasuredByte, c.ExpectedByte} {
			if b != nil && (*b < 1 || *b > 200) {
				t.Errorf("can %d has the byte %d", c.Number, *b)
			}
		}
	}
	if lines := AuditLines(p); len(lines) != 1 || lines[0].Says == "" {
		t.Errorf("its lines are %+v", lines)
	}
}

// FuzzCans sets out cans on areas of any outline, in any number: each stands on the ground
// of its area, no two on one spot, and the plan takes them.
func FuzzCans(f *testing.F) {
	f.Add(uint64(1), 0, true)
	f.Add(uint64(2), 24, false)
	f.Add(uint64(7), 200, true)
	f.Add(uint64(11), 3, false)
	f.Fuzz(func(t *testing.T, seed uint64, count int, grid bool) {
		r := rand.New(rand.NewPCG(seed, 2))
		p := demoYard(t)
		a := p.Areas["back-lawn"]
		a.Outline = drawnOutline(r)
		p.Areas = map[plan.ID]plan.Area{"back-lawn": a}
		for _, id := range plan.SortedIDs(p.Heads) {
			h := p.Heads[id]
			h.X, h.Y = units.Feet(r.Float64()*80), units.Feet(r.Float64()*80)
			p.Heads[id] = h
		}
		by := CansByHeads
		if grid {
			by = CansByGrid
		}
		if p.Validate() != nil {
			t.Skip()
		}
		o, err := OfferCans(p, "back-lawn", by, count)
		if err != nil {
			return
		}
		if _, err := plan.Preview(p.Encode(), o.Patch); err != nil {
			t.Fatalf("the patch is refused: %v", err)
		}
		g, _ := groundFor(p, "back-lawn")
		for i, c := range o.Cans {
			at := [2]float64{float64(c.X), float64(c.Y)}
			if _, ok := g.beside(at, g.frame.Cell); !ok {
				t.Errorf("can %d at %v is off the ground", c.Number, at)
			}
			if slices.ContainsFunc(o.Cans[:i], func(b CanPlace) bool { return math.Hypot(float64(b.X-c.X), float64(b.Y-c.Y)) < 0.4 }) {
				t.Errorf("can %d stands on another", c.Number)
			}
		}
	})
}

// drawnOutline is a star about a middle, thin or wide, sometimes with arcs for sides.
func drawnOutline(r *rand.Rand) geom.Outline {
	n, wide := 3+r.IntN(9), 4+40*r.Float64()
	var o geom.Outline
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.6*r.Float64()) / float64(n))
		far := wide * (0.2 + 0.8*r.Float64())
		v := geom.Vertex{X: 40 + far*cos, Y: 40 + far*sin*(0.1+r.Float64())}
		o = append(o, v)
	}
	return o
}
