package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"evenfall/internal/plan"
)

// afterDamage does what is to be done after a daily backup that found something
// damaged, and returns what to tell of it. Kept states are mended; backups that
// hold everything whole stay, however old, and those of the same damage go as
// usual, so that damage nobody mends does not fill the disk.
func (s *Store) afterDamage(ctx context.Context, c Contents) error {
	told := fmt.Errorf("today's backup was made, but what it was made of is damaged: %s. "+
		"Open the list of plans: a damaged plan offers its last good state, and can then be deleted; a damaged picture is mended by choosing it again. "+
		"Older backups that are whole are kept until then", strings.Join(c.Damaged, "; "))
	return errors.Join(told, s.mendPoints(ctx), s.prune(func(path string) bool {
		c, err := verify(ctx, path)
		return err == nil && len(c.Damaged) > 0
	}))
}

// mendPoints writes kept documents that are damaged anew where the steps still
// lead to them. Those nobody asked for that cannot be rebuilt go: nothing can be
// done with them, and a backup made before holds what there is of them.
func (s *Store) mendPoints(ctx context.Context) error {
	damaged, err := s.damagedPoints(ctx)
	if err != nil {
		return fmt.Errorf("store: points: %w", explain(err))
	}
	for _, p := range damaged {
		if err := s.change(ctx, func(tx *sql.Tx) error { return p.mend(ctx, tx) }); err != nil {
			return err
		}
	}
	return nil
}

// damagedPoint is a kept document that is no longer what was written.
type damagedPoint struct {
	id, pos         int64
	plan, kind, sum string
}

func (s *Store) damagedPoints(ctx context.Context) ([]damagedPoint, error) {
	rows, err := s.read.QueryContext(ctx, "SELECT id, plan, pos, kind, sha256, doc FROM points")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []damagedPoint
	for rows.Next() {
		var p damagedPoint
		var doc sql.RawBytes
		if err := rows.Scan(&p.id, &p.plan, &p.pos, &p.kind, &p.sum, &doc); err != nil {
			return nil, err
		}
		if plan.Digest(doc) != p.sum {
			list = append(list, p)
		}
	}
	return list, rows.Err()
}

// mend rebuilds the document from the steps, or drops it.
func (p damagedPoint) mend(ctx context.Context, tx *sql.Tx) error {
	doc, _, err := at(ctx, tx, p.plan, p.pos)
	var damaged *plan.Damaged
	switch {
	case err == nil && plan.Digest(doc) == p.sum:
		_, err = tx.ExecContext(ctx, "UPDATE points SET doc = ? WHERE id = ? AND sha256 = ?", doc, p.id, p.sum)
		return err
	case err != nil && !errors.As(err, &damaged) && !errors.Is(err, plan.ErrNoPoint) && !errors.Is(err, plan.ErrNotFound):
		return err
	}
	_, err = tx.ExecContext(ctx, "DELETE FROM points WHERE id = ? AND kind <> 'named'", p.id)
	return err
}
