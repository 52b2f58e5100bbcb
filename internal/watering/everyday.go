package watering

import (
	"context"
	"errors"

	"evenfall/internal/simplex"
)

// FitsEveryDay reports whether a month, 0 January, fits by one program on all days allowed:
// what asks for the fewest minutes of a day, so that where this runs out of hours it is
// hardly worth looking for another that does not. One month of one program is quick to
// work out. The error is a sentence about the input, or the context's.
func FitsEveryDay(ctx context.Context, in *Input, month int) (bool, error) {
	if err := in.check(); err != nil {
		return false, err
	}
	class := make([]int8, len(in.Calendar.Days))
	for d, allowed := range in.Calendar.Days {
		if !allowed {
			class[d] = -1
		}
	}
	c := candidate{q: questionOf(in, in.fields(), month, newPattern(class))}
	if err := c.solve(ctx, true); errors.Is(err, simplex.ErrLost) {
		return false, nil
	} else if err != nil {
		return false, err
	}
	m, err := c.month(ctx, in.ground())
	if err != nil {
		return false, err
	}
	return m.Fits, nil
}
