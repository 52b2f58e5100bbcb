//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// state is a page or something opened on it, and how to get there from the one before.
type state struct {
	name string
	to   func(p *tab)
}

// button presses the first visible button with this text.
func (p *tab) button(within, text string) {
	p.t.Helper()
	find := fmt.Sprintf(`[...document.querySelectorAll(%q + " button, " + %q + " a, " + %q + " summary")].find((e) => e.checkVisibility() && e.textContent.trim().startsWith(%q))`, within, within, within, text)
	p.until(find)
	eval[bool](p, "("+find+".click(), true)")
}

// closeDialog leaves the open dialog as Escape does.
func (p *tab) closeDialog() {
	p.t.Helper()
	p.until(`document.querySelector("dialog[open]")`)
	p.escape()
	p.until(`!document.querySelector("dialog[open]")`)
}

// selectOn selects the first thing of a collection and shows its fields.
func selectOn(collection string) func(p *tab) {
	return func(p *tab) {
		p.t.Helper()
		eval[bool](p, fmt.Sprintf(`(() => {
			const row = [...document.querySelectorAll("#scene [data-ref]")].map((e) => e.dataset.ref).find((r) => r.startsWith(%q + "/"));
			if (!row) throw new Error("nothing of " + %q + " is drawn");
			document.activeElement.blur(); evenfall.board.select([row]); return true; })()`, collection, collection))
		p.until(`!document.querySelector("#selected").hidden`)
		p.frame()
	}
}

// dialogOf opens a dialog, has it looked at, and closes it before the next state.
func dialogOf(open func(p *tab)) func(p *tab) {
	return func(p *tab) {
		p.t.Helper()
		open(p)
		p.until(`document.querySelector("dialog[open]")`)
	}
}

