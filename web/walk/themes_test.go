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
	if keep := os.Getenv("EVENFALL_SHOTS"); keep != "" {
		if err := os.WriteFile(filepath.Join(keep, name+".pdf"), printed.Data, 0o644); err != nil {
			p.t.Error(err)
		}
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
	count, least := 0, 1.0
	clean := func(what string, sheets []image.Image) {
		for i, m := range sheets {
			share := whiteShare(m)
			count, least = count+1, min(least, share)
			if share < 0.5 {
				t.Errorf("%s, sheet %d: %.0f %% is white", what, i+1, 100*share)
			}
			if x, y, dirty := inkInMargin(m); dirty {
				t.Errorf("%s, sheet %d: the margin has the colour %v at %d, %d", what, i+1, m.At(x, y), x, y)
			}
		}
	}
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
		clean(chosen, sheets)
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

	for _, chosen := range []string{"dark", "light"} {
		p.media(chosen)
		p.visit(prog.url)
		eval[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector("#theme"); e.value = %q; e.dispatchEvent(new Event("change")); return true; })()`, chosen))
		sheets, text := p.paper("print-plans-" + chosen)
		if !strings.Contains(text, "Plans") || strings.Contains(text, "Make the plan") {
			t.Errorf("the print of the list of plans says\n%s", text)
		}
		clean("plans, "+chosen, sheets)
		p.visit(prog.url + "/help")
		sheets, _ = p.paper("print-help-" + chosen)
		clean("help, "+chosen, sheets)
	}
	t.Logf("shown: %d sheets from both themes, corners and margins of all pure white, at least %.1f %% of each white", count, 100*least)
}

// inkInMargin finds a pixel that is not pure white in the corners or margins of a
// sheet: the outer 10 mm, without the right half of the foot, where the number of
// the page stands. Of that half the outer 2 mm are looked at.
func inkInMargin(m image.Image) (x, y int, dirty bool) {
	b := m.Bounds()
	const wide, narrow = 23, 5 // pixels: 10 mm and 2 mm at 60 to the inch, see paper
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			foot := wide
			if 2*x > b.Min.X+b.Max.X {
				foot = narrow
			}
			side := wide
			if y >= b.Max.Y-wide {
				side = narrow
			}
			if x >= b.Min.X+side && x < b.Max.X-side && y >= b.Min.Y+wide && y < b.Max.Y-foot {
				continue
			}
			if r, g, b, a := m.At(x, y).RGBA(); r&g&b&a != 0xffff {
				return x, y, true
			}
		}
	}
	return 0, 0, false
}

// lightness is the relative luminance of an element's background, 0 to 1.
func (p *tab) lightness(selector string) float64 {
	p.t.Helper()
	return eval[float64](p, fmt.Sprintf(`(() => {
		const [r, g, b] = getComputedStyle(document.querySelector(%q)).backgroundColor.match(/[\d.]+/g).map(Number);
		return (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255;
	})()`, selector))
}

// The theme follows the system until one is chosen, then the choice, also after
// coming back; pictures and the map are never inverted.
func TestRowA24_ThemeFollowsSystemAndChoice(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	choose := func(theme string) {
		eval[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector("#theme"); e.value = %q; e.dispatchEvent(new Event("change")); return true; })()`, theme))
	}
	for _, c := range []struct {
		system, chosen string
		dark           bool
	}{{"light", "", false}, {"dark", "", true}, {"dark", "light", false}, {"light", "dark", true}} {
		p.media(c.system)
		choose(c.chosen)
		for _, reload := range []bool{false, true} {
			if reload {
				p.visit(prog.url + path)
				p.until("window.evenfall")
				p.settled()
			}
			for _, part := range []string{"#board", "#side", "html"} {
				if l := p.lightness(part); (l < 0.3) != c.dark || (l > 0.7) == c.dark {
					t.Errorf("system %s, chosen %q, loaded anew %v: %s has the lightness %.2f", c.system, c.chosen, reload, part, l)
				}
			}
		}
		if f := eval[string](p, `[...document.querySelectorAll("img, image, canvas, #board, #scene")].map((e) => getComputedStyle(e).filter).filter((f) => f !== "none").join()`); f != "" {
			t.Errorf("a picture is filtered: %s", f)
		}
	}
}

