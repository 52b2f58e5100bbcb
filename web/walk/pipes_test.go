//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// openUnpiped opens the demo's layout with no pipe drawn yet.
func (p *tab) openUnpiped(t *testing.T, prog *program) {
	t.Helper()
	openDemo(t, p, prog)
	var doc map[string]any
	if err := json.Unmarshal([]byte(eval[string](p, `JSON.stringify(evenfall.state.plan)`)), &doc); err != nil {
		t.Fatal(err)
	}
	for _, member := range []string{"nodes", "pipes", "sleeves", "accepted"} {
		delete(doc, member)
	}
	p.visit(prog.url + "/plans/" + p.create(doc))
	p.onBoard()
}

// pipes counts the pipes of the plan, and those of each zone; "" is the main.
func (p *tab) pipes() map[string]int {
	p.t.Helper()
	var out map[string]int
	got := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.pipes ?? {}).reduce((n, q) => ({ ...n, [q.zone ?? ""]: (n[q.zone ?? ""] ?? 0) + 1 }), {}))`)
	if err := json.Unmarshal([]byte(got), &out); err != nil {
		p.t.Fatal(err)
	}
	return out
}

// A main from the connection to two valves and a lateral through the heads of a
// zone are drawn with the pointer, branched, bent, sized, moved with a head, cut
// back, undone, hidden and locked, as everything else is.
func TestRowA1_PipesAreDrawnAndEditedLikeAllElse(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.openUnpiped(t, prog)
	p.onScene()
	p.press("P", 8)
	p.until(`evenfall.drawing.toolName === "pipe"`)
	for _, at := range [][2]float64{{90, 1}, {90.5, 35}, {90, 47.6}, {52, 47.6}, {56, 60}} {
		p.tap(at[0], at[1], altKey*b2i(at == [2]float64{90, 47.6} || at == [2]float64{52, 47.6}))
	}
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.pipes ?? {}).length === 2`)
	p.tap(56, 60, 0)
	for _, at := range [][2]float64{{53.6, 49.4}, {28.5, 49.4}, {3.4, 49.4}} {
		p.tap(at[0], at[1], 0)
	}
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.pipes).length === 5`)
	p.tap(56, 60, 0)
	p.tap(40, 70, altKey)
	p.tap(28.5, 78.5, 0)
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.pipes).length === 6`)
	if got := p.pipes(); got[""] != 2 || got["z3"] != 4 {
		t.Fatalf("the pipes carry %v", got)
	}

	// A branch parts the pipe it begins on.
	p.tap(16, 49.4, 0)
	p.tap(16, 60, altKey)
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.pipes).length === 8 && Object.values(evenfall.state.plan.nodes).filter((n) => n.kind === "joint").length === 2`)
	p.settled()
	if stuck := eval[string](p, `evenfall.board.notice?.sentence ?? ""`); stuck != "" {
		t.Errorf("the page complains: %s", stuck)
	}

	// Sizes, chosen for all pipes of the kind at once.
	p.press("v")
	p.tap(10, 49.4, 0)
	p.until(`[...evenfall.state.selection].join().startsWith("pipes/")`)
	eval[bool](p, `(evenfall.drawing.commands.run("edit.samekind", (why) => evenfall.board.announce(why)), true)`)
	p.until(`evenfall.state.selection.length === 6`)
	p.choose("#selected", "Class", "pvc-class200")
	p.until(`Object.values(evenfall.state.plan.pipes).filter((q) => q.class === "pvc-class200").length === 6 && evenfall.state.plan.pipe_classes["pvc-class200"].name`)
	p.choose("#selected", "Size", "1")
	p.until(`Object.values(evenfall.state.plan.pipes).filter((q) => q.nominal_in === 1).length === 6`)
	p.settled()
	p.escape()
	p.shot("pipes-light")
	p.media("dark")
	p.shot("pipes-dark")
	p.media("light")

	// A head takes its pipes along; undo brings both back.
	p.drag(28.5, 49.4, 30, 56, altKey)
	p.until(`(() => { const n = Object.values(evenfall.state.plan.nodes).find((n) => n.head === "h3-2"); const h = evenfall.state.plan.heads["h3-2"]; return n.x_ft === h.x_ft && n.y_ft === h.y_ft && h.y_ft > 55; })()`)
	p.press("z", 2)
	p.until(`evenfall.state.plan.heads["h3-2"].y_ft === 49.4 && Object.values(evenfall.state.plan.nodes).find((n) => n.head === "h3-2").y_ft === 49.4`)

	// A joint is dragged with all its pipes; the handle in the middle of a pipe bends it.
	p.drag(16, 49.4, 16, 52, altKey)
	p.until(`Object.values(evenfall.state.plan.nodes).some((n) => n.kind === "joint" && n.y_ft > 51 && n.y_ft < 53)`)
	p.tap(22, 50.7, 0)
	p.until(`[...evenfall.state.selection].join().startsWith("pipes/")`)
	p.drag(22.25, 50.7, 22, 54, altKey)
	p.until(`Object.values(evenfall.state.plan.pipes).some((q) => q.via?.length === 1 && q.via[0][1] > 53 && q.via[0][1] < 55)`)
	p.shot("pipes-selected")

	// Deleting the branch leaves the pipe whole; deleting the head at the end takes its pipe.
	p.settled()
	p.tap(16, 57, 0)
	p.until(`evenfall.state.selection.length === 1 && evenfall.state.selection[0].startsWith("pipes/")`)
	p.press(kb.Delete)
	p.until(`Object.keys(evenfall.state.plan.pipes).length === 6`)
	p.tap(3.4, 49.4, 0)
	p.press(kb.Delete)
	p.until(`!evenfall.state.plan.heads["h3-1"] && Object.keys(evenfall.state.plan.pipes).length === 5`)
	p.settled()

	// The layer has an eye and a lock.
	p.layer("Show", "pipes")
	p.until(`![...document.querySelectorAll(".pipes [data-ref]")].some((e) => e.getBoundingClientRect().width > 0)`)
	p.layer("Show", "pipes")
	p.until(`[...document.querySelectorAll(".pipes [data-ref]")].every((e) => e.getBoundingClientRect().width > 0)`)
	p.layer("Lock", "pipes")
	p.onScene()
	p.tap(40, 49.4, 0)
	p.press(kb.Delete)
	p.until(`document.body.textContent.includes("on the layer Pipes, which is locked")`)
	if got := p.count("pipes"); got != 5 {
		t.Errorf("with the layer locked %d pipes are left of 5", got)
	}
	p.layer("Lock", "pipes")
	p.axe("a board with pipes")
}

// The same is done without a pointer: drawn by typed places and lengths, listed
// and changed in the table, joined by name.
func TestRowA20_PipesAreDrawnAndEditedByKeyboardAlone(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.openUnpiped(t, prog)
	p.onScene()
	p.press("P", 8)
	p.until(`evenfall.drawing.toolName === "pipe"`)
	p.typed("90, 1", "90.5, 35", "90, 33")
	p.press(kb.Enter, 2)
	p.until(`Object.keys(evenfall.state.plan.pipes ?? {}).length === 2`)
	p.typed("90, 33", "115.6, 29.6", "115.6, 15")
	p.press(kb.Enter, 2)
	p.until(`Object.keys(evenfall.state.plan.pipes ?? {}).length === 4`)
	if got := p.pipes(); got[""] != 2 || got["z5"] != 2 {
		t.Fatalf("the pipes carry %v", got)
	}
	p.settled()
	p.click("#tab-objects")
	p.until(`[...document.querySelectorAll("#objects tbody tr")].filter((r) => r.children[0].textContent === "Pipe").length === 4`)
	row := eval[string](p, `[...document.querySelectorAll("#objects tbody tr")].find((r) => r.children[1].textContent.includes("to head 5-2")).textContent`)
	for _, want := range []string{"Pipe of zone 5 to head 5-2", "14' 7"} {
		if !strings.Contains(row, want) {
			t.Errorf("the row of a pipe is %q, without %q", row, want)
		}
	}
	p.pressText("#objects", "Pipe")
	p.until(`document.querySelector("dialog select")`)
	p.choose("dialog", "From", "heads/h5-2")
	p.pressText("dialog", "Add it")
	p.until(`document.querySelector("dialog[open]")?.textContent.includes("A pipe needs two places")`)
	p.choose("dialog", "To", "heads/h5-1")
	p.axe("the form of a pipe")
	p.shot("pipes-form")
	p.pressText("dialog", "Add it")
	p.until(`Object.keys(evenfall.state.plan.pipes ?? {}).length === 5`)
	if got := p.pipes(); got["z5"] != 3 {
		t.Fatalf("added by name, the pipes carry %v", got)
	}
	p.settled()
	p.shot("pipes-table")
}

func b2i(b bool) int64 {
	if b {
		return 1
	}
	return 0
}

// The ground between the spot heights is drawn as lines with their levels; they
// are hidden by the command, and follow a height that is changed.
func TestRowA15_ContourLinesFollowTheHeights(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.until(`document.querySelectorAll(".contours .contour").length >= 5`)
	levels := `[...document.querySelectorAll(".contour-text")].map((e) => e.textContent).filter(Boolean).join(" ")`
	if got := eval[string](p, levels); !strings.Contains(got, `1' 0"`) || !strings.Contains(got, `2' 0"`) {
		t.Errorf("the demo's ground has the levels %s", got)
	}
	eval[bool](p, `(evenfall.drawing.looking.fitThings(["heads/h3-2", "heads/h3-6", "valves/z4"]), true)`)
	p.frame()
	p.shot("contours-light")
	p.media("dark")
	p.shot("contours-dark")
	p.media("light")
	seen := `[...document.querySelectorAll(".contour")].some((e) => e.getBoundingClientRect().width > 0)`
	run := `(evenfall.drawing.commands.run("view.contours", (why) => evenfall.board.announce(why)), true)`
	eval[bool](p, run)
	p.until("!" + seen)
	eval[bool](p, run)
	p.until(seen)
	eval[bool](p, `(evenfall.board.commit("Set a level", { ...evenfall.board.plan, elevations: { ...evenfall.board.plan.elevations, e6: { ...evenfall.board.plan.elevations.e6, z_ft: 6 } } }), true)`)
	p.until(fmt.Sprintf(`(%s).includes("5' 0")`, levels))
	p.settled()
}
