//go:build browser

package walk

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// While heads are arranged on 20 areas of a park the board stays fluid: the ground
// goes with the hand and comes back to where it was, and stopping answers at once.
// Frame times are told, not asserted: the search takes every core there is. What
// must hold on any machine is asserted in frames and moves.
func TestArrangingAParkLeavesTheBoardFluid(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.excuse(toldAway) // a request that is called off
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: recorder}); err != nil {
		t.Fatal(err)
	}
	p.visit(prog.url)
	p.visit(prog.url + "/plans/" + p.create(parkOf20Areas()))
	p.settled()
	if !eval[bool](p, watchTheGround) {
		t.Fatal("the page has nothing that is carried with the ground: this would measure nothing")
	}

	p.hauled("before it is asked")
	p.command("head.arrange")
	p.until(`document.querySelectorAll("#arrange .bench-areas input").length === 20`)
	p.pressText("#arrange", "Tick all")
	p.choose("#arrange", "How long to seek", "thorough") // so that it is not done before it is stopped
	p.pressText("#arrange", "Arrange")
	seeking := `evenfall.board.longWork.works.length === 1`
	p.until(seeking)
	p.hauled("from when it is asked")
	p.patience = searchTime
	p.until(`document.querySelectorAll("#arrange .offer-card").length > 0 && evenfall.board.drafting`)
	p.patience = stepLimit
	told := 0
	for n := 0; n < 2 || told == 0 && n < 30; n++ {
		told += p.hauled("while better layouts come")
	}
	if told == 0 {
		t.Error("nothing was told of the search while the ground was pulled about")
	}
	if !eval[bool](p, seeking) {
		t.Fatal("the search ended by itself: this measured nothing")
	}
	heads := eval[int](p, headsNow)
	p.shot("arrange-park")

	// Counted in frames from the press.
	frames := eval[int](p, `new Promise((done) => {
		let frames = 0;
		const ended = () => evenfall.board.longWork.works.length === 0 && !document.querySelector("#arrange .bench-seeking progress").checkVisibility();
		const look = () => (ended() || frames > 600 ? done(frames) : (frames++, requestAnimationFrame(look)));
		[...document.querySelectorAll("#arrange button")].find((b) => b.textContent.startsWith("Stop")).click();
		requestAnimationFrame(look);
	})`)
	t.Logf("shown: %d heads stood on the board; stopped %d frames after the press", heads, frames)
	if frames > 30 {
		t.Errorf("the search was stopped only %d frames after the press", frames)
	}
	if !eval[bool](p, `document.querySelectorAll("#arrange .offer-card").length > 0 && evenfall.board.drafting`) {
		t.Error("the best so far is gone")
	}
	if n := eval[int](p, `Object.keys(evenfall.board.committed.heads ?? {}).length`); n != 0 {
		t.Errorf("%d heads stand on the plan and nothing was applied", n)
	}
	p.hauled("when it was stopped")
}

// watchTheGround counts the frames in which the ground is drawn elsewhere than in the
// frame before (what is drawn, not what the page means to draw), and how often the form
// tells something new.
const watchTheGround = `(() => {
	const carried = [...document.querySelectorAll('#board g[transform^="matrix("]')];
	if (carried.length === 0) return false;
	const seen = window.ground = { moved: 0, told: 0 };
	const all = { subtree: true, childList: true, attributes: true, characterData: true };
	new MutationObserver(() => { seen.told++; }).observe(document.querySelector("#arrange"), all);
	let was = "";
	const tick = () => {
		const now = carried.map((g) => g.getAttribute("transform")).join();
		if (now !== was) seen.moved++;
		was = now;
		requestAnimationFrame(tick);
	};
	requestAnimationFrame(tick);
	return true;
})()`

