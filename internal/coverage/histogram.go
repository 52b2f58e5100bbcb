package coverage

import (
	"cmp"
	"math/bits"
	"slices"
)

// bins is the number of bins of a histogram. The greatest rate falls in the
// upper half of them, so that a bin is at most a 2,048th of it wide.
const bins = 1 << binBits

const binBits = 12

// weightOne is the weight of one whole cell in a histogram; shared cells weigh
// less, by the share that counts.
const weightOne = 1 << 16

// bin is the ground whose rate falls between two limits.
type bin struct {
	at     int32 // its number, from 0
	weight int64 // cells, in 1/weightOne
	excess int64 // rate over the bin's lower limit, summed by weight
}

// histogram is the rates of some ground by weight, whole numbers throughout. It
// holds only the bins that have ground, so that thousands of small areas do not
// fill the memory with empty ones.
type histogram struct {
	shift uint             // a bin is 2^shift wide
	bins  []bin            // by number, none of no weight
	heavy map[int32][]atom // of bins that hold much of the ground, by number: what is in them
	total int64            // weight
	sum   float64          // rate by weight
}

// low is the lower limit of a bin.
func (h *histogram) low(b bin) float64 { return float64(int64(b.at) << h.shift) }

// atom is ground of one rate.
type atom struct {
	rate   float64
	weight float64
}

// counter counts cells into four histograms in turn, so that neighbours, which
// often fall in the same bin, do not wait for one another. Each entry holds a
// count above packed and the sum of the excesses below.
type counter struct {
	of [4][bins]uint64
	// most has the highest bit of any rate seen.
	most uint32
	// all is every bin of the ground being counted, zero between uses.
	all [bins]bin
}

const packed = 40

// run counts a run of whole cells. Rates of 2^(shift+binBits) and more wrap; the
// caller sees that from most and counts again with another shift.
func (c *counter) run(rates []int32, shift uint) {
	most := c.most
	low := uint32(1)<<shift - 1
	a, b, d, e := &c.of[0], &c.of[1], &c.of[2], &c.of[3]
	for len(rates) >= 4 {
		r := rates[:4:4]
		v, w, x, y := uint32(r[0]), uint32(r[1]), uint32(r[2]), uint32(r[3])
		most |= v | w | x | y
		a[v>>(shift&31)&(bins-1)] += 1<<packed | uint64(v&low)
		b[w>>(shift&31)&(bins-1)] += 1<<packed | uint64(w&low)
		d[x>>(shift&31)&(bins-1)] += 1<<packed | uint64(x&low)
		e[y>>(shift&31)&(bins-1)] += 1<<packed | uint64(y&low)
		rates = rates[4:]
	}
	for _, r := range rates {
		v := uint32(r)
		most |= v
		a[v>>(shift&31)&(bins-1)] += 1<<packed | uint64(v&low)
	}
	c.most = most
}

// add empties the four histograms into all.
func (c *counter) add() {
	for i := range c.all {
		s := c.of[0][i] + c.of[1][i] // no carry: fewer than 2^24 cells, excess below 2^19
		t := c.of[2][i] + c.of[3][i]
		if s|t == 0 {
			continue
		}
		n := int64(s>>packed) + int64(t>>packed)
		x := int64(s&(1<<packed-1)) + int64(t&(1<<packed-1))
		c.all[i].weight += n * weightOne
		c.all[i].excess += x * weightOne
		c.of[0][i], c.of[1][i], c.of[2][i], c.of[3][i] = 0, 0, 0, 0
	}
}

// settle moves the bins of all that have ground to the end of some others.
func (c *counter) settle(to []bin) []bin {
	for i, b := range c.all {
		if b.weight != 0 {
			to = append(to, bin{int32(i), b.weight, b.excess})
		}
	}
	clear(c.all[:])
	return to
}

// shiftFor is the shift that puts a rate in the upper half of the bins.
func shiftFor(most uint32) uint { return uint(max(bits.Len32(most)-binBits, 0)) }

// sample is the rates to be counted: whole cells by stretches of the grid, and
// shared cells by rate and weight.
type sample struct {
	grid  []int32
	whole [][]stretch
	parts []weighed
}

type weighed struct {
	rate   uint32
	weight int64 // in 1/weightOne
}

// heavyShare is the share of all ground from which a bin is looked into cell by
// cell: one rate over much of the ground must not be smeared over the width of
// its bin. A bin just below it, all of one rate, puts DU off by at most
// heavyShare/¼ · width/4, 6e-5 of the greatest rate; chosen.
const heavyShare = 1.0 / 8

// count makes h the histogram of a sample. It first tries the width of bins that
// h had before; another one costs a second count and changes nothing in the
// result, which depends on the sample alone.
func (h *histogram) count(s *sample, c *counter) {
	h.heavy = nil
	parts := uint32(0)
	for _, p := range s.parts {
		parts |= p.rate
	}
	for {
		clear(c.all[:])
		c.most = parts
		for _, w := range s.whole {
			for _, t := range w {
				c.run(s.grid[t.cell:t.cell+t.n], h.shift)
			}
		}
		c.add()
		want := shiftFor(c.most)
		if want == h.shift {
			break
		}
		h.shift = want
	}
	for _, p := range s.parts {
		b := &c.all[p.rate>>h.shift]
		b.weight += p.weight
		b.excess += p.weight * int64(p.rate&(1<<h.shift-1))
	}
	h.bins = c.settle(h.bins[:0])
	h.sumUp()
	h.lookInto(s)
}

