//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// wiringYard is a house, a walk beside it, and a lawn beyond, with one zone.
func (p *tab) wiringYard(prog *program) {
	p.t.Helper()
	p.visit(prog.url)
	rect := func(x0, y0, x1, y1 float64) [][]float64 {
		return [][]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
	}
	p.visit(prog.url + "/plans/" + p.create(map[string]any{
		"format": "evenfall-plan/1", "name": "Wired", "show": "us",
		"areas": map[string]any{
			"house": map[string]any{"name": "House", "kind": "building", "status": "existing", "outline": rect(0, 0, 20, 20)},
			"walk":  map[string]any{"name": "Walk", "kind": "paving", "status": "existing", "outline": rect(24, 0, 28, 40)},
			"lawn":  map[string]any{"name": "Lawn", "kind": "planting", "outline": rect(28, 0, 60, 40)},
		},
		"zones": map[string]any{"z1": map[string]any{"name": "Lawn", "station": 1}},
	}))
	p.onBoard()
	p.show(-6, -6, 66, 46)
}

// only is the id of the only thing of a collection.
func (p *tab) only(collection string) string {
	p.t.Helper()
	p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.%s ?? {}).length === 1`, collection))
	return eval[string](p, fmt.Sprintf(`Object.keys(evenfall.state.plan.%s)[0]`, collection))
}

// The controller with its outlet, a sensor, a splice box, a sleeve and a wire run
// are set and drawn with the pointer, then dragged, typed, copied, locked, hidden, deleted and undone
// as everything else is.
func TestWireAndSleevesAreDrawnAndEditedByPointer(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.wiringYard(prog)
	for _, f := range []struct {
		kind string
		x, y float64
	}{{"controller", 19, 10}, {"outlet", 19, 8}, {"sensor", 2, 19}, {"box", 40, 30}, {"valve", 34, 10}} {
		p.click(`[data-command="tool.fixture"]`)
		p.choose("#kit", "Fixture", f.kind)
		p.tap(f.x, f.y, altKey)
		p.settled()
	}
	p.until(`evenfall.state.plan.controller?.at && evenfall.state.plan.controller.outlet_at && evenfall.state.plan.zones.z1.valve_at`)
	sensor, box := p.only("sensors"), p.only("boxes")

	p.click(`[data-command="tool.sleeve"]`)
	p.choose("#kit", "Carries", "wire")
	p.choose("#kit", "Method", "water_bore")
	p.tap(23, 10, altKey)
	p.tap(29, 10, altKey) // its other end ends it
	sleeve := p.only("sleeves")
	p.settled()
	p.click(`[data-command="tool.wire"]`)
	for _, at := range [][2]float64{{19, 10}, {34, 10}} {
		p.tap(at[0], at[1], 0)
	}
	p.enter()
	run := p.only("wires")
	p.settled()
	if got := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.sleeves)[0])`); got != `{"from":{"x_ft":23,"y_ft":10},"to":{"x_ft":29,"y_ft":10},"carries":"wire","method":"water_bore","status":"new"}` {
		t.Errorf("the sleeve is %s", got)
	}
	p.axe("sleeves and wire")
	p.shot("wiring-light")
	p.media("dark")
	p.shot("wiring-dark")
	p.media("light")

	// The sleeve lies on the wire and is meant there; the wire where it comes out.
	p.press("v")
	p.tap(45, 5, 0) // away from the handles of the wire just laid
	p.tap(26, 10, 0)
	p.until(fmt.Sprintf(`evenfall.state.selection.join() === "sleeves/%s"`, sleeve))
	p.choose("#selected", "Size", "2")
	p.until(fmt.Sprintf(`evenfall.state.plan.sleeves[%q].nominal_in === 2`, sleeve))
	p.settled()
	p.drag(29, 10, 29, 13, altKey)
	p.until(fmt.Sprintf(`Math.abs(evenfall.state.plan.sleeves[%q].to.y_ft - 13) < 0.3`, sleeve))
	p.press("z", 2)
	p.until(fmt.Sprintf(`evenfall.state.plan.sleeves[%q].to.y_ft === 10`, sleeve))
	p.tap(31.5, 10, 0)
	p.until(fmt.Sprintf(`evenfall.state.selection.join() === "wires/%s"`, run))
	p.drag(26.5, 10, 26.5, 14, altKey) // the handle in its middle bends it
	p.until(fmt.Sprintf(`evenfall.state.plan.wires[%q].line.length === 3`, run))
	p.press("z", 2)
	p.until(fmt.Sprintf(`evenfall.state.plan.wires[%q].line.length === 2`, run))

	p.tap(2, 19, 0)
	p.until(fmt.Sprintf(`evenfall.state.selection.join() === "sensors/%s"`, sensor))
	p.fieldFill("#selected", "Above the ground", "9 ft")
	p.enter()
	p.until(fmt.Sprintf(`evenfall.state.plan.sensors[%q].height_ft === 9`, sensor))
	p.drag(2, 19, 4, 19, altKey)
	p.until(fmt.Sprintf(`Math.abs(evenfall.state.plan.sensors[%q].x_ft - 4) < 0.3`, sensor))

	p.tap(40, 30, 0)
	p.until(fmt.Sprintf(`evenfall.state.selection.join() === "boxes/%s"`, box))
	p.press("d", chromedp.ModifierCtrl)
	p.until(`Object.keys(evenfall.state.plan.boxes).length === 2`)
	p.press(kb.Delete)
	p.until(`Object.keys(evenfall.state.plan.boxes).length === 1`)

	// Locked, the controller stays; its lock is one of its fields.
	p.tap(19, 10, 0)
	p.until(`evenfall.state.selection.join() === "controller/at"`)
	p.press("l")
	p.until(`evenfall.state.plan.controller.locked === true`)
	p.settled()
	p.drag(19, 10, 10, 10, altKey)
	p.settled()
	if x := eval[float64](p, `evenfall.state.plan.controller.at.x_ft`); x != 19 {
		t.Errorf("a locked controller moved to %v", x)
	}
	p.press("l")
	p.until(`!evenfall.state.plan.controller.locked`)

	// What is dug for it is shown as a layer, and told in the table.
	p.layer("Show", "trenches")
	p.until(`document.querySelectorAll(".trenches .trench.wire").length > 0`)
	p.frame()
	p.shot("wiring-trenches")
	p.layer("Show", "wiring")
	p.until(`![...document.querySelectorAll(".wiring [data-ref]")].some((e) => e.getBoundingClientRect().width > 0)`)
	p.layer("Show", "wiring")
	p.layer("Show", "trenches")
	p.until(`document.querySelectorAll(".trenches .trench").length === 0 && !("digs" in evenfall.state.design)`)
}