// states lists every page and what can be open on it, in an order that can be walked.
func states(prog *program) []state {
	click := func(selector string) func(p *tab) { return func(p *tab) { p.t.Helper(); p.click(selector) } }
	out := []state{
		{"plans", func(p *tab) { p.visit(prog.url) }},
		{"help", func(p *tab) { p.visit(prog.url + "/help") }},
		{"not-found", func(p *tab) { p.visit(prog.url + "/plans/nowhere") }},
		{"board", func(p *tab) { openDemo(p.t, p, prog) }},
		{"menu-thing", func(p *tab) {
			eval[bool](p, `(evenfall.board.select(["heads/h2-8"]), true)`)
			p.until(`document.querySelector("#kit [aria-haspopup=menu]").checkVisibility()`)
			p.click("#kit [aria-haspopup=menu]")
			p.until(`document.querySelector(".context")`)
		}},
		{"commands", dialogOf(func(p *tab) { p.escape(); p.click("[data-runs=\"plan.commands\"]") })},
		{"find", dialogOf(func(p *tab) {
			p.closeDialog()
			p.click("#plan-menu summary")
			p.frame()
			p.click("[data-runs=\"plan.find\"]")
		})},
		{"signs", func(p *tab) {
			p.closeDialog()
			eval[bool](p, `(evenfall.board.select([]), true)`)
			p.button("#legend", "Signs")
			p.until(`document.querySelector(".signs-list").checkVisibility()`)
		}},
		{"field", func(p *tab) {
			p.button("#legend", "Signs")
			eval[bool](p, `(document.querySelector("[name=circumstance][value=windy]").click(), true)`)
			p.settled()
			p.frame()
		}},
		{"drawn", func(p *tab) {
			eval[bool](p, `(document.querySelector("[name=circumstance][value=drawn]").click(), true)`)
			p.settled()
		}},
		{"running", func(p *tab) {
			eval[bool](p, `(document.querySelector("[name=circumstance][value=running]").click(), document.querySelector("[name=pipes-by][value=velocity]").click(), true)`)
			p.until(`evenfall.state.design.as === "running"`)
			p.frame()
		}},
		{"drawn-again", func(p *tab) {
			eval[bool](p, `(document.querySelector("[name=circumstance][value=drawn]").click(), document.querySelector("[name=pipes-by][value=plain]").click(), true)`)
			p.until(`!evenfall.state.design.as`)
		}},
		{"board-more", func(p *tab) { p.button("#readings", "More"); p.frame() }},
	}
	for _, name := range []string{"objects", "zones", "pressure"} {
		out = append(out, state{"drawer-" + name, click("#tab-" + name)})
	}
	for i, name := range []string{"trenches", "crossings", "boxes", "wire"} {
		out = append(out, state{"drawer-" + name, func(p *tab) {
			if i == 0 {
				p.click("#tab-trenches")
			}
			p.until(`evenfall.state.design.digs`)
			eval[bool](p, fmt.Sprintf(`(document.querySelectorAll("#trenches .segment input")[%d].click(), true)`, i))
			p.settled()
		}})
	}
	out = append(out, state{"drawer-parts", click("#tab-parts")}, state{"drawer-parts-open", func(p *tab) {
		p.button("#parts", "Open all lists")
		eval[bool](p, `(document.querySelector("#parts td details").open = true)`)
		p.frame()
	}}, state{"drawer-history", func(p *tab) {
		p.click("#tab-history")
		p.until(`document.querySelector("#history .steps [data-key]")`)
		p.frame()
	}})
	out = append(out, state{"drawer-shut", click("#tab-history")}, state{"layers", click("#tab-layers")})
	for _, c := range []string{"areas", "site", "barriers", "trees", "keep_dry", "heads", "valves", "pipes", "nodes", "sleeves", "wires", "sensors", "elevations", "supply", "controller", "notes"} {
		out = append(out, state{"selected-" + c, selectOn(c)})
	}
	out = append(out, state{"selected-boxes", func(p *tab) {
		// The demo has no splice box of its own.
		eval[bool](p, `(document.activeElement.blur(), evenfall.board.commit("Add a splice box", { ...evenfall.state.plan, boxes: { b1: { name: "By the corner of the garage and the passage", x_ft: 114, y_ft: 40 } } }), true)`)
		p.settled()
		selectOn("boxes")(p)
	}})
	out = append(out, state{"selected-many", func(p *tab) {
		p.command("edit.undo") // the splice box
		p.settled()
		eval[bool](p, `(document.activeElement.blur(), evenfall.board.select(Object.keys(evenfall.state.plan.heads).map((id) => "heads/" + id)), true)`)
		p.frame()
	}})
	for _, tool := range []string{"outline", "rectangle", "head", "barrier", "tree", "tape", "height", "fixture", "pipe", "sleeve", "wire", "measure"} {
		out = append(out, state{"tool-" + tool, click(`[data-command="tool.` + tool + `"]`)})
	}
	for _, id := range []string{"edit.mirror", "edit.turn", "edit.copies"} {
		out = append(out, state{id, func(p *tab) {
			p.click(`[data-command="tool.select"]`)
			eval[bool](p, `(evenfall.board.select(["heads/h2-8"]), evenfall.drawing.commands.run("`+id+`", () => {}), true)`)
			p.frame()
		}})
	}
	out = append(out,
		state{"supply", func(p *tab) {
			p.click(`[data-command="tool.select"]`)
			eval[bool](p, `evenfall.drawing.commands.run("plan.supply", () => {}) ?? true`)
			p.until(`document.querySelector("#supply .limits li")`)
			eval[bool](p, `(document.querySelectorAll("#supply details").forEach((d) => { d.open = true; }), true)`)
			p.frame()
		}},
		state{"pipe-add", dialogOf(func(p *tab) { p.click("#supply-back"); p.click("#tab-objects"); p.button("#objects", "Pipe") })},
		state{"menu-plan", func(p *tab) { p.closeDialog(); p.click("#tab-objects"); p.click("#plan-menu summary") }},
		state{"settings", dialogOf(func(p *tab) { p.click("#plan-settings") })},
		state{"menu-export", func(p *tab) { p.closeDialog(); p.click("#export summary") }},
		state{"keys", dialogOf(func(p *tab) { p.click("#export summary"); p.click("#keys") })},
		state{"nozzles", dialogOf(func(p *tab) { p.closeDialog(); p.click("#plan-menu summary"); p.click("#nozzles-import") })},
		state{"accept", dialogOf(func(p *tab) { p.closeDialog(); p.click("#tab-findings"); p.button("#findings", "Accept…") })},
		state{"sizes", dialogOf(func(p *tab) {
			p.closeDialog()
			eval[bool](p, `(evenfall.drawing.commands.run("pipe.size", () => {}), true)`)
		})},
		state{"rules", dialogOf(func(p *tab) {
			p.closeDialog()
			eval[bool](p, `(evenfall.drawing.commands.run("plan.rules", () => {}), true)`)
		})},
		state{"figures", dialogOf(func(p *tab) {
			p.closeDialog()
			eval[bool](p, `(evenfall.drawing.commands.run("plan.figures", () => {}), true)`)
		})},
		state{"prices-asked", dialogOf(func(p *tab) { p.closeDialog(); p.command("plan.prices") })},
		state{"rates", dialogOf(func(p *tab) { p.closeDialog(); p.command("plan.rates") })},
		state{"arrange-asked", func(p *tab) { p.closeDialog(); p.arrangeAsked() }},
		state{"arrange-offered", func(p *tab) { p.arrangeOffered() }},
		state{"arrange-compared", dialogOf(func(p *tab) { p.button("#arrange", "Compare") })},
		state{"improve", func(p *tab) {
			p.closeDialog()
			p.command("head.improve")
			p.found("#improve")
			p.frame()
		}},
		state{"group-asked", func(p *tab) {
			p.command("zone.group")
			eval[bool](p, `(document.querySelectorAll("#group details").forEach((d) => { d.open = true; }), true)`)
			p.frame()
		}},
		state{"group-offered", func(p *tab) {
			p.button("#group", "Group")
			p.found("#group")
			p.frame()
		}},
		state{"route-asked", func(p *tab) {
			p.command("pipe.route")
			p.until(`document.querySelectorAll("#route .route-zones input").length > 0`)
			eval[bool](p, `(document.querySelectorAll("#route details").forEach((d) => { d.open = true; }), true)`)
			p.frame()
		}},
		state{"route-offered", func(p *tab) {
			p.button("#route", "Route")
			p.found("#route")
			p.frame()
		}},
		state{"water", func(p *tab) {
			p.wateringOpen()
			eval[bool](p, `(document.querySelectorAll("#water details").forEach((d) => { d.open = true; }), true)`)
			p.frame()
		}},
		state{"water-areas", func(p *tab) {
			eval[bool](p, `(document.querySelector("#water .water-areas").scrollIntoView(), true)`)
			p.frame()
		}},
		state{"audit-offered", func(p *tab) {
			p.button("#water", "Close")
			p.auditOffered()
		}},
		state{"audit-read", func(p *tab) { p.auditRead() }},
		state{"after", func(p *tab) {
			p.button("#audit", "Close")
			for range 3 {
				p.command("edit.undo")
				p.settled()
			}
		}},
		state{"sleeves-page", func(p *tab) {
			p.click("#tab-trenches")
			p.button("#trenches", "Sleeve drawing")
			p.until(`document.querySelector(".sleeves .drawing")?.complete`)
		}},
		state{"quote-empty", func(p *tab) {
			p.click(`main a[href^="/plans/"]`)
			p.onBoard()
			p.command("plan.quote")
			p.until(`document.querySelector("body.quote")`)
		}},
		state{"papers-crew", func(p *tab) {
			p.click(`main a[href^="/plans/"][href*="/papers"]`)
			p.choosePack("crew")
			p.click("#page-words summary")
			p.until(`document.querySelector("#page-words pre").textContent !== ""`)
		}},
		state{"papers-office", func(p *tab) { p.choosePack("office") }},
		state{"program", func(p *tab) {
			p.visit(strings.TrimSuffix(eval[string](p, "location.origin + location.pathname"), "papers") + "program")
			p.until(`document.querySelector("body.program")`)
			eval[bool](p, `(document.querySelectorAll("details").forEach((d) => { d.open = true; }), true)`)
		}},
		state{"program-soil", func(p *tab) {
			eval[bool](p, `(document.querySelector(".soil").scrollIntoView(), true)`)
			p.frame()
		}},
		state{"yard-log", func(p *tab) {
			p.visit(strings.TrimSuffix(eval[string](p, "location.origin + location.pathname"), "program") + "yard?show=log")
			p.until(`document.querySelector("#yard-log")`)
		}},
	)
	for i, at := range []string{"start", "start/zone/z2", "wires", "heads", "heads/h2-8/change", "cans", "old", "photos", "built"} {
		out = append(out, state{"yard-" + strings.ReplaceAll(at, "/", "-"), func(p *tab) {
			if i == 0 {
				p.visit(eval[string](p, "location.origin + location.pathname"))
				p.inYard()
			}
			p.yardAt("#" + at)
		}})
	}
	return out
}

