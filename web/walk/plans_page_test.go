//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// shownPlans are the names of the plans that can be seen, in order.
func (p *tab) shownPlans() string {
	p.t.Helper()
	return eval[string](p, `[...document.querySelectorAll(".plan-row:not([hidden]) h2 a")].map((a) => a.textContent).join("; ")`)
}

// rowOf is JavaScript for the row of a plan, by name.
func rowOf(name string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(".plan-row")].find((r) => r.dataset.name === %q)`, name)
}

// pressIn presses a button of a plan's row.
func (p *tab) pressIn(name, act string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(%s.querySelector("[data-act=%s]").click(), true)`, rowOf(name), act))
}

func (p *tab) plansNamed(prog *program, names ...string) {
	p.t.Helper()
	p.visit(prog.url)
	for _, n := range names {
		p.create(map[string]any{"format": "evenfall-plan/1", "name": n, "show": "us",
			"areas": map[string]any{"a1": map[string]any{"name": "Lawn", "kind": "planting", "outline": [][]float64{{0, 0}, {40, 0}, {40, 30}, {0, 30}}}}})
	}
	p.visit(prog.url)
	p.until(`document.querySelector("#found")?.textContent`)
}

func TestRowA31_AmongManyPlansOneIsFound(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	names := []string{"Müller, Großgarten", "9 Elm Street", "12 Elm Street"}
	for i := range 140 {
		names = append(names, fmt.Sprintf("Customer %d", i+1))
	}
	p.plansNamed(prog, names...)
	p.axe("plans")
	p.shot("plans-many-1280")
	if n := eval[int](p, `document.querySelectorAll(".plan-row:not([hidden])").length`); n != 24 {
		t.Errorf("shown at first: got %d plans, want 24", n)
	}
	p.click("#plans-more")
	p.until(`document.querySelectorAll(".plan-row:not([hidden])").length > 24`)
	if on := eval[bool](p, `document.activeElement.closest(".plan-row") === document.querySelectorAll(".plan-row:not([hidden])")[24]`); !on {
		t.Error("the focus is not on the first of those shown more")
	}
	eval[bool](p, `(document.querySelector("#find").focus(), true)`)
	p.write("muller")
	p.until(`document.querySelector("#found").textContent === "1 of 144 plans in use"`)
	if got := p.shownPlans(); got != "Müller, Großgarten" {
		t.Errorf("muller finds %q", got)
	}
	p.fill("#find", "elm")
	eval[bool](p, `(() => { const s = document.querySelector("#sort"); s.value = "name"; s.dispatchEvent(new Event("change")); return true; })()`)
	if got := p.shownPlans(); got != "9 Elm Street; 12 Elm Street" {
		t.Errorf("elm by name: got %q", got)
	}
	p.shot("plans-found-1280")
	p.fill("#find", "no such yard")
	p.until(`!document.querySelector("#plans-none").hidden && document.querySelector("#plans-none").textContent.includes("no such yard")`)
	p.axe("plans, none found")
	p.shot("plans-none-1280")
	p.fill("#find", "")
	p.until(`document.querySelectorAll(".plan-row:not([hidden]) img").length > 10`)
	p.until(`[...document.querySelectorAll(".plan-row:not([hidden]) img")].some((i) => i.complete && i.naturalWidth > 0)`)
	loaded := eval[int](p, `[...document.querySelectorAll(".plan-row img")].filter((i) => i.naturalWidth > 0).length`)
	if all := len(names) + 1; loaded > all/2 { // with the demo
		t.Errorf("%d of %d pictures were loaded, want only those near the view", loaded, all)
	}
}

