package audit

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
)

// LeastDirections are the fewest directions that leaning patterns may be given for.
const LeastDirections = 6

// ErrNoCans and ErrNoHeads say what nothing can be told without.
var (
	ErrNoCans  = errors.New("no can was read")
	ErrNoHeads = errors.New("no head is drawn")
)

// Fit tells which heads are at fault. It goes through what may be wrong: any head low,
// high or leaning, any can tipped, several at once, at several levels of noise. Each such
// account has a chance, by how well the heads could then have brought the catches and by
// how rare its faults are; within it each head is a mix, without negative parts, of its
// upright and leaning patterns. What is told is of all accounts together, so that two that
// explain the catches alike leave both open. The same problem has the same answer.
//
// Errors are ErrNoCans, ErrNoHeads, the context's, and an amount that is none or a pattern
// of another number of cans, which name the head.
func Fit(ctx context.Context, p Problem) (*Fitted, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	y := newYard(p)
	if len(y.heads) == 0 {
		return untold(p), nil
	}
	accounts, fields, err := y.accounts(ctx)
	if err != nil {
		return nil, err
	}
	views, err := y.settleAll(ctx, accounts)
	if err != nil {
		return nil, err
	}
	return y.tell(p, accounts, views, fields), nil
}

func (p *Problem) check() error {
	switch {
	case len(p.Catches) == 0:
		return ErrNoCans
	case len(p.Heads) == 0:
		return ErrNoHeads
	}
	if err := amounts(p.Catches, "can"); err != nil {
		return err
	}
	for _, v := range []float64{p.Relative, p.Reading} {
		if !(v >= 0) || v > mostCatch {
			return fmt.Errorf("the noise of a catch is %g; it is 0 or more", v)
		}
	}
	for i := range p.Heads {
		h := &p.Heads[i]
		if k := len(h.Leaning); k != 0 && k < LeastDirections || k != len(p.Heads[0].Leaning) {
			return fmt.Errorf("head %s has patterns for %d directions of leaning; every head has as many, none or %d at least", h.ID, k, LeastDirections)
		}
		for k := -1; k < len(h.Leaning); k++ {
			pattern := h.Upright
			if k >= 0 {
				pattern = h.Leaning[k]
			}
			if len(pattern) != len(p.Catches) {
				return fmt.Errorf("head %s has a pattern of %d cans; %d were read", h.ID, len(pattern), len(p.Catches))
			}
			if err := amounts(pattern, "of the pattern of head "+h.ID+", can"); err != nil {
				return err
			}
		}
	}
	return nil
}

// How much of all chances is settled in full. Chosen: outputs and their bounds are of
// these, the chances of faults of all.
// Each costs the cube of the heads, so that of many heads fewer are settled: what is left
// open of one of them differs little from account to account.
const (
	settledShare = 0.98
	mostSettled  = 64
	leastSettled = 12
	settledHeads = 64 * 60 // in all accounts together
)

// settleAll settles the likeliest accounts, their chances taken to sum to 1.
func (y *yard) settleAll(ctx context.Context, accounts []account) ([]settled, error) {
	var views []settled
	benches := make([]*bench, len(levels))
	most := min(max(settledHeads/len(y.heads), leastSettled), mostSettled)
	sum := 0.0
	for _, a := range accounts {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if benches[a.level] == nil {
			benches[a.level] = newBench(y, a.level)
		}
		v := benches[a.level].settle(a.wrong)
		v.share = a.weight
		views = append(views, v)
		if sum += a.weight; sum >= settledShare || len(views) == most {
			break
		}
	}
	for i := range views {
		views[i].share /= sum
	}
	return views, nil
}

// order puts the likeliest first.
func order(all []account) {
	slices.SortFunc(all, func(a, b account) int {
		return cmp.Or(cmp.Compare(b.weight, a.weight), cmp.Compare(a.level, b.level), slices.Compare(a.wrong, b.wrong))
	})
}

// accounts are the accounts of all levels, the likeliest first, their weights chances that
// sum to 1, and the fields of the levels.
func (y *yard) accounts(ctx context.Context) ([]account, []*field, error) {
	fields := make([]*field, len(levels))
	var all []account
	best := math.Inf(-1)
	// From the usual level outward either way, until a level is hopeless beside the best:
	// what is further out is more so.
	for _, step := range []int{1, -1} {
		for level := usualLevel; level >= 0 && level < len(levels); level += step {
			if fields[level] != nil {
				continue
			}
			fields[level] = newField(y, level)
			found, err := fields[level].seek(ctx, nil)
			if err != nil {
				return nil, nil, err
			}
			top := math.Inf(-1)
			for _, a := range found {
				top = max(top, a.weight)
			}
			all = append(all, found...)
			best = max(best, top)
			if top < best-hopeless {
				break
			}
		}
	}
	order(all)
	// Where much is wrong, all low and some high looks much like some low, and the way from
	// nothing wrong may lead to either: it is gone once more without the one.
	if len(all[0].wrong) > len(y.heads)/4 {
		for _, f := range fields {
			if f == nil {
				continue
			}
			found, err := f.seek(ctx, func(s *suspicion) bool { return s.kind == high })
			if err != nil {
				return nil, nil, err
			}
			all = append(all, found...)
		}
		order(all)
		all = slices.CompactFunc(all, func(a, b account) bool { return a.level == b.level && slices.Equal(a.wrong, b.wrong) })
		best = all[0].weight
	}
	sum := 0.0
	for i := range all {
		all[i].weight = math.Exp(all[i].weight - best)
		sum += all[i].weight
	}
	for i := range all {
		all[i].weight /= sum
	}
	return all, fields, nil
}
