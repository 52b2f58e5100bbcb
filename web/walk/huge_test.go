//go:build browser

package walk

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
)

// A plan of 20,000 heads opens, all of it is drawn, and a head that is dragged is
// stored where it was let go. How long that takes is told, not asserted.
func TestRowB28_TwentyThousandHeadsOpenInABrowser(t *testing.T) {
	const heads = 20_000
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.patience = 4 * time.Minute
	id := p.create(field(t, p, heads))
	begun := time.Now()
	p.visit(prog.url + "/plans/" + id)
	p.until("window.evenfall && document.querySelectorAll('#scene .head').length > 0")
	drawn := time.Since(begun)
	if n := eval[int](p, `document.querySelectorAll("#scene .head").length`); n != heads {
		t.Errorf("%d of %d heads are drawn", n, heads)
	}
	p.settled()
	painted := time.Since(begun)
	if text := eval[string](p, `document.querySelector("#readings").textContent`); strings.Contains(text, "Set heads on") {
		t.Errorf("none of the heads waters the lawn: %s", text)
	}

	x, y := p.pixels(47, 47)
	p.mouseAt(input.DispatchMouseEventTypeMouseMoved, x, y, altKey)
	p.mouseAt(input.DispatchMouseEventTypeMousePressed, x, y, altKey)
	for i := range 8 {
		p.mouseAt(input.DispatchMouseEventTypeMouseMoved, x+5*float64(i+1), y, altKey|held)
	}
	p.mouseAt(input.DispatchMouseEventTypeMouseReleased, x+40, y, altKey)
	let := time.Now()
	p.settled()
	stored := time.Since(let)
	const east = `Math.abs(evenfall.state.plan.heads.middle.x_ft - 47 - 40 / evenfall.drawing.view.scale) < 0.01`
	if !eval[bool](p, east) {
		t.Errorf("dragged by 40 pixels the head stands at x %v", eval[float64](p, `evenfall.state.plan.heads.middle.x_ft`))
	}
	same := eval[bool](p, `fetch("/api/plans/`+id+`").then((r) => r.json()).then((s) => s.rev === 2 && s.doc.heads.middle.x_ft === evenfall.state.plan.heads.middle.x_ft && Object.keys(s.doc.heads).length === 20000)`)
	if !same {
		t.Error("the stored plan has not the dragged head where the page has it")
	}
	p.shot("twenty-thousand")
	t.Logf("shown: 20,000 heads drawn after %.1f s, map after %.1f s, a dragged head stored and reckoned after %.1f s", drawn.Seconds(), painted.Seconds(), stored.Seconds())
}
