package coverage

import (
	"slices"

	"evenfall/internal/geom"
)

// landing is the water of one head on one surface, in gpm.
type landing struct {
	of  int32
	gpm float64
}

// tally gathers water by surface: a dense row with the list of what is in it.
type tally struct {
	of      []float64
	touched []int32
}

func (t *tally) size(n int) {
	if len(t.of) < n {
		t.of = make([]float64, n)
	}
}

func (t *tally) add(of int32, v float64) {
	if v == 0 {
		return
	}
	if t.of[of] == 0 {
		t.touched = append(t.touched, of)
	}
	t.of[of] += v
}

// take returns what was gathered by surface, scaled to a total, and empties it.
func (t *tally) take(total float64) []landing {
	slices.Sort(t.touched)
	sum := 0.0
	for _, of := range t.touched {
		sum += t.of[of]
	}
	out := make([]landing, 0, len(t.touched))
	for _, of := range t.touched {
		if total > 0 {
			out = append(out, landing{of, t.of[of] / sum * total})
		}
		t.of[of] = 0
	}
	t.touched = t.touched[:0]
	return out
}

// account writes a head's row of the ledger: what its cells would get, summed by
// surface, scaled so that together with what was stopped it is the head's flow.
// The raster's own sum is within 1e-4 of it; the scaling makes it exact.
func (s *shower) account(g *ground, t *tally) {
	t.size(len(g.surfaces))
	for i := range s.mask.Rows() {
		y := s.mask.Y0 + i
		spans, parts := s.mask.Row(i)
		l := ledgerRow{s: s, g: g, t: t, row: s.curve.row(y), y: y}
		if y >= 0 && y < g.frame.NY {
			l.runs = g.row(y)
		}
		for _, span := range spans {
			l.span(span)
		}
		for _, p := range parts {
			l.part(p)
		}
	}
	left := s.flow
	s.stops = s.stopsOf()
	for _, st := range s.stops {
		left -= st.share * s.flow
	}
	s.lands = t.take(max(left, 0))
}

// ledgerRow is one row of a head's mask on the ground.
type ledgerRow struct {
	s    *shower
	g    *ground
	t    *tally
	row  row
	y    int
	runs []run // none off the frame
}

func (l *ledgerRow) sum(from, to int32) float64 {
	if from >= to {
		return 0
	}
	return l.s.sumOf(&l.row, int(from), l.y, int(to-from))
}

// span splits whole cells by the runs of the ground.
func (l *ledgerRow) span(span geom.Span) {
	nx := int32(l.g.frame.NX)
	a, b := max(span.X0, 0), min(span.X1, nx)
	if len(l.runs) == 0 || a >= b {
		l.t.add(0, l.sum(span.X0, span.X1))
		return
	}
	l.t.add(0, l.sum(span.X0, a)+l.sum(b, span.X1))
	for i := runAt(l.runs, a); a < b; i++ {
		r := l.runs[i]
		end := min(r.end, b)
		v := l.sum(a, end)
		if r.of >= 0 {
			l.t.add(r.of, v)
		} else {
			_, pieces := l.g.piecesOf(int(^r.of))
			for _, p := range pieces {
				l.t.add(p.of, v*float64(p.size)/geom.Whole)
			}
		}
		a = end
	}
}

// part shares a part cell among the surfaces by the samples they have in common
// with it.
func (l *ledgerRow) part(p geom.Part) {
	v := float64(l.s.rimAt(&l.row, int(p.X), l.y)) * p.Fraction()
	if len(l.runs) == 0 || p.X < 0 || p.X >= int32(l.g.frame.NX) {
		l.t.add(0, v)
		return
	}
	r := l.runs[runAt(l.runs, p.X)]
	if r.of >= 0 {
		l.t.add(r.of, v)
		return
	}
	_, pieces := l.g.piecesOf(int(^r.of))
	if p.Bits == 0 {
		l.sliver(pieces, v)
		return
	}
	for _, k := range pieces {
		l.t.add(k.of, v*geom.Together(p.Bits, k.bits))
	}
}

// sliver shares out the water of a part too thin to have a sample: to pieces as
// thin, which lie along the same edge, or else to all by size.
func (l *ledgerRow) sliver(pieces []piece, v float64) {
	thin, all := 0.0, 0.0
	for _, k := range pieces {
		all += float64(k.size)
		if k.bits == 0 {
			thin += float64(k.size)
		}
	}
	for _, k := range pieces {
		switch {
		case thin == 0:
			l.t.add(k.of, v*float64(k.size)/all)
		case k.bits == 0:
			l.t.add(k.of, v*float64(k.size)/thin)
		}
	}
}
