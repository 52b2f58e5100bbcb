//go:build browser

package walk

import (
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp/kb"
)

// look is what is done with each state: measured, and kept as a picture.
type look func(name string)

// rare lists the states that need a program, a plan or a misfortune of their own.
// Those that are a press away on the demo are in states.
var rare = []struct {
	name string
	walk func(p *tab, prog *program, look look)
}{
	{"list", func(p *tab, prog *program, look look) {
		p.plansNamed(prog, "Elm Street", "Oak Street")
		p.fill("#find", "no such yard")
		p.until(`!document.querySelector("#plans-none").hidden`)
		look("plans-none-found")
		p.fill("#find", "")
		p.pressIn("Elm Street", "delete")
		p.until(`document.querySelector("dialog[open]")`)
		look("plans-delete")
		p.closeDialog()
		p.pressIn("Oak Street", "copy")
		p.until(`document.querySelector("#copy-name")`)
		look("plans-copy")
		p.closeDialog()
		p.pressIn("Elm Street", "archive")
		p.until(rowOf("Elm Street") + `.hidden`)
		look("plans-put-away")
		eval[bool](p, `(() => { const s = document.querySelector("#which"); s.value = "archived"; s.dispatchEvent(new Event("change")); return true; })()`)
		p.until(`document.querySelector("#found").textContent === "1 plan archived"`)
		look("plans-archived")
		p.visit(prog.url)
		eval[bool](p, `(async () => { for (const r of document.querySelectorAll(".plan-row")) await fetch("/api/plans/" + r.dataset.id, { method: "DELETE", headers: { "If-Match": '"' + r.dataset.rev + '"' } }); return true; })()`)
		p.visit(prog.url)
		p.until(`document.querySelector(".plans-all .lead:not(#plans-none)")`)
		look("plans-empty")
	}},
	{"proved", func(p *tab, prog *program, look look) {
		path := provedYard(p.t, p, prog)
		p.visit(prog.url + path)
		p.onBoard()
		eval[bool](p, `(evenfall.board.select(["heads/h3-5"]), true)`)
		p.until(`((i) => i?.complete && i.naturalWidth > 0)(document.querySelector("#selected img"))`)
		eval[bool](p, `(document.querySelectorAll("#selected details").forEach((d) => { d.open = true; }), true)`)
		look("selected-found")
		p.command("proof.audit")
		p.until(`document.querySelectorAll("#audit .audit-figures tbody tr").length > 3`)
		eval[bool](p, `(document.querySelectorAll("#audit details").forEach((d) => { d.open = true; }), true)`)
		look("audit-proved")
	}},
	{"empty", func(p *tab, prog *program, look look) {
		p.visit(prog.url)
		p.visit(prog.url + "/plans/" + p.create(map[string]any{"format": "evenfall-plan/1", "name": "Bare", "show": "us"}))
		p.onBoard()
		look("empty-board")
		eval[bool](p, fmt.Sprintf(`(() => { const all = new DataTransfer(); all.items.add(new File([%q], "lot.geojson"));
			const input = document.querySelector("#empty-file"); input.files = all.files; input.dispatchEvent(new Event("change")); return true; })()`, house))
		p.until(`document.querySelector("#outlines-title")`)
		look("outlines")
	}},
	{"damaged", func(p *tab, prog *program, look look) {
		id := changed(p.t, p, prog)
		p.visit("about:blank")
		db, err := sql.Open("sqlite3", filepath.Join(prog.data, "evenfall.db"))
		if err != nil {
			p.t.Fatal(err)
		}
		if _, err := db.Exec("UPDATE plans SET doc = CAST(replace(CAST(doc AS TEXT), 'Last', 'Lost') AS BLOB) WHERE id = ?", id); err != nil {
			p.t.Fatal(err)
		}
		if err := db.Close(); err != nil {
			p.t.Fatal(err)
		}
		prog.stop()
		prog = startProgram(p.t, prog.data)
		p.visit(prog.url)
		look("plans-damaged")
		p.excuse("410") // the answer is the page
		p.visit(prog.url + "/plans/" + id)
		p.until(`document.querySelector("#recover button")`)
		look("damaged")
	}},
	{"history", func(p *tab, prog *program, look look) {
		changed(p.t, p, prog)
		p.click("#keep-point")
		p.until(`document.querySelector("#point-name")`)
		look("history-name")
		p.write("As agreed")
		p.enter()
		p.until(`document.querySelector(".past-points").innerText.includes("As agreed")`)
		look("history-points")
		p.click(`[data-key="0"]`)
		p.until(`evenfall.board.earlier`)
		look("history-back")
	}},
	{"away", func(p *tab, prog *program, look look) {
		openDemo(p.t, p, prog)
		p.excuse(toldAway, toldNoSocket)
		prog.stop()
		p.until(`document.body.dataset.away === ""`)
		p.drag(56, 24, 50, 24, 0)
		p.until(`document.querySelector("#saved").textContent.startsWith("Not saved")`)
		look("away")
		p.click("#tab-zones")
		look("away-zones")
	}},
	{"full", func(p *tab, prog *program, look look) {
		between := startFaults(p.t, prog)
		openDemo(p.t, p, &program{url: between.url})
		p.excuse(toldFull)
		between.let(full)
		p.drag(56, 24, 50, 24, 0)
		p.until(`document.querySelector("#saved").textContent.startsWith("Disk full")`)
		look("disk-full")
		between.let(passes)
		p.settled()
		p.visit("about:blank") // the faults end before the tab does: what it still asked would find nobody
	}},
	{"conflict", func(q *tab, prog *program, look look) {
		p := q.another(1280, 800)
		path := openDemo(q.t, p, prog)
		q.visit(prog.url + path)
		q.onBoard()
		q.excuse(toldStale)
		q.mouse(input.DispatchMouseEventTypeMouseMoved, 56, 24, 0)
		q.mouse(input.DispatchMouseEventTypeMousePressed, 56, 24, 0)
		q.mouse(input.DispatchMouseEventTypeMouseMoved, 50, 24, held)
		q.until(`evenfall.board.drafting`)
		p.moveHead("h2-1", 3)
		p.settled()
		q.mouse(input.DispatchMouseEventTypeMouseReleased, 50, 24, 0)
		q.until(`document.querySelector("dialog[open][role=alertdialog]")`)
		look("conflict")
		q.click(`dialog[open] button[value="theirs"]`)
		q.until("!document.querySelector('dialog[open]')")
		q.settled()
	}},
	{"picture", func(p *tab, prog *program, look look) {
		p.newPlan(prog, "Traced")
		p.click("#empty-picture")
		p.lay(pictureFile(p.t))
		p.until(`document.querySelector("#board").dataset.tool === "picture"`)
		look("picture-laid")
		p.pick(barX0, barY, 0)
		p.pick(barX1, barY, 0)
		p.until(`document.activeElement.dataset.field === "measured"`)
		look("picture-distance")
		p.insert("10 m")
		p.enter()
		p.until(`evenfall.state.plan.underlay.scaled_by && evenfall.drawing.kit.pictureDo === "check"`)
		p.pick(crossX, crossY0, 0)
		p.pick(crossX, crossY1, 0)
		p.until(`document.activeElement.dataset.field === "measured"`)
		p.insert("14.55 m")
		p.enter()
		p.until(`!document.querySelector(".picture-check").hidden`)
		p.settled()
		p.press("f")
		look("picture-check")
	}},
	{"tape", func(p *tab, prog *program, look look) {
		p.newPlan(prog, "By tape")
		p.show(-6, -6, 66, 46)
		p.houseByRun()
		look("tape-sides")
		p.choose("#kit", "Makes", "planting")
		p.choose("#kit", "Way", "tapes")
		look("tape-tapes")
		h := tapedHouse
		for _, k := range [][2]float64{h[3], h[1]} {
			p.tap(k[0]+0.1, k[1]-0.1, 0)
		}
		p.until(`evenfall.drawing.tool.fields(evenfall.drawing.around)[0] === "tape1"`)
		look("tape-known")
		p.onScene()
		p.typed(tapesTo(tapedYard[0], h[3], h[1]))
		p.until(`document.querySelector(".draft-news").textContent.includes("of the two places")`)
		look("tape-two")
		p.escape()
		p.choose("#kit", "Way", "along")
		look("tape-along")
	}},
	{"copies", func(p *tab, prog *program, look look) {
		metricYard(p.t, p, prog)
		p.tap(5/0.3048, 5/0.3048, 0)
		p.press("D", 8)
		p.until(`!document.querySelector(".copies").hidden`)
		look("copies")
		p.choose(".copies", "Lay them", "grid")
		p.until(`evenfall.drawing.kit.copies.way === "grid"`)
		look("copies-grid")
	}},
	{"findings", func(p *tab, prog *program, look look) {
		p.openStreet(p.t, prog)
		look("findings-60")
		p.click(".more-causes")
		p.pressText(".filter", "Mend ")
		p.until(`[...document.querySelectorAll("#findings > .causes > .cause")].every(c => c.dataset.rank === "mend")`)
		look("findings-mend")
		eval[bool](p, `(document.querySelector("#findings .cause-head[aria-expanded=false]").click(), true)`)
		look("findings-open")
		p.button("#findings", "Accept…")
		p.until(`document.querySelector("dialog[open]")`)
		look("findings-accept")
		p.closeDialog()
		p.click("#tab-zones")
		look("findings-zones")
	}},
	{"work", func(p *tab, prog *program, look look) {
		openHuge(p.t, p, prog)
		p.excuse(toldAway)
		p.click(`input[value="field"]`)
		p.until(`document.querySelector(".long-work progress") && !document.querySelector(".work-bar").hidden`)
		look("work")
		eval[bool](p, `(document.querySelector(".long-work button")?.click(), true)`)
		p.until(`document.documentElement.dataset.working === "0"`)
	}},
	{"arrange", func(p *tab, prog *program, look look) {
		p.newPlan(prog, "Arranged")
		p.excuse(toldAway) // a request that is called off
		p.rectangle("planting", 0, 0, 30, 20)
		p.rectangle("planting", 40, 0, 42, 4)
		p.click(`[data-command="tool.select"]`)
		eval[bool](p, `(evenfall.board.select([]), true)`)
		p.command("head.arrange")
		p.until(`document.querySelectorAll("#arrange .bench-areas input").length === 2`)
		eval[bool](p, `(document.querySelectorAll("#arrange .bench-areas input:checked").forEach((box) => box.click()), true)`)
		p.button("#arrange", "Arrange")
		p.until(`document.querySelector("#arrange .bench-says").textContent.startsWith("Tick")`)
		look("arrange-unticked")
		eval[bool](p, `(document.querySelectorAll("#arrange .bench-areas input:not(:checked)").forEach((box) => box.click()), true)`)
		p.button("#arrange", "Steps and time")
		p.choose("#arrange", "How long to seek", "thorough")
		p.button("#arrange", "Arrange")
		p.until(`document.querySelectorAll("#arrange .offer-card").length > 0 && evenfall.board.longWork.works.length === 1`)
		look("arrange-seeking")
		p.button("#arrange", "Stop")
		p.until(`document.querySelector("#arrange").innerText.includes("Stopped: the best so far.")`)
		look("arrange-stopped")
		p.button("#arrange", "Apply")
		p.until(`!document.querySelector("#arrange").checkVisibility()`)
		p.settled()
		p.command("head.improve")
		p.found("#improve")
		look("improve-left")
		p.button("#improve", "Close")
		p.command("zone.group")
		p.button("#group", "Group")
		p.found("#group")
		eval[bool](p, `(void evenfall.board.commit("Another name", { ...structuredClone(evenfall.board.committed), name: "Renamed" }), true)`)
		p.until(`[...document.querySelectorAll("#group button")].some((b) => b.checkVisibility() && b.textContent.startsWith("Ask again"))`)
		look("group-stale")
		p.button("#group", "Cancel")
		p.settled()
		prog.stop()
		p.excuse(toldNoSocket)
		p.until(`document.body.dataset.away === ""`)
		p.command("head.improve")
		p.until(`document.querySelector("#improve").innerText.includes("has stopped")`)
		look("improve-away")
	}},
	{"route", func(p *tab, prog *program, look look) {
		openDemo(p.t, p, prog)
		p.command("pipe.route")
		p.until(`document.querySelectorAll("#route .route-zones input").length > 0`)
		eval[bool](p, `(document.querySelectorAll("#route .route-zones input:checked").forEach((box) => box.click()), true)`)
		p.button("#route", "Route")
		p.until(`document.querySelector("#route .bench-says").textContent.startsWith("Tick")`)
		look("route-unticked")
		eval[bool](p, `(document.querySelectorAll("#route .route-zones input:not(:checked)").forEach((box) => box.click()), true)`)
		p.button("#route", "Route")
		p.found("#route")
		p.button("#route", "Lay these routes")
		p.until(`document.activeElement.textContent.startsWith("Size the pipes")`)
		p.settled()
		look("route-taken")
		p.button("#route", "Close")
		// Ground that must not be dug lies around a head: no way leads there.
		eval[bool](p, `(() => {
			const { board } = evenfall, plan = structuredClone(board.committed), h = plan.heads["h3-1"];
			const box = (r) => [[h.x_ft - r, h.y_ft - r], [h.x_ft + r, h.y_ft - r], [h.x_ft + r, h.y_ft + r], [h.x_ft - r, h.y_ft + r]];
			plan.areas.moat = { name: "Old tank", kind: "no_dig", outline: box(3), holes: [box(1.5)], status: "existing" };
			void board.commit("Draw the old tank", plan); return true; })()`)
		p.settled()
		p.command("pipe.route")
		p.until(`document.querySelectorAll("#route .route-zones input").length > 0`)
		p.button("#route", "Route")
		p.found("#route")
		p.until(`document.querySelector("#route .route-blocked").checkVisibility()`)
		look("route-blocked")
		eval[bool](p, `(void evenfall.board.commit("Another name", { ...structuredClone(evenfall.board.committed), name: "Renamed" }), true)`)
		p.until(`[...document.querySelectorAll("#route button")].some((b) => b.checkVisibility() && b.textContent.startsWith("Ask again"))`)
		look("route-stale")
		p.button("#route", "Cancel")
		p.settled()
		p.click("#tab-trenches")
		p.until(`evenfall.state.design.digs`)
		p.excuse(toldAway, toldNoSocket)
		prog.stop()
		p.until(`document.body.dataset.away === ""`)
		look("trenches-away")
	}},
	{"water", rareWatering},
	{"prices", func(p *tab, prog *program, look look) {
		openDemo(p.t, p, prog)
		p.click("#tab-parts")
		p.command("plan.prices")
		p.until(`document.querySelector("#prices-file")`)
		list := p.priceList()
		list[3][2] = "two"
		p.choosePrices(append(list, []string{"Garden gnome", "each", "12", "", "", ""}))
		p.until(`document.querySelector("dialog[open] .price-faults li")`)
		look("prices-fault")
		p.pressText("dialog[open]", "Take these prices")
		p.until(`evenfall.state.design.costs.sum !== ""`)
		p.settled()
		look("parts-lacking-one")
		p.command("plan.compare")
		p.until(`document.querySelector("dialog[open] [role=status] p")`)
		look("compare-parts")
		p.closeDialog()
		p.command("plan.quote")
		p.until(`document.querySelector(".quote-total")`)
		look("quote-short")
	}},
	{"over", func(p *tab, prog *program, look look) {
		openDemo(p.t, p, prog)
		p.pen(input.DispatchMouseEventTypeMouseMoved, 30, 10)
		p.until(`document.querySelector("#notice").textContent.includes("fingers only move the view")`)
		look("over-pen")
		eval[bool](p, `evenfall.drawing.commands.run("tool.outline", () => {}) ?? true`)
		for _, at := range [][2]float64{{10, 4}, {30, 4}} {
			p.tap(at[0], at[1], altKey)
		}
		p.until(`!document.querySelector(".draft-bar").hidden`)
		look("over-draft")
		p.press(kb.Escape)
	}},
}