// small lists the targets of the page that are lower or narrower than a limit.
// Left out, as by WCAG 2.2 2.5.8: links in a line of text, whose height the text
// sets; and what is drawn on the board, which has its rows in Objects.
func (p *tab) small(limit int) []string {
	p.t.Helper()
	var found struct {
		Out   []string
		Least float64
	}
	measured := eval[string](p, fmt.Sprintf(`(() => {
		const wanted = "a[href], button, input, select, textarea, summary, [role=tab], [role=menuitem], [role=gridcell][tabindex], [role=rowheader][tabindex]";
		const inText = (e) => e.matches("a") && getComputedStyle(e).display === "inline" && e.parentElement.textContent.trim() !== e.textContent.trim();
		const box = (e) => {
			const own = e.getBoundingClientRect(), of = [own];
			if (e.matches("input[type=checkbox], input[type=radio]")) for (const l of e.labels ?? []) of.push(l.getBoundingClientRect());
			return [Math.max(...of.map((b) => b.right)) - Math.min(...of.map((b) => b.left)), Math.max(...of.map((b) => b.bottom)) - Math.min(...of.map((b) => b.top)), own];
		};
		const out = [];
		let least = 1e9;
		for (const e of document.querySelectorAll(wanted)) {
			if (!e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) || e.closest("#scene, .skip, .unseen, [inert]") || inText(e)) continue;
			const [w, h, own] = box(e);
			if (own.width === 0 || own.height === 0) continue;
			least = Math.min(least, w, h);
			if (Math.round(w * 10) < %d * 10 || Math.round(h * 10) < %d * 10) out.push(Math.round(w) + " x " + Math.round(h) + " " + e.outerHTML.slice(0, 110));
		}
		return JSON.stringify({ out, least });
	})()`, limit, limit))
	if err := json.Unmarshal([]byte(measured), &found); err != nil {
		p.t.Fatal(err)
	}
	if p.least == 0 || found.Least < p.least {
		p.least = found.Least
	}
	return found.Out
}

