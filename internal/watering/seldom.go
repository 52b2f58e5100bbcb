package watering

import (
	"context"
	"errors"

	"evenfall/internal/simplex"
)

// seldom gives each month that is keyed in by itself, because one percentage does not
// serve, the fewest of its days that take hardly more water, evenly spread: cool months
// are watered as deep as warm ones, only less often, which makes roots (common practice).
// What begins at midnight goes on doing so.
func (y *Year) seldom(ctx context.Context, in *Input, fields []*field, g ground) error {
	if y.Percent.Serves {
		return nil
	}
	for month, m := range y.Months {
		if m == nil || !m.Fits || month == y.Peak || len(m.Programs) != 1 {
			continue
		}
		for days := 1; days < len(m.Programs[0].Days); days++ {
			other, err := m.onFewer(ctx, in, fields, g, days)
			if err != nil {
				return err
			}
			if other != nil && other.Fits && other.Gallons <= m.Gallons*(1+near) && other.Begins() <= m.Begins() {
				y.Months[month] = other
				break
			}
		}
	}
	return nil
}

// onFewer is a month's program on so many of its days; nil where some soil does not last
// from one to the next, which needs no sum, and where rounding spoils it.
func (m *Month) onFewer(ctx context.Context, in *Input, fields []*field, g ground, days int) (*Month, error) {
	class := make([]int8, len(in.Calendar.Days))
	for d := range class {
		class[d] = -1
	}
	taken, _ := spread(m.Programs[0].Days, days)
	for _, d := range taken {
		class[d] = 0
	}
	p := newPattern(class)
	for i := range in.Areas {
		if lasts := in.Areas[i].Interval(m.Month); lasts > 0 && lasts < p.longest[0] {
			return nil, nil
		}
	}
	c := candidate{q: questionOf(in, fields, m.Month, p)}
	err := c.solve(ctx, true)
	if errors.Is(err, simplex.ErrLost) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return c.month(ctx, g)
}
