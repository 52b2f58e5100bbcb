//go:build browser

package walk

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// twoAreas is a plan with an area, a smaller one beside it, and three heads.
func twoAreas() map[string]any {
	head := func(x, y float64) map[string]any {
		return map[string]any{"nozzle": "n", "body": "b", "x_ft": x, "y_ft": y, "sweep_deg": 360}
	}
	return map[string]any{
		"format": "evenfall-plan/1", "name": "Two areas", "show": "us",
		"areas": map[string]any{
			"large": map[string]any{"name": "Large", "kind": "planting", "outline": [][]float64{{0, 0}, {60, 0}, {60, 40}, {0, 40}}},
			"small": map[string]any{"name": "Small", "kind": "paving", "outline": [][]float64{{64, 10}, {72, 10}, {72, 18}, {64, 18}}},
		},
		"heads": map[string]any{"one": head(10, 10), "two": head(30, 20), "three": head(50, 30)},
	}
}

// openTwoAreas stores that plan with a nozzle and a body of the catalogue, and
// opens it.
func openTwoAreas(t *testing.T, p *tab, prog *program) {
	t.Helper()
	p.visit(prog.url)
	park, doc := parkOf300(t, p), twoAreas()
	for from, to := range map[string]string{"nozzles": "n", "bodies": "b"} {
		for _, it := range park[from].(map[string]any) {
			doc[from] = map[string]any{to: it}
		}
	}
	p.visit(prog.url + "/plans/" + p.create(doc))
	p.onBoard()
	p.show(-8, -8, 80, 48)
}

const selection = `evenfall.state.selection.toSorted().join(" ")`

// A box dragged eastward takes what lies wholly inside; westward also what it
// touches; and each says so while it is dragged.
func TestABoxSelectsByItsDirection(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openTwoAreas(t, p, prog)
	for _, c := range []struct {
		name           string
		x0, y0, x1, y1 float64
		want           string
	}{
		{"eastward over a corner of the large area", -4, -4, 34, 24, "heads/one heads/two"},
		{"westward over the same", 34, 24, -4, -4, "areas/large heads/one heads/two"},
		{"eastward around the small area", 62, 8, 74, 20, "areas/small"},
		{"westward through the small area", 74, 14, 70, 5, "areas/small"},
		{"eastward through the small area", 70, 5, 74, 14, ""},
	} {
		p.drag(c.x0, c.y0, c.x1, c.y1, altKey)
		if got := eval[string](p, selection); got != c.want {
			t.Errorf("%s: selected %q, want %q", c.name, got, c.want)
		}
	}
}

// What is locked is passed over by Select all and by a box, and is not moved.
func TestLockedThingsAreLeftAlone(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openTwoAreas(t, p, prog)
	p.tap(10, 10, 0)
	p.until(selection + ` === "heads/one"`)
	p.press("l")
	p.until(`evenfall.state.plan.heads.one.locked === true`)
	p.settled()
	p.press("a", chromedp.ModifierCtrl)
	if got, want := eval[string](p, selection), "areas/large areas/small heads/three heads/two"; got != want {
		t.Errorf("Select all took %q, want %q", got, want)
	}
	p.escape()
	p.drag(74, 44, -4, -4, altKey)
	if got, want := eval[string](p, selection), "areas/large areas/small heads/three heads/two"; got != want {
		t.Errorf("a box over everything took %q, want %q", got, want)
	}
	p.escape()
	p.drag(10, 10, 20, 12, altKey)
	p.settled()
	if x := eval[float64](p, "evenfall.state.plan.heads.one.x_ft"); x != 10 {
		t.Errorf("the locked head was dragged to x %v", x)
	}
}
