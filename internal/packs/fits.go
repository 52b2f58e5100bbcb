package packs

import "github.com/paulmach/orb"

// Fit is what asking for a scale comes to, for the first plan of a pack on its paper.
type Fit struct {
	Asked int   // 0: the largest scale that fits one sheet
	Scale Scale // that it is drawn at: another where the one asked takes too many sheets
	Pages int
}

// fitsOf are the fits of ground in a box of every page, points: of the largest scale that
// fits first, then of all Scales.
func (b *builder) fitsOf(ground, box orb.Bound, k float64) []Fit {
	var out []Fit
	ask := *b
	for _, s := range append([]Scale{{}}, Scales(b.sys)...) {
		ask.asked.Scale = s.To
		t := ask.tilingOf(ground, box, k)
		out = append(out, Fit{s.To, t.scale, t.rows * t.cols})
	}
	return out
}
