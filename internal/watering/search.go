package watering

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"evenfall/internal/simplex"
)

// near is the share of the least water that a simpler program may take more (chosen).
const near = 0.01

// candidate is a pattern with what it takes, by the cuts known so far.
type candidate struct {
	q        *question
	a        *answer
	lines    int // stations of all its programs: the figures to be keyed in
	visits   int // runs of a station in a cycle
	programs int
	days     int
}

// effort is how many patterns are solved to the cell.
type effort struct {
	sure  int // to know the least
	exact int // of those near the least, for the simplest of them
	more  int // of the others, where ground has to soak longer than a day has
	again int // times it is looked for with less of each day to run in
}

// The efforts for a program and for what would make it fit (chosen).
var (
	thorough = effort{8, 6, 8, 3}
	quick    = effort{2, 2, 4, 1}
)

// search finds the program of a month. Where the minutes fit a day and the timetable does
// not, as ground has to soak, it is looked for again with as much of each day left free.
func (in *Input) search(ctx context.Context, fields []*field, month int, g ground, e effort, tell progress) (*Month, error) {
	best, err := in.searchBy(ctx, fields, month, g, e, 0, tell.part(0, 60))
	if err != nil {
		return nil, err
	}
	tight := 0
	for again, m := 0, best; again < e.again && m.bound(Hours) && m.w.a.fits(); again++ {
		tight += min(m.Over, (in.Calendar.window()-tight)/2)
		if m, err = in.searchBy(ctx, fields, month, g, e, tight, tell.part(60+13*again, 73+13*again)); err != nil {
			return nil, err
		}
		if m.nearer(best) {
			best = m
		}
	}
	return best, nil
}

// searchBy finds the least water of all patterns, and of those that take hardly more the
// one with the fewest figures to key in, then runs, programs and days. What does not fit costs dearly, so
// that what fits is found first. Patterns are gone through by what they cost at least, by
// the cuts known, until none can cost less than what is found.
func (in *Input) searchBy(ctx context.Context, fields []*field, month int, g ground, e effort, tight int, tell progress) (*Month, error) {
	var all []*candidate
	for _, p := range looked(patterns(in.Calendar.Days, in.Controller.programs()), len(in.Zones)) {
		q := questionOf(in, fields, month, p)
		q.tight = tight
		all = append(all, &candidate{q: q})
	}
	all, err := bound(ctx, all, tell.part(0, 45))
	if err != nil {
		return nil, err
	}
	// The first, made exact, brings the cuts by which the rest near it are judged anew.
	var first *answer
	for lost := error(nil); first == nil; all = all[1:] {
		if len(all) == 0 {
			return nil, lost
		}
		if first, err = all[0].q.solve(ctx, true); err == nil {
			break
		}
		if lost = err; !errors.Is(err, simplex.ErrLost) {
			return nil, err
		}
	}
	rest := slices.DeleteFunc(slices.Clone(all), func(c *candidate) bool { return !c.a.fits() })
	all = slices.DeleteFunc(all, func(c *candidate) bool { return c.a.cost > first.cost*(1+near)+1e-6 })
	if all, err = bound(ctx, again(all, e.sure, len(in.Zones)), tell.part(50, 75)); err != nil {
		return nil, err
	}
	least := -1.0
	for i, c := range all {
		if i == e.sure || least >= 0 && c.a.cost >= least {
			break
		}
		err := c.solve(ctx, true)
		if errors.Is(err, simplex.ErrLost) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if least < 0 || c.a.cost < least {
			least = c.a.cost
		}
	}
	if least < 0 { // all lost: by the one that was not
		least = first.cost
	}
	best, err := in.simplest(ctx, all, least, g, e, tell.part(75, 95))
	if err != nil || best.Fits || !best.w.a.fits() {
		return best, err
	}
	return in.shortest(ctx, best, rest, g, e)
}

