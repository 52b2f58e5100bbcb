//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The yard that is entered by tape: a house, and round it a rectangle with a
// notch out of its north-west corner.
var (
	tapedHouse = [][2]float64{{12, 8}, {36, 8}, {36, 24}, {12, 24}}
	tapedYard  = [][2]float64{{0, 0}, {60, 0}, {60, 40}, {36, 40}, {36, 30}, {0, 30}}
)

// eighth is an eighth of an inch, in feet.
const eighth = 1.0 / 96

// pulled is the tape from a known place to a true one as it is read, to the
// sixteenth of an inch.
func pulled(from, to [2]float64) string {
	sixteenths := int(math.Round(math.Hypot(to[0]-from[0], to[1]-from[1]) * 192))
	return fmt.Sprintf(`%d' %d %d/16"`, sixteenths/192, sixteenths%192/16, sixteenths%16)
}

func tapesTo(to [2]float64, known ...[2]float64) string {
	var all []string
	for _, k := range known {
		all = append(all, pulled(k, to))
	}
	return strings.Join(all, ", ")
}

// byTape takes By tape up and chooses what is made, and how.
func (p *tab) byTape(makes, way string) {
	p.t.Helper()
	p.click(`[data-command="tool.tape"]`)
	p.choose("#kit", "Way", way)
	p.choose("#kit", "Makes", makes)
	p.show(-6, -6, 66, 46) // the board may have a new size
}

// onScene gives the board the focus.
func (p *tab) onScene() {
	p.t.Helper()
	eval[bool](p, `(evenfall.drawing.focus(), true)`)
}

// outlineOf reads the outline of the area of a kind.
func (p *tab) outlineOf(kind string) [][2]float64 {
	p.t.Helper()
	raw := eval[string](p, fmt.Sprintf(`JSON.stringify(Object.values(evenfall.state.plan.areas ?? {}).find((a) => a.kind === %q)?.outline ?? [])`, kind))
	var out [][2]float64
	if err := json.Unmarshal([]byte(raw), &out); err != nil {
		p.t.Fatal(err)
	}
	return out
}

// sameCorners compares corners one by one, within an eighth of an inch.
func sameCorners(t *testing.T, what string, got, want [][2]float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s has corners %v, want %v", what, got, want)
	}
	worst := 0.0
	for i := range want {
		off := math.Hypot(got[i][0]-want[i][0], got[i][1]-want[i][1])
		worst = max(worst, off)
		if off > eighth {
			t.Errorf("%s: corner %d at %v is %.3f in from %v", what, i+1, got[i], off*12, want[i])
		}
	}
	t.Logf("%s: the worst corner is %.4f in off", what, worst*12)
}

