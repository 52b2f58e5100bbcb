package coverage

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/units"
)

// Read reads the heads as they are.
func (t *Trial) Read() Tried {
	t.Drop()
	r, water := t.sums()
	t.spread(&r, water)
	r.BareCorners = t.bareCorners(float64(water) / float64(t.land.total))
	return r
}

// Sums reads the heads with those that are offered in place of what they are for: all
// but how even the ground is (DU, CU, Driest2, DryShare,
// BareCorners).
func (t *Trial) Sums() Tried {
	r, water := t.sums()
	r.Mean = units.InchesPerHour(math.Ldexp(float64(water)/float64(t.land.total), -trialScale))
	return r
}

// sums are the sums over all heads, and the water by weight.
func (t *Trial) sums() (r Tried, water int64) {
	add := func(h *tried) {
		water += h.water
		r.Flow += units.GPM(h.setting.flow)
		r.OnTarget += h.landed.OnTarget
		r.Hard += h.landed.Hard
		r.Bare += h.landed.Bare
		r.Other += h.landed.Other
		r.Stopped += h.landed.Stopped
		r.Walled += h.landed.Walled
		r.Blamed += units.Ratio(h.blame())
	}
	for i, h := range t.heads {
		for _, c := range t.offered {
			if c.at == i {
				h = c.is
			}
		}
		add(h)
	}
	for _, c := range t.offered {
		if c.was == nil {
			add(c.is)
		}
	}
	return r, water
}

// spread reads the rates of all places, whose sum by weight is known.
func (t *Trial) spread(r *Tried, water int64) {
	total := float64(t.land.total)
	mean := float64(water) / total
	r.Mean = units.InchesPerHour(math.Ldexp(mean, -trialScale))
	if water <= 0 {
		return
	}
	a, whole := &t.tail, t.land.whole
	a.count(t.rates[:whole], t.rates[whole:], t.land.weights, mean)
	a.read(water, t.land.total)
	r.DU = units.Ratio(a.quarter / mean)
	r.Driest2 = units.Ratio(a.fiftieth / mean)
	r.DryShare = units.Ratio(a.dry / total)
	r.CU = units.Ratio(1 - 2*a.short/float64(water))
}

// Driest is the middle of the driest window of the area (see AreaReading.Driest);
// of equals the one farthest south.
func (t *Trial) Driest() orb.Point {
	g := t.land
	nx := g.frame.NX
	t.blocks.open(g.extent)
	for _, s := range g.stretches {
		t.blocks.put(int(s.cell)/nx, int(s.cell)%nx, t.rates[s.place:s.place+s.n], 1)
	}
	for k, cell := range g.cells {
		t.blocks.put(int(cell)/nx, int(cell)%nx, t.rates[int(g.whole)+k:][:1], float64(g.weights[k])/weightOne)
	}
	t.blocks.sumUp()
	_, at := t.blocks.schedule(windowShare, float64(g.total)/weightOne, 1, g.frame)
	if at == nil { // no ground, which newTract refuses
		return g.frame.Bound().Center()
	}
	return *at
}

// At is the rate at a place, and whether it is ground that is read.
func (t *Trial) At(p orb.Point) (units.InchesPerHour, bool) {
	place, ok := t.land.placeAt(p)
	if !ok {
		return 0, false
	}
	return t.inches(place), true
}

// placeAt is the number of a place. It reports false where none is kept.
func (g *tract) placeAt(p orb.Point) (int32, bool) {
	x, y, ok := g.frame.CellOf(p)
	if !ok {
		return 0, false
	}
	runs := g.row(y)
	i := runAt(runs, int32(x))
	place := g.runPlace[int(g.rowAt[y])+i]
	if place != none {
		return place + int32(x), true
	}
	if of := runs[i].of; of < 0 {
		from, pieces := g.piecesOf(int(^of))
		for k := range pieces {
			if at := g.piecePlace[from+k]; at != none {
				return at, true
			}
		}
	}
	return 0, false
}

func (t *Trial) inches(place int32) units.InchesPerHour {
	return units.InchesPerHour(math.Ldexp(float64(t.rates[place]), -trialScale))
}

// dryTries is of how many places drawn a Dry one is the driest. Chosen: it lies
// among the driest tenth of the ground two times out of three.
const dryTries = 10

// Dry is a random dry place: the driest of a few drawn from the ground.
func (t *Trial) Dry(r *rand.Rand) orb.Point {
	g := t.land
	best, least := 0, int32(math.MaxInt32)
	for range dryTries {
		if k := r.IntN(len(t.rates)); t.rates[k] < least {
			best, least = k, t.rates[k]
		}
	}
	cell := 0
	if best >= int(g.whole) {
		cell = int(g.cells[best-int(g.whole)])
	} else {
		i, _ := slices.BinarySearchFunc(g.stretches, int32(best), func(s placed, at int32) int {
			if s.place+s.n <= at {
				return -1
			}
			return 1
		})
		s := g.stretches[i]
		cell = int(s.cell) + best - int(s.place)
	}
	return g.frame.Middle(cell%g.frame.NX, cell/g.frame.NX)
}

// Astray is the field estimate of the heads as they are: DU over installations
// drawn with small errors (see FieldEstimate), its mean and tenth percentile, on
// the trial's own raster. 0 draws stand for UsualDraws. The heads stay as they
// are.
func (t *Trial) Astray(seed uint64, draws int) (mean, p10 units.Ratio) {
	if draws <= 0 {
		draws = UsualDraws
	}
	rng := rand.New(rand.NewPCG(seed, 0))
	du := make([]float64, draws)
	h := t.take()
	for k := range du {
		clear(t.rates)
		water := int64(0)
		for _, s := range t.heads {
			t.fill(h, astrayBy(s.setting, rng))
			h.pour(t.rates, 1)
			water += h.water
		}
		var r Tried
		t.spread(&r, water)
		du[k] = float64(r.DU)
	}
	t.free = append(t.free, h)
	clear(t.rates)
	for _, s := range t.heads {
		s.pour(t.rates, 1)
	}
	slices.Sort(du)
	return units.Ratio(average(du)), units.Ratio(quantile(du, 0.1))
}
