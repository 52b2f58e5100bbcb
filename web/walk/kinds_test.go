//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// everyKind is a plan with every kind of area in every status, every way of
// watering, and one of each thing that stands on the ground in every status.
func everyKind() map[string]any {
	statuses := []string{"new", "existing", "remove"}
	areas, barriers, trees, dry, notes, heights, sensors := map[string]any{}, map[string]any{}, map[string]any{}, map[string]any{}, map[string]any{}, map[string]any{}, map[string]any{}
	box := func(x, y float64) [][]float64 { return [][]float64{{x, y}, {x + 18, y}, {x + 18, y + 9}, {x, y + 9}} }
	for row, status := range statuses {
		y := float64(row) * 12
		for col, kind := range []string{"planting", "building", "paving", "ground", "right_of_way", "no_dig", "water"} {
			areas[fmt.Sprintf("a%d%d", row, col)] = map[string]any{"name": strings.ReplaceAll(kind, "_", " "), "kind": kind, "status": status, "outline": box(float64(col)*20, y)}
		}
		y = 40 + float64(row)*12
		for col, kind := range []string{"fence", "wall", "hedge"} {
			barriers[fmt.Sprintf("b%d%d", row, col)] = map[string]any{"name": kind, "kind": kind, "status": status, "height_ft": 3 + col, "line": [][]float64{{float64(col) * 20, y + 4}, {float64(col)*20 + 18, y + 4}}}
		}
		at := func(x float64) map[string]any { return map[string]any{"x_ft": x, "y_ft": y + 4, "status": status} }
		trees[fmt.Sprintf("t%d", row)] = with(with(with(at(68), "name", "Oak"), "trunk_in", 10), "root_zone_ft", 5)
		dry[fmt.Sprintf("k%d", row)] = with(at(80), "name", "Meter")
		notes[fmt.Sprintf("m%d", row)] = with(at(88), "text", "A note")
		heights[fmt.Sprintf("e%d", row)] = with(at(104), "z_ft", 1.5)
		sensors[fmt.Sprintf("s%d", row)] = with(at(116), "kind", "rain")
	}
	for col, way := range []string{"overhead", "point", "by_hand", "none"} {
		areas[fmt.Sprintf("w%d", col)] = map[string]any{"name": "bed", "kind": "planting", "watering": way, "outline": box(float64(col)*20+60, -14)}
	}
	return map[string]any{
		"format": "evenfall-plan/1", "name": "Every kind", "show": "us", "areas": areas, "barriers": barriers,
		"trees": trees, "keep_dry": dry, "notes": notes, "elevations": heights, "sensors": sensors,
		"ties":  map[string]any{"i1": map[string]any{"from": map[string]any{"x_ft": 0, "y_ft": -14}, "to": map[string]any{"x_ft": 40, "y_ft": -14}, "distance_ft": 40.25}},
		"zones": map[string]any{"z1": map[string]any{"name": "Zone 1", "station": 1, "status": "existing", "valve_at": map[string]any{"x_ft": 128, "y_ft": 44}}},
	}
}

// Every kind of thing in every status is drawn apart, named in words, listed
// among the signs, and its status set for many kinds at once in one step.
func TestTapeEveryKindAndStatusIsToldApart(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.visit(prog.url + "/plans/" + p.create(everyKind()))
	p.onBoard()
	p.click(`[data-command="view.fit"]`)
	p.click(".signs > summary")
	p.until(`document.querySelectorAll(".signs-list li").length >= 20`)
	p.shot("kinds")
	p.axe("every kind")
	p.media("dark")
	p.shot("kinds-dark")
	p.media("light")
	p.click(".signs > summary")
	p.shot("kinds-plain")

	unsaid := eval[[]string](p, `[...document.querySelectorAll("#scene .thing")].filter((e) => {
		const words = { existing: /existing|as it lies/, remove: /to be removed/ }[e.dataset.status];
		return words && !words.test(e.getAttribute("aria-label"));
	}).map((e) => e.getAttribute("aria-label"))`)
	if len(unsaid) > 0 {
		t.Errorf("the status is not said of %q", unsaid)
	}
	crossed := eval[int](p, `document.querySelectorAll("#scene .cross-out").length`)
	if want := 3 + 5; crossed != want {
		t.Errorf("%d things are crossed out, want %d", crossed, want)
	}

	p.onScene()
	p.press("a", chromedp.ModifierCtrl)
	p.until(`evenfall.state.selection.length > 40`)
	rev := eval[int](p, `evenfall.state.rev`)
	p.choose("#selected", "Status", "existing")
	p.until(fmt.Sprintf(`evenfall.state.rev === %d`, rev+1))
	p.settled()
	left := eval[[]string](p, `[...document.querySelectorAll("#scene .thing")].filter((e) => e.dataset.status !== "existing").map((e) => e.dataset.ref)`)
	if len(left) > 0 {
		t.Errorf("not existing after all were set so: %q", left)
	}
	p.click("#undo")
	p.until(`document.querySelectorAll("#scene .cross-out").length === 8`)

	p.click("#tab-objects")
	p.until(`document.querySelector("#objects tbody tr")`)
	words := eval[string](p, `document.querySelector("#objects table").textContent`)
	for _, want := range []string{"Drip or bubblers", "By hand", "To be removed", "Existing", "No-dig ground", "Hedge", "Ground as it lies", `5' 0"`, `40' 3"`} {
		if !strings.Contains(words, want) {
			t.Errorf("the table of things says nothing of %q", want)
		}
	}
	p.shot("kinds-table")
}
