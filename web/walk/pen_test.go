//go:build browser

package walk

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// pen sends one event of a pen at a place in feet.
func (p *tab) pen(kind input.DispatchMouseEventType, x, y float64) {
	p.t.Helper()
	px, py := p.pixels(x, y)
	params := input.DispatchMouseEventParams{Type: kind, X: px, Y: py, PointerType: input.DispatchMouseEventPointerTypePen, Force: 0.5}
	if kind != input.DispatchMouseEventTypeMouseMoved {
		params.Button, params.ClickCount = input.MouseButtonLeft, 1
	}
	if kind == input.DispatchMouseEventTypeMousePressed {
		params.Buttons = 1
	}
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	if _, err := chromedp.Call(ctx, input.DispatchMouseEvent, params); err != nil {
		p.t.Fatal(err)
	}
}

// long presses one finger at a place in feet until the menu is there, and lifts it.
func (p *tab) long(x, y float64) {
	p.t.Helper()
	p.touch(input.DispatchTouchEventTypeTouchStart, p.fingerAt(1, x, y))
	p.until(`document.querySelector(".context")`)
	p.touch(input.DispatchTouchEventTypeTouchEnd)
}

// items reads the commands of the open menu.
func (p *tab) items() string {
	p.t.Helper()
	return eval[string](p, `[...document.querySelectorAll(".context .context-title")].map((e) => e.textContent).join(", ")`)
}

// One finger selects and drags; two move and zoom; a short slip of a finger is
// still a tap, a longer one is not.
func TestRowA13_OneFingerDrawsTwoMove(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openDemo(t, p, prog)
	p.poke(56, 24)
	p.until(`[...evenfall.state.selection].join() === "heads/h2-8"`)

	slip := func(by float64) {
		f := p.fingerAt(1, 46, 0.4)
		p.touch(input.DispatchTouchEventTypeTouchStart, f)
		f.px += by
		p.touch(input.DispatchTouchEventTypeTouchMove, f)
		p.touch(input.DispatchTouchEventTypeTouchEnd)
	}
	rev := eval[int](p, "evenfall.state.rev")
	slip(5) // px: under the 6 that make a drag of a finger
	p.until(`[...evenfall.state.selection].join() === "heads/h2-1"`)
	p.settled()
	if got := eval[int](p, "evenfall.state.rev"); got != rev {
		t.Errorf("a slip of 5 px moved a head: revision %d, want %d", got, rev)
	}
	slip(40)
	p.until(`evenfall.state.rev > ` + fmt.Sprint(rev))
	p.settled()

	view := eval[string](p, "JSON.stringify(evenfall.drawing.view)")
	plan := eval[string](p, "JSON.stringify(evenfall.state.plan)")
	a, b := p.fingerAt(1, 20, 60), p.fingerAt(2, 50, 60)
	p.touch(input.DispatchTouchEventTypeTouchStart, a)
	p.touch(input.DispatchTouchEventTypeTouchStart, a, b)
	for range 5 {
		a.px, b.px = a.px-9, b.px+9
		p.touch(input.DispatchTouchEventTypeTouchMove, a, b)
	}
	p.touch(input.DispatchTouchEventTypeTouchEnd)
	p.until(fmt.Sprintf(`JSON.stringify(evenfall.drawing.view) !== %q`, view))
	if after := eval[string](p, "JSON.stringify(evenfall.state.plan)"); after != plan {
		t.Error("pinching changed the plan")
	}
	if zoom := eval[float64](p, "visualViewport.scale"); zoom != 1 {
		t.Errorf("pinching the board zoomed the page %v times", zoom)
	}
	t.Log("shown: a slip of 5 px is a tap, one of 40 px a drag")
}

// The first pen has fingers only move the view, says so, and the switch shows
// it and gives the fingers back.
func TestRowA13_APenMakesFingersMove(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openDemo(t, p, prog)
	if eval[bool](p, `document.querySelector('[data-command="view.pen"]').checkVisibility()`) {
		t.Error("the switch for pens is shown to those with a mouse")
	}
	p.pen(input.DispatchMouseEventTypeMouseMoved, 56, 24)
	p.pen(input.DispatchMouseEventTypeMousePressed, 56, 24)
	p.pen(input.DispatchMouseEventTypeMouseReleased, 56, 24)
	p.until(`[...evenfall.state.selection].join() === "heads/h2-8"`)
	p.until(`document.querySelector('[data-command="view.pen"]').getAttribute("aria-pressed") === "true"`)
	p.until(`document.querySelector("#notice").textContent.includes("fingers only move the view")`)
	p.click("#notice button")
	p.frame() // the board has its room back

	rev := eval[int](p, "evenfall.state.rev")
	left := eval[float64](p, "evenfall.drawing.view.left")
	f := p.fingerAt(1, 56, 24)
	p.touch(input.DispatchTouchEventTypeTouchStart, f)
	for range 4 {
		f.px += 15
		p.touch(input.DispatchTouchEventTypeTouchMove, f)
	}
	p.touch(input.DispatchTouchEventTypeTouchEnd)
	p.until(fmt.Sprintf("evenfall.drawing.view.left < %v", left))
	p.settled()
	if got := eval[int](p, "evenfall.state.rev"); got != rev {
		t.Errorf("a finger moved a head although fingers only move the view: revision %d, want %d", got, rev)
	}

	// The choice is kept, and the pen draws on.
	p.do(chromedp.Reload())
	p.until("window.evenfall")
	p.settled()
	p.until(`document.querySelector('[data-command="view.pen"]').getAttribute("aria-pressed") === "true"`)
	p.click(`[data-command="view.pen"]`)
	p.until(`document.querySelector('[data-command="view.pen"]').getAttribute("aria-pressed") === "false"`)
	p.pen(input.DispatchMouseEventTypeMouseMoved, 30, 30)
	if got := eval[string](p, `evenfall.drawing.aids.fingers`); got != "draw" {
		t.Errorf("a pen took back what the user chose: fingers %q", got)
	}
}

