//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The watering of the demo is planned by keys alone: the bench is opened, a climate
// chosen, a day forbidden, what would help applied and taken back, the bench left, and on
// the page of the program a month and a chain opened.
func TestTheWateringIsPlannedByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.onScene()
	p.press(kb.F4)
	p.until(`document.querySelector("#water").checkVisibility() && document.activeElement.id === "water-title"`)
	p.watered()

	onField := func(label string) string {
		return fmt.Sprintf(`((e) => !!e.closest("#water") && !!e.labels?.[0]?.textContent.trim().startsWith(%q))(document.activeElement)`, label)
	}
	p.tabTo(`#water [data-part="climate"] > summary`, 40)
	p.enter()
	p.tabUntil(onField("Need is reckoned from"), 10)
	p.press(kb.ArrowDown) // from nothing to a zone
	p.until(`document.activeElement.value === "zone"`)
	p.press(kb.Tab)
	p.until(onField("Zone"))
	for z := 1; z <= 9; z++ {
		p.press(kb.ArrowDown)
		p.until(fmt.Sprintf(`evenfall.state.plan.watering.et_zone === %d`, z))
	}
	p.watered()
	p.until(onField("Zone")) // working out has not taken the focus
	if says, fits := p.verdict(); fits != "yes" || !strings.HasPrefix(says, "July takes") {
		t.Errorf("in zone 9: %q, fits %q", says, fits)
	}

	day := func(value string) {
		t.Helper()
		for range 40 {
			if eval[bool](p, fmt.Sprintf(`document.activeElement.matches("#water .water-days input[value=%s]")`, value)) {
				break
			}
			p.press(kb.Tab, chromedp.ModifierShift)
		}
		p.until(fmt.Sprintf(`document.activeElement.matches("#water .water-days input[value=%s]")`, value))
		if got := eval[string](p, `document.activeElement.getAttribute("aria-label")`); len(got) < 6 {
			t.Errorf("the box of a day is called %q", got)
		}
		p.press(" ")
	}
	day("fri")
	day("wed")
	p.until(`evenfall.state.plan.watering.days.join() === "mon"`)
	p.watered()
	if says, fits := p.verdict(); fits != "no" {
		t.Errorf("on Mondays alone: %q, fits %q", says, fits)
	}
	p.until(`document.querySelector("#live").textContent.includes("does not fit")`)
	// One day has to stay: said at the days, and nothing is changed.
	rev := eval[int](p, `evenfall.state.rev`)
	day("mon")
	p.until(`[...document.querySelectorAll("#water [role=alert]")].some((e) => e.checkVisibility() && e.textContent.includes("One day has to be allowed"))`)
	if !eval[bool](p, `document.activeElement.checked`) || eval[int](p, `evenfall.state.rev`) != rev {
		t.Error("the last day was forbidden")
	}

	// Back to what would help; the first that can be applied is taken and taken back.
	for range 40 {
		if eval[bool](p, `document.activeElement.matches("#water .water-eases button")`) {
			break
		}
		p.press(kb.Tab, chromedp.ModifierShift)
	}
	p.until(`document.activeElement.matches("#water .water-eases button")`)
	before := eval[string](p, `JSON.stringify(evenfall.state.plan.watering)`)
	p.enter()
	p.until(fmt.Sprintf(`evenfall.state.rev === %d`, rev+1))
	p.watered()
	p.until(`document.activeElement.closest("#water")`)
	p.press("z", chromedp.ModifierCtrl)
	p.until(fmt.Sprintf(`JSON.stringify(evenfall.state.plan.watering) === %q`, before))
	p.watered()

	p.escape()
	p.until(`!document.querySelector("#water").checkVisibility() && document.activeElement.closest("#board, #scene")`)
	p.press(kb.F4)
	p.until(`document.activeElement.id === "water-title"`)
	p.watered()
	p.tabTo(`#water a[href$="/program"]`, 120)
	p.enter()
	p.until(`document.querySelector("body.program")`)
	p.tabTo(`.program-nav a[href$="?month=may"]`, 60)
	p.enter()
	p.until(`location.search === "?month=may" && document.querySelector(".program-nav [aria-current]")?.textContent === "May"`)
	p.tabUntil(`document.activeElement.matches(".program-chain > summary") && document.activeElement.textContent.startsWith("Station 1")`, 60)
	p.enter()
	p.until(`document.activeElement.closest("details").open`)
	if got := eval[string](p, `document.activeElement.closest("details").innerText`); !strings.Contains(got, "Reference ET of May") {
		t.Errorf("the chain of May says %.300s", got)
	}
	if got := eval[string](p, hiddenFocus); got != "" {
		t.Errorf("on the page of the program, hidden when focused:\n%s", got)
	}
}
