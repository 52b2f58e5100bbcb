package zones

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// What a search takes faults for, in hundredths of a foot. Chosen: large against
// what compactness can win, and rising with the fault so that it can be worked off.
const (
	overCost  = 300 * hundredth // a zone over the limit, and each gpm it is over by
	offCost   = 200 * hundredth // a head off its zone's rate
	underCost = 150 * hundredth // a zone under the least flow, and as much again at no flow
	// hot, mild and cold are the temperatures that a run begins at, for few heads and
	// for many, whose starts are not to be lost, and that it ends at.
	hot  = 20 * hundredth
	mild = 4 * hundredth
	cold = 0.2 * hundredth
)

// heat is the cost of one zone to a search; mean is what all would take if their
// flows were equal.
func (q *question) heat(z zone, mean float64) float64 {
	if z.heads == 0 {
		return 0
	}
	e := float64(z.compact) + offCost*float64(z.off)
	if over := z.flow - q.limit; over > 0 {
		e += overCost * (1 + float64(over)*grain)
	}
	if z.flow < q.least {
		e += underCost * (2 - float64(z.flow)/float64(q.least))
	}
	off := (float64(z.flow) - mean) * grain
	weight := 0.05 * hundredth
	if q.even {
		weight = 40 * hundredth
	}
	return e + float64(weight*off)*off
}

// walk is a search in progress: the zones as they are, each with its heat.
type walk struct {
	q     *question
	r     *rand.Rand
	in    []int
	lists [][]int32
	zones []zone
	heats []float64
	mean  float64
	free  []int32
	best  []int
	least score
	// what a move would make of up to three zones
	changed [3]int
	spare   [3][]int32
	would   [3]zone
	warmth  [3]float64
}

// search improves a grouping into so many zones by moving a head, swapping two,
// putting a third in the place of one that moves, or moving or swapping all that two
// zones have of an area, as simulated annealing does
// (S. Kirkpatrick, C. D. Gelatt and M. P. Vecchi, Optimization by Simulated
// Annealing, Science 220, 1983). It answers the best sound grouping it came upon,
// else the best of all.
func (q *question) search(ctx context.Context, start []int, zones, looks int, r *rand.Rand) ([]int, score, error) {
	w := &walk{q: q, r: r, in: slices.Clone(start), lists: members(start, zones)}
	for i, it := range q.items {
		if it.seed < 0 {
			w.free = append(w.free, int32(i))
		}
	}
	w.mean = q.mean(zones)
	for _, of := range w.lists {
		z := q.zone(of)
		w.zones, w.heats = append(w.zones, z), append(w.heats, q.heat(z, w.mean))
	}
	w.best, w.least = slices.Clone(w.in), q.score(w.zones)
	if len(w.free) == 0 || len(w.lists) < 2 {
		return w.best, w.least, nil
	}
	heat := float64(hot)
	if len(w.free) > smallLoose {
		heat = mild
	}
	fall := math.Pow(cold/heat, 1/float64(max(looks, 1)))
	for n := range looks {
		if n%1024 == 0 && ctx.Err() != nil {
			return nil, score{}, ctx.Err()
		}
		heat *= fall
		w.step(heat)
	}
	q.looked += looks
	return w.best, w.least, nil
}

// step tries one change.
func (w *walk) step(heat float64) {
	i := w.free[w.r.IntN(len(w.free))]
	near := w.q.near[i]
	a, b := w.in[i], 0
	if k := w.r.IntN(len(near) + 1); k < len(near) {
		b = w.in[near[k]]
	} else {
		b = w.r.IntN(len(w.lists)) // now and then far away, or to a zone without heads
	}
	if a == b {
		return
	}
	w.changed[0], w.changed[1], w.changed[2] = a, b, -1
	w.spare[0] = without(w.spare[0], w.lists[a], i)
	switch kind := w.r.IntN(12); {
	case kind < 3:
		w.spare[1] = append(append(w.spare[1][:0], w.lists[b]...), i)
		w.take(heat)
	case kind < 8:
		j, ok := w.other(b, a)
		if !ok {
			return
		}
		w.spare[0] = append(w.spare[0], j)
		w.spare[1] = append(without(w.spare[1], w.lists[b], j), i)
		w.take(heat)
	case kind < 10:
		j, ok := w.other(b, -1)
		if !ok {
			return
		}
		next := w.q.near[j]
		c := w.in[next[w.r.IntN(len(next))]]
		if c == a || c == b {
			return
		}
		w.changed[2] = c
		w.spare[1] = append(without(w.spare[1], w.lists[b], j), i)
		w.spare[2] = append(append(w.spare[2][:0], w.lists[c]...), j)
		w.take(heat)
	case kind < 11: // all that the zone has of the head's area
		w.spare[0], w.spare[1] = w.spare[0][:0], append(w.spare[1][:0], w.lists[b]...)
		w.piece(a, i, 0, 1)
		w.take(heat)
	default: // for all that the other has of an area
		j, ok := w.other(b, a)
		if !ok {
			return
		}
		w.spare[0], w.spare[1] = w.spare[0][:0], w.spare[1][:0]
		w.piece(a, i, 0, 1)
		w.piece(b, j, 1, 0)
		w.take(heat)
	}
}

// piece parts a zone: heads of the area of one that may go, and the rest.
func (w *walk) piece(zone int, of int32, rest, gone int) {
	for _, k := range w.lists[zone] {
		to := rest
		if it := &w.q.items[k]; it.area == w.q.items[of].area && it.seed < 0 {
			to = gone
		}
		w.spare[to] = append(w.spare[to], k)
	}
}

// other is a head of a zone that may go, by chance: one beside another zone if one is
// soon found.
func (w *walk) other(zone, beside int) (int32, bool) {
	of := w.lists[zone]
	if len(of) == 0 {
		return 0, false
	}
	var j int32
	for range 4 {
		j = of[w.r.IntN(len(of))]
		if beside < 0 || slices.ContainsFunc(w.q.near[j], func(n int32) bool { return w.in[n] == beside }) {
			break
		}
	}
	return j, w.q.items[j].seed < 0
}

func without(into, list []int32, i int32) []int32 {
	into = into[:0]
	for _, j := range list {
		if j != i {
			into = append(into, j)
		}
	}
	return into
}

// take makes the change if it is for the better, or by chance: the changed zones
// then have the heads set out for them.
func (w *walk) take(heat float64) {
	now, then := 0.0, 0.0
	for k, z := range w.changed {
		if z < 0 {
			continue
		}
		w.would[k] = w.q.zone(w.spare[k])
		w.warmth[k] = w.q.heat(w.would[k], w.mean)
		now += w.heats[z]
		then += w.warmth[k]
	}
	if worse := then - now; worse > 0 && w.r.Float64() >= math.Exp(-worse/heat) {
		return
	}
	for k, z := range w.changed {
		if z >= 0 {
			w.lists[z], w.spare[k] = w.spare[k], w.lists[z]
			w.zones[z], w.heats[z] = w.would[k], w.warmth[k]
			for _, i := range w.lists[z] {
				w.in[i] = z
			}
		}
	}
	if s := w.q.score(w.zones); s.compare(w.least) < 0 {
		w.least = s
		copy(w.best, w.in)
	}
}
