package arrange

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// rowKind is where along a run a row of strips stands.
type rowKind int

const (
	rightRow rowKind = iota // along the right edge, wetting to the left
	leftRow
	middleRow
	bothRows // along both edges
	rowKinds
)

// row is one way to set strips out along a run: equal intervals, end strips at its
// ends where the stock has them.
type row struct {
	kind  rowKind
	wide  float64 // of the band, feet
	throw float64
	gaps  int  // intervals
	ends  bool // end strips at both ends; without them the row begins half an interval in
	// before and after let the row reach over the ends of the run.
	before, after bool
}

// Bounds of the spacing of strips, in throws: at 1 the sum along the row is level;
// at 1.4 its least is 0.7 of its most. Chosen.
const (
	leastGap = 0.7
	mostGap  = 1.4
)

// rowsOf are the ways to set strips out along a run.
func (s *search) rowsOf(r *run) []row {
	var widths, throws []float64
	for i := range s.kit.strips {
		k := &s.kit.strips[i]
		widths = append(widths, float64(k.strip.Left+k.strip.Right))
		throws = append(throws, float64(k.throw))
	}
	slices.Sort(widths)
	slices.Sort(throws)
	var out []row
	for _, wide := range slices.Compact(widths) {
		for _, throw := range slices.Compact(throws) {
			for reach := range 4 {
				w := row{wide: wide, throw: throw, before: reach&1 > 0, after: reach&2 > 0}
				if w.before && r.before == 0 || w.after && r.after == 0 {
					continue
				}
				long := r.long
				if w.before {
					long += r.before
				}
				if w.after {
					long += r.after
				}
				least := max(1, int(math.Ceil(long/(mostGap*throw)-1e-9)))
				for w.gaps = least; w.gaps <= max(least, int(long/(leastGap*throw))); w.gaps++ {
					out = append(out, s.kindsOf(r, w)...)
				}
			}
		}
	}
	return out
}

// kindsOf are a row along each edge, along the middle and along both edges, with
// end strips and without.
func (s *search) kindsOf(r *run, w row) []row {
	var out []row
	for w.kind = range rowKinds {
		if w.kind == bothRows && w.wide > 0.75*r.wide {
			continue
		}
		for _, w.ends = range []bool{true, false} {
			out = append(out, w)
		}
	}
	return out
}

// rowHeads stands a row on a run. It reports false when the stock or the ground has
// not what it takes.
func (s *search) rowHeads(r *run, w row) ([]stand, bool) {
	switch w.kind {
	case leftRow:
		t := r.turned()
		w.before, w.after = w.after, w.before
		return s.oneRow(&t, w, toLeft, 0)
	case middleRow:
		return s.oneRow(r, w, toBoth, r.wide/2)
	case bothRows:
		a, ok := s.oneRow(r, w, toLeft, 0)
		if !ok {
			return nil, false
		}
		t := r.turned()
		w.before, w.after = w.after, w.before
		b, ok := s.oneRow(&t, w, toLeft, 0)
		return append(a, b...), ok
	}
	return s.oneRow(r, w, toLeft, 0)
}

// oneRow stands one row across feet left of a run's right edge.
func (s *search) oneRow(r *run, w row, to lean, across float64) ([]stand, bool) {
	from, until := 0.0, r.long
	if w.before {
		from -= r.before
	}
	if w.after {
		until += r.after
	}
	if !w.ends {
		half := (until - from) / float64(w.gaps) / 2
		var out []stand
		for i := range w.gaps {
			h, ok := s.strip(r, from+half+2*half*float64(i), across, w, to, true, true)
			if !ok {
				return nil, false
			}
			out = append(out, h)
		}
		return out, true
	}
	first, ok := s.strip(r, from, across, w, to, true, false)
	last, also := s.strip(r, until, across, w, to, false, true)
	if !ok || !also {
		return nil, false
	}
	a, b := r.along(first.at), r.along(last.at) // set-backs keep them off the ends
	out := []stand{first}
	for i := 1; i < w.gaps; i++ {
		h, ok := s.strip(r, a+(b-a)*float64(i)/float64(w.gaps), across, w, to, true, true)
		if !ok {
			return nil, false
		}
		out = append(out, h)
	}
	return append(out, last), b > a
}

// offTheLine is how far from its place in the row a head may have to stand, feet:
// more is not that row. Chosen.
const offTheLine = 2.0

// strip is a head of a row at a place along a run.
func (s *search) strip(r *run, along, across float64, w row, to lean, ahead, back bool) (stand, bool) {
	for k := range s.kit.strips {
		set := &s.kit.strips[k]
		if math.Abs(float64(set.throw)-w.throw) > 1e-6 || math.Abs(float64(set.strip.Left+set.strip.Right)-w.wide) > 1e-6 {
			continue
		}
		turned, ok := fits(set.strip, to, ahead, back)
		if !ok {
			continue
		}
		h, ok := s.standAt(r.place(along, across))
		if !ok {
			return stand{}, false
		}
		h.base, h.turn, h.sweep = r.dir, 0, k
		if turned {
			h.base += 180
		}
		return h, s.pick(&h)
	}
	return stand{}, false
}

