package audit

import (
	"math"
	"testing"
)

// rows is a yard of a can a head, each head bringing its own can an inch, in zones.
func rows(zones ...string) Problem {
	p := Problem{Catches: make([]float64, len(zones))}
	for i, z := range zones {
		h := Head{ID: string(rune('a' + i)), Zone: z, Upright: make([]float64, len(zones))}
		h.Upright[i], p.Catches[i] = 1, 1
		p.Heads = append(p.Heads, h)
	}
	return p
}

// What one or two heads have in common cannot be told from what each does, so that a zone
// has something of its own from three heads on, beside another.
func TestZonesOfThreeHeadsHaveThingsInCommon(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		zones []string
		want  []string // of what is in common
	}{
		{[]string{"x", "x", "x", "x"}, []string{"x"}},
		{[]string{"x", "x", "y", "y"}, []string{""}},
		{[]string{"x", "x", "y", "y", "y"}, []string{"", "y"}},
	} {
		y := newYard(rows(c.zones...))
		if len(y.common) != len(c.want) {
			t.Errorf("%q have %d things in common, want %d", c.zones, len(y.common), len(c.want))
			continue
		}
		for i, want := range c.want {
			if y.common[i].zone != want {
				t.Errorf("%q: thing %d is of zone %q, want %q", c.zones, i, y.common[i].zone, want)
			}
		}
	}
}

// Where hardly anything is to be caught, throws a little longer make more of a difference
// than a share of that: a quarter of the noise goes by the mean of all cans.
func TestNoiseOfADryCanGoesByTheMean(t *testing.T) {
	t.Parallel()
	p := rows("x", "x", "x", "x")
	p.Catches = append(p.Catches, 0)
	for i := range p.Heads {
		p.Heads[i].Upright = append(p.Heads[i].Upright, 0)
	}
	p.Relative, p.Reading = 0.1, 0.03
	y, mean := newYard(p), 4.0/5
	for c, drawn := range []float64{1, 1, 1, 1, 0} {
		want := math.Hypot(0.1*(0.75*drawn+0.25*mean), 0.03)
		if math.Abs(y.noise[c]-want) > 1e-12 {
			t.Errorf("can %d strays by %g, want %g", c, y.noise[c], want)
		}
	}
}

// A head that brings next to nothing may bring nothing.
func TestBoundsOfADeadHeadReachNothing(t *testing.T) {
	t.Parallel()
	if least, _ := (mixture{{1, normal{0.2, 0.08}}}).within(); least != 0 {
		t.Errorf("it brings %g at the least, want 0", least)
	}
	least, most := mixture{{1, normal{0.5, 0.1}}}.within()
	if math.Abs(least-(0.5-1.645*0.1)) > 1e-3 || math.Abs(most-(0.5+1.645*0.1)) > 1e-3 {
		t.Errorf("bounds of 90 %% are %g and %g", least, most)
	}
}
