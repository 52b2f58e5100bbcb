//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
)

// snapGround has one place for each kind of snap: two areas that cross, a tree,
// and a corner off the lines of the others.
func snapGround() map[string]any {
	area := func(name string, outline ...[]float64) map[string]any {
		return map[string]any{"name": name, "kind": "planting", "outline": outline}
	}
	return map[string]any{
		"format": "evenfall-plan/1", "name": "Places to snap to", "show": "us",
		"areas": map[string]any{
			"a": area("A", []float64{0, 0}, []float64{40, 0}, []float64{40, 30}, []float64{0, 30}),
			"b": area("B", []float64{20, -10}, []float64{30, -10}, []float64{30, 50}, []float64{20, 50}),
			"c": area("C", []float64{46, 41.5}, []float64{54, 49}, []float64{46, 49}),
		},
		"trees": map[string]any{"t": map[string]any{"name": "Tree", "x_ft": 10, "y_ft": 20, "trunk_in": 8}},
	}
}

// sign is what stands at the pointer: the words and the shape.
type sign struct{ Words, Shape string }

func (p *tab) sign() sign {
	p.t.Helper()
	p.frame()
	s := eval[[]string](p, `[document.querySelector(".snap-text").textContent, document.querySelector(".snap-sign").getAttribute("d") || ""]`)
	return sign{s[0], s[1]}
}

// Each kind of place that is snapped to is told by a sign of its own shape and
// by its name; Alt suspends snapping while it is held.
func TestEachSnapHasItsSignAndAltSuspendsIt(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.visit(prog.url + "/plans/" + p.create(snapGround()))
	p.onBoard()
	p.outline("planting")
	p.show(-3, -12, 56, 52)
	shapes := map[string]string{}
	point := func(words string, x, y float64) {
		t.Helper()
		p.toward(x, y)
		got := p.sign()
		if got.Words != words {
			t.Errorf("at %v, %v the sign says %q, want %q", x, y, got.Words, words)
		}
		if other, taken := shapes[got.Shape]; got.Shape == "" || taken {
			t.Errorf("the sign of %q is %q, as that of %q", words, got.Shape, other)
		}
		shapes[got.Shape] = words
		p.mouse(input.DispatchMouseEventTypeMouseMoved, x, y, altKey)
		if got := p.sign(); got != (sign{}) {
			t.Errorf("with Alt held the sign at %v, %v says %q with %q", x, y, got.Words, got.Shape)
		}
		if at := eval[[]float64](p, "evenfall.drawing.pointer.at"); at[0] != x || at[1] != y {
			gx, gy := p.pixels(at[0], at[1])
			wx, wy := p.pixels(x, y)
			if max(gx-wx, wx-gx, gy-wy, wy-gy) > 0.51 {
				t.Errorf("with Alt held the pointer at %v, %v means %v", x, y, at)
			}
		}
	}
	point("Corner", 0.3, 0.2)
	point("Crossing", 20.3, 0.2)
	point("Middle of edge", 0.2, 15.2)
	point("Centre", 10.2, 20.2)
	point("On edge", 0.2, 7.3)
	point("", 10.1, 7.1) // the grid: a small sign, no words
	p.tap(10, 10, altKey)
	point("Square to edge", 0.2, 10.2)
	p.tap(13, 6, altKey)
	point("Own corner", 10.2, 10.1)
	p.tap(13, 40, altKey)
	p.press("o") // hold to square
	p.until(`document.querySelector('[data-command="aid.ortho"]').getAttribute("aria-pressed") === "true"`)
	p.toward(46.2, 40.1)
	if got := p.sign(); got.Words != "In line with corner" || shapes[got.Shape] != "" {
		t.Errorf("in line with a corner the sign is %q with %q", got.Words, got.Shape)
	}
	if at := eval[[]float64](p, "evenfall.drawing.pointer.at"); at[0] != 46 || at[1] != 40 {
		t.Errorf("in line with the corner at 46, 41.5 means %v, want 46, 40", at)
	}
}

