package arrange

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// stand is a head of a candidate.
type stand struct {
	at    orb.Point
	start units.Degrees
	set   *setting
	stays bool

	pose // where the search has it
}

// pose is a head as the search moves it: along the edges of the ground and by
// whole steps of what can be set.
type pose struct {
	ring  int     // of search.paths; inside: none
	along float64 // feet along it
	base  float64 // degrees: the edge's direction there, from which arcs are stepped
	turn  int     // the arc starts this many angle steps from base
	sweep int     // of kit.sweeps; of kit.strips in a strip kit
	throw int     // of kit.throws
}

// inside is the ring of a head that stands on none.
const inside = -1

// candidate is a layout as the search left it.
type candidate struct {
	heads []stand
	tidy  bool // as seeded
	tried coverage.Tried
	cost  float64 // what the search lowered
	h2h   units.Ratio

	sym   *symmetry // that it keeps; nil for none
	mates []int     // each head's image by it
}

// search seeks layouts of one kit on one ground.
type search struct {
	p      *plan.Plan
	ground *ground
	kit    *kit
	o      Options
	seed   uint64
	stays  []stand
	trial  *coverage.Trial // cells of search.cell
	cell   float64         // feet

	paths    []path
	syms     []*symmetry
	lie      *lie
	step     float64 // of directions, degrees
	named    bool    // heads are kept off things as usual: layouts are held to what findings would name
	main     float64 // direction of the ground's longest edge, degrees
	evaluate int     // evaluations so far
	cores    int     // to search on; 0: all there are
	why      string  // why strips do not suit the ground, in a sentence; "" when they do
}

// leastAim is the finest step of directions that arcs set by wide steps are aimed by,
// degrees: by eye nobody aims finer. Chosen.
const leastAim = 5

// aimedBy is the step of directions for arcs set by some step, degrees. An arc is aimed
// by one of its sides or by its middle, which is half a step off them: a head is turned
// in its body to where it belongs, whatever the marks on the nozzle are.
func aimedBy(step float64) float64 {
	if step >= 2*leastAim {
		return step / 2
	}
	return step
}

// Cells of the search, feet: fine enough that DU is off by less than 0.003
// (reference figures, section 2), and no more of them than searchCells, so that
// an evaluation costs the same on a park as in a yard.
const (
	leastCell   = 0.5
	mostCell    = 2
	searchCells = 4000
)

// newSearch makes ready to seek layouts of a kit on a ground of the plan. The
// heads of stays are left as they are and count as water.
func newSearch(p *plan.Plan, g *ground, k *kit, o Options, seed uint64, stays []stand) (*search, error) {
	s := &search{p: p, ground: g, kit: k, o: o, seed: seed, step: aimedBy(float64(o.AngleStep))}
	for _, h := range stays {
		h.stays, h.ring = true, inside
		s.stays = append(s.stays, h)
	}
	area := 0.0
	for _, poly := range g.shape {
		area += math.Abs(geom.Area(orb.MultiPolygon{poly}))
	}
	s.cell = min(max(math.Sqrt(area/searchCells), leastCell), mostCell)
	var err error
	if s.trial, err = coverage.NewTrial(p, g.id, units.Feet(s.cell), s.reach()); err != nil {
		return nil, err
	}
	for i := range g.edges {
		if pa, ok := newPath(&g.edges[i]); ok {
			s.paths = append(s.paths, pa)
		}
	}
	for _, r := range plan.LocalRuleRows() {
		d, _ := p.LocalRule(r.ID)
		s.named = s.named || d > 0
	}
	s.main = mainDirection(s.paths)
	s.lie = newLie(s)
	s.syms = s.symmetries()
	return s, nil
}

// reach is the farthest throw of what may be set and of what stays.
func (s *search) reach() units.Feet {
	far := units.Feet(0)
	if n := len(s.kit.throws); n > 0 {
		far = s.kit.throws[n-1]
	}
	for i := range s.kit.strips {
		far = max(far, stripReach(&s.kit.strips[i]))
	}
	for _, h := range s.stays {
		far = max(far, h.set.throw)
	}
	return far
}

// thrown is a head as a Trial takes it.
func (h *stand) thrown() coverage.Thrown {
	return coverage.Thrown{At: h.at, Start: h.start, Sweep: h.set.sweep, Throw: h.set.throw, Flow: h.set.flow, Fall: h.set.fall}
}

// pick sets a head to its pose: the setting and the direction. It reports false
// when the stock has no such setting.
func (s *search) pick(h *stand) bool {
	if len(s.kit.strips) > 0 {
		h.set = &s.kit.strips[h.sweep]
	} else {
		h.set = s.kit.set(h.sweep, h.throw)
	}
	if h.set == nil {
		return false
	}
	if h.set.sweep >= 360 {
		h.turn = 0
	}
	h.start = units.Degrees(geom.NormDeg(h.base + float64(h.turn)*s.step))
	return true
}

// bench is a Trial with the heads that lie on it.
type bench struct {
	s     *search
	trial *coverage.Trial
	on    []coverage.Thrown
	reads int
}

// lay puts the heads of a candidate on the bench, touching only what differs.
func (b *bench) lay(heads []stand) {
	for i := range heads {
		th := heads[i].thrown()
		if i < len(b.on) {
			if b.on[i] != th {
				b.trial.Set(i, th)
				b.on[i] = th
			}
			continue
		}
		b.trial.Set(i, th)
		b.on = append(b.on, th)
	}
	for len(b.on) > len(heads) {
		b.trial.Take(len(b.on) - 1)
		b.on = b.on[:len(b.on)-1]
	}
}

// read reads a candidate: its figures and its cost.
func (b *bench) read(c *candidate) {
	b.lay(c.heads)
	c.tried = b.trial.Read()
	b.reads++
	c.h2h = b.s.headToHead(c.heads)
	c.cost = b.s.cost(&c.tried, c.heads, c.h2h)
}

// bench is a new bench at a cell of so many feet.
func (s *search) bench(cell float64) (*bench, error) {
	if cell == s.cell {
		t := s.trial.Clone()
		for t.Len() > 0 {
			t.Take(t.Len() - 1)
		}
		return &bench{s: s, trial: t}, nil
	}
	t, err := coverage.NewTrial(s.p, s.ground.id, units.Feet(cell), s.reach())
	return &bench{s: s, trial: t}, err
}

// byHeads keeps the best few candidates of each number of heads, by cost, in the
// order of the number.
func byHeads(all []candidate, few int) []candidate {
	slices.SortStableFunc(all, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(len(a.heads), len(b.heads)), cmp.Compare(a.cost, b.cost))
	})
	var out []candidate
	n := 0
	for i, c := range all {
		if i > 0 && len(c.heads) == len(all[i-1].heads) {
			n++
		} else {
			n = 0
		}
		if n < few {
			out = append(out, c)
		}
	}
	return out
}

// constructive are layouts from equal intervals, the best few by number of heads
// first found: within half a second of asking. Strips are set out along straight
// runs or not at all.
func (s *search) constructive(ctx context.Context) []candidate {
	if len(s.kit.strips) > 0 {
		var found []candidate
		found, s.why = s.strips(ctx)
		return found
	}
	return s.seeds(ctx)
}