// houseByRun enters the house by its sides and turns, closing on its start.
func (p *tab) houseByRun() {
	p.t.Helper()
	p.byTape("building", "sides")
	p.onScene()
	p.write("'") // opens the box, as a digit would
	p.until(`document.activeElement.matches("#entry input")`)
	p.typed("12, 8")
	p.typed(`24', L 16', L 24', left, 16', close`)
	p.until(`document.querySelector(".draft-news").textContent.includes("closes")`)
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 1`)
	p.settled()
}

// A house by sides and turns, then the yard round it: three corners by tapes
// from the corners of the house, one of them checked by a third tape, the notch
// along and off its north wall. Each corner comes within an eighth of an inch of
// the truth, the whole outline is one step, and the tapes stay as ties.
func TestTapeAYardIsEnteredWithoutAnAngle(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "By tape")
	p.show(-6, -6, 66, 46)
	p.houseByRun()
	sameCorners(t, "the house", p.outlineOf("building"), tapedHouse)

	p.choose("#kit", "Makes", "planting")
	p.choose("#kit", "Way", "tapes")
	h := tapedHouse
	known := func(of ...[2]float64) {
		t.Helper()
		if eval[bool](p, `evenfall.drawing.tool.fields(evenfall.drawing.around)[0] !== "place"`) {
			p.press("U", chromedp.ModifierShift)
		}
		for _, k := range of {
			p.tap(k[0]+0.1, k[1]-0.1, 0) // snaps to the corner
		}
		p.until(`evenfall.drawing.tool.fields(evenfall.drawing.around)[0] === "tape1"`)
	}
	known(h[3], h[1])
	p.typed(tapesTo(tapedYard[0], h[3], h[1]))
	p.until(`document.querySelector(".draft-news").textContent.includes("of the two places")`)
	p.shot("tape-two")
	p.tap(2, 2, 0) // on its side of the two known corners
	p.until(corners + " >= 1")
	known(h[0], h[2])
	p.typed(tapesTo(tapedYard[1], h[0], h[2]))
	p.toward(58, 2)
	p.until(`document.querySelector(".draft-news").textContent.startsWith("The right")`)
	p.enter()
	known(h[1], h[2], h[3])
	p.typed(tapesTo(tapedYard[2], h[1], h[2], h[3]))
	p.until(`document.querySelector(".draft-news").textContent.includes("Misclosure")`)
	p.shot("tape-three")
	news := eval[string](p, `document.querySelector(".draft-news").textContent`)
	if !strings.Contains(news, `the largest 0"`) {
		t.Errorf("exact tapes: %s", news)
	}
	p.enter()

	p.choose("#kit", "Way", "along")
	p.tap(16, 24.1, 0) // the north wall, nearer its west end
	p.until(`evenfall.drawing.tool.fields(evenfall.drawing.around)[0] === "along"`)
	p.toward(20, 33)
	p.until(`document.querySelector(".draft-labels").textContent.includes("left")`)
	p.shot("tape-along")
	p.typed(`24', 16'`, `24', 6' L`, `-12', 6'`)
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 2`)
	p.settled()
	sameCorners(t, "the yard", p.outlineOf("planting"), tapedYard)
	if n := p.count("ties"); n != 7 {
		t.Errorf("the yard keeps %d ties, want the 7 tapes that were pulled", n)
	}
	p.shot("tape-yard")
	p.axe("By tape")
	p.media("dark")
	p.shot("tape-yard-dark")
	p.media("light")

	// Undo takes the whole yard back, with its ties.
	p.escape()
	p.escape()
	p.escape()
	p.click("#undo")
	p.until(`Object.keys(evenfall.state.plan.areas).length === 1 && Object.keys(evenfall.state.plan.ties ?? {}).length === 0`)
}

// Tapes that cannot meet are told in the box with what is missing; what was
// typed stays and nothing is drawn.
func TestTapeUnreachableDistancesKeepWhatWasTyped(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Short tapes")
	p.show(-6, -6, 66, 46)
	p.byTape("trees", "tapes")
	p.onScene()
	p.write("'")
	p.until(`document.activeElement.matches("#entry input")`)
	p.typed("0, 0", "24, 0")
	p.write("10, 12")
	p.enter()
	p.until(`document.querySelector("#entry-message").textContent.includes("2' 0\" short of the 24' 0\"")`)
	if v := eval[string](p, `document.activeElement.value`); v != "10, 12" {
		t.Errorf("after the refusal the box holds %q", v)
	}
	eval[bool](p, `(document.activeElement.select(), true)`)
	p.insert("15, 15")
	p.enter()
	p.until(`document.querySelector("#entry").hidden`)
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.trees ?? {}).length === 1`)
	p.settled()
	at := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.trees).map((t) => [t.x_ft, t.y_ft]))`)
	if at != "[[12,9]]" {
		t.Errorf("the tree stands at %s, want 12, 9", at)
	}
	if n := p.count("ties"); n != 2 {
		t.Errorf("%d ties, want 2", n)
	}
}

// The whole of By tape without a pointer: the choices by keys, places typed,
// Enter to take and to end.
func TestTapeByKeyboardAlone(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Keys only")
	p.tabTo("#scene", 60)
	p.press("y")
	p.until(`evenfall.drawing.toolName === "tape"`)
	p.chooseByKeys("Way", "sides")
	p.backToBoard()
	p.typed("0, 0", "40, L 30.25, L 40, L 30")
	p.until(`document.querySelector(".draft-news").textContent.includes("1 in 561")`)
	p.enter() // shares it out
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 1`)
	p.settled()
	shared := p.outlineOf("planting")
	if math.Abs(shared[1][1]+0.25*40/140.25) > 1e-9 || math.Abs(shared[2][1]-(30.25-0.25*70.25/140.25)) > 1e-9 {
		t.Errorf("shared out by length the corners are %v", shared)
	}

	p.press("Tab", chromedp.ModifierShift)
	p.chooseByKeys("Makes", "trees")
	p.chooseByKeys("Way", "along")
	p.backToBoard()
	p.press("U", chromedp.ModifierShift)
	p.typed("0, 0", "40, 0")
	p.press("S", chromedp.ModifierShift) // the other side
	p.typed("10, 5", "10, 5 L")
	p.until(`Object.keys(evenfall.state.plan.trees ?? {}).length === 2`)
	p.settled()
	got := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.trees).map((t) => [t.x_ft, t.y_ft]).sort((a, b) => a[1] - b[1]))`)
	if got != "[[10,-5],[10,5]]" {
		t.Errorf("the trees stand at %s", got)
	}
	p.press(kb.Backspace) // the base is put down
	p.until(`evenfall.drawing.tool.fields(evenfall.drawing.around)[0] === "place"`)
}

// With fingers: corners touched, the box opened by its button, the misclosure
// shared out by a press.
func TestTapeByFinger(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	p.coarse()
	p.newPlan(prog, "Fingers")
	p.show(-6, -6, 66, 46)
	p.byTape("planting", "sides")
	p.poke(0, 0)
	p.until(corners + " === 1")
	p.click(`.draft-steps:not([hidden]) button:first-child`) // Type numbers
	p.until(`document.activeElement.matches("#entry input")`)
	p.insert("E 40, L 30.25, L 40, L 30, close")
	p.enter()
	p.until(`document.querySelector(".draft-fixes button")`)
	p.shot("tape-finger")
	small := eval[[]string](p, `[...document.querySelectorAll(".draft-bar button, #kit button, #kit select")].filter((b) => b.offsetParent && b.getBoundingClientRect().height < 43.5).map((b) => b.textContent.slice(0, 20) + " " + b.getBoundingClientRect().height)`)
	if len(small) > 0 {
		t.Errorf("too small for a finger: %q", small)
	}
	p.click(`.draft-fixes button:first-child`)
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 1`)
	p.settled()

	p.choose("#kit", "Makes", "trees")
	p.choose("#kit", "Way", "tapes")
	p.poke(0.2, 0.1)
	p.poke(39.9, 0)
	p.until(`evenfall.drawing.tool.fields(evenfall.drawing.around)[0] === "tape1"`)
	p.click(`.draft-steps:not([hidden]) button:first-child`)
	p.until(`document.activeElement.matches("#entry input")`)
	p.insert("25, 25")
	p.enter()
	p.until(`document.querySelector(".draft-news").textContent.includes("two places")`)
	p.poke(20, 14)
	p.until(`Object.keys(evenfall.state.plan.trees ?? {}).length === 1`)
	p.settled()
	at := eval[[]float64](p, `(([t]) => [t.x_ft, t.y_ft])(Object.values(evenfall.state.plan.trees))`)
	if math.Hypot(at[0]-20, at[1]-15) > 0.2 {
		t.Errorf("the tree stands at %v, want about 20, 15", at)
	}
}