// With the system's own few colours everything is still there: what is on looks
// on, what is selected looks selected, and lines stand out from the board.
func TestRowA24_ForcedColours(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	for _, scheme := range []string{"dark", "light"} {
		p.features("forced-colors: active", "prefers-color-scheme: "+scheme, "prefers-reduced-motion: reduce")
		eval[bool](p, `(evenfall.board.select(["heads/h2-8"]), true)`)
		p.frame()
		if !eval[bool](p, `matchMedia("(forced-colors: active)").matches`) {
			t.Fatal("the browser does not force colours")
		}
		told := eval[string](p, `(() => {
			const css = (q) => getComputedStyle(document.querySelector(q));
			const ground = css("#board").backgroundColor, out = [];
			for (const q of [".areas .edge", ".heads .mark", ".barrier-line"]) if (css(q).stroke === ground) out.push(q + " is drawn in the colour of the board");
			if (css(".heads .selected .ring").stroke === css(".heads .mark").stroke) out.push("a selected head looks like any other");
			for (const q of ["[aria-pressed=true]", "[role=tab][aria-selected=true]"]) {
				const on = css(q), off = css(q.replace("true", "false"));
				if (on.outlineStyle === off.outlineStyle && on.backgroundColor === off.backgroundColor && on.borderBottomColor === off.borderBottomColor) out.push(q + " looks as if it were not");
			}
			return out.join("\n");
		})()`)
		if told != "" {
			t.Errorf("%s:\n%s", scheme, told)
		}
		p.shot("forced-" + scheme)
		p.axe("forced colours, " + scheme)
	}
	p.visit(prog.url)
	p.shot("forced-plans")
}

// moving reads what moves by itself: running animations, and any rule that
// would have something move longer than 200 ms.
const moving = `(() => {
	const ms = (t) => Math.max(0, ...t.split(",").map((v) => (v.trim().endsWith("ms") ? parseFloat(v) : parseFloat(v) * 1000) || 0));
	const out = document.getAnimations().map((a) => "running: " + (a.transitionProperty ?? a.animationName ?? "animation") + " " + a.effect.getComputedTiming().duration);
	const look = (rules) => {
		for (const r of rules) {
			if (r.style && (ms(r.style.transitionDuration) > 200 || ms(r.style.animationDuration) > 200)) out.push(r.cssText.slice(0, 120));
			if (r.style && r.style.scrollBehavior === "smooth") out.push(r.cssText.slice(0, 120));
			if (r.cssRules) look(r.cssRules);
		}
	};
	for (const s of document.styleSheets) look(s.cssRules);
	return out.join("\n");
})()`

// Nothing moves by itself for longer than 200 ms, and nothing at all for those
// who asked for stillness: panels, menus and dialogs are there at once, and a
// press of zoom is one frame.
func TestRowA23_NothingMovesByItself(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	for _, wish := range []string{"no-preference", "reduce"} {
		p.features("prefers-reduced-motion: "+wish, "prefers-color-scheme: light")
		p.visit(prog.url)
		if got := eval[string](p, moving); got != "" {
			t.Errorf("%s, plans: %s", wish, got)
		}
		openDemo(t, p, prog)
		steps := []struct{ name, js string }{
			{"zoom", `evenfall.drawing.commands.run("view.in", () => {})`},
			{"fit", `evenfall.drawing.commands.run("view.fit", () => {})`},
			{"select", `evenfall.board.select(["heads/h2-8"])`},
			{"look", `evenfall.board.lookAt({ about: ["heads/h2-8"] })`},
			{"drawer", `document.querySelector("#tab-zones").click()`},
			{"layers", `document.querySelector("#tab-layers").click()`},
			{"menu", `document.querySelector("#plan-menu").open = true`},
			{"keys", `document.querySelector("#keys").click()`},
		}
		for _, s := range steps {
			view := eval[string](p, fmt.Sprintf(`(%s, new Promise((done) => requestAnimationFrame(() => done(JSON.stringify(evenfall.drawing.view)))))`, s.js))
			if got := eval[string](p, moving); got != "" {
				t.Errorf("%s, %s: %s", wish, s.name, got)
			}
			p.frame()
			if after := eval[string](p, "JSON.stringify(evenfall.drawing.view)"); s.name != "drawer" && after != view {
				t.Errorf("%s, %s: the view moved on after its first frame, from %s to %s", wish, s.name, view, after)
			}
		}
		p.escape()
	}
}
