//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestWholeJobByPointer goes from an empty plan to the parts list with the
// pointer: lawn, house, drive, twelve heads, a dry spot mended by dragging, three
// zones, the files.
func TestWholeJobByPointer(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "First yard")
	p.shot("walk-1-empty")
	p.axe("empty plan")

	p.click("#empty-draw")
	p.lawnByOutline()
	p.rectangle("building", 0, 30, 45, 48)
	p.rectangle("paving", 45, 0, 57, 30)
	p.bedAsHole()
	if got := p.areas(); got != 3 {
		t.Fatalf("drew 3 areas, the plan has %d", got)
	}
	p.shot("walk-2-ground")

	p.layTwelve()
	p.settled()
	p.shot("walk-3-heads")
	dry := eval[int](p, `evenfall.state.design.gaps.length`)
	before := eval[string](p, `evenfall.state.design.readings.evenness.text`)
	if dry == 0 {
		t.Fatalf("the head 8 ft off its place left no dry patch (evenness %s)", before)
	}
	p.until(`document.querySelector("#findings").textContent.includes("ry patch")`)

	// The head that stands wrong goes back to the middle of its row.
	p.click(`[data-command="tool.select"]`)
	p.drag(23, 15, 15, 15, 0)
	p.settled()
	if left := eval[int](p, `evenfall.state.design.gaps.length`); left != 0 {
		t.Errorf("after the drag %d dry patches are left", left)
	}
	after := eval[string](p, `evenfall.state.design.readings.evenness.text`)
	t.Logf("evenness %s, after dragging one head %s", before, after)
	p.shot("walk-4-mended")

	p.click("#tab-zones")
	for i, x := range []float64{-3, 8, 22} {
		p.boxSelect(x, -3, []float64{8, 22, 48}[i], 33)
		p.click("#zones .acts button")
		p.settled()
	}
	if got := eval[int](p, `Object.keys(evenfall.state.plan.zones).length`); got != 3 {
		t.Fatalf("made 3 zones, the plan has %d", got)
	}
	if loose := eval[int](p, `Object.values(evenfall.state.plan.heads).filter(h => !h.zone).length`); loose != 0 {
		t.Errorf("%d heads are in no zone", loose)
	}
	p.shot("walk-5-zones")
	p.axe("plan with zones")
	p.click("#tab-parts")
	p.shot("walk-6-parts")
	checkFiles(p, 12, 3)
	p.saveLists(12, 3)

	// Undo reaches back past the zones and survives a restart of the program.
	p.press("z", chromedp.ModifierCtrl)
	p.until(`Object.keys(evenfall.state.plan.zones ?? {}).length === 2`)
	p.press("z", chromedp.ModifierCtrl, chromedp.ModifierShift)
	p.until(`Object.keys(evenfall.state.plan.zones ?? {}).length === 3`)
}

// lawnByOutline draws a lawn of 45 by 30 ft corner by corner: clicks, a typed
// length, and a typed length with its direction; a click on the first corner
// closes it.
func (p *tab) lawnByOutline() {
	p.t.Helper()
	p.outline("planting")
	p.show(-3, -3, 48, 33)
	p.tap(0, 0, 0)
	p.toward(20, 0)
	p.typed("45")
	p.typed("30<90")
	p.tap(0, 30, 0)
	p.tap(0, 0, 0)
	p.settled()
	want := `[[0,0],[45,0],[45,30],[0,30]]`
	if got := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.areas)[0].outline)`); got != want {
		p.t.Fatalf("the lawn's corners are %s, want %s", got, want)
	}
}

// bedAsHole cuts a bed of 2 by 1 ft out of the lawn.
func (p *tab) bedAsHole() {
	p.t.Helper()
	p.outline("planting")
	p.click(`#kit [data-command="draw.hole"]`)
	p.tap(36, 6, 0)
	p.typed("2<0", "1<90", "2<180")
	p.enter()
	p.settled()
	want := `[[[36,6],[38,6],[38,7],[36,7]]]`
	if got := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.areas).find((a) => a.kind === "planting").holes)`); got != want {
		p.t.Fatalf("the holes of the lawn are %s, want %s", got, want)
	}
	p.click(`#kit [data-command="draw.hole"]`)
}

// saveLists clicks the links of the parts list and reads what the browser saved.
func (p *tab) saveLists(heads, zones int) {
	p.t.Helper()
	dir := p.downloads()
	p.click("#export summary")
	p.click(`#export a[href$="parts.csv"]`)
	checkParts(p.t, string(p.downloaded(dir, ".csv")), heads, zones)
	p.click("#export summary")
	p.click(`#export a[href$="parts.xlsx"]`)
	checkWorkbook(p.t, p.downloaded(dir, ".xlsx"), heads)
}

// rectangle draws one from corner to corner with the rectangle tool.
func (p *tab) rectangle(kind string, x0, y0, x1, y1 float64) {
	p.t.Helper()
	p.click(`[data-command="tool.rectangle"]`)
	p.choose("#kit", "Kind", kind)
	p.show(x0-3, y0-3, x1+3, y1+3)
	p.tap(x0, y0, 0)
	p.tap(x1, y1, 0)
	p.settled()
}

// choose sets the list of a given label inside a part of the page.
func (p *tab) choose(within, label, value string) {
	p.t.Helper()
	js := fmt.Sprintf(`(() => {
		for (const l of document.querySelectorAll(%q + " label")) {
			if (!l.textContent.trim().startsWith(%q)) continue;
			const s = l.querySelector("select") || document.getElementById(l.htmlFor);
			if (!s || s.offsetParent === null) continue;
			if (![...s.options].some(o => o.value === %q)) throw new Error("no such choice: " + [...s.options].map(o => o.value));
			s.value = %q; s.dispatchEvent(new Event("change", { bubbles: true })); return true;
		}
		return false;
	})()`, within, label, value, value)
	p.until(js)
}

// show zooms out until a piece of ground is in view.
func (p *tab) show(x0, y0, x1, y1 float64) {
	p.t.Helper()
	// A table opened or closed beside the board: the view has its new size first.
	p.until(`(({ width, height }, b) => width === b.clientWidth && height === b.clientHeight)(evenfall.drawing.view, document.querySelector("#board"))`)
	for range 12 {
		inside := eval[bool](p, fmt.Sprintf(`(() => {
			const b = document.querySelector("#board").getBoundingClientRect();
			return [[%v, %v], [%v, %v]].map(evenfall.pixels).every(([x, y]) => x > b.left + 4 && x < b.right - 4 && y > b.top + 4 && y < b.bottom - 4);
		})()`, x0, y0, x1, y1))
		if inside {
			return
		}
		p.click(`[data-command="view.out"]`)
	}
	p.t.Fatalf("cannot bring %v, %v to %v, %v into view", x0, y0, x1, y1)
}

// layTwelve sets twelve 15 ft sprays in a grid of three rows, one of them 8 ft
// too far east.
func (p *tab) layTwelve() {
	p.t.Helper()
	p.click(`[data-command="tool.head"]`)
	p.choose("#kit", "Nozzle", "spray-15-adj")
	for _, y := range []float64{0.4, 15, 29} {
		for _, x := range []float64{0.4, 15, 30, 44.6} {
			if x == 15 && y == 15 {
				x = 23
			}
			p.tap(x, y, altKey)
		}
	}
	p.escape()
}

func (p *tab) boxSelect(x0, y0, x1, y1 float64) {
	p.t.Helper()
	p.click(`[data-command="tool.select"]`)
	p.show(x0, y0, x1, y1)
	p.drag(x0, y0, x1, y1, 0)
}