// A long press opens the menu of what is under the finger, does nothing else,
// and every item of it works.
func TestRowA13_LongPressOpensAMenu(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	p.coarse()
	openDemo(t, p, prog)
	heads := p.count("heads")
	p.long(56, 24)
	if got := eval[string](p, `[...evenfall.state.selection].join()`); got != "heads/h2-8" {
		t.Errorf("the long press selected %q", got)
	}
	got := p.items()
	for _, want := range []string{"Duplicate", "Delete", "Lock", "Turn arc left", "Select same kind"} {
		if !strings.Contains(got, want) {
			t.Errorf("the menu of a head has no %q: %s", want, got)
		}
	}
	if low := eval[float64](p, `Math.min(...[...document.querySelectorAll(".context button")].map((e) => e.getBoundingClientRect().height))`); low < 44 {
		t.Errorf("an item of the menu is %v px high under a finger", low)
	}
	p.shot("menu-touch")
	eval[bool](p, `([...document.querySelectorAll(".context button")].find((e) => e.textContent.startsWith("Duplicate")).click(), true)`)
	p.until(`!document.querySelector(".context")`)
	p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.heads).length === %d`, heads+1))

	// The same by right button and by keyboard; Escape leaves it and changes nothing.
	p.settled()
	px, py := p.pixels(46, 0.4)
	for _, kind := range []input.DispatchMouseEventType{input.DispatchMouseEventTypeMousePressed, input.DispatchMouseEventTypeMouseReleased} {
		params := input.DispatchMouseEventParams{Type: kind, X: px, Y: py, Button: input.MouseButtonRight, ClickCount: 1}
		if _, err := chromedp.Call(p.ctx, input.DispatchMouseEvent, params); err != nil {
			t.Fatal(err)
		}
	}
	p.until(`document.querySelector(".context")`)
	p.until(`[...evenfall.state.selection].join() === "heads/h2-1"`)
	p.escape()
	p.until(`!document.querySelector(".context") && document.activeElement.id === "scene"`)
	p.press(kb.F10, chromedp.ModifierShift)
	p.until(`document.activeElement.closest(".context")`)
	first := eval[string](p, `document.activeElement.textContent`)
	p.press(kb.ArrowDown)
	p.until(fmt.Sprintf(`document.activeElement.textContent !== %q && document.activeElement.closest(".context")`, first))
	p.axe("menu of the board")
	p.press(kb.Home)
	start := eval[float64](p, `evenfall.state.plan.heads["h2-1"].start_deg ?? 0`)
	p.enter()
	p.until(fmt.Sprintf(`(evenfall.state.plan.heads["h2-1"].start_deg ?? 0) !== %v`, start))
	p.until(`!document.querySelector(".context")`)
}

// A loupe shows what the finger covers while it pulls a handle, and is gone
// when the finger is.
func TestRowA13_LoupeWhileAFingerPlaces(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openDemo(t, p, prog)
	glass := `document.querySelector(".loupe").getAttribute("visibility") !== "hidden"`
	if eval[bool](p, glass) {
		t.Fatal("the loupe is shown before anything is placed")
	}
	f := p.fingerAt(1, 56, 24)
	p.touch(input.DispatchTouchEventTypeTouchStart, f)
	for range 3 {
		f.px -= 12
		p.touch(input.DispatchTouchEventTypeTouchMove, f)
	}
	p.until(glass)
	p.shot("loupe")
	clear := eval[float64](p, fmt.Sprintf(`(() => { const b = document.querySelector(".loupe-rim").getBoundingClientRect(); return Math.hypot(b.x + b.width / 2 - %v, b.y + b.height / 2 - %v) - b.width / 2; })()`, f.px, f.py))
	if clear < 30 {
		t.Errorf("the loupe is %.0f px from the finger that covers it", clear)
	}
	p.touch(input.DispatchTouchEventTypeTouchCancel)
	p.until("!(" + glass + ")")
	p.noGhost(1)
}

// Undo is in sight at every width, however far the page is scrolled, and the
// board leaves no gesture of fingers to the browser.
func TestRowA13_UndoIsAlwaysInSight(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, size := range [][2]int64{{1280, 800}, {1024, 768}, {768, 1024}, {640, 400}, {320, 640}} {
		p := open(t, size[0], size[1])
		p.coarse()
		openDemo(t, p, prog)
		for _, y := range []string{"0", "document.documentElement.scrollHeight"} {
			in := eval[bool](p, fmt.Sprintf(`(() => {
				scrollTo(0, %s);
				const b = document.querySelector("#undo").getBoundingClientRect();
				return document.elementFromPoint(b.left + b.width / 2, b.top + b.height / 2)?.id === "undo";
			})()`, y))
			if !in {
				t.Errorf("%v: Undo is out of sight with the page scrolled to %s", size, y)
			}
		}
		if got := eval[string](p, `[...document.querySelectorAll("#board, #scene")].map((e) => getComputedStyle(e).touchAction).join()+" "+getComputedStyle(document.documentElement).overscrollBehavior`); got != "auto,none none" {
			t.Errorf("%v: touches and overscroll of the board are %q", size, got)
		}
	}
}