// The same without a pointer: by tools and typed places, by the forms of the table
// of objects, and by its rows.
func TestWireAndSleevesAreDrawnAndEditedByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.wiringYard(prog)
	p.onScene()
	p.press("V", chromedp.ModifierShift)
	p.until(`evenfall.drawing.toolName === "sleeve"`)
	p.typed("23,10", "29,10")
	sleeve := p.only("sleeves")
	p.settled()
	p.onScene()
	p.press("C", chromedp.ModifierShift)
	p.until(`evenfall.drawing.toolName === "wire"`)
	p.typed("20,10", "14")
	p.enter()
	run := p.only("wires")
	p.settled()
	if got := eval[string](p, fmt.Sprintf(`JSON.stringify([evenfall.state.plan.sleeves[%q].from, evenfall.state.plan.wires[%q].line.length])`, sleeve, run)); got != `[{"x_ft":23,"y_ft":10},2]` {
		t.Errorf("drawn by keys: %s", got)
	}
	p.onScene()
	p.press("v")

	add := func(what string, fields map[string]string, choices map[string]string) {
		t.Helper()
		p.button("#objects", what)
		p.until(`document.querySelector("dialog[open]")`)
		for label, value := range choices {
			p.choose("dialog[open]", label, value)
		}
		for label, value := range fields {
			p.dialogFill(label, value)
		}
		p.pressText("dialog[open]", "Add it")
		p.until(`!document.querySelector("dialog[open]")`)
		p.settled()
	}
	p.click("#tab-objects")
	add("Sleeve", map[string]string{"From x, east": "23", "From y, north": "20", "To x, east": "29", "To y, north": "20"}, map[string]string{"Carries": "spare", "Size": "4"})
	add("Wire", map[string]string{"Corners": "5, 20\n5, 25"}, map[string]string{"Lies": "building"})
	add("Fixture", map[string]string{"X, east": "18", "Y, north": "9"}, map[string]string{"Fixture": "controller"})
	add("Fixture", map[string]string{"X, east": "40", "Y, north": "30"}, map[string]string{"Fixture": "box"})
	p.until(`Object.values(evenfall.state.plan.sleeves).some((s) => s.carries === "spare" && s.nominal_in === 4) && Object.values(evenfall.state.plan.wires).some((w) => w.lay === "building") && evenfall.state.plan.controller.at.x_ft === 18`)
	p.only("boxes")
	rows := eval[string](p, `[...document.querySelectorAll("#objects tbody tr")].map((r) => r.innerText).join("\n")`)
	for _, w := range []string{"Spare 4 in sleeve", "Wire run of 5' 0\"", "Splice box 1", "The controller"} {
		if !eval[bool](p, fmt.Sprintf(`%q.includes(%q)`, rows, w)) {
			t.Errorf("no row of Objects says %q:\n%s", w, rows)
		}
	}
	p.axe("objects with wire")

	// A thing is reached, moved by the arrows and deleted from the board.
	p.onScene()
	eval[bool](p, fmt.Sprintf(`(evenfall.board.select(["sleeves/%s"]), true)`, sleeve))
	p.onScene()
	p.press(kb.ArrowUp)
	p.until(fmt.Sprintf(`evenfall.state.plan.sleeves[%q].from.y_ft > 10 && evenfall.state.plan.sleeves[%q].to.y_ft > 10`, sleeve, sleeve))
	p.press(kb.Delete)
	p.until(fmt.Sprintf(`!evenfall.state.plan.sleeves[%q]`, sleeve))
	p.settled()
}

