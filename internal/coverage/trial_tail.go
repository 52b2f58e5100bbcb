package coverage

import "math/bits"

// tail counts rates into bins up to twice the mean: all that decides the driest
// quarter, which ends below that, and what falls short of the mean. It is a
// histogram with fewer bins that is not kept.
type tail struct {
	whole [2][tailBins]uint64 // counts above packed, sums of excesses below
	part  [tailBins]struct{ weight, excess int64 }
	shift uint

	rates, parts []int32 // what was counted
	weights      []int64
	fine         [tailBins]fineBin
	split        []group // a heavy bin in finer ones
	splitOf      int64   // its lower limit; -1 for none

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
	a.rates, a.parts, a.weights = whole, parts, weights
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
	a.splitOf = -1
	heavy := int64(heavyShare * float64(total))
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
			a.dry, _ = a.byRate(&g, heavy, half).under(half)
		case middleAt:
			_, a.short = a.byRate(&g, heavy, middle).under(middle)
		}
		was, is := float64(g.below), float64(g.below+g.weight)
		if was < fiftieth && fiftieth <= is {
			a.fiftieth = a.byWeight(&g, heavy, fiftieth).lowest(fiftieth) / fiftieth
		}
		if was < quarter && quarter <= is {
			a.quarter = a.byWeight(&g, heavy, quarter).lowest(quarter) / quarter
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

// fineBin is some ground of a heavy bin.
type fineBin struct{ weight, sum int64 }

// byRate is the part of a group that a rate falls in: of a heavy one a finer bin.
func (a *tail) byRate(g *group, heavy int64, rate float64) *group {
	return a.among(g, heavy, func(f *group) bool { return float64(f.low)+f.width > rate })
}

// byWeight is the part of a group in which so much of the driest ground ends.
func (a *tail) byWeight(g *group, heavy int64, need float64) *group {
	return a.among(g, heavy, func(f *group) bool { return float64(f.below+f.weight) >= need })
}

// among is the first of the finer bins of a heavy group for which a test holds: one
// rate over much of the ground must not be smeared over the width of its bin. Of
// any other group it is the group itself.
func (a *tail) among(g *group, heavy int64, ok func(*group) bool) *group {
	if g.weight <= heavy || a.shift == 0 || g.sum == g.weight*g.low || g.low>>a.shift >= tailBins-1 {
		return g
	}
	if a.splitOf != g.low {
		a.divide(g)
	}
	for i := range a.split {
		if ok(&a.split[i]) {
			return &a.split[i]
		}
	}
	return g
}

// divide counts the ground of one bin again, in finer bins.
func (a *tail) divide(g *group) {
	a.splitOf, a.split = g.low, a.split[:0]
	shift, low, width := a.shift-min(a.shift, tailBits), uint32(g.low), uint32(g.width)
	for _, r := range a.rates {
		if v := uint32(r) - low; v < width {
			f := &a.fine[v>>shift&(tailBins-1)]
			f.weight += weightOne
			f.sum += weightOne * int64(r)
		}
	}
	for i, r := range a.parts {
		if v := uint32(r) - low; v < width {
			f := &a.fine[v>>shift&(tailBins-1)]
			f.weight += a.weights[i]
			f.sum += a.weights[i] * int64(r)
		}
	}
	f := group{below: g.below, sumBelow: g.sumBelow, width: float64(uint32(1) << shift)}
	for i := range a.fine {
		b := &a.fine[i]
		if b.weight == 0 {
			continue
		}
		f.low, f.weight, f.sum = g.low+int64(i)<<shift, b.weight, b.sum
		a.split = append(a.split, f)
		f.below, f.sumBelow = f.below+b.weight, f.sumBelow+b.sum
		*b = fineBin{}
	}
}
