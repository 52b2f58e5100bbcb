package store

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"

	"evenfall/internal/plan"
)

// GoBack makes one step that brings a plan at the revision base to the document
// it had after an earlier step. The steps in between stay in the history, and
// the step can be taken back like any other.
func (s *Store) GoBack(ctx context.Context, id string, base, number int64) (plan.Saved, error) {
	return s.goBack(ctx, id, base, func(tx *sql.Tx) ([]byte, string, error) {
		doc, st, err := at(ctx, tx, id, number)
		return doc, st.Label, err
	})
}

// GoBackTo makes one step that brings a plan at the revision base to the
// document of a point.
func (s *Store) GoBackTo(ctx context.Context, id string, base, point int64) (plan.Saved, error) {
	return s.goBack(ctx, id, base, func(tx *sql.Tx) ([]byte, string, error) {
		doc, p, err := pointDoc(ctx, tx, id, point)
		return doc, p.Name, err
	})
}

// goBack makes the step to an older document. Like Commit it answers a request
// sent again because its answer got lost as it did the first time.
func (s *Store) goBack(ctx context.Context, id string, base int64, older func(*sql.Tx) ([]byte, string, error)) (plan.Saved, error) {
	var after plan.Saved
	err := s.change(ctx, func(tx *sql.Tx) error {
		k, err := load(ctx, tx, id)
		if err != nil {
			return err
		}
		doc, name, err := older(tx)
		if err != nil {
			return err
		}
		label := tidyLabel(fmt.Sprintf("Go back to “%s”", name))
		switch {
		case k.Rev == base+1 && k.Undo == label && bytes.Equal(k.Doc, doc):
			after = k.Saved
			return nil
		case k.Rev != base:
			return &plan.Stale{Now: k.Rev}
		case bytes.Equal(k.Doc, doc):
			after = k.Saved
			return nil
		}
		patch, err := plan.Diff(k.Doc, doc)
		if err != nil {
			return fmt.Errorf("store: go back: %w", err)
		}
		to, err := apply(k.Doc, patch)
		if err != nil {
			return err
		}
		if err := keepState(ctx, tx, k, plan.PointBefore); err != nil {
			return err
		}
		after, err = s.advance(ctx, tx, k, patch, label, to)
		return err
	})
	return after, err
}
