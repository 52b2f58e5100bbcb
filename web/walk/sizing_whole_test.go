//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// The whole way on the demo without its pipes: the supply is measured anew, a main
// and two laterals are drawn, given too small a size, a head starves and the map
// shows it; sizing offers its cure, which is one step, and the map changes.
func TestAStarvedHeadIsFoundAndCuredBySizing(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.excuse(toldReadback)
	p.openUnpiped(t, prog)

	p.press(kb.F9)
	p.until(`!document.querySelector("#supply").hidden`)
	p.typeSupply("Pressure left at it", "38")
	p.supplyPlan(`s.residual_psi === 38`)
	p.typeSupply("Static pressure", "44")
	p.supplyPlan(`s.static_psi === 44`)
	p.settled()
	p.escape()
	p.until(`document.querySelector("#supply").hidden`)

	p.onScene()
	p.press("P", 8)
	p.until(`evenfall.drawing.toolName === "pipe"`)
	draw := func(free int, count int, places ...[2]float64) {
		t.Helper()
		for i, at := range places {
			p.tap(at[0], at[1], altKey*b2i(free>>i&1 == 1))
		}
		p.enter()
		p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.pipes ?? {}).length === %d`, count))
	}
	draw(0b01100, 2, [2]float64{90, 1}, [2]float64{90.5, 35}, [2]float64{90, 47.6}, [2]float64{52, 47.6}, [2]float64{56, 60})
	draw(0, 5, [2]float64{56, 60}, [2]float64{53.6, 49.4}, [2]float64{28.5, 49.4}, [2]float64{3.4, 49.4})
	draw(0, 9, [2]float64{56, 60}, [2]float64{53.6, 78.5}, [2]float64{28.5, 78.5}, [2]float64{3.4, 78.5}, [2]float64{3.4, 107.6})
	if got := p.pipes(); got[""] != 2 || got["z3"] != 7 {
		t.Fatalf("the pipes carry %v", got)
	}
	p.settled()

	p.press("v")
	for _, c := range []struct{ which, class, in string }{{`!v.zone`, "pvc-sch40", "1.25"}, {`v.zone === "z3"`, "pvc-sch40", "0.5"}} {
		eval[bool](p, fmt.Sprintf(`(evenfall.board.select(Object.entries(evenfall.state.plan.pipes).filter(([, v]) => %s).map(([id]) => "pipes/" + id)), true)`, c.which))
		p.choose("#selected", "Class", c.class)
		p.until(fmt.Sprintf(`Object.values(evenfall.state.plan.pipes).every((v) => !(%s) || v.class === %q)`, c.which, c.class))
		p.choose("#selected", "Size", c.in)
		p.until(fmt.Sprintf(`Object.values(evenfall.state.plan.pipes).every((v) => !(%s) || v.nominal_in === %s)`, c.which, c.in))
		p.settled()
	}
	eval[bool](p, `(evenfall.board.select([]), true)`)
	p.until(`evenfall.state.design.pressures.find((z) => z.zone === "z3").solved`)
	p.click(`input[value="running"]`)
	p.until(`document.documentElement.dataset.shows === "running"`)
	p.until(`document.querySelectorAll(".mark-starved").length > 0`)
	starved := p.colourAt(8, 104)
	evenly := eval[string](p, evenness)
	p.shot("sizing-starved")

	eval[bool](p, `(evenfall.drawing.commands.run("pipe.size", () => {}), true)`)
	p.until(`document.querySelector("dialog.sizes[open]")`)
	p.until(`document.querySelector("dialog.sizes").innerText.includes("Zone 3 (Side lawn)")`)
	rev := eval[int](p, `evenfall.state.rev`)
	p.pressText("dialog.sizes", "Apply, size")
	p.until(fmt.Sprintf(`evenfall.state.rev > %d`, rev))
	p.settled()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	p.until(`document.querySelectorAll(".mark-starved").length === 0`)
	p.until(`document.documentElement.dataset.shows === "running"`)
	p.frame()
	if now := p.colourAt(8, 104); now == starved {
		t.Errorf("the map by the head that starved is still %s", now)
	}
	if now := eval[string](p, evenness); now == evenly {
		t.Errorf("evenness is still %s", now)
	}
	p.shot("sizing-cured")
}
