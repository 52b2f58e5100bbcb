package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"encoding/base32"
	"errors"
	"fmt"
	"strings"
	"time"

	"evenfall/internal/plan"
)

// createdLabel is the label of step 0.
const createdLabel = "Plan made"

// Create keeps a new plan at revision 1. The document is read strictly first.
func (s *Store) Create(ctx context.Context, doc []byte) (plan.Saved, error) {
	p, err := plan.Decode(doc)
	if err != nil {
		return plan.Saved{}, err
	}
	id := newID()
	doc = p.Encode()
	made := plan.Saved{ID: id, Rev: 1, Doc: doc}
	at := stamp(s.now())
	err = s.change(ctx, func(tx *sql.Tx) error {
		c := p.Contents()
		if _, err := tx.ExecContext(ctx, `INSERT INTO plans (id, rev, pos, name, doc, sha256, changed, show, areas, heads, zones, lot_ft2)
			VALUES (?, 1, 0, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			id, p.Name, doc, plan.Digest(doc), at, c.Show, c.Areas, c.Heads, c.Zones, c.LotFt2); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO steps (plan, pos, rev, patch, inverse, label, sha256, at) VALUES (?, 0, 1, ?, ?, ?, ?, ?)`,
			id, []byte("{}"), []byte("{}"), createdLabel, plan.Digest(doc), at); err != nil {
			return err
		}
		return keepFrame(ctx, tx, id, 0, 1, doc, at)
	})
	return made, err
}

// Copy keeps a plan's document as a new plan at revision 1, with a history of
// its own, under another name.
func (s *Store) Copy(ctx context.Context, id, name string) (plan.Saved, error) {
	k, err := load(ctx, s.read, id)
	if err != nil {
		return plan.Saved{}, err
	}
	p, err := plan.Decode(k.Doc)
	if err != nil {
		return plan.Saved{}, err
	}
	p.Name = name
	return s.Create(ctx, p.Encode())
}

// Archive puts a plan away, or brings it back, if it still is at the revision
// base. The document and its revision stay as they are.
func (s *Store) Archive(ctx context.Context, id string, base int64, away bool) error {
	return s.change(ctx, func(tx *sql.Tx) error {
		if err := insist(ctx, tx, id, base); err != nil {
			return err
		}
		since := sql.NullString{String: stamp(s.now()), Valid: away}
		_, err := tx.ExecContext(ctx, "UPDATE plans SET archived = ? WHERE id = ?", since, id)
		return err
	})
}

// Load returns a plan with its checksum verified.
func (s *Store) Load(ctx context.Context, id string) (plan.Saved, error) {
	k, err := load(ctx, s.read, id)
	return k.Saved, err
}

// Delete removes a plan and its history, if it still is at the revision base.
func (s *Store) Delete(ctx context.Context, id string, base int64) error {
	return s.change(ctx, func(tx *sql.Tx) error {
		if err := insist(ctx, tx, id, base); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "DELETE FROM plans WHERE id = ? AND rev = ?", id, base)
		return err
	})
}

// insist returns an error unless a plan is there at the revision base.
func insist(ctx context.Context, tx *sql.Tx, id string, base int64) error {
	var rev int64
	err := tx.QueryRowContext(ctx, "SELECT rev FROM plans WHERE id = ?", id).Scan(&rev)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return plan.ErrNotFound
	case err == nil && rev != base:
		return &plan.Stale{Now: rev}
	}
	return err
}

// kept is a stored plan with its place in the history.
type kept struct {
	plan.Saved
	pos     int64
	changed time.Time // of the last step, undo or redo
}

// querier is what reading needs: the database or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// load reads a plan and the labels of the steps on either side of its place in
// one statement, so that they belong together.
func load(ctx context.Context, q querier, id string) (kept, error) {
	k := kept{Saved: plan.Saved{ID: id}}
	var sum, changed string
	err := q.QueryRowContext(ctx, `
		SELECT p.rev, p.pos, p.changed, p.doc, p.sha256, coalesce(u.label, ''), coalesce(r.label, '')
		FROM plans p
		LEFT JOIN steps u ON u.plan = p.id AND u.pos = p.pos AND p.pos > 0
		LEFT JOIN steps r ON r.plan = p.id AND r.pos = p.pos + 1
		WHERE p.id = ?`, id).Scan(&k.Rev, &k.pos, &changed, &k.Doc, &sum, &k.Undo, &k.Redo)
	if errors.Is(err, sql.ErrNoRows) {
		return kept{}, plan.ErrNotFound
	}
	if err != nil {
		return kept{}, fmt.Errorf("store: load %s: %w", id, explain(err))
	}
	if plan.Digest(k.Doc) != sum {
		return kept{}, &plan.Damaged{ID: id, Reason: "its checksum differs"}
	}
	if k.changed, err = time.Parse(time.RFC3339Nano, changed); err != nil {
		return kept{}, &plan.Damaged{ID: id, Reason: "the time of its last change cannot be read"}
	}
	return k, nil
}

// change runs f in one immediate transaction and makes it durable.
func (s *Store) change(ctx context.Context, f func(*sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("store: begin: %w", explain(err))
	}
	if err := f(tx); err != nil {
		if undo := tx.Rollback(); undo != nil && !errors.Is(undo, sql.ErrTxDone) {
			err = errors.Join(err, undo)
		}
		return explain(err)
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("store: commit: %w", explain(err))
	}
	return nil
}

// newID returns a fresh id: a p and 13 characters, 64 random bits.
func newID() string {
	var b [8]byte
	rand.Read(b[:]) // never fails, by its documentation
	return "p" + strings.ToLower(base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(b[:]))
}

// stamp writes a time so that stamps sort as text: UTC with nine decimals.
func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000000000Z07:00") }
