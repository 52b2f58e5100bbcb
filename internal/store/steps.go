package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"evenfall/internal/plan"
)

// labelMost is the length of a label, in characters.
const labelMost = 200

// Commit applies a patch made on revision base, as one step. It returns
// *plan.Stale when the plan has moved on, and *plan.Problem (or several) when
// the patched document is refused. A patch that changes nothing makes no step.
//
// A step sent again because its answer got lost is not stale: when the step that
// made the revision after base is this very one, Commit answers as it did then.
func (s *Store) Commit(ctx context.Context, id string, base int64, patch plan.Patch, label string) (plan.Saved, error) {
	label = tidyLabel(label)
	var after plan.Saved
	err := s.change(ctx, func(tx *sql.Tx) error {
		k, err := load(ctx, tx, id)
		if err != nil {
			return err
		}
		if k.Rev != base {
			again, err := isLast(ctx, tx, k, base, patch, label)
			if err == nil && !again {
				err = &plan.Stale{Now: k.Rev}
			}
			after = k.Saved
			return err
		}
		to, err := apply(k.Doc, patch)
		if err != nil {
			return err
		}
		if bytes.Equal(to.doc, k.Doc) {
			after = k.Saved
			return nil
		}
		after, err = s.advance(ctx, tx, k, patch, label, to)
		return err
	})
	return after, err
}

// advance makes one step of a plan, after what it would put out of reach has
// been kept.
func (s *Store) advance(ctx context.Context, tx *sql.Tx, k kept, patch plan.Patch, label string, to step) (plan.Saved, error) {
	now := plan.Step{Number: k.pos + 1, Rev: k.Rev + 1, Patch: patch, Inverse: to.inverse, Label: label, At: s.now()}
	if err := keepWhatGoes(ctx, tx, k, now); err != nil {
		return plan.Saved{}, err
	}
	if err := put(ctx, tx, k.ID, now, to.doc); err != nil {
		return plan.Saved{}, err
	}
	return move(ctx, tx, k, now.Number, to, now.At)
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
		p, err := plan.Preview(k.Doc, patch)
		if err != nil {
			return &plan.Damaged{ID: id, Reason: fmt.Sprintf("its step %d no longer fits it: %v", number, err)}
		}
		there := step{name: p.Name, doc: p.Encode(), contents: p.Contents()}
		var want string
		if err := tx.QueryRowContext(ctx, "SELECT sha256 FROM steps WHERE plan = ? AND pos = ?", id, to).Scan(&want); err != nil {
			return err
		}
		if plan.Digest(there.doc) != want {
			return &plan.Damaged{ID: id, Reason: fmt.Sprintf("its history does not lead back to step %d", to)}
		}
		after, err = move(ctx, tx, k, to, there, s.now())
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

// HistoryPage returns the newest steps of a plan before a number, at most so
// many, oldest first, with those taken back; and whether there are older ones.
// The steps come without the patches that lead back, which may be large.
func (s *Store) HistoryPage(ctx context.Context, id string, before int64, most int) (steps []plan.Step, older bool, err error) {
	rows, err := s.read.QueryContext(ctx, `
		SELECT s.pos, s.rev, s.patch, NULL, s.label, s.at, s.pos > p.pos
		FROM plans p JOIN steps s ON s.plan = p.id WHERE p.id = ? AND s.pos < ? ORDER BY s.pos DESC LIMIT ?`, id, before, most)
	if err != nil {
		return nil, false, fmt.Errorf("store: history: %w", explain(err))
	}
	defer rows.Close()
	for rows.Next() {
		var st plan.Step
		if err := scanStep(rows, &st); err != nil {
			return nil, false, fmt.Errorf("store: history: %w", explain(err))
		}
		steps = append(steps, st)
	}
	if err := rows.Err(); err != nil {
		return nil, false, fmt.Errorf("store: history: %w", explain(err))
	}
	if len(steps) == 0 {
		return nil, false, plan.ErrNotFound
	}
	slices.Reverse(steps)
	return steps, steps[0].Number > 0, nil
}

// isLast reports whether the last step of a plan is the given one made on base.
func isLast(ctx context.Context, tx *sql.Tx, k kept, base int64, patch plan.Patch, label string) (bool, error) {
	if k.Rev != base+1 || k.pos == 0 {
		return false, nil
	}
	last, err := stepAt(ctx, tx, k.ID, k.pos)
	if err != nil {
		return false, err
	}
	return last.Rev == k.Rev && last.Label == label && bytes.Equal(last.Patch, patch), nil
}

// loadAt loads a plan and insists on its revision.
func loadAt(ctx context.Context, tx *sql.Tx, id string, base int64) (kept, error) {
	k, err := load(ctx, tx, id)
	if err == nil && k.Rev != base {
		err = &plan.Stale{Now: k.Rev}
	}
	return k, err
}

// step is what a patch makes of a document.
type step struct {
	name     string
	doc      []byte // canonical
	contents plan.Contents
	inverse  plan.Patch // leads back
}

// apply applies a patch and finds the patch that leads back. That it does so
// exactly is tried before anything is kept, since undo stands on it.
func apply(doc []byte, patch plan.Patch) (step, error) {
	p, err := plan.Preview(doc, patch)
	if err != nil {
		return step{}, err
	}
	st := step{name: p.Name, doc: p.Encode(), contents: p.Contents()}
	if st.inverse, err = plan.Diff(st.doc, doc); err != nil {
		return step{}, fmt.Errorf("store: inverse: %w", err)
	}
	back, err := plan.Preview(st.doc, st.inverse)
	if err != nil {
		return step{}, fmt.Errorf("store: inverse: %w", err)
	}
	if !bytes.Equal(back.Encode(), doc) {
		return step{}, errors.New("store: the change could not be made so that it can be taken back exactly")
	}
	return st, nil
}

// put writes a step in its place in the line and drops what was undone after.
func put(ctx context.Context, tx *sql.Tx, id string, st plan.Step, doc []byte) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM steps WHERE plan = ? AND pos >= ?", id, st.Number); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM points WHERE plan = ? AND pos >= ? AND kind = 'frame'", id, st.Number); err != nil {
		return err
	}
	if st.Number%frameEvery == 0 {
		if err := keepFrame(ctx, tx, id, st.Number, st.Rev, doc, stamp(st.At)); err != nil {
			return err
		}
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO steps (plan, pos, rev, patch, inverse, label, sha256, at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
		id, st.Number, st.Rev, []byte(st.Patch), []byte(st.Inverse), st.Label, plan.Digest(doc), stamp(st.At))
	return err
}

