//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

const pipesDrawn = `JSON.stringify(evenfall.state.plan.pipes)`

// trenchRows are the rows of one of the tables of trenches.
const trenchRows = `[...document.querySelectorAll("#trenches section")].find((s) => s.querySelector("h3")?.textContent === %q).querySelectorAll("tbody tr")`

// The demo is routed, wired, sized and priced from the page in one walk, by pointer:
// what is dug is shown, compared and told in tables, asked again with what is drawn kept
// nothing changes, and each of the three is one step that is taken back.
func TestDemoIsRoutedWiredSizedAndPricedByPointer(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	rev := eval[int](p, `evenfall.state.rev`)
	drawn := eval[string](p, pipesDrawn)
	if eval[bool](p, `evenfall.board.layers.shows("trenches") || "digs" in evenfall.state.design`) {
		t.Error("trenches are told before they are asked for")
	}
	p.click("#tab-trenches")
	p.until(`evenfall.state.design.digs`)
	p.frame()
	p.axe("tables of trenches")
	p.shot("route-1-tables")
	p.click("#trenches .acts [data-runs='pipe.route']")
	p.until(`document.querySelector("#route").checkVisibility()`)
	p.until(`document.querySelectorAll("#route .route-zones input").length >= 3`)
	p.click("#tab-trenches") // the board has the room
	p.axe("what routes are asked for")
	p.shot("route-2-asked")
	p.pressText("#route", "Route")
	p.found("#route")
	p.until(`document.querySelector("#route table").checkVisibility()`)
	p.until(`document.querySelectorAll(".trenches .trench").length > 0`)
	p.frame()
	p.axe("routes offered")
	p.shot("route-3-offered")
	for _, w := range []string{"Trench", "Crossings of paving", "Longest bore", "Valve boxes", "Against the least there can be", "Have buried lines located"} {
		if !eval[bool](p, fmt.Sprintf(`document.querySelector("#route").innerText.includes(%q)`, w)) {
			t.Errorf("the offer does not say %q", w)
		}
	}
	if now := eval[int](p, `evenfall.state.rev`); now != rev {
		t.Errorf("an offer changed the plan: revision %d after %d", now, rev)
	}
	p.pressText("#route", "Lay these routes")
	p.until(`document.activeElement.textContent.startsWith("Size the pipes")`)
	p.settled()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	if !eval[bool](p, `Object.keys(evenfall.state.plan.wires ?? {}).length > 0`) {
		t.Error("no wire was laid")
	}
	p.shot("route-4-laid")
	p.pressText("#route", "Size the pipes…")
	p.until(`document.querySelector("dialog.sizes[open] table")`)
	p.shot("route-5-sizes")
	p.until(`document.activeElement.textContent.startsWith("Apply, size ")`)
	p.enter()
	p.until(`!document.querySelector("dialog[open]")`)
	p.settled()
	if !eval[bool](p, `Object.values(evenfall.state.plan.pipes).every((v) => v.nominal_in > 0)`) {
		t.Error("a pipe has no size")
	}
	p.click("#tab-trenches")
	p.until(fmt.Sprintf(trenchRows+`.length > 0`, "Trenches"))
	p.frame()
	p.shot("route-6-wired")
	if missing := eval[string](p, `evenfall.state.design.digs.wire.runs.map((r) => r.missing).filter(Boolean).join(" ")`); missing != "" {
		t.Errorf("wire is missing: %s", missing)
	}
	says := eval[string](p, `document.querySelector("#trenches").textContent`)
	for _, w := range []string{" of trench", "AWG", "Take care"} {
		if !strings.Contains(says, w) {
			t.Errorf("the tables do not say %q", w)
		}
	}
	wires := eval[string](p, `JSON.stringify(evenfall.state.plan.wires)`)
	p.click("#trenches .acts [data-runs='pipe.route']")
	p.until(`document.querySelector("#route-keep").checkVisibility()`)
	p.click("#route-keep")
	p.pressText("#route", "Route")
	p.found("#route")
	p.until(`document.querySelector("#route").innerText.includes("This is what is drawn already; nothing changes.")`)
	p.frame()
	p.axe("routes kept")
	p.shot("route-7-kept")
	p.escape()
	p.takePrices()
	p.click("#tab-parts")
	p.until(`document.querySelector("#parts .parts-says").textContent === "The parts come to " + evenfall.state.design.costs.sum + "."`)
	if off := eval[float64](p, `(() => { const sums = [...document.querySelectorAll("#parts .parts-zone > summary .figure")].map((e) => Number(e.textContent));
		return sums.length > 5 ? Math.abs(sums.slice(0, -1).reduce((a, b) => a + b, 0) - sums.at(-1)) : 1e9; })()`); !(off < 0.005) {
		t.Errorf("the lists are %v off the total", off)
	}
	p.frame()
	p.shot("route-8-priced")
	for range 3 {
		p.click("#undo")
		p.settled()
	}
	p.until(pipesDrawn + fmt.Sprintf(` === %q`, drawn))
	for range 3 {
		p.click("#redo")
		p.settled()
	}
	if now := eval[string](p, `JSON.stringify(evenfall.state.plan.wires)`); now != wires {
		t.Errorf("done again, the wire is %s, was %s", now, wires)
	}
}

// The same without a pointer: asked for, read, taken and taken back by keys alone;
// Escape stops what is sought and leaves what is offered with nothing changed.
func TestDemoIsRoutedByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	drawn := eval[string](p, pipesDrawn)
	rev := eval[int](p, `evenfall.state.rev`)
	ask := func() {
		t.Helper()
		p.onScene()
		p.press("N", chromedp.ModifierShift)
		p.until(`document.querySelector("#route").checkVisibility() && document.querySelectorAll("#route .route-zones input").length > 0`)
		p.until(`document.activeElement.textContent === "Route"`)
	}
	ask()
	p.enter()
	p.found("#route")
	p.until(`document.activeElement.textContent === "Lay these routes"`)
	p.until(`document.querySelectorAll(".trenches .trench").length > 0`)
	p.escape()
	p.until(`!document.querySelector("#route").checkVisibility() && document.querySelectorAll(".trenches .trench").length === 0`)
	if now := eval[string](p, pipesDrawn); now != drawn || eval[int](p, `evenfall.state.rev`) != rev {
		t.Error("an offer that was left changed the plan")
	}
	ask()
	for range 10 { // back from the button that asks
		if eval[bool](p, `document.activeElement.matches("#route-wire")`) {
			break
		}
		p.press(kb.Tab, chromedp.ModifierShift)
	}
	p.press(" ") // pipes only
	p.until(`!document.querySelector("#route-wire").checked`)
	p.tabToText("Route", 10)
	p.enter()
	p.found("#route")
	p.until(`document.activeElement.textContent === "Lay these routes"`)
	p.enter()
	p.until(`document.activeElement.textContent.startsWith("Size the pipes")`)
	p.settled()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	p.until(`document.querySelector("#live").textContent.includes("Undo takes it back")`)
	p.escape()
	p.until(`!document.querySelector("#route").checkVisibility()`)
	p.onScene()
	p.press("z", chromedp.ModifierCtrl)
	p.until(pipesDrawn + fmt.Sprintf(` === %q`, drawn))
	p.settled()
}
