package coverage

import (
	"cmp"
	"context"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The errors of an installation, one standard deviation each. Chosen: a flag
// moved by the width of a spade, a throw and a flow off their tables as
// measured heads are, an arc set by eye.
const (
	StrayPlace units.Feet    = 0.25 // east and north each
	StrayThrow units.Ratio   = 0.05 // of the throw
	StrayFlow  units.Ratio   = 0.05 // of the flow
	StrayArc   units.Degrees = 5    // start and sweep each
)

// How a field estimate is drawn unless the user asks otherwise, on the board and
// in reports alike: enough installations that the tenth percentile is steady to
// about 0.01, from a seed that is always the same, so that the figure only
// changes when the plan does.
const (
	UsualSeed  = 1
	UsualDraws = 40
)

// estimateCell is the least cell of the estimate in feet: its spread is far
// wider than what coarse cells cost.
const estimateCell = 0.5

// FieldEstimate says how even the plan may come out on the ground: it draws
// installations with small independent errors of place, throw, flow and arc and
// reads each, at calm air. The same seed gives the same answer. draws of 0 means
// UsualDraws. Estimates are by area, sorted by id; Off is of the water of the heads that
// stand for the area.
//
// It is still kinder than a field audit: no wind, no worn or tilted heads, no
// pressure that differs from head to head. The error is the context's.
func FieldEstimate(ctx context.Context, p *plan.Plan, seed uint64, draws int, tell Progress) ([]Estimate, error) {
	e, err := drawAll(ctx, p, seed, draws, 0, tell)
	if err != nil {
		return nil, err
	}
	return e.estimates(), nil
}

// Installed is what is to be expected of a plan in the field: the estimate, and
// the picture of one typical installation of those it was drawn from.
type Installed struct {
	Areas   []Estimate
	Draws   int
	Typical *Picture
}

// LeastEven is the area that comes out least even on average, nil without any; of
// equals the first by id.
func (in *Installed) LeastEven() *Estimate {
	var least *Estimate
	for i := range in.Areas {
		if e := &in.Areas[i]; least == nil || e.Mean < least.Mean {
			least = e
		}
	}
	return least
}

// Install makes a field estimate and works out one of its installations in full:
// the one in the middle when they are put in order by the mean of the areas' DU,
// each area counting by its size. Of two in the middle it is the less even, of
// equals the one drawn first, so that the same seed always gives the same map.
func Install(ctx context.Context, p *plan.Plan, seed uint64, draws int, tell Progress) (*Installed, error) {
	e, err := drawAll(ctx, p, seed, draws, 1, tell)
	if err != nil {
		return nil, err
	}
	typical, err := e.typical(ctx, p, seed)
	if err != nil {
		return nil, err
	}
	tell.at(len(e.plans)+1, len(e.plans)+1)
	return &Installed{e.estimates(), len(e.plans), typical}, nil
}

// drawAll draws installations; more is how many steps the caller has left to do
// afterwards.
func drawAll(ctx context.Context, p *plan.Plan, seed uint64, draws, more int, tell Progress) (*estimator, error) {
	if draws <= 0 {
		draws = UsualDraws
	}
	e, err := newEstimator(ctx, p)
	if err != nil {
		return nil, err
	}
	r := rand.New(rand.NewPCG(seed, 0))
	for k := range draws {
		if err := e.draw(ctx, r); err != nil {
			return nil, err
		}
		tell.at(k+1, draws+more)
	}
	return e, nil
}

// estimator keeps one field through all draws.
type estimator struct {
	field  *Field
	scene  scene
	runs   []Run
	out    []LeftOut
	stands []int // plot that each head stands for; -1 for none
	du     map[plan.ID][]float64
	off    map[plan.ID][]float64
	plans  []float64 // of each draw, the mean DU of the areas by size
}

func newEstimator(ctx context.Context, p *plan.Plan) (*estimator, error) {
	e := &estimator{field: &Field{lean: true}, du: map[plan.ID][]float64{}, off: map[plan.ID][]float64{}}
	var set []setting
	e.runs, set, e.out = settings(p, nil, &e.field.known)
	e.scene = e.field.coarse(p, set)
	if err := e.field.load(ctx, e.scene); err != nil {
		return nil, err
	}
	for _, s := range e.field.showers {
		e.stands = append(e.stands, e.field.standsOn(s))
	}
	return e, nil
}

// standsOn is the plot of planting watered overhead that most of a head's water
// lands on; -1 when none does.
func (f *Field) standsOn(s *shower) int {
	for _, l := range f.landings(s) {
		if i, ok := f.index[l.Surface]; ok && f.plots[i].target && l.GPM > 0 {
			return i
		}
	}
	return -1
}

func (e *estimator) draw(ctx context.Context, r *rand.Rand) error {
	s := e.astray(r)
	f := e.field
	if err := f.load(ctx, s); err != nil {
		return err
	}
	off, flow := make([]float64, len(f.plots)), make([]float64, len(f.plots))
	for i, sh := range f.showers {
		if k := e.stands[i]; k >= 0 {
			flow[k] += sh.flow
			off[k] += f.offTarget(sh)
		}
	}
	sum, ground := 0.0, 0.0
	for i, p := range f.plots {
		if p.target {
			f.readArea(i)
			even := f.reads[i].even
			e.du[p.id] = append(e.du[p.id], float64(even.DU))
			e.off[p.id] = append(e.off[p.id], ratio(off[i], flow[i]))
			sum += float64(even.DU) * float64(even.AreaSqFt)
			ground += float64(even.AreaSqFt)
		}
	}
	e.plans = append(e.plans, ratio(sum, ground))
	return nil
}

// astray is the scene with every head as it might be installed.
func (e *estimator) astray(r *rand.Rand) scene {
	s := e.scene
	s.settings = make([]setting, len(e.scene.settings))
	for i, t := range e.scene.settings {
		s.settings[i] = astrayBy(t, r)
	}
	return s
}

// middle is the draw in the middle of all.
func (e *estimator) middle() int {
	order := make([]int, len(e.plans))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(e.plans[a], e.plans[b]), cmp.Compare(a, b)) })
	return order[(len(order)-1)/2]
}

