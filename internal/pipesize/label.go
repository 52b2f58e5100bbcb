package pipesize

import (
	"cmp"
	"math"
	"slices"
)

// label is one way to size everything that hangs from a point: what it costs,
// and all that the pipes above need to know of it. Pressures are at that point.
type label struct {
	cost float64
	need float64 // least pressure that satisfies every outlet
	most float64 // greatest one
	high float64 // greatest loss to an outlet that counts in the zone's spread
	low  float64 // smallest one
	size int32   // of the pipe, where this label is of a pipe; -1 elsewhere
	a, b *label  // what it was made of
}

// nothing hangs here.
var nothing = label{need: math.Inf(-1), most: math.Inf(1), high: math.Inf(-1), low: math.Inf(1), size: -1}

// beats says that whatever can be done with b can be done with a for no more.
func (a *label) beats(b *label) bool {
	return a.cost <= b.cost && a.need <= b.need && a.most >= b.most && a.high <= b.high && a.low >= b.low
}

// plain says that only cost and need tell this label from others.
func (a *label) plain() bool { return a.high < a.low && math.IsInf(a.most, 1) }

// beside joins two labels of one point.
func beside(a, b *label) label {
	return label{
		cost: a.cost + b.cost, need: max(a.need, b.need), most: min(a.most, b.most),
		high: max(a.high, b.high), low: min(a.low, b.low), size: -1, a: a, b: b,
	}
}

// front keeps the labels that no other beats, cheapest first, in an order that
// depends on the labels alone. It works in place and tells how many pairs it
// looked at.
func front(all []label) (kept []label, looked int) {
	slices.SortFunc(all, func(x, y label) int {
		return cmp.Or(cmp.Compare(x.cost, y.cost), cmp.Compare(x.need, y.need), cmp.Compare(x.high, y.high),
			cmp.Compare(y.low, x.low), cmp.Compare(y.most, x.most))
	})
	plain := true
	for i := range all {
		plain = plain && all[i].plain()
	}
	kept = all[:0]
	for i := range all {
		n := beatenAfter(kept, &all[i], plain)
		looked += n
		if n <= len(kept) {
			continue
		}
		kept = append(kept, all[i])
	}
	return kept, looked
}

// beatenAfter is how many of the kept were looked at until one beat l, and one
// more than there are when none does. The last are looked at first: they cost
// nearly as much and so need the least. Of plain labels the last is enough.
func beatenAfter(kept []label, l *label, plain bool) int {
	for n := range kept {
		if kept[len(kept)-1-n].beats(l) {
			return n + 1
		}
		if plain {
			break
		}
	}
	return len(kept) + 1
}

// stairs joins two fronts of plain labels: for every need that occurs, the
// cheapest of each that needs no more.
func stairs(a, b []label) []label {
	out := make([]label, 0, len(a)+len(b))
	// Fronts run from cheap and needy to dear and modest.
	for i, j := 0, 0; i < len(a) && j < len(b); {
		out = append(out, beside(&a[i], &b[j]))
		switch x, y := a[i].need, b[j].need; {
		case x > y:
			i++
		case x < y:
			j++
		default:
			i, j = i+1, j+1
		}
	}
	return out
}