func (h *histogram) sumUp() {
	h.total, h.sum = 0, 0
	for _, b := range h.bins {
		h.total += b.weight
		h.sum += float64(b.weight)*h.low(b) + float64(b.excess)
	}
}

// plus is the histogram of two pieces of ground together. The narrower bins are
// folded into the wider.
func (h *histogram) plus(k *histogram) *histogram {
	if k.shift > h.shift {
		h, k = k, h
	}
	out := &histogram{shift: h.shift, bins: make([]bin, 0, len(h.bins)+len(k.bins))}
	by, left := h.shift-k.shift, h.bins
	for _, b := range k.bins {
		to := b.at >> by
		for len(left) > 0 && left[0].at <= to {
			out.bins, left = append(out.bins, left[0]), left[1:]
		}
		base := int64(b.at)<<k.shift - int64(to)<<h.shift
		out.put(bin{to, b.weight, b.excess + b.weight*base})
	}
	out.bins = append(out.bins, left...)
	out.sumUp()
	if by == 0 && (h.heavy != nil || k.heavy != nil) {
		out.join(h, k)
	}
	return out
}

// put adds ground to the last bin, or behind it.
func (h *histogram) put(b bin) {
	if n := len(h.bins); n > 0 && h.bins[n-1].at == b.at {
		h.bins[n-1].weight += b.weight
		h.bins[n-1].excess += b.excess
		return
	}
	h.bins = append(h.bins, b)
}

// bin finds a bin by its number; one without ground is zero.
func (h *histogram) bin(at int32) bin {
	i, ok := slices.BinarySearchFunc(h.bins, at, func(b bin, at int32) int { return cmp.Compare(b.at, at) })
	if !ok {
		return bin{at: at}
	}
	return h.bins[i]
}

// join keeps what either had looked into.
func (h *histogram) join(a, b *histogram) {
	h.heavy = map[int32][]atom{}
	var left, right [smear]atom
	for _, one := range h.bins {
		if a.heavy[one.at] != nil || b.heavy[one.at] != nil {
			both := slices.Concat(a.atoms(a.bin(one.at), left[:]), b.atoms(b.bin(one.at), right[:]))
			slices.SortFunc(both, func(x, y atom) int { return cmp.Compare(x.rate, y.rate) })
			h.heavy[one.at] = both
		}
	}
}

// lookInto reads the cells of heavy bins.
func (h *histogram) lookInto(s *sample) {
	least := int64(heavyShare * float64(h.total))
	slot := make([]int16, 0)
	n := 0
	for _, b := range h.bins {
		if b.weight > least && b.excess != 0 {
			if len(slot) == 0 {
				slot = make([]int16, bins)
			}
			n++
			slot[b.at] = int16(n)
		}
	}
	if n == 0 {
		return
	}
	counts := make([]map[uint32]int64, n+1)
	for i := range counts {
		counts[i] = map[uint32]int64{}
	}
	for _, w := range s.whole {
		for _, t := range w {
			for _, r := range s.grid[t.cell : t.cell+t.n] {
				if k := slot[uint32(r)>>h.shift]; k != 0 {
					counts[k][uint32(r)] += weightOne
				}
			}
		}
	}
	for _, p := range s.parts {
		if k := slot[p.rate>>h.shift]; k != 0 {
			counts[k][p.rate] += p.weight
		}
	}
	h.heavy = map[int32][]atom{}
	for i, k := range slot {
		if k != 0 {
			h.heavy[int32(i)] = atomsOf(counts[k])
		}
	}
}

func atomsOf(counts map[uint32]int64) []atom {
	rates := make([]uint32, 0, len(counts))
	for r := range counts {
		rates = append(rates, r)
	}
	slices.Sort(rates)
	out := make([]atom, len(rates))
	for i, r := range rates {
		out[i] = atom{float64(r), float64(counts[r])}
	}
	return out
}

// slices of a bin when it is not looked into.
const smear = 8

// atoms are the rates in a bin, rising. A bin that was not looked into is taken
// as even about its own mean, as wide as its limits allow: a bin of exact zeros
// stays at zero.
func (h *histogram) atoms(b bin, buf []atom) []atom {
	if looked := h.heavy[b.at]; looked != nil {
		return looked
	}
	if b.weight == 0 {
		return nil
	}
	width := float64(int64(1) << h.shift)
	m := float64(b.excess) / float64(b.weight)
	d := min(m, width-m)
	base := h.low(b)
	buf = buf[:0]
	for k := range smear {
		t := (2*float64(k)+1)/smear - 1
		buf = append(buf, atom{base + m + t*d, float64(b.weight) / smear})
	}
	return buf
}
