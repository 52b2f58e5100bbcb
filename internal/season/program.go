package season

import (
	"context"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/watering"
)

// Program is the watering plan of a plan: what was asked, with the chains behind it, and
// the programs of the year.
type Program struct {
	Asked *Question
	Year  *watering.Year
}

// steps are the parts that Work tells how many of are done.
const steps = 1000

// Work works out the watering plan of a plan. estimates are as Ask has them. tell may be
// nil. An error is a sentence for the user, or the context's; a program that does not fit
// is an answer.
func Work(ctx context.Context, p *plan.Plan, estimates []coverage.Estimate, tell coverage.Progress) (*Program, error) {
	if tell == nil {
		tell = func(int, int) {}
	}
	half := func(from int) func(done, total int) {
		return func(done, total int) { tell(from+steps/2*done/max(total, 1), steps) }
	}
	q, err := Ask(ctx, p, estimates, half(0))
	if err != nil {
		return nil, err
	}
	y, err := q.year(ctx, half(steps/2))
	if err != nil {
		return nil, err
	}
	tell(steps, steps)
	return &Program{Asked: q, Year: y}, nil
}
