//go:build browser

package walk

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// searchTime is how long a search may take on a machine that is shared before a
// test gives up: a guard, never a measure of speed.
const searchTime = 4 * time.Minute

// found waits until the search of a form has ended.
func (p *tab) found(form string) {
	p.t.Helper()
	was := p.patience
	p.patience = searchTime
	defer func() { p.patience = was }()
	p.until(fmt.Sprintf(`document.querySelector(%q).checkVisibility() && !document.querySelector(%q)?.checkVisibility() && evenfall.board.longWork.works.length === 0`, form, form+" .bench-seeking progress"))
}

// runs a command as its menu does.
func (p *tab) command(id string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(evenfall.drawing.commands.run(%q, (why) => { throw new Error(why); }), true)`, id))
}

// threeAreas draws a lawn, an L beside it and a strip, with a house and paving.
func (p *tab) threeAreas() {
	p.t.Helper()
	p.rectangle("planting", 0, 0, 30, 20)
	p.rectangle("paving", 30, 0, 36, 20)
	p.rectangle("building", 0, 20, 36, 40)
	p.rectangle("planting", 36, 0, 58, 26)
	p.rectangle("planting", 0, -14, 58, -7)
	p.click(`[data-command="tool.select"]`)
	eval[bool](p, `(evenfall.board.select([]), true)`)
}

const headsNow = `Object.keys(evenfall.state.plan.heads ?? {}).length`

// arrangeAsked opens the form of arranging with everything in it to be seen, for the
// smallest area of the demo.
func (p *tab) arrangeAsked() {
	p.t.Helper()
	eval[bool](p, `(evenfall.board.select(["areas/" + Object.entries(evenfall.state.plan.areas).find(([, a]) => a.name === "Strip")?.[0]].filter((r) => !r.endsWith("undefined"))), evenfall.drawing.commands.run("head.arrange", () => {}), true)`)
	p.until(`document.querySelectorAll("#arrange .bench-areas input").length > 0`)
	eval[bool](p, `(document.querySelectorAll("#arrange details").forEach((d) => { d.open = true; }), true)`)
	p.frame()
}

// arrangeOffered asks for layouts of one area and stops at the first.
func (p *tab) arrangeOffered() {
	p.t.Helper()
	eval[bool](p, `((all) => { for (const [i, e] of all.entries()) if (e.checked !== (i === 0)) e.click(); return true; })([...document.querySelectorAll("#arrange .bench-areas input:not(:disabled)")])`)
	p.choose("#arrange", "How long to seek", "quick")
	p.button("#arrange", "Arrange")
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
	p.found("#arrange")
	eval[bool](p, `(document.querySelectorAll("#arrange details").forEach((d) => { d.open = true; }), true)`)
	p.frame()
}

// findingsOf counts the findings of a code that nobody has accepted.
const findingsOf = `((code) => evenfall.state.design.findings.filter((f) => f.code === code && !f.accepted).length)`

// The whole way with the pointer: three areas drawn on an empty plan, layouts asked
// for, compared and chosen, one step that is taken back and made again; two heads
// locked and the rest arranged anew around them; a head pushed aside and mended; the
// heads grouped; the lists saved.
func TestArrangingByPointer(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Three areas")
	p.threeAreas()

	p.click(`#kit .kit-group:not([hidden]) [data-command="head.arrange"]`)
	p.until(`document.querySelectorAll("#arrange .bench-areas input").length === 3`)
	if ticked := eval[int](p, `document.querySelectorAll("#arrange .bench-areas input:checked").length`); ticked != 0 {
		t.Errorf("%d areas are ticked though none is selected: it is to be asked which", ticked)
	}
	p.shot("arrange-1-asked")
	p.pressText("#arrange", "Tick all")
	eval[bool](p, `(document.querySelectorAll("#arrange details").forEach((d) => { d.open = true; }), true)`)
	p.axe("what is asked")
	eval[bool](p, `(document.querySelectorAll("#arrange details").forEach((d) => { d.open = false; }), true)`)
	p.pressText("#arrange", "Arrange")
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
	p.shot("arrange-2-first")
	p.found("#arrange")
	p.settled()
	p.shot("arrange-3-offered")
	p.axe("layouts offered")
	if n := eval[int](p, `document.querySelectorAll("#arrange .offer-card").length`); n < 3 || n > 5 {
		t.Errorf("%d layouts are offered, want 3 to 5", n)
	}
	if n := eval[int](p, `Object.keys(evenfall.board.committed.heads ?? {}).length`); n != 0 {
		t.Fatalf("%d heads stand on the plan before anything was applied", n)
	}
	if !eval[bool](p, `evenfall.board.drafting && Object.keys(evenfall.board.plan.heads).length > 0`) {
		t.Error("the board does not show what is offered")
	}

	p.pressText("#arrange", "Compare")
	p.until(`document.querySelector("dialog.compare[open]")`)
	p.axe("layouts side by side")
	p.shot("arrange-4-compared")
	first := eval[int](p, headsNow)
	p.click(`dialog.compare input[value="1"]`)
	p.until(fmt.Sprintf(`document.querySelectorAll("#arrange .offer-card input")[1].checked && %s !== %d`, headsNow, first))
	p.pressText("dialog.compare", "Done")
	p.until(`!document.querySelector("dialog[open]")`)
	p.media("dark")
	p.frame()
	p.shot("arrange-5-chosen-dark")
	p.axe("layouts offered, dark")
	p.media("light")
	p.click(`#arrange .offer-card:first-child`)
	p.until(fmt.Sprintf(`%s === %d`, headsNow, first))

	rev := eval[int](p, `evenfall.state.rev`)
	p.pressText("#arrange", "Apply, arrange")
	p.until(`!document.querySelector("#arrange").checkVisibility()`)
	p.settled()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	if now := eval[int](p, headsNow); now != first {
		t.Errorf("%d heads stand, %d were offered", now, first)
	}
	p.until(`evenfall.drawing.toolName === "select"`)
	p.click("#undo")
	p.until(headsNow + ` === 0`)
	p.click("#redo")
	p.until(fmt.Sprintf(`%s === %d`, headsNow, first))
	p.settled()
	p.shot("arrange-6-applied")

	// Two heads of the lawn are locked; the rest make room.
	locked := eval[string](p, `(() => {
		const inLawn = Object.entries(evenfall.state.plan.heads).filter(([, h]) => h.x_ft < 31 && h.y_ft > -1).map(([id]) => "heads/" + id).sort();
		evenfall.board.select(inLawn.slice(0, 2));
		return JSON.stringify(inLawn.slice(0, 2).map((r) => evenfall.state.plan.heads[r.split("/")[1]]));
	})()`)
	kept := eval[string](p, `JSON.stringify(evenfall.state.selection)`)
	p.click(`#kit .kit-group:not([hidden]) [data-command="edit.lock"]`)
	p.settled()
	p.tap(15, 6.2, 0) // the lawn itself
	p.until(`evenfall.state.selection.length === 1 && evenfall.state.selection[0].startsWith("areas/")`)
	p.pressText("#selected", "Arrange heads")
	p.until(`document.querySelector("#arrange").innerText.includes("2 heads, locked or existing, stay.")`)
	p.pressText("#arrange", "Arrange")
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
	p.found("#arrange")
	p.until(`document.querySelector("#arrange .bench-says").textContent.includes("2 heads stay")`)
	p.shot("arrange-7-around-locked")
	p.pressText("#arrange", "Apply, arrange")
	p.until(`!document.querySelector("#arrange").checkVisibility()`)
	p.settled()
	now := eval[string](p, fmt.Sprintf(`JSON.stringify(%s.map((r) => { const { locked, ...h } = evenfall.state.plan.heads[r.split("/")[1]]; return h; }))`, kept))
	if now != locked {
		t.Errorf("the locked heads were %s and are %s", locked, now)
	}

	// One head of the strip is pushed aside, and mended.
	heads, dry := eval[int](p, headsNow), eval[int](p, `evenfall.state.design.gaps.length`)
	pushed := eval[string](p, `(() => {
		const [id, h] = Object.entries(evenfall.state.plan.heads).filter(([, h]) => h.y_ft < -6 && h.x_ft > 20 && h.x_ft < 40).sort()[0];
		const plan = structuredClone(evenfall.board.committed);
		plan.heads[id].x_ft = h.x_ft + 6;
		void evenfall.board.commit("Push a head aside", plan);
		return id;
	})()`)
	p.settled()
	eval[bool](p, `(evenfall.board.select([]), true)`)
	if eval[int](p, `evenfall.state.design.gaps.length`) == dry && eval[int](p, findingsOf+`("spacing-wide")`) == 0 {
		t.Error("the head pushed aside leaves nothing to mend")
	}
	p.command("head.improve")
	p.found("#improve")
	p.until(fmt.Sprintf(`[...document.querySelectorAll("#improve .mend")].length > 0 && %s === %d`, headsNow, heads))
	p.shot("arrange-8-mends")
	p.axe("mends")
	for range 8 {
		if eval[bool](p, `![...document.querySelectorAll("#improve [data-act=take]")].some((b) => b.checkVisibility() && !b.disabled)`) {
			break
		}
		was := eval[int](p, `evenfall.state.rev`)
		p.pressText("#improve", "Take")
		p.until(fmt.Sprintf(`evenfall.state.rev === %d`, was+1))
		p.settled()
	}
	p.until(fmt.Sprintf(`evenfall.state.design.gaps.length <= %d`, dry)) // as it was before the push, at least
	p.shot("arrange-9-mended")
	p.pressText("#improve", "Close")
	t.Logf("pushed head %s aside: dry patches left %d", pushed, eval[int](p, `evenfall.state.design.gaps.length`))

	p.click("#tab-zones")
	p.pressText("#zones", "Group the heads")
	p.until(`document.querySelector("#group").checkVisibility()`)
	p.shot("arrange-10-group-asked")
	p.pressText("#group", "Group")
	p.found("#group")
	p.until(`document.querySelectorAll("#group .group-table tbody").length > 0`)
	p.settled()
	p.shot("arrange-11-grouped")
	p.axe("zones offered")
	zones := eval[int](p, `document.querySelectorAll("#group .group-table tbody").length`)
	if n := eval[int](p, `Object.keys(evenfall.board.committed.zones ?? {}).length`); n != 0 {
		t.Errorf("%d zones stand on the plan before anything was applied", n)
	}
	rev = eval[int](p, `evenfall.state.rev`)
	p.pressText("#group", "Apply")
	p.until(`!document.querySelector("#group").checkVisibility()`)
	p.settled()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	if n := eval[int](p, `Object.keys(evenfall.state.plan.zones).length`); n != zones {
		t.Errorf("%d zones stand, %d were offered", n, zones)
	}
	if loose := eval[int](p, `Object.values(evenfall.state.plan.heads).filter((h) => !h.zone).length`); loose != 0 {
		t.Errorf("%d heads are in no zone", loose)
	}
	for _, code := range []string{"rates-mixed", "plantings-mixed", "zone-over-flow", "head-without-zone"} {
		if n := eval[int](p, findingsOf+fmt.Sprintf(`(%q)`, code)); n != 0 {
			t.Errorf("%d findings %s are left", n, code)
		}
	}
	p.shot("arrange-12-done")
	checkFiles(p, eval[int](p, headsNow), zones)
}

