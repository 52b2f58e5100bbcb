package zones

import (
	"cmp"
	"math"
	"slices"
)

// starts are groupings into so many zones to begin a search from, the most promising
// first: the ground halved again and again, and heads taken in turn along lines
// across it and along a round through all of them. They may be over the limit where
// heads do not divide well.
func (q *question) starts(zones int) [][]int {
	out := [][]int{q.halved(zones, 0), q.halved(zones, 1), q.fill(zones, q.round())}
	for _, degrees := range []float64{0, 90, 45, 135} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		out = append(out, q.fill(zones, q.sorted(func(it *item) float64 { return float64(it.at[0]*cos) + float64(it.at[1]*sin) })))
	}
	heat := make(map[int]float64, len(out))
	order := make([]int, len(out))
	for n, in := range out {
		order[n] = n
		zs := q.zones(in)
		mean := q.mean(len(zs))
		for _, z := range zs {
			heat[n] += q.heat(z, mean)
		}
	}
	q.looked += len(out)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(heat[a], heat[b]) })
	best := make([][]int, len(out))
	for k, n := range order {
		best[k] = out[n]
	}
	return best
}

// mean is what zones would take if their flows were equal.
func (q *question) mean(zones int) float64 {
	total := 0
	for _, it := range q.items {
		total += it.flow
	}
	return float64(total) / float64(max(zones, 1))
}

// halved gives zones the pieces of the ground, parted across its longer side, or its
// shorter one the first time, by flow, again and again.
func (q *question) halved(zones, across int) []int {
	in := make([]int, len(q.items))
	for i, it := range q.items {
		in[i] = it.seed
	}
	if zones <= q.seeds { // all have heads that stay
		return q.fill(zones, q.round())
	}
	free := q.loose()
	loads := make([]int, zones)
	for i, it := range q.items {
		if in[i] >= 0 {
			loads[it.seed] += it.flow
		}
	}
	for z := range q.seeds {
		free = q.grow(z, int(q.mean(zones)), free, in, loads)
	}
	q.halve(free, q.seeds, zones, across, in)
	return in
}

func (q *question) halve(of []int, from, to, across int, in []int) {
	if to-from == 1 || len(of) == 0 {
		for _, i := range of {
			in[i] = from
		}
		return
	}
	low, high, total := q.items[of[0]].at, q.items[of[0]].at, 0
	for _, i := range of {
		total += q.items[i].flow
		for k, v := range q.items[i].at {
			low[k], high[k] = min(low[k], v), max(high[k], v)
		}
	}
	axis := across
	if high[1]-low[1] > high[0]-low[0] {
		axis = 1 - across
	}
	slices.SortStableFunc(of, func(a, b int) int { return cmp.Compare(q.items[a].at[axis], q.items[b].at[axis]) })
	middle := from + (to-from)/2
	share := total * (middle - from) / (to - from)
	cut, sum := 0, 0
	for cut < len(of)-1 && sum+q.items[of[cut]].flow/2 < share {
		sum += q.items[of[cut]].flow
		cut++
	}
	q.halve(of[:cut], from, middle, 0, in)
	q.halve(of[cut:], middle, to, 0, in)
}

// sorted are the free items by a figure.
func (q *question) sorted(by func(*item) float64) []int {
	order := q.loose()
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(by(&q.items[a]), by(&q.items[b])) })
	return order
}

func (q *question) loose() []int {
	var out []int
	for i, it := range q.items {
		if it.seed < 0 {
			out = append(out, i)
		}
	}
	return out
}

// round is a way through the free items, from the westernmost always to the nearest
// that is left.
func (q *question) round() []int {
	order := q.sorted(func(it *item) float64 { return it.at[0] })
	for k := 1; k < len(order); k++ {
		at := k
		for j := k + 1; j < len(order); j++ {
			if q.apart(order[k-1], order[j]) < q.apart(order[k-1], order[at]) {
				at = j
			}
		}
		order[k], order[at] = order[at], order[k]
	}
	return order
}

// fill puts items in turn into zones up to an equal share of the flow that is left;
// what finds no room goes where most room is. Zones with heads that stay take the
// nearest heads first, up to that share.
func (q *question) fill(zones int, order []int) []int {
	in, loads, total := make([]int, len(q.items)), make([]int, zones), 0
	for i, it := range q.items {
		total += it.flow
		if in[i] = it.seed; it.seed >= 0 {
			loads[it.seed] += it.flow
		}
	}
	share := total / max(zones, 1)
	left := slices.Clone(order)
	for z := range q.seeds {
		left = q.grow(z, share, left, in, loads)
	}
	z := q.seeds
	for _, i := range left {
		f := q.items[i].flow
		for z < zones && loads[z] > 0 && (loads[z]+f > q.limit || loads[z]+f/2 > share) {
			z++
		}
		to := z
		if z == zones {
			to = roomiest(loads)
		}
		in[i] = to
		loads[to] += f
	}
	return in
}

// grow gives a zone with heads that stay the free items nearest to them.
func (q *question) grow(z, share int, left, in, loads []int) []int {
	var mine []int
	for i, at := range in {
		if at == z {
			mine = append(mine, i)
		}
	}
	for {
		best, least := -1, int32(math.MaxInt32)
		for k, i := range left {
			if loads[z]+q.items[i].flow > min(q.limit, share) {
				continue
			}
			for _, j := range mine {
				if d := q.apart(i, j); d < least {
					best, least = k, d
				}
			}
		}
		if best < 0 {
			return left
		}
		i := left[best]
		in[i] = z
		loads[z] += q.items[i].flow
		mine = append(mine, i)
		left = slices.Delete(left, best, best+1)
	}
}

func roomiest(loads []int) int {
	at := 0
	for z, l := range loads {
		if l < loads[at] {
			at = z
		}
	}
	return at
}
