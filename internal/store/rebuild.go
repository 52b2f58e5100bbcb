package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math"
	"slices"

	"evenfall/internal/plan"
)

// lastStep is after every step there can be.
const lastStep = math.MaxInt64

// At returns the document of a plan after one of its steps, taken back or not,
// and the step. It is rebuilt from the nearest whole document and checked
// against the checksum noted when the step was made.
func (s *Store) At(ctx context.Context, id string, number int64) ([]byte, plan.Step, error) {
	return at(ctx, s.read, id, number)
}

func at(ctx context.Context, q querier, id string, number int64) ([]byte, plan.Step, error) {
	st, want, err := stepWithSum(ctx, q, id, number)
	if err != nil {
		return nil, st, err
	}
	near, err := frames(ctx, q, id, number)
	if err != nil {
		return nil, st, err
	}
	for _, f := range near {
		doc, err := rebuild(ctx, q, id, f, number)
		if err != nil {
			return nil, st, err
		}
		if doc != nil && plan.Digest(doc) == want {
			return doc, st, nil
		}
	}
	return nil, st, &plan.Damaged{ID: id, Reason: fmt.Sprintf("its step %d cannot be rebuilt", number)}
}

// frame is a whole document on the line of a plan's history, read back and
// found to be the one of its step.
type frame struct {
	pos int64
	doc []byte
}

// frames returns the whole documents of a plan that belong to steps on its
// line, the nearest to a step first. Damaged ones are left out.
func frames(ctx context.Context, q querier, id string, number int64) ([]frame, error) {
	rows, err := q.QueryContext(ctx, `
		SELECT w.pos, w.doc, s.sha256 FROM (
			SELECT pos, doc, sha256 FROM points WHERE plan = ?1
			UNION ALL SELECT pos, doc, sha256 FROM plans WHERE id = ?1
		) w JOIN steps s ON s.plan = ?1 AND s.pos = w.pos AND s.sha256 = w.sha256
		ORDER BY abs(w.pos - ?2)`, id, number)
	if err != nil {
		return nil, fmt.Errorf("store: frames: %w", explain(err))
	}
	defer rows.Close()
	var list []frame
	for rows.Next() {
		var f frame
		var sum string
		if err := rows.Scan(&f.pos, &f.doc, &sum); err != nil {
			return nil, fmt.Errorf("store: frames: %w", explain(err))
		}
		if plan.Digest(f.doc) == sum {
			list = append(list, f)
		}
	}
	return list, rows.Err()
}

// rebuild walks from a frame to the document after a step. It returns nil when
// a patch on the way does not fit.
func rebuild(ctx context.Context, q querier, id string, from frame, number int64) ([]byte, error) {
	if from.pos == number {
		return from.doc, nil
	}
	steps, err := stepsBetween(ctx, q, id, min(from.pos, number), max(from.pos, number))
	if err != nil {
		return nil, err
	}
	patches := make([]plan.Patch, 0, len(steps))
	for _, st := range steps {
		if number > from.pos {
			patches = append(patches, st.Patch)
		} else {
			patches = append(patches, st.Inverse)
		}
	}
	if number < from.pos {
		slices.Reverse(patches)
	}
	doc, err := plan.Replay(from.doc, patches...)
	if err != nil {
		return nil, nil //nolint:nilerr // damaged on the way: another frame may lead there
	}
	return doc, nil
}

// summed is a step with the checksum of the document after it.
type summed struct {
	plan.Step
	sum string
}

// stepsBetween returns the steps after one and up to another, oldest first.
func stepsBetween(ctx context.Context, q querier, id string, after, upTo int64) ([]summed, error) {
	rows, err := q.QueryContext(ctx, `
		SELECT s.sha256, s.pos, s.rev, s.patch, s.inverse, s.label, s.at, s.pos > p.pos
		FROM plans p JOIN steps s ON s.plan = p.id WHERE p.id = ? AND s.pos > ? AND s.pos <= ? ORDER BY s.pos`, id, after, upTo)
	if err != nil {
		return nil, fmt.Errorf("store: steps: %w", explain(err))
	}
	defer rows.Close()
	var list []summed
	for rows.Next() {
		var st summed
		if err := scanStep(after1{rows, &st.sum}, &st.Step); err != nil {
			return nil, fmt.Errorf("store: steps: %w", explain(err))
		}
		list = append(list, st)
	}
	return list, rows.Err()
}

// after1 scans a row whose first column comes before those asked for.
type after1 struct {
	row   interface{ Scan(...any) error }
	first any
}

func (a after1) Scan(rest ...any) error { return a.row.Scan(append([]any{a.first}, rest...)...) }

func stepWithSum(ctx context.Context, q querier, id string, number int64) (plan.Step, string, error) {
	var st summed
	err := scanStep(after1{q.QueryRowContext(ctx, `
		SELECT s.sha256, s.pos, s.rev, s.patch, s.inverse, s.label, s.at, s.pos > p.pos
		FROM plans p JOIN steps s ON s.plan = p.id WHERE p.id = ? AND s.pos = ?`, id, number), &st.sum}, &st.Step)
	if !errors.Is(err, sql.ErrNoRows) {
		return st.Step, st.sum, err
	}
	var rev int64
	if err := q.QueryRowContext(ctx, "SELECT rev FROM plans WHERE id = ?", id).Scan(&rev); errors.Is(err, sql.ErrNoRows) {
		return st.Step, "", plan.ErrNotFound
	} else if err != nil {
		return st.Step, "", fmt.Errorf("store: step: %w", explain(err))
	}
	return st.Step, "", plan.ErrNoPoint
}

// forward goes along steps as far as each leads to the document noted for it,
// and returns the last such document and how many steps it is along.
func forward(doc []byte, steps []summed) ([]byte, int) {
	for i, st := range steps {
		next, err := plan.Replay(doc, st.Patch)
		if err != nil || plan.Digest(next) != st.sum {
			return doc, i
		}
		doc = next
	}
	return doc, len(steps)
}
