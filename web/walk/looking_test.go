//go:build browser

package walk

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
)

// What is under the cursor stays there however the wheel is turned.
func TestZoomKeepsThePointUnderTheCursor(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	const px, py = 517, 383
	x, y := p.feetAt(px, py)
	first := eval[float64](p, "evenfall.drawing.view.scale")
	worst := 0.0
	for i := range 40 {
		turn := -100.0
		if i >= 20 {
			turn = 100
		}
		scale := eval[float64](p, "evenfall.drawing.view.scale")
		p.wheel(px, py, turn)
		p.until(fmt.Sprintf("evenfall.drawing.view.scale !== %v", scale))
		qx, qy := p.pixels(x, y)
		worst = max(worst, math.Hypot(qx-px, qy-py))
	}
	if worst >= 0.5 {
		t.Errorf("over 40 notches the point moved by up to %.3f px", worst)
	}
	if last := eval[float64](p, "evenfall.drawing.view.scale"); math.Abs(last/first-1) > 1e-9 {
		t.Errorf("20 notches in and 20 out brought the scale from %v to %v", first, last)
	}
	t.Logf("shown: worst shift over 40 notches: %.6f px", worst)
}

func (p *tab) feetAt(px, py float64) (float64, float64) {
	p.t.Helper()
	at := eval[[]float64](p, fmt.Sprintf("window.evenfall.feet([%v, %v])", px, py))
	return at[0], at[1]
}

// The status bar says where the pointer is and what falls there; it is the
// program's figure for that place.
func TestTheValueUnderThePointerIsTheProgramsOwn(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	for _, at := range [][2]float64{{30, 60}, {80, 15}, {100, 50}} {
		p.toward(at[0], at[1])
		p.until(`document.querySelector("#where").textContent !== ""`)
		want := eval[string](p, fmt.Sprintf(`(({ at: [x, y] }) => fetch("/api%s/rate?x=" + x.toFixed(3) + "&y=" + y.toFixed(3)).then((r) => r.json()).then((a) => a.text))(evenfall.drawing.pointer)`, path))
		if want == "" {
			t.Errorf("the program has no words for %v", at)
		}
		p.until(fmt.Sprintf(`document.querySelector("#under").textContent === %q`, want))
	}
	p.mouseAt(input.DispatchMouseEventTypeMouseMoved, 640, 20, 0) // off the board
	p.until(`document.querySelector("#where").textContent === ""`)
}

// The grid can be put away and comes back, by key and by button, and the board
// says which it is.
func TestTheGridIsShownAndHidden(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	lines := `[...document.querySelectorAll(".grid-lines path")].map((e) => e.getAttribute("d") || "").join("").length`
	p.click(`[data-command="tool.select"]`) // the board has the focus
	p.until(lines + " > 0")
	p.frame()
	if note := eval[string](p, `document.querySelector(".board-note").textContent`); !strings.HasPrefix(note, "Grid ") || strings.Contains(note, "Grid off") {
		t.Errorf("with the grid shown the board says %q", note)
	}
	p.press("g")
	p.until(lines + " === 0")
	p.until(`document.querySelector(".board-note").textContent.startsWith("Grid off")`)
	p.until(`document.querySelector('[data-command="aid.grid"]').getAttribute("aria-pressed") === "false"`)
	p.click(`[data-command="aid.grid"]`)
	p.until(lines + " > 0")
	p.until(`document.querySelector('[data-command="aid.grid"]').getAttribute("aria-pressed") === "true"`)
}
