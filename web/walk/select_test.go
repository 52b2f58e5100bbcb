//go:build browser

package walk

import "testing"

// Shift-click adds to the selection and takes away from it; a click on the
// board while a number is half typed closes the box and sets its point.
func TestRowA9_ShiftClickAddsAndTakesAway(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	chosen := func() string { return eval[string](p, `[...evenfall.state.selection].sort().join(" ")`) }
	p.tap(46, 0.4, 0)
	if got := chosen(); got != "heads/h2-1" {
		t.Fatalf("a click selects %q", got)
	}
	p.tap(70, 0.4, shiftKey)
	if got := chosen(); got != "heads/h2-1 heads/h2-2" {
		t.Errorf("Shift-click makes the selection %q", got)
	}
	p.tap(46, 0.4, shiftKey)
	if got := chosen(); got != "heads/h2-2" {
		t.Errorf("a second Shift-click leaves %q", got)
	}
}

func TestRowA2_ClickBesideTheBoxSetsItsPoint(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.click(`[data-command="tool.outline"]`)
	p.tap(20, 60, altKey)
	p.write("6")
	p.until(`!document.querySelector("#entry").hidden`)
	p.tap(40, 60, altKey)
	p.until(`document.querySelector("#entry").hidden`)
	p.write("12 < 90")
	p.until(`document.querySelector("#entry input").value === "12 < 90"`)
	p.enter()
	p.press("\r")
	p.settled()
	areas := eval[int](p, `Object.keys(evenfall.state.plan.areas).length`)
	if areas != 23 {
		t.Errorf("the plan has %d areas, want 23: three corners, then Enter", areas)
	}
}
