package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"sync"
	"time"

	"evenfall/internal/plan"
)

// List returns every plan, the one worked on last first. What it says of a plan
// was counted when the plan was written, so a list reads no document; only that
// each document still is what was written is looked at, once for each revision
// while the program runs.
func (s *Store) List(ctx context.Context) ([]plan.Listed, error) {
	list, err := s.listed(ctx)
	if err != nil {
		return nil, fmt.Errorf("store: list: %w", explain(err))
	}
	for i := range list {
		if list[i].Damaged {
			continue
		}
		if list[i].Damaged, err = s.damaged(ctx, list[i]); err != nil {
			return nil, fmt.Errorf("store: list: %w", explain(err))
		}
	}
	return list, nil
}

func (s *Store) listed(ctx context.Context) ([]plan.Listed, error) {
	rows, err := s.read.QueryContext(ctx, `
		SELECT id, name, rev, sha256, changed, coalesce(archived, ''),
			areas IS NOT NULL, coalesce(show, ''), coalesce(areas, 0), coalesce(heads, 0), coalesce(zones, 0), coalesce(lot_ft2, 0)
		FROM plans ORDER BY changed DESC, id`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []plan.Listed
	for rows.Next() {
		l, err := scanListed(rows)
		if err != nil {
			return nil, err
		}
		list = append(list, l)
	}
	return list, rows.Err()
}

func scanListed(rows *sql.Rows) (plan.Listed, error) {
	var l plan.Listed
	var changed, archived string
	c := &l.Contents
	err := rows.Scan(&l.ID, &l.Name, &l.Rev, &l.SHA256, &changed, &archived, &l.Counted, &c.Show, &c.Areas, &c.Heads, &c.Zones, &c.LotFt2)
	if err != nil {
		return l, err
	}
	if l.Changed, err = time.Parse(time.RFC3339Nano, changed); err != nil {
		l.Damaged = true // one plan must not keep the others from being listed
	}
	if archived == "" {
		return l, nil
	}
	if l.Archived, err = time.Parse(time.RFC3339Nano, archived); err != nil {
		l.Archived = l.Changed // it was put away; when is not known
	}
	return l, nil
}

// sound remembers the documents that were read through and found to be what was
// written, by plan.
type sound struct {
	mu   sync.Mutex
	sums map[string]string
}

// damaged reads a listed document through, unless that was done before.
func (s *Store) damaged(ctx context.Context, l plan.Listed) (bool, error) {
	s.sound.mu.Lock()
	defer s.sound.mu.Unlock()
	if s.sound.sums[l.ID] == l.SHA256 {
		return false, nil
	}
	var doc []byte
	var sum string
	err := s.read.QueryRowContext(ctx, "SELECT doc, sha256 FROM plans WHERE id = ?", l.ID).Scan(&doc, &sum)
	switch {
	case errors.Is(err, sql.ErrNoRows): // deleted since the list was read
		return false, nil
	case err != nil:
		return false, err
	}
	if plan.Digest(doc) != sum {
		return true, nil
	}
	if s.sound.sums == nil {
		s.sound.sums = map[string]string{}
	}
	s.sound.sums[l.ID] = sum
	return false, nil
}

// countContents counts what is in the plans that were written before the counts
// were kept. A document that cannot be read is left uncounted.
func (s *Store) countContents(ctx context.Context) error {
	ids, err := column(ctx, s.write, "SELECT id FROM plans WHERE areas IS NULL ORDER BY changed")
	if err != nil {
		return fmt.Errorf("store: %w", explain(err))
	}
	for _, id := range ids {
		k, err := load(ctx, s.write, id)
		if err != nil {
			continue // said when it is listed and opened
		}
		p, err := plan.Decode(k.Doc)
		if err != nil {
			continue
		}
		c := p.Contents()
		if _, err := s.write.ExecContext(ctx, "UPDATE plans SET show = ?, areas = ?, heads = ?, zones = ?, lot_ft2 = ? WHERE id = ? AND rev = ?",
			c.Show, c.Areas, c.Heads, c.Zones, c.LotFt2, id, k.Rev); err != nil {
			return fmt.Errorf("store: %w", explain(err))
		}
	}
	return nil
}