// wider is by how many pixels the page is wider than the window.
func (p *tab) wider() int {
	p.t.Helper()
	return eval[int](p, `document.documentElement.scrollWidth - innerWidth`)
}

// Every target of every page and state is at least 24 pixels high and wide, and
// 44 under fingers; nothing makes the page scroll sideways. With EVENFALL_SHOTS
// set, each state is kept as a picture in both themes.
func TestRowA21_TargetsAreLargeEnough(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	least := map[int]float64{24: math.Inf(1), 44: math.Inf(1)}
	count := 0
	for _, c := range []struct {
		name          string
		width, height int64
		coarse        bool
		limit         int
	}{{"1280", 1280, 800, false, 24}, {"1024", 1024, 768, false, 24}, {"768-fingers", 768, 1024, true, 44}, {"1024-fingers", 1024, 768, true, 44}} {
		t.Run(c.name, func(t *testing.T) {
			p := open(t, c.width, c.height)
			p.excuse(toldNotFound)
			if c.coarse {
				p.coarse()
			}
			told := map[string]bool{}
			for _, s := range states(prog) {
				s.to(p)
				count++
				for _, e := range p.small(c.limit) {
					if !told[e] {
						t.Errorf("%s: %s", s.name, e)
					}
					told[e] = true
				}
				if over := p.wider(); over > 0 {
					t.Errorf("%s is %d px wider than the window", s.name, over)
				}
				if os.Getenv("EVENFALL_SHOTS") == "" {
					continue
				}
				p.shot(fmt.Sprintf("%s-light-%s", s.name, c.name))
				p.media("dark")
				p.frame()
				p.shot(fmt.Sprintf("%s-dark-%s", s.name, c.name))
				p.media("light")
			}
			least[c.limit] = min(least[c.limit], p.least)
		})
	}
	t.Logf("shown: in %d states the least target is %.1f px, under fingers %.1f px", count, least[24], least[44])
}

