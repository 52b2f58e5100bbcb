package coverage

import (
	"iter"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// squares finds boxes by place without looking at all of them: the ground is cut
// into squares, and each knows the boxes that touch it. Boxes go by their number;
// a place is a box of no size.
type squares struct {
	side float64
	in   map[[2]int][]int32
	wide []int32 // those that touch more than wideFrom squares
	seen int     // boxes handed out so far: what the work goes with
}

// wideFrom is the number of squares from which a box is kept apart instead: a
// plan of nothing but large areas must not fill the memory.
const wideFrom = 256

// newSquares sorts boxes into squares no smaller than least feet, of about one
// box each where they lie evenly.
func newSquares(boxes []orb.Bound, least float64) *squares {
	q := &squares{side: least, in: map[[2]int][]int32{}}
	if len(boxes) == 0 {
		return q
	}
	all := boxes[0]
	for _, b := range boxes {
		all = all.Union(b)
	}
	w, h := all.Max[0]-all.Min[0], all.Max[1]-all.Min[1]
	q.side = max(least, math.Sqrt(w*h/float64(len(boxes))), max(w, h)/1000)
	for i, b := range boxes {
		lo, hi := q.square(b.Min), q.square(b.Max)
		if (hi[0]-lo[0]+1)*(hi[1]-lo[1]+1) > wideFrom {
			q.wide = append(q.wide, int32(i))
			continue
		}
		for x := lo[0]; x <= hi[0]; x++ {
			for y := lo[1]; y <= hi[1]; y++ {
				q.in[[2]int{x, y}] = append(q.in[[2]int{x, y}], int32(i))
			}
		}
	}
	return q
}

func (q *squares) square(p orb.Point) [2]int {
	return [2]int{int(math.Floor(p[0] / q.side)), int(math.Floor(p[1] / q.side))}
}

// touching gives the numbers of the boxes that may touch b, rising.
func (q *squares) touching(b orb.Bound) []int32 {
	lo, hi := q.square(b.Min), q.square(b.Max)
	out := slices.Clone(q.wide)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			out = append(out, q.in[[2]int{x, y}]...)
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	q.seen += len(out)
	return out
}

// at gives the numbers of the boxes that may hold a place, rising.
func (q *squares) at(p orb.Point) []int32 { return q.touching(p.Bound()) }

// around gives the numbers of the boxes that may come within so many feet of a
// place, rising.
func (q *squares) around(p orb.Point, within float64) []int32 {
	return q.touching(p.Bound().Pad(within))
}

// outward gives the boxes from a place outwards, ring by ring of squares, at
// least to a distance, each with a distance that everything not given yet is at
// least away. It is for places: a box of some size may come more than once.
func (q *squares) outward(p orb.Point, most float64) iter.Seq2[int32, float64] {
	return func(yield func(int32, float64) bool) {
		at := q.square(p)
		for ring := 0; float64(ring-1)*q.side <= most; ring++ {
			away := max(float64(ring-1), 0) * q.side
			for x := at[0] - ring; x <= at[0]+ring; x++ {
				step := 2 * ring // the sides of the ring; its ends are whole rows
				if x == at[0]-ring || x == at[0]+ring || ring == 0 {
					step = 1
				}
				for y := at[1] - ring; y <= at[1]+ring; y += step {
					for _, i := range q.in[[2]int{x, y}] {
						q.seen++
						if !yield(i, away) {
							return
						}
					}
				}
			}
		}
	}
}
