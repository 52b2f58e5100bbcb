package audit

import (
	"cmp"
	"container/heap"
	"iter"
)

// added is what adding a suspicion to a set comes to.
type added struct {
	to, what int
	weight   float64
}

// offered is a heap of what may be added, the likeliest on top.
type offered []added

func (o offered) Len() int      { return len(o) }
func (o offered) Swap(i, j int) { o[i], o[j] = o[j], o[i] }
func (o offered) Less(i, j int) bool {
	a, b := &o[i], &o[j]
	return cmp.Or(cmp.Compare(b.weight, a.weight), cmp.Compare(a.to, b.to), cmp.Compare(a.what, b.what)) < 0
}

// Push is not called: a heap is made of all that is offered.
func (o *offered) Push(any) { panic("audit: offered after the heap was made") }

// Pop takes the last, where heap.Pop has put the likeliest.
func (o *offered) Pop() any {
	last := len(*o) - 1
	a := (*o)[last]
	*o = (*o)[:last]
	return a
}

// likeliest goes through what is offered, the likeliest first, and leaves it in another
// order. Of a large yard's many only the first are looked at, so that they are not sorted.
func likeliest(more []added) iter.Seq[added] {
	return func(yield func(added) bool) {
		left := offered(more)
		heap.Init(&left)
		for len(left) > 0 && yield(heap.Pop(&left).(added)) {
		}
	}
}
