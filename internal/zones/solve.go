package zones

import (
	"context"
	"math/rand/v2"
)

const (
	// mostPacked is how many looks a proof about one number of valves may take.
	mostPacked = 100_000
	// runs is how many searches are made from each start of a small question, of up to
	// smallLoose heads; of a larger one only the best begun are gone on from, once.
	runs       = 2
	smallLoose = 40
	bestBegun  = 2
)

// answer is a grouping of one question.
type answer struct {
	in     []int // zone of each item
	score  score
	bound  int  // no grouping has fewer valves
	proved bool // and this one has as many
	tried  bool // by trying all packings, where the bound was less
}

// solve seeks the best grouping of a question. effort is in evaluations. ok is
// false when no search came upon a grouping with matched rates.
func (q *question) solve(ctx context.Context, seed uint64, effort int) (a answer, ok bool, err error) {
	q.prepare()
	a.bound = q.fewest()
	fewer := true // every smaller number of valves is ruled out
	for valves := max(a.bound, q.seeds, 1); valves <= max(len(q.items), 1); valves++ {
		in, packs, sure := q.pack(valves)
		if !packs && sure {
			if fewer {
				a.bound, a.tried = valves+1, true
			}
			continue
		}
		if !packs { // it gave up; with more valves it is easy
			fewer = false
			continue
		}
		whole := false
		a.in, a.score, whole, err = q.best(ctx, in, valves, seed, effort)
		if err != nil {
			return answer{}, false, err
		}
		if a.in != nil && a.score.sound() {
			a.proved = fewer && a.score[valvesAt] <= a.bound
			return a, true, nil
		}
		if !whole {
			return a, false, nil // rates are hard to match: the caller parts them
		}
		if fewer {
			a.bound, a.tried = valves+1, true
		}
	}
	return a, false, nil
}

// fewest is the bound on valves, by what packs and by what rates can go together.
func (q *question) fewest() int {
	sizes := make([]int, len(q.items))
	for i, it := range q.items {
		sizes[i] = it.flow
	}
	n := max(packingBound(sizes, q.limit), q.seeds)
	if len(q.items) > 0 {
		n = max(n, 1)
	}
	return n
}

// pack puts all items into so many zones, whatever their places.
func (q *question) pack(valves int) (in []int, ok, sure bool) {
	loads := make([]int, valves)
	var sizes []int
	for _, it := range q.items {
		if it.seed >= 0 {
			loads[it.seed] += it.flow
		} else {
			sizes = append(sizes, it.flow)
		}
	}
	bins, ok, sure := packed(sizes, loads, q.limit, mostPacked)
	in = make([]int, len(q.items))
	k := 0
	for i, it := range q.items {
		if in[i] = it.seed; it.seed < 0 {
			in[i] = bins[k]
			k++
		}
	}
	return in, ok, sure
}

// best seeks the best grouping into at most so many zones: whole is true when all
// were tried, so that none of this number is better.
func (q *question) best(ctx context.Context, pack []int, valves int, seed uint64, effort int) (in []int, s score, whole bool, err error) {
	loose := len(q.loose())
	if few(loose, valves) {
		if in, s, whole = q.exact(valves); whole {
			return in, s, true, nil
		}
	}
	starts, turns := q.starts(valves), runs
	if loose > smallLoose {
		starts, turns = starts[:bestBegun], 1
	}
	starts = append(starts, pack) // whatever its places, it is within the limit
	each := max(effort/(turns*len(starts)), 500)
	for n := range turns * len(starts) {
		looks := each
		if n/turns == len(starts)-1 && loose > smallLoose {
			if in != nil && s.sound() {
				break
			}
		}
		found, sc, err := q.search(ctx, starts[n/turns], valves, looks, rand.New(rand.NewPCG(seed, uint64(n))))
		if err != nil {
			return nil, score{}, false, err
		}
		if in == nil || sc.compare(s) < 0 {
			in, s = found, sc
		}
	}
	return in, s, false, nil
}
