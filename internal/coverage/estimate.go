package coverage

import (
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
	strayPlace = 0.25 // feet, east and north each
	strayThrow = 0.05 // of the throw
	strayFlow  = 0.05 // of the flow
	strayArc   = 5    // degrees, start and sweep each
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
// pressure that differs from head to head.
func FieldEstimate(ctx context.Context, p *plan.Plan, seed uint64, draws int) ([]Estimate, error) {
	if draws <= 0 {
		draws = UsualDraws
	}
	e, err := newEstimator(ctx, p)
	if err != nil {
		return nil, err
	}
	r := rand.New(rand.NewPCG(seed, 0))
	for range draws {
		if err := e.draw(ctx, r); err != nil {
			return nil, err
		}
	}
	return e.estimates(), nil
}

// estimator keeps one field through all draws.
type estimator struct {
	field  *Field
	scene  scene
	stands []int // plot that each head stands for; -1 for none
	du     map[plan.ID][]float64
	off    map[plan.ID][]float64
}

func newEstimator(ctx context.Context, p *plan.Plan) (*estimator, error) {
	e := &estimator{field: &Field{lean: true}, du: map[plan.ID][]float64{}, off: map[plan.ID][]float64{}}
	_, set, _ := settings(p, &e.field.known)
	plots := plotsOf(p)
	bound := drawn(p, plots, set)
	frame := frameOf(bound, float64(p.Options.CellFt))
	if frame.Cell < estimateCell {
		frame = frameOf(bound, estimateCell)
	}
	e.scene = scene{
		frame: frame, plots: plots, obstacles: obstaclesOf(p), lips: lipsOf(p, plots), settings: set,
		scale: max(scaleFor(set)-1, 0), // room for throws that fall short
	}
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
	s := e.scene
	s.settings = make([]setting, len(e.scene.settings))
	for i, t := range e.scene.settings {
		s.settings[i] = astrayBy(t, r)
	}
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
	for i, p := range f.plots {
		if p.target {
			f.readArea(i)
			e.du[p.id] = append(e.du[p.id], float64(f.reads[i].even.DU))
			e.off[p.id] = append(e.off[p.id], ratio(off[i], flow[i]))
		}
	}
	return nil
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
	s.at = orb.Point{s.at[0] + float64(strayPlace*n[0]), s.at[1] + float64(strayPlace*n[1])}
	s.throw *= 1 + strayThrow*n[2]
	s.flow *= 1 + strayFlow*n[3]
	s.start += strayArc * n[4]
	if !s.isStrip && s.sweep < 360 {
		s.sweep = min(max(s.sweep+strayArc*n[5], 1), 360)
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
