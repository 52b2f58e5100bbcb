//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"
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
		{"board-more", func(p *tab) { p.button("#readings", "More"); p.frame() }},
	}
	for _, name := range []string{"objects", "zones", "parts", "history"} {
		out = append(out, state{"drawer-" + name, click("#tab-" + name)})
	}
	out = append(out, state{"drawer-shut", click("#tab-history")}, state{"layers", click("#tab-layers")})
	for _, c := range []string{"areas", "site", "barriers", "trees", "keep_dry", "heads", "valves", "sensors", "elevations", "supply", "controller", "notes"} {
		out = append(out, state{"selected-" + c, selectOn(c)})
	}
	out = append(out, state{"selected-many", func(p *tab) {
		eval[bool](p, `(document.activeElement.blur(), evenfall.board.select(Object.keys(evenfall.state.plan.heads).map((id) => "heads/" + id)), true)`)
		p.frame()
	}})
	for _, tool := range []string{"outline", "rectangle", "head", "barrier", "tree", "tape", "height", "fixture", "measure"} {
		out = append(out, state{"tool-" + tool, click(`[data-command="tool.` + tool + `"]`)})
	}
	out = append(out,
		state{"menu-plan", func(p *tab) { p.click(`[data-command="tool.select"]`); p.click("#plan-menu summary") }},
		state{"settings", dialogOf(func(p *tab) { p.click("#plan-settings") })},
		state{"menu-export", func(p *tab) { p.closeDialog(); p.click("#export summary") }},
		state{"keys", dialogOf(func(p *tab) { p.click("#export summary"); p.click("#keys") })},
		state{"nozzles", dialogOf(func(p *tab) { p.closeDialog(); p.click("#plan-menu summary"); p.click("#nozzles-import") })},
		state{"accept", dialogOf(func(p *tab) { p.closeDialog(); p.click("#tab-findings"); p.button("#findings", "Accept…") })},
		state{"after", func(p *tab) { p.closeDialog() }},
	)
	return out
}

// small lists the targets of the page that are lower or narrower than a limit.
// Left out, as by WCAG 2.2 2.5.8: links in a line of text, whose height the text
// sets; and what is drawn on the board, which has its rows in Objects.
func (p *tab) small(limit int) []string {
	p.t.Helper()
	var out []string
	found := eval[string](p, fmt.Sprintf(`(() => {
		const wanted = "a[href], button, input, select, textarea, summary, [role=tab], [role=menuitem], [role=gridcell][tabindex], [role=rowheader][tabindex]";
		const inText = (e) => e.matches("a") && getComputedStyle(e).display === "inline" && e.parentElement.textContent.trim() !== e.textContent.trim();
		const box = (e) => {
			const own = e.getBoundingClientRect(), of = [own];
			if (e.matches("input[type=checkbox], input[type=radio]")) for (const l of e.labels ?? []) of.push(l.getBoundingClientRect());
			return [Math.max(...of.map((b) => b.right)) - Math.min(...of.map((b) => b.left)), Math.max(...of.map((b) => b.bottom)) - Math.min(...of.map((b) => b.top)), own];
		};
		const out = [];
		for (const e of document.querySelectorAll(wanted)) {
			if (!e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) || e.closest("#scene, .skip, .unseen, [inert]") || inText(e)) continue;
			const [w, h, own] = box(e);
			if (own.width === 0 || own.height === 0) continue;
			if (Math.round(w * 10) < %d * 10 || Math.round(h * 10) < %d * 10) out.push(Math.round(w) + " x " + Math.round(h) + " " + e.outerHTML.slice(0, 110));
		}
		return JSON.stringify(out);
	})()`, limit, limit))
	if err := json.Unmarshal([]byte(found), &out); err != nil {
		p.t.Fatal(err)
	}
	return out
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
		})
	}
}