// hauled pulls the ground about by the middle button and back, tells the frames, and
// holds the ground to the hand. It answers how often the form told something new.
func (p *tab) hauled(when string) int {
	p.t.Helper()
	const moves = 120
	view := `(({ left, top, scale }) => [left * scale, top * scale, scale])(evenfall.drawing.view)`
	before := eval[[]float64](p, view)
	eval[bool](p, `(Object.assign(window.recorded, { frames: [], on: true }), Object.assign(window.ground, { moved: 0, told: 0 }), true)`)
	const px, py = 520.0, 400.0
	p.middle(input.DispatchMouseEventTypeMouseMoved, px, py, false)
	p.middle(input.DispatchMouseEventTypeMousePressed, px, py, true)
	for i := 1; i <= moves; i++ {
		a := 2 * math.Pi * float64(i) / 60
		p.middle(input.DispatchMouseEventTypeMouseMoved, px+60*math.Sin(a), py+60*(1-math.Cos(a)), true)
	}
	p.middle(input.DispatchMouseEventTypeMouseReleased, px, py, false)
	p.frame()
	var rec recorded
	if err := json.Unmarshal([]byte(eval[string](p, "(window.recorded.on = false, JSON.stringify(window.recorded))")), &rec); err != nil {
		p.t.Fatal(err)
	}
	moved, told := eval[int](p, `window.ground.moved`), eval[int](p, `window.ground.told`)
	load, _ := os.ReadFile("/proc/loadavg")
	p.t.Logf("%s: frames p50 %.1f ms, p95 %.1f ms, worst %.1f ms over %d; the ground moved in %d of them for %d moves of the hand, and the form told %d times of the search; load %s",
		when, at(rec.Frames, 50), at(rec.Frames, 95), at(rec.Frames, 100), len(rec.Frames), moved, moves, told, strings.TrimSpace(string(load)))
	if moved < moves/2 {
		p.t.Errorf("%s: the ground was drawn elsewhere %d times for %d moves of the hand", when, moved, moves)
	}
	for k, after := range eval[[]float64](p, view) {
		if math.Abs(after-before[k]) > 0.5 { // px, px, px a foot
			p.t.Errorf("%s: pulled about and back, the view is at %v instead of %v", when, after, before[k])
		}
	}
	return told
}

// middle sends what the middle button does, which moves the ground whatever tool is
// taken up.
func (p *tab) middle(kind input.DispatchMouseEventType, px, py float64, down bool) {
	p.t.Helper()
	params := input.DispatchMouseEventParams{Type: kind, X: px, Y: py}
	if kind != input.DispatchMouseEventTypeMouseMoved {
		params.Button, params.ClickCount = input.MouseButtonMiddle, 1
	}
	if down {
		params.Button, params.Buttons = input.MouseButtonMiddle, 4
	}
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	if _, err := chromedp.Call(ctx, input.DispatchMouseEvent, params); err != nil {
		p.t.Fatal(err)
	}
}

// parkOf20Areas is three acres: 20 planting areas of all sizes between walks, some
// with a corner cut off, some with a bed in them, on which nothing stands.
func parkOf20Areas() map[string]any {
	const walk = 8.0
	widths, depths := []float64{84, 52, 108, 30, 96}, []float64{62, 92, 28, 88}
	areas, cut := map[string]any{}, [][][]float64{}
	x, y := walk, walk
	for j, d := range depths {
		x = walk
		for i, w := range widths {
			a := map[string]any{"name": fmt.Sprintf("Lawn %d", len(areas)+1), "kind": "planting"}
			outline := box(x, y, x+w, y+d)
			switch (i + j) % 4 {
			case 1:
				outline = [][]float64{{x, y}, {x + w, y}, {x + w, y + d}, {x + 14, y + d}, {x, y + d - 14}}
			case 2:
				if d > 40 && w > 40 {
					a["holes"] = [][][]float64{box(x+w/2-6, y+d/2-6, x+w/2+6, y+d/2+6)}
				}
			}
			if (i+2*j)%7 == 3 {
				a["planting"] = "flowers"
			}
			a["outline"] = outline
			areas[fmt.Sprintf("a%02d", len(areas)+1)] = a
			cut = append(cut, outline)
			x += w + walk
		}
		y += d + walk
	}
	areas["walks"] = map[string]any{"name": "Walks", "kind": "paving", "outline": box(0, 0, x, y), "holes": cut}
	return map[string]any{
		"format": "evenfall-plan/1", "name": "Park of 20 areas", "show": "us",
		"site": map[string]any{"lot": box(0, 0, x, y)}, "areas": areas,
	}
}

func box(x0, y0, x1, y1 float64) [][]float64 {
	return [][]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}
