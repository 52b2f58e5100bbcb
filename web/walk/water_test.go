//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp/kb"
)

// colourAt is the colour of the map at a place in feet, as CSS writes it.
func (p *tab) colourAt(x, y float64) string {
	p.t.Helper()
	return eval[string](p, fmt.Sprintf(`(() => {
		const c = document.querySelector("#heat"), [px, py] = evenfall.pixels([%v, %v]), r = c.getBoundingClientRect();
		const x = Math.floor((px - r.left) / r.width * c.width), y = Math.floor((py - r.top) / r.height * c.height);
		return [...c.getContext("2d", { willReadFrequently: true }).getImageData(x, y, 1, 1).data].join(" ");
	})()`, x, y))
}

// shows is what map and readings are of, from all the places that say it.
func (p *tab) shows() string {
	p.t.Helper()
	return eval[string](p, `[
		document.documentElement.dataset.shows,
		document.querySelector(".of-what").textContent,
		document.querySelector(".map-title").hidden ? "" : document.querySelector(".map-title").textContent,
		document.querySelector("input[name=circumstance]:checked").value,
	].join(" | ")`)
}

// toldReadback is what the browser says of a test that looks at the map's colours.
const toldReadback = "Multiple readback operations"

const evenness = `document.querySelector("#readings .big").textContent`

// Choosing a windy day or the field changes map, readings, titles and the words
// under the switch at once; while a head is dragged the drawing shows and says
// so, and what was chosen comes back for the plan as it then is.
func TestTheSwitchChangesMapAndReadingsTogether(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	p.excuse(toldReadback)
	if got := p.shows(); got != "drawn | As drawn |  | drawn" {
		t.Errorf("at first it shows %q", got)
	}
	calm, drawn := p.colourAt(4, 80), eval[string](p, evenness)
	p.shot("water-drawn")

	p.click(`input[value="windy"]`)
	p.until(`document.documentElement.dataset.shows === "windy"`)
	if got := p.shows(); got != "windy | On a windy day | On a windy day | windy" {
		t.Errorf("on a windy day it shows %q", got)
	}
	p.frame()
	says := eval[string](p, `document.querySelector(".says").textContent`)
	if !strings.Contains(says, "8 mph from the west") || !strings.Contains(says, "an assumption, not a measurement") {
		t.Errorf("under the switch it says %q", says)
	}
	if windy := p.colourAt(4, 80); windy == calm {
		t.Errorf("the map at the west edge is %s in calm air and in the wind", calm)
	}
	want := eval[string](p, fmt.Sprintf(`fetch("/api%s/windy").then((r) => r.json()).then((v) => v.readings.evenness.text)`, path))
	if got := eval[string](p, evenness); got != want || got == drawn {
		t.Errorf("evenness reads %s, the server says %s, and %s as drawn", got, want, drawn)
	}
	p.shot("water-windy")
	p.media("dark")
	p.frame()
	p.shot("water-windy-dark")
	p.axe("the board on a windy day, dark")
	p.media("light")

	// The other way by keyboard: the switch is one stop, its arrows choose.
	eval[bool](p, `(document.querySelector('input[value="windy"]').focus(), true)`)
	p.press(kb.ArrowLeft)
	p.until(`document.documentElement.dataset.shows === "field"`)
	p.frame()
	if says := eval[string](p, `document.querySelector(".says").textContent`); !strings.Contains(says, "typical of 40 installations") || !strings.Contains(says, "1 in 10 comes out under") {
		t.Errorf("under the switch it says %q", says)
	}
	p.shot("water-field")
	p.media("dark")
	p.frame()
	p.shot("water-field-dark")
	p.media("light")
	p.axe("the board in the field")

	p.mouse(input.DispatchMouseEventTypeMouseMoved, 56, 24, 0)
	p.mouse(input.DispatchMouseEventTypeMousePressed, 56, 24, 0)
	p.mouse(input.DispatchMouseEventTypeMouseMoved, 52, 24, held)
	p.mouse(input.DispatchMouseEventTypeMouseMoved, 48, 24, held)
	p.until(`document.documentElement.dataset.shows === "drawn"`)
	if got := p.shows(); got != "drawn | As drawn; “In the field” follows | As drawn; “In the field” follows | field" {
		t.Errorf("while a head is dragged it shows %q", got)
	}
	p.shot("water-dragging")
	p.mouse(input.DispatchMouseEventTypeMouseReleased, 48, 24, 0)
	p.until(`document.documentElement.dataset.shows === "field"`)
	if rev := eval[bool](p, `evenfall.board.whatIf.shown.rev === evenfall.state.rev && evenfall.state.rev > 1`); !rev {
		t.Error("the map that came back is of the plan before the drag")
	}
	p.settled()
	p.escape()
	p.click(`input[value="drawn"]`)
	p.until(`document.documentElement.dataset.shows === "drawn"`)
	p.click("#readings .more > summary")
	p.until(`document.querySelector("#readings .estimate table")`)
	head := eval[string](p, `[...document.querySelectorAll("#readings .estimate table")[0].querySelectorAll("thead th")].map((e) => e.textContent).join(", ")`)
	if head != "Area, Drawn, Field, 1 in 10 under, Windy" {
		t.Errorf("under More the table has the columns %s", head)
	}
	eval[bool](p, `(document.querySelector("#readings .estimate table").scrollIntoView(), true)`)
	p.shot("water-more")
	p.axe("the readings with More open")
}

// What streams do at a fence, and what is in the way of a head's, is said where
// the thing is selected (trade.md E13).
func TestRowE13_SelectedSaysWhatStreamsDo(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	for ref, want := range map[string]string{"barriers/fence-house": "Head 3-", "barriers/fence-north": "stopped, loses"} {
		eval[bool](p, fmt.Sprintf(`(evenfall.board.select([%q]), true)`, ref))
		name := eval[string](p, fmt.Sprintf(`evenfall.state.plan.barriers[%q].name`, strings.TrimPrefix(ref, "barriers/")))
		p.until(fmt.Sprintf(`document.querySelector("#selected h2").textContent.includes(%q) && !document.querySelector("#selected .streams").hidden`, name))
		if got := eval[string](p, `document.querySelector("#selected .streams").innerText`); !strings.Contains(got, want) || !strings.Contains(got, "Streams that come to it") {
			t.Errorf("%s: %s", ref, got)
		}
	}
	p.shot("water-fence")
	eval[bool](p, `(evenfall.board.select(["heads/" + evenfall.state.design.barriers["fence-north"][0].head]), true)`)
	p.until(`document.querySelector("#selected .streams").innerText.includes("In the way of its stream")`)
	p.shot("water-head")
}