// hiddenFocus moves the focus to every stop of the page in turn and says at
// which of them nothing of the focused element can be seen.
const hiddenFocus = `(async () => {
	const out = [];
	const all = [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")];
	for (const e of all) {
		if (e.tabIndex < 0 || e.disabled || !e.checkVisibility({ visibilityProperty: true })) continue;
		e.focus();
		if (document.activeElement !== e) continue;
		await new Promise((done) => requestAnimationFrame(done));
		const b = e.getBoundingClientRect();
		let seen = false;
		for (const fx of [0.02, 0.25, 0.5, 0.75, 0.98]) for (const fy of [0.05, 0.5, 0.95]) {
			const at = document.elementFromPoint(b.left + b.width * fx, b.top + b.height * fy);
			if (at && (e.contains(at) || at.contains(e) && at !== document.body && at !== document.documentElement && !at.matches("main, section, aside, footer, header, form, ul"))) seen = true;
			if (at && e.labels && [...e.labels].some((l) => l.contains(at))) seen = true;
		}
		if (!seen) out.push(e.outerHTML.slice(0, 110) + " at " + [b.left, b.top, b.width, b.height].map(Math.round).join(","));
	}
	return out.join("\n");
})()`

// The focus is never wholly under something else (2.4.11), at any width.
func TestRowA21_FocusIsNeverHidden(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, c := range [][2]int64{{1280, 800}, {768, 1024}, {320, 640}} {
		t.Run(fmt.Sprint(c[0]), func(t *testing.T) {
			p := open(t, c[0], c[1])
			for _, path := range []string{"/", "/help"} {
				p.visit(prog.url + path)
				if got := eval[string](p, hiddenFocus); got != "" {
					t.Errorf("%s: hidden when focused:\n%s", path, got)
				}
			}
			openDemo(t, p, prog)
			for _, tab := range []string{"objects", "zones", "parts", "layers"} {
				p.click("#tab-" + tab)
				p.frame()
				if got := eval[string](p, hiddenFocus); got != "" {
					t.Errorf("board with %s: hidden when focused:\n%s", tab, got)
				}
			}
		})
	}
}

// textSize is what the user has set as the usual size of text.
func (p *tab) textSize(px int64) {
	p.t.Helper()
	params := page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: px, Fixed: px}}
	if _, err := chromedp.Call(p.ctx, page.SetFontSizes, params); err != nil {
		p.t.Fatal(err)
	}
}

// cut reads the controls whose words do not fit into them.
const cut = `[...document.querySelectorAll("button, a.button, summary, [role=tab], label, th, h1, h2, h3")].filter((e) =>
	e.checkVisibility() && !e.closest("#scene, .unseen, .skip, .grid") && !e.matches(".unseen, .plan-name, .skip") && getComputedStyle(e).display !== "inline" &&
	(e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 2)).map((e) => e.outerHTML.slice(0, 110)).join("\n")`

// On a window 320 CSS pixels wide, and with text twice as large, the lists can
// be used without scrolling sideways and no word is cut.
func TestRowA21_NarrowAndLargeText(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, c := range []struct {
		name          string
		width, height int64
		text          int64 // usual size of text, in pixels
	}{{"320 px", 320, 640, 16}, {"zoomed to 200 %", 640, 400, 16}, {"text of 200 %", 1280, 800, 32}} {
		t.Run(c.name, func(t *testing.T) {
			p := open(t, c.width, c.height)
			p.textSize(c.text)
			look := func(name string) {
				p.frame()
				if over := p.wider(); over > 0 {
					t.Errorf("%s is %d px wider than the window", name, over)
				}
				if got := eval[string](p, cut); got != "" {
					t.Errorf("%s: words are cut:\n%s", name, got)
				}
				p.shot(fmt.Sprintf("large-%s-%s", name, c.name))
			}
			p.visit(prog.url)
			look("plans")
			p.visit(prog.url + "/help")
			look("help")
			openDemo(t, p, prog)
			look("board")
			p.click("#tab-objects")
			look("objects")
			p.fill("#objects-find", "2-8")
			// The head and the pipe that leads to it.
			p.until(`((rows) => rows.length === 2 && rows.every((r) => r.textContent.includes("2-8")))([...document.querySelectorAll("#objects tbody tr")])`)
			p.click(`#objects tr[data-ref="heads/h2-8"] [data-column=x]`)
			p.until(`document.activeElement.dataset.column === "x"`)
			p.click("#tab-layers")
			look("layers")
		})
	}
}