// standAt is a head at a place, or at the nearest where one may stand.
func (s *search) standAt(p orb.Point) (stand, bool) {
	ring, along, off := s.nearestEdge(p)
	if geom.Contains(s.ground.stand, p) && off > 0.01 {
		return s.within(p), true
	}
	if ring == inside || off > offTheLine {
		return stand{}, false
	}
	return s.onEdge(ring, along), true
}

// Bounds of the look at strips: evaluations, and how often each run of several is
// looked at again. Chosen.
const (
	stripReads = 12_000
	stripTurns = 2
)

// strips are layouts of strip nozzles along the straight runs of narrow ground, the
// best few by number of heads: end strips at the ends, side strips along an edge or
// centre strips along the middle at equal intervals between them. None of them wets
// more paving than may be wetted. Without any, why says why in a sentence; it is
// empty where the kit is none of strips.
func (s *search) strips(ctx context.Context) (found []candidate, why string) {
	if len(s.kit.strips) == 0 {
		return nil, ""
	}
	_, most := s.kit.stripWidths()
	runs := runsOf(s.ground.wet, most+widerThan)
	if why = s.noStrips(runs); why != "" {
		return nil, why
	}
	slices.SortStableFunc(runs, func(a, b run) int { return cmp.Compare(b.long, a.long) })
	l := &laying{s: s, b: &bench{s: s, trial: s.trial}, runs: runs}
	l.search(ctx)
	s.evaluate += l.b.reads
	s.clear(l.b)
	if len(l.found) == 0 {
		if l.wets {
			return nil, fmt.Sprintf("On %s strip nozzles would wet more paving than may be wetted.", s.ground.name)
		}
		return nil, fmt.Sprintf("No strip nozzles of the stock can stand along %s at equal intervals.", s.ground.name)
	}
	return byHeads(l.found, seedFew), ""
}

// laying is the look at the rows of all runs.
type laying struct {
	s     *search
	b     *bench
	runs  []run
	rows  [][]stand // of each run, as best so far
	best  float64   // its cost
	found []candidate
	wets  bool // some were left out for the paving they wet
}

// search gives every run its rows in turn, the others as they are best so far.
func (l *laying) search(ctx context.Context) {
	l.rows, l.best = make([][]stand, len(l.runs)), math.Inf(1)
	turns := stripTurns
	if len(l.runs) == 1 {
		turns = 1
	}
	for range turns {
		before := l.best
		for i := range l.runs {
			l.try(ctx, i)
		}
		if l.best > before-1e-9 {
			return
		}
	}
}

// try tries all rows of one run, and none where other runs water its ground.
func (l *laying) try(ctx context.Context, i int) {
	keep := l.rows[i]
	if len(l.runs) > 1 {
		l.read(i, nil, &keep)
	}
	for _, w := range l.s.rowsOf(&l.runs[i]) {
		if ctx.Err() != nil || l.b.reads >= stripReads {
			break
		}
		if heads, ok := l.s.rowHeads(&l.runs[i], w); ok {
			l.read(i, heads, &keep)
		}
	}
	l.rows[i] = keep
}

// read reads the layout with some heads on a run and keeps them where it is the
// best so far.
func (l *laying) read(i int, heads []stand, keep *[]stand) {
	c := candidate{tidy: true, heads: slices.Clone(l.s.stays)}
	for k := range l.runs {
		own := l.rows[k]
		if k == i {
			own = heads
		}
		for _, h := range own {
			if l.s.free(h.at, c.heads, 0.5) {
				c.heads = append(c.heads, h)
			}
		}
	}
	if len(c.heads) == len(l.s.stays) || len(c.heads) > seedHeads {
		return
	}
	l.b.read(&c)
	if c.cost < l.best-1e-12 {
		l.best, *keep = c.cost, heads
	}
	if c.tried.Hard > units.GPM(l.s.o.Hard)*c.tried.Flow {
		l.wets = true
		return
	}
	l.keep(c)
}

// keep keeps the best few of each number of heads.
func (l *laying) keep(c candidate) {
	if l.found = append(l.found, c); len(l.found) > 400 {
		l.found = byHeads(l.found, seedFew)
	}
}

// noStrips says why strip nozzles, where they were tried, do not suit the area; ""
// when they do.
func (j *job) noStrips() string {
	for _, s := range j.searches {
		if s != nil && s.why != "" {
			return s.why
		}
	}
	return ""
}
