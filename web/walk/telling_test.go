//go:build browser

package walk

import (
	"strings"
	"testing"
)

// What the board says beside its figures: findings are of the drawing whatever the
// map shows, the legend names the strip that is left out, and the table of zones
// says by which rate to run and how many heads are turned down.
func TestRowA28_TheBoardSaysWhatItsFiguresAreOf(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	const asDrawn = `document.querySelector("#findings").innerText.includes("Findings are about the plan as drawn.")`
	if eval[bool](p, asDrawn) {
		t.Error("it is said of the drawing itself")
	}
	if got := eval[string](p, `document.querySelector(".lip-key").innerText`); got != `6" lip not counted` {
		t.Errorf("the legend says %q", got)
	}
	p.shot("telling-drawn")
	p.click(`input[value="windy"]`)
	p.until(`document.documentElement.dataset.shows === "windy"`)
	p.until(asDrawn)
	p.shot("telling-windy")
	p.media("dark")
	p.click(`input[value="drawn"]`)
	p.until(`document.documentElement.dataset.shows === "drawn"`)
	p.shot("telling-dark")
	p.media("light")
	p.click(`#tab-zones`)
	p.until(`document.querySelector("#zones tbody tr")`)
	zones := eval[string](p, `document.querySelector("#zones").innerText`)
	for _, want := range []string{"Reckon run times by the rate on the map", "within 0 %; 4 turned down"} {
		if !strings.Contains(zones, want) {
			t.Errorf("the table of zones does not say %q:\n%s", want, zones)
		}
	}
	if raw := eval[bool](p, `/[a-z]_[a-z]/.test(document.querySelector("#zones").innerText)`); raw {
		t.Errorf("a word of the document stands in the table:\n%s", zones)
	}
	p.shot("telling-zones")
	p.axe("the zones")
}