// move sets the plan to a document and a place in its history, as the revision
// after k, and returns it as it now stands. k was read in this transaction, which
// keeps other writers out, so the plan still is at its revision.
func move(ctx context.Context, tx *sql.Tx, k kept, pos int64, to step, at time.Time) (plan.Saved, error) {
	c := to.contents
	if _, err := tx.ExecContext(ctx, `UPDATE plans SET rev = rev + 1, pos = ?, name = ?, doc = ?, sha256 = ?, changed = ?,
		show = ?, areas = ?, heads = ?, zones = ?, lot_ft2 = ? WHERE id = ? AND rev = ?`,
		pos, to.name, to.doc, plan.Digest(to.doc), stamp(at), c.Show, c.Areas, c.Heads, c.Zones, c.LotFt2, k.ID, k.Rev); err != nil {
		return plan.Saved{}, err
	}
	now, err := load(ctx, tx, k.ID)
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

// scanStep reads the columns pos, rev, patch, inverse, label, at, undone. A time
// that cannot be read is left zero: it must not keep the history from being shown,
// nor a damaged plan from being recovered by its patches, which are whole.
func scanStep(row interface{ Scan(...any) error }, st *plan.Step) error {
	var patch, inverse []byte
	var at string
	if err := row.Scan(&st.Number, &st.Rev, &patch, &inverse, &st.Label, &at, &st.Undone); err != nil {
		return err
	}
	st.Patch, st.Inverse, st.At = patch, inverse, timeOf(at)
	return nil
}

// timeOf reads a stamp, as the zero time when it is none any more.
func timeOf(stamp string) time.Time {
	at, err := time.Parse(time.RFC3339Nano, stamp)
	if err != nil {
		return time.Time{}
	}
	return at
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
