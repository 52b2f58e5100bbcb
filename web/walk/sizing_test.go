//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// makeSmall gives every pipe of a zone of the demo 3/4 in, by one step.
func (p *tab) makeSmall(zone string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(() => {
		const { board } = evenfall, plan = structuredClone(board.committed);
		for (const v of Object.values(plan.pipes)) if (v.zone === %q) v.nominal_in = 0.75;
		void board.commit("Make pipes small", plan); return true; })()`, zone))
	p.settled()
}

const sizesOfZone = `JSON.stringify(Object.entries(evenfall.state.plan.pipes).map(([id, v]) => [id, v.class, v.nominal_in]).sort())`

// Sizes are asked for, read, taken and taken back by the keyboard alone; Cancel
// changes nothing, and what is taken is one step.
func TestRowA25_SizesAreOfferedTakenAndTakenBackByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.makeSmall("z3")
	p.until(`evenfall.board.design.pressures.find((z) => z.zone === "z3").solved`)
	before := eval[string](p, sizesOfZone)
	rev := eval[int](p, `evenfall.state.rev`)

	ask := func() {
		t.Helper()
		eval[bool](p, `(document.querySelector("#scene").focus(), true)`)
		p.press("k", chromedp.ModifierCtrl)
		p.until(`document.querySelector("dialog[open] input")`)
		p.write("size the pipes")
		p.until(`document.querySelector("dialog[open] [role=option]")?.textContent.includes("Size the pipes")`)
		p.enter()
		p.until(`document.querySelector("dialog.sizes[open]")`)
	}
	ask()
	p.until(`document.activeElement.textContent.startsWith("Apply, size ")`)
	for _, w := range []string{"Side lawn", "3/4 in Class 200 PVC", "1 in Class 200 PVC", "Before", "With these sizes", "Checked: the sizes hold", "Good", "Local code"} {
		p.frame()
		if !eval[bool](p, fmt.Sprintf(`document.querySelector("dialog.sizes").innerText.includes(%q)`, w)) {
			t.Errorf("the offer does not say %q", w)
		}
	}
	p.axe("offer of sizes")
	p.shot("sizes")
	p.media("dark")
	p.axe("offer of sizes, dark")
	p.shot("sizes-dark")
	p.media("light")
	p.escape()
	p.until(`!document.querySelector("dialog[open]")`)
	if now := eval[string](p, sizesOfZone); now != before || eval[int](p, `evenfall.state.rev`) != rev {
		t.Error("an offer that was left changed the plan")
	}

	ask()
	p.enter() // Apply has the focus
	p.until(`!document.querySelector("dialog[open]")`)
	p.until(fmt.Sprintf("evenfall.state.rev > %d", rev))
	p.settled()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	p.until(`document.querySelector("#live").textContent.endsWith("sized. Undo takes it back.")`)
	p.until(`evenfall.board.design.pressures.every((z) => z.solved)`)
	p.until(`Object.values(evenfall.state.plan.pipes).some((v) => v.zone === "z3" && v.nominal_in === 1)`)
	eval[bool](p, `(document.querySelector("#scene").focus(), true)`)
	p.press("z", chromedp.ModifierCtrl)
	p.until(sizesOfZone + ` === ` + fmt.Sprintf("%q", before))
	p.settled()
}

// On a narrow page the offer can be read and taken without scrolling sideways;
// where there is nothing to offer, it says why and what to do.
func TestRowA28_NoSizesSayWhy(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 390, 760)
	openDemo(t, p, prog)
	eval[bool](p, `(() => { const { board } = evenfall, plan = structuredClone(board.committed);
		Object.assign(plan.supply, { static_psi: 30, residual_psi: 20, statics: {} }); void board.commit("Weak", plan); return true; })()`)
	p.settled()
	eval[bool](p, `evenfall.drawing.commands.run("pipe.size", () => {}) ?? true`)
	p.until(`document.querySelector("dialog.sizes[open]")`)
	said := eval[string](p, `document.querySelector("#sizes-says").textContent`)
	for _, w := range []string{"No sizes satisfy every limit", "What binds is the pressure of the supply", "would help"} {
		if !eval[bool](p, fmt.Sprintf(`document.querySelector("#sizes-says").textContent.includes(%q)`, w)) {
			t.Errorf("%q does not say %q", said, w)
		}
	}
	p.until(`document.activeElement.textContent === "Close"`)
	p.axe("no sizes")
	p.shot("sizes-none")
	p.press(kb.Enter)
	p.until(`!document.querySelector("dialog[open]")`)
	eval[bool](p, `evenfall.board.undo().then(() => true)`)
	p.settled()
	wide := `document.documentElement.scrollWidth - innerWidth`
	was := eval[int](p, wide)
	eval[bool](p, `evenfall.drawing.commands.run("pipe.size", () => {}) ?? true`)
	p.until(`document.querySelector("dialog.sizes[open] table")`)
	if is := eval[int](p, wide); is > was {
		t.Errorf("the offer makes the page %d px wider than the window, which was %d", is, was)
	}
	if !eval[bool](p, `(() => { const d = document.querySelector("dialog.sizes"); return d.scrollWidth <= d.clientWidth + 1; })()`) {
		t.Error("the dialog scrolls sideways")
	}
	p.shot("sizes-narrow")
	p.escape()
}
