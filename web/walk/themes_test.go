//go:build browser

package walk

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// features sets what the page is told about its user's wishes.
func (p *tab) features(features ...string) {
	p.t.Helper()
	params := emulation.SetEmulatedMediaParams{}
	for _, f := range features {
		name, value, _ := strings.Cut(f, ": ")
		params.Features = append(params.Features, &emulation.MediaFeature{Name: name, Value: value})
	}
	if _, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, params); err != nil {
		p.t.Fatal(err)
	}
}

// paper prints the page and gives its sheets as pictures and its text.
func (p *tab) paper(name string) ([]image.Image, string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	printed, err := chromedp.Call(ctx, page.PrintToPDF, page.PrintToPDFParams{PrintBackground: new(true)})
	if err != nil {
		p.t.Fatal(err)
	}
	base := filepath.Join(p.t.TempDir(), name)
	if err := os.WriteFile(base+".pdf", printed.Data, 0o644); err != nil {
		p.t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-png", "-r", "60", base+".pdf", base).CombinedOutput(); err != nil {
		p.t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	text, err := exec.Command("pdftotext", "-layout", base+".pdf", "-").Output()
	if err != nil {
		p.t.Fatalf("pdftotext: %v", err)
	}
	files, err := filepath.Glob(base + "-*.png")
	if err != nil || len(files) == 0 {
		p.t.Fatalf("no sheets of %s: %v", name, err)
	}
	slices.Sort(files)
	var sheets []image.Image
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			p.t.Fatal(err)
		}
		if keep := os.Getenv("EVENFALL_SHOTS"); keep != "" {
			if err := os.WriteFile(filepath.Join(keep, filepath.Base(f)), b, 0o644); err != nil {
				p.t.Error(err)
			}
		}
		m, _, err := image.Decode(bytes.NewReader(b))
		if err != nil {
			p.t.Fatal(err)
		}
		sheets = append(sheets, m)
	}
	return sheets, string(text)
}

// whiteShare is how much of a picture is pure white, 0 to 1.
func whiteShare(m image.Image) float64 {
	white, n := 0, 0
	for y := m.Bounds().Min.Y; y < m.Bounds().Max.Y; y++ {
		for x := m.Bounds().Min.X; x < m.Bounds().Max.X; x++ {
			if r, g, b, _ := m.At(x, y).RGBA(); r == 0xffff && g == 0xffff && b == 0xffff {
				white++
			}
			n++
		}
	}
	return float64(white) / float64(n)
}

// Prints are light whatever the theme: the same sheets from both, white behind
// everything, with the plan, what is said about it and the tables, and without
// what only serves those at work.
func TestRowA24_PrintsAreLightInBothThemes(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	eval[bool](p, `(evenfall.board.select(["heads/h2-8"]), true)`)
	view := eval[string](p, "JSON.stringify(evenfall.drawing.view)")
	first := map[string][]image.Image{}
	for _, chosen := range []string{"light", "dark"} {
		p.media(chosen)
		eval[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector("#theme"); e.value = %q; e.dispatchEvent(new Event("change")); return true; })()`, chosen))
		p.frame()
		sheets, text := p.paper("print-board-" + chosen)
		for _, want := range []string{"Not to scale", "Evenness", "Findings", "Zones", "Parts", "Driest place"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the print does not say %q", chosen, want)
			}
		}
		for _, work := range []string{"Undo", "Rectangle", "Accept…", "Dismiss", "Renumber"} {
			if strings.Contains(text, work) {
				t.Errorf("%s: the print has the button %q", chosen, work)
			}
		}
		first[chosen] = sheets
		for i, m := range sheets {
			if share := whiteShare(m); share < 0.5 {
				t.Errorf("%s, sheet %d: %.0f %% is white", chosen, i+1, 100*share)
			}
		}
	}
	if len(first["light"]) != len(first["dark"]) {
		t.Fatalf("%d sheets from light, %d from dark", len(first["light"]), len(first["dark"]))
	}
	for i, m := range first["light"] {
		if off := unlikeness(m, first["dark"][i]); off > 0.005 {
			t.Errorf("sheet %d from dark is %.1f %% off that from light", i+1, 100*off)
		}
	}
	if after := eval[string](p, "JSON.stringify(evenfall.drawing.view)"); after != view {
		t.Errorf("printing moved the view from %s to %s", view, after)
	}
	if n := eval[int](p, `document.querySelectorAll("#scene .head.selected").length`); n != 1 {
		t.Errorf("after printing %d heads are shown selected, want 1", n)
	}

	p.visit(prog.url)
	sheets, text := p.paper("print-plans")
	if !strings.Contains(text, "Plans") || strings.Contains(text, "Make the plan") {
		t.Errorf("the print of the list of plans says\n%s", text)
	}
	for i, m := range sheets {
		if share := whiteShare(m); share < 0.5 {
			t.Errorf("plans, sheet %d: %.0f %% is white", i+1, 100*share)
		}
	}
}
