//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"
)

// house is a map with one outline on it.
const house = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"House"},"geometry":{"type":"Polygon","coordinates":[[[-105,40],[-104.9998,40],[-104.9998,40.0002],[-105,40.0002],[-105,40]]]}}]}`

// An empty plan takes outlines in where it is, as one step, and leads to the
// demo, which is made once and found after that.
func TestAnEmptyPlanBegins(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	bare := func(name string) string {
		id := p.create(map[string]any{"format": "evenfall-plan/1", "name": name, "show": "us"})
		p.visit(prog.url + "/plans/" + id)
		p.until("window.evenfall")
		return id
	}
	id := bare("Bare")
	eval[bool](p, fmt.Sprintf(`(() => { const all = new DataTransfer(); all.items.add(new File([%q], "lot.geojson"));
		const input = document.querySelector("#empty-file"); input.files = all.files; input.dispatchEvent(new Event("change")); return true; })()`, house))
	p.until(`document.querySelector("#outlines-title")`)
	p.axe("what each shape is")
	eval[bool](p, `(document.querySelector("dialog select").value = "building", true)`)
	p.click(`dialog button[value="make"]`)
	p.until(`Object.values(evenfall.state.plan.areas || {}).some(a => a.name === "House")`)
	p.settled()
	if at := eval[string](p, `location.pathname`); at != "/plans/"+id {
		t.Errorf("the outlines led to %s, want them in plan %s", at, id)
	}
	if undo := eval[string](p, `evenfall.board.undoLabel`); undo != "Bring in 1 outline" {
		t.Errorf("got the step %q", undo)
	}

	demos := map[string]bool{}
	for _, name := range []string{"Second", "Third"} {
		bare(name)
		p.click("#empty-demo")
		p.until(`document.body && document.body.dataset.demo !== undefined && window.evenfall`)
		demos[eval[string](p, `location.pathname`)] = true
	}
	if len(demos) != 1 {
		t.Errorf("the demo was opened as %v, want one plan", demos)
	}
}

// More holds the field estimate and the scheduling coefficients once it is
// opened, and nothing in it makes the page itself scroll.
func TestMoreTellsWhatTakesLonger(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openDemo(t, p, prog)
	p.click("#readings details.more summary")
	p.until(`document.querySelector("#readings .estimate table")`)
	text := eval[string](p, `document.querySelector("#readings .estimate").innerText`)
	for _, want := range []string{"Field estimate", "Scheduling coefficient by size of window", "1 %", "10 %", "Front lawn"} {
		if !strings.Contains(text, want) {
			t.Errorf("More does not tell %q: %s", want, text)
		}
	}
	if over := eval[int](p, `document.documentElement.scrollHeight - innerHeight`); over > 0 {
		t.Errorf("the page is %d pixels too tall", over)
	}
}

// The zone table tells whether rates match without being scrolled sideways.
func TestMatchedIsInView(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openDemo(t, p, prog)
	p.openTable("tab-zones")
	past := eval[float64](p, `(() => { const th = [...document.querySelectorAll("#zones th")].find(e => e.textContent === "Matched");
		return th.getBoundingClientRect().right - th.closest(".scroll").getBoundingClientRect().right; })()`)
	if past > 0 {
		t.Errorf("the column ends %v pixels out of view", past)
	}
}
