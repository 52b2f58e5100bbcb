//go:build browser

package walk

import (
	"fmt"
	"testing"
)

// partsLine finds the row of an item in one of the lists of the parts panel.
func partsLine(list, item string) string {
	return fmt.Sprintf(`[...document.querySelectorAll("#parts .parts-zone")].find((s) => s.querySelector("h3").textContent === %q)
		?.querySelectorAll("tbody tr").values().toArray().find((r) => r.querySelector("th").textContent === %q)`, list, item)
}

// Pipe stands in the parts list by class and size, in feet and as it is sold, with
// the fittings that its joints ask for; each line opens to the pipes it was counted
// from, and shows them on the board.
func TestRowA20_PipeInThePartsListOpensToItsPipes(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.click("#tab-parts")
	pipe := "Class 200 PVC pipe, 1 in"
	p.until(partsLine("In total", pipe))
	if got := eval[string](p, partsLine("In total", pipe)+`.querySelector(".figure").innerText.replace(/\s+/g, " ")`); got != "116 ft 7 sticks of 20 ft" {
		t.Errorf("in total there is %q of it", got)
	}
	p.pressText("#parts", "Open all lists")
	if got := eval[string](p, partsLine("Main", "Schedule 40 PVC pipe, 1-1/4 in")+`.querySelector(".figure").innerText.trim()`); got != "96 ft" {
		t.Errorf("of the main there is %q", got)
	}
	p.frame()
	if got := eval[string](p, `document.querySelector(".parts-scope").textContent`); got == "" {
		t.Error("the list does not say what it leaves out")
	}
	// The row opens by keyboard, names its pipes and shows them.
	row := partsLine("Station 3: Side lawn", pipe)
	eval[bool](p, `(`+row+`.querySelector("td summary").focus(), true)`)
	p.enter()
	p.until(row + `.querySelector("td details").open`)
	p.until(row + `.querySelector(".from").textContent.length > 0`)
	p.shot("parts-pipe-open")
	eval[bool](p, `(`+row+`.querySelector("td details > button").focus(), true)`)
	p.enter()
	p.until(`evenfall.state.selection.length > 0 && evenfall.state.selection.every((r) => r.startsWith("pipes/"))`)
	for _, scheme := range []string{"light", "dark"} {
		p.media(scheme)
		p.axe("parts of pipe, " + scheme)
		p.shot("parts-pipe-" + scheme)
	}
}
