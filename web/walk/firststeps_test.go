//go:build browser

package walk

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// The first steps come back on a plan that was begun with them, closed to a line,
// until they are put away there; and the Supply page of a plan without any figure
// asks for the pressure first, with every choice in full.
func TestRowA26_TheFirstStepsComeBackUntilPutAway(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Back yard")
	steps := `document.querySelector("#first-steps")`
	p.until(steps)
	eval[bool](p, `(evenfall.board.commit("Lawn", { ...evenfall.board.plan, areas: { a1: { name: "Lawn", kind: "planting",
		outline: [[0, 0], [30, 0], [30, 20], [0, 20]] } } }), true)`)
	eval[bool](p, `evenfall.drawing.commands.run("tool.head", () => {}) ?? true`)
	p.until(`evenfall.drawing.toolName === "head"`)
	p.tap(1, 1, 0)
	p.until(`Object.keys(evenfall.state.plan.heads ?? {}).length === 1`)
	p.settled()
	p.do(chromedp.Reload())
	p.onBoard()
	p.until(steps + `?.innerText.includes("1 of 8 done: next, set the heads")`)

	eval[bool](p, `evenfall.drawing.commands.run("plan.supply", () => {}) ?? true`)
	p.until(`document.activeElement === ` + supplyField("Static pressure"))
	cut := eval[string](p, `(() => {
		const pen = document.createElement("canvas").getContext("2d");
		return [...document.querySelectorAll("#supply select")].filter((s) => s.checkVisibility()).flatMap((s) => {
			const look = getComputedStyle(s);
			pen.font = look.font;
			const room = s.clientWidth - parseFloat(look.paddingLeft) - parseFloat(look.paddingRight) - 16; // for its arrow
			return [...s.options].filter((o) => pen.measureText(o.label).width > room).map((o) => s.labels[0].textContent + ": " + o.label);
		}).join("\n");
	})()`)
	if cut != "" {
		t.Errorf("choices of the Supply page are cut:\n%s", cut)
	}
	if over := eval[string](p, `[...document.querySelectorAll("#supply td.in")].filter((c) => c.checkVisibility() && c.scrollWidth > c.clientWidth).map((c) => c.innerText).join("\n")`); over != "" {
		t.Errorf("fields of a list lie over each other:\n%s", over)
	}
	eval[bool](p, `(document.querySelector("#supply td.in select").scrollIntoView({ block: "center" }), true)`)
	p.shot("supply-bare")
	p.click("#supply-back")

	p.button("#first-steps", "Skip these")
	p.until(`!` + steps)
	p.do(chromedp.Reload())
	p.onBoard()
	if eval[bool](p, steps+` !== null`) {
		t.Error("steps put away on this plan are back")
	}
}