// Whatever a drag does can be done without one (2.5.7): each line names the
// drag and does the same by clicks and typing.
func TestRowA21_EveryDragHasAnotherWay(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	field := func(label string) string {
		p.until(fmt.Sprintf(`[...document.querySelectorAll("#selected label")].some((l) => l.textContent.trim().startsWith(%q))`, label))
		return fmt.Sprintf("#%s", eval[string](p, fmt.Sprintf(`[...document.querySelectorAll("#selected label")].find((l) => l.textContent.trim().startsWith(%q)).htmlFor`, label)))
	}
	for _, d := range []struct {
		drag, way string
		do        func() bool
	}{
		{"drag a head to another place", "its place in the fields", func() bool {
			p.tap(56, 24, 0)
			p.fill(field("X, east"), "50")
			p.settled()
			return eval[float64](p, `evenfall.state.plan.heads["h2-8"].x_ft`) == 50
		}},
		{"pull the end of an arc", "the width of the arc in the fields", func() bool {
			p.tap(46, 0.4, 0)
			p.until(`document.querySelector("#selected h2").textContent === "Head 2-1"`)
			p.fill(field("Arc °"), "100")
			p.settled()
			return eval[float64](p, `evenfall.state.plan.heads["h2-1"].sweep_deg`) == 100
		}},
		{"pull the throw", "the throw in the fields", func() bool {
			p.fill(field("Throw"), "22")
			p.settled()
			return eval[float64](p, `evenfall.state.plan.heads["h2-1"].throw_ft`) == 22
		}},
		{"drag a box around several", "clicks with Shift, or rows in Objects", func() bool {
			p.tap(46, 0.4, 0)
			p.tap(70, 0.4, shiftKey)
			return eval[int](p, "evenfall.state.selection.length") == 2
		}},
		{"drag a corner of an area", "its corners as text", func() bool {
			p.click("#tab-objects")
			p.fill("#objects-find", "patio")
			p.until(`document.querySelectorAll("#objects tbody tr").length === 1`)
			p.click("#objects tbody tr [data-column=thing]")
			p.until(`evenfall.state.selection.length === 1 && document.querySelector("#selected textarea")`)
			return true
		}},
		{"drag out a rectangle", "two clicks", func() bool {
			p.click("#tab-objects")
			areas := p.count("areas")
			p.click(`[data-command="tool.rectangle"]`)
			p.tap(20, 60, altKey)
			p.tap(30, 70, altKey)
			p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.areas).length === %d`, areas+1))
			p.click(`[data-command="tool.select"]`)
			return true
		}},
		{"drag the view", "the buttons of zoom and Whole plan, and Show beside what is meant", func() bool {
			was := eval[string](p, "JSON.stringify(evenfall.drawing.view)")
			p.click(`[data-command="view.in"]`)
			p.click(`[data-command="view.fit"]`)
			p.click(`[data-command="view.out"]`)
			return eval[string](p, "JSON.stringify(evenfall.drawing.view)") != was
		}},
		{"slide the strength of a layer", "a click on the slider", func() bool {
			p.click("#tab-layers")
			p.click("#layers [data-layer=water] input")
			p.until(`evenfall.board.layers.strength("water") < 1`)
			return true
		}},
	} {
		if !d.do() {
			t.Errorf("%s: %s does not do it", d.drag, d.way)
		}
	}
}

// What happens is said to screen readers without moving the focus (4.1.3).
func TestRowA21_StatusIsSpoken(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.click("#tab-layers")
	p.click(`#layers [data-layer="notes"] [aria-label="Show Notes"]`)
	p.until(`document.querySelector("#live").textContent === "Notes hidden."`)
	if at := eval[string](p, `document.activeElement.getAttribute("aria-label")`); at != "Show Notes" {
		t.Errorf("the focus moved to %q", at)
	}
	p.click(`[data-command="aid.snap"]`)
	p.until(`document.querySelector("#live").textContent === "Snap off."`)
	for _, q := range []string{"#saved[role=status]", "#live[aria-live=polite]", "#notice[role=alert]", "#findings [role=status]"} {
		if eval[int](p, fmt.Sprintf(`document.querySelectorAll(%q).length`, q)) == 0 {
			t.Errorf("there is no %s", q)
		}
	}
}