// typical works the draw in the middle out in full: its numbers come again from
// the seed.
func (e *estimator) typical(ctx context.Context, p *plan.Plan, seed uint64) (*Picture, error) {
	r := rand.New(rand.NewPCG(seed, 0))
	s := e.astray(r)
	for range e.middle() {
		s = e.astray(r)
	}
	runs := slices.Clone(e.runs)
	for i := range runs {
		was, is := &e.scene.settings[i], &s.settings[i]
		longer, more := is.throw/was.throw, is.flow/was.flow
		runs[i].Throw = units.Feet(is.throw)
		runs[i].Flow = units.GPM(is.flow)
		runs[i].Rate *= units.InchesPerHour(more / (longer * longer))
	}
	return new(Field).picture(ctx, p, s, runs, e.out)
}

// offTarget is the water of a head that lands where no overhead planting is.
func (f *Field) offTarget(s *shower) float64 {
	sum := 0.0
	for _, l := range s.lands {
		if !f.land.surfaces[l.of].target {
			sum += l.gpm
		}
	}
	return sum
}

// astrayBy is a head as it might be installed. Every head takes six numbers from
// the stream, whatever it is, so that a change to one does not shuffle the rest.
func astrayBy(s setting, r *rand.Rand) setting {
	var n [6]float64
	for i := range n {
		n[i] = min(max(r.NormFloat64(), -4), 4)
	}
	s.at = orb.Point{s.at[0] + float64(StrayPlace)*n[0], s.at[1] + float64(StrayPlace)*n[1]}
	s.throw *= 1 + float64(StrayThrow)*n[2]
	s.flow *= 1 + float64(StrayFlow)*n[3]
	s.start += float64(StrayArc) * n[4]
	if !s.isStrip && s.sweep < 360 {
		s.sweep = min(max(s.sweep+float64(StrayArc)*n[5], 1), 360)
	}
	return s
}

func (e *estimator) estimates() []Estimate {
	out := []Estimate{}
	for _, id := range plan.SortedIDs(e.du) {
		du := slices.Sorted(slices.Values(e.du[id]))
		out = append(out, Estimate{
			ID: id, Mean: units.Ratio(average(du)), P10: units.Ratio(quantile(du, 0.1)), Off: units.Ratio(average(e.off[id])),
		})
	}
	return out
}

func average(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return ratio(sum, float64(len(v)))
}

// quantile is the value a share of the way through sorted values, between the
// two nearest.
func quantile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-1)
	j := min(i+1, len(sorted)-1)
	return sorted[i] + float64((at-float64(i))*(sorted[j]-sorted[i]))
}
