//go:build browser

package walk

import (
	"strings"
	"testing"
)

// While the program is away the readings say that they are not computed, and so
// do the map and the tables; what is drawn meanwhile shows, and is stored and
// computed when the program is back.
func TestRowA17_ReadingsSayNotComputed(t *testing.T) {
	data := t.TempDir()
	prog := startProgram(t, data)
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.click(`input[value="windy"]`)
	p.until(`document.documentElement.dataset.shows === "windy"`)

	p.excuse(toldAway, toldNoSocket)
	prog.stop()
	p.until(`document.body.dataset.away === ""`)
	three := `[...document.querySelectorAll("#readings .three dd")].map((e) => e.textContent).filter((s) => s !== "")`
	if got := eval[string](p, three+`.join("; ")`); got != "not computed; not computed; not computed; not computed" {
		t.Errorf("with the program away the readings are %q", got)
	}
	p.click("#tab-zones")
	for where, want := range map[string]string{
		".of-what": "Evenfall has stopped: start it again. What you do is kept here meanwhile", ".map-title": "Map not computed. Evenfall has stopped: start it again", ".says": "Not computed",
		"#side > .away": "from before", "#drawer > .away": "from before",
	} {
		p.frame()
		if got := eval[string](p, `(document.querySelector("`+where+`") ?? {}).innerText ?? "is not there"`); !strings.Contains(got, want) {
			t.Errorf("%s says %q, want %q", where, got, want)
		}
	}
	if f := eval[string](p, `getComputedStyle(document.querySelector("#heat")).filter`); !strings.Contains(f, "opacity") {
		t.Errorf("the map is not dimmed: %s", f)
	}

	// Steps go on being made: a head moved, a head added. Both show as drawn.
	p.drag(56, 24, 50, 24, 0)
	eval[bool](p, `(() => {
		const { board } = evenfall, plan = structuredClone(board.committed);
		plan.heads.added = { ...plan.heads["h2-8"], tag: "2-99", x_ft: 40, y_ft: 10 };
		void board.commit("Add head 2-99", plan);
		board.select(["heads/added"]);
		return true;
	})()`)
	p.until(`document.querySelector('#scene [data-ref="heads/added"]')`)
	p.until(`document.querySelector("#selected .facts").textContent.includes("not computed")`)
	p.frame()
	if got := eval[string](p, `document.querySelector('#scene [data-ref="heads/added"]').getAttribute("aria-label")`); !strings.Contains(got, "2-99") {
		t.Errorf("the added head is called %q", got)
	}
	if n := eval[int](p, `document.querySelectorAll(".wedges .wedge").length - Object.keys(evenfall.state.plan.heads).length`); n < 0 {
		t.Errorf("%d heads have no pattern drawn", -n)
	}
	p.shot("away")
	p.media("dark")
	p.frame()
	p.shot("away-dark")
	p.axe("the board with the program away, dark")
	p.media("light")

	again := startProgramAt(t, data, strings.TrimPrefix(prog.url, "http://"))
	if again.url != prog.url {
		t.Fatalf("the program came back at %s", again.url)
	}
	p.settled()
	p.until(`document.body.dataset.away === undefined && document.documentElement.dataset.shows === "windy"`)
	if got := eval[string](p, three+`.join("; ")`); strings.Contains(got, "not computed") {
		t.Errorf("with the program back the readings are %q", got)
	}
	if got := eval[string](p, `evenfall.state.design.heads.added?.flow ?? ""`); got == "" {
		t.Error("the head added meanwhile was not computed")
	}
	p.frame()
	if !eval[bool](p, `document.querySelector("#side > .away").hidden && document.querySelector(".of-what").textContent === "On a windy day"`) {
		t.Error("with the program back something still says that it is away")
	}
}
