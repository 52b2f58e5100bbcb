package coverage

import (
	"math/bits"
	"slices"

	"evenfall/internal/geom"
)

// ground says what every cell of the frame is: one surface, or several that
// share it.
type ground struct {
	frame    geom.Frame
	surfaces []surface // 0 is Outside, 1 what is Undrawn when there is a lot; a target is followed by its lip and, where there are any, its bands
	own      []int32   // surface of each plot

	rowAt []int32 // where the runs of row y start
	runs  []run

	shared []share // cells of several surfaces, by cell
	pieces []piece // their surfaces

	land []terrain // one for each surface
}

// run is cells of one row, from the end of the run before it.
type run struct {
	end int32 // first column after it
	of  int32 // surface; or, below zero, ^index into shared, and it is one cell
}

// share is a cell of several surfaces.
type share struct {
	cell int32 // y·NX + x
	from int32 // first of its pieces; they end where the next one's start
}

// piece is the part of a shared cell that is one surface.
type piece struct {
	of   int32
	size int32  // share of the cell, in 2^-30
	bits uint64 // sample places; see geom.Sample
}

// stretch is whole cells of one surface in one row.
type stretch struct{ cell, n int32 }

// terrain is all cells of one surface, in the order of the rows.
type terrain struct {
	whole []stretch
	parts []int32 // into pieces
	cells []int32 // of the parts
	size  float64 // cells
}

// groundOf lays the plots over the frame.
func groundOf(f geom.Frame, plots []plot, l lips) *ground {
	c := newCanvas(f)
	g := &ground{frame: f, surfaces: []surface{{id: Outside}}}
	g.own = make([]int32, len(plots))
	for i, p := range plots {
		g.own[i] = int32(len(g.surfaces))
		s := surface{id: p.id, kind: p.kind, name: p.name, target: p.target}
		g.surfaces = append(g.surfaces, s)
		if p.target {
			s.lip = true
			g.surfaces = append(g.surfaces, s)
			if l.band > 0 {
				g.surfaces = append(g.surfaces, surface{id: Band})
			}
		}
		c.paint(g.own[i], p)
	}
	for i, p := range plots {
		if p.target {
			c.bandEdge(g.own[i], p, l)
			c.edge(g.own[i], plots[i:], l.edge)
			c.wallEdge(g.own[i], p, l)
		}
	}
	c.settle(g)
	g.index()
	return g
}

// piecesOf gives the pieces of a shared cell and the index of the first.
func (g *ground) piecesOf(i int) (from int, p []piece) {
	end := len(g.pieces)
	if i+1 < len(g.shared) {
		end = int(g.shared[i+1].from)
	}
	from = int(g.shared[i].from)
	return from, g.pieces[from:end]
}

// row gives the runs of a row.
func (g *ground) row(y int) []run { return g.runs[g.rowAt[y]:g.rowAt[y+1]] }

// runAt is the index, within the runs of a row, of the one that holds column x.
func runAt(runs []run, x int32) int {
	i, _ := slices.BinarySearchFunc(runs, x, func(r run, x int32) int {
		if r.end <= x {
			return -1
		}
		return 1
	})
	return i
}

// index lists the cells of each surface.
func (g *ground) index() {
	g.land = make([]terrain, len(g.surfaces))
	nx := int32(g.frame.NX)
	for y := range g.frame.NY {
		x := int32(0)
		for _, r := range g.row(y) {
			if r.of >= 0 {
				l := &g.land[r.of]
				l.whole = append(l.whole, stretch{int32(y)*nx + x, r.end - x})
				l.size += float64(r.end - x)
			} else {
				g.indexShared(int(^r.of))
			}
			x = r.end
		}
	}
}

func (g *ground) indexShared(i int) {
	from, pieces := g.piecesOf(i)
	for k, p := range pieces {
		l := &g.land[p.of]
		l.parts = append(l.parts, int32(from+k))
		l.cells = append(l.cells, g.shared[i].cell)
		l.size += float64(p.size) / geom.Whole
	}
}

