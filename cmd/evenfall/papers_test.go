package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func TestPapersWritesOnePack(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(testPlans, "demo.json")
	out := filepath.Join(dir, "crew.pdf")
	if got := ask("", "papers", "--pack", "crew", "--out", out, "--paper", "a4", "--date", "2026-05-01", file); got.code != 0 {
		t.Fatalf("code %d: %s", got.code, got.err)
	}
	first, err := os.ReadFile(out)
	if err != nil || !strings.HasPrefix(string(first), "%PDF-") {
		t.Fatalf("%.20q, %v", first, err)
	}
	if again := ask("", "papers", "--pack", "crew", "--out", out, file); again.code != 1 || !strings.Contains(again.err, "--force") {
		t.Errorf("over what is there: code %d: %s", again.code, again.err)
	}
	if forced := ask("", "papers", "--pack", "crew", "--out", out, "--force", "--paper", "a4", "--date", "2026-05-01", file); forced.code != 0 {
		t.Errorf("forced: code %d: %s", forced.code, forced.err)
	}
	if second, err := os.ReadFile(out); err != nil || string(second) != string(first) {
		t.Errorf("the same question has other bytes: %v", err)
	}
	draft := filepath.Join(dir, "draft.pdf")
	if got := ask("", "papers", "--pack", "owner", "--out", draft, "--revision", "B-draft", file); got.code != 0 {
		t.Fatalf("code %d: %s", got.code, got.err)
	}
	if text, err := exec.Command("pdftotext", draft, "-").Output(); err != nil || !strings.Contains(string(text), "revision B-draft") {
		t.Errorf("the pack does not say its revision: %v", err)
	}
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"no pack":      {[]string{"--out", out, file}, 2, "crew, owner or office"},
		"a list":       {[]string{"--pack", "parts", "--out", out, file}, 2, "crew, owner or office"},
		"no file":      {[]string{"--pack", "crew", file}, 2, "--out"},
		"no such day":  {[]string{"--pack", "crew", "--out", out, "--date", "2026-02-30", file}, 2, "2026-02-30"},
		"long words":   {[]string{"--pack", "crew", "--out", out, "--revision", strings.Repeat("b", 21), file}, 2, "20 letters"},
		"no such size": {[]string{"--pack", "crew", "--out", out, "--force", "--paper", "foolscap", file}, 1, "foolscap"},
		"no scale":     {[]string{"--pack", "crew", "--out", out, "--force", "--scale", "7", file}, 1, "1 to 7"},
	} {
		if got := ask("", append([]string{"papers"}, c.args...)...); got.code != c.code || !strings.Contains(got.err, c.says) {
			t.Errorf("%s: code %d, %s", name, got.code, got.err)
		}
	}
	if kept, err := os.ReadFile(out); err != nil || string(kept) != string(first) {
		t.Errorf("a refused request changed the file: %v", err)
	}
}
