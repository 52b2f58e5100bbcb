//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// metricYard is a lawn 18 m by 12 m with a bed, and one head inside it: lengths
// in the document are feet.
func metricYard(t *testing.T, p *tab, prog *program) {
	t.Helper()
	const m = 1 / 0.3048
	p.visit(prog.url)
	doc := map[string]any{
		"format": "evenfall-plan/1", "name": "Eighteen metres", "show": "metric",
		"areas": map[string]any{
			"lawn": map[string]any{"name": "Lawn", "kind": "planting", "slope": 0.1, "slope_toward_deg": 30, "outline": [][]float64{{0, 0}, {18 * m, 0}, {18 * m, 12 * m}, {0, 12 * m}}},
			"bed":  map[string]any{"name": "Bed", "kind": "paving", "outline": [][]float64{{3 * m, 14 * m, 0.3}, {9 * m, 14 * m}, {9 * m, 17 * m}, {3 * m, 17 * m}}},
		},
		"heads": map[string]any{"one": map[string]any{"tag": "P-17", "nozzle": "n", "body": "b", "x_ft": 5 * m, "y_ft": 5 * m, "start_deg": 20, "sweep_deg": 200}},
	}
	_, nozzle := fromCatalogue(t, p, "nozzles", "stream-16")
	_, held := fromCatalogue(t, p, "bodies", "body-4")
	doc["nozzles"], doc["bodies"] = map[string]any{"n": nozzle}, map[string]any{"b": held}
	body, err := json.Marshal(map[string]any{"name": doc["name"], "show": "metric", "doc": doc})
	if err != nil {
		t.Fatal(err)
	}
	id := eval[string](p, fmt.Sprintf(`fetch("/api/plans", {method: "POST", headers: {"Content-Type": "application/json"}, body: %q}).then((r) => r.json()).then((a) => a.id)`, body))
	p.visit(prog.url + "/plans/" + id)
	p.onBoard()
	p.show(-10, -10, 75, 65)
}

// control is the field, tick or button above the board with that label.
func control(label string) string {
	return fmt.Sprintf(`[...document.querySelectorAll("#kit :is(input, button)")].find((e) => e.offsetParent && (e.labels?.[0] ?? e).textContent.trim() === %q)`, label)
}

// kitPress presses a tick or button above the board; kitType types into a field.
func (p *tab) kitPress(label string) {
	p.t.Helper()
	p.until(control(label))
	eval[bool](p, control(label)+`.click() ?? true`)
}

func (p *tab) kitType(label, text string) {
	p.t.Helper()
	p.until(control(label))
	eval[bool](p, control(label)+`.focus() ?? true`)
	p.write(text)
}

// stored is the plan as the program keeps it.
func (p *tab) stored() map[string]any {
	p.t.Helper()
	p.settled()
	var got struct{ Doc map[string]any }
	text := p.fetch("/api/plans/" + eval[string](p, `evenfall.board.id`))
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		p.t.Fatal(err)
	}
	if got.Doc == nil {
		p.t.Fatalf("no document in %.200s", text)
	}
	return got.Doc
}

// formFill types into a field of the copies' form, found by its label.
func (p *tab) formFill(label, value string) {
	p.t.Helper()
	at := fmt.Sprintf(`[...document.querySelectorAll(".copies .field")].find((f) => !f.hidden && f.querySelector("label").textContent.trim() === %q)`, label)
	p.until(at)
	eval[bool](p, fmt.Sprintf(`(() => { const e = (%s).querySelector("input"); e.focus(); e.select(); return true; })()`, at))
	p.insert(value)
}

func (p *tab) copiesSay() string {
	return eval[string](p, `document.querySelector(".copies-says").textContent`)
}

