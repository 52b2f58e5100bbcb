package audit

import (
	"cmp"
	"slices"
)

// How many heads one at fault among them is looked for. Chosen: more is no help to who
// walks the yard.
const (
	mostAmong   = 4
	mostSuspect = 10 // heads that are looked at, the likeliest at fault
	leastAmong  = 0.1
)

// among finds the fewest heads of which one at least is surely at fault, though of none of
// them it is sure, then of the rest again.
func (y *yard) among(heads []FittedHead, accounts []account) []Among {
	type suspect struct {
		head   int // by its place in the yard
		chance float64
	}
	var left []suspect
	for j, i := range y.place {
		if h := &heads[i]; h.Verdict == Untold && h.Chance >= leastAmong {
			left = append(left, suspect{j, h.Chance})
		}
	}
	slices.SortStableFunc(left, func(a, b suspect) int { return cmp.Compare(b.chance, a.chance) })
	left = left[:min(len(left), mostSuspect)]
	var found []Among
	for size := 2; size <= mostAmong; {
		var best []int
		chance := 0.0
		for _, group := range groups(len(left), size) {
			who := make([]int, size)
			for i, g := range group {
				who[i] = left[g].head
			}
			if c := y.oneOf(who, accounts); c >= Sure && c > chance {
				best, chance = group, c
			}
		}
		if best == nil {
			size++
			continue
		}
		a := Among{Chance: chance}
		for _, g := range best {
			a.Heads = append(a.Heads, y.heads[left[g].head].ID)
		}
		found = append(found, a)
		for i := len(best) - 1; i >= 0; i-- {
			left = slices.Delete(left, best[i], best[i]+1)
		}
	}
	return found
}

// oneOf is the chance that one or more of the heads is at fault.
func (y *yard) oneOf(heads []int, accounts []account) float64 {
	sum := 0.0
	for _, a := range accounts {
		for _, x := range a.wrong {
			if s := &y.suspect[x]; !s.onCan() && slices.Contains(heads, s.who) {
				sum += a.weight
				break
			}
		}
	}
	return sum
}

// groups are all ways to take size of n, each in order.
func groups(n, size int) [][]int {
	var all [][]int
	var take func(from int, got []int)
	take = func(from int, got []int) {
		if len(got) == size {
			all = append(all, slices.Clone(got))
			return
		}
		for i := from; i < n; i++ {
			take(i+1, append(got, i))
		}
	}
	take(0, nil)
	return all
}
