package geom

import "math"

// badShape is an outline, with or without holes, and what is to be said of it;
// no reason means it is sound.
type badShape struct {
	name    string
	outline Outline
	holes   []Outline
	reason  Reason
	vertex  int // looked at when there is a reason
}

var (
	nan, inf = math.NaN(), math.Inf(1)
	sq10     = corners(0, 0, 10, 0, 10, 10, 0, 10)
)

// badShapes is a collection of outlines as drawing, importing and typing make
// them, each with the first thing wrong with it.
func badShapes() []badShape {
	comb := Outline{{X: 0, Y: 0}}
	for i := range 50 { // a comb whose last tooth reaches through its back
		x := float64(i) * 2
		comb = append(comb, Vertex{X: x, Y: 10}, Vertex{X: x + 1, Y: 10}, Vertex{X: x + 1, Y: 1}, Vertex{X: x + 2, Y: 1})
	}
	comb = append(comb, Vertex{X: 100, Y: 10}, Vertex{X: 101, Y: -5}, Vertex{X: 90, Y: 5}, Vertex{X: 101, Y: -6})
	many := make(Outline, MaxCorners+1)
	for i := range many {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(many)))
		many[i] = Vertex{X: 5000 * cos, Y: 5000 * sin}
	}
	arcs := make(Outline, 0, 300)
	for i := range 300 { // each arc takes hundreds of chords
		arcs = append(arcs, Vertex{X: 0, Y: float64(i) * 100, Bulge: 20})
	}
	return []badShape{
		// Too few, too many.
		{"nothing", nil, nil, TooFew, 0},
		{"one corner", corners(1, 1), nil, TooFew, 0},
		{"two corners", corners(0, 0, 10, 0), nil, TooFew, 0},
		{"one corner with a bulge", Outline{{X: 1, Y: 1, Bulge: 1}}, nil, TooFew, 0},
		{"one corner that is NaN", Outline{{X: nan}}, nil, TooFew, 0},
		{"too many corners", many, nil, TooMany, 0},
		{"too many arcs", arcs, nil, TooMany, 0},

		// Numbers.
		{"NaN x", Outline{{X: 0, Y: 0}, {X: nan, Y: 0}, {X: 1, Y: 1}}, nil, NotFinite, 1},
		{"NaN y", Outline{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: nan}}, nil, NotFinite, 2},
		{"infinite", Outline{{X: 0, Y: 0}, {X: inf, Y: 0}, {X: 1, Y: 1}}, nil, NotFinite, 1},
		{"infinite downwards", Outline{{X: 0, Y: -inf}, {X: 3, Y: 0}, {X: 1, Y: 1}}, nil, NotFinite, 0},
		{"huge", corners(0, 0, 1e300, 0, 1, 1), nil, TooFar, 1},
		{"all numbers greatest", corners(math.MaxFloat64, 0, -math.MaxFloat64, 0, 0, math.MaxFloat64), nil, TooFar, 0},
		{"just beyond 10 km", corners(0, 0, 32808.5, 0, 0, 5), nil, TooFar, 1},
		{"just beyond 10 km south", corners(0, 0, 10, 0, 5, -32809), nil, TooFar, 2},
		{"bulge NaN", Outline{{X: 0, Y: 0, Bulge: nan}, {X: 1, Y: 0}, {X: 1, Y: 1}}, nil, BadBulge, 0},
		{"bulge infinite", Outline{{X: 0, Y: 0}, {X: 1, Y: 0, Bulge: -inf}, {X: 1, Y: 1}}, nil, BadBulge, 1},
		{"bulge nearly a circle", Outline{{X: 0, Y: 0}, {X: 1, Y: 0, Bulge: 20.5}, {X: 1, Y: 1}}, nil, BadBulge, 1},

		{"arc that bulges beyond 10 km", Outline{{X: 0, Y: 0}, {X: 30000, Y: 0, Bulge: 3}, {X: 30000, Y: 30000}}, nil, TooFar, 1},

		// Corners in one place.
		{"repeated corner", corners(0, 0, 10, 0, 10, 0, 10, 10), nil, Repeated, 2},
		{"closed as files close rings", corners(0, 0, 10, 0, 10, 10, 0, 10, 0, 0), nil, Repeated, 0},
		{"all in one place", corners(3, 3, 3, 3, 3, 3), nil, Repeated, 1},
		{"edge of 1e-12 ft", corners(0, 0, 10, 0, 10+1e-12, 1e-12, 10, 10), nil, Repeated, 2},
		{"edge of 1e-4 ft", corners(0, 0, 10, 0, 10, 1e-4, 10, 10), nil, Repeated, 2},
		{"zero and negative zero", corners(0, 0, 10, 0, 10, 10, math.Copysign(0, -1), 0), nil, Repeated, 0},
		{"smallest floats", corners(5e-324, 0, 0, 5e-324, 5e-324, 5e-324), nil, Repeated, 1},
		{"repeated after an arc", Outline{{X: 0, Y: 0, Bulge: 1}, {X: 4, Y: 0}, {X: 4, Y: 0}}, nil, Repeated, 2},

		// No area.
		{"three on a line", corners(0, 0, 5, 0, 10, 0), nil, NoArea, 0},
		{"four on a slanted line", corners(0, 0, 1, 2, 3, 6, 2, 4), nil, NoArea, 0},
		{"there and back", corners(0, 0, 10, 0, 0, 0, 10, 0), nil, NoArea, 0},
		{"within the lattice of a line", corners(0, 0, 5, 1e-5, 10, 0), nil, NoArea, 0},
		{"under a square inch", corners(0, 0, 0.05, 0, 0.05, 0.05, 0, 0.05), nil, NoArea, 0},
		{"flat arc and its chord", Outline{{X: 0, Y: 0, Bulge: 1e-9}, {X: 10, Y: 0}}, nil, NoArea, 0},

		// Spikes.
		{"spike out", corners(0, 0, 10, 0, 10, 5, 20, 5, 10, 5, 10, 10, 0, 10), nil, Spike, 3},
		{"spike along an edge", corners(0, 0, 10, 0, 10, 10, 10, 5, 0, 5), nil, Spike, 2},
		{"spike inwards", corners(0, 0, 5, 0, 5, 4, 5, 0, 10, 0, 10, 10, 0, 10), nil, Spike, 2},
		{"spike at the first corner", corners(-5, 0, 10, 0, 10, 10, 0, 10, 0, 0), nil, Spike, 0},
		{"half circle and the same back", Outline{{X: 0, Y: 0, Bulge: 1}, {X: 4, Y: 0, Bulge: -1}, {X: 0, Y: 0.001, Bulge: 0}, {X: 0, Y: 9}}, nil, Spike, 1},

		// Crossings.
		{"bow-tie", corners(0, 0, 10, 10, 10, 0, 0, 10), nil, Crosses, 0},
		{"bow-tie without area in sum", corners(0, 0, 10, 0, 0, 10, 10, 10), nil, Crosses, 1},
		{"two corners changed over", corners(0, 0, 10, 0, 20, 10, 20, 0, 10, 10, 0, 10), nil, Crosses, 1},
		{"pentagram", corners(0, 10, 6, -8, -10, 3, 10, 3, -6, -8), nil, Crosses, 0},
		{"loop in an edge", corners(0, 0, 8, 0, 8, 3, 5, -3, 12, -3, 12, 10, 0, 10), nil, Crosses, 0},
		{"long thin crossing", corners(0, 0, 10000, 1, 10000, 0, 0, 1), nil, Crosses, 0},
		{"arc through an edge", Outline{{X: 0, Y: 0}, {X: 10, Y: 0, Bulge: -1}, {X: 10, Y: 10}, {X: 6, Y: 10}, {X: 6, Y: 1}, {X: 0, Y: 10}}, nil, Crosses, 1},
		{"arc through an arc", Outline{{X: 0, Y: 0, Bulge: 1}, {X: 10, Y: 0}, {X: 10, Y: -4, Bulge: 1}, {X: 0, Y: -4}}, nil, Crosses, 0},
		{"comb through its back", comb, nil, Crosses, 182},

		// Touches.
		{"corner on an edge", corners(0, 0, 10, 0, 10, 10, 5, 0, 0, 10), nil, Touches, 0},
		{"figure of eight at a corner", corners(0, 0, 5, 5, 10, 0, 10, 10, 5, 5, 0, 10), nil, Touches, 0},
		{"runs along itself", corners(0, 0, 10, 0, 10, 10, 4, 10, 4, 0, 2, 0, 2, 10, 0, 10), nil, Touches, 0},
		{"hole cut in by a keyhole", corners(0, 0, 10, 0, 10, 10, 5, 10, 5, 7, 7, 7, 7, 3, 3, 3, 3, 7, 5, 7, 5, 10, 0, 10), nil, Touches, 2},
		{"within the lattice of itself", corners(0, 0, 10, 0, 10, 10, 5, 1e-5, 0, 10), nil, Touches, 0},
		{"two arcs that kiss", Outline{{X: 0, Y: 0, Bulge: -1}, {X: 10, Y: 0}, {X: 10, Y: 10, Bulge: -1}, {X: 0, Y: 10}}, nil, Touches, 0},

		// Holes.
		{"hole outside", sq10, []Outline{corners(20, 20, 25, 20, 25, 25)}, HoleOutside, 0},
		{"hole round the outline", sq10, []Outline{corners(-5, -5, 15, -5, 15, 15, -5, 15)}, HoleOutside, 0},
		{"hole across the outline", sq10, []Outline{corners(5, 5, 15, 5, 15, 7)}, HoleCrosses, 1},
		{"hole that is the outline", sq10, []Outline{sq10}, HoleCrosses, 0},
		{"hole touching an edge", sq10, []Outline{corners(0, 5, 4, 4, 4, 6)}, HoleCrosses, 3},
		{"hole sharing an edge", sq10, []Outline{corners(0, 2, 4, 2, 4, 6, 0, 6)}, HoleCrosses, 3},
		{"hole touching a corner from inside", sq10, []Outline{corners(10, 10, 5, 8, 8, 5)}, HoleCrosses, 1},
		{"holes crossing", sq10, []Outline{corners(1, 1, 5, 1, 5, 5, 1, 5), corners(3, 3, 8, 3, 8, 8, 3, 8)}, HolesMeet, 0},
		{"hole in a hole", sq10, []Outline{corners(1, 1, 9, 1, 9, 9, 1, 9), corners(3, 3, 5, 3, 5, 5)}, HolesMeet, 0},
		{"hole round a hole", sq10, []Outline{corners(3, 3, 5, 3, 5, 5), corners(1, 1, 9, 1, 9, 9, 1, 9)}, HolesMeet, 0},
		{"hole twice", sq10, []Outline{corners(3, 3, 5, 3, 5, 5), corners(3, 3, 5, 3, 5, 5)}, HolesMeet, 0},
		{"holes touching", sq10, []Outline{corners(1, 1, 4, 1, 4, 4, 1, 4), corners(4, 4, 8, 4, 8, 8)}, HolesMeet, 0},
		{"hole that crosses itself", sq10, []Outline{corners(2, 2, 8, 8, 8, 2, 2, 8)}, Crosses, 0},
		{"hole of two corners", sq10, []Outline{corners(2, 2, 8, 8)}, TooFew, 0},
		{"hole with NaN", sq10, []Outline{{{X: nan, Y: 1}, {X: 2, Y: 2}, {X: 3, Y: 1}}}, NotFinite, 0},
	}
}

