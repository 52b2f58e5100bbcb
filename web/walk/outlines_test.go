//go:build browser

package walk

import (
	"fmt"

	"github.com/chromedp/cdproto/input"
)

// newPlan makes an empty plan on the plans page and opens it.
func (p *tab) newPlan(prog *program, name string) {
	p.t.Helper()
	p.visit(prog.url)
	p.fill("#new-name", name)
	p.click("#new-plan button[type=submit]")
	p.onBoard()
}

// onBoard waits until a board is open and everything is drawn.
func (p *tab) onBoard() {
	p.t.Helper()
	p.until(`location.pathname.startsWith("/plans/") && window.evenfall && document.documentElement`)
	p.settled()
}

// outline takes the Outline tool up for a kind of area.
func (p *tab) outline(kind string) {
	p.t.Helper()
	p.click(`[data-command="tool.outline"]`)
	p.choose("#kit", "Kind", kind)
}

// toward rests the pointer at a place, so that a typed length goes that way.
func (p *tab) toward(x, y float64) {
	p.t.Helper()
	p.mouse(input.DispatchMouseEventTypeMouseMoved, x, y, 0)
	p.frame()
}

// frame waits until two frames are drawn and the page owes none of what it draws a
// tenth of a second late (atMostEvery in dom.ts): then what is measured is what a
// person sees. A page that goes on owing, as while heads are arranged, is measured
// after a second.
func (p *tab) frame() {
	p.t.Helper()
	eval[bool](p, `new Promise((done) => {
		const until = performance.now() + 1000;
		let n = 0;
		const next = () => requestAnimationFrame(() => (++n >= 2 && (!(window.evenfall?.stillOwed() > 0) || performance.now() > until) ? done(true) : next()));
		next();
	})`)
}

// areas is the number of areas on the plan.
func (p *tab) areas() int {
	p.t.Helper()
	return p.count("areas")
}

func (p *tab) count(collection string) int {
	p.t.Helper()
	return eval[int](p, fmt.Sprintf(`Object.keys(evenfall.state.plan[%q] ?? {}).length`, collection))
}