// bound is what all cost at least, by the cuts known, the cheapest first. One that
// rounding spoils is left out: there are others. The error is that of the last when all
// are.
func bound(ctx context.Context, all []*candidate, tell progress) ([]*candidate, error) {
	var lost error
	var kept []*candidate
	for i, c := range all {
		tell.at(i, len(all))
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		err := c.solve(ctx, false)
		if errors.Is(err, simplex.ErrLost) {
			lost = err
			continue
		}
		if err != nil {
			return nil, err
		}
		kept = append(kept, c)
	}
	if len(kept) == 0 {
		return nil, lost
	}
	slices.SortStableFunc(kept, func(x, y *candidate) int { return before(x.a.cost, y.a.cost) })
	return kept, nil
}

func before[T int | float64](x, y T) int {
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

func (c *candidate) solve(ctx context.Context, exact bool) error {
	a, err := c.q.solve(ctx, exact)
	if err != nil {
		return err
	}
	c.a, c.lines, c.visits, c.programs, c.days = a, 0, 0, 0, 0
	for class, n := range c.q.p.count {
		ran := 0
		for z := range a.minutes {
			if a.minutes[z][class] > 1e-6 {
				ran++
			}
		}
		c.lines += ran
		c.visits += ran * n
		if ran > 0 {
			c.programs++
			c.days += n
		}
	}
	return nil
}

// simplest is the simplest of the patterns near the least whose timetable fits; when
// none's does, the one that is over by least.
func (in *Input) simplest(ctx context.Context, all []*candidate, least float64, g ground, e effort, tell progress) (*Month, error) {
	var good []*candidate
	for _, c := range all {
		if c.a.cost <= least*(1+near)+1e-6 {
			good = append(good, c)
		}
	}
	slices.SortStableFunc(good, func(x, y *candidate) int {
		if fits := x.a.fits(); fits != y.a.fits() {
			if fits {
				return -1
			}
			return 1
		}
		return cmp.Or(x.lines-y.lines, x.visits-y.visits, x.programs-y.programs, x.days-y.days)
	})
	var best *Month
	var lost error
	tried := 0
	for _, c := range good {
		if tried == e.exact && best != nil {
			break
		}
		tell.at(tried, e.exact)
		if !c.a.exact {
			err := c.solve(ctx, true)
			if errors.Is(err, simplex.ErrLost) {
				lost = err
				continue
			}
			if err != nil {
				return nil, err
			}
			if c.a.cost > least*(1+near)+1e-6 {
				continue
			}
		}
		tried++
		m, err := c.month(ctx, g)
		if err != nil {
			return nil, err
		}
		if best == nil || m.nearer(best) {
			best = m
		}
		if m.Fits {
			break
		}
	}
	if best == nil {
		return nil, lost
	}
	return best, nil
}

// nearer reports whether a program is nearer to one that fits than another: no plants go
// short, then fewer limits broken, then fewer minutes over, then fewer starts missing.
func (m *Month) nearer(than *Month) bool {
	if short, other := m.bound(Soil) || m.bound(Reach), than.bound(Soil) || than.bound(Reach); short != other {
		return other
	}
	if d := len(m.Binds) - len(than.Binds); d != 0 {
		return d < 0
	}
	if d := m.Over - than.Over; d != 0 {
		return d < 0
	}
	return m.missing(Starts) < than.missing(Starts)
}

// missing is by how much a limit is not kept, all programs together.
func (m *Month) missing(limit string) float64 {
	sum := 0.0
	for _, b := range m.Binds {
		if b.Limit == limit {
			sum += b.By
		}
	}
	return sum
}

// month makes a program of a candidate, exactly solved: of those that cost the same with
// the same stations in its programs the smoothest.
func (c *candidate) month(ctx context.Context, g ground) (*Month, error) {
	if anyLarge(c.q.fields) { // it is only near the least, so that none costs the same
		return c.q.asMonth(c.a, g), nil
	}
	q := *c.q
	q.smooth, q.may = true, slices.Clone(q.may)
	for z := range q.may {
		for class := range classes {
			q.may[z][class] = q.may[z][class] && c.a.minutes[z][class] > 1e-6
		}
	}
	a, err := q.solve(ctx, true)
	if errors.Is(err, simplex.ErrLost) { // the smoothing is no need
		return c.q.asMonth(c.a, g), nil
	}
	if err != nil {
		return nil, err
	}
	return q.asMonth(a, g), nil
}