// Seven heads along 18 m stand 3.000 m apart, shown with their water before they
// are made; one undo takes the seven out again.
func TestRowA10_SevenAlong18MetresAndOneUndo(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	metricYard(t, p, prog)
	p.tap(5/0.3048, 5/0.3048, 0)
	p.until(selection + ` === "heads/one"`)
	p.click(`#kit [data-command="edit.copies"]`)
	p.until(`!document.querySelector(".copies").hidden`)
	p.tap(9/0.3048, 0, altKey) // the lawn's southern edge
	p.until(`evenfall.drawing.kit.copies.edge.line.name === "edge 1 of Lawn"`)
	p.formFill("How many", "7")
	p.until(`document.querySelector(".copies-says").textContent.includes("from both ends")`) // set in, unless told
	p.formFill("From the ends", "0")
	p.until(`Object.keys(evenfall.state.plan.heads).length === 8`)
	if n := eval[int](p, `Object.keys(evenfall.board.committed.heads).length`); n != 1 {
		t.Fatalf("while only shown, the plan has %d heads", n)
	}
	if got, want := p.copiesSay(), "7 copies, 3.00 m apart"; len(got) < len(want) || got[:len(want)] != want {
		t.Errorf("the form says %q, want %q", got, want)
	}
	p.until(`Object.keys(evenfall.state.design.heads).length === 8`) // the water follows
	p.shot("copies-along")
	p.axe("copies")
	p.media("dark")
	p.axe("copies, dark")
	p.shot("copies-along-dark")
	p.media("light")
	p.enter()
	p.until(`evenfall.drawing.toolName === "select"`)
	heads := p.stored()["heads"].(map[string]any)
	if len(heads) != 8 {
		t.Fatalf("%d heads are stored, want 8", len(heads))
	}
	xs := eval[[]float64](p, `Object.values(evenfall.state.plan.heads).filter((h) => !h.tag).map((h) => h.x_ft * 0.3048).sort((a, b) => a - b)`)
	worst := 0.0
	for i, x := range xs {
		worst = max(worst, math.Abs(x-3*float64(i)))
		if math.Abs(x-3*float64(i)) > 1e-9 {
			t.Errorf("copy %d stands at %.12f m, want %d", i, x, 3*i)
		}
	}
	t.Logf("shown: %d copies 3.000 m apart, at most %.1e m off", len(xs), worst)
	if n := eval[int](p, `[...evenfall.state.selection].length`); n != 7 {
		t.Errorf("%d are selected after copying, want the 7 copies", n)
	}
	p.press("z", chromedp.ModifierCtrl)
	p.until(`Object.keys(evenfall.state.plan.heads).length === 1`)
	if n := len(p.stored()["heads"].(map[string]any)); n != 1 {
		t.Errorf("after one undo %d heads are stored, want 1", n)
	}
}

// The same by keys alone: the head, the form, its fields, Enter; then a grid.
func TestRowA10_CopiesByKeyboardOnly(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	metricYard(t, p, prog)
	p.tabTo(`a.skip[href="#scene"]`, 150)
	p.enter()
	p.until(`document.activeElement.id === "scene"`)
	for range 12 {
		p.press(kb.PageDown)
		if eval[bool](p, selection+` === "heads/one"`) {
			break
		}
	}
	p.until(selection + ` === "heads/one"`)
	p.press("D", chromedp.ModifierShift)
	p.until(`document.querySelector(".copies").contains(document.activeElement)`)
	p.press(kb.ArrowDown) // in a grid
	p.until(`evenfall.drawing.kit.copies.way === "grid"`)
	for _, f := range []struct{ label, value string }{{"Rows", "2"}, {"In a row", "3"}, {"Spacing", "2 m"}} {
		p.tabUntil(fmt.Sprintf(`document.activeElement.labels?.[0]?.textContent.trim() === %q`, f.label), 12)
		p.press("a", chromedp.ModifierCtrl)
		p.write(f.value)
	}
	p.until(`Object.keys(evenfall.state.plan.heads).length === 6`)
	p.shot("copies-grid")
	p.enter()
	p.until(`evenfall.drawing.toolName === "select" && Object.keys(evenfall.board.committed.heads).length === 6`)
	p.settled()
	// Escape leaves the form and nothing behind.
	p.press("D", chromedp.ModifierShift)
	p.until(`document.querySelector(".copies").contains(document.activeElement)`)
	p.escape()
	p.until(`document.querySelector(".copies").hidden && document.querySelector("#scene").contains(document.activeElement)`)
	if n := eval[int](p, `Object.keys(evenfall.state.plan.heads).length`); n != 6 {
		t.Errorf("leaving the form leaves %d heads, want 6", n)
	}
}

// Mirrored twice in a typed line, the stored document is as it was; mirrored by
// two clicks, a copy lies on the other side.
func TestRowA10_MirrorTwiceIsIdentityInTheStoredPlan(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	metricYard(t, p, prog)
	before := p.stored()
	p.tap(5/0.3048, 5/0.3048, 0)
	for range 2 {
		p.press("a", chromedp.ModifierCtrl)
		p.press("M", chromedp.ModifierShift)
		p.until(`evenfall.drawing.toolName === "mirror"`)
		if eval[bool](p, `evenfall.drawing.kit.keep`) {
			p.kitPress("Keep originals")
			p.until(`!evenfall.drawing.kit.keep`)
		}
		p.press("2") // opens the box; a place comes first
		p.escape()
		p.kitType("Line", "33.3°")
		p.until(`evenfall.board.drafting`)
		p.shot("mirror-typed")
		p.axe("mirror")
		p.enter()
		p.until(`evenfall.drawing.toolName === "select"`)
		p.settled()
	}
	compare(t, "", p.stored(), before)
	if n := eval[int](p, `fetch("/api/plans/" + evenfall.board.id + "/history").then(r => r.json()).then(h => h.steps.length)`); n < 2 {
		t.Errorf("%d steps for two mirrorings", n)
	}

	p.tap(5/0.3048, 5/0.3048, 0)
	p.until(selection + ` === "heads/one"`)
	p.press("M", chromedp.ModifierShift)
	p.kitPress("Keep originals")
	p.until(`evenfall.drawing.kit.keep`)
	p.tap(18/0.3048, 0, 0) // snaps to the corner
	p.tap(18/0.3048, 12/0.3048, 0)
	p.until(`Object.keys(evenfall.board.committed.heads).length === 2`)
	x := eval[float64](p, `Object.values(evenfall.state.plan.heads).find((h) => !h.tag).x_ft`)
	if math.Abs(x-31/0.3048) > 1e-9 {
		t.Errorf("the copy stands at x %v, want %v", x, 31/0.3048)
	}
}

