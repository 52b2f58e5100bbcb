package store

import (
	"context"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

func TestRowA31_AListReadsNoDocument(t *testing.T) {
	ctx := context.Background()
	s, err := Open(ctx, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for range 3 {
		if _, err := s.Create(ctx, []byte(`{"format":"evenfall-plan/1","name":"Yard"}`)); err != nil {
			t.Fatal(err)
		}
	}
	rows, err := s.read.QueryContext(ctx, `EXPLAIN QUERY PLAN
		SELECT id, name, rev, sha256, changed, coalesce(archived, ''),
			areas IS NOT NULL, coalesce(show, ''), coalesce(areas, 0), coalesce(heads, 0), coalesce(zones, 0), coalesce(lot_ft2, 0)
		FROM plans ORDER BY changed DESC, id`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var way []string
	for rows.Next() {
		var a, b, c int
		var words string
		if err := rows.Scan(&a, &b, &c, &words); err != nil {
			t.Fatal(err)
		}
		way = append(way, words)
	}
	if got := strings.Join(way, "; "); !strings.Contains(got, "COVERING INDEX plans_listed") || strings.Contains(got, "TEMP B-TREE") {
		t.Errorf("the list is read by %q, want the index alone", got)
	}
	// Each document is read through once for each revision, and not again.
	if _, err := s.List(ctx); err != nil {
		t.Fatal(err)
	}
	list, err := s.List(ctx)
	if err != nil || len(list) != 3 || len(s.sound.sums) != 3 {
		t.Fatalf("got %d plans, %d known as sound, %v", len(list), len(s.sound.sums), err)
	}
	if _, err := s.write.ExecContext(ctx, "UPDATE plans SET doc = CAST('rot' AS BLOB)"); err != nil {
		t.Fatal(err)
	}
	if list, err = s.List(ctx); err != nil || list[0].Damaged {
		t.Errorf("a document known as sound was read again: %+v, %v", list[0], err)
	}
	s.sound.sums = nil // the program started anew
	if list, err = s.List(ctx); err != nil || !list[0].Damaged || !list[2].Damaged {
		t.Errorf("got %+v, %v; want the damage seen", list, err)
	}
	if _, err := s.Create(ctx, plan.Empty("Another", "us").Encode()); err != nil {
		t.Fatal(err)
	}
	if list, err = s.List(ctx); err != nil || list[0].Damaged {
		t.Errorf("a new plan: got %+v, %v", list[0], err)
	}
}
