package store_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// lawnOf is a plan of so many heads.
func lawnOf(heads int) []byte {
	var b strings.Builder
	b.WriteString(strings.Replace(yard, `"h1":{"nozzle":"n1","body":"b1","x_ft":0,"y_ft":0,"sweep_deg":90},"h2":{"nozzle":"n1","body":"b1","x_ft":30,"y_ft":0,"start_deg":90,"sweep_deg":90}`, "@", 1))
	var list strings.Builder
	for i := range heads {
		if i > 0 {
			list.WriteByte(',')
		}
		fmt.Fprintf(&list, `"h%d":{"nozzle":"n1","body":"b1","x_ft":%d,"y_ft":%d,"sweep_deg":90}`, i, i%200, i/200)
	}
	return []byte(strings.Replace(b.String(), "@", list.String(), 1))
}

// TestRowB28_VeryLargePlansAreKept stores plans of 5,000 and 20,000 things and
// steps of them, and refuses more than 50,000 with the number.
func TestRowB28_VeryLargePlansAreKept(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	for _, n := range []int{5_000, 20_000} {
		p, err := s.Create(ctx, lawnOf(n))
		if err != nil {
			t.Fatalf("%d heads: %v", n, err)
		}
		p = commit(t, s, p, `{"heads":{"h77":{"x_ft":3}}}`, "Move head 77")
		back, _, err := s.Undo(ctx, p.ID, p.Rev)
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.Load(ctx, p.ID)
		if err != nil || string(got.Doc) != string(back.Doc) {
			t.Errorf("%d heads do not come back as they were: %v", n, err)
		}
		doc, err := plan.Decode(got.Doc)
		if err != nil || len(doc.Heads) != n {
			t.Errorf("%d heads, %v; want %d", len(doc.Heads), err, n)
		}
		t.Logf("shown: %d heads kept in %d KiB", n, len(got.Doc)>>10)
	}
	_, err := s.Create(ctx, lawnOf(50_001))
	var problem *plan.Problem
	if !errors.As(err, &problem) || !strings.Contains(err.Error(), "50000") && !strings.Contains(err.Error(), "50,000") {
		t.Errorf("50,001 heads: got %.300v, want the limit named", err)
	}
	// The limit holds for growing into it as well.
	edge, err := s.Create(ctx, lawnOf(49_900))
	if err != nil {
		t.Fatal(err)
	}
	var more []string
	for i := range 200 {
		more = append(more, fmt.Sprintf(`"m%d":{"nozzle":"n1","body":"b1","x_ft":1,"y_ft":1,"sweep_deg":90}`, i))
	}
	if _, err := s.Commit(ctx, edge.ID, edge.Rev, plan.Patch(`{"heads":{`+strings.Join(more, ",")+`}}`), "Too many"); !errors.As(err, &problem) {
		t.Errorf("growing past the limit: got %.300v, want it refused", err)
	}
	if got, err := s.Load(ctx, edge.ID); err != nil || got.Rev != 1 {
		t.Errorf("after it the plan is at revision %d, %v", got.Rev, err)
	}
}