// The same way without one pointer event; nothing is focused or chosen by script.
func TestArrangingByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.tabTo("#new-name", 40)
	p.write("Arranged by keys")
	p.enter()
	p.until(`location.pathname.startsWith("/plans/") && window.evenfall && document.documentElement.dataset.saved === "yes"`)
	p.tabTo(`a.skip[href="#scene"]`, 10)
	p.enter()
	p.until(`document.activeElement.id === "scene"`)
	for i, r := range [][2]string{{"0, 0", "30 x 20"}, {"40, 0", "22 x 26"}, {"0, -14", "62 x 7"}} {
		p.press("r")
		p.typed(r[0], r[1])
		p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.areas ?? {}).length === %d`, i+1))
	}
	p.press("v")
	p.escape() // lets go of the area drawn last
	p.until(`evenfall.state.selection.length === 0 && evenfall.drawing.toolName === "select"`)
	p.settled()

	p.press("A", 8)
	p.until(`document.querySelectorAll("#arrange .bench-areas input").length === 3`)
	p.until(`document.activeElement.matches("#arrange .bench-areas input")`)
	for i := range 3 {
		p.press(" ")
		p.until(fmt.Sprintf(`document.querySelectorAll("#arrange .bench-areas input:checked").length === %d`, i+1))
		if i < 2 {
			p.press(kb.Tab)
		}
	}
	p.tabToText("Arrange", 30)
	p.enter()
	p.until(`document.activeElement.textContent.startsWith("Stop")`)
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
	p.found("#arrange")
	p.until(`document.activeElement.matches("#arrange .offer-card input:checked")`)
	first := eval[int](p, headsNow)
	p.press(kb.ArrowDown)
	p.until(`document.querySelectorAll("#arrange .offer-card input")[1].checked`)
	p.press(kb.ArrowUp)
	p.until(fmt.Sprintf(`document.querySelectorAll("#arrange .offer-card input")[0].checked && %s === %d`, headsNow, first))
	p.tabUntil(`document.activeElement.textContent.startsWith("Compare")`, 5)
	p.enter()
	p.until(`document.activeElement.matches("dialog.compare input:checked")`)
	p.escape()
	p.until(`!document.querySelector("dialog[open]") && document.activeElement.textContent.startsWith("Compare")`)
	p.tabUntil(`document.activeElement.textContent.startsWith("Apply, arrange")`, 20)
	p.enter()
	p.until(`!document.querySelector("#arrange").checkVisibility()`)
	p.settled()
	if now := eval[int](p, headsNow); now != first {
		t.Errorf("%d heads stand, %d were offered", now, first)
	}
	p.until(`document.activeElement.id === "scene" || document.querySelector("#scene").contains(document.activeElement)`)

	// Two heads, thing by thing, are locked.
	for n := range 2 {
		for range 60 {
			p.press(kb.PageDown)
			if eval[bool](p, `(([r]) => r?.startsWith("heads/") && !evenfall.state.plan.heads[r.split("/")[1]].locked)(evenfall.state.selection)`) {
				break
			}
		}
		p.press("l")
		p.until(fmt.Sprintf(`Object.values(evenfall.state.plan.heads).filter((h) => h.locked).length === %d`, n+1))
		p.settled()
	}

	p.press("I", 8)
	p.found("#improve")
	p.shot("improve-keys")
	p.until(`document.querySelector("#improve").contains(document.activeElement)`)
	p.escape()
	p.until(`!document.querySelector("#improve").checkVisibility()`)
	p.until(`document.activeElement.id === "scene" || document.querySelector("#scene").contains(document.activeElement)`)

	p.press("Z", 8)
	p.until(`document.activeElement.textContent === "Group"`)
	p.enter()
	p.found("#group")
	p.until(`document.activeElement.textContent.startsWith("Apply")`)
	zones := eval[int](p, `document.querySelectorAll("#group .group-table tbody").length`)
	p.enter()
	p.until(`!document.querySelector("#group").checkVisibility()`)
	p.settled()
	if n := eval[int](p, `Object.keys(evenfall.state.plan.zones ?? {}).length`); n != zones || zones == 0 {
		t.Errorf("%d zones stand, %d were offered", n, zones)
	}
	p.listByKeys(first, zones)
}

// Stopped, the search ends at once and the best so far stay, on the board too, to be
// applied; the server has ended its work, for another can be asked.
func TestArrangingStopsAtOnceAndKeepsTheBest(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.excuse(toldAway) // a request that is called off
	p.newPlan(prog, "Three areas")
	p.threeAreas()
	for _, stop := range []struct {
		name string
		do   func()
	}{
		{"its button", func() { p.pressText("#arrange", "Stop and keep these") }},
		{"Escape", func() { p.escape() }},
		{"Ctrl+.", func() { p.press(".", chromedp.ModifierCtrl) }},
	} {
		eval[bool](p, `(evenfall.board.select(Object.entries(evenfall.state.plan.areas).filter(([, a]) => a.kind === "planting").map(([id]) => "areas/" + id)), true)`)
		p.command("head.arrange")
		p.until(`document.querySelectorAll("#arrange .bench-areas input:checked").length === 3`)
		p.choose("#arrange", "How long to seek", "thorough")
		p.pressText("#arrange", "Arrange")
		p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
		p.until(`evenfall.board.longWork.works.length === 1`)
		stop.do()
		p.until(`evenfall.board.longWork.works.length === 0 && !document.querySelector("#arrange .bench-seeking progress").checkVisibility()`)
		if !eval[bool](p, `document.querySelectorAll("#arrange .offer-card").length > 0 && evenfall.board.drafting`) {
			t.Errorf("%s: the best so far is gone", stop.name)
		}
		p.until(`document.querySelector("#arrange").innerText.includes("Stopped: the best so far.")`)
		p.shot("arrange-stopped")
		p.pressText("#arrange", "Cancel")
		p.until(`!document.querySelector("#arrange").checkVisibility() && !evenfall.board.drafting`)
	}
	if n := eval[int](p, headsNow); n != 0 {
		t.Errorf("%d heads stand on a plan on which nothing was applied", n)
	}
	// A tool taken up gives the board back at once: the search ends, and that is said.
	p.command("head.arrange")
	p.until(`document.querySelectorAll("#arrange .bench-areas input:checked").length === 3`)
	p.choose("#arrange", "How long to seek", "thorough")
	p.pressText("#arrange", "Arrange")
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0 && evenfall.board.longWork.works.length === 1`)
	p.click(`[data-command="tool.head"]`)
	p.until(`evenfall.board.longWork.works.length === 0 && !document.querySelector("#arrange").checkVisibility() && !evenfall.board.drafting`)
	p.until(`document.querySelector("#notice").innerText.includes("Arranging heads was stopped. Nothing is changed.")`)
	p.press("v")
	eval[bool](p, `(evenfall.board.select(Object.entries(evenfall.state.plan.areas).filter(([, a]) => a.kind === "planting").map(([id]) => "areas/" + id)), true)`)
	p.command("head.arrange")
	p.until(`document.querySelectorAll("#arrange .bench-areas input:checked").length === 3`)
	p.choose("#arrange", "How long to seek", "thorough")
	p.pressText("#arrange", "Arrange")
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
	p.pressText("#arrange", "Stop and keep these")
	p.pressText("#arrange", "Apply, arrange")
	p.until(headsNow + ` > 0 && !evenfall.board.drafting`)
	p.settled()
}

