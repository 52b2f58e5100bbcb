//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/input"
)

// corners reads how many corners the outline in hand has.
const corners = `evenfall.drawing.tool.own().length`

// Two fingers in the middle of drawing move and zoom the view, and add nothing
// to the outline or the plan.
func TestRowA13_TwoFingersWhileDrawingOnlyMoveTheView(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "By touch")
	p.click("#empty-draw")
	p.choose("#kit", "Kind", "planting")
	p.show(-3, -3, 60, 40)
	p.poke(0, 0)
	p.until(corners + " === 1")
	p.poke(40, 0)
	p.until(corners + " === 2")
	before := eval[string](p, `JSON.stringify([evenfall.state.plan, evenfall.drawing.tool.own()])`)
	scale := eval[float64](p, "evenfall.drawing.view.scale")

	a, b := p.fingerAt(1, 10, 20), p.fingerAt(2, 30, 20)
	p.touch(input.DispatchTouchEventTypeTouchStart, a)
	p.touch(input.DispatchTouchEventTypeTouchStart, a, b)
	for range 6 {
		a.px, b.px, b.py = a.px-8, b.px+8, b.py-3
		p.touch(input.DispatchTouchEventTypeTouchMove, a, b)
	}
	p.touch(input.DispatchTouchEventTypeTouchEnd)
	p.until(fmt.Sprintf(`evenfall.drawing.view.scale > %v`, scale))
	if after := eval[string](p, `JSON.stringify([evenfall.state.plan, evenfall.drawing.tool.own()])`); after != before {
		t.Errorf("two fingers changed\n%s\ninto\n%s", before, after)
	}
	t.Logf("shown: two fingers zoomed %.2f times and added 0 corners", eval[float64](p, "evenfall.drawing.view.scale")/scale)
	p.show(-3, -3, 60, 40)
	p.poke(40, 30)
	p.until(corners + " === 3")
	eval[bool](p, `([...document.querySelectorAll(".draft-bar .draft-steps:not([hidden]) button")].find((e) => e.textContent === "Finish").click(), true)`) // for those without keys
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 1`)
	p.settled()
	if got := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.areas)[0].outline)`); got != `[[0,0],[40,0],[40,30]]` {
		t.Errorf("drawn by touch: %s", got)
	}
}

// A stroke the system takes away (a call, a palm) leaves nothing behind.
func TestRowA13_ACancelledTouchLeavesNoGhost(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.touch(input.DispatchTouchEventTypeTouchStart, p.fingerAt(1, 56, 24))
	for _, x := range []float64{54, 51, 48} {
		p.touch(input.DispatchTouchEventTypeTouchMove, p.fingerAt(1, x, 24))
	}
	p.until(`evenfall.board.drafting && evenfall.state.plan.heads["h2-8"].x_ft < 56`)
	p.touch(input.DispatchTouchEventTypeTouchCancel)
	p.until("!evenfall.board.drafting")
	p.noGhost(1)
	if x := eval[float64](p, `evenfall.state.plan.heads["h2-8"].x_ft`); x != 56 {
		t.Errorf("after the stroke was taken away head 2-8 stands at x %v, want 56", x)
	}

	p.click(`[data-command="tool.head"]`)
	heads := p.count("heads")
	p.touch(input.DispatchTouchEventTypeTouchStart, p.fingerAt(1, 30, 80))
	p.touch(input.DispatchTouchEventTypeTouchMove, p.fingerAt(1, 34, 80))
	p.touch(input.DispatchTouchEventTypeTouchCancel)
	p.noGhost(1)
	if n := p.count("heads"); n != heads {
		t.Errorf("a head that was not set is on the plan: %d heads, before %d", n, heads)
	}
	t.Log("shown: 2 strokes taken away, 0 marks and 0 steps left")
}

// noGhost checks that nothing of a stroke is left in the drawing or on its way
// to the program.
func (p *tab) noGhost(rev int) {
	p.t.Helper()
	p.frame()
	p.settled()
	left := eval[string](p, `JSON.stringify({
		ghost: document.querySelector(".draft-ghost").getAttribute("d") || "",
		line: document.querySelector(".draft-line").getAttribute("d") || "",
		dots: document.querySelector(".draft-dots").getAttribute("d") || "",
		labels: [...document.querySelectorAll(".draft-label")].map((e) => e.textContent).join(),
		lifted: document.querySelectorAll(".scene-live .heads *").length,
		box: document.querySelector(".pick-box").getAttribute("visibility") })`)
	if want := `{"ghost":"","line":"","dots":"","labels":"","lifted":0,"box":"hidden"}`; left != want {
		p.t.Errorf("a stroke left %s behind, want %s", left, want)
	}
	if got := eval[int](p, "evenfall.state.rev"); got != rev {
		p.t.Errorf("the plan is at revision %d, want %d", got, rev)
	}
}
