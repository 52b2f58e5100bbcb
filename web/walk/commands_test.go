//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// listed is the titles the open list shows.
func (p *tab) listed() []string {
	p.t.Helper()
	return eval[[]string](p, `[...document.querySelectorAll("#finder-list li .finder-title")].map((e) => e.textContent)`)
}

func (p *tab) commands() {
	p.t.Helper()
	p.press("k", chromedp.ModifierCtrl)
	p.until(`document.activeElement.id === "finder-input"`)
}

// Ctrl+K, "grid", Enter toggles the grid; every command of the register is in
// the list, and what cannot be done now says why.
func TestRowA12_GridByTypingAndEveryCommandListed(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	was := eval[bool](p, `evenfall.drawing.aids.grid`)
	p.commands()
	p.write("grid")
	p.until(`document.querySelector("#finder-list [aria-selected=true] .finder-title").textContent === "Grid"`)
	p.axe("commands")
	p.enter()
	p.until(fmt.Sprintf(`evenfall.drawing.aids.grid === %v && !document.querySelector("dialog.finder")`, !was))

	p.commands()
	if first := p.listed()[0]; first != "Grid" {
		t.Errorf("first in the list is %q, want what was used last", first)
	}
	missing := eval[[]string](p, `(() => { const has = new Set([...document.querySelectorAll("#finder-list li")].map((e) => e.dataset.key)); return evenfall.drawing.commands.all.map((c) => c.id).filter((id) => !has.has(id)); })()`)
	if len(missing) > 0 {
		t.Errorf("not in the list: %v", missing)
	}
	p.shot("commands")
	p.write("join")
	p.until(`document.querySelector("#finder-list [aria-selected=true] .finder-title").textContent === "Join"`)
	off := eval[string](p, `document.querySelector("#finder-list [aria-selected=true]").textContent`)
	if !strings.Contains(off, "Off: Select two areas") {
		t.Errorf("Join says %q", off)
	}
	p.enter()
	p.until(`document.querySelector(".finder-status").textContent.startsWith("Join: Select two areas")`)
	p.escape()
	p.until(`!document.querySelector("dialog.finder")`)

	// Pages, files and tables are there too; arrows choose.
	p.commands()
	p.write("history")
	p.until(`document.querySelector("#finder-list [aria-selected=true] .finder-title").textContent === "History"`)
	p.enter()
	p.until(`document.querySelector("#tab-history").getAttribute("aria-selected") === "true"`)
	p.commands()
	for _, want := range []string{"export parts", "plans page", "dark theme", "layers", "name, units"} {
		p.press("a", chromedp.ModifierCtrl)
		p.write(want)
		p.until(`document.querySelectorAll("#finder-list li").length > 0`)
	}
	p.press("a", chromedp.ModifierCtrl)
	p.write("zoom")
	p.until(`document.querySelectorAll("#finder-list li").length >= 2`)
	one := eval[string](p, `document.querySelector("#finder-input").getAttribute("aria-activedescendant")`)
	p.press(kb.ArrowDown)
	if two := eval[string](p, `document.querySelector("#finder-input").getAttribute("aria-activedescendant")`); two == one {
		t.Error("the arrow leaves the same row marked")
	}
	p.escape()
	p.until(`document.querySelector("#finder-input") === null`)
	p.media("dark")
	p.commands()
	p.write("turn")
	p.until(`document.querySelectorAll("#finder-list li").length > 0`)
	p.shot("commands-dark")
	p.axe("commands, dark")
	p.escape()
}

// "P-17" among many tags that begin alike: selected and in view; F3 goes on;
// what is hidden is found and said to be hidden; by keys only.
func TestRowA30_FindP17SelectsItAndBringsItIntoView(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	doc := parkOf300(t, p)
	heads := doc["heads"].(map[string]any)
	i := 0
	for _, id := range sorted(heads) {
		heads[id].(map[string]any)["tag"] = fmt.Sprintf("P-%d", i+1)
		i++
	}
	p.visit(prog.url + "/plans/" + p.create(doc))
	p.onBoard()
	p.press("f", chromedp.ModifierCtrl)
	p.until(`document.activeElement.id === "finder-input"`)
	p.write("P-17")
	p.until(`document.querySelector("#finder-list li .finder-title").textContent === "Head P-17"`)
	p.shot("find")
	p.axe("find")
	p.enter()
	p.until(`!document.querySelector("dialog.finder")`)
	chosen := `(() => { const [r] = evenfall.state.selection; return evenfall.state.selection.length === 1 && evenfall.state.plan.heads[r.split("/")[1]]?.tag; })()`
	p.until(chosen + ` === "P-17"`)
	if !eval[bool](p, `(() => { const [r] = evenfall.state.selection; const h = evenfall.state.plan.heads[r.split("/")[1]]; const [x, y] = evenfall.pixels([h.x_ft, h.y_ft]); const b = document.querySelector("#board").getBoundingClientRect(); return x > b.left && x < b.right && y > b.top && y < b.bottom && evenfall.drawing.view.scale >= 8; })()`) {
		t.Error("the head found is not in view, or too small to see")
	}
	p.until(`document.activeElement.dataset?.ref === evenfall.state.selection[0]`)
	p.shot("found")
	p.press(kb.F3)
	p.until(chosen + ` !== "P-17" && /^P-17/.test(` + chosen + `)`)
	p.press(kb.F3, chromedp.ModifierShift)
	p.until(chosen + ` === "P-17"`)

	p.press("f", chromedp.ModifierCtrl)
	p.until(`document.activeElement.id === "finder-input" && document.activeElement.value === "P-17"`)
	p.write("no such thing")
	p.until(`document.querySelector(".finder-status").textContent.includes("Nothing on the plan has")`)
	p.escape()
	eval[bool](p, `evenfall.board.layers.show("heads", false) ?? true`)
	p.press("f", chromedp.ModifierCtrl)
	p.until(`document.activeElement.id === "finder-input"`)
	p.write("P-18")
	p.until(`document.querySelector("#finder-list li .finder-detail").textContent.includes("hidden with its layer")`)
	p.enter()
	p.until(`document.querySelector("#notice").textContent.includes("layer that is hidden")`)
}

