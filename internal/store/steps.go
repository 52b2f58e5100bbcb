package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"evenfall/internal/plan"
)

// mergeWindow is how soon after the last a nudge of the same label must come to
// be kept with it as one step: a held arrow key is one move to the user. Chosen;
// key repeat starts after a quarter to half a second on common systems.
const mergeWindow = 500 * time.Millisecond

// nudgePrefix begins the labels of steps that may be merged.
const nudgePrefix = "Nudge "

// labelMost is the length of a label, in characters.
const labelMost = 200

// Commit applies a patch made on revision base, as one step. It returns
// *plan.Stale when the plan has moved on, and *plan.Problem (or several) when
// the patched document is refused. A patch that changes nothing makes no step.
func (s *Store) Commit(ctx context.Context, id string, base int64, patch plan.Patch, label string) (plan.Saved, error) {
	var after plan.Saved
	err := s.change(ctx, func(tx *sql.Tx) error {
		k, err := loadAt(ctx, tx, id, base)
		if err != nil {
			return err
		}
		doc, inverse, err := step(k.Doc, patch)
		if err != nil {
			return err
		}
		if bytes.Equal(doc, k.Doc) {
			after = k.Saved
			return nil
		}
		now := plan.Step{Number: k.pos + 1, Rev: k.Rev + 1, Patch: patch, Inverse: inverse, Label: tidyLabel(label), At: s.now()}
		if err := merge(ctx, tx, k, &now); err != nil {
			return err
		}
		if err := put(ctx, tx, id, now, doc); err != nil {
			return err
		}
		after, err = move(ctx, tx, k, now.Number, doc, now.At)
		return err
	})
	return after, err
}

// Undo takes back the last step in force and returns the plan after it with the
// step taken back.
func (s *Store) Undo(ctx context.Context, id string, base int64) (plan.Saved, plan.Step, error) {
	return s.walk(ctx, id, base, -1)
}

// Redo brings again the step taken back last.
func (s *Store) Redo(ctx context.Context, id string, base int64) (plan.Saved, plan.Step, error) {
	return s.walk(ctx, id, base, +1)
}

// walk moves one step along the history line, as a new revision, and checks the
// document it arrives at against the checksum noted when it was first made.
func (s *Store) walk(ctx context.Context, id string, base, by int64) (after plan.Saved, taken plan.Step, err error) {
	err = s.change(ctx, func(tx *sql.Tx) error {
		k, err := loadAt(ctx, tx, id, base)
		if err != nil {
			return err
		}
		to, number := k.pos+by, max(k.pos, k.pos+by)
		if number < 1 {
			return plan.ErrNothing
		}
		if taken, err = stepAt(ctx, tx, id, number); err != nil {
			return err
		}
		patch := taken.Patch
		if by < 0 {
			patch = taken.Inverse
		}
		doc, _, err := step(k.Doc, patch)
		if err != nil {
			return &plan.Damaged{ID: id, Reason: fmt.Sprintf("its step %d can not be walked: %v", number, err)}
		}
		var want string
		if err := tx.QueryRowContext(ctx, "SELECT sha256 FROM steps WHERE plan = ? AND pos = ?", id, to).Scan(&want); err != nil {
			return err
		}
		if plan.Digest(doc) != want {
			return &plan.Damaged{ID: id, Reason: fmt.Sprintf("its history does not lead back to step %d", to)}
		}
		after, err = move(ctx, tx, k, to, doc, s.now())
		return err
	})
	return after, taken, err
}

// History returns the steps of a plan, oldest first, with those taken back.
func (s *Store) History(ctx context.Context, id string) ([]plan.Step, error) {
	rows, err := s.read.QueryContext(ctx, `
		SELECT s.pos, s.rev, s.patch, s.inverse, s.label, s.at, s.pos > p.pos
		FROM plans p JOIN steps s ON s.plan = p.id WHERE p.id = ? ORDER BY s.pos`, id)
	if err != nil {
		return nil, fmt.Errorf("store: history: %w", err)
	}
	defer rows.Close()
	var steps []plan.Step
	for rows.Next() {
		var st plan.Step
		if err := scanStep(rows, &st); err != nil {
			return nil, fmt.Errorf("store: history: %w", err)
		}
		steps = append(steps, st)
	}
	if err := rows.Err(); err != nil {
		return nil, fmt.Errorf("store: history: %w", err)
	}
	if len(steps) == 0 {
		return nil, plan.ErrNotFound
	}
	return steps, nil
}

// loadAt loads a plan and insists on its revision.
func loadAt(ctx context.Context, tx *sql.Tx, id string, base int64) (kept, error) {
	k, err := load(ctx, tx, id)
	if err == nil && k.Rev != base {
		err = &plan.Stale{Now: k.Rev}
	}
	return k, err
}