// soundShapes look odd and are fine.
func soundShapes() []badShape {
	round := make(Outline, 5000)
	for i := range round {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(round)))
		round[i] = Vertex{X: 300 * cos, Y: 300 * sin}
	}
	return []badShape{
		{name: "square", outline: sq10},
		{name: "square clockwise", outline: corners(0, 10, 10, 10, 10, 0, 0, 0)},
		{name: "corner on a straight edge", outline: corners(0, 0, 5, 0, 10, 0, 10, 10, 0, 10)},
		{name: "circle of two corners", outline: Outline{{X: -3, Bulge: 1}, {X: 3, Bulge: 1}}},
		{name: "circle clockwise", outline: Outline{{X: -3, Bulge: -1}, {X: 3, Bulge: -1}}},
		{name: "half disc", outline: Outline{{X: 0, Y: 0}, {X: 6, Y: 0, Bulge: 1}}},
		{name: "nearly a circle and its chord", outline: Outline{{X: 0, Y: 0, Bulge: 19}, {X: 1, Y: 0}}},
		{name: "sliver of 3 km", outline: corners(0, 0, 9842, 0.01, 9842, 0.02)},
		{name: "at the limit", outline: corners(-Limit, -Limit, Limit, -Limit, Limit, Limit, -Limit, Limit)},
		{name: "5000 corners", outline: round},
		{name: "two inches square", outline: corners(0, 0, 1./6, 0, 1./6, 1./6, 0, 1./6)},
		{name: "notch a lattice step wide", outline: corners(0, 0, 10, 0, 10, 10, 5+Grid, 10, 5+Grid, 2, 5, 2, 5, 10, 0, 10)},
		{name: "hole", outline: sq10, holes: []Outline{corners(2, 2, 4, 2, 4, 4)}},
		{name: "hole clockwise", outline: sq10, holes: []Outline{corners(4, 4, 4, 2, 2, 2)}},
		{name: "hole an inch off the edge", outline: sq10, holes: []Outline{corners(1./12, 5, 4, 4, 4, 6)}},
		{name: "round hole", outline: sq10, holes: []Outline{{{X: 3, Y: 5, Bulge: 1}, {X: 7, Y: 5, Bulge: 1}}}},
	}
}
