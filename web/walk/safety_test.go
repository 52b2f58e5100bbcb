//go:build browser

package walk

import (
	"fmt"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// toldFull is what the browser says of an answer that the disk is full.
const toldFull = "status of 507"

// On a full disk the board says so and how much it keeps, everything can be read
// and taken out, and saving goes on by itself when there is room again.
func TestRowB19_ThePageSaysThatTheDiskIsFull(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	between := startFaults(t, prog)
	p := open(t, 1280, 800)
	path := openDemo(t, p, &program{url: between.url})
	p.excuse(toldFull)

	between.let(full)
	p.drag(56, 24, 50, 24, 0)
	p.until(`document.querySelector("#saved").textContent === "Disk full – your last change is kept in this browser"`)
	p.drag(50, 24, 46, 24, altKey)
	p.press(kb.ArrowLeft)
	p.until(`document.querySelector("#saved").textContent === "Disk full – your last 3 changes are kept in this browser"`)
	if got := eval[string](p, `document.documentElement.dataset.saved + " " + document.querySelector("#saved").title`); !strings.HasPrefix(got, "no The disk is full") {
		t.Errorf("the page counts as %q", got)
	}
	mine := eval[string](p, `JSON.stringify(evenfall.state.plan.heads["h2-8"])`)
	for _, file := range []string{"plan.json", "parts.csv", "heads.csv"} {
		if status := eval[int](p, fmt.Sprintf(`fetch("%s/files/%s").then((r) => r.status)`, path, file)); status != 200 {
			t.Errorf("taking out %s on a full disk: %d", file, status)
		}
	}
	p.axe("disk full")
	p.shot("disk-full-light")
	p.media("dark")
	p.frame()
	p.axe("disk full, dark")
	p.shot("disk-full-dark")
	p.media("light")
	p.do(chromedp.EmulateViewport(768, 900))
	p.frame()
	if cut := eval[bool](p, `(() => { const r = document.querySelector("#saved").getBoundingClientRect(); return r.left < 0 || r.right > innerWidth + 0.5 || r.bottom > innerHeight + 0.5; })()`); cut {
		t.Error("at 768 pixels the words are cut")
	}
	p.shot("disk-full-768")
	p.do(chromedp.EmulateViewport(1280, 800))

	between.let(passes)
	p.settled()
	stored := eval[string](p, `fetch("/api`+path+`").then((r) => r.json()).then((s) => JSON.stringify(s.doc.heads["h2-8"]))`)
	if stored != mine {
		t.Errorf("the board had %s, the program has %s", mine, stored)
	}
	t.Log("shown: 3 changes kept while full, 3 stored after")
}

// Leaving the page asks only while something is not stored.
func TestRowB26_ClosingAsksOnlyWhileSomethingIsUnsaved(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	between := startFaults(t, prog)
	p := open(t, 1280, 800)
	asked := p.askedOnLeaving()
	path := openDemo(t, p, &program{url: between.url})

	p.drag(56, 24, 50, 24, 0)
	p.settled()
	p.visit(between.url + "/help")
	if n := asked.Load(); n != 0 {
		t.Errorf("with everything stored leaving asked %d times", n)
	}
	p.visit(between.url + path)
	p.until("window.evenfall")
	p.settled()
	between.let(kept)
	p.drag(50, 24, 46, 24, altKey)
	until(t, "the step is on its way", func() bool { return between.waiting.Load() == 1 })
	p.excuse(toldAway, "Failed to fetch")
	p.visit(between.url + "/help") // the question is answered with yes
	until(t, "leaving asks", func() bool { return asked.Load() == 1 })
	between.let(passes)
	p.visit(between.url + path) // what was kept is stored or back
	p.until("window.evenfall")
	p.settled()
	if x := eval[float64](p, `evenfall.state.plan.heads["h2-8"].x_ft`); x != 46 {
		t.Errorf("after leaving with a step on its way head 2-8 is at x %v, want 46", x)
	}
	p.visit(between.url + "/help")
	if n := asked.Load(); n != 1 {
		t.Errorf("with everything stored again leaving asked: %d in all", n)
	}
	t.Log("shown: asked 0 times with all stored, once with 1 step on its way")
}

// askedOnLeaving counts how often the browser asks whether to leave the page.
func (p *tab) askedOnLeaving() *atomic.Int32 {
	var n atomic.Int32
	boxes := chromedp.Events(p.ctx, page.JavascriptDialogOpening)
	go func() {
		for box, err := range boxes {
			if err != nil {
				return
			}
			if box.Type == page.DialogTypeBeforeunload {
				n.Add(1)
			}
		}
	}()
	return &n
}

// watchKept has the page note, whenever it sends a step, which steps its database
// in the browser holds at that moment.
const watchKept = `(() => {
	window.keptWhenSent = [];
	const send = window.fetch;
	window.fetch = async (url, how) => {
		if (how && how.method === "PATCH") {
			const db = await new Promise((ok, no) => { const o = indexedDB.open("evenfall"); o.onsuccess = () => ok(o.result); o.onerror = () => no(o.error); });
			const all = await new Promise((ok, no) => { const g = db.transaction("unsent").objectStore("unsent").getAll(); g.onsuccess = () => ok(g.result); g.onerror = () => no(g.error); });
			db.close();
			window.keptWhenSent.push(decodeURIComponent(how.headers["Evenfall-Label"]) + ": " + all.flatMap((k) => k.steps.map((s) => s.label)).join(", "));
		}
		return send(url, how);
	};
	return true;
})()`

func TestRowB26_AStepIsKeptInTheBrowserBeforeItIsSent(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	eval[bool](p, watchKept)
	p.drag(56, 24, 50, 24, 0)
	p.settled()
	p.press(kb.ArrowLeft)
	p.settled()
	for i, noted := range eval[[]string](p, "window.keptWhenSent") {
		label, held, _ := strings.Cut(noted, ": ")
		if !strings.Contains(held, label) {
			t.Errorf("step %d, %q, was sent while the browser held %q", i, label, held)
		}
	}
	if n := eval[int](p, "window.keptWhenSent.length"); n < 2 {
		t.Errorf("%d steps were seen being sent, want two", n)
	}
	t.Logf("shown: %d of %[1]d steps kept before they were sent", eval[int](p, "window.keptWhenSent.length"))
}

// A plan and a step larger than what a browser sends from a page that closes
// (65,536 bytes, measured) are not lost when the tab is killed: the next one has
// them again.
func TestRowB26_ClosingALargePlanLosesNothing(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	between := startFaults(t, prog)
	p := open(t, 1280, 800)
	path := openDemo(t, p, &program{url: between.url})
	p.visit("about:blank")
	p.excuse(toldFull, toldAway)

	doomed, kill := p.doomed(1280, 800)
	doomed.visit(between.url + path)
	doomed.until("window.evenfall")
	doomed.settled()
	between.let(full)
	size := eval[int](doomed, `(() => {
		const plan = evenfall.board.committed, notes = { ...plan.notes };
		for (let i = 0; i < 120; i++) notes["big" + i] = { text: "Note " + i + " " + "wet ".repeat(400), x_ft: i % 60, y_ft: Math.floor(i / 60) };
		void evenfall.board.commit("Write many notes", { ...plan, notes });
		return JSON.stringify(notes).length;
	})()`)
	if size < 65_536*2 {
		t.Fatalf("the step is only %d bytes", size)
	}
	doomed.drag(56, 24, 50, 24, 0)
	doomed.until(`document.querySelector("#saved").textContent === "Disk full – your last 2 changes are kept in this browser"`)
	kill()
	between.let(passes)

	p.visit(between.url + path)
	p.until("window.evenfall")
	p.until(`evenfall.state.plan.notes && evenfall.state.plan.notes.big119`)
	p.settled()
	if text := eval[string](p, `document.querySelector("#notice").textContent`); !strings.Contains(text, "2 changes from last time had not been stored. They are back.") {
		t.Errorf("the page says %q", text)
	}
	p.shot("changes-from-last-time")
	got := eval[string](p, `fetch("/api`+path+`").then((r) => r.json()).then((s) => [s.rev, s.doc.heads["h2-8"].x_ft, Object.keys(s.doc.notes).filter((k) => k.startsWith("big")).length].join(" "))`)
	if got != "3 50 120" {
		t.Errorf("stored are revision, place and notes %s, want 3 50 120", got)
	}
	left := eval[int](p, `new Promise((ok) => { const o = indexedDB.open("evenfall"); o.onsuccess = () => { const g = o.result.transaction("unsent").objectStore("unsent").count(); g.onsuccess = () => ok(g.result); }; })`)
	if left != 0 {
		t.Errorf("with everything stored the browser still keeps %d journals", left)
	}
	t.Logf("shown: a step of %d KiB and one more back after the tab was killed", size>>10)
}

// doomed makes a tab beside this one that can be killed, without any of the
// questions a page may ask.
func (p *tab) doomed(width, height int64) (*tab, func()) {
	p.t.Helper()
	id := chromedp.FromContext(p.ctx).BrowserContextID
	ctx, cancel := chromedp.NewContext(browser, chromedp.WithExistingBrowserContext(id))
	p.t.Cleanup(cancel)
	d := &tab{t: p.t, ctx: ctx, patience: stepLimit, heard: make(chan string, 8)}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, height)); err != nil {
		p.t.Fatal(err)
	}
	return d, cancel
}