// On the demo mends are found for both of its mistakes; taken one by one they clear
// the findings that say Stop.
func TestArrangingImprovesTheDemo(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	stops := `evenfall.state.design.findings.filter((f) => f.rank === "stop" && !f.accepted)`
	if n := eval[int](p, stops+`.length`); n != 2 {
		t.Fatalf("the demo has %d findings that say Stop, want its two mistakes", n)
	}
	p.pressText("#findings", "Improve")
	p.found("#improve")
	p.until(`document.querySelectorAll("#improve .mend").length > 0`)
	p.shot("improve-demo")
	p.axe("mends of the demo")
	for range 8 {
		if eval[int](p, stops+`.length`) == 0 {
			break
		}
		p.command("head.improve")
		p.found("#improve")
		p.until(`[...document.querySelectorAll("#improve [data-act=take]")].some((b) => b.checkVisibility() && !b.disabled)`)
		p.pressText("#improve", "Show")
		p.until(`evenfall.board.drafting && document.querySelector("#improve .mend[data-shown]")`)
		p.settled()
		p.shot("improve-demo-shown")
		was := eval[int](p, `evenfall.state.rev`)
		p.pressText("#improve", "Take")
		p.until(fmt.Sprintf(`evenfall.state.rev === %d`, was+1))
		p.settled()
	}
	if left := eval[string](p, stops+`.map((f) => f.title).join("; ")`); left != "" {
		t.Errorf("left to stop on: %s", left)
	}
	p.shot("improve-demo-done")
	moved := eval[string](p, `JSON.stringify(["2-3", "2-4", "2-8"].map((tag) => Object.values(evenfall.state.plan.heads).find((h) => h.tag === tag)))`)
	t.Logf("the heads of the two mistakes now: %s", moved)
}

