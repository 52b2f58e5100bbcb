package pipesize

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
)

const (
	// mostLooks is how many pairs of labels one search may look at before a
	// coarser one takes over. Chosen: a few seconds.
	mostLooks = 1 << 30
	// leastGrain is the finest pressure that a coarse search tells apart, in psi.
	leastGrain = 1.0 / 1024
	// roughGrain is that of the search that goes ahead.
	roughGrain = 1.0 / 8
)

// errMany says that a search would take too long.
var errMany = errors.New("pipesize: too many labels")

// ErrLarge says that a search neither found a choice nor showed that there is none.
var ErrLarge error = large{}

// large is told to the user as it is, so it is a sentence.
type large struct{}

func (large) Error() string {
	return "There are too many pipes and sizes to weigh against each other under a spread of pressure as narrow as this. Lock the sizes of some pipes and ask again."
}

// Answer is the cheapest choice found.
type Answer struct {
	Sizes []int // index of the size, by pipe
	Cost  float64
	// Above is how far above the least cost it may lie; 0: it is the least.
	Above float64
	Looks int // pairs of labels looked at
}

// Cheapest is the choice of least cost that keeps every limit; ok is false when
// there is none. The search goes from the outlets to the inlet: what hangs from
// a point is told by labels, and one that another beats in everything is
// dropped, which loses no least cost.
func Cheapest(ctx context.Context, t *Tree) (a Answer, ok bool, err error) {
	return cheapest(ctx, t, mostLooks, func(float64) {})
}

// progress is told which share of a work is done.
type progress func(share float64)

// part is the progress of a part of a work.
func (p progress) part(from, to float64) progress {
	return func(share float64) { p(from + (to-from)*share) }
}

// roughShare is the part of the time that the coarse search takes, about.
const roughShare = 0.1

func cheapest(ctx context.Context, t *Tree, looks int, tell progress) (a Answer, ok bool, err error) {
	t.check()
	s := newSearch(ctx, t)
	if s == nil {
		return Answer{}, false, nil
	}
	// A coarse search is quick and holds no choice for good that is not; what it
	// finds bounds the exact one.
	s.tell = tell.part(0, roughShare)
	rough, err := s.run(roughGrain, math.Inf(1), looks)
	if err != nil && err != errMany {
		return Answer{}, false, err
	}
	bound := math.Inf(1)
	if rough != nil {
		bound = rough.cost
	}
	s.tell = tell.part(roughShare, 1)
	best, err := s.run(0, bound, looks)
	grain := 0.0
	for err == errMany {
		grain = max(2*grain, leastGrain)
		if best, err = s.run(grain, bound, looks); err == nil && best == nil {
			if best = rough; rough == nil { // what holds may be lost in the grain
				return Answer{}, false, ErrLarge
			}
		}
	}
	if err != nil || best == nil {
		return Answer{}, false, err
	}
	a = Answer{Sizes: make([]int, len(t.Pipes)), Looks: s.looked}
	s.trace(best, a.Sizes)
	a.Cost = t.Cost(a.Sizes)
	if grain > 0 {
		a.Above = a.Cost - s.floor
	}
	return a, true, nil
}

// search is what is known of a tree before any label is made.
type search struct {
	ctx       context.Context
	tell      progress
	t         *Tree
	sizes     [][]int   // of each pipe, those not ruled out, by rising rank
	kids      [][]int   // of each pipe; the last: of the inlet
	rest      []float64 // least cost of everything that does not hang from a pipe, itself included
	least     []float64 // least loss from the inlet to the start of a pipe
	most      []float64 // greatest one
	floor     float64   // no choice costs less
	grain     float64
	bound     float64
	budget    int
	looked    int
	endBefore []bool // the zone ends at this pipe's start
}

// newSearch rules out sizes that no choice can have; nil when a pipe has none left.
func newSearch(ctx context.Context, t *Tree) *search {
	n := len(t.Pipes)
	s := &search{ctx: ctx, t: t, sizes: make([][]int, n), kids: make([][]int, n+1), rest: make([]float64, n),
		least: make([]float64, n), most: make([]float64, n), endBefore: make([]bool, n)}
	if !s.ruleOut() {
		return nil
	}
	cheap := make([]float64, n) // least cost of what hangs from a pipe, itself included
	for i := n - 1; i >= 0; i-- {
		b := t.Pipes[i]
		own := math.Inf(1)
		for _, c := range s.sizes[i] {
			own = min(own, b.Sizes[c].Cost)
		}
		s.floor += own
		cheap[i] += own
		if b.Up >= 0 {
			cheap[b.Up] += cheap[i]
		}
	}
	for i, b := range t.Pipes {
		s.rest[i] = s.floor - cheap[i]
		up, zone := n, -1
		if b.Up >= 0 {
			up, zone = b.Up, t.Pipes[b.Up].Zone
			lo, hi := s.losses(up)
			s.least[i], s.most[i] = s.least[up]+lo, s.most[up]+hi
		}
		s.kids[up] = append(s.kids[up], i)
		s.endBefore[i] = zone != b.Zone
	}
	return s
}

