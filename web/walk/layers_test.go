//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// layer presses the eye or the lock of a layer in its panel.
func (p *tab) layer(sign, name string) {
	p.t.Helper()
	if eval[bool](p, `document.querySelector("#layers").hidden`) {
		p.click("#tab-layers")
	}
	p.click(fmt.Sprintf(`#layers [data-layer=%q] [aria-label^=%q]`, name, sign))
}

// drawn says for each layer whether anything of it can be seen on the board.
const drawn = `(() => {
	const seen = (q) => [...document.querySelectorAll("#board " + q)].some((e) => e.checkVisibility() && e.getBoundingClientRect().width > 0);
	return JSON.stringify({
		ground: seen(".areas [data-ref]"), walls: seen(".barriers [data-ref], .trees [data-ref]"), heads: seen(".heads [data-ref]"),
		water: seen(".heat"), pipes: seen(".pipes [data-ref]"), fixtures: seen(".fixtures [data-ref]"), names: seen(".names text"), grid: [...document.querySelectorAll(".grid-lines path")].some((e) => e.getAttribute("d")),
	});
})()`

// What is hidden is off the board and greyed in the list of objects, is neither
// snapped to, pointed at nor selected, and says that it is hidden; the state is
// kept for the plan in this browser and is no step of the plan.
func TestRowA15_AHiddenLayerIsGone(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	rev := eval[int](p, "evenfall.state.rev")
	if got := eval[string](p, drawn); strings.Contains(got, "false") {
		t.Fatalf("a layer of the demo is not drawn at first: %s", got)
	}
	p.tap(56, 24, 0)
	p.until(`[...evenfall.state.selection].join() === "heads/h2-8"`)
	for _, name := range []string{"ground", "walls", "heads", "water", "pipes", "fixtures", "names", "grid"} {
		p.layer("Show", name)
		p.frame()
		if got := eval[string](p, drawn); !strings.Contains(got, fmt.Sprintf(`"%s":false`, name)) || name != "ground" && strings.Count(got, "false") != 1 {
			t.Errorf("with %s hidden the board draws %s", name, got)
		}
		if name != "grid" {
			p.until(`document.querySelector("#layers-chip").textContent === "1 layer hidden" && document.querySelector("#layers-chip").checkVisibility()`)
		}
		p.layer("Show", name)
	}
	p.until(`!document.querySelector("#layers-chip").checkVisibility()`)

	// Hidden heads are let go of, cannot be selected and are not in Select all.
	p.tap(56, 24, 0)
	p.layer("Show", "heads")
	p.until(`evenfall.state.selection.length === 0`)
	p.click(`[data-command="tool.select"]`)
	p.tap(56, 24, 0)
	if got := eval[string](p, `[...evenfall.state.selection].join()`); strings.Contains(got, "heads/") {
		t.Errorf("a click on a hidden head selects %s", got)
	}
	p.press("a", chromedp.ModifierCtrl)
	p.until(`evenfall.state.selection.length > 0`)
	if eval[bool](p, `evenfall.state.selection.some((r) => r.startsWith("heads/"))`) {
		t.Error("Select all takes hidden heads")
	}
	eval[bool](p, `(evenfall.board.select([]), evenfall.board.select(["heads/h2-8"]), true)`)
	p.until(`document.querySelector("#notice").textContent.includes("The layer Heads is hidden")`)
	p.click("#notice button")
	p.click("#tab-objects")
	p.until(`document.querySelector('#objects tr[data-ref="heads/h2-8"]').classList.contains("off-board")`)
	if got := eval[string](p, `document.querySelector('#objects tr[data-ref="heads/h2-8"] th').textContent`); got != "Head, hidden" {
		t.Errorf("the row of a hidden head says %q", got)
	}

	// Not snapped to: beside a hidden head the pointer goes to the grid or nowhere.
	p.click(`[data-command="tool.measure"]`)
	p.mouse(input.DispatchMouseEventTypeMouseMoved, 56.1, 24.1, 0)
	p.frame()
	if got := eval[string](p, `evenfall.drawing.pointing.aim?.snap?.kind ?? ""`); got == "centre" {
		t.Error("a hidden head is snapped to")
	}
	p.layer("Show", "heads")
	p.mouse(input.DispatchMouseEventTypeMouseMoved, 56.2, 24.1, 0)
	p.until(`evenfall.drawing.pointing.aim?.snap?.kind === "centre"`)

	// Kept for this plan, and no step of it.
	p.layer("Show", "notes")
	p.layer("Lock", "ground")
	p.visit(prog.url + path)
	p.until("window.evenfall")
	p.settled()
	p.until(`document.querySelector("#layers-chip").textContent === "1 layer hidden"`)
	if got := eval[string](p, `JSON.stringify([evenfall.board.layers.hidden, evenfall.board.layers.isLocked("ground")])`); got != `[["notes"],true]` {
		t.Errorf("after coming back the layers are %s", got)
	}
	if got := eval[int](p, "evenfall.state.rev"); got != rev {
		t.Errorf("hiding and locking made the plan go from revision %d to %d", rev, got)
	}
	p.click("#layers-chip")
	p.until(`document.activeElement.id === "tab-layers" && !document.querySelector("#layers").hidden`)
	p.axe("layers")
	p.shot("layers")
}

// A drag in a locked layer moves nothing and says which layer is locked and how
// to unlock it; keys and Delete leave it alone too.
func TestRowA15_ALockedLayerStaysPut(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.layer("Lock", "heads")
	before := eval[string](p, "JSON.stringify(evenfall.state.plan)")
	p.drag(56, 24, 44, 24, 0)
	p.until(`document.querySelector(".draft-problem").textContent.includes("The layer Heads is locked. Unlock it under Layers")`)
	p.tap(56, 24, 0)
	p.until(`[...evenfall.state.selection].join() === "heads/h2-8"`)
	if n := eval[int](p, "evenfall.drawing.grips.length"); n != 0 {
		t.Errorf("a head of a locked layer has %d handles", n)
	}
	p.press(kb.ArrowRight)
	p.click(`[data-command="edit.delete"]`)
	p.until(`document.querySelector("#notice").textContent.includes("locked")`)
	p.settled()
	if after := eval[string](p, "JSON.stringify(evenfall.state.plan)"); after != before {
		t.Error("a locked layer was changed")
	}
	p.click("#notice button")
	p.layer("Lock", "heads")
	p.frame()
	p.drag(56, 24, 44, 24, 0)
	p.settled()
	if x := eval[float64](p, `evenfall.state.plan.heads["h2-8"].x_ft`); x > 50 {
		t.Errorf("after unlocking the drag leaves the head at x %v", x)
	}
}

// What is drawn into a hidden layer shows the layer again, and says so.
func TestRowA15_DrawingIntoAHiddenLayerShowsIt(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.layer("Show", "walls")
	trees := p.count("trees")
	p.click(`[data-command="tool.tree"]`)
	p.tap(20, 60, 0)
	p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.trees).length === %d`, trees+1))
	p.until(`document.querySelector("#notice").textContent.includes("Walls and trees: shown again")`)
	p.until(`document.querySelector("#board .trees").checkVisibility()`)
}
