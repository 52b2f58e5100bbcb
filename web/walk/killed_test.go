//go:build browser

package walk

import (
	"context"
	"encoding/json"
	"fmt"
	"net/url"
	"reflect"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/inspector"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// keptSteps counts the unsent steps in the browser's own database.
const keptSteps = `new Promise((ok, no) => {
	const o = indexedDB.open("evenfall");
	o.onerror = () => no(o.error);
	o.onsuccess = () => {
		const g = o.result.transaction("unsent").objectStore("unsent").getAll();
		g.onsuccess = () => { o.result.close(); ok(g.result.flatMap((k) => k.steps).length); };
	};
})`

// A tab that dies with twenty steps unsent, while the program is away, loses
// none: with the program back the next tab stores all twenty, each as the step
// it was, and the plan is the one the dead tab showed.
func TestRowA17_TwentyUnsentStepsOutliveTheirTab(t *testing.T) {
	const steps = 20
	data := t.TempDir()
	prog := startProgram(t, data)
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	p.visit("about:blank")

	doomed, closeIt := p.doomed(1280, 800)
	doomed.visit(prog.url + path)
	doomed.until("window.evenfall")
	doomed.settled()
	prog.stop()
	for i := range steps {
		at := eval[[]float64](doomed, `(({ x_ft, y_ft }) => [x_ft, y_ft])(evenfall.state.plan.heads["h2-8"])`)
		east := 3.0
		if i%2 == 0 {
			east = -4
		}
		doomed.drag(at[0], at[1], at[0]+east, at[1], 0)
		changes := fmt.Sprintf("%d changes", i+1)
		if i == 0 {
			changes = "1 change"
		}
		doomed.until(fmt.Sprintf(`document.querySelector("#saved").textContent === "Not saved – retrying (%s kept here)"`, changes))
	}
	if n := eval[int](doomed, keptSteps); n != steps {
		t.Fatalf("the page says %d changes are kept, the browser's database holds %d", steps, n)
	}
	mine := anyJSON(t, eval[string](doomed, `JSON.stringify(evenfall.state.plan)`))
	doomed.crash()
	closeIt()

	again := startProgramAt(t, data, strings.TrimPrefix(prog.url, "http://"))
	if again.url != prog.url {
		t.Fatalf("the program came back at %s, not at %s", again.url, prog.url)
	}
	p.visit(again.url + path)
	p.until("window.evenfall")
	p.until(fmt.Sprintf("evenfall.state.rev === %d", steps+1))
	p.settled()
	if text := eval[string](p, `document.querySelector("#notice").textContent`); !strings.Contains(text, "20 changes from last time had not been stored. They are back.") {
		t.Errorf("the page says %q", text)
	}
	if stored := anyJSON(t, eval[string](p, `fetch("/api`+path+`").then((r) => r.json()).then((s) => JSON.stringify(s.doc))`)); !reflect.DeepEqual(stored, mine) {
		t.Error("the stored plan is not the one the tab that died had")
	}
	if shown := anyJSON(t, eval[string](p, `JSON.stringify(evenfall.state.plan)`)); !reflect.DeepEqual(shown, mine) {
		t.Error("the shown plan is not the one the tab that died had")
	}
	moves := eval[int](p, `fetch("/api`+path+`/history").then((r) => r.json()).then((h) => h.steps.filter((s) => s.label === "Move head 2-8").length)`)
	if moves != steps {
		t.Errorf("the history has %d of %d steps", moves, steps)
	}
	if n := eval[int](p, keptSteps); n != 0 {
		t.Errorf("with everything stored the browser still keeps %d steps", n)
	}
	t.Logf("shown: %d of %d unsent steps of a killed tab stored, plan equal", moves, steps)
}

// crash ends the process that draws the page, as a kill does: it runs nothing more.
func (p *tab) crash() {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	gone := make(chan struct{})
	var once sync.Once
	err := chromedp.Listen(ctx, func(ev any) {
		if _, dead := ev.(*inspector.EventTargetCrashed); dead {
			once.Do(func() { close(gone) })
		}
	})
	if err != nil {
		p.t.Fatal(err)
	}
	go func() { _, _ = chromedp.Call(ctx, page.Crash, cdp.Empty{}) }() // it is never answered: whom it asks is gone
	select {
	case <-gone:
	case <-ctx.Done():
		p.t.Fatal("the tab does not die")
	}
}

func anyJSON(t *testing.T, text string) any {
	t.Helper()
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// asked notes what a tab asks for over the network.
type asked struct {
	mu  sync.Mutex
	all []string
}

func (a *asked) note(address string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.all = append(a.all, address)
}

func (a *asked) list() []string {
	a.mu.Lock()
	defer a.mu.Unlock()
	return append([]string(nil), a.all...)
}

// asks follows every request and channel of the tab from now on.
func (p *tab) asks() *asked {
	p.t.Helper()
	a := &asked{}
	err := chromedp.Listen(p.ctx, func(ev any) {
		switch ev := ev.(type) {
		case *network.EventRequestWillBeSent:
			a.note(ev.Request.URL)
		case *network.EventWebSocketCreated:
			a.note(ev.URL)
		}
	})
	if err != nil {
		p.t.Fatal(err)
	}
	if _, err := chromedp.Call(p.ctx, network.Enable, network.EnableParams{}); err != nil {
		p.t.Fatal(err)
	}
	return a
}

// In a whole session, from the list of plans over a new plan with a picture, the
// board, its panels, files, paper and Help, the browser asks the program for
// everything and nobody else for anything.
func TestRowB31_TheBrowserAsksOnlyTheProgram(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	saw := p.asks()
	p.newPlan(prog, "Traced")
	p.click("#empty-picture")
	p.lay(pictureFile(t))
	path := openDemo(t, p, prog)
	p.drag(56, 24, 44, 24, 0)
	p.settled()
	for _, tab := range []string{"zones", "parts", "objects", "history", "layers"} {
		p.click("#tab-" + tab)
		p.frame()
	}
	p.settled()
	for _, file := range []string{"plan.json", "parts.csv", "heads.csv"} {
		if p.fetch(path+"/files/"+file) == "" {
			t.Errorf("%s is empty", file)
		}
	}
	p.paper("asked-of-nobody")
	p.visit(prog.url + "/help")
	p.frame()
	p.visit(prog.url)
	p.until(`document.querySelector('a[href^="/plans/"]')`)
	p.frame()

	own, within, channels := 0, 0, 0
	var elsewhere []string
	for _, address := range saw.list() {
		u, err := url.Parse(address)
		switch {
		case err == nil && (u.Scheme == "data" || u.Scheme == "blob"):
			within++ // held in the page: nobody is asked
		case err == nil && u.Scheme == "ws" && "http://"+u.Host == prog.url:
			channels++
		case err == nil && u.Scheme+"://"+u.Host == prog.url:
			own++
		default:
			elsewhere = append(elsewhere, address)
		}
	}
	if len(elsewhere) > 0 {
		t.Errorf("%d requests went elsewhere: %v", len(elsewhere), elsewhere)
	}
	// If the ear were deaf, nobody would be asked for anything.
	if own < 20 || channels < 2 {
		t.Errorf("of the session %d requests and %d channels to the program were noted, want at least 20 and 2", own, channels)
	}
	for _, must := range []string{"/picture", "/help", "/files/plan.json", "/static/board.js"} {
		if !strings.Contains(strings.Join(saw.list(), "\n"), must) {
			t.Errorf("the session never asked for …%s", must)
		}
	}
	t.Logf("shown: %d requests and %d channels to the program, %d elsewhere (%d within the page)", own, channels, len(elsewhere), within)
}
