package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"evenfall/internal/plan"
)

// frameEvery is how many steps lie between two whole documents of a history at
// the most. The patches of a step are small beside a document, so frames this
// far apart add little, and rebuilding over this many steps takes no time a
// user would notice.
const frameEvery = 200

const (
	// droppedLeast is how many undone steps a new one must drop for the last of
	// them to be kept: a slip of one or two is not missed.
	droppedLeast = 5
	// bulkLeast is how many things one step must touch, as bringing in outlines
	// does, for the state before it to be kept.
	bulkLeast = 50
	// namedMost is how many points one plan may have names for.
	namedMost = 200
)

// pointsMost is how many points of each kind are kept unasked for one plan, the
// newest. Whole documents add up: with these a plan that is worked on for years
// stays within some megabytes. Nothing goes out of reach by the ones of an hour
// or before a step going, since the steps themselves lead there; a dropped
// state is nowhere else, so more of those are kept.
//
// Of a very large plan fewer are kept: beyond the newest pointsLeast only as
// many as pointBytesMost hold, of each kind.
var pointsMost = map[plan.PointKind]int{plan.PointHour: 24, plan.PointBefore: 24, plan.PointDropped: 60}

const (
	pointsLeast    = 3
	pointBytesMost = 32 << 20
)

// Points returns what was kept of a plan to come back to, the newest first.
func (s *Store) Points(ctx context.Context, id string) ([]plan.Point, error) {
	rows, err := s.read.QueryContext(ctx, `SELECT id, pos, rev, kind, name, at FROM points WHERE plan = ? AND kind <> 'frame' ORDER BY id DESC`, id)
	if err != nil {
		return nil, fmt.Errorf("store: points: %w", explain(err))
	}
	defer rows.Close()
	var list []plan.Point
	for rows.Next() {
		var p plan.Point
		var at string
		if err := rows.Scan(&p.ID, &p.Number, &p.Rev, &p.Kind, &p.Name, &at); err != nil {
			return nil, fmt.Errorf("store: points: %w", explain(err))
		}
		p.At = timeOf(at)
		list = append(list, p)
	}
	return list, rows.Err()
}

// KeepPoint keeps the state of a plan after one of its steps under a name, if
// the plan still is at the revision base.
func (s *Store) KeepPoint(ctx context.Context, id string, base, number int64, name string) (plan.Point, error) {
	if strings.TrimSpace(name) == "" {
		return plan.Point{}, &plan.Problem{Sentence: "The point has no name. Type one, such as “As agreed with the customer”."}
	}
	p := plan.Point{Number: number, Kind: plan.PointNamed, Name: tidyLabel(name)}
	err := s.change(ctx, func(tx *sql.Tx) error {
		if err := insist(ctx, tx, id, base); err != nil {
			return err
		}
		var have int
		if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM points WHERE plan = ? AND kind = 'named'", id).Scan(&have); err != nil {
			return err
		}
		if have >= namedMost {
			return &plan.Problem{Sentence: fmt.Sprintf("This plan has %d named points, which is as many as are kept. Remove one that is no longer needed.", have)}
		}
		doc, st, err := at(ctx, tx, id, number)
		if err != nil {
			return err
		}
		p.Rev, p.At = base, st.At
		p.ID, err = keepPoint(ctx, tx, id, p, doc)
		return err
	})
	return p, err
}

// ForgetPoint removes a point that the user named, if the plan still is at the
// revision base.
func (s *Store) ForgetPoint(ctx context.Context, id string, base, point int64) error {
	return s.change(ctx, func(tx *sql.Tx) error {
		if err := insist(ctx, tx, id, base); err != nil {
			return err
		}
		done, err := tx.ExecContext(ctx, "DELETE FROM points WHERE plan = ? AND id = ? AND kind = 'named'", id, point)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n > 0 {
			return err
		}
		return plan.ErrNoPoint
	})
}

// PointDoc returns the document of a point, with its checksum verified.
func (s *Store) PointDoc(ctx context.Context, id string, point int64) ([]byte, plan.Point, error) {
	return pointDoc(ctx, s.read, id, point)
}

