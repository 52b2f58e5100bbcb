package packs

import (
	"context"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// What each scale is said to come to is what is made when it is asked for, on every
// paper, from a yard to a park.
func TestFitsAreWhatIsMade(t *testing.T) {
	t.Parallel()
	for _, feet := range []float64{20, 140, 900} {
		for _, paper := range Papers() {
			ground := orb.Bound{Max: orb.Point{feet, feet * 0.7}}
			made := func(scale int) *builder {
				b := &builder{ctx: context.Background(), p: &plan.Plan{}, asked: Asked{Kind: Crew, Scale: scale}, drawn: paper, listed: paper, tell: func(string, float64) {}}
				b.now = sheetsOf(Crew)[2]
				if err := b.planPages(planSheet{bounds: ground, aside: 150, fill: func(*page, *drawing.View) error { return nil }}); err != nil {
					t.Fatal(err)
				}
				return b
			}
			fits := made(0).fits
			if len(fits) != len(Scales(""))+1 || fits[0].Pages != 1 {
				t.Fatalf("%g ft on %s: %+v", feet, paper.Name, fits)
			}
			last := 1 << 30
			for _, fit := range fits {
				b := made(fit.Asked)
				if len(b.pages) != fit.Pages || b.pages[0].scale != fit.Scale.Name {
					t.Errorf("%g ft on %s at %d: %d pages at %s are made, %+v is said", feet, paper.Name, fit.Asked, len(b.pages), b.pages[0].scale, fit)
				}
				if fit.Asked != 0 && fit.Asked == fit.Scale.To {
					if fit.Pages > last {
						t.Errorf("%g ft on %s: more pages at the smaller scale %s", feet, paper.Name, fit.Scale.Name)
					}
					last = fit.Pages
				}
			}
		}
	}
	t.Logf("shown: %d papers, %d scales, 3 grounds", len(Papers()), len(Scales("")))
}
