package zones

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"sort"
	"testing"

	"github.com/paulmach/orb"
)

// The oracle shares no code with the search: it goes through every set partition
// and judges each by definitions written out anew.

// eachPartition calls with every way to part n things, as the part of each.
func eachPartition(n int, call func(part []int)) {
	part := make([]int, n)
	var next func(i, parts int)
	next = func(i, parts int) {
		if i == n {
			call(part)
			return
		}
		for k := 0; k <= parts; k++ {
			part[i] = k
			next(i+1, max(parts, k+1))
		}
	}
	next(0, 0)
}

// verdict is a grouping by the aims in order; ok is false where it may not be.
func verdict(q *question, part []int) (v [6]int, ok bool) {
	zones := map[int][]int{}
	for i, k := range part {
		zones[k] = append(zones[k], i)
	}
	low, high, length := 1<<60, 0, 0
	for _, z := range zones {
		flow, seed := 0, -1
		areas := map[int]bool{}
		var rates []float64
		for _, i := range z {
			it := q.items[i]
			flow += it.flow
			areas[it.area] = true
			rates = append(rates, it.rate)
			if it.seed >= 0 {
				if seed >= 0 && seed != it.seed {
					return v, false
				}
				seed = it.seed
			}
		}
		if flow > q.limit {
			return v, false
		}
		sort.Float64s(rates)
		for _, r := range rates {
			if m := rates[(len(rates)-1)/2]; r/m > 1.1+1e-7 || r/m < 0.9-1e-7 {
				return v, false
			}
		}
		if flow < q.least {
			v[1]++
		}
		low, high = min(low, flow), max(high, flow)
		length += kruskal(q, z) + 5000*len(areas)
	}
	// heads that stay together stay together
	for i, a := range q.items {
		for j, b := range q.items {
			if a.seed >= 0 && a.seed == b.seed && part[i] != part[j] {
				return v, false
			}
		}
	}
	v[0] = len(zones)
	v[2], v[3], v[4], v[5] = (length+250)/500, (high-low+1250)/2500, length, high-low
	if q.even {
		v[2], v[3], v[4], v[5] = v[3], v[2], v[5], v[4]
	}
	return v, true
}

// kruskal is the length of the shortest tree, by joining the nearest first.
func kruskal(q *question, z []int) int {
	type edge struct{ d, a, b int }
	var edges []edge
	root := map[int]int{}
	for n, i := range z {
		root[i] = i
		for _, j := range z[:n] {
			edges = append(edges, edge{int(q.apart(i, j)), i, j})
		}
	}
	slices.SortFunc(edges, func(a, b edge) int { return a.d - b.d })
	var find func(int) int
	find = func(i int) int {
		if root[i] != i {
			return find(root[i])
		}
		return i
	}
	sum := 0
	for _, e := range edges {
		if a, b := find(e.a), find(e.b); a != b {
			root[a] = b
			sum += e.d
		}
	}
	return sum
}

// drawn is a random question of n heads.
func drawn(r *rand.Rand, n int) *question {
	q := &question{limit: 80_000 + r.IntN(60_000), least: 30_000, even: r.IntN(4) == 0}
	spread := []float64{0.02, 0.15}[r.IntN(2)]
	for range n {
		flow := []int{9_400, 4_700, 18_700, 7_500, 15_000, 30_000}[r.IntN(6)]
		q.items = append(q.items, item{
			at: orb.Point{r.Float64() * 90, r.Float64() * 50}, flow: flow, rate: 0.42 * (1 + spread*(r.Float64()*2-1)), area: r.IntN(2), seed: -1,
		})
	}
	slices.SortFunc(q.items, func(a, b item) int {
		if a.rate < b.rate {
			return -1
		}
		return 1
	})
	q.rated = q.items[n-1].rate > q.items[0].rate*narrow
	if r.IntN(3) == 0 { // some stay
		for q.seeds < 2 && q.seeds < n {
			q.items[r.IntN(n)].seed = q.seeds
			q.seeds++
		}
		if q.items[0].seed < 0 && q.items[1].seed < 0 { // a zone may have lost its only head to the other
			q.items[0].seed, q.items[1].seed = 0, 1
		}
		count := map[int]bool{}
		for _, it := range q.items {
			count[it.seed] = true
		}
		if !count[0] || !count[1] {
			for i := range q.items {
				q.items[i].seed = -1
			}
			q.seeds = 0
		}
	}
	return q
}

// best is the least verdict over all partitions.
func best(q *question) (least [6]int, found bool) {
	eachPartition(len(q.items), func(part []int) {
		if v, ok := verdict(q, part); ok && (!found || slices.Compare(v[:], least[:]) < 0) {
			least, found = v, true
		}
	})
	return least, found
}

