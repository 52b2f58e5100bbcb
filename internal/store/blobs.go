package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"evenfall/internal/plan"
)

// spared is how long a picture that nothing names any more is kept: long enough
// for one that was just sent and whose step is still on its way, and for a user
// who undoes and saves the plan elsewhere.
const spared = 24 * time.Hour

// unusedKey begins the keys of meta that note since when a picture is unused.
const unusedKey = "unused picture "

// PutBlob keeps the bytes of a picture under their SHA-256, which it returns in
// hexadecimal. kind is their media type. Keeping the same bytes again is no
// mistake, and mends them where they were damaged.
func (s *Store) PutBlob(ctx context.Context, kind string, bytes []byte) (sha256 string, err error) {
	sum := plan.Digest(bytes)
	err = s.change(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `INSERT INTO blobs (sha256, type, bytes) VALUES (?, ?, ?)
			ON CONFLICT (sha256) DO UPDATE SET type = excluded.type, bytes = excluded.bytes`, sum, kind, bytes); err != nil {
			return err
		}
		return used(ctx, tx, sum)
	})
	return sum, err
}

// Blob returns a picture with its media type, its checksum verified:
// plan.ErrNoPicture when there is none, plan.ErrPictureDamaged when its bytes
// are no longer those that were kept.
func (s *Store) Blob(ctx context.Context, sha256 string) (kind string, bytes []byte, err error) {
	err = s.read.QueryRowContext(ctx, "SELECT type, bytes FROM blobs WHERE sha256 = ?", sha256).Scan(&kind, &bytes)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return "", nil, plan.ErrNoPicture
	case err != nil:
		return "", nil, fmt.Errorf("store: picture: %w", explain(err))
	case plan.Digest(bytes) != sha256:
		return "", nil, plan.ErrPictureDamaged
	}
	return kind, bytes, nil
}

// dropUnusedBlobs drops the pictures that nothing has named for a day. It marks
// before it drops: one found unused is noted with the time, and goes only when
// it is still unused a day after. It is called after a backup, which holds what
// goes here.
//
// Every text is read once, before the change that keeps others waiting; what
// then seems unused is looked for again in it.
func (s *Store) dropUnusedBlobs(ctx context.Context) error {
	sums, err := column(ctx, s.read, "SELECT sha256 FROM blobs ORDER BY sha256")
	if err != nil || len(sums) == 0 {
		return err
	}
	named, err := namedSums(ctx, s.read)
	if err != nil {
		return err
	}
	return s.change(ctx, func(tx *sql.Tx) error {
		for _, sum := range sums {
			if named[sum] {
				err = used(ctx, tx, sum)
			} else {
				err = s.consider(ctx, tx, sum)
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
}

// namedSums returns whatever looks like a checksum in the texts that may name a
// picture: the plans, the steps that undo and redo go by, and the earlier states
// kept whole. A test holds these, and those in consider, to the columns of the
// schema.
func namedSums(ctx context.Context, q querier) (map[string]bool, error) {
	rows, err := q.QueryContext(ctx, `SELECT doc FROM plans UNION ALL SELECT doc FROM points
		UNION ALL SELECT patch FROM steps UNION ALL SELECT inverse FROM steps`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	named := map[string]bool{}
	for rows.Next() {
		var text sql.RawBytes
		if err := rows.Scan(&text); err != nil {
			return nil, err
		}
		addSums(named, text)
	}
	return named, rows.Err()
}

// addSums adds every run of just as many hexadecimal digits as a checksum has.
// A run that long has a digit at every place that is a multiple of its length,
// so most of a text is passed over.
func addSums(into map[string]bool, text []byte) {
	const long = 2 * sha256.Size
	isDigit := func(i int) bool {
		return i >= 0 && i < len(text) && strings.IndexByte("0123456789abcdef", text[i]) >= 0
	}
	for at := 0; at < len(text); at += long {
		from, to := at, at
		for isDigit(from-1) && isDigit(at) {
			from--
		}
		for isDigit(to) {
			to++
		}
		if to-from == long {
			into[string(text[from:to])] = true
		}
	}
}

// consider marks or drops one picture that nothing was seen to name, or lets it
// be.
func (s *Store) consider(ctx context.Context, tx *sql.Tx, sum string) error {
	var since string
	err := tx.QueryRowContext(ctx, "SELECT value FROM meta WHERE key = ?", unusedKey+sum).Scan(&since)
	if errors.Is(err, sql.ErrNoRows) {
		_, err = tx.ExecContext(ctx, "INSERT INTO meta (key, value) VALUES (?, ?)", unusedKey+sum, stamp(s.now()))
		return err
	}
	if err != nil {
		return err
	}
	at, err := time.Parse(time.RFC3339Nano, since)
	if err != nil || s.now().Sub(at) < spared {
		return err
	}
	var found bool // since the texts were read
	if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM plans WHERE instr(doc, ?1) > 0) OR EXISTS (SELECT 1 FROM points WHERE instr(doc, ?1) > 0)
		OR EXISTS (SELECT 1 FROM steps WHERE instr(patch, ?1) > 0 OR instr(inverse, ?1) > 0)`, []byte(sum)).Scan(&found); err != nil {
		return err
	}
	if found {
		return used(ctx, tx, sum)
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM blobs WHERE sha256 = ?", sum); err != nil {
		return err
	}
	return used(ctx, tx, sum)
}

// used takes away the mark of a picture, if it has one.
func used(ctx context.Context, tx *sql.Tx, sum string) error {
	_, err := tx.ExecContext(ctx, "DELETE FROM meta WHERE key = ?", unusedKey+sum)
	return err
}

// column reads the texts of a query of one column.
func column(ctx context.Context, q querier, query string) ([]string, error) {
	rows, err := q.QueryContext(ctx, query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []string
	for rows.Next() {
		var text string
		if err := rows.Scan(&text); err != nil {
			return nil, err
		}
		all = append(all, text)
	}
	return all, rows.Err()
}
