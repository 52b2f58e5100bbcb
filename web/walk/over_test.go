//go:build browser

package walk

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// boardPlace says where the board lies, how large it is, and what it shows.
const boardPlace = `(() => { const r = document.getElementById("board").getBoundingClientRect(), v = evenfall.drawing.view; return [r.left, r.top, r.width, r.height, v.scale, v.left, v.top].join(" "); })()`

// overlapping lists which of what stands at the top of the board lies over another.
const overlapping = `(() => {
	const seen = ["#notice", ".kit-hint", ".draft-bar"].map((s) => [s, document.querySelector(s)]).filter(([, e]) => e && e.offsetHeight > 0).map(([s, e]) => [s, e.getBoundingClientRect()]);
	return seen.flatMap(([s, a], i) => seen.slice(i + 1).filter(([, b]) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom).map(([t]) => s + " " + t));
})()`

// A notice, the hint and the bar of a draft lie over the board: its size and its
// view stay to the pixel, none covers another, and clicks beside them draw.
func TestRowA13_NoticesNeverMoveTheBoard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, width := range []int64{1280, 1024, 768} {
		p := open(t, width, 800)
		openDemo(t, p, prog)
		p.until(`evenfall.state.design`)
		p.frame()
		before := eval[string](p, boardPlace)
		same := func(when string) {
			t.Helper()
			p.frame()
			if now := eval[string](p, boardPlace); now != before {
				t.Errorf("%d wide, %s: the board was %s, is %s", width, when, before, now)
			}
			if over := eval[[]string](p, overlapping); len(over) > 0 {
				t.Errorf("%d wide, %s: %v lie over each other", width, when, over)
			}
		}
		p.pen(input.DispatchMouseEventTypeMouseMoved, 30, 10)
		p.until(`document.querySelector("#notice").textContent.includes("fingers only move the view")`)
		same("with the first touch of a pen")
		p.shot(fmt.Sprintf("over-pen-%d", width))
		p.axeOf("#notice")
		eval[bool](p, `evenfall.drawing.commands.run("tool.outline", () => {}) ?? true`)
		p.frame()
		before = eval[string](p, boardPlace) // where the page scrolls, each tool has a row of its own
		for _, at := range [][2]float64{{10, 4}, {30, 4}} {
			p.tap(at[0], at[1], altKey)
		}
		p.until(`!document.querySelector(".draft-bar").hidden`)
		same("with a notice and a draft")
		p.shot(fmt.Sprintf("over-draft-%d", width))
		p.media("dark")
		p.shot(fmt.Sprintf("over-draft-%d-dark", width))
		p.media("light")
		p.click(`#notice button`)
		p.until(`document.querySelector("#notice").hidden`)
		same("with the notice dismissed")

		// Put aside with two corners, it is said; taken up again, no more.
		eval[bool](p, `evenfall.drawing.commands.run("tool.head", () => {}) ?? true`)
		p.until(`document.querySelector("#notice").textContent.includes("is put aside")`)
		eval[bool](p, `evenfall.drawing.commands.run("tool.outline", () => {}) ?? true`)
		p.until(`document.querySelector("#notice").hidden`)
		same("with the draft taken up again")
	}
	t.Log("shown: board moved 0 px by notice, hint and bar, at 1280, 1024 and 768 px")
}

