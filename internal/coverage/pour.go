package coverage

import (
	"math"

	"evenfall/internal/geom"
)

// grid is the water of all heads together. Every number is whole, so that taking
// a head away undoes exactly what adding it did, in any order.
type grid struct {
	frame geom.Frame
	rate  []int32 // by cell, in units of 2^-scale in/h
	reach []int32 // heads that reach the cell
	// amend is, for each piece of a shared cell, what its own ground gets more
	// than the cell: where a head's arc ends along the edge of an area, the cell
	// is half dry but the area's part of it is not.
	amend []int32
}

func newGrid(f geom.Frame) *grid {
	n := f.Size() + spare
	return &grid{frame: f, rate: make([]int32, n), reach: make([]int32, n)}
}

// half is the share from which a part cell counts as reached.
const half = geom.Whole / 2

// pour adds a head's rates (sign +1) or takes them away (-1).
func (g *grid) pour(s *shower, sign int32) {
	g.rows(s, func(y int, r row, spans []geom.Span, parts []geom.Part) {
		line := g.rate[y*g.frame.NX : (y+1)*g.frame.NX+spare]
		lay(line, s.rate, r, spans, sign)
		for i := range parts {
			if x := int(parts[i].X); uint(x) < uint(len(line)-spare) {
				q, _ := r.at(x)
				line[x] += sign * portion(s.rate.rim(q), parts[i].Share)
			}
		}
	})
}

// count adds or takes away a head where it reaches.
func (g *grid) count(s *shower, sign int32) {
	g.rows(s, func(y int, r row, spans []geom.Span, parts []geom.Part) {
		line := g.reach[y*g.frame.NX : (y+1)*g.frame.NX+spare]
		lay(line, s.reach, r, spans, sign)
		for _, p := range parts {
			if x := int(p.X); p.Share >= half && x >= 0 && x < len(line)-spare {
				q, _ := r.at(x)
				line[x] += sign * s.reach.rim(q)
			}
		}
	})
}

// lay adds sign times a table to whole cells of one row, which has spare cells
// past its end.
func lay(line []int32, t *Table, r row, spans []geom.Span, sign int32) {
	for _, span := range spans {
		a, b := max(int(span.X0), 0), min(int(span.X1), len(line)-spare)
		if a >= b {
			continue
		}
		q, dq := r.at(a)
		if sign > 0 {
			t.add(line[a:b+spare], q, dq, r.ddq)
		} else {
			t.sub(line[a:b+spare], q, dq, r.ddq)
		}
	}
}

// portion is a share of a rate, rounded.
func portion(v, share int32) int32 {
	return int32((int64(v)*int64(share) + half) >> 30)
}

// rows visits the rows of a head's mask that the frame has.
func (g *grid) rows(s *shower, visit func(y int, r row, spans []geom.Span, parts []geom.Part)) {
	first, last := max(s.mask.Y0, 0), min(s.mask.Y0+s.mask.Rows(), g.frame.NY)
	for y := first; y < last; y++ {
		spans, parts := s.mask.Row(y - s.mask.Y0)
		visit(y, s.curve.row(y), spans, parts)
	}
}

// amendBy adds sign times a head's amendments.
func (g *grid) amendBy(s *shower, land *ground, sign int32) {
	g.rows(s, func(y int, r row, _ []geom.Span, parts []geom.Part) {
		if len(parts) == 0 {
			return
		}
		runs := land.row(y)
		at := -1
		for _, p := range parts {
			if p.X < 0 || p.X >= int32(g.frame.NX) {
				continue
			}
			if at < 0 {
				at = runAt(runs, p.X)
			}
			for runs[at].end <= p.X {
				at++
			}
			if runs[at].of < 0 {
				g.amendCell(land, int(^runs[at].of), p, s.rimAt(&r, int(p.X), y), sign)
			}
		}
	})
}

func (g *grid) amendCell(land *ground, shared int, p geom.Part, rate, sign int32) {
	given := portion(rate, p.Share)
	from, pieces := land.piecesOf(shared)
	for k, piece := range pieces {
		due := int32(math.Round(float64(rate) * geom.Together(piece.bits, p.Bits)))
		g.amend[from+k] += sign * (due - given)
	}
}
