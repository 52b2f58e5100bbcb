//go:build browser

package walk

import (
	"strings"
	"testing"
)

// On a plan with a lawn and no head the Head tool takes up a nozzle that suits
// it, says why, and lists the others under their families.
func TestRowA26_FirstNozzleSuitsTheLawn(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	lawn := map[string]any{"name": "Lawn", "kind": "planting", "outline": [][]float64{{0, 0}, {50, 0}, {50, 22}, {0, 22}}}
	p.visit(prog.url + "/plans/" + p.create(map[string]any{"format": "evenfall-plan/1", "name": "Lawn", "show": "us", "areas": map[string]any{"a": lawn}}))
	p.onBoard()
	p.until(`evenfall.board.catalog.nozzles.length > 0`)
	p.click(`[data-command="tool.head"]`)
	p.until(`document.querySelector(".kit-hint").textContent.startsWith("25 ft stream: two rows on Lawn, about 22 ft across.")`)
	chosen := eval[string](p, `(() => { const s = [...document.querySelectorAll("#kit select")].find((s) => s.querySelector("optgroup")); return s.selectedOptions[0].label + " of " + [...s.querySelectorAll("optgroup")].map((g) => g.label).join(); })()`)
	if want := "Stream 25 ft, 90° to 210° of Sprays,Streams,Rotors,Strips"; chosen != want {
		t.Errorf("the choice is %q, want %q", chosen, want)
	}
	p.shot("first-nozzle")
	p.media("dark")
	p.shot("first-nozzle-dark")
	if hint := eval[string](p, `document.querySelector(".kit-hint").textContent`); !strings.Contains(hint, "Click to set a head") {
		t.Errorf("the hint says only %q", hint)
	}
}