// compare holds figures to 1e-9, directions round the circle, and all else equal.
func compare(t *testing.T, at string, got, want any) {
	t.Helper()
	switch w := want.(type) {
	case float64:
		g, _ := got.(float64)
		off := math.Abs(g - w)
		if off > 180 {
			off = math.Abs(off - 360)
		}
		if off > 1e-9 {
			t.Errorf("%s: %v, want %v", at, g, w)
		}
	case map[string]any:
		g, _ := got.(map[string]any)
		if len(g) != len(w) {
			t.Errorf("%s has %d members, want %d", at, len(g), len(w))
		}
		for k, v := range w {
			compare(t, at+"/"+k, g[k], v)
		}
	case []any:
		g, _ := got.([]any)
		if len(g) != len(w) {
			t.Errorf("%s has %d, want %d", at, len(g), len(w))
			return
		}
		for i := range w {
			compare(t, fmt.Sprintf("%s/%d", at, i), g[i], w[i])
		}
	default:
		if got != want {
			t.Errorf("%s: %v, want %v", at, got, want)
		}
	}
}

// Turned by a typed angle about the middle and back, the shape is the same; a
// drag turns it too; and an edge is laid along another.
func TestRowA10_TurnByTypedAngleByDragAndAlongAnEdge(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	metricYard(t, p, prog)
	const m = 1 / 0.3048
	before := p.stored()
	eval[bool](p, `evenfall.drawing.setKit({ keep: false }) ?? true`)
	p.tap(6*m, 15.5*m, 0)
	p.until(selection + ` === "areas/bed"`)
	for _, deg := range []string{"37.5", "-37.5"} {
		p.press("R", chromedp.ModifierShift)
		p.until(`evenfall.drawing.toolName === "turn"`)
		p.kitType("Angle", deg)
		p.until(`evenfall.board.drafting`)
		p.enter()
		p.until(`evenfall.drawing.toolName === "select" && !evenfall.board.drafting`)
		p.settled()
	}
	compare(t, "", p.stored(), before)

	p.press("R", chromedp.ModifierShift)
	p.until(`evenfall.drawing.toolName === "turn"`)
	p.drag(12*m, 15.5*m, 12*m, 21.5*m, altKey)
	p.until(`evenfall.drawing.toolName === "select" && evenfall.board.undoLabel.startsWith("Turn Bed by")`)
	p.press("z", chromedp.ModifierCtrl)
	p.until(`evenfall.board.committed.areas.bed.outline[1][1] < 46`)
	p.settled()

	p.press("R", chromedp.ModifierShift)
	p.until(`evenfall.drawing.toolName === "turn"`)
	p.kitPress("Lay along an edge")
	p.shot("turn-along")
	p.axe("turn")
	p.tap(6*m, 17*m, altKey) // the bed's level edge
	p.tap(0, 8*m, altKey)    // the lawn's upright one
	p.until(`evenfall.drawing.toolName === "select" && /^Turn Bed by -?90°$/.test(evenfall.board.undoLabel)`)
}

// More copies than are sensible are refused with a sentence, and paste twice at
// one place puts both there.
func TestRowA10_TooManyCopiesAndPasteTwice(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	metricYard(t, p, prog)
	const m = 1 / 0.3048
	p.tap(5*m, 5*m, 0)
	p.press("D", chromedp.ModifierShift)
	p.until(`!document.querySelector(".copies").hidden`)
	p.formFill("How many", "2500")
	p.until(`document.querySelector(".copies-says").textContent.includes("2,000 at once is the most")`)
	p.enter()
	if n := eval[int](p, `Object.keys(evenfall.state.plan.heads).length`); n != 1 {
		t.Errorf("%d heads after a refusal", n)
	}
	p.escape()
	p.until(`document.querySelector(".copies").hidden`)

	p.press("c", chromedp.ModifierCtrl)
	for i := range 2 {
		p.toward(10*m+6*m*float64(i), 7*m)
		p.press("v", chromedp.ModifierCtrl)
		p.until(fmt.Sprintf(`Object.keys(evenfall.board.committed.heads).length === %d`, i+2))
	}
	p.settled()
	got := eval[[]float64](p, `Object.values(evenfall.state.plan.heads).filter((h) => !h.tag).map((h) => h.x_ft).sort((a, b) => a - b)`)
	if d := got[1] - got[0]; math.Abs(d-6*m) > 0.6 {
		t.Errorf("two pastes 6 m apart at the pointer lie %v ft apart, want about %v", d, 6*m)
	}
}