// What was found is of the plan it was found for: changed in another tab meanwhile,
// it is neither shown nor applied, and that is said.
func TestArrangingSaysWhenThePlanHasChanged(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Lawn")
	p.rectangle("planting", 0, 0, 30, 20)
	p.command("head.arrange")
	p.until(`document.querySelectorAll("#arrange .bench-areas input:checked").length === 1`)
	p.pressText("#arrange", "Arrange")
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
	p.found("#arrange")
	rev := eval[int](p, `evenfall.state.rev`)
	eval[bool](p, fmt.Sprintf(`fetch("/api/plans/" + evenfall.board.id, { method: "PATCH", headers: { "Content-Type": "application/merge-patch+json", "If-Match": '"%d"', "Evenfall-Label": "Elsewhere" }, body: '{"name":"Other"}' }).then((r) => r.ok)`, rev))
	eval[bool](p, `(evenfall.board.reload?.(""), true)`)
	p.until(`document.querySelector("#arrange .bench-says").textContent.includes("has changed since")`)
	p.until(`!evenfall.board.drafting`)
	p.shot("arrange-stale")
	if eval[bool](p, `[...document.querySelectorAll("#arrange button")].some((b) => b.checkVisibility() && b.textContent.startsWith("Apply"))`) {
		t.Error("what is out of date can be applied")
	}
	p.pressText("#arrange", "Ask again")
	p.pressText("#arrange", "Arrange")
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
	p.pressText("#arrange", "Cancel")
}

