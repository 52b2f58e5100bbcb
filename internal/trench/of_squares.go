package trench

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// squares find things by place, so that none need be held against every other.
type squares struct {
	min  orb.Point
	cell float64
	nx   int
	ny   int
	in   [][]int32
	seen []int32 // the visit in which a thing was last met
	now  int32
}

// newSquares makes squares of at least 4 ft for some number of things. Chosen: as
// many as there are things, up to 4,096.
func newSquares(b orb.Bound, things int) *squares {
	across, up := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	side := 8
	for side < 64 && side*side < things {
		side *= 2
	}
	q := &squares{min: b.Min, cell: max(4, max(across, up)/float64(side))}
	q.nx, q.ny = int(across/q.cell)+1, int(up/q.cell)+1
	q.in = make([][]int32, q.nx*q.ny)
	return q
}

func (q *squares) span(b orb.Bound) (x0, y0, x1, y1 int) {
	x0, x1 = int((b.Min[0]-q.min[0])/q.cell), int((b.Max[0]-q.min[0])/q.cell)
	y0, y1 = int((b.Min[1]-q.min[1])/q.cell), int((b.Max[1]-q.min[1])/q.cell)
	return min(max(x0, 0), q.nx-1), min(max(y0, 0), q.ny-1), min(max(x1, 0), q.nx-1), min(max(y1, 0), q.ny-1)
}

// add puts in the thing numbered i, the next after those before.
func (q *squares) add(i int, b orb.Bound) {
	x0, y0, x1, y1 := q.span(b)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			q.in[y*q.nx+x] = append(q.in[y*q.nx+x], int32(i))
		}
	}
	for len(q.seen) <= i {
		q.seen = append(q.seen, 0)
	}
}

// visit meets each thing near a bound once.
func (q *squares) visit(b orb.Bound, meet func(i int)) {
	q.now++
	x0, y0, x1, y1 := q.span(b)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			for _, i := range q.in[y*q.nx+x] {
				if q.seen[i] != q.now {
					q.seen[i] = q.now
					meet(int(i))
				}
			}
		}
	}
}

// nodes are the places where lines meet, some of them found to be one.
type nodes struct {
	up   []int
	plan map[plan.ID]int // by node of the plan
}

func (n *nodes) add() int {
	n.up = append(n.up, len(n.up))
	return len(n.up) - 1
}

// of is the node that stands for one of the plan's.
func (n *nodes) of(id plan.ID) int {
	if n.plan == nil {
		n.plan = map[plan.ID]int{}
	}
	i, ok := n.plan[id]
	if !ok {
		i = n.add()
		n.plan[id] = i
	}
	return i
}

// one is the node that stands for all that were merged with i.
func (n *nodes) one(i int) int {
	for n.up[i] != i {
		n.up[i] = n.up[n.up[i]]
		i = n.up[i]
	}
	return i
}

func (n *nodes) merge(a, b int) {
	a, b = n.one(a), n.one(b)
	if a != b {
		n.up[max(a, b)] = min(a, b)
	}
}
