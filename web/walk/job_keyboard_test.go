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
	p.groundByKeys()

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

	p.zonesByKeys()
	p.listByKeys(12, 2)
	p.shot("walk-keyboard")
}

// groundByKeys draws the lawn corner by corner, the house and the drive as
// rectangles, and takes the house back and does it again on the way.
func (p *tab) groundByKeys() {
	p.t.Helper()
	p.press("a")
	p.typed("0,0", "45<0", "30<90", "0, 30")
	p.enter() // at no crosshair: closes the outline
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 1`)
	want := `[[0,0],[45,0],[45,30],[0,30]]`
	if got := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.areas)[0].outline)`); got != want {
		p.t.Errorf("the lawn's corners are %s, want %s", got, want)
	}
	p.press("r")
	p.press("q") // building
	p.typed("0, 30", "45 x 18")
	p.until(`Object.keys(evenfall.state.plan.areas).length === 2`)
	for p.busyTool() {
		p.escape()
	}
	p.press("z", chromedp.ModifierCtrl)
	p.until(`Object.keys(evenfall.state.plan.areas).length === 1`)
	p.press("z", chromedp.ModifierCtrl, chromedp.ModifierShift)
	p.until(`Object.keys(evenfall.state.plan.areas).length === 2`)
	p.press("r")
	p.press("q") // paving
	p.typed("45, 0", "12 x 30")
	p.until(`Object.keys(evenfall.state.plan.areas).length === 3`)
	kinds := eval[string](p, `Object.values(evenfall.state.plan.areas).map(a => a.kind).sort().join(" ")`)
	if kinds != "building paving planting" {
		p.t.Errorf("drew %s", kinds)
	}
}

// busyTool says whether a drawing tool is in hand.
func (p *tab) busyTool() bool {
	p.t.Helper()
	return eval[bool](p, `evenfall.drawing.toolName !== "select"`)
}

// zonesByKeys makes two zones: of the six heads marked with Space in the table
// of things, and of the other six.
func (p *tab) zonesByKeys() {
	p.t.Helper()
	chosen := `evenfall.state.selection.filter((r) => r.startsWith("heads/")).length`
	p.openTable("tab-objects")
	p.tabTo(`#objects [role="grid"] [data-column]`, 30)
	p.press(kb.Home, chromedp.ModifierCtrl)
	p.downToHeads()
	p.press(" ") // this one alone
	p.until(chosen + ` === 1 && evenfall.state.selection.length === 1`)
	for i := range 5 {
		p.press(kb.ArrowDown)
		p.press(" ", chromedp.ModifierCtrl)
		p.until(fmt.Sprintf(`%s === %d`, chosen, i+2))
	}
	p.openTable("tab-zones")
	p.newZone(1)

	// What has a zone now drops out of the choice, what has none comes in.
	p.openTable("tab-objects")
	p.tabTo(`#objects [role="grid"] [data-column]`, 30)
	p.press(kb.Home, chromedp.ModifierCtrl)
	p.downToHeads()
	for i := range 12 {
		in := eval[bool](p, `evenfall.state.selection.includes(document.activeElement.closest("tr").dataset.ref)`)
		p.press(" ", chromedp.ModifierCtrl)
		p.until(fmt.Sprintf(`evenfall.state.selection.includes(document.activeElement.closest("tr").dataset.ref) === %v`, !in))
		if i < 11 {
			p.press(kb.ArrowDown)
		}
	}
	p.openTable("tab-zones")
	p.newZone(2)
	sizes := eval[string](p, `Object.keys(evenfall.state.plan.zones).map((z) => Object.values(evenfall.state.plan.heads).filter((h) => h.zone === z).length).join(" ")`)
	if sizes != "6 6" {
		p.t.Errorf("the zones have %s heads, want six each", sizes)
	}
}

// openTable goes back to the row of tabs with Tab and along it with the arrows.
func (p *tab) openTable(id string) {
	p.t.Helper()
	for range 150 {
		if eval[bool](p, `document.activeElement.matches("#drawer [role=tab]")`) {
			break
		}
		p.press(kb.Tab)
	}
	for range eval[int](p, `document.querySelectorAll("#drawer [role=tab]").length`) {
		if eval[bool](p, fmt.Sprintf(`document.activeElement.id === %q`, id)) {
			break
		}
		p.press(kb.ArrowRight) // opens the table as it goes
	}
	p.until(fmt.Sprintf(`document.activeElement.id === %q`, id))
	p.frame()
	if eval[bool](p, fmt.Sprintf(`document.getElementById(%q).getAttribute("aria-selected") !== "true"`, id)) {
		p.enter()
	}
	p.until(fmt.Sprintf(`document.getElementById(%q).getAttribute("aria-selected") === "true"`, id))
}

// downToHeads goes down the table of things to its first head.
func (p *tab) downToHeads() {
	p.t.Helper()
	for range 10 {
		if eval[bool](p, `document.activeElement.closest("tr").dataset.ref.startsWith("heads/")`) {
			return
		}
		p.press(kb.ArrowDown)
	}
	p.t.Fatal("the table of things has no head")
}

// newZone presses the button that makes a zone of what is selected.
func (p *tab) newZone(nth int) {
	p.t.Helper()
	p.until(`[...document.querySelectorAll("#zones button")].some((b) => b.textContent === "New zone of selected" && !b.disabled)`)
	p.tabToText("New zone of selected", 20)
	p.enter()
	p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.zones ?? {}).length === %d`, nth))
	p.settled()
}

// listByKeys opens the menu of files, presses a link and reads what was saved.
func (p *tab) listByKeys(heads, zones int) {
	p.t.Helper()
	dir := p.downloads()
	p.tabTo("#export summary", 150)
	p.enter()
	p.tabTo(`#export a[href$="parts.csv"]`, 20)
	p.enter()
	checkParts(p.t, string(p.downloaded(dir, ".csv")), heads, zones)
	checkFiles(p, heads, zones)
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
