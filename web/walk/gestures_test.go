//go:build browser

package walk

import (
	"context"

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
