package packs

import (
	"bytes"
	"context"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/drawing"
)

var update = flag.Bool("update", false, "rewrite the golden draw lists of testdata/golden")

// fullSheets are the sheets whose draw lists are kept in full, to be read when they
// change; of the others a digest of each page is kept.
var fullSheets = map[string]bool{"O1": true, "C6": true}

// TestDrawListsOfTheDemo holds the draw lists of the demo's packs to those looked at
// last. After a change that was meant: go test ./internal/packs -run DrawLists -update,
// then read the difference, and look at the pages (TestLook).
func TestDrawListsOfTheDemo(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	for _, kind := range []Kind{Crew, Owner, Office} {
		made, err := Make(context.Background(), in, Asked{Kind: kind, Paper: Letter, Date: "2026-05-01", Revision: "3", Draws: 1}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var pages strings.Builder
		for _, s := range made.Sheets {
			var full bytes.Buffer
			for i := s.First; i < s.First+s.Pages; i++ {
				var b bytes.Buffer
				if err := drawing.Dump(&b, &made.Document.Pages[i]); err != nil {
					t.Fatal(err)
				}
				fmt.Fprintf(&pages, "%.6x %s\n", sha256.Sum256(b.Bytes()), made.Document.Pages[i].Name)
				full.Write(b.Bytes())
			}
			if fullSheets[s.Code] {
				golden(t, s.Code, full.String())
			}
		}
		golden(t, string(kind), pages.String())
	}
}

// golden holds text to the file of a name.
func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", "golden", name+".txt")
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	was, is := strings.Split(string(kept), "\n"), strings.Split(got, "\n")
	for i := range max(len(was), len(is)) {
		a, b := "nothing", "nothing"
		if i < len(was) {
			a = was[i]
		}
		if i < len(is) {
			b = is[i]
		}
		if a != b {
			t.Errorf("%s, line %d: %q is now %q (-update rewrites it)", file, i+1, a, b)
			return
		}
	}
}
