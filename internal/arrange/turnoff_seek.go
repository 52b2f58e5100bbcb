package arrange

import (
	"cmp"
	"context"
	"math"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// sparer keeps the water of other zones off a bed. It reads layouts as a mender does.
type sparer struct {
	*mender
	bed   plan.ID
	owns  map[plan.ID]bool // zones with heads that stand for the bed
	ownOf map[plan.ID]bool // heads of no zone that do
	heads []plan.ID        // others that may be changed and throw on the bed, most first
	fixed []plan.ID        // others that throw on it and are to stay as they are, most first

	scope  *scope
	first  trouble // of the scope, as it was
	had    float64 // water of others on the bed, as it was, gpm
	worth  float64 // of all of that, in square feet of dry ground
	forced bool    // all that can be is kept off, whatever the harm
}

// How far heads are kept off a bed. Chosen.
const (
	worthShare = 0.5  // of the water of others, from which keeping off is offered
	keptThrow  = 0.75 // of a throw, to which it may be turned down
	mostTurned = 24   // heads looked at: those that bring most
	traceShare = 0.01 // of the water of others that a head brings at least to be looked at
	passes     = 4    // over the heads: each may be set anew once its neighbours are
	turnedGain = 1.0  // square feet of dry ground that a change has to gain beyond its cost
)

// begin reads the plan, and finds whose water comes to the bed.
func (s *sparer) begin(ctx context.Context) error {
	var err error
	if s.now, err = s.read(ctx); err != nil {
		return err
	}
	s.owns, s.ownOf = map[plan.ID]bool{}, map[plan.ID]bool{}
	for _, h := range s.now.result.Heads {
		if h.Area != s.bed {
			continue
		}
		if zone := s.p.Heads[h.ID].Zone; zone != "" {
			s.owns[zone] = true
		} else {
			s.ownOf[h.ID] = true
		}
	}
	others, _ := s.water(s.now.result)
	brings := map[plan.ID]float64{}
	for i := range s.now.result.Heads {
		h := &s.now.result.Heads[i]
		if on := landedOn(h, s.bed); !s.own(h.ID) && on > traceShare*others {
			brings[h.ID] = on
		}
	}
	for _, id := range plan.SortedIDs(brings) {
		if s.free(id) {
			s.heads = append(s.heads, id)
		} else {
			s.fixed = append(s.fixed, id)
		}
	}
	for _, ids := range [][]plan.ID{s.heads, s.fixed} {
		slices.SortStableFunc(ids, func(a, b plan.ID) int { return cmp.Compare(brings[b], brings[a]) })
	}
	s.heads = s.heads[:min(len(s.heads), mostTurned)]
	return nil
}

// own reports whether a head is not to be kept off the bed.
func (s *sparer) own(id plan.ID) bool {
	zone := s.was.Heads[id].Zone
	return zone != "" && s.owns[zone] || s.ownOf[id]
}

// landedOn is the water of a head on an area, gpm.
func landedOn(h *coverage.HeadReading, area plan.ID) float64 {
	for _, l := range h.Landed {
		if l.Surface == area {
			return float64(l.GPM)
		}
	}
	return 0
}

// water is what comes to the bed, gpm.
func (s *sparer) water(r *coverage.Result) (others, own float64) {
	for i := range r.Heads {
		h := &r.Heads[i]
		if s.own(h.ID) {
			own += landedOn(h, s.bed)
		} else {
			others += landedOn(h, s.bed)
		}
	}
	return others, own
}

// look makes the scope that changes are tried in.
func (s *sparer) look(ctx context.Context) error {
	about := []plan.Ref{plan.RefTo("areas", s.bed)}
	for _, id := range s.heads {
		about = append(about, plan.RefTo("heads", id))
	}
	var err error
	if s.scope, err = s.scopeOf(ctx, plan.Finding{About: about}); err != nil {
		return err
	}
	s.first = s.scope.base
	s.had, _ = s.water(s.first.result)
	s.worth = max(float64(s.size()), badStop)
	return nil
}

// size is the ground of the bed with its edge lip.
func (s *sparer) size() units.SqFeet {
	if a := s.now.area(s.bed); a != nil {
		return a.WithLip.AreaSqFt
	}
	a := s.was.Areas[s.bed]
	size := math.Abs(a.Outline.Area())
	for _, hole := range a.Holes {
		size -= math.Abs(hole.Area())
	}
	return units.SqFeet(size)
}

// left is the share of the water of others that still comes to the bed.
func (s *sparer) left(r *coverage.Result) float64 {
	others, _ := s.water(r)
	if !(s.had > 0) {
		return 0
	}
	return others / s.had
}

// seek sets heads, one after the other and over again, to what lowers the water on the
// bed with least harm, as long as the ground they stand for keeps. The error is the
// context's.
func (s *sparer) seek(ctx context.Context, tell func(done, total int)) error {
	for pass := range passes {
		changed := false
		for i, id := range s.heads {
			if float64(s.evaluations) > triedShare*float64(s.o.Effort) {
				return nil
			}
			tell((pass*len(s.heads)+i)*700/(passes*len(s.heads)), 1000)
			r, ok, err := s.best(ctx, id)
			if err != nil {
				return err
			}
			if changed = changed || ok; ok {
				if err := s.take(ctx, &r); err != nil {
					return err
				}
			}
		}
		if !changed {
			break
		}
	}
	return nil
}

// spared is a change of one head and what comes of it.
type spared struct {
	r   remedy
	t   trouble
	sum float64
}

// checkedSpared is how many changes of a head are held to the findings, of those that
// measure best. Chosen.
const checkedSpared = 6

// best is the change of a head that lowers trouble and water on the bed most and harms
// nothing; ok is false when none is worth it.
func (s *sparer) best(ctx context.Context, id plan.ID) (best remedy, ok bool, err error) {
	now := s.sum(&s.scope.base, id)
	all, err := s.weigh(ctx, id)
	if err != nil {
		return best, false, err
	}
	slices.SortStableFunc(all, func(a, b spared) int { return cmp.Compare(a.sum, b.sum) })
	for _, c := range all[:min(len(all), checkedSpared)] {
		if c.sum > now-turnedGain {
			break
		}
		t, err := s.try(ctx, s.scope, &c.r, true)
		if err != nil {
			return best, false, err
		}
		if !s.harms(&s.first, &t) {
			return c.r, true, nil
		}
	}
	return best, false, nil
}

// weigh reads all the changes of a head that leave it a throw.
func (s *sparer) weigh(ctx context.Context, id plan.ID) ([]spared, error) {
	was := s.first.head(id)
	var out []spared
	for _, r := range s.changes(id) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		t, err := s.try(ctx, s.scope, &r, false)
		if err != nil {
			return nil, err
		}
		is := t.head(id)
		if is == nil || was == nil || float64(is.Throw) < keptThrow*float64(was.Throw)-1e-6 || is.Throw > was.Throw+1e-6 || !s.forced && s.spoils(&s.first, &t) {
			continue
		}
		had := s.p.Heads[id]
		r.apply(s.p)
		out = append(out, spared{r: r, t: t, sum: s.sum(&t, id)})
		s.p.Heads[id] = had
	}
	return out, nil
}