func TestRowA31_APlanIsCopiedArchivedAndDeletedByKeys(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.plansNamed(prog, "Elm Street", "Oak Street")
	focus := func(name, act string) {
		t.Helper()
		eval[bool](p, fmt.Sprintf(`(%s.querySelector("[data-act=%s]").focus(), true)`, rowOf(name), act))
	}
	focus("Elm Street", "archive")
	p.enter()
	p.until(rowOf("Elm Street") + `.hidden`)
	if got := p.shownPlans(); strings.Contains(got, "Elm") {
		t.Errorf("after archiving: %q", got)
	}
	if in := eval[bool](p, `document.activeElement.closest(".plan-row") !== null`); !in {
		t.Error("the focus left the list with the archived plan")
	}
	p.frame()
	if said := eval[string](p, `document.querySelector("#live").textContent`); !strings.Contains(said, "Archived “Elm Street”") {
		t.Errorf("said %q", said)
	}
	eval[bool](p, `(() => { const s = document.querySelector("#which"); s.value = "archived"; s.dispatchEvent(new Event("change")); return true; })()`)
	p.until(`document.querySelector("#found").textContent === "1 plan archived"`)
	p.axe("archived plans")
	p.shot("plans-archived-1280")
	p.visit(prog.url) // it was stored
	eval[bool](p, `(() => { const s = document.querySelector("#which"); s.value = "archived"; s.dispatchEvent(new Event("change")); return true; })()`)
	focus("Elm Street", "unarchive")
	p.enter()
	p.until(`!document.querySelector("#plans-none").hidden`)
	p.visit(prog.url)
	// The way back is on the spot, too.
	focus("Elm Street", "archive")
	p.enter()
	p.until(`document.querySelector("#put-away").innerText.includes("“Elm Street” is put away")`)
	p.shot("plans-put-away-1280")
	eval[bool](p, `(document.querySelector("#put-away button").focus(), true)`)
	p.enter()
	p.until(`document.querySelector("#put-away").hidden && !` + rowOf("Elm Street") + `.hidden`)
	p.frame()
	if on := eval[string](p, `document.activeElement.innerText`); on != "Elm Street" {
		t.Errorf("brought back, and the focus is on %q", on)
	}
	p.visit(prog.url)

	focus("Oak Street", "delete")
	p.enter()
	p.until(`document.querySelector("dialog[open]")`)
	if words := eval[string](p, `document.querySelector("dialog").innerText`); !strings.Contains(words, "No backup holds it yet") || !strings.Contains(words, "Save it as a file first") {
		t.Errorf("the question does not say that no backup holds a plan of today: %q", words)
	}
	p.axe("delete question")
	p.escape()
	p.until(`!document.querySelector("dialog")`)
	if got := p.shownPlans(); !strings.Contains(got, "Oak Street") {
		t.Errorf("escaped, and yet: %q", got)
	}
	focus("Oak Street", "delete")
	p.enter()
	p.until(`document.querySelector("dialog[open]")`)
	p.press(kb.Enter) // the first button
	p.until(`!(` + rowOf("Oak Street") + `)`)

	focus("Elm Street", "copy")
	p.enter()
	p.until(`document.querySelector("#copy-name")`)
	p.axe("copy dialog")
	p.insert("Next door")
	p.enter()
	p.until(`window.evenfall && evenfall.state.plan.name === "Next door"`)
	if areas := eval[int](p, `Object.keys(evenfall.state.plan.areas).length`); areas != 1 {
		t.Errorf("the copy has %d areas, want 1", areas)
	}
}

func TestRowA26_ANewcomerStartsFromATypicalYard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 900)
	p.visit(prog.url)
	p.until(`document.querySelectorAll(".start-cards li").length >= 5`)
	p.click("#to-new")
	p.until(`document.activeElement.id === "new-name"`)
	p.write("My front yard")
	p.until(`[...document.querySelectorAll(".start-cards img")].every((i) => i.complete && i.naturalWidth > 0)`)
	eval[bool](p, `(document.querySelector("#starts-title").scrollIntoView(), true)`)
	p.shot("plans-starts-1280")
	p.media("dark")
	p.shot("plans-starts-dark-1280")
	p.axe("plans in the dark")
	p.media("light")
	p.click(`[data-start="small-front"]`)
	p.until(`window.evenfall && evenfall.state.plan.name === "My front yard"`)
	p.settled()
	p.until(`evenfall.state.design`)
	if heads := eval[int](p, `Object.keys(evenfall.state.plan.heads).length`); heads != 6 {
		t.Errorf("got %d heads, want the six of the even layout", heads)
	}
	p.shot("start-small-front-1280")
}

func TestRowA31_TheListIsGoodAtEverySize(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, width := range []int64{1280, 768} {
		p := open(t, width, 900)
		if width == 1280 {
			p.plansNamed(prog, "Elm Street 12, with a name that goes on and on to see where it breaks in the narrow column", "Oak")
		} else {
			p.visit(prog.url)
			p.until(`document.querySelector("#found")?.textContent`)
		}
		for _, scheme := range []string{"light", "dark"} {
			p.media(scheme)
			p.until(`[...document.querySelectorAll(".plan-row:not([hidden]) img")].every((i) => i.complete && i.naturalWidth > 0)`)
			p.shot(fmt.Sprintf("plans-%s-%d", scheme, width))
			if over := eval[int](p, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
				t.Errorf("%s at %d: the page is %d pixels too wide", scheme, width, over)
			}
			p.axe(fmt.Sprintf("plans, %s at %d", scheme, width))
		}
	}
}