// What cannot be read is refused in the box, with a sentence; the focus and
// what was typed stay, and nothing is drawn.
func TestTypedRefusalsKeepFocusAndText(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Typing")
	p.click("#empty-draw")
	p.tap(0, 0, 0)
	p.toward(20, 0)
	p.until(corners + " === 1")
	for _, c := range []struct{ typed, says string }{
		{"12,5", "two ways"},
		{"0", "more than zero"},
		{"1e9", "1e9"},
		{"12 furlong", "12 furlong"},
		{"30<north", "not an angle"},
		{"5<4<3", "not understood"},
		{"99999999", "longer than 10 km"},
		{"3 <script>", "“script>” is not an angle"},
	} {
		p.write(c.typed)
		p.until(fmt.Sprintf(`document.activeElement.matches("#entry input") && document.activeElement.value === %q`, c.typed))
		p.enter()
		p.until(`document.querySelector("#entry-message").textContent !== ""`)
		if says := eval[string](p, `document.querySelector("#entry-message").textContent`); !strings.Contains(says, c.says) {
			t.Errorf("to %q the box says %q, want something of %q", c.typed, says, c.says)
		}
		p.frame()
		state := eval[string](p, `JSON.stringify([document.querySelector("#entry").hidden, document.activeElement.matches("#entry input"), document.activeElement.value, document.activeElement.getAttribute("aria-invalid")])`)
		if want := fmt.Sprintf(`[false,true,%q,"true"]`, c.typed); state != want {
			t.Errorf("after the refusal the box is %s, want %s", state, want)
		}
		if n := eval[int](p, corners); n != 1 {
			t.Errorf("after %q the outline in hand has %d corners, want 1", c.typed, n)
		}
		p.escape()
		p.until(`document.querySelector("#entry").hidden`)
	}
	// Mended in place, the same box takes it.
	p.write("12,5")
	p.enter()
	p.until(`document.querySelector("#entry-message").textContent !== ""`)
	eval[bool](p, `(document.activeElement.select(), true)`)
	p.insert("12.5")
	p.enter()
	p.until(corners + " === 2")
	if got := eval[string](p, `JSON.stringify(evenfall.drawing.tool.own())`); got != `[[0,0],[12.5,0]]` {
		t.Errorf("the corners in hand are %s", got)
	}
}

// An outline that crosses itself is told in a sentence while it is drawn, is
// not kept, and is mended by a press.
func TestABowTieIsToldAndMended(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.newPlan(prog, "Bow-tie")
	p.click("#empty-draw")
	p.choose("#kit", "Kind", "planting")
	p.show(-3, -3, 33, 33)
	for _, c := range [][2]float64{{0, 0}, {30, 30}, {30, 0}, {0, 30}} {
		p.tap(c[0], c[1], 0)
	}
	p.enter()
	p.until(`document.querySelector(".draft-line").classList.contains("faulty") && document.querySelectorAll(".draft-fixes button").length > 0`)
	p.frame()
	says := eval[string](p, `document.querySelector(".draft-problem").textContent`)
	if !strings.Contains(says, "cross") || !strings.Contains(says, "15") {
		t.Errorf("the outline that crosses itself at 15, 15 is told as %q", says)
	}
	if labels := eval[string](p, `[...document.querySelectorAll(".draft-label")].map((e) => e.textContent).join("; ")`); !strings.Contains(labels, "Area –") {
		t.Errorf("an outline that crosses itself has the labels %q", labels)
	}
	if n := p.areas(); n != 0 {
		t.Errorf("the plan has %d areas before the outline is mended", n)
	}
	p.axe("outline that crosses itself")
	p.shot("bow-tie")
	if first := eval[string](p, `document.querySelector(".draft-fixes button").textContent`); first != "Uncross the edges" {
		t.Errorf("the first way out is %q", first)
	}
	p.click(".draft-fixes button:first-child")
	p.until(`Object.keys(evenfall.state.plan.areas ?? {}).length === 1`)
	p.settled()
	if got := eval[string](p, `JSON.stringify(Object.values(evenfall.state.plan.areas)[0].outline)`); got != `[[0,0],[30,0],[30,30],[0,30]]` {
		t.Errorf("mended, the outline is %s", got)
	}
	if eval[bool](p, `document.querySelector(".draft-line").classList.contains("faulty")`) {
		t.Error("mended, the outline is still drawn as faulty")
	}
}