func pointDoc(ctx context.Context, q querier, id string, point int64) ([]byte, plan.Point, error) {
	p := plan.Point{ID: point}
	var doc []byte
	var sum, at string
	err := q.QueryRowContext(ctx, "SELECT pos, rev, kind, name, doc, sha256, at FROM points WHERE plan = ? AND id = ? AND kind <> 'frame'", id, point).
		Scan(&p.Number, &p.Rev, &p.Kind, &p.Name, &doc, &sum, &at)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil, p, plan.ErrNoPoint
	case err != nil:
		return nil, p, fmt.Errorf("store: point: %w", explain(err))
	case plan.Digest(doc) != sum:
		return nil, p, &plan.Damaged{ID: id, Reason: fmt.Sprintf("the checksum of its point “%s” differs", p.Name)}
	}
	p.At = timeOf(at)
	return doc, p, nil
}

// keepWhatGoes keeps what the step about to be made would put out of reach, and
// the states a user is likely to look for: the last of an hour of work, and the
// one before much is changed at once.
func keepWhatGoes(ctx context.Context, tx *sql.Tx, k kept, next plan.Step) error {
	if err := keepDropped(ctx, tx, k); err != nil {
		return err
	}
	switch {
	case next.Patch.Count() >= bulkLeast:
		return keepState(ctx, tx, k, plan.PointBefore)
	case k.pos > 0 && !hourOf(k.changed).Equal(hourOf(next.At)):
		return keepState(ctx, tx, k, plan.PointHour)
	}
	return nil
}

// hourOf is the hour of a time, which no clock set back or forth makes later or
// earlier than another, only other.
func hourOf(at time.Time) time.Time { return at.UTC().Truncate(time.Hour) }

// keepDropped keeps the last of the undone steps that a new step will drop. If
// a patch among them is damaged, the last one that can be reached is kept.
func keepDropped(ctx context.Context, tx *sql.Tx, k kept) error {
	var last int64
	if err := tx.QueryRowContext(ctx, "SELECT max(pos) FROM steps WHERE plan = ?", k.ID).Scan(&last); err != nil || last-k.pos < droppedLeast {
		return err
	}
	end, err := nearest(ctx, tx, k.ID, last)
	if err != nil || end.Step.Number <= k.pos {
		return err
	}
	st := end.Step
	return keepUnasked(ctx, tx, k.ID, plan.Point{Number: st.Number, Rev: k.Rev, Kind: plan.PointDropped, Name: st.Label, At: st.At}, end.Doc)
}

// keepState keeps a plan as it stands.
func keepState(ctx context.Context, tx *sql.Tx, k kept, kind plan.PointKind) error {
	name := k.Undo
	if name == "" {
		name = createdLabel
	}
	return keepUnasked(ctx, tx, k.ID, plan.Point{Number: k.pos, Rev: k.Rev, Kind: kind, Name: name, At: k.changed}, k.Doc)
}

// keepUnasked keeps a point the user did not ask for, unless that very document
// is kept already and for as long, and drops the oldest beyond what is kept.
func keepUnasked(ctx context.Context, tx *sql.Tx, id string, p plan.Point, doc []byte) error {
	var have int
	err := tx.QueryRowContext(ctx, `SELECT count(*) FROM points WHERE plan = ?1 AND sha256 = ?2 AND
		(kind IN ('named', 'dropped') OR kind <> 'frame' AND ?3 <> 'dropped')`, id, plan.Digest(doc), p.Kind).Scan(&have)
	if err != nil || have > 0 {
		return err
	}
	if _, err := keepPoint(ctx, tx, id, p, doc); err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `DELETE FROM points WHERE id IN (SELECT id FROM (
			SELECT id, row_number() OVER newest AS nth, sum(length(doc)) OVER newest AS bytes
			FROM points WHERE plan = ? AND kind = ? WINDOW newest AS (ORDER BY id DESC)
		) WHERE nth > ? OR nth > ? AND bytes > ?)`, id, p.Kind, pointsMost[p.Kind], pointsLeast, pointBytesMost)
	return err
}

// keepFrame keeps the document of a step to rebuild others from.
func keepFrame(ctx context.Context, tx *sql.Tx, id string, number, rev int64, doc []byte, at string) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO points (plan, pos, rev, kind, name, doc, sha256, at) VALUES (?, ?, ?, 'frame', '', ?, ?, ?)`,
		id, number, rev, doc, plan.Digest(doc), at)
	return err
}

func keepPoint(ctx context.Context, tx *sql.Tx, id string, p plan.Point, doc []byte) (int64, error) {
	done, err := tx.ExecContext(ctx, `INSERT INTO points (plan, pos, rev, kind, name, doc, sha256, at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
		id, p.Number, p.Rev, p.Kind, p.Name, doc, plan.Digest(doc), stamp(p.At))
	if err != nil {
		return 0, err
	}
	return done.LastInsertId()
}