// Sides and turns have room to be read while they are typed, on one line of hint;
// a base line alone is no draft to put aside.
func TestTapeSidesAndTurnsHaveTheirRoom(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Room")
	p.show(-10, -10, 70, 50)
	p.byTape("building", "sides")
	p.tap(10, 30, altKey)
	p.onScene()
	p.write(`40' E, R 28', R 40' 6", R 28'`)
	p.frame()
	if n := eval[int](p, `document.activeElement.scrollWidth - document.activeElement.clientWidth`); n > 0 {
		t.Errorf("the run is %d px wider than its field", n)
	}
	p.until(`document.querySelector(".kit-hint").textContent.startsWith("Type the first side")`)
	if h := eval[float64](p, `document.querySelector(".kit-hint").offsetHeight`); h > 30 {
		t.Errorf("the hint is %v px high, more than a line", h)
	}
	p.shot("tape-run-typed")
	p.axe("sides and turns")
	p.enter()
	p.until(`document.querySelector(".draft-news").textContent.includes("misses its start by")`)
	p.frame()
	got := eval[[]string](p, `[...document.querySelectorAll(".draft-bar button")].filter((b) => b.offsetParent).map((b) => b.textContent + (b.classList.contains("main") ? "*" : ""))`)
	if want := "[Share it out* Close it as measured Take back a place Drop it]"; fmt.Sprint(got) != want {
		t.Errorf("the bar offers %v, want %s", got, want)
	}
	p.shot("tape-run-back")
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 1`)
	if at := p.outlineOf("building"); at[1][0] < 49 || at[2][1] > 3 {
		t.Errorf("40 ft east and 28 ft right come to %v", at)
	}

	p.choose("#kit", "Way", "along")
	p.tap(20, 2, altKey) // the house's south wall, drawn in feet as 10..50 by 2..30
	p.until(`evenfall.drawing.tool.busy`)
	eval[bool](p, `evenfall.drawing.commands.run("tool.select", () => {}) ?? true`)
	p.frame()
	if !eval[bool](p, `document.querySelector("#notice").hidden`) {
		t.Errorf("a base line alone is put aside: %s", eval[string](p, `document.querySelector("#notice").textContent`))
	}
}

// What is copied in one plan is pasted in another, opened in the same tab.
func TestRowA10_CopiedHerePastedInAnotherPlan(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	metricYard(t, p, prog)
	p.tap(5/0.3048, 5/0.3048, 0)
	p.until(selection + ` === "heads/one"`)
	p.press("c", chromedp.ModifierCtrl)
	p.newPlan(prog, "The other")
	p.show(-10, -10, 75, 65)
	p.toward(20, 20)
	p.onScene()
	p.press("v", chromedp.ModifierCtrl)
	p.until(`Object.keys(evenfall.board.committed.heads ?? {}).length === 1`)
	doc := p.stored()
	for _, c := range []string{"heads", "nozzles", "bodies"} {
		if n := len(doc[c].(map[string]any)); n != 1 {
			t.Errorf("the other plan has %d %s, want 1", n, c)
		}
	}
	p.press("v", chromedp.ModifierCtrl)
	p.until(`Object.keys(evenfall.board.committed.heads ?? {}).length === 2`)
	p.settled()
}

// The form of copies keeps its foot off its fields, and the ring of the focus
// whole; a grid can be turned about by its buttons.
func TestRowA10_CopiesFormFootAndFlips(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, width := range []int64{1280, 1024, 768} {
		p := open(t, width, 800)
		metricYard(t, p, prog)
		p.tap(5/0.3048, 5/0.3048, 0)
		p.press("D", chromedp.ModifierShift)
		p.until(`!document.querySelector(".copies").hidden`)
		p.choose(".copies", "Lay them", "grid")
		p.until(`evenfall.drawing.kit.copies.way === "grid"`)
		p.until(`document.querySelector(".copies-says").textContent.includes("would fall outside")`)
		covered := eval[bool](p, `(() => {
			const f = document.querySelector(".copies-foot").getBoundingClientRect(), s = document.querySelector(".copies .pairs").getBoundingClientRect();
			return s.bottom > f.top + 0.5;
		})()`)
		if covered {
			t.Errorf("%d wide: the foot lies over the fields", width)
		}
		if !eval[bool](p, `document.querySelector(".copies .tick input").checked`) {
			t.Errorf("%d wide: in planting a grid does not keep inside by itself", width)
		}
		p.shot(fmt.Sprintf("copies-grid-%d", width))
		p.axe("copies in a grid")
		far := `Math.max(...Object.values(evenfall.state.plan.heads).map((h) => h.x_ft))`
		was := eval[float64](p, far)
		p.button(".copies", "Flip along the row")
		p.until(fmt.Sprintf(`%s !== %v && document.querySelector(".copies-says").textContent.startsWith("5 copies")`, far, was))
		p.formFill("Between rows", "-3.2")
		p.until(`evenfall.drawing.kit.copies.grid.upFt < 0 && document.querySelector(".copies-says").textContent.includes("rows 3.20 m")`)
		p.frame()
		if n := eval[int](p, `[...document.querySelectorAll("#scene .heads > .head:not(.lifted)")].length`); n != 6 {
			t.Errorf("%d wide: %d heads are drawn, want 6", width, n)
		}
		p.media("dark")
		p.shot(fmt.Sprintf("copies-grid-%d-dark", width))
	}
}
