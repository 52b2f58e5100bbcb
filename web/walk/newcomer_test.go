//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// What a hand and a head cost in seconds, by the keystroke-level model of Card,
// Moran and Newell (Communications of the ACM 23, 1980; operator times from
// memory): a key of an average typist, pointing and pressing, and making up
// one's mind, which a newcomer is given three times over.
const (
	keySeconds   = 0.28
	pointSeconds = 1.1 + 2*0.1
	mindSeconds  = 3 * 1.35
)

// newcomer is somebody at the page for the first time. Only what is on the
// screen and says what it is can be pressed.
type newcomer struct {
	*tab
	press   func(label string) // a control that says this
	place   func(x, y float64) // a place on the board, in feet
	reach   func(label string) // a field that says this, to be typed in
	tick    func(label string) // a box to tick
	steps   int
	seconds float64
}

func (n *newcomer) minds()           { n.steps++; n.seconds += mindSeconds }
func (n *newcomer) keys(count int)   { n.seconds += keySeconds * float64(count) }
func (n *newcomer) points(count int) { n.seconds += pointSeconds * float64(count) }

// saying finds the control that says a text and is in sight, the first in the
// order of the page that is not covered by something else.
const saying = `((text) => {
	const says = (e) => (e.getAttribute("aria-label") || e.innerText || e.textContent || "").trim();
	for (const e of document.querySelectorAll("button, a, summary, [role=tab], input, select")) {
		if (says(e) !== text && !(e.labels && [...e.labels].some((l) => l.innerText.trim() === text))) continue;
		const r = e.getBoundingClientRect();
		const x = r.left + r.width / 2, y = r.top + r.height / 2;
		if (e.disabled || r.width === 0 || x < 0 || y < 0 || x > innerWidth || y > innerHeight) continue;
		const top = document.elementFromPoint(x, y);
		if (top && (e === top || e.contains(top))) return [x, y];
	}
	return null;
})`

// inSight waits for the control and returns where it is.
func (n *newcomer) inSight(label string) (float64, float64) {
	n.t.Helper()
	n.until(fmt.Sprintf("%s(%q) !== null", saying, label))
	at := eval[[]float64](n.tab, fmt.Sprintf("%s(%q)", saying, label))
	return at[0], at[1]
}

func byPointer(p *tab) *newcomer {
	n := &newcomer{tab: p}
	n.press = func(label string) {
		p.t.Helper()
		x, y := n.inSight(label)
		n.minds()
		n.points(1)
		p.mouseAt(input.DispatchMouseEventTypeMouseMoved, x, y, 0)
		p.mouseAt(input.DispatchMouseEventTypeMousePressed, x, y, 0)
		p.mouseAt(input.DispatchMouseEventTypeMouseReleased, x, y, 0)
	}
	n.reach, n.tick = n.press, n.press
	n.place = func(x, y float64) {
		p.t.Helper()
		n.minds()
		n.points(1)
		p.tap(x, y, 0)
	}
	return n
}

func byFinger(p *tab) *newcomer {
	n := &newcomer{tab: p}
	n.press = func(label string) {
		p.t.Helper()
		x, y := n.inSight(label)
		n.minds()
		n.points(1)
		p.touch(input.DispatchTouchEventTypeTouchStart, finger{1, x, y})
		p.touch(input.DispatchTouchEventTypeTouchEnd)
	}
	n.reach, n.tick = n.press, n.press
	n.place = func(x, y float64) {
		p.t.Helper()
		n.minds()
		n.points(1)
		p.poke(x, y)
	}
	return n
}

func byKeys(p *tab) *newcomer {
	n := &newcomer{tab: p}
	n.reach = func(label string) {
		p.t.Helper()
		n.minds()
		there := fmt.Sprintf(`(() => { const e = document.activeElement;
			return (e.getAttribute("aria-label") || e.innerText || "").trim() === %q || [...(e.labels || [])].some((l) => l.innerText.trim() === %q); })()`, label, label)
		for range 150 {
			if eval[bool](p, there) {
				break
			}
			// Along a bar or a row of tabs by arrow, else on by Tab.
			if eval[bool](p, fmt.Sprintf(`(() => { const g = document.activeElement.closest("[role=toolbar], [role=tablist]");
				return !!g && [...g.querySelectorAll("button")].some((b) => (b.getAttribute("aria-label") || b.innerText || "").trim() === %q); })()`, label)) {
				p.press(kb.ArrowRight)
			} else {
				p.press(kb.Tab)
			}
			n.keys(1)
		}
		p.until(there)
	}
	n.press = func(label string) {
		p.t.Helper()
		n.until(fmt.Sprintf("%s(%q) !== null", saying, label))
		n.reach(label)
		if !eval[bool](p, `document.activeElement.getAttribute("aria-selected") === "true"`) {
			p.enter()
			n.keys(1)
		}
	}
	n.tick = func(label string) {
		p.t.Helper()
		n.reach(label)
		p.press(" ")
		n.keys(1)
	}
	n.place = func(x, y float64) {
		p.t.Helper()
		n.minds()
		for range 60 {
			if eval[bool](p, `document.querySelector("#scene").contains(document.activeElement)`) {
				break
			}
			p.press(kb.Tab, chromedp.ModifierShift)
			n.keys(1)
		}
		text := fmt.Sprintf("%v,%v", x, y)
		p.typed(text)
		n.keys(len(text) + 1)
	}
	return n
}