// The table of local rules: a distance of one's own with who asks for it, by keys, one
// step, and back to the usual; what cannot be is said beside it. On a narrow page it and
// the forms fit.
func TestArrangingLocalRulesAndNarrowPages(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Lawn")
	p.rectangle("planting", 0, 0, 30, 20)
	open := func() {
		t.Helper()
		p.command("plan.rules")
		p.until(`document.querySelector("dialog.rules[open]")`)
	}
	open()
	p.shot("rules")
	p.axe("local rules")
	paving := `document.querySelector("#rule-setback_paving")`
	p.tabUntil(`document.activeElement === `+paving, 60)
	p.write("far")
	p.tabToText("Keep", 60)
	p.enter()
	p.until(`document.activeElement === ` + paving + ` && document.querySelector("#rule-setback_paving-error").checkVisibility()`)
	eval[bool](p, `(document.activeElement.select(), true)`)
	p.write(`8"`)
	p.press(kb.Tab)
	p.write("City code, section 4")
	rev := eval[int](p, `evenfall.state.rev`)
	p.tabToText("Keep", 60)
	p.enter()
	p.until(`evenfall.state.plan.options?.local_rules?.setback_paving?.source === "City code, section 4"`)
	p.settled()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	open()
	p.until(paving + `.value === '8"'`)
	p.pressText("dialog.rules", "Usual")
	p.pressText("dialog.rules", "Keep")
	p.until(`!evenfall.state.plan.options?.local_rules`)
	p.settled()

	for _, w := range [][2]int64{{390, 760}, {1024, 768}} {
		p.do(chromedp.EmulateViewport(w[0], w[1]))
		p.frame()
		fits := func(what string) {
			t.Helper()
			p.frame()
			if over := p.wider(); over > 0 {
				t.Errorf("%s at %d px: the page is %d px too wide", what, w[0], over)
			}
			if got := eval[string](p, cut); got != "" {
				t.Errorf("%s at %d px: words are cut:\n%s", what, w[0], got)
			}
			p.shot(fmt.Sprintf("arrange-%s-%d", what, w[0]))
		}
		open()
		fits("rules")
		p.escape()
		p.command("head.arrange")
		p.until(`document.querySelectorAll("#arrange .bench-areas input:checked").length === 1`)
		fits("asked")
		p.pressText("#arrange", "Arrange")
		p.until(`document.querySelectorAll("#arrange .offer-card").length > 0`)
		p.found("#arrange")
		fits("offered")
		p.pressText("#arrange", "Compare")
		p.until(`document.querySelector("dialog.compare[open]")`)
		fits("compared")
		p.escape()
		p.until(`!document.querySelector("dialog[open]")`)
		p.pressText("#arrange", "Cancel")
	}
}