// losses are the least and the greatest loss of a pipe.
func (s *search) losses(i int) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, c := range s.sizes[i] {
		loss := float64(s.t.Pipes[i].Sizes[c].Loss)
		lo, hi = min(lo, loss), max(hi, loss)
	}
	return lo, hi
}

// ruleOut keeps of each pipe the sizes that some order of ranks allows.
func (s *search) ruleOut() bool {
	t := s.t
	floor := make([]float64, len(t.Pipes)) // least rank by what hangs from it
	for i := len(t.Pipes) - 1; i >= 0; i-- {
		b := t.Pipes[i]
		for c := range b.Sizes {
			if t.Free || b.Sizes[c].Rank >= floor[i] {
				s.sizes[i] = append(s.sizes[i], c)
			}
		}
		slices.SortStableFunc(s.sizes[i], func(x, y int) int {
			return cmp.Compare(b.Sizes[x].Rank, b.Sizes[y].Rank)
		})
		if len(s.sizes[i]) == 0 {
			return false
		}
		if b.Up >= 0 {
			floor[b.Up] = max(floor[b.Up], b.Sizes[s.sizes[i][0]].Rank)
		}
	}
	for i, b := range t.Pipes {
		if b.Up < 0 || t.Free {
			continue
		}
		up := s.sizes[b.Up]
		most := t.Pipes[b.Up].Sizes[up[len(up)-1]].Rank
		s.sizes[i] = slices.DeleteFunc(s.sizes[i], func(c int) bool { return b.Sizes[c].Rank > most })
		if len(s.sizes[i]) == 0 {
			return false
		}
	}
	return true
}

// ranked are labels of a pipe at sizes up to a rank.
type ranked struct {
	rank   float64
	labels []label
}

// run makes the labels of every pipe, from the outlets up, and returns the
// cheapest at the inlet; nil when nothing holds.
func (s *search) run(grain, bound float64, budget int) (*label, error) {
	s.grain, s.bound, s.budget = grain, bound+1e-9*(1+math.Abs(bound)), s.looked+budget
	fronts := make([][]ranked, len(s.t.Pipes))
	for i := len(s.t.Pipes) - 1; i >= 0; i-- {
		var err error
		if fronts[i], err = s.pipe(i, fronts); err != nil {
			return nil, err
		}
		for _, k := range s.kids[i] {
			fronts[k] = nil // its labels live on by those made of them
		}
		s.tell(1 - float64(i)/float64(len(s.t.Pipes)))
	}
	at, err := s.joint(s.kids[len(s.t.Pipes)], fronts, math.Inf(1), limits{high: float64(s.t.Inlet), low: float64(s.t.Inlet), spread: math.Inf(1)})
	if err != nil || len(at) == 0 {
		return nil, err
	}
	return &at[0], nil
}

// limits are what a label must keep at a point, whatever the pipes above are.
type limits struct {
	high, low float64 // greatest and least pressure that can reach the point
	spread    float64
	rest      float64 // least cost of all else
}

func (s *search) keeps(l *label, m *limits) bool {
	return l.cost+m.rest <= s.bound && l.need <= m.high+slack && l.most >= m.low-slack && l.high-l.low <= m.spread+slack
}