func TestGroupingsAreTheBestThereAre(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 23))
	several := 0
	for n := range 60 {
		q := drawn(r, 2+n%7)
		if n%20 == 19 {
			q = drawn(r, 9)
		}
		name := fmt.Sprintf("question %d of %d heads", n, len(q.items))
		a, ok, err := q.solve(context.Background(), 1, 20_000)
		if err != nil {
			t.Fatal(err)
		}
		want, found := best(q)
		if found != ok {
			t.Fatalf("%s: found %v, the oracle %v", name, ok, found)
		}
		if !found { // heads that stay together and may not: a job keeps such zones out
			continue
		}
		got, sound := verdict(q, a.in)
		if !sound || got != want {
			t.Errorf("%s: got %v (may be: %v), the best is %v", name, got, sound, want)
		}
		if a.bound > want[0] {
			t.Errorf("%s: the bound says at least %d valves, and %d do", name, a.bound, want[0])
		}
		if !a.proved {
			t.Errorf("%s: not proved, with so few heads", name)
		}
		if want[0] > 1 {
			several++
		}
	}
	if several < 20 {
		t.Errorf("only %d questions needed more than one valve: they test nothing", several)
	}
}

// The search that larger questions are answered by is held to the same oracle: it
// must find as few valves, as few of them low, and zones nearly as compact.
func TestTheSearchComesNearTheBest(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 1))
	exact, all := 0, 0
	for range 12 {
		q := drawn(r, 9)
		for i := range q.items {
			q.items[i].rate = 0.42
		}
		q.rated = false
		q.prepare()
		want, _ := best(q)
		in, ok, _ := q.pack(want[0])
		if !ok {
			t.Fatal("the oracle's number of valves does not pack")
		}
		var got [6]int
		for k, start := range append(q.starts(want[0]), in) {
			part, _, err := q.search(context.Background(), start, want[0], 4000, rand.New(rand.NewPCG(1, uint64(k))))
			if err != nil {
				t.Fatal(err)
			}
			if v, ok := verdict(q, part); ok && (got[0] == 0 || slices.Compare(v[:], got[:]) < 0) {
				got = v
			}
		}
		all++
		if got == want {
			exact++
		}
		if got[0] != want[0] || got[1] != want[1] {
			t.Errorf("got %v, the best is %v", got, want)
		}
	}
	if exact*4 < all*3 {
		t.Errorf("only %d of %d answers of the search are the best there is", exact, all)
	}
	t.Logf("%d of %d answers of the search are the best there is", exact, all)
}

func TestPackingBound(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sizes    []int
		capacity int
		want     int
	}{
		{nil, 10, 0},
		{[]int{10}, 10, 1},
		{[]int{6, 6, 6}, 10, 3},                                 // each over half
		{[]int{3, 3, 3, 3}, 10, 2},                              // 12 of 10
		{[]int{7, 7, 4, 4}, 10, 3},                              // 4 fits beside neither 7: K = 4
		{[]int{5, 5, 5, 5, 5}, 10, 3},                           // two a bin
		{[]int{9, 8, 2, 2, 2, 1, 1}, 10, 3},                     // by the sum
		{[]int{49, 41, 34, 33, 29, 26, 26, 22, 20, 19}, 100, 3}, // the sum is 299
	} {
		if got := packingBound(c.sizes, c.capacity); got != c.want {
			t.Errorf("%v in %d: at least %d, want %d", c.sizes, c.capacity, got, c.want)
		}
	}
}

func TestPackingIsFoundOrRuledOut(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 3))
	for range 300 {
		sizes := make([]int, 1+r.IntN(8))
		for i := range sizes {
			sizes[i] = 1 + r.IntN(10)
		}
		loads := make([]int, 1+r.IntN(4))
		for i := range loads {
			loads[i] = r.IntN(5)
		}
		in, ok, sure := packed(sizes, loads, 10, 1_000_000)
		if !sure {
			t.Fatalf("gave up on %v", sizes)
		}
		if want := packsByTrying(sizes, loads); ok != want {
			t.Fatalf("%v into %v: packed %v, want %v", sizes, loads, ok, want)
		}
		if !ok {
			continue
		}
		sums := slices.Clone(loads)
		for i, b := range in {
			sums[b] += sizes[i]
		}
		if slices.Max(sums) > 10 {
			t.Fatalf("%v into %v overflows: %v", sizes, loads, sums)
		}
	}
}

func packsByTrying(sizes, loads []int) bool {
	if len(sizes) == 0 {
		return true
	}
	for b := range loads {
		if loads[b]+sizes[0] > 10 {
			continue
		}
		loads[b] += sizes[0]
		ok := packsByTrying(sizes[1:], loads)
		loads[b] -= sizes[0]
		if ok {
			return true
		}
	}
	return false
}
