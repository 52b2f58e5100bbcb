package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"

	"evenfall/internal/plan"
)

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
	var below, above bool
	for _, f := range near {
		tried := &below
		if f.pos > number {
			tried = &above
		}
		if *tried {
			continue // the way from further off leads through the one tried
		}
		if err := f.read(ctx, q); err != nil {
			return nil, st, err
		}
		if *tried = f.doc != nil; !*tried {
			continue
		}
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

// frame is where a whole document on the line of a plan's history is kept, and
// the document once it was read.
type frame struct {
	pos   int64
	plan  string
	point int64  // 0: the plan's own document
	sum   string // of the step it is of
	doc   []byte // nil until it is read, and if it is not what was written
}

// frames returns where the whole documents of a plan are that belong to steps
// on its line, the nearest to a step first. They are not read here: a history
// may have hundreds, of megabytes each.
func frames(ctx context.Context, q querier, id string, number int64) ([]frame, error) {
	rows, err := q.QueryContext(ctx, `
		SELECT w.pos, w.point, s.sha256 FROM (
			SELECT pos, id AS point, sha256 FROM points WHERE plan = ?1
			UNION ALL SELECT pos, 0, sha256 FROM plans WHERE id = ?1
		) w JOIN steps s ON s.plan = ?1 AND s.pos = w.pos AND s.sha256 = w.sha256
		ORDER BY abs(w.pos - ?2)`, id, number)
	if err != nil {
		return nil, fmt.Errorf("store: frames: %w", explain(err))
	}
	defer rows.Close()
	var list []frame
	for rows.Next() {
		f := frame{plan: id}
		if err := rows.Scan(&f.pos, &f.point, &f.sum); err != nil {
			return nil, fmt.Errorf("store: frames: %w", explain(err))
		}
		list = append(list, f)
	}
	return list, rows.Err()
}

// read reads the document of a frame, unless it is damaged.
func (f *frame) read(ctx context.Context, q querier) error {
	var doc []byte
	err := q.QueryRowContext(ctx, "SELECT doc FROM points WHERE id = ?1 UNION ALL SELECT doc FROM plans WHERE ?1 = 0 AND id = ?2", f.point, f.plan).Scan(&doc)
	if err != nil && !errors.Is(err, sql.ErrNoRows) { // it may be gone since it was found
		return fmt.Errorf("store: frame: %w", explain(err))
	}
	if plan.Digest(doc) == f.sum {
		f.doc = doc
	}
	return nil
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
