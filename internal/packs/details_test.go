package packs

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// oneSheet makes the pages of one sheet alone.
func oneSheet(t testing.TB, in Input, kind Kind, paper PaperID, code string) []*page {
	t.Helper()
	b, err := newBuilder(context.Background(), in, Asked{Kind: kind, Paper: paper, Date: "2026-05-01", Revision: "3"})
	if err != nil {
		t.Fatal(err)
	}
	b.tell = func(string, float64) {}
	for _, s := range sheetsOf(kind) {
		if s.code == code {
			if err := b.make(s); err != nil {
				t.Fatal(err)
			}
		}
	}
	b.finish()
	return b.pages
}

// shoot keeps pages as pictures where EVENFALL_SHOTS says.
func shoot(t testing.TB, name string, pages []*page) {
	dir := os.Getenv("EVENFALL_SHOTS")
	if dir == "" {
		return
	}
	d := &drawing.Document{Title: name}
	for _, q := range pages {
		d.Pages = append(d.Pages, q.Page)
	}
	var out bytes.Buffer
	if err := drawing.WritePDF(&out, d, ""); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, name+".pdf")
	if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if msg, err := exec.Command("pdftoppm", "-r", "110", "-png", path, filepath.Join(dir, name)).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, msg)
	}
}

func TestDetailsLook(t *testing.T) {
	t.Parallel()
	shoot(t, "details-demo", oneSheet(t, demoInput(t), Crew, Letter, "C10"))
	shoot(t, "details-empty", oneSheet(t, designed(t, plan.Empty("Nothing yet", units.Metric)), Crew, A3, "C10"))
}