// step applies a patch, reads the outcome strictly, and returns it canonical
// with the patch that leads back. That the inverse is exact is tried, not
// trusted: reading fills in defaults, which a plain inverse may leave behind.
func step(doc []byte, patch plan.Patch) (next []byte, inverse plan.Patch, err error) {
	next, inverse, err = plan.Apply(doc, patch)
	if err != nil {
		return nil, nil, err
	}
	p, err := plan.Decode(next)
	if err != nil {
		return nil, nil, err
	}
	next = p.Encode()
	if back, _, err := plan.Apply(next, inverse); err == nil && bytes.Equal(back, doc) {
		return next, inverse, nil
	}
	if inverse, err = plan.Diff(next, doc); err != nil {
		return nil, nil, fmt.Errorf("store: inverse: %w", err)
	}
	back, _, err := plan.Apply(next, inverse)
	if err != nil {
		return nil, nil, fmt.Errorf("store: inverse: %w", err)
	}
	if !bytes.Equal(back, doc) {
		return nil, nil, errors.New("store: the change could not be made so that it can be taken back exactly")
	}
	return next, inverse, nil
}

// merge folds a nudge into the step before it when both are of one run.
func merge(ctx context.Context, tx *sql.Tx, k kept, now *plan.Step) error {
	if !strings.HasPrefix(now.Label, nudgePrefix) || k.Undo != now.Label || k.Redo != "" {
		return nil
	}
	last, err := stepAt(ctx, tx, k.ID, k.pos)
	if err != nil {
		return err
	}
	if gap := now.At.Sub(last.At); gap < 0 || gap > mergeWindow {
		return nil
	}
	if now.Patch, err = plan.Compose(last.Patch, now.Patch); err != nil {
		return fmt.Errorf("store: merge: %w", err)
	}
	if now.Inverse, err = plan.Compose(now.Inverse, last.Inverse); err != nil {
		return fmt.Errorf("store: merge: %w", err)
	}
	now.Number = k.pos
	return nil
}

// put writes a step in its place in the line and drops what was undone after.
func put(ctx context.Context, tx *sql.Tx, id string, st plan.Step, doc []byte) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM steps WHERE plan = ? AND pos >= ?", id, st.Number); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO steps (plan, pos, rev, patch, inverse, label, sha256, at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
		id, st.Number, st.Rev, []byte(st.Patch), []byte(st.Inverse), st.Label, plan.Digest(doc), stamp(st.At))
	return err
}

// move sets the plan to a document and a place in its history, as the revision
// after k, and returns it as it now stands.
func move(ctx context.Context, tx *sql.Tx, k kept, pos int64, doc []byte, at time.Time) (plan.Saved, error) {
	p, err := plan.Decode(doc)
	if err != nil {
		return plan.Saved{}, err
	}
	done, err := tx.ExecContext(ctx, `UPDATE plans SET rev = rev + 1, pos = ?, name = ?, doc = ?, sha256 = ?, changed = ? WHERE id = ? AND rev = ?`,
		pos, p.Name, doc, plan.Digest(doc), stamp(at), k.ID, k.Rev)
	if err != nil {
		return plan.Saved{}, err
	}
	n, err := done.RowsAffected()
	if err != nil {
		return plan.Saved{}, err
	}
	now, err := load(ctx, tx, k.ID)
	if err == nil && n != 1 {
		err = &plan.Stale{Now: now.Rev}
	}
	return now.Saved, err
}

// stepAt reads one step.
func stepAt(ctx context.Context, tx *sql.Tx, id string, number int64) (plan.Step, error) {
	var st plan.Step
	err := scanStep(tx.QueryRowContext(ctx, `
		SELECT s.pos, s.rev, s.patch, s.inverse, s.label, s.at, s.pos > p.pos
		FROM plans p JOIN steps s ON s.plan = p.id WHERE p.id = ? AND s.pos = ?`, id, number), &st)
	if errors.Is(err, sql.ErrNoRows) {
		return st, plan.ErrNothing
	}
	return st, err
}

// scanStep reads the columns pos, rev, patch, inverse, label, at, undone.
func scanStep(row interface{ Scan(...any) error }, st *plan.Step) error {
	var patch, inverse []byte
	var at string
	if err := row.Scan(&st.Number, &st.Rev, &patch, &inverse, &st.Label, &at, &st.Undone); err != nil {
		return err
	}
	st.Patch, st.Inverse = patch, inverse
	var err error
	st.At, err = time.Parse(time.RFC3339Nano, at)
	return err
}

// tidyLabel makes a label fit for a list: one line, printable, not too long.
func tidyLabel(label string) string {
	label = strings.Map(func(r rune) rune {
		if r == utf8.RuneError || unicode.IsControl(r) {
			return -1
		}
		return r
	}, label)
	label = strings.Join(strings.Fields(label), " ")
	if n := utf8.RuneCountInString(label); n > labelMost {
		label = string([]rune(label)[:labelMost-1]) + "…"
	}
	if label == "" {
		return "Change"
	}
	return label
}