// A newcomer reaches an even small lawn with a zone and its parts list within
// ten minutes of the first start, without a manual: with a mouse, by keyboard
// alone, and with one finger on a tablet.
func TestANewcomerReachesAListInTenMinutes(t *testing.T) {
	for _, with := range []struct {
		name string
		hand func(*tab) *newcomer
		w, h int64
	}{{"pointer", byPointer, 1280, 800}, {"keyboard", byKeys, 1280, 800}, {"finger", byFinger, 1024, 768}} {
		t.Run(with.name, func(t *testing.T) {
			prog := startProgram(t, t.TempDir())
			p := open(t, with.w, with.h)
			if with.name == "finger" {
				p.coarse()
			}
			n := with.hand(p)
			p.visit(prog.url)
			n.begin("Small lawn")
			p.shot("newcomer-" + with.name + "-1")
			n.lawnAndHeads()
			p.shot("newcomer-" + with.name + "-2")
			n.water()
			n.zoneAndList()
			p.shot("newcomer-" + with.name + "-3")
			minutes := n.seconds / 60
			t.Logf("shown: %d steps, %.1f minutes by the keystroke-level model", n.steps, minutes)
			if minutes > 10 {
				t.Errorf("the way to a list takes %d steps and %.1f minutes, want at most 10", n.steps, minutes)
			}
		})
	}
}

// begin names the plan and makes it.
func (n *newcomer) begin(name string) {
	n.t.Helper()
	n.press("Name")
	if eval[string](n.tab, `document.activeElement.id`) != "new-name" {
		n.t.Fatal("pressing the field Name does not lead into it")
	}
	n.write(name)
	n.keys(len(name))
	n.press("Make the plan")
	n.onBoard()
}

// lawnAndHeads follows the first steps: a lawn of 30 by 20 ft, six heads, and
// no finding left that says Stop but that the heads have no zone.
func (n *newcomer) lawnAndHeads() {
	n.t.Helper()
	n.press("Rectangle")
	n.until(`evenfall.drawing.toolName === "rectangle"`)
	n.inView(-3, -3, 33, 23)
	n.place(0, 0)
	n.place(30, 20)
	n.until(`Object.values(evenfall.state.plan.areas ?? {}).some((a) => a.kind === "planting")`)
	n.press("Head")
	n.until(`evenfall.drawing.toolName === "head"`)
	for _, y := range []float64{0.4, 19.6} {
		for _, x := range []float64{0.4, 15, 29.6} {
			n.place(x, y)
		}
	}
	n.until(`Object.keys(evenfall.state.plan.heads ?? {}).length === 6`)
	n.settled()
}

// water says what was measured at the tap: the flow, and the pressure left at it.
func (n *newcomer) water() {
	n.t.Helper()
	n.until(`document.querySelector("#first-steps").innerText.includes("3 of 8 done: next, say what water there is")`)
	n.press("Supply")
	n.until(`document.activeElement.labels && document.activeElement.labels[0].innerText.startsWith("Static pressure")`)
	for _, f := range []struct{ label, typed string }{{"Flow measured gpm", "12"}, {"Pressure left at it psi", "50"}} {
		n.reach(f.label)
		eval[bool](n.tab, `(document.activeElement.select(), true)`) // as by Ctrl+A
		n.keys(2)
		n.write(f.typed)
		n.keys(len(f.typed))
	}
	n.tick("These figures were measured")
	n.press("Back to the board")
	n.until(`evenfall.state.plan.supply.measured === true && evenfall.state.plan.supply.flow_gpm === 12`)
	n.settled()
}

// inView brings ground into view by the buttons of the page.
func (n *newcomer) inView(x0, y0, x1, y1 float64) {
	n.t.Helper()
	for range 12 {
		if eval[bool](n.tab, fmt.Sprintf(`(() => {
			const b = document.querySelector("#board").getBoundingClientRect();
			return [[%v, %v], [%v, %v]].map(evenfall.pixels).every(([x, y]) => x > b.left + 4 && x < b.right - 4 && y > b.top + 4 && y < b.bottom - 4);
		})()`, x0, y0, x1, y1)) {
			return
		}
		n.press("Zoom out")
	}
	n.t.Fatal("zooming out does not bring the ground into view")
}

// zoneAndList makes one zone of all heads and reads the parts list.
func (n *newcomer) zoneAndList() {
	n.t.Helper()
	n.press("Zones")
	n.press("Select 6 heads without a zone")
	n.until(`evenfall.state.selection.length === 6`)
	n.press("New zone of selected")
	n.until(`Object.keys(evenfall.state.plan.zones ?? {}).length === 1`)
	n.settled()
	stops := eval[string](n.tab, `evenfall.state.design.findings.filter((f) => f.rank === "stop").map((f) => f.title + ": " + f.sentence).join("\n")`)
	if stops != "" {
		n.t.Errorf("the small lawn still has findings that say Stop:\n%s", stops)
	}
	even := eval[string](n.tab, `evenfall.state.design.readings.evenness.rank + " " + evenfall.state.design.readings.evenness.text`)
	if !strings.HasPrefix(even, "good") {
		n.t.Errorf("the small lawn is %s even", even)
	}
	n.press("Parts")
	n.until(`document.querySelector("#parts").innerText.includes("Swing joint")`)
	n.until(`document.querySelector("#first-steps").innerText.includes("6 of 8 done: next, draw the pipes")`)
	checkFiles(n.tab, 6, 1)
}
