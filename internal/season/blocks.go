package season

import "evenfall/internal/coverage"

// An area is given to watering as so many blocks of ground at most, where blocks of
// mostSide feet are small enough: its driest part is looked for among them for every
// program that is tried. Chosen: the demo's, of 1 ft, have low quarters within .01 of
// the readings'. On a park's lawn blocks may be of parkSide feet: they even out what lies
// between heads, but how even the ground comes out in the field is given beside them.
const (
	mostBlocks = 4000
	mostSide   = 2.0
	parkSide   = 8.0
)

// wholeBlock is the share from which a block on the edge of an area counts, as a whole
// one: watering knows ground in pieces of one size. Chosen; it errs both ways along an
// edge.
const wholeBlock = 0.5

// blocks are the cells of an area put together in squares.
type blocks struct {
	of     []int // block of each cell
	weight []float32
	ground []float64 // of each block, in cells
	least  float64   // ground from which a block counts
}

// largestSide is how large the blocks of so many cells may be, in feet: those of mostSide
// unless they were more than mostBlocks.
func largestSide(cells int, cellFt float64) float64 {
	if float64(cells)*cellFt*cellFt > mostBlocks*mostSide*mostSide {
		return parkSide
	}
	return mostSide
}

// blocksOf puts cells together one by one, two by two, or more.
func blocksOf(g coverage.AreaByZone, nx int, cellFt float64) blocks {
	side := 1
	for len(g.Cells) > mostBlocks*side*side && 2*float64(side)*cellFt <= largestSide(len(g.Cells), cellFt) {
		side *= 2
	}
	at := map[[2]int]int{}
	b := blocks{of: make([]int, len(g.Cells)), weight: g.Weights, least: wholeBlock * float64(side*side)}
	for k, c := range g.Cells {
		key := [2]int{int(c) % nx / side, int(c) / nx / side}
		i, known := at[key]
		if !known {
			i = len(b.ground)
			at[key] = i
			b.ground = append(b.ground, 0)
		}
		b.of[k] = i
		b.ground[i] += float64(g.Weights[k])
	}
	whole := false
	for _, ground := range b.ground {
		whole = whole || ground >= b.least
	}
	if !whole {
		b.least = 0
	}
	return b
}

// rates are those of the cells as means of the blocks that count.
func (b *blocks) rates(cells []float32) []float32 {
	sum := make([]float64, len(b.ground))
	for k, r := range cells {
		sum[b.of[k]] += float64(r) * float64(b.weight[k])
	}
	out := make([]float32, 0, len(sum))
	for i, ground := range b.ground {
		if ground >= b.least && ground > 0 {
			out = append(out, float32(sum[i]/ground))
		}
	}
	return out
}