// canvas is the ground in the making: every cell one surface, or a chain of
// pieces.
type canvas struct {
	frame geom.Frame
	label []int32 // surface; or, below zero, ^index of the first link
	links []link
	// scratch of leaveOut, zero between uses
	near      []uint64
	nearShare []float32
}

type link struct {
	piece
	next int32 // -1 ends the chain
}

func newCanvas(f geom.Frame) *canvas {
	return &canvas{frame: f, label: make([]int32, f.Size())}
}

// paint gives a plot its ground, taking it from what was painted before.
func (c *canvas) paint(of int32, p plot) {
	var m geom.Mask
	c.frame.Fill(&m, p.rings...)
	for i := range m.Rows() {
		base := (m.Y0 + i) * c.frame.NX
		spans, parts := m.Row(i)
		for _, s := range spans {
			row := c.label[base+int(s.X0) : base+int(s.X1)]
			for k := range row {
				row[k] = of
			}
		}
		for _, q := range parts {
			c.mix(base+int(q.X), piece{of, q.Share, q.Bits})
		}
	}
}

// mix puts a piece into a cell; what was there keeps the rest.
func (c *canvas) mix(cell int, p piece) {
	rest := int32(geom.Whole) - p.size
	head := c.label[cell]
	if head >= 0 {
		first := c.link(piece{head, rest, ^p.bits}, -1)
		c.label[cell] = ^c.link(p, first)
		return
	}
	// Each piece already there keeps the samples the new one leaves it, and of
	// the share left over as much as those are of all samples left.
	left := 0
	for i := ^head; i >= 0; i = c.links[i].next {
		c.links[i].bits &^= p.bits
		left += bits.OnesCount64(c.links[i].bits)
	}
	kept := int32(-1)
	for i := ^head; i >= 0; {
		next := c.links[i].next
		if n := bits.OnesCount64(c.links[i].bits); n > 0 {
			c.links[i].size = int32(int64(rest) * int64(n) / int64(left))
			c.links[i].next, kept = kept, i
		}
		i = next
	}
	if kept < 0 {
		p.size = geom.Whole
	}
	c.label[cell] = ^c.link(p, kept)
}

func (c *canvas) link(p piece, next int32) int32 {
	c.links = append(c.links, link{p, next})
	return int32(len(c.links) - 1)
}

// settle writes the canvas down as runs.
func (c *canvas) settle(g *ground) {
	nx := c.frame.NX
	g.rowAt = make([]int32, c.frame.NY+1)
	for y := range c.frame.NY {
		row := c.label[y*nx : (y+1)*nx]
		for x := 0; x < nx; {
			if row[x] < 0 {
				g.share(c, y*nx+x, ^row[x], int32(x+1))
				x++
				continue
			}
			end := x + 1
			for end < nx && row[end] == row[x] {
				end++
			}
			g.extend(row[x], int32(end), y)
			x = end
		}
		g.rowAt[y+1] = int32(len(g.runs))
	}
}

// extend adds a run of one surface, joining it to the one before.
func (g *ground) extend(of, end int32, y int) {
	if n := len(g.runs); n > int(g.rowAt[y]) && g.runs[n-1].of == of {
		g.runs[n-1].end = end
		return
	}
	g.runs = append(g.runs, run{end, of})
}

// share adds a shared cell. A cell with a single piece is a plain one.
func (g *ground) share(c *canvas, cell int, first, end int32) {
	if c.links[first].next < 0 {
		g.extend(c.links[first].of, end, cell/c.frame.NX)
		return
	}
	g.shared = append(g.shared, share{int32(cell), int32(len(g.pieces))})
	sum := int32(0)
	for i := first; i >= 0; i = c.links[i].next {
		g.pieces = append(g.pieces, c.links[i].piece)
		sum += c.links[i].size
	}
	g.pieces[len(g.pieces)-1].size += geom.Whole - sum // what rounding left
	g.runs = append(g.runs, run{end, ^int32(len(g.shared) - 1)})
}
