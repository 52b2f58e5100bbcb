package packs

import (
	"context"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
)

// Watered is the input with its watering plan, worked out once for all that is made of
// it; an input that has one, or says why not, is answered as it is. tell may be nil. A
// plan that no program can be worked out for is no error: NoProgram says it, so that the
// papers are made all the same. The error is the context's.
func (in Input) Watered(ctx context.Context, tell coverage.Progress) (Input, error) {
	if in.Program != nil || in.NoProgram != "" {
		return in, nil
	}
	prog, err := season.Work(ctx, in.Plan, nil, tell)
	if ctx.Err() != nil {
		return in, ctx.Err()
	}
	if err != nil {
		in.NoProgram = plan.Capital(err.Error())
		return in, nil
	}
	in.Program = prog
	return in, nil
}

// ReadsProgram reports whether a pack is made from the watering plan.
func (k Kind) ReadsProgram() bool { return k == Owner }
