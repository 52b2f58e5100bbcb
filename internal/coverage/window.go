package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// windowShare is the share of the area that the window of the scheduling
// coefficient holds.
const windowShare = 0.05

// windowFull is how much of a window must be ground of the area, so that a
// sliver at its edge is not taken for a place; when no window of a narrow area
// holds that much, the fullest are taken. Chosen.
const windowFull = 0.8

// mostBlocks bounds the blocks of cells a window is searched in: on larger areas
// a block is several cells wide. Chosen.
const mostBlocks = 1 << 16

// blocks is the ground and the water of one area in square blocks, summed from
// the lower left so that any window's sums are four look-ups.
type blocks struct {
	x0, y0 int // cell of the first block
	side   int // cells
	nx, ny int
	stride int
	ground []float64 // cells; entry (x, y) sums all blocks below and left of it
	water  []float64 // rate over those
}

// open sizes the blocks for cells within a rectangle.
func (b *blocks) open(c geom.Cells) {
	b.x0, b.y0, b.side = c.X0, c.Y0, 1
	for {
		b.nx, b.ny = (c.X1-c.X0+b.side-1)/b.side, (c.Y1-c.Y0+b.side-1)/b.side
		if b.nx*b.ny <= mostBlocks {
			break
		}
		b.side++
	}
	b.stride = b.nx + 1
	n := b.stride * (b.ny + 1)
	if cap(b.ground) < n {
		b.ground, b.water = make([]float64, n), make([]float64, n)
	}
	b.ground, b.water = b.ground[:n], b.water[:n]
	clear(b.ground)
	clear(b.water)
}

// put adds ground of one row: x is the first cell, all of the same weight.
func (b *blocks) put(y, x int, rates []int32, weight float64) {
	row := ((y-b.y0)/b.side + 1) * b.stride
	if b.side == 1 {
		at := row + x - b.x0 + 1
		ground, water := b.ground[at:at+len(rates)], b.water[at:at+len(rates)]
		for i, r := range rates {
			ground[i] += weight
			water[i] += weight * float64(r)
		}
		return
	}
	for len(rates) > 0 {
		block := (x - b.x0) / b.side
		n := min((block+1)*b.side-(x-b.x0), len(rates))
		sum := int64(0)
		for _, r := range rates[:n] {
			sum += int64(r)
		}
		b.ground[row+block+1] += weight * float64(n)
		b.water[row+block+1] += weight * float64(sum)
		rates, x = rates[n:], x+n
	}
}

// sumUp turns blocks into sums.
func (b *blocks) sumUp() {
	for y := 1; y <= b.ny; y++ {
		ground, water := 0.0, 0.0
		row, below := y*b.stride, (y-1)*b.stride
		for x := 1; x <= b.nx; x++ {
			ground += b.ground[row+x]
			water += b.water[row+x]
			b.ground[row+x] = b.ground[below+x] + ground
			b.water[row+x] = b.water[below+x] + water
		}
	}
}

// driest finds the driest window of n by n blocks: its mean rate and its middle
// in cells.
func (b *blocks) driest(n int) (rate float64, x, y float64, ok bool) {
	nx, ny := min(n, b.nx), min(n, b.ny)
	least := windowFull * float64(n*n*b.side*b.side)
	fullest := b.fullest(nx, ny)
	if fullest <= 0 {
		return 0, 0, 0, false
	}
	least = min(least, 0.999*fullest)
	rate = math.Inf(1)
	for j := 0; j+ny <= b.ny; j++ {
		lo, hi := b.ground[j*b.stride:], b.ground[(j+ny)*b.stride:]
		for i := 0; i+nx <= b.nx; i++ {
			g := hi[i+nx] - hi[i] - lo[i+nx] + lo[i]
			if g < least {
				continue
			}
			a, c := j*b.stride+i, (j+ny)*b.stride+i
			if r := (b.water[c+nx] - b.water[c] - b.water[a+nx] + b.water[a]) / g; r < rate {
				rate, x, y = r, float64(i)+float64(nx)/2, float64(j)+float64(ny)/2
			}
		}
	}
	side := float64(b.side)
	return max(rate, 0), float64(b.x0) + x*side, float64(b.y0) + y*side, true
}

func (b *blocks) fullest(nx, ny int) float64 {
	most := 0.0
	for j := 0; j+ny <= b.ny; j++ {
		lo, hi := b.ground[j*b.stride:], b.ground[(j+ny)*b.stride:]
		for i := 0; i+nx <= b.nx; i++ {
			most = max(most, hi[i+nx]-hi[i]-lo[i+nx]+lo[i])
		}
	}
	return most
}

// windowSide is the side, in blocks, of the window that holds a share of the
// ground, at least one.
func (b *blocks) windowSide(cells, share float64) int {
	return max(int(math.Round(math.Sqrt(share*cells)/float64(b.side))), 1)
}

// schedule is the scheduling coefficient of a sample [5] for windows that hold a
// share of it, and the middle of the driest one; 0 when that gets no water at all.
func (b *blocks) schedule(share, cells, mean float64, f geom.Frame) (sc float64, at *orb.Point) {
	rate, x, y, ok := b.driest(b.windowSide(cells, share))
	if !ok {
		return 0, nil
	}
	p := orb.Point{f.Origin[0] + float64(x*f.Cell), f.Origin[1] + float64(y*f.Cell)}
	return ratio(mean, rate), &p
}