// sum is what is to be lowered by setting a head: trouble as measured, water of others
// on the bed, and what it costs to set it as it is now.
func (s *sparer) sum(t *trouble, id plan.ID) float64 {
	return t.measured + s.worth*s.left(t.result) + setCost(s.was.Heads[id], s.p.Heads[id])
}

// setCost is what it costs to set a head otherwise than it was.
func setCost(was, is plan.Head) float64 {
	cost := 0.0
	if was.StartDeg != is.StartDeg || was.SweepDeg != is.SweepDeg {
		cost += costTurn
	}
	if was.Nozzle != is.Nozzle {
		cost += costNozzle
	} else if !sameThrow(was, is) {
		cost += costThrow
	}
	return cost
}

func sameThrow(a, b plan.Head) bool {
	return (a.ThrowFt == nil) == (b.ThrowFt == nil) && (a.ThrowFt == nil || *a.ThrowFt == *b.ThrowFt)
}

// take makes a change part of the plan and of the scope.
func (s *sparer) take(ctx context.Context, r *remedy) error {
	r.apply(s.p)
	r.apply(s.scope.p)
	var err error
	if s.scope.base, err = s.readOf(ctx, s.scope.p, s.local, true); err != nil {
		return err
	}
	s.now, err = s.readOf(ctx, s.p, s.field, false)
	return err
}

// all keeps every head off the bed as far as can be, whatever the harm: to show what it
// would do. The error is the context's.
func (s *sparer) all(ctx context.Context) error {
	s.forced = true
	for _, id := range s.heads {
		best, least, off := spared{}, math.Inf(1), math.Inf(1)
		all, err := s.weigh(ctx, id)
		if err != nil {
			return err
		}
		for _, c := range all {
			on := landedOn(c.t.head(id), s.bed)
			if better := on < off-0.02*s.had/float64(len(s.heads)); better || on < off+1e-9 && c.sum < least {
				best, least, off = c, c.sum, min(on, off)
			}
		}
		if on := landedOn(s.scope.base.head(id), s.bed); off < on {
			if err := s.take(ctx, &best.r); err != nil {
				return err
			}
		}
	}
	return nil
}
