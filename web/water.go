package web

import (
	"context"
	"errors"
	"net/http"

	"evenfall/internal/coverage"
	"evenfall/internal/packs"
	"evenfall/internal/season"
)

// water answers with the watering plan of the stored plan. Nothing is changed by it: the
// page that takes what would make it fit makes a step of its patch.
func (s *Site) water(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		prog, err := s.program(ctx, q, g.stage(programming, 1))
		var no *noProgram
		if errors.As(err, &no) {
			return noWater(q.rev, no), nil
		}
		if err != nil {
			return nil, err
		}
		return waterWords(q.p, q.rev, prog), nil
	})
}

// noProgram says why a plan has no watering plan.
type noProgram struct{ sentence string }

func (n *noProgram) Error() string { return n.sentence }

// program is the watering plan of a question, worked out now unless it is kept from
// before. The error is a *noProgram with the sentence, or the context's.
func (s *Site) program(ctx context.Context, q question, tell coverage.Progress) (*season.Program, error) {
	a := q.o.recall(q.rev)
	if a.program != nil {
		return a.program, nil
	}
	prog, err := s.search.water(ctx, q.p, q.estimates(), tell)
	if stopped := ctx.Err(); stopped != nil {
		return nil, stopped
	}
	if err != nil {
		return nil, &noProgram{sentence(err.Error())}
	}
	a.program = prog
	q.o.remember(a)
	return prog, nil
}

// watered is an input of papers and files with the watering plan of a question.
func (s *Site) watered(ctx context.Context, q question, in packs.Input, tell coverage.Progress) (packs.Input, error) {
	prog, err := s.program(ctx, q, tell)
	var no *noProgram
	if errors.As(err, &no) {
		in.NoProgram = no.sentence
		return in, nil
	}
	in.Program = prog
	return in, err
}
