//go:build browser

package walk

import (
	"testing"

	"github.com/chromedp/chromedp"
)

func TestZZThings(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.fill("#new-name", "Lot yard")
	p.click("#new-plan button[type=submit]")
	p.until(`location.pathname.startsWith("/plans/") && window.evenfall && document.documentElement?.dataset.saved === "yes"`)
	p.shot("zz-0-empty")
	p.click("#empty-draw")
	p.show(-3, -3, 83, 63)
	for _, c := range [][2]float64{{0, 0}, {80, 0}, {80, 60}, {0, 60}} {
		p.tap(c[0], c[1], 0)
	}
	p.enter()
	p.settled()
	p.shot("zz-1-lot")
	t.Log(eval[string](p, `JSON.stringify([evenfall.state.plan.site, evenfall.state.selection, evenfall.drawing.kit.areaKind])`))
	p.rectangle("planting", 0, 0, 60, 40)
	p.rectangle("building", 60, 0, 80, 30)
	p.click(`[data-command="tool.select"]`)
	p.tap(30, 20, 0)
	p.shot("zz-2-selected")
	p.press("d")
	p.tap(30, 0, 0)
	p.tap(30, 20, 0)
	p.shot("zz-3-splitting")
	p.press("d")
	p.tap(30, 0, 0)
	p.tap(30, 40, 0)
	p.settled()
	t.Log(eval[string](p, `JSON.stringify(evenfall.state.plan.areas)`))
	p.shot("zz-4-split")
	p.press("j")
	p.settled()
	t.Log(eval[string](p, `JSON.stringify(evenfall.state.plan.areas)`))
	p.press("z", chromedp.ModifierCtrl)
	p.settled()
	p.tap(80, 45, 0)
	p.shot("zz-5-lot-selected")
	t.Log(eval[string](p, `JSON.stringify(evenfall.state.selection)`))
	p.drag(80, 60, 90, 60, 0)
	p.settled()
	t.Log(eval[string](p, `JSON.stringify(evenfall.state.plan.site)`))
	p.click("#tab-objects")
	p.shot("zz-6-objects")
	p.axe("objects")
	p.press("z", chromedp.ModifierCtrl)
	p.settled()
	t.Log(eval[string](p, `JSON.stringify(evenfall.state.selection)`))
	p.quiet()
}

func TestZZDemo(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.settled()
	p.shot("zz-demo-1")
	p.click(`[data-command="view.in"]`)
	p.click(`[data-command="view.in"]`)
	p.click(`[data-command="view.in"]`)
	p.do(chromedp.Sleep(300000000))
	p.shot("zz-demo-2")
	p.click(`[data-command="view.fit"]`)
	p.click("#tab-objects")
	p.do(chromedp.Sleep(300000000))
	t.Log(eval[string](p, `document.querySelector("#objects [role=status]").textContent`))
	t.Log(eval[int](p, `document.querySelectorAll("#objects tbody tr").length`))
	p.shot("zz-demo-3")
	t.Log(eval[string](p, `(() => { const t0 = performance.now(); for (let i=0;i<20;i++) evenfall.drawing.commands.run("view.in", ()=>{}); return String(performance.now()-t0); })()`))
	p.quiet()
}
