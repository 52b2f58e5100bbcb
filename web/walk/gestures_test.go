//go:build browser

package walk

import (
	"context"
	"fmt"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// wheel turns the wheel one notch over a pixel.
func (p *tab) wheel(px, py, turn float64) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	// A sideways turn of nothing would be left out of the message, which must have one.
	params := input.DispatchMouseEventParams{Type: "mouseWheel", X: px, Y: py, DeltaX: 0.001, DeltaY: turn}
	if _, err := chromedp.Call(ctx, input.DispatchMouseEvent, params); err != nil {
		p.t.Fatal(err)
	}
}

// finger is where one finger is, in pixels. Fingers are counted from 1: the
// protocol takes 0 for none.
type finger struct{ id, px, py float64 }

// touch sends what the fingers on the glass do; to lift them none are given.
func (p *tab) touch(kind input.DispatchTouchEventType, fingers ...finger) {
	p.t.Helper()
	points := []*input.TouchPoint{}
	for _, f := range fingers {
		points = append(points, &input.TouchPoint{X: f.px, Y: f.py, ID: &f.id})
	}
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	if _, err := chromedp.Call(ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points}); err != nil {
		p.t.Fatal(err)
	}
}

// fingerAt is a finger at a place in feet.
func (p *tab) fingerAt(id, x, y float64) finger {
	p.t.Helper()
	px, py := p.pixels(x, y)
	return finger{id, px, py}
}

// poke touches a place in feet with one finger and lifts it.
func (p *tab) poke(x, y float64) {
	p.t.Helper()
	p.touch(input.DispatchTouchEventTypeTouchStart, p.fingerAt(1, x, y))
	p.touch(input.DispatchTouchEventTypeTouchEnd)
}

// coarse makes the browser a tablet: fingers, no mouse.
func (p *tab) coarse() {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	params := emulation.SetTouchEmulationEnabledParams{Enabled: true, MaxTouchPoints: 5}
	if _, err := chromedp.Call(ctx, emulation.SetTouchEmulationEnabled, params); err != nil {
		p.t.Fatal(err)
	}
}

// thumb taps the first control in view with this text, where it lies under a finger.
func (p *tab) thumb(within, text string) {
	p.t.Helper()
	p.thumbOn(fmt.Sprintf(`[...document.querySelectorAll(%q)].flatMap((w) => [...w.querySelectorAll("button, a, summary")]).find((e) => e.checkVisibility() && !e.disabled && e.textContent.trim().startsWith(%q))`, within, text))
}

// thumbOn taps what a script finds: what covers it would have the tap, and fails the test.
// One tap is left of its middle and the next right of it, since two in one place, with no
// time to read between them, are a double tap.
func (p *tab) thumbOn(find string) {
	p.t.Helper()
	p.until(find)
	p.frame()
	at := eval[[]float64](p, fmt.Sprintf(`(() => {
		const e = %s;
		e.scrollIntoView({ block: "center" });
		const r = e.getBoundingClientRect(), y = r.y + r.height / 2;
		window.tappedLeft = !window.tappedLeft;
		const x = r.x + r.width * (window.tappedLeft ? 0.2 : 0.8), on = document.elementFromPoint(x, y);
		if (!e.contains(on)) throw new Error("over " + e.outerHTML.slice(0, 200) + " lies " + on?.outerHTML.slice(0, 200));
		window.tapped = false;
		e.addEventListener("click", () => { window.tapped = true; }, { once: true, capture: true });
		return [x, y];
	})()`, find))
	p.touch(input.DispatchTouchEventTypeTouchStart, finger{1, at[0], at[1]})
	p.touch(input.DispatchTouchEventTypeTouchEnd)
	p.until(`window.tapped !== false`) // another page knows nothing of it
}

// thumbType taps a field and types into it key by key, over what is in it.
func (p *tab) thumbType(within, label, text string) {
	p.t.Helper()
	field := labelled(within, label)
	p.thumbOn(field)
	p.until(fmt.Sprintf(`document.activeElement === %s`, field))
	eval[bool](p, `(document.activeElement.select(), true)`)
	p.write(text)
}

// labelled finds the first field in view by how its label begins.
func labelled(within, label string) string {
	return fmt.Sprintf(`((l) => l && document.getElementById(l.htmlFor))([...document.querySelectorAll(%q + " label")].find((l) => l.checkVisibility() && l.textContent.trim().startsWith(%q)))`, within, label)
}
