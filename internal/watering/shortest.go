package watering

import (
	"context"
	"errors"
	"slices"

	"evenfall/internal/simplex"
)

// shortest goes on to patterns of more water where the minutes of those of the least fit
// a day and their timetables do not: those first whose timetables, with minutes rounded
// up, end first.
func (in *Input) shortest(ctx context.Context, best *Month, rest []*candidate, g ground, e effort) (*Month, error) {
	ends := map[*candidate]int{}
	for _, c := range rest {
		ends[c] = c.ends(g)
	}
	slices.SortStableFunc(rest, func(x, y *candidate) int { return ends[x] - ends[y] })
	for _, c := range rest[:min(len(rest), e.more)] {
		err := c.solve(ctx, true)
		if errors.Is(err, simplex.ErrLost) {
			continue
		}
		if err != nil {
			return nil, err
		}
		m, err := c.month(ctx, g)
		if err != nil {
			return nil, err
		}
		if m.nearer(best) {
			best = m
		}
		if m.Fits {
			break
		}
	}
	return best, nil
}

// ends is when the timetable of its longest day ends, minutes rounded up.
func (c *candidate) ends(g ground) int {
	w, last := c.q.roundUp(c.a, g), 0
	for class := range classes {
		if p, any := c.q.programOf(w, class, g); any {
			last = max(last, p.Ends)
		}
	}
	return last
}
