//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestWholeJobByKeyboard does the job of TestWholeJobByPointer without one
// pointer event: Tab, arrows, letters and numbers only. Nothing is focused or
// chosen by script.
func TestWholeJobByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.tabTo("#new-name", 40)
	p.write("Yard by keys")
	p.enter()
	p.until(`location.pathname.startsWith("/plans/") && window.evenfall && document.documentElement.dataset.saved === "yes"`)

	p.tabTo(`a.skip[href="#scene"]`, 10)
	p.enter()
	p.until(`document.activeElement.id === "scene"`)
	p.press("r")
	p.typed("0,0", "45 x 30")
	p.press("q") // building
	p.typed("0, 30", "45 x 18")
	p.press("q") // paving
	p.typed("45, 0", "12 x 30")
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 3`)
	kinds := eval[string](p, `Object.values(evenfall.state.plan.areas).map(a => a.kind).sort().join(" ")`)
	if kinds != "building paving planting" {
		t.Errorf("drew %s", kinds)
	}

	p.press("h")
	p.chooseByKeys("Nozzle", "spray-15-adj")
	p.backToBoard()
	for _, y := range []string{"0.4", "15", "29"} {
		for _, x := range []string{"0.4", "15", "30", "44.6"} {
			if x == "15" && y == "15" {
				x = "23"
			}
			p.typed(x + "," + y)
		}
	}
	p.until(`Object.keys(evenfall.state.plan.heads ?? {}).length === 12`)
	p.settled()
	if eval[int](p, `evenfall.state.design.gaps.length`) == 0 {
		t.Fatal("the head 8 ft off its place left no dry patch")
	}

	// To the head that stands wrong, thing by thing, and back into its row.
	p.press("v")
	wrong := `(() => { const [r] = evenfall.state.selection; const h = r && evenfall.state.plan.heads?.[r.split("/")[1]]; return !!h && h.x_ft === 23; })()`
	for range 40 {
		p.press(kb.PageDown)
		if eval[bool](p, wrong) {
			break
		}
	}
	p.until(wrong)
	for range 8 {
		p.press(kb.ArrowLeft, chromedp.ModifierShift)
	}
	p.settled()
	if n := eval[int](p, `evenfall.state.design.gaps.length`); n != 0 {
		t.Errorf("with the head 8 ft further west %d dry patches are left", n)
	}
	steps := eval[string](p, `fetch("/api/plans/" + evenfall.board.id + "/history").then(r => r.json()).then(h => JSON.stringify(h.steps.length))`)
	t.Logf("%s steps for 3 areas, 12 heads and 8 nudges", steps)

	// A zone of everything, by the tables.
	p.press("a", chromedp.ModifierCtrl)
	p.tabTo("#tab-objects, #tab-zones, #tab-parts, #tab-history", 60)
	for range 4 {
		if eval[bool](p, `document.activeElement.id === "tab-zones"`) {
			break
		}
		p.press(kb.ArrowRight) // opens the table as it goes
	}
	p.until(`!document.querySelector("#zones").hidden`)
	p.tabToText("New zone of selected", 20)
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.zones ?? {}).length === 1`)
	p.settled()

	// The lists are links; the keyboard reaches them.
	p.tabTo("#export summary", 120)
	p.enter()
	p.tabTo(`#export a[href$="parts.csv"]`, 20)
	checkFiles(p, 12, 1)
	p.shot("walk-keyboard")
}

// typed types each text at the pointer and takes it with Enter.
func (p *tab) typed(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		p.write(text)
		p.until(fmt.Sprintf(`document.activeElement.matches("#entry input") && document.activeElement.value === %q`, text))
		p.enter()
		p.until(`document.querySelector("#entry").hidden`)
	}
}

// tabTo presses Tab until the focus is on an element.
func (p *tab) tabTo(selector string, atMost int) {
	p.t.Helper()
	p.tabUntil(fmt.Sprintf(`document.activeElement.matches(%q)`, selector), atMost)
}

// tabToText presses Tab until the focus is on a button of that text.
func (p *tab) tabToText(text string, atMost int) {
	p.t.Helper()
	p.tabUntil(fmt.Sprintf(`document.activeElement.textContent === %q`, text), atMost)
}

func (p *tab) tabUntil(js string, atMost int) {
	p.t.Helper()
	for range atMost {
		if eval[bool](p, js) {
			return
		}
		p.press(kb.Tab)
	}
	p.t.Fatalf("%d Tabs did not reach %s", atMost, js)
}

// chooseByKeys goes back from the board to the list of that label above it and
// steps through its choices.
func (p *tab) chooseByKeys(label, value string) {
	p.t.Helper()
	onIt := fmt.Sprintf(`(() => { const e = document.activeElement; return e.matches("#kit select") && e.labels[0].textContent.trim().startsWith(%q); })()`, label)
	p.until(fmt.Sprintf(`[...document.querySelectorAll("#kit select")].some(e => e.offsetParent && e.labels[0].textContent.trim().startsWith(%q))`, label))
	for range 12 {
		if eval[bool](p, onIt) {
			break
		}
		p.press(kb.Tab, chromedp.ModifierShift)
	}
	p.until(onIt)
	p.press(kb.Home)
	for range 200 {
		if eval[bool](p, fmt.Sprintf(`document.activeElement.value === %q`, value)) {
			return
		}
		p.press(kb.ArrowDown)
	}
	p.t.Fatalf("the list %s has no %s", label, value)
}

// backToBoard goes on with Tab until the board has the focus.
func (p *tab) backToBoard() {
	p.t.Helper()
	p.tabUntil(`document.querySelector("#scene").contains(document.activeElement) || document.activeElement.id === "scene"`, 20)
}