// The states off the beaten way have nothing wider than the window, no word of a
// control cut, and targets large enough, at each width. With EVENFALL_SHOTS set,
// each is kept as a picture in both themes.
func TestRowA21_RareStatesFit(t *testing.T) {
	for _, c := range []struct {
		name          string
		width, height int64
	}{{"1280", 1280, 800}, {"1024", 1024, 768}, {"768", 768, 1024}} {
		for _, r := range rare {
			t.Run(c.name+"/"+r.name, func(t *testing.T) {
				prog := startProgram(t, t.TempDir())
				p := open(t, c.width, c.height)
				r.walk(p, prog, func(name string) {
					p.frame()
					if over := p.wider(); over > 0 {
						t.Errorf("%s is %d px wider than the window", name, over)
					}
					if got := eval[string](p, cut); got != "" {
						t.Errorf("%s: words are cut:\n%s", name, got)
					}
					if got := p.small(24); len(got) > 0 {
						t.Errorf("%s: too small:\n%s", name, strings.Join(got, "\n"))
					}
					if os.Getenv("EVENFALL_SHOTS") == "" {
						return
					}
					p.shot(fmt.Sprintf("%s-light-%s", name, c.name))
					p.media("dark")
					p.frame()
					p.shot(fmt.Sprintf("%s-dark-%s", name, c.name))
					p.media("light")
				})
			})
		}
	}
}
