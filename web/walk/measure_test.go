//go:build browser

package walk

import (
	"strings"
	"testing"

	protocol "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// triangleMeasured waits for the figures of a closed 3-4-5 triangle.
const triangleMeasured = `document.querySelector(".draft-news").textContent === "Closed: perimeter 12' 0\", area 6.0 ft²."`

// allowClipboard lets the tab's pages read the clipboard, as a user would be asked.
func (p *tab) allowClipboard() {
	p.t.Helper()
	for _, name := range []string{"clipboard-read", "clipboard-write"} {
		params := protocol.SetPermissionParams{
			Permission: &protocol.PermissionDescriptor{Name: name}, Setting: protocol.PermissionSettingGranted,
			BrowserContextID: chromedp.FromContext(p.ctx).BrowserContextID,
		}
		if _, err := chromedp.CallBrowser(p.ctx, protocol.SetPermission, params); err != nil {
			p.t.Fatal(err)
		}
	}
}

// Three corners 3, 4 and 5 ft apart measure so, with 6 square feet and 12 ft
// around; it is announced, can be copied, and neither plan nor undo knows of it.
func TestRowA6_MeasuringLeavesNothing(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.show(10, 60, 20, 70)
	depth := `JSON.stringify([evenfall.state.rev, evenfall.board.undoLabel, evenfall.board.canRedo, JSON.stringify(evenfall.state.plan).length])`
	before := eval[string](p, depth)

	p.click(`[data-command="tool.measure"]`)
	p.tap(12, 62, altKey)
	p.tap(15, 62, altKey)
	p.tap(15, 66, altKey)
	p.until(`document.querySelector(".draft-news").textContent.startsWith("Side 4' 0\", total 7' 0\"; closed: perimeter 12' 0\", area 6.0 ft²")`)
	p.shot("measure-open")
	p.tap(12, 62, 0) // its own first corner
	p.until(triangleMeasured)
	p.frame()
	labels := eval[string](p, `[...document.querySelectorAll(".draft-label")].map((e) => e.textContent).join(" | ")`)
	if labels != `3' 0" | 4' 0" | 5' 0" | Area 6.0 ft²` {
		t.Errorf("beside the sides stands %s", labels)
	}
	p.until(`document.querySelector("#live").textContent.startsWith("Measured. Closed")`)
	p.shot("measure")
	p.axe("measuring")
	p.media("dark")
	p.shot("measure-dark")
	p.media("light")

	p.allowClipboard()
	p.press("c", chromedp.ModifierCtrl)
	p.until(`document.querySelector("#live").textContent.startsWith("Copied as text")`)
	text := eval[string](p, `navigator.clipboard.readText()`)
	if want := "Sides: 3' 0\"; 4' 0\"; 5' 0\"\nTotal: 12' 0\"\nPerimeter, closed: 12' 0\"\nArea: 6.0 ft²"; text != want {
		t.Errorf("copied %q, want %q", text, want)
	}
	p.escape()
	p.escape()
	p.settled()
	if after := eval[string](p, depth); after != before {
		t.Errorf("measuring made %s of %s", after, before)
	}
}

// The same by keyboard alone.
func TestRowA6_MeasuringByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Keys")
	before := eval[int](p, `evenfall.state.rev`)
	p.tabTo("#scene", 60)
	p.press("m")
	p.until(`evenfall.drawing.toolName === "measure"`)
	p.typed("0, 0", "3<0", "4<90")
	p.until(`document.querySelector(".draft-news").textContent.includes("perimeter 12' 0\", area 6.0 ft²")`)
	p.typed("0, 0") // back at the first corner
	p.until(triangleMeasured)
	p.press(kb.Backspace)
	p.until(`document.querySelector(".draft-news").textContent.startsWith("Side 4' 0\"")`)
	p.enter()
	p.until(`document.querySelector("#live").textContent.startsWith("Measured.")`)
	if said := eval[string](p, `document.querySelector("#live").textContent`); !strings.Contains(said, "total 7' 0\"") {
		t.Errorf("announced %q", said)
	}
	p.press("z", chromedp.ModifierCtrl) // undo speaks to the measure, not to the plan
	p.until(`document.querySelector("#live").textContent.startsWith("Going on")`)
	if rev := eval[int](p, `evenfall.state.rev`); rev != before {
		t.Errorf("measuring made revision %d of %d", rev, before)
	}
}
