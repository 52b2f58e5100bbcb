package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"os"
	"time"

	"evenfall/internal/plan"
)

// Contents counts what a data file or a backup holds.
type Contents struct {
	Version int64 // of the schema
	Plans   int
	Steps   int
	Blobs   int // pictures and the like
	Points  int // whole documents kept of earlier states

	Made    time.Time // when the backup was made; zero if it does not say
	Damaged []string  // what already had lost its checksum when the backup was made, in words
}

// A backup carries under these keys a digest of every row it was made with, and
// when that was. They are dropped when the file is opened to be worked on.
const (
	digestKey = "backup digest"
	madeKey   = "backup made"
)

// verify reads a file through that nobody is writing to: the structure and the
// references by SQLite's own checks, each document and picture by its checksum
// (SQLite has none on its pages, so it misses changed bytes), and a backup's
// every row by the digest it was sealed with. A backup that was made of damaged
// plans, and is as it was made, passes: it holds the other plans.
func verify(ctx context.Context, file string) (Contents, error) {
	db, err := openUnwritten(file)
	if err != nil {
		return Contents{}, err
	}
	defer db.Close()
	c, err := readThrough(ctx, db)
	if err != nil {
		return c, err
	}
	c.Made, err = checkSeal(ctx, db)
	if len(c.Damaged) > 0 && (err != nil || c.Made.IsZero()) {
		err = fmt.Errorf("it is damaged (%s)", c.Damaged[0])
	}
	return c, err
}

// readThrough checks the structure, and finds what no longer has its checksum.
func readThrough(ctx context.Context, db *sql.DB) (c Contents, err error) {
	if c.Version, err = whose(ctx, db); err != nil {
		return c, err
	}
	var verdict string
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&verdict); err != nil || verdict != "ok" {
		return c, fmt.Errorf("it is damaged (%s)", firstOf(err, verdict))
	}
	var dangling int
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM pragma_foreign_key_check").Scan(&dangling); err != nil || dangling > 0 {
		return c, fmt.Errorf("it is damaged (%s)", firstOf(err, fmt.Sprintf("%d rows belong to nothing", dangling)))
	}
	for _, t := range tables {
		if err := t.check(ctx, db, &c); err != nil {
			return c, fmt.Errorf("it is damaged (%w)", err)
		}
	}
	return c, nil
}

// errForeign says that a database is not one of ours.
var errForeign = errors.New("it belongs to another program")

// whose returns the schema version of a database of ours.
func whose(ctx context.Context, db *sql.DB) (version int64, err error) {
	var app int64
	err = errors.Join(
		db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&app),
		db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version),
	)
	newest, verr := newestVersion()
	switch {
	case verr != nil:
		return 0, verr
	case err != nil:
		return 0, fmt.Errorf("it is not a database, or it is damaged (%w)", err)
	case app != applicationID:
		return 0, errForeign
	case version > newest:
		return 0, tooNew(version, newest)
	}
	return version, nil
}

func tooNew(version, newest int64) error {
	return fmt.Errorf("it was written by a newer Evenfall (data version %d, this one knows up to %d). Use the newer program", version, newest)
}

// table is one table of ours: how its rows are counted and checked.
type table struct {
	name  string
	query string // every column, in an order that does not change
	count func(*Contents) *int
	body  string // column with a document or a picture, "" if none
	sum   string // column with its checksum
	says  string // names a row for people, with the column after; never by a text of theirs
	named string
}

var tables = []table{
	{"plans", "SELECT * FROM plans ORDER BY id", func(c *Contents) *int { return &c.Plans }, "doc", "sha256", "the plan %v", "id"},
	{"steps", "SELECT * FROM steps ORDER BY plan, pos", func(c *Contents) *int { return &c.Steps }, "", "", "", ""},
	{"blobs", "SELECT * FROM blobs ORDER BY sha256", func(c *Contents) *int { return &c.Blobs }, "bytes", "sha256", "the picture %.8v…", "sha256"},
	{"points", "SELECT * FROM points ORDER BY id", func(c *Contents) *int { return &c.Points }, "doc", "sha256", "a kept state of the plan %v", "plan"},
}

