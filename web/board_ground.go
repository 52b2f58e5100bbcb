package web

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/units"
)

// ContourView is one level of the ground between the spot heights, as lines in
// feet, with what it is called.
type ContourView struct {
	Level string        `json:"level"`
	Lines [][]orb.Point `json:"lines"`
}

// Contour lines stand a round height apart, in the plan's unit, and are few enough
// to be read. Chosen: a dozen levels tell a slope; more would be a hatch.
const mostContours = 12

var (
	contourFeet   = []units.Feet{0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}
	contourMetres = []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500}
)

// ground is the surface through the spot heights as contour lines: what levels of
// pipes and heads are taken from.
func (m *maker) ground() []ContourView {
	if len(m.p.Elevations) < 3 {
		return nil
	}
	relief := m.p.Relief()
	least, most, ok := relief.Range()
	if !ok || most <= least {
		return nil
	}
	step := contourStep(m.sys, units.Feet(most-least))
	var levels []float64
	for n := math.Ceil(least / float64(step)); n*float64(step) <= most; n++ {
		levels = append(levels, n*float64(step))
	}
	var views []ContourView
	for _, c := range relief.Contours(levels) {
		for _, line := range c.Lines {
			for i, p := range line {
				line[i] = orb.Point{toThousandth(p[0]), toThousandth(p[1])}
			}
		}
		views = append(views, ContourView{m.sys.Length(units.Feet(c.Z)), c.Lines})
	}
	return views
}

// toThousandth keeps a place of the picture to less than a pixel of it.
func toThousandth(v float64) float64 { return math.Round(v*1000) / 1000 }

// contourStep is the least round step that makes few enough levels over a range.
func contourStep(sys units.System, span units.Feet) units.Feet {
	steps := contourFeet
	if sys == units.Metric {
		steps = nil
		for _, v := range contourMetres {
			steps = append(steps, units.FeetFromMetres(v))
		}
	}
	for _, s := range steps {
		if span <= s*mostContours {
			return s
		}
	}
	return units.Feet(math.Ceil(float64(span / mostContours)))
}