// A tie shows drawn beside measured; ties to a corner that was drawn off its
// place bring it there in one step, shown first.
func TestTapeTiesAreSharedOutOverTheDrawing(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	doc := map[string]any{
		"format": "evenfall-plan/1", "name": "Ties", "show": "us",
		"areas": map[string]any{
			"house": map[string]any{"name": "House", "kind": "building", "status": "existing", "locked": true, "outline": tapedHouse},
			"lawn":  map[string]any{"name": "Lawn", "kind": "planting", "outline": [][2]float64{{0, 0}, {60, 0}, {61, 39}, {0, 30}}},
		},
	}
	p.visit(prog.url + "/plans/" + p.create(doc))
	p.onBoard()
	p.show(-6, -6, 66, 46)
	p.click(`[data-command="tool.tape"]`)
	p.choose("#kit", "Way", "tie")
	p.show(-6, -6, 66, 46)
	for i, from := range [][2]float64{tapedHouse[1], tapedHouse[2], tapedHouse[3]} {
		p.tap(from[0], from[1], 0)
		p.tap(61, 39, 0)
		p.until(`document.activeElement.matches("#entry input")`) // it asks what was measured
		p.insert(pulled(from, tapedYard[2]))
		p.enter()
		p.until(fmt.Sprintf(`Object.keys(evenfall.state.plan.ties ?? {}).length === %d`, i+1))
	}
	p.settled()
	p.shot("tape-ties")
	if words := eval[string](p, `[...document.querySelectorAll(".tie")].map((e) => e.getAttribute("aria-label")).join("\n")`); strings.Count(words, "than measured") != 3 {
		t.Errorf("the ties are called\n%s", words)
	}
	p.press("v")
	p.tap(5, 15, 0)
	p.until(`evenfall.state.selection.join() === "areas/lawn"`)
	rev := eval[int](p, `evenfall.state.rev`)
	p.press("T", chromedp.ModifierShift)
	p.until(`document.querySelector(".draft-news").textContent.startsWith("3 ties")`)
	p.shot("tape-shareout")
	if now := eval[int](p, `evenfall.state.rev`); now != rev {
		t.Errorf("looking at it made revision %d of %d", now, rev)
	}
	p.click(`.draft-fixes button:first-child`)
	p.until(fmt.Sprintf(`evenfall.state.rev === %d`, rev+1))
	p.settled()
	got := p.outlineOf("planting")
	sameCorners(t, "the lawn", got, [][2]float64{{0, 0}, {60, 0}, {60, 40}, {0, 30}})
	if same := eval[bool](p, `JSON.stringify(evenfall.state.plan.areas.house.outline) === JSON.stringify([[12,8],[36,8],[36,24],[12,24]])`); !same {
		t.Error("the locked house gave way")
	}
}

