package zones

import "slices"

// packingBound is the least number of bins of a capacity that hold the sizes: the
// bound L2 of S. Martello and P. Toth, Lower bounds and reduction procedures for
// the bin packing problem, Discrete Applied Mathematics 28 (1990). For each least
// size k looked at, the large ones (over capacity - k) have a bin alone, those over
// half have one each, and the small ones that are at least k fill what those leave.
func packingBound(sizes []int, capacity int) int {
	if capacity <= 0 {
		return len(sizes)
	}
	most := 0
	for _, k := range append([]int{0}, sizes...) {
		if 2*k > capacity {
			continue
		}
		large, half, room, rest := 0, 0, 0, 0
		for _, w := range sizes {
			switch {
			case w > capacity-k:
				large++
			case 2*w > capacity:
				half++
				room += capacity - w
			case w >= k:
				rest += w
			}
		}
		n := large + half
		if rest > room {
			n += (rest - room + capacity - 1) / capacity
		}
		most = max(most, n)
	}
	return most
}

// packing seeks a way to put sizes into bins that hold some already.
type packing struct {
	sizes    []int
	order    []int // of sizes, largest first
	loads    []int
	capacity int
	in       []int // bin of each size
	free     int   // room left in all bins
	looks    int   // still allowed
}

// packed tells whether a capacity is enough for sizes in bins with loads, and in
// which bin each goes. sure is false when it gave up after so many looks.
func packed(sizes, loads []int, capacity, looks int) (in []int, ok, sure bool) {
	p := packing{sizes: sizes, loads: slices.Clone(loads), capacity: capacity, in: make([]int, len(sizes)), looks: looks}
	rest := 0
	for i, w := range sizes {
		p.order = append(p.order, i)
		rest += w
	}
	slices.SortStableFunc(p.order, func(a, b int) int { return sizes[b] - sizes[a] })
	for _, l := range loads {
		p.free += capacity - l
	}
	ok = p.put(0, rest)
	return p.in, ok, ok || p.looks > 0
}

// put places the sizes from one on, fullest bin first; bins of one load are one
// choice, and a size goes no earlier than an equal one before it.
func (p *packing) put(at, rest int) bool {
	if at == len(p.order) {
		return true
	}
	if p.looks--; p.looks <= 0 || rest > p.free {
		return false
	}
	i := p.order[at]
	w := p.sizes[i]
	bins := make([]int, 0, len(p.loads))
	for b, l := range p.loads {
		if l+w <= p.capacity {
			bins = append(bins, b)
		}
	}
	slices.SortStableFunc(bins, func(a, b int) int { return p.loads[b] - p.loads[a] })
	for n, b := range bins {
		if n > 0 && p.loads[bins[n-1]] == p.loads[b] {
			continue
		}
		was := p.loads[b]
		p.loads[b] += w
		p.free -= w
		p.in[i] = b
		if p.put(at+1, rest-w) {
			return true
		}
		p.loads[b] = was
		p.free += w
	}
	return false
}
