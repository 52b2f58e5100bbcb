package arrange

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// FuzzProposers asks for layouts and mends of drawn yards, bent in one way or
// another: there is an answer or a sentence, and every patch can be taken.
func FuzzProposers(f *testing.F) {
	for i := range uint64(12) {
		f.Add(i, uint8(i), 0.5+float64(i))
	}
	f.Add(uint64(3), uint8(5), 1e5)
	f.Fuzz(func(t *testing.T, seed uint64, way uint8, by float64) {
		p := anyLayout(rand.New(rand.NewPCG(seed, 99)))
		if seed%3 == 0 {
			p = anyYard(seed)
		}
		bend(p, way, by)
		p, err := plan.Decode(p.Encode())
		if err != nil {
			return
		}
		o := Usual()
		o.Effort = 20
		if _, has := p.Areas["lawn0"]; has { // of a whole yard one lawn, so that a try is short
			o.Areas = []plan.ID{"lawn0"}
		}
		checkAnswer(t, p, o)
		checkMends(t, p, o)
	})
}

// bend spoils a plan in a way by a figure.
func bend(p *plan.Plan, way uint8, by float64) {
	each := func(do func(a *plan.Area)) {
		for _, id := range plan.SortedIDs(p.Areas) {
			a := p.Areas[id]
			do(&a)
			p.Areas[id] = a
		}
	}
	vertices := func(do func(v *geom.Vertex)) {
		each(func(a *plan.Area) {
			for i := range a.Outline {
				do(&a.Outline[i])
			}
		})
	}
	switch way % 9 {
	case 0: // as drawn
	case 1: // far away
		vertices(func(v *geom.Vertex) { v.X, v.Y = v.X+by, v.Y-by })
	case 2: // thin
		vertices(func(v *geom.Vertex) { v.Y *= min(math.Abs(by)/100, 1) })
	case 3: // tiny or large
		k := min(math.Abs(by), 3)
		vertices(func(v *geom.Vertex) { v.X, v.Y = v.X*k, v.Y*k })
	case 4: // covered by another
		p.Areas["lid"] = plan.Area{Name: "Lid", Kind: plan.Paving, Outline: rect(-200, -200, 200, 200)}
	case 5: // odd rules
		p.Options.LocalRules = map[plan.RuleID]plan.LocalRule{}
		for _, row := range plan.LocalRuleRows() {
			p.Options.LocalRules[row.ID] = plan.LocalRule{Feet: units.Feet(math.Abs(by))}
		}
	case 6: // no heads, no rows, no zones
		p.Heads, p.Nozzles, p.Bodies, p.Zones = nil, nil, nil, nil
	case 7: // everything stays
		for _, id := range plan.SortedIDs(p.Heads) {
			h := p.Heads[id]
			h.Locked = true
			p.Heads[id] = h
		}
	case 8: // slanted
		vertices(func(v *geom.Vertex) { v.Y += v.X * min(math.Abs(by), 20) })
	}
}

func checkAnswer(t *testing.T, p *plan.Plan, o Options) {
	t.Helper()
	doc := p.Encode()
	got, err := Propose(context.Background(), p, o, nil)
	if refused(t, err) {
		return
	}
	for _, of := range got.Offers {
		if _, err := plan.Preview(doc, of.Patch); err != nil {
			t.Errorf("%s: %v", of.Name, err)
		}
	}
	for _, a := range got.Answers {
		if len(a.Layouts) == 0 && a.Why == "" {
			t.Errorf("%s: no layout, and no reason", a.Area)
		}
		for _, l := range a.Layouts {
			for _, v := range []float64{float64(l.Measures.DU), float64(l.Measures.FieldP10), float64(l.Measures.Flow), l.Measures.Minutes, float64(l.Measures.PastEdge)} {
				if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
					t.Errorf("%s: %+v", a.Area, l.Measures)
				}
			}
			if _, err := plan.Preview(doc, l.Patch); err != nil {
				t.Errorf("%s: %v", l.Says, err)
			}
			if _, _, err := l.Map(context.Background(), p); err != nil {
				t.Errorf("%s: its map: %v", l.Says, err)
			}
		}
	}
}

func checkMends(t *testing.T, p *plan.Plan, o Options) {
	t.Helper()
	got, err := Improve(context.Background(), p, o, nil)
	if refused(t, err) {
		return
	}
	doc := p.Encode()
	for _, m := range got.Mends {
		next, err := plan.Preview(doc, m.Patch)
		if err != nil {
			t.Fatalf("%s: %v", m.Says, err)
		}
		doc = next.Encode()
	}
}

// refused reports whether there is a refusal, which must be a sentence.
func refused(t *testing.T, err error) bool {
	t.Helper()
	var no *Refusal
	switch {
	case err == nil:
		return false
	case !errors.As(err, &no) || len(no.Sentence) < 10:
		t.Errorf("no sentence: %v", err)
	}
	return true
}

// A search that is called off before it begins, or as the areas are laid out, ends
// without laying out the others.
func TestStopWhileAreasAreLaidOut(t *testing.T) {
	t.Parallel()
	p := park()
	ctx, cancel := context.WithCancel(context.Background())
	told := 0
	got, err := Propose(ctx, p, quick(), func(s Stage) {
		told++
		cancel()
	})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v", err)
	}
	if told != 1 {
		t.Errorf("told %d times, and was called off the first", told)
	}
	if got == nil || len(got.Offers) == 0 {
		t.Error("what was found is lost")
	}
	if got, err := Propose(ctx, p, quick(), nil); got != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("called off before it began: %v, %v", got, err)
	}
}

// A strip aslant fills a ten-thousandth of its box and is as wide as it is.
func TestWidthAslant(t *testing.T) {
	t.Parallel()
	p := &plan.Plan{Areas: map[plan.ID]plan.Area{"s": {Kind: plan.Planting, Outline: geom.Outline{{}, {X: 3000, Y: 3000}, {X: 3000, Y: 3001}, {Y: 1}}}}}
	s, err := newSite(p)
	if err != nil {
		t.Fatal(err)
	}
	shape, err := s.shapeOf("s")
	if err != nil {
		t.Fatal(err)
	}
	widest, typical := widths(shape)
	if want := math.Sqrt(0.5); math.Abs(float64(widest)-want) > 0.02 || math.Abs(float64(typical)-want) > 0.05 {
		t.Errorf("it is %.3f wide at most and %.3f usually, want %.3f", widest, typical, want)
	}
}
