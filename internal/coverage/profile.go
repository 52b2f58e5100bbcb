package coverage

import (
	"math"
	"slices"

	"evenfall/internal/catalog"
)

// profile is how the rate falls off from the head to the end of the throw: 1 at
// its greatest. Two heads with the same fall-off share one, so that pointers
// tell whether anything changed.
type profile struct {
	kind   catalog.ProfileKind
	shares []float64 // table: rates at equal steps, greatest 1

	moment float64   // integral of f(ρ)·ρ from 0 to 1
	length float64   // integral of f(ρ) from 0 to 1
	steps  []float64 // table: moment up to each share
}

func newProfile(p catalog.Profile) *profile {
	out := &profile{kind: p.Kind}
	switch {
	case p.Kind == catalog.ProfileFlat:
		out.moment, out.length = 1.0/2, 1
	case p.Kind == catalog.ProfileTable && usable(p.Shares):
		out.tabulate(p.Shares)
	default:
		out.kind = catalog.ProfileLinear
		out.moment, out.length = 1.0/6, 1.0/2
	}
	return out
}

// usable reports whether a table says anything: a plan that was read has been
// checked, one made in memory may not be.
func usable(shares []float64) bool {
	most := 0.0
	for _, s := range shares {
		if !(s >= 0) || math.IsInf(s, 0) {
			return false
		}
		most = max(most, s)
	}
	return len(shares) >= 2 && most > 0
}

func (p *profile) tabulate(shares []float64) {
	most := slices.Max(shares)
	n := float64(len(shares) - 1)
	p.shares = make([]float64, len(shares))
	p.steps = make([]float64, len(shares))
	for i, s := range shares {
		p.shares[i] = s / most
	}
	for i := 1; i < len(shares); i++ {
		p.steps[i] = p.steps[i-1] + p.piece(i-1, 1)
		p.length += (p.shares[i-1] + p.shares[i]) / 2 / n
	}
	p.moment = p.steps[len(shares)-1]
}

// piece is the integral of f(ρ)·ρ over a share t of the i-th step of a table,
// where f = a + (b-a)·t is straight.
func (p *profile) piece(i int, t float64) float64 {
	n := float64(len(p.shares) - 1)
	a, d := p.shares[i], p.shares[i+1]-p.shares[i]
	x := float64(i)
	// ∫ (a + d·t)(x + t)/n² dt
	return (a*x*t + (a+d*x)*t*t/2 + d*t*t*t/3) / (n * n)
}

// at is f(ρ): 0 beyond the throw.
func (p *profile) at(rho float64) float64 {
	if !(rho >= 0 && rho <= 1) {
		return 0
	}
	switch p.kind {
	case catalog.ProfileFlat:
		return 1
	case catalog.ProfileTable:
		s := rho * float64(len(p.shares)-1)
		i := min(int(s), len(p.shares)-2)
		return p.shares[i] + float64((s-float64(i))*(p.shares[i+1]-p.shares[i]))
	}
	return 1 - rho
}

// upTo is the integral of f(ρ)·ρ from 0 to x, x in [0, 1]: the share of the
// water of a narrow sector that falls nearer than x throws, times moment.
func (p *profile) upTo(x float64) float64 {
	x = min(max(x, 0), 1)
	switch p.kind {
	case catalog.ProfileFlat:
		return x * x / 2
	case catalog.ProfileTable:
		s := x * float64(len(p.shares)-1)
		i := min(int(s), len(p.shares)-2)
		return p.steps[i] + p.piece(i, s-float64(i))
	}
	return x*x/2 - x*x*x/3
}

// flat is the fall-off of heads too small to draw.
var flat = newProfile(catalog.Profile{Kind: catalog.ProfileFlat})

// profiles hands out one *profile for each fall-off.
type profiles struct {
	all  []*profile
	from []catalog.Profile
}

func (s *profiles) of(p catalog.Profile) *profile {
	for i, q := range s.from {
		if p.Kind == q.Kind && slices.Equal(p.Shares, q.Shares) {
			return s.all[i]
		}
	}
	s.from = append(s.from, catalog.Profile{Kind: p.Kind, Shares: slices.Clone(p.Shares)})
	s.all = append(s.all, newProfile(p))
	return s.all[len(s.all)-1]
}