// Spot heights and fixtures are set on the board, with a click or typed, and
// each can be found as a row.
func TestTapeHeightsAndFixturesAreDrawn(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Fixtures")
	p.show(-6, -6, 66, 46)
	p.onScene()
	p.press("z")
	p.until(`evenfall.drawing.toolName === "height"`)
	p.tap(10, 10, altKey)
	p.until(`document.activeElement.matches("#entry input")`)
	p.insert(`-1' 6"`)
	p.enter()
	p.until(`Object.values(evenfall.state.plan.elevations ?? {}).map((e) => e.z_ft).join() === "-1.5"`)
	p.press("u")
	p.until(`evenfall.drawing.toolName === "fixture"`)
	for i, what := range []string{"controller", "connection", "backflow", "sensor"} {
		p.choose("#kit", "Fixture", what)
		p.tap(20+float64(i)*8, 20, altKey)
		p.until(fmt.Sprintf(`document.querySelectorAll(".fixture").length === %d`, i+2))
	}
	p.click("#tab-zones")
	p.until(`[...document.querySelectorAll("#zones button")].some((b) => b.textContent === "New empty zone")`)
	eval[bool](p, `([...document.querySelectorAll("#zones button")].find((b) => b.textContent === "New empty zone").click(), true)`)
	p.until(`Object.keys(evenfall.state.plan.zones ?? {}).length === 1`)
	p.choose("#kit", "Fixture", "valve")
	p.onScene()
	p.typed("52, 20")
	p.until(`Object.values(evenfall.state.plan.zones)[0].valve_at?.x_ft === 52`)
	p.escape()
	p.settled()
	p.click("#tab-objects")
	p.until(`document.querySelectorAll("#objects tbody tr").length === 6`)
	rows := eval[string](p, `[...document.querySelectorAll("#objects tbody tr")].map((r) => r.children[0].textContent).join(", ")`)
	if rows != "Valve, Supply, Supply, Controller, Sensor, Spot height" {
		t.Errorf("the table has %s", rows)
	}
	p.shot("fixtures")
}

// A page of the field book is typed in one go: a row that cannot be read is
// named by its line and what was typed stays; mended, all its places are found.
func TestTapeAPageOfTheFieldBook(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	doc := map[string]any{
		"format": "evenfall-plan/1", "name": "Book", "show": "us",
		"areas": map[string]any{"house": map[string]any{"name": "House", "kind": "building", "status": "existing", "outline": tapedHouse}},
	}
	p.visit(prog.url + "/plans/" + p.create(doc))
	p.onBoard()
	p.show(-6, -6, 66, 46)
	p.byTape("barriers", "along")
	p.tap(14, 8, 0) // the south wall, nearer its west end
	p.until(`evenfall.drawing.tool.fields(evenfall.drawing.around)[0] === "along"`)
	eval[bool](p, `([...document.querySelectorAll("#kit button")].find((b) => b.textContent === "Field book…").click(), true)`)
	p.until(`document.querySelector("dialog textarea")`)
	p.fill("dialog textarea", "-6, 4 R\n8, 6' R\n20, six\n30, 4 R")
	p.click("dialog button.main")
	p.until(`document.querySelector("dialog .error").textContent.startsWith("Line 3: “six”")`)
	p.shot("tape-book")
	p.axe("field book")
	p.fill("dialog textarea", "-6, 4 R\n8, 6' R\n20, 6 R\n30, 4 R")
	p.click("dialog button.main")
	p.until(corners + " >= 4")
	p.enter()
	p.until(`Object.keys(evenfall.state.plan.barriers ?? {}).length === 1`)
	p.settled()
	line := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.barriers)[0].line)`)
	if line != "[[6,4],[20,2],[32,2],[42,4]]" {
		t.Errorf("the fence runs %s", line)
	}
}
