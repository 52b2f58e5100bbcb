package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"evenfall/internal/plan"
)

// LastGood returns the newest state of a plan that is still what was written,
// for a plan whose document is not. It returns *plan.Damaged when none is left.
func (s *Store) LastGood(ctx context.Context, id string) (plan.Good, error) {
	return lastGood(ctx, s.read, id)
}

// recoveredEnd is added to the name of a plan that was recovered.
const recoveredEnd = " (recovered)"

// Recover keeps the newest good state of a damaged plan as a new plan. The
// damaged one is left as it is.
func (s *Store) Recover(ctx context.Context, id string) (plan.Saved, error) {
	good, err := lastGood(ctx, s.read, id)
	if err != nil {
		return plan.Saved{}, err
	}
	p, err := plan.Decode(good.Doc)
	if err != nil {
		return plan.Saved{}, err
	}
	name := []rune(p.Name)
	p.Name = string(name[:min(len(name), plan.MaxText-len(recoveredEnd))]) + recoveredEnd
	return s.Create(ctx, p.Encode())
}

func lastGood(ctx context.Context, q querier, id string) (plan.Good, error) {
	var pos int64
	err := q.QueryRowContext(ctx, "SELECT pos FROM plans WHERE id = ?", id).Scan(&pos)
	if errors.Is(err, sql.ErrNoRows) {
		return plan.Good{}, plan.ErrNotFound
	}
	if err != nil {
		return plan.Good{}, fmt.Errorf("store: %w", explain(err))
	}
	good, err := nearest(ctx, q, id, pos)
	var damaged *plan.Damaged
	if errors.As(err, &damaged) {
		return anyGood(ctx, q, id, pos)
	}
	return good, err
}

// nearest returns the document after a step or, where the way to it is broken,
// after the last step before it that can be reached.
func nearest(ctx context.Context, q querier, id string, number int64) (plan.Good, error) {
	doc, st, broken := at(ctx, q, id, number)
	var damaged *plan.Damaged
	if !errors.As(broken, &damaged) {
		return plan.Good{Doc: doc, Step: st}, broken
	}
	near, err := frames(ctx, q, id, number)
	if err != nil {
		return plan.Good{}, err
	}
	for _, f := range near { // from below the nearest leads furthest
		if f.pos > number {
			continue
		}
		if err := f.read(ctx, q); err != nil {
			return plan.Good{}, err
		}
		if f.doc == nil {
			continue
		}
		steps, err := stepsBetween(ctx, q, id, f.pos, number)
		if err != nil {
			return plan.Good{}, err
		}
		doc, n := forward(f.doc, steps)
		st, _, err := stepWithSum(ctx, q, id, f.pos+int64(n))
		return plan.Good{Doc: doc, Step: st, Steps: number - f.pos - int64(n)}, err
	}
	return plan.Good{}, broken
}

// anyGood falls back on any whole document that was kept, on the line or not.
func anyGood(ctx context.Context, q querier, id string, pos int64) (plan.Good, error) {
	rows, err := q.QueryContext(ctx, "SELECT pos, rev, name, doc, sha256, at FROM points WHERE plan = ? ORDER BY id DESC", id)
	if err != nil {
		return plan.Good{}, fmt.Errorf("store: %w", explain(err))
	}
	defer rows.Close()
	for rows.Next() {
		var g plan.Good
		var sum, at string
		if err := rows.Scan(&g.Step.Number, &g.Step.Rev, &g.Step.Label, &g.Doc, &sum, &at); err != nil {
			return plan.Good{}, fmt.Errorf("store: %w", explain(err))
		}
		if plan.Digest(g.Doc) != sum {
			continue
		}
		g.Steps = max(0, pos-g.Step.Number)
		g.Step.At = timeOf(at)
		return g, nil
	}
	if err := rows.Err(); err != nil {
		return plan.Good{}, fmt.Errorf("store: %w", explain(err))
	}
	return plan.Good{}, &plan.Damaged{ID: id, Reason: "no earlier state of it is whole either"}
}
