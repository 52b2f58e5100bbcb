//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// supplyField finds the input of a label on the Supply page.
func supplyField(label string) string {
	return fmt.Sprintf(`[...document.querySelectorAll("#supply label")].find((l) => l.checkVisibility() && l.firstChild.textContent === %q)?.control`, label)
}

// type_ goes to a field of the Supply page by its label and types over it.
func (p *tab) typeSupply(label, text string) {
	p.t.Helper()
	p.until(supplyField(label))
	eval[bool](p, fmt.Sprintf(`(() => { const f = %s; f.focus(); f.select(); return true; })()`, supplyField(label)))
	if text == "" {
		p.press(kb.Backspace)
	}
	p.write(text)
	p.enter()
}

// chooseSupply chooses from a list of the Supply page.
func (p *tab) chooseSupply(label, value string) {
	p.t.Helper()
	p.until(supplyField(label))
	eval[bool](p, fmt.Sprintf(`(() => { const f = %s; f.focus(); f.value = %q; f.dispatchEvent(new Event("change", { bubbles: true })); return f.value === %q; })()`, supplyField(label), value, value))
}

// supplyPlan waits for a condition on the supply of the plan, s.
func (p *tab) supplyPlan(js string) {
	p.t.Helper()
	p.until(fmt.Sprintf(`((s) => %s)(evenfall.state.plan.supply)`, js))
}

// The Supply page is opened, filled and left by the keyboard alone; every field
// is one step, what cannot be is said at its field, and nothing typed is lost.
func TestRowA20_TheSupplyPageIsFilledByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	eval[bool](p, `(document.querySelector("#scene").focus(), true)`)
	p.press(kb.F9)
	p.until(`!document.querySelector("#supply").hidden && document.activeElement.id === "supply-title"`)
	p.until(`document.querySelector(".design-flow").textContent.endsWith("gpm")`)
	p.frame()
	before := eval[string](p, `document.querySelector(".limits").innerText`)

	// What cannot be keeps what was typed, says why at the field and changes nothing.
	rev := eval[int](p, `evenfall.state.rev`)
	p.typeSupply("Static pressure", "lots")
	said := eval[string](p, fmt.Sprintf(`(() => { const f = %s; return f.value + "|" + document.getElementById(f.getAttribute("aria-describedby")).textContent; })()`, supplyField("Static pressure")))
	if said != "lots|“lots” is not a unit of pressure. Write psi, bar or kPa." {
		t.Errorf("at the field stands %q", said)
	}
	p.typeSupply("Static pressure", "900")
	p.until(fmt.Sprintf(`document.getElementById(%s.getAttribute("aria-describedby")).textContent.includes("Type psi from 5 to 200.")`, supplyField("Static pressure")))
	if now := eval[int](p, `evenfall.state.rev`); now != rev {
		t.Errorf("what was refused made a step: revision %d after %d", now, rev)
	}

	// A figure with its own unit is one step, and the limits follow.
	p.typeSupply("Static pressure", "3.6 bar")
	p.supplyPlan(`Math.abs(s.static_psi - 52.2137) < 0.001`)
	p.settled()
	p.until(fmt.Sprintf(`document.querySelector(".limits").innerText !== %q`, before))
	if label := eval[string](p, `evenfall.board.undoLabel`); label != "Supply: static pressure" {
		t.Errorf("the step is called %q", label)
	}
	p.click("#undo")
	p.settled()
	p.supplyPlan(`s.static_psi === 62`)

	// Lists: a reading added, changed and taken out.
	had := eval[int](p, `Object.keys(evenfall.state.plan.supply.statics ?? {}).length`)
	p.typeSupply("Pressure, new reading", "71")
	p.supplyPlan(fmt.Sprintf(`Object.values(s.statics ?? {}).length === %d && Object.values(s.statics).some((r) => r.psi === 71)`, had+1))
	p.chooseSupply(fmt.Sprintf("Hour, reading %d", had+1), "5")
	p.supplyPlan(`Object.values(s.statics).some((r) => r.psi === 71 && r.hour === 5)`)
	p.settled()

	// A device comes with its row; its curve may not fall.
	p.chooseSupply("Backflow device", "backflow-rp-1")
	p.supplyPlan(`s.backflow_device === "backflow-rp-1" && evenfall.state.plan.devices["backflow-rp-1"].backflow === "reduced_pressure"`)
	p.settled()
	p.until(`[...document.querySelectorAll(".backflow > div .chain li")].some((l) => l.dataset.safe === "" && l.textContent === "Reduced-pressure assembly")`)
	eval[bool](p, `(() => { for (const d of document.querySelectorAll(".loss")) d.open = true; return true; })()`)

	// So do the zones' valves, marked as a default until the maker's curve is typed.
	valve := `[...document.querySelectorAll(".loss")].find((d) => d.querySelector("summary").textContent.startsWith("Zone valve"))`
	marked := fmt.Sprintf(`%s?.querySelector(".caution").checkVisibility()`, valve)
	p.until(marked + ` === true`)
	eval[bool](p, fmt.Sprintf(`(() => { const f = [...%s.querySelectorAll("tbody input")].at(-1); f.focus(); f.select(); return true; })()`, valve))
	p.write("21")
	p.enter()
	p.until(`evenfall.state.plan.devices["valve-1"]?.loss.at(-1).loss_psi === 21`)
	p.settled()
	p.until(marked + ` === false`)
	p.click("#undo")
	p.settled()
	eval[bool](p, `(() => { const rows = [...document.querySelectorAll(".loss")].find((d) => d.querySelector("summary").textContent.startsWith("Backflow device")); const f = rows.querySelectorAll("tbody input")[1]; f.focus(); f.select(); return true; })()`)
	p.write("40")
	p.enter()
	p.until(`document.activeElement.getAttribute("aria-invalid") === "true" && document.activeElement.closest(".field").innerText.includes("never falls")`)
	p.escape() // takes back what was typed, and does not leave the page
	p.until(`!document.querySelector("#supply").hidden && document.activeElement.value !== "40"`)

	p.press(kb.Escape)
	p.until(`document.querySelector("#supply").hidden && document.activeElement.id === "scene"`)
	p.frame()
	if shut := eval[int](p, `document.querySelectorAll("[inert]").length`); shut != 0 {
		t.Errorf("%d parts of the page stay out of reach after the Supply page was left", shut)
	}
	p.press("z", chromedp.ModifierCtrl)
	p.supplyPlan(`s.backflow_device !== "backflow-rp-1"`)
}

