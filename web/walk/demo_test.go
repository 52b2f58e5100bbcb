//go:build browser

package walk

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// openDemo opens the demo plan of a fresh program on the board.
func openDemo(t *testing.T, p *tab, prog *program) string {
	t.Helper()
	p.visit(prog.url)
	path := eval[string](p, `document.querySelector('a[href^="/plans/"]').getAttribute("href")`)
	p.visit(prog.url + path)
	p.until("window.evenfall")
	p.settled()
	return path
}

// The page says what is wrong with the demo and how to mend it; doing what it
// says mends it.
func TestDemoDoesWhatItSays(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	if text := eval[string](p, `document.querySelector("#findings").textContent`); !strings.Contains(text, "Drag it 12 ft west") {
		t.Errorf("the page does not say how to mend head 2-8: %s", text)
	}
	stops := func() string {
		return eval[string](p, `evenfall.state.design.findings.filter(f => f.rank === "stop").map(f => f.code).sort().join(" ")`)
	}
	if got := stops(); got != "rates-mixed spacing-wide" {
		t.Errorf("the demo opens with the stops %q", got)
	}
	gaps := `evenfall.state.design.gaps.length`
	if eval[int](p, gaps) == 0 {
		t.Error("the demo opens without a dry patch")
	}
	keepPicture(t, p.shot("demo"))

	p.drag(56, 24, 44, 24, 0)
	p.settled()
	if n := eval[int](p, gaps); n != 0 {
		t.Errorf("with head 2-8 where the page says %d dry patches are left", n)
	}
	if got := stops(); got != "rates-mixed" {
		t.Errorf("after the drag the stops are %q, want only the mixed rates", got)
	}
	if got := eval[string](p, `JSON.stringify(evenfall.state.plan.heads["h2-8"])`); !strings.Contains(got, `"x_ft":44`) {
		t.Errorf("head 2-8 was dropped at %s", got)
	}

	for _, id := range []string{"h2-3", "h2-4"} {
		eval[bool](p, fmt.Sprintf(`(evenfall.board.select(["heads/%s"]), true)`, id))
		p.choose("#selected", "Nozzle", "stream-25")
		p.settled()
	}
	if got := stops(); got != "" {
		t.Errorf("with both mistakes mended the stops are %q", got)
	}
	p.shot("demo-mended")
}

// picture is the one the README shows.
var picture = filepath.Join("..", "..", "testdata", "pictures", "board.png")

// keepPicture writes the picture the README shows, when asked to.
func keepPicture(t *testing.T, png []byte) {
	t.Helper()
	if os.Getenv("EVENFALL_PICTURE") == "" {
		return
	}
	if err := os.WriteFile(picture, png, 0o644); err != nil {
		t.Fatal(err)
	}
}

// Steps can be taken back after the program was stopped and started again.
func TestUndoSurvivesARestart(t *testing.T) {
	data := t.TempDir()
	prog := startProgram(t, data)
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	p.drag(56, 24, 44, 24, 0)
	p.settled()
	p.excuse(toldAway, toldNoSocket)
	prog.stop()
	again := startProgram(t, data)
	p.visit(again.url + path)
	p.until("window.evenfall")
	p.settled()
	if x := eval[float64](p, `evenfall.state.plan.heads["h2-8"].x_ft`); x != 44 {
		t.Fatalf("after the restart head 2-8 stands at x %v, want 44", x)
	}
	p.press("z", chromedp.ModifierCtrl)
	p.until(`evenfall.state.plan.heads["h2-8"].x_ft === 56`)
	p.press("z", chromedp.ModifierCtrl, chromedp.ModifierShift)
	p.until(`evenfall.state.plan.heads["h2-8"].x_ft === 44`)
}

// A page of another site whose name was pointed at this machine learns nothing.
func TestRowB2_AReboundNameIsRefused(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 800, 600)
	p.visit(strings.Replace(prog.url, "127.0.0.1", "evil.test", 1) + "/")
	p.excuse("status of 421", "Cross-Origin-Opener-Policy", "Refused to ") // that it is refused is the point
	text := eval[string](p, "document.documentElement.textContent")
	if strings.Contains(text, "Corner lot") || !strings.Contains(strings.ToLower(text), "address") {
		t.Errorf("the rebound name was answered with %q", text)
	}
}

// Every page in both schemes and at both widths: nothing for the accessibility
// engine to find, no sideways scrolling.
func TestPagesAreAccessible(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, scheme := range []string{"light", "dark"} {
		for _, width := range []int64{1280, 1024} {
			t.Run(fmt.Sprintf("%s %d", scheme, width), func(t *testing.T) {
				p := open(t, width, 800)
				p.media(scheme)
				p.excuse(toldNotFound) // the page that is not there
				look := func(name string) {
					p.axe(name)
					p.shot(fmt.Sprintf("%s-%s-%d", name, scheme, width))
					if over := eval[int](p, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
						t.Errorf("%s is %d px wider than the window", name, over)
					}
				}
				p.visit(prog.url)
				look("plans")
				p.visit(prog.url + "/help")
				look("help")
				p.visit(prog.url + "/plans/nowhere")
				look("not-found")
				openDemo(t, p, prog)
				look("board")
				for _, tab := range []string{"objects", "zones", "parts", "history"} {
					p.click("#tab-" + tab)
					look("board-" + tab)
				}
				eval[bool](p, `(evenfall.board.select(["heads/h2-8"]), true)`)
				look("board-head")
				eval[bool](p, `(evenfall.board.select(["areas/" + Object.keys(evenfall.state.plan.areas)[0]]), true)`)
				look("board-area")
				p.click("#plan-menu summary")
				p.click("#plan-settings")
				look("settings")
				p.escape()
				p.click("#keys")
				look("keys")
			})
		}
	}
}

// The lists stay usable on a screen as narrow as a telephone's.
func TestNarrowWindow(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 320, 640)
	for _, path := range []string{"/", "/help"} {
		p.visit(prog.url + path)
		p.shot("narrow" + strings.ReplaceAll(path, "/", "-"))
		if over := eval[int](p, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
			t.Errorf("%s is %d px wider than the window", path, over)
		}
	}
}
