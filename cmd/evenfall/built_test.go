package main

import (
	"crypto/sha256"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// largestProgram is the most the program may weigh, without its symbols and
// debugging data: built with -ldflags "-s -w".
const largestProgram = 30 << 20

// TestRowB31_TheProgramIsSmall builds the program, when every check is asked for.
func TestRowB31_TheProgramIsSmall(t *testing.T) {
	if os.Getenv("EVENFALL_ALL") == "" && os.Getenv(thorough) == "" {
		t.Skip("a build takes its time; set EVENFALL_ALL=1")
	}
	_, size := build(t, "../..")
	if size > largestProgram {
		t.Errorf("the program weighs %d bytes, want %d at the most", size, largestProgram)
	}
	t.Logf("shown: %.1f MiB", float64(size)/(1<<20))
}

// TestRowB31_TheProgramIsTheSameFromAnyFolder builds the program from two copies
// of the source: the files are equal. SQLite is compiled anew for it, so it runs
// only with EVENFALL_THOROUGH=1.
func TestRowB31_TheProgramIsTheSameFromAnyFolder(t *testing.T) {
	if os.Getenv(thorough) == "" {
		t.Skip("two builds take long; set EVENFALL_THOROUGH=1")
	}
	one, two := filepath.Join(t.TempDir(), "one"), filepath.Join(t.TempDir(), "two")
	copySource(t, "../..", one)
	copySource(t, one, two)
	first, _ := build(t, one, "-trimpath", "-buildvcs=false")
	second, _ := build(t, two, "-trimpath", "-buildvcs=false")
	if first != second {
		t.Errorf("the program built from another folder is another: %x, %x", first, second)
	}
	t.Logf("shown: sha256 %.8x… from both folders", first)
}

// build builds the program of a source folder and returns its sum and size.
func build(t *testing.T, source string, flags ...string) (sum [32]byte, size int) {
	t.Helper()
	out := filepath.Join(t.TempDir(), "evenfall")
	cmd := exec.Command("go", append(append([]string{"build"}, flags...), "-ldflags", "-s -w", "-o", out, "./cmd/evenfall")...)
	cmd.Dir = source
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return sha256.Sum256(b), len(b)
}

// copySource copies what the program is built from.
func copySource(t *testing.T, from, to string) {
	t.Helper()
	err := filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == ".git") {
			return filepath.SkipDir
		}
		rel, err := filepath.Rel(from, path)
		if err != nil {
			return err
		}
		target := filepath.Join(to, rel)
		if d.IsDir() {
			return os.MkdirAll(target, 0o755)
		}
		if strings.HasSuffix(path, "_test.go") || !d.Type().IsRegular() {
			return nil
		}
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(target, b, 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
}