// On a new plan the page says that the supply is assumed, what to measure and how.
func TestTheSupplyPageSaysWhatToMeasure(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 900)
	p.visit(prog.url)
	id := eval[string](p, `fetch("/api/plans", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ name: "Bare", show: "us" }) }).then((r) => r.json()).then((s) => s.id)`)
	p.visit(prog.url + "/plans/" + id)
	p.until("window.evenfall")
	p.settled()
	eval[bool](p, `evenfall.drawing.commands.run("plan.supply", () => {}) ?? true`)
	p.until(`document.querySelector(".supply-mark").textContent === "Assumed"`)
	for _, want := range []string{"every print says so", "gauge", "early evening in the hottest weeks", "only rough", "licensed", "drinking"} {
		p.until(fmt.Sprintf(`document.querySelector("#supply").innerText.includes(%q)`, want))
	}
	p.frame()
	p.axeOf("#supply")
	p.shot("supply-bare")
	// The container alone is one rough point, and is said to be.
	p.typeSupply("Container holds", "5 gal")
	p.typeSupply("It was full in", "25 s")
	p.supplyPlan(`s.timed_gal === 5 && s.timed_s === 25`)
	p.typeSupply("Static pressure", "60")
	p.typeSupply("Flow measured", "")
	p.typeSupply("Pressure left at it", "")
	eval[bool](p, fmt.Sprintf(`(%s.click(), true)`, supplyField("These figures were measured")))
	p.until(`document.querySelector(".supply-mark").textContent === "Rough"`)
	p.settled()
	p.frame()
	p.shot("supply-rough")
}

// The Supply page in both themes, wide, at 1024 and as narrow as a telephone:
// nothing for the accessibility engine, nothing beyond the sides.
func TestRowA21_TheSupplyPageHasRoom(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, scheme := range []string{"light", "dark"} {
		for _, width := range []int64{1280, 1024, 390} {
			t.Run(fmt.Sprintf("%s %d", scheme, width), func(t *testing.T) {
				p := open(t, width, 900)
				p.media(scheme)
				openDemo(t, p, prog)
				eval[bool](p, `evenfall.drawing.commands.run("plan.supply", () => {}) ?? true`)
				p.until(`document.querySelector("#supply .limits li")`)
				p.frame()
				p.axeOf("#supply")
				if over := eval[int](p, `Math.max(document.documentElement.scrollWidth - innerWidth, document.querySelector("#supply").scrollWidth - document.querySelector("#supply").clientWidth)`); over > 0 {
					t.Errorf("the page goes %d px beyond its side", over)
				}
				p.shot(fmt.Sprintf("supply-%s-%d", scheme, width))
				eval[bool](p, `(document.querySelectorAll("#supply details").forEach((d) => { d.open = true; }), true)`)
				p.frame()
				p.axeOf("#supply")
				for _, at := range []int{1, 2, 3, 4, 5} {
					eval[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector("#supply"); const s = e.scrollHeight > e.clientHeight + 5 ? e : document.documentElement; s.scrollTop = %d * (s.clientHeight - 60); return true; })()`, at))
					p.frame()
					p.shot(fmt.Sprintf("supply-%s-%d-%d", scheme, width, at))
				}
			})
		}
	}
}
