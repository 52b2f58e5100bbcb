//go:build browser

package walk

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// savedStates has the page note every state its indicator goes through.
const savedStates = `(() => {
	const noted = window.savedStates = [];
	const note = () => noted.push(document.documentElement.dataset.saved + ": " + document.querySelector("#saved").textContent);
	new MutationObserver(note).observe(document.documentElement, { attributes: true, attributeFilter: ["data-saved"] });
	new MutationObserver(note).observe(document.querySelector("#saved"), { subtree: true, characterData: true, childList: true });
	return true;
})()`

// While the program is away the board says so and how much it keeps; when it is
// back, everything is stored without the page being loaded again.
func TestRowA17_NothingIsLostWhileTheProgramIsAway(t *testing.T) {
	data := t.TempDir()
	prog := startProgram(t, data)
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	eval[bool](p, "window.neverLoadedAgain = true")

	p.excuse(toldAway, toldNoSocket)
	prog.stop()
	p.drag(56, 24, 50, 24, 0)
	p.until(`document.querySelector("#saved").textContent === "Not saved – retrying (1 change kept here)"`)
	p.drag(50, 24, 46, 24, altKey)
	p.until(`document.querySelector("#saved").textContent === "Not saved – retrying (2 changes kept here)"`)
	p.press(kb.ArrowLeft)
	p.press(kb.ArrowLeft)
	p.until(`document.querySelector("#saved").textContent === "Not saved – retrying (3 changes kept here)"`)
	p.frame()
	if got := eval[string](p, `document.documentElement.dataset.saved`); got != "no" {
		t.Errorf("with three changes kept here the page counts as saved: %q", got)
	}
	mine := eval[string](p, `JSON.stringify(evenfall.state.plan.heads["h2-8"])`)

	again := startProgramAt(t, data, strings.TrimPrefix(prog.url, "http://"))
	if again.url != prog.url {
		t.Fatalf("the program came back at %s, not at %s", again.url, prog.url)
	}
	p.settled()
	if !eval[bool](p, "window.neverLoadedAgain === true") {
		t.Error("the page was loaded again")
	}
	stored := eval[string](p, `fetch("/api`+path+`").then((r) => r.json()).then((s) => JSON.stringify(s.doc.heads["h2-8"]))`)
	if stored != mine {
		t.Errorf("the board had %s, the program has %s", mine, stored)
	}
	if text := eval[string](p, `document.querySelector("#saved").textContent`); !strings.HasPrefix(text, "Saved") {
		t.Errorf("with everything stored the indicator says %q", text)
	}
	p.press("z", chromedp.ModifierCtrl)
	p.press("z", chromedp.ModifierCtrl)
	p.press("z", chromedp.ModifierCtrl)
	p.until(`evenfall.state.plan.heads["h2-8"].x_ft === 56`)
	p.settled()
}

// The indicator waits for the program's word, not for its own: as long as the
// answer is held back it does not say Saved, although the step is on disk.
func TestRowA16_SavedIsSaidOnlyAfterTheAnswer(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	between := startFaults(t, prog)
	p := open(t, 1280, 800)
	openDemo(t, p, &program{url: between.url})
	eval[bool](p, savedStates)

	between.let(kept)
	p.drag(56, 24, 50, 24, 0)
	until(t, "the step is stored and its answer held", func() bool { return between.stored.Load() == 1 && between.waiting.Load() == 1 })
	p.frame()
	states := eval[[]string](p, "window.savedStates")
	// While the head is only in hand nothing has been done yet.
	for len(states) > 0 && strings.HasPrefix(states[0], "yes") {
		states = states[1:]
	}
	if len(states) == 0 {
		t.Error("the indicator did not change when a step was sent")
	}
	for _, s := range states {
		if strings.HasPrefix(s, "yes") || strings.Contains(s, "Saved") {
			t.Errorf("before the answer the indicator said %q", s)
		}
	}
	if got := eval[string](p, `document.querySelector("#saved").textContent`); got != "Saving…" {
		t.Errorf("while the answer is held the indicator says %q", got)
	}
	between.let(passes)
	p.settled()
}

// An answer that is lost on its way does not make a step be stored twice, or
// look like somebody else's.
func TestRowA17_ALostAnswerIsNotAConflict(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	between := startFaults(t, prog)
	p := open(t, 1280, 800)
	path := openDemo(t, p, &program{url: between.url})
	p.excuse(toldAway)

	between.let(lost)
	p.drag(56, 24, 50, 24, 0)
	until(t, "the step is stored and its answer lost", func() bool { return between.stored.Load() > 0 })
	p.until(`document.documentElement.dataset.saved === "no"`)
	p.drag(50, 24, 46, 24, altKey)
	between.let(passes)
	p.settled()
	if eval[bool](p, `document.querySelector("dialog[open]") !== null`) {
		t.Error("the board takes its own step for somebody else's")
	}
	labels := eval[string](p, fmt.Sprintf(`fetch("/api%s/history").then((r) => r.json()).then((h) => h.steps.map((s) => s.label).join("; "))`, path))
	if labels != "Plan made; Move head 2-8; Move head 2-8" {
		t.Errorf("two drags are the steps %s", labels)
	}
	if x := eval[float64](p, fmt.Sprintf(`fetch("/api%s").then((r) => r.json()).then((s) => s.doc.heads["h2-8"].x_ft)`, path)); x != 46 {
		t.Errorf("head 2-8 is stored at x %v, want 46", x)
	}
}

// until waits for something outside the page.
func until(t *testing.T, what string, yes func() bool) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), stepLimit)
	defer cancel()
	for !yes() {
		if ctx.Err() != nil {
			t.Fatalf("it never came about that %s", what)
		}
		time.Sleep(5 * time.Millisecond)
	}
}