// pipe makes the labels of one pipe at its start, by rank.
func (s *search) pipe(i int, fronts [][]ranked) ([]ranked, error) {
	b := &s.t.Pipes[i]
	lo, hi := s.losses(i)
	start := limits{high: float64(s.t.Inlet) - s.least[i], low: float64(s.t.Inlet) - s.most[i], spread: math.Inf(1), rest: s.rest[i]}
	if b.Zone >= 0 {
		start.spread = float64(s.t.Zones[b.Zone].Most)
	}
	end := start
	end.high, end.low = start.high-lo, start.low-hi
	var all []ranked
	var upTo []label
	for n, c := range s.sizes[i] {
		size := b.Sizes[c]
		hang, err := s.joint(s.kids[i], fronts, size.Rank, end)
		if err != nil {
			return nil, err
		}
		next := make([]label, 0, len(upTo)+len(hang))
		next = append(next, upTo...)
		for h := range hang {
			if l := s.through(b, &hang[h], c, size); s.keeps(&l, &start) {
				if s.endBefore[i] {
					l.high, l.low = nothing.high, nothing.low
				}
				next = append(next, l)
			}
		}
		kept, looked := front(next)
		s.looked += looked
		upTo = slices.Clone(kept)
		if last := n == len(s.sizes[i])-1; last || b.Sizes[s.sizes[i][n+1]].Rank > size.Rank {
			all = append(all, ranked{size.Rank, upTo})
		}
	}
	return all, nil
}

// through is a label at the start of a pipe of a size with l at its end.
func (s *search) through(b *Branch, l *label, c int, size Size) label {
	n := *l
	if b.Out != nil {
		n.need, n.most = max(n.need, float64(b.Out.Least+b.Out.After)), min(n.most, float64(b.Out.Most+b.Out.After))
		if b.Out.Spread && b.Zone >= 0 && !math.IsInf(float64(s.t.Zones[b.Zone].Most), 1) {
			n.high, n.low = max(n.high, float64(b.Out.After)), min(n.low, float64(b.Out.After))
		}
	}
	loss := float64(size.Loss)
	n.cost += size.Cost
	n.need, n.most, n.high, n.low = n.need+loss, n.most+loss, n.high+loss, n.low+loss
	n.size, n.a, n.b = int32(c), l, nil
	if g := s.grain; g > 0 {
		n.need, n.high = math.Ceil(n.need/g)*g, math.Ceil(n.high/g)*g
		n.most, n.low = math.Floor(n.most/g)*g, math.Floor(n.low/g)*g
	}
	return n
}

// joint makes the labels of what hangs from a point by several pipes, none of
// them over a rank.
func (s *search) joint(kids []int, fronts [][]ranked, rank float64, m limits) ([]label, error) {
	if s.t.Free {
		rank = math.Inf(1)
	}
	have := []label{nothing}
	for _, k := range kids {
		if err := s.ctx.Err(); err != nil {
			return nil, err
		}
		var kid []label
		for _, r := range fronts[k] {
			if r.rank <= rank {
				kid = r.labels
			}
		}
		var err error
		if have, err = s.join(have, kid, m); err != nil {
			return nil, err
		}
	}
	return have, nil
}

// compactAt is how many labels are gathered before those that are beaten go.
const compactAt = 1 << 14

// join makes every pair of two fronts that may still be part of the cheapest choice.
func (s *search) join(a, b []label, m limits) ([]label, error) {
	if len(a) == 0 || len(b) == 0 {
		return nil, nil
	}
	plain := true
	for i := range a {
		plain = plain && a[i].plain()
	}
	for i := range b {
		plain = plain && b[i].plain()
	}
	if plain {
		all := stairs(a, b)
		s.looked += len(all)
		return slices.DeleteFunc(all, func(l label) bool { return !s.keeps(&l, &m) }), nil
	}
	var all []label
	compact := func() {
		kept, looked := front(all)
		all = kept
		s.looked += looked
	}
	next := compactAt
	for i := range a {
		for j := range b {
			if a[i].cost+b[j].cost+m.rest > s.bound {
				break // the others cost more
			}
			s.looked++
			if l := beside(&a[i], &b[j]); s.keeps(&l, &m) {
				all = append(all, l)
			}
		}
		if len(all) > next {
			compact()
			next = max(2*len(all), compactAt)
			if err := s.ctx.Err(); err != nil {
				return nil, err
			}
			if s.looked > s.budget {
				return nil, errMany
			}
		}
	}
	compact()
	if s.looked > s.budget {
		return nil, errMany
	}
	return slices.Clone(all), nil
}

// trace writes the sizes that a label was made of.
func (s *search) trace(l *label, sizes []int) { s.follow(l, s.kids[len(sizes)], sizes) }

// follow goes down a joint: its labels were joined in the order of its pipes.
func (s *search) follow(l *label, kids []int, sizes []int) {
	for i := len(kids) - 1; i >= 0; i-- {
		pipe := l.b
		sizes[kids[i]] = int(pipe.size)
		s.follow(pipe.a, s.kids[kids[i]], sizes)
		l = l.a
	}
}