// How valves are wired is chosen in the Trenches tab by keys, one step each; what
// follows is said beside it. Where the controller goes, its wire run's end goes too.
func TestCableAndGaugesAreChosenByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openDemo(t, p, prog)
	p.click("#tab-trenches")
	p.until(`evenfall.state.design.digs`)
	eval[bool](p, `(document.querySelectorAll("#trenches .segment input")[3].click(), true)`)
	p.until(`document.querySelector("#trenches .wiring-form").checkVisibility()`)
	said := `document.querySelector("#trenches .wiring-form").parentElement.innerText`
	was := eval[string](p, said)
	for _, c := range []struct{ label, key, member, value string }{
		{"Cable", "m", "cable", "multi"},
		{"Wire to each valve", "1", "hot_awg", "18"},
		{"Common wire", "8", "common_awg", "8"},
	} {
		eval[bool](p, fmt.Sprintf(`([...document.querySelectorAll(".wiring-form label")].find((l) => l.textContent === %q).control.focus(), true)`, c.label))
		p.press(c.key)
		p.until(fmt.Sprintf(`String(evenfall.state.plan.wiring?.%s) === %q`, c.member, c.value))
		p.settled()
	}
	p.until(fmt.Sprintf(`%s.includes("Cable, as chosen.") && %s.includes("a common of 8 AWG")`, said, said))
	p.axe("how valves are wired")
	p.shot("wiring-form-1024")
	if over := p.wider(); over > 0 {
		t.Errorf("the page is %d px wider than the window", over)
	}
	p.onScene()
	for range 3 {
		p.press("z", chromedp.ModifierCtrl)
		p.settled()
	}
	p.until(fmt.Sprintf(`!evenfall.state.plan.wiring && %s === %q`, said, was))

	p.onScene()
	eval[bool](p, `(evenfall.board.select(["controller/at"]), true)`)
	p.onScene()
	p.press(kb.ArrowUp)
	p.settled()
	p.until(`((c, [x, y]) => c.y_ft !== 39 && x === c.x_ft && Math.abs(y - c.y_ft) < 1e-6)(evenfall.state.plan.controller.at, evenfall.state.plan.wires.w1.line[0])`)
	p.press("z", chromedp.ModifierCtrl)
	p.until(`evenfall.state.plan.controller.at.y_ft === 39 && evenfall.state.plan.wires.w1.line[0][1] === 39`)
}