func sorted(m map[string]any) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	for i := range out {
		for j := i + 1; j < len(out); j++ {
			if out[j] < out[i] {
				out[i], out[j] = out[j], out[i]
			}
		}
	}
	return out
}

// By finger: the bar's button opens the list, a tap takes a row.
func TestRowA12_CommandsByFinger(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openDemo(t, p, prog)
	p.click(`#bar [data-runs="plan.commands"]`)
	p.until(`document.activeElement.id === "finder-input"`)
	p.write("layers")
	p.until(`document.querySelector("#finder-list li")`)
	p.shot("commands-1024")
	p.click(`#finder-list li`)
	p.until(`!document.querySelector("dialog.finder")`)
}

// Every letter and digit typed into every field that takes text leaves the tool
// in hand as it was; with the focus on the page alone letters do nothing.
func TestRowA11_LettersInTextFieldsAreNoCommands(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 900)
	openDemo(t, p, prog)
	const letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789[]{},.?'"
	state := `JSON.stringify([evenfall.drawing.toolName, evenfall.drawing.aids, evenfall.state.rev, evenfall.drawing.kit.areaKind, evenfall.drawing.kit.asHole])`
	fields := 0
	typeInAll := func(where string) {
		t.Helper()
		n := eval[int](p, `(() => { window.fields = [...document.querySelectorAll("`+where+` input, `+where+` textarea")].filter((e) => e.offsetParent && !e.disabled && !e.readOnly && (e.tagName === "TEXTAREA" || ["text", "search", "number"].includes(e.type))); return window.fields.length; })()`)
		for i := range n {
			if !eval[bool](p, fmt.Sprintf(`(() => { const e = window.fields[%d]; if (!e.isConnected || !e.offsetParent) return false; e.focus(); return document.activeElement === e; })()`, i)) {
				continue
			}
			fields++
			was := eval[string](p, state)
			name := eval[string](p, fmt.Sprintf(`window.fields[%d].labels?.[0]?.textContent ?? window.fields[%d].id`, i, i))
			kept := eval[string](p, fmt.Sprintf(`window.fields[%d].value`, i))
			p.write(letters)
			if now := eval[string](p, state); now != was {
				t.Errorf("%s: typing in %q changed %s to %s", where, name, was, now)
			}
			eval[bool](p, fmt.Sprintf(`(() => { window.fields[%d].value = %q; return true; })()`, i, kept))
		}
	}
	p.tap(46, 0.4, 0) // a head: its fields are in Selected
	p.until(`!document.querySelector("#selected").hidden`)
	typeInAll("#selected")
	p.click("#tab-objects")
	p.until(`!document.querySelector("#objects").hidden`)
	typeInAll("#objects")
	p.click("#tab-zones")
	p.until(`!document.querySelector("#zones").hidden`)
	typeInAll("#zones")
	p.click("#tab-zones")
	for _, command := range []string{"edit.mirror", "edit.turn", "edit.copies", "tool.barrier", "tool.head"} {
		eval[bool](p, fmt.Sprintf(`evenfall.drawing.commands.run(%q, () => {}) ?? true`, command))
		p.frame()
		typeInAll("#kit")
		typeInAll(".copies")
	}
	eval[bool](p, `evenfall.drawing.takeUp("select") ?? true`)
	p.commands()
	typeInAll("dialog")
	p.escape()
	eval[bool](p, `document.querySelector("#plan-settings").click() ?? true`)
	p.until(`document.querySelector("dialog[open]")`)
	typeInAll("dialog")
	p.escape()
	if fields < 12 {
		t.Errorf("only %d fields were typed in", fields)
	}
	t.Logf("%d fields", fields)

	eval[bool](p, `(document.activeElement.blur(), document.activeElement === document.body)`)
	was := eval[string](p, state)
	p.write("abcdefghijklmnopqrstuvwxyz0123456789")
	if now := eval[string](p, state); now != was {
		t.Errorf("letters with the focus on the page changed %s to %s", was, now)
	}

	p.click("#keys")
	p.until(`document.querySelector("#keys-title")`)
	missing := eval[[]string](p, `(() => { const text = document.querySelector(".keys-sheet").textContent; return evenfall.drawing.commands.all.filter((c) => c.keys.length > 0 || c.group !== "Draw").filter((c) => !text.includes(c.title) || !text.includes(c.says)).map((c) => c.id); })()`)
	if len(missing) > 0 {
		t.Errorf("the sheet of keys lacks %v", missing)
	}
	p.shot("keys-sheet")
}
