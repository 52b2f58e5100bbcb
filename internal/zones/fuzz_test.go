package zones

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// FuzzPropose groups the heads of drawn yards, bent in one way or another: there is a
// grouping that keeps what is promised of every one (see hold), in finite figures, or
// a sentence.
func FuzzPropose(f *testing.F) {
	for i := range uint64(20) {
		f.Add(i, uint8(i), 0.5+float64(i))
	}
	f.Add(uint64(3), uint8(1), 1e5)
	f.Fuzz(func(t *testing.T, seed uint64, way uint8, by float64) {
		r := rand.New(rand.NewPCG(seed, 77))
		p := yard(r, 1+r.IntN(20))
		if seed%2 == 1 {
			p = zoned(p, r)
		}
		o := Options{Seed: seed, Effort: 500}
		bend(p, &o, way, by)
		p, err := plan.Decode(p.Encode())
		if err != nil {
			return
		}
		got, err := propose(context.Background(), p, o, nil, unestimated)
		var no *Refusal
		if errors.As(err, &no) && len(no.Sentence) >= 10 {
			return
		}
		if err != nil {
			t.Fatalf("no sentence: %v", err)
		}
		for _, v := range []float64{float64(got.Limit), got.Minutes} {
			checkFigure(t, "the whole", v)
		}
		for _, g := range got.Groups {
			for _, v := range []float64{float64(g.Flow), float64(g.Rate), g.Minutes, math.Abs(g.Valve[0]), math.Abs(g.Valve[1])} {
				checkFigure(t, g.Name, v)
			}
		}
		if len(o.Areas) == 0 { // hold asks for every head
			hold(t, "bent", p, got)
		} else {
			apply(t, p, got)
		}
	})
}

func checkFigure(t *testing.T, what string, v float64) {
	t.Helper()
	if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
		t.Errorf("%s: a figure is %v", what, v)
	}
}

// bend spoils a plan, or what is asked of it, in a way by a figure.
func bend(p *plan.Plan, o *Options, way uint8, by float64) {
	heads := func(do func(h *plan.Head)) {
		for _, id := range plan.SortedIDs(p.Heads) {
			h := p.Heads[id]
			do(&h)
			p.Heads[id] = h
		}
	}
	size := math.Abs(by)
	switch way % 10 {
	case 0: // as drawn
	case 1: // far from their ground
		heads(func(h *plan.Head) { h.X, h.Y = h.X+units.Feet(by), h.Y-units.Feet(by) })
	case 2: // on one spot
		heads(func(h *plan.Head) { h.X, h.Y = units.Feet(by), units.Feet(by) })
	case 3: // a small or a huge supply
		p.Supply.DesignFlowGPM = units.GPM(size)
	case 4: // no ground
		p.Areas = nil
	case 5: // everything stays
		heads(func(h *plan.Head) { h.Locked = true })
	case 6: // a limit asked for
		o.Limit = min(units.GPM(size), p.Supply.DesignFlowGPM) // past it the findings name the zones
	case 7: // an odd window
		o.Window = Window{Days: 1 + int(min(size, 6)), Hours: min(size+0.01, 24), Need: units.Inches(min(size, 5))}
	case 8: // some areas only
		for i, id := range plan.SortedIDs(p.Areas) {
			if i == 0 || float64(i) < size {
				o.Areas = append(o.Areas, id)
			}
		}
	case 9: // nozzles of any flow
		for _, id := range plan.SortedIDs(p.Nozzles) {
			n := p.Nozzles[id]
			n.Rows = append(n.Rows[:0:0], n.Rows...)
			for i := range n.Rows {
				n.Rows[i].Flow *= units.GPM(min(size, 100))
			}
			p.Nozzles[id] = n
		}
	}
}
