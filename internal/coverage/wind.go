package coverage

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// DriftPerMPH is how far the wind carries water, as a share of the distance it
// is thrown, for each mile per hour. It is an assumption, not a measurement: it
// is derived from the usual spacing table for squares, which goes from 55 % of
// the diameter in calm air to 45 % at about 10 mph, 18 % closer.
const DriftPerMPH = 0.02

// Wind is a steady wind over the whole plan.
type Wind struct {
	Speed units.MPH     `json:"mph"`
	From  units.Degrees `json:"from_deg"` // where it comes from, anticlockwise from the plan's east
}

// WindOf is the wind of the plan's windy day.
func WindOf(p *plan.Plan) Wind {
	speed, from := p.Site.Wind()
	return Wind{speed, from}
}

// Drift is the share of its throw that water is carried downwind.
func (w Wind) Drift() units.Ratio { return units.Ratio(DriftPerMPH * float64(w.Speed)) }

// drift is the vector of it.
func (w Wind) drift() drift {
	sin, cos := math.Sincos(float64(w.From) * math.Pi / 180)
	d := float64(w.Drift())
	return drift{-d * cos, -d * sin}
}

// windy refuses winds in which nobody waters.
func (w Wind) windy() error {
	if v := float64(w.Speed); v >= 0 && v <= plan.MostWindMPH && !math.IsInf(float64(w.From), 0) && w.From == w.From {
		return nil
	}
	return fmt.Errorf("sprinklers are not run in such wind: the figures hold from 0 to %d mph; give a wind in that range", plan.MostWindMPH)
}

// Progress is told how far a long computation has come. It is called from
// within it and should return at once; nil is told nothing.
type Progress func(done, total int)

func (tell Progress) at(done, total int) {
	if tell != nil {
		tell(done, total)
	}
}

// A Picture is what the water does under other circumstances than the drawing's:
// the figures and the map they were taken from. It does not change, so that many
// may read it at once.
type Picture struct {
	Result *Result
	field  *Field
}

// Frame is the raster of the map.
func (p *Picture) Frame() geom.Frame { return p.field.frame }

// Cells returns the bytes of the whole map, southernmost row first.
func (p *Picture) Cells() []byte { return p.field.Cells(p.field.frame.All()) }

// RateAt reads the water at a place; outside the frame it is false.
func (p *Picture) RateAt(at orb.Point) (Reading, bool) { return p.field.RateAt(at) }

// Windy reckons a plan in a steady wind by the eccentric circles of drift: all
// water is carried downwind by a share of the distance it was thrown that grows
// with the wind (DriftPerMPH). The water of each head stays its flow.
//
// A wall stops water as in calm air, on the straight way from the head to where
// it would land, by the height the stream has there. Left out: the throw that
// grows shorter into the wind, fine drops that fly on, what evaporates, gusts.
//
// A wind beyond plan.MostWindMPH is refused with a sentence; any other error is
// the context's.
func Windy(ctx context.Context, p *plan.Plan, w Wind, tell Progress) (*Picture, error) {
	if err := w.windy(); err != nil {
		return nil, err
	}
	f := &Field{tell: tell}
	runs, set, out := settings(p, nil, &f.known)
	air := w.drift()
	for i := range set {
		set[i].air = air
	}
	return f.picture(ctx, p, f.coarse(p, set), runs, out)
}

// coarse is the scene of settings on a raster for what is worked out on request:
// cells of half a foot or more, and room for rates up to twice the usual.
func (f *Field) coarse(p *plan.Plan, set []setting) scene {
	plots := plotsOf(p)
	bound := drawn(p, plots, set)
	frame := frameOf(bound, float64(p.Options.CellFt))
	if frame.Cell < estimateCell {
		frame = frameOf(bound, estimateCell)
	}
	return scene{
		frame: frame, plots: plots, obstacles: obstaclesOf(p), lips: lipsOf(p, plots), settings: set,
		scale: max(scaleFor(set)-1, 0),
	}
}

// picture loads a scene and reads everything off it.
func (f *Field) picture(ctx context.Context, p *plan.Plan, s scene, runs []Run, out []LeftOut) (*Picture, error) {
	if err := f.load(ctx, s); err != nil {
		return nil, err
	}
	if err := f.read(ctx); err != nil {
		return nil, err
	}
	r := f.report(p, runs, out)
	f.paint(r, true)
	f.tell = nil
	f.showers, f.tables, f.kept = nil, nil, 0 // only the map is read from now on
	return &Picture{r, f}, nil
}
