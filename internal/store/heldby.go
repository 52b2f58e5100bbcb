package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"evenfall/internal/plan"
)

// HeldBy returns when the newest backup was made that holds a plan and can be
// restored, and whether it holds it as it is now; the zero time if none does.
// The errors are those of loading the plan, and of a context that has ended.
func (s *Store) HeldBy(ctx context.Context, id string) (made time.Time, asNow bool, err error) {
	var sum string
	err = s.read.QueryRowContext(ctx, "SELECT sha256 FROM plans WHERE id = ?", id).Scan(&sum)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return time.Time{}, false, plan.ErrNotFound
	case err != nil:
		return time.Time{}, false, fmt.Errorf("store: %w", explain(err))
	}
	for _, file := range newestFirst(s.dir) {
		held, ok := holds(ctx, file, id)
		if !ok {
			continue
		}
		c, err := verify(ctx, file)
		if ctx.Err() != nil {
			return time.Time{}, false, ctx.Err()
		}
		if err != nil {
			continue // what cannot be restored is nothing to count on
		}
		if made = c.Made; made.IsZero() {
			made = modified(file)
		}
		return made, held == sum, nil
	}
	return time.Time{}, false, nil
}

// holds returns the checksum of a plan in a backup; false when it cannot be read there.
func holds(ctx context.Context, file, id string) (sum string, ok bool) {
	db, err := openUnwritten(file)
	if err != nil {
		return "", false
	}
	defer db.Close()
	err = db.QueryRowContext(ctx, "SELECT sha256 FROM plans WHERE id = ?", id).Scan(&sum)
	return sum, err == nil
}
