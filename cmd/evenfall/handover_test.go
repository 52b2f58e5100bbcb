package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// photographed is the demo plan with a photograph, and the folder that has it.
func photographed(t *testing.T) (file, folder string) {
	t.Helper()
	dir := t.TempDir()
	folder = filepath.Join(dir, "pictures")
	if err := os.Mkdir(folder, 0o777); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 6))); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "valve box.png"), b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	doc, err := os.ReadFile(filepath.Join(testPlans, "demo.json"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(b.Bytes())
	p.Photos = map[plan.ID]plan.Photo{"f1": {SHA256: hex.EncodeToString(sum[:]), Caption: "valve box"}}
	file = filepath.Join(dir, "plan.json")
	if err := os.WriteFile(file, p.Encode(), 0o666); err != nil {
		t.Fatal(err)
	}
	return file, folder
}

func TestAPlanIsHandedOverAndTakenOver(t *testing.T) {
	file, folder := photographed(t)
	dir := t.TempDir()
	packed := filepath.Join(dir, "house.zip")
	if got := ask("", "hand-over", "--out", packed, "--pictures", folder, "--date", "2026-06-01", file); got.code != 0 || got.err != "" {
		t.Fatalf("code %d: %s", got.code, got.err)
	}
	out := filepath.Join(dir, "taken")
	got := ask("", "take-over", "--out", out, packed)
	if got.code != 0 || got.err != "" {
		t.Fatalf("code %d: %s", got.code, got.err)
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if doc, err := os.ReadFile(filepath.Join(out, "plan.json")); err != nil || !bytes.Equal(doc, want) {
		t.Errorf("another plan was taken over: %v", err)
	}
	if n := strings.Count(got.out, "\n"); n != 2 || !strings.Contains(got.out, ".png") {
		t.Errorf("written: %s", got.out)
	}
	if again := ask("", "hand-over", "--out", packed, file); again.code != 1 || !strings.Contains(again.err, "--force") {
		t.Errorf("over what is there: code %d: %s", again.code, again.err)
	}
	bare := ask("", "hand-over", "--out", filepath.Join(dir, "bare.zip"), file)
	if bare.code != 0 || !strings.Contains(bare.err, "1 picture of the plan was not found") {
		t.Errorf("without its picture: code %d: %s", bare.code, bare.err)
	}
	damaged := filepath.Join(dir, "damaged.zip")
	whole, err := os.ReadFile(packed)
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(whole, []byte("\x89PNG")) // pictures are stored as they are
	whole[at+20] ^= 1
	if err := os.WriteFile(damaged, whole, 0o666); err != nil {
		t.Fatal(err)
	}
	rest := ask("", "take-over", "--out", filepath.Join(dir, "rest"), damaged)
	if rest.code != 0 || !strings.Contains(rest.err, "Left out: The picture") || strings.Count(rest.out, "\n") != 1 {
		t.Errorf("with a damaged picture: code %d: %s%s", rest.code, rest.out, rest.err)
	}
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"no file to write": {[]string{"hand-over", file}, 2, "--out"},
		"no such day":      {[]string{"hand-over", "--out", packed, "--date", "2026-02-30", file}, 2, "2026-02-30"},
		"no such folder":   {[]string{"hand-over", "--out", packed, "--force", "--pictures", filepath.Join(dir, "nowhere"), file}, 1, "nowhere"},
		"a plan file":      {[]string{"take-over", "--out", out, file}, 1, "no ZIP file"},
		"no folder":        {[]string{"take-over", packed}, 2, "--out"},
		"nothing":          {[]string{"take-over", "--out", out}, 2, "Name one file"},
		"taken before":     {[]string{"take-over", "--out", out, packed}, 1, "--force"},
	} {
		if got := ask("", c.args...); got.code != c.code || !strings.Contains(got.err, c.says) {
			t.Errorf("%s: code %d, %s", name, got.code, got.err)
		}
	}
}
