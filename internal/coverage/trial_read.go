package coverage

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/units"
)

// Read reads the heads as they are.
func (t *Trial) Read() Tried {
	var r Tried
	water := int64(0)
	for _, h := range t.heads {
		water += h.water
		r.Flow += units.GPM(h.setting.flow)
		r.OnTarget += h.landed.OnTarget
		r.Hard += h.landed.Hard
		r.Bare += h.landed.Bare
		r.Other += h.landed.Other
		r.Stopped += h.landed.Stopped
	}
	t.spread(&r, water)
	return r
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

// tail counts rates into bins up to twice the mean: all that decides the driest
// quarter, which ends below that, and what falls short of the mean. It is a
// histogram with fewer bins that is not kept.
type tail struct {
	whole [2][tailBins]uint64 // counts above packed, sums of excesses below
	part  [tailBins]struct{ weight, excess int64 }
	shift uint

	quarter, fiftieth float64 // mean rate of the driest
	dry               float64 // weight below half the mean
	short             float64 // what falls short of the mean, by weight
}

// tailBins is the number of bins: twice the mean falls in the upper half of them,
// so that a bin is at most a 256th of the mean wide.
const (
	tailBits = 10
	tailBins = 1 << tailBits
)

// count fills the bins. Places above the bins are in the last one.
func (a *tail) count(whole, parts []int32, weights []int64, mean float64) {
	a.shift = uint(max(bits.Len64(uint64(2*mean))-tailBits, 0))
	shift, low := a.shift, uint32(1)<<a.shift-1
	b, c := &a.whole[0], &a.whole[1]
	for len(whole) >= 2 {
		v, w := uint32(whole[0]), uint32(whole[1])
		b[min(v>>(shift&31), tailBins-1)] += 1<<packed | uint64(v&low)
		c[min(w>>(shift&31), tailBins-1)] += 1<<packed | uint64(w&low)
		whole = whole[2:]
	}
	for _, r := range whole {
		b[min(uint32(r)>>(shift&31), tailBins-1)] += 1<<packed | uint64(uint32(r)&low)
	}
	for i, r := range parts {
		p := &a.part[min(uint32(r)>>(shift&31), tailBins-1)]
		p.weight += weights[i]
		p.excess += weights[i] * int64(uint32(r)&low)
	}
}

// read goes up the bins, as far as anything depends on them, and leaves all empty.
func (a *tail) read(water, total int64) {
	mean := float64(water) / float64(total)
	a.quarter, a.fiftieth, a.dry, a.short = 0, 0, 0, 0
	half, middle := gapShare*mean, mean
	halfAt, middleAt := int(half)>>a.shift, int(middle)>>a.shift
	quarter, fiftieth := 0.25*float64(total), 0.02*float64(total)
	g := group{width: float64(int64(1) << a.shift)}
	for i := range tailBins {
		n := a.whole[0][i] + a.whole[1][i] // no carry: fewer than 2^24 cells
		p := &a.part[i]
		g.weight = int64(n>>packed)*weightOne + p.weight
		g.low = int64(i) << a.shift
		g.sum = g.weight*g.low + int64(n&(1<<packed-1))*weightOne + p.excess
		if i == tailBins-1 { // all that lies above, too
			g.sum = water - g.sumBelow
		}
		switch i {
		case halfAt:
			a.dry, _ = g.under(half)
		case middleAt:
			_, a.short = g.under(middle)
		}
		was, is := float64(g.below), float64(g.below+g.weight)
		if was < fiftieth && fiftieth <= is {
			a.fiftieth = g.lowest(fiftieth) / fiftieth
		}
		if was < quarter && quarter <= is {
			a.quarter = g.lowest(quarter) / quarter
		}
		g.below, g.sumBelow = g.below+g.weight, g.sumBelow+g.sum
		if i >= middleAt && is >= quarter {
			break
		}
	}
	clear(a.whole[0][:])
	clear(a.whole[1][:])
	clear(a.part[:])
}

// group is the ground of one bin, and what lies below it. The ground is taken as
// even about its own mean, as wide as the limits of the bin allow.
type group struct {
	weight, sum     int64
	below, sumBelow int64
	low             int64
	width           float64
}

// about is the middle of a group and how far it reaches either side of it.
func (g *group) about() (mean, d float64) {
	if g.weight == 0 {
		return float64(g.low), 0
	}
	mean = float64(g.sum) / float64(g.weight)
	return mean, max(min(mean-float64(g.low), float64(g.low)+g.width-mean), 0)
}

// lowest is the rates of the driest ground by weight, so much of it as ends in the
// group.
func (g *group) lowest(need float64) float64 {
	left := need - float64(g.below)
	mean, d := g.about()
	return float64(g.sumBelow) + left*(mean-d+d*left/float64(g.weight))
}

// under is the weight of the ground below a rate that lies in the group, and what
// it falls short of it.
func (g *group) under(rate float64) (weight, short float64) {
	mean, d := g.about()
	part := 0.0
	switch {
	case d > 0:
		part = min(max((rate-mean+d)/(2*d), 0), 1)
	case mean < rate:
		part = 1
	}
	w := part * float64(g.weight)
	weight = float64(g.below) + w
	return weight, float64(g.below)*rate - float64(g.sumBelow) + w*(rate-mean+d-part*d)
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
	g := t.land
	x, y, ok := g.frame.CellOf(p)
	if !ok {
		return 0, false
	}
	runs := g.row(y)
	i := runAt(runs, int32(x))
	place := g.runPlace[int(g.rowAt[y])+i]
	if place != none {
		return t.inches(place + int32(x)), true
	}
	if of := runs[i].of; of < 0 {
		from, pieces := g.piecesOf(int(^of))
		for k := range pieces {
			if at := g.piecePlace[from+k]; at != none {
				return t.inches(at), true
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
