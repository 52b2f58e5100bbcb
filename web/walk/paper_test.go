//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"
)

// A system can be set out from the paper: it carries tags beside the marks, a bar
// to the picture's own scale, north, and the places of the heads.
func TestRowA24_HeadsCanBeSetOutFromThePaper(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	for _, scheme := range []string{"light", "dark"} {
		p.media(scheme)
		p.frame()
		_, text := p.paper("set-out-" + scheme)
		for _, want := range []string{
			"measure from the table of heads, not from the paper", "Table of heads: 48 heads", "0, 0",
			"20 ft", "Page 1 of", "Counted here: heads", "Accepted 1", "Keep dry", "Thinner, grey: existing",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the print does not say %q", scheme, want)
			}
		}
		if strings.Contains(text, "the figures beside it hold") {
			t.Errorf("%s: the print points at figures that are not there", scheme)
		}
		picture, _, _ := strings.Cut(text, "Table of heads: 48 heads")
		if !strings.Contains(picture, `1-1/4"`) || !strings.Contains(picture, `3/4"`) {
			t.Errorf("%s: the picture does not say how wide the pipes are", scheme)
		}
		missing := []string{}
		for _, tag := range []string{"1-1", "2-8", "3-5", "4-13", "5-2", "6-1"} {
			if !strings.Contains(picture, tag) {
				missing = append(missing, tag)
			}
		}
		if len(missing) > 0 {
			t.Errorf("%s: the picture does not name the heads %v", scheme, missing)
		}
	}
	// Where the water comes from is on the paper too, and what its sign means.
	p.printing("print")
	if got := eval[string](p, `JSON.stringify([document.querySelectorAll('[data-ref^="supply/"]').length, [...document.querySelectorAll(".fixture")].filter((e) => getComputedStyle(e).display === "none").map((e) => e.dataset.ref ?? "its sign")])`); got != "[2,[]]" {
		t.Errorf("fixtures of the supply, and fixtures and signs left off the print: %s", got)
	}
	p.printing("")
	if n := eval[int](p, `document.querySelectorAll(".paper-tag, .paper-bar, .paper-heads tr").length`); n != 0 {
		t.Errorf("%d parts of the paper stayed on the page", n)
	}
	// The bar is as long as it says, on the picture as it is printed.
	got := eval[string](p, `(() => {
		dispatchEvent(new Event("beforeprint"));
		const dark = document.querySelector(".paper-bar .dark"), scale = evenfall.drawing.view.scale;
		const feet = 2 * Number(dark.getAttribute("width")) / scale, says = document.querySelector(".paper-bar").getAttribute("aria-label");
		dispatchEvent(new Event("afterprint"));
		return Math.round(feet * 1000) / 1000 + ": " + says;
	})()`)
	if want := "20: Scale bar: 20 ft on this picture"; got != want {
		t.Errorf("the bar is %q, want %q", got, want)
	}
	// A supply that was not measured is called so on paper; the demo's is measured.
	for _, measured := range []bool{true, false} {
		eval[bool](p, fmt.Sprintf(`(evenfall.board.commit("Set the supply", { ...evenfall.board.plan, supply: { ...evenfall.board.plan.supply, measured: %v } }), true)`, measured))
		p.settled()
		p.until(fmt.Sprintf(`(evenfall.state.design.supply.known === "measured") === %v`, measured))
		_, text := p.paper(fmt.Sprintf("supply-measured-%v", measured))
		if strings.Contains(text, "The water supply is ASSUMED") == measured {
			t.Errorf("the supply is measured: %v, and the print says otherwise", measured)
		}
	}
}