// check counts the rows of a table and compares each with its checksum.
func (t table) check(ctx context.Context, db *sql.DB, c *Contents) error {
	return t.rows(ctx, db, func(columns []string, values []any) error {
		*t.count(c)++
		if t.body == "" {
			return nil
		}
		row := map[string]any{}
		for i, c := range columns {
			row[c] = values[i]
		}
		body, _ := row[t.body].([]byte)
		if sum, _ := row[t.sum].(string); plan.Digest(body) != sum {
			c.Damaged = append(c.Damaged, fmt.Sprintf(t.says+" is no longer what was written", row[t.named]))
		}
		return nil
	})
}

// rows calls f with every row of a table; a file of an older version may lack it.
func (t table) rows(ctx context.Context, db *sql.DB, f func(columns []string, values []any) error) error {
	var there int
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = ?", t.name).Scan(&there); err != nil || there == 0 {
		return err
	}
	rows, err := db.QueryContext(ctx, t.query)
	if err != nil {
		return err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return err
	}
	values, into := make([]any, len(columns)), make([]any, len(columns))
	for i := range values {
		into[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		if err := f(columns, values); err != nil {
			return err
		}
	}
	return rows.Err()
}

// digest sums up every row of ours.
func digest(ctx context.Context, db *sql.DB) (string, error) {
	sum := sha256.New()
	for _, t := range tables {
		add(sum, t.name)
		if err := t.rows(ctx, db, func(columns []string, values []any) error {
			for i, c := range columns {
				add(sum, c)
				add(sum, values[i])
			}
			return nil
		}); err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// add adds a value to a sum with its kind and length, so that no two rows can
// run together into the same bytes.
func add(sum hash.Hash, v any) {
	b, isBytes := v.([]byte)
	if !isBytes {
		b = fmt.Append(nil, v)
	}
	fmt.Fprintf(sum, "%T ", v)
	sum.Write(binary.BigEndian.AppendUint64(nil, uint64(len(b))))
	sum.Write(b)
}

// seal notes in a fresh copy the digest of its rows and when it was made. The
// copy has no readers yet and is put on the disk afterwards, so it needs no
// journal.
func seal(ctx context.Context, file string, at time.Time) error {
	db, err := openAlone(file)
	if err != nil {
		return err
	}
	sum, err := digest(ctx, db)
	if err == nil {
		_, err = db.ExecContext(ctx, "INSERT OR REPLACE INTO meta (key, value) VALUES (?, ?), (?, ?)", digestKey, sum, madeKey, stamp(at))
	}
	return errors.Join(explain(err), db.Close())
}

// checkSeal compares the rows with the digest they were sealed with, and returns
// when that was; a file that is no backup has none.
func checkSeal(ctx context.Context, db *sql.DB) (made time.Time, err error) {
	var want, at string
	err = db.QueryRowContext(ctx, "SELECT s.value, m.value FROM meta s JOIN meta m ON m.key = ? WHERE s.key = ?", madeKey, digestKey).Scan(&want, &at)
	if errors.Is(err, sql.ErrNoRows) {
		return made, nil
	}
	if err != nil {
		return made, err
	}
	got, err := digest(ctx, db)
	if err == nil && got != want {
		err = errors.New("it is damaged (its contents are no longer those it was made with)")
	}
	if err != nil {
		return made, err
	}
	return time.Parse(time.RFC3339Nano, at)
}

// unseal forgets the digest of a backup that is now worked on.
func (s *Store) unseal(ctx context.Context) error {
	var sealed int
	if err := s.write.QueryRowContext(ctx, "SELECT count(*) FROM meta WHERE key IN (?, ?)", digestKey, madeKey).Scan(&sealed); err != nil || sealed == 0 {
		return err
	}
	_, err := s.write.ExecContext(ctx, "DELETE FROM meta WHERE key IN (?, ?)", digestKey, madeKey)
	return explain(err)
}

// size returns how many bytes a data file has on the disk, its log included.
func size(file string) int64 {
	var total int64
	for _, name := range []string{file, file + "-wal"} {
		if info, err := os.Stat(name); err == nil {
			total += info.Size()
		}
	}
	return total
}
