//go:build browser

package walk

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

var browser context.Context

// startBrowser starts the one Chromium of the run. Each test gets a browser
// context (cookies, storage) of its own in it.
func startBrowser(dir string) (func(), error) {
	ctx, stop, err := chromiumOn(filepath.Join(dir, "profile"))
	browser = ctx
	return stop, err
}

// chromiumOn starts a Chromium that keeps what it keeps in a folder.
func chromiumOn(profile string, more ...chromedp.ExecAllocatorOption) (context.Context, func(), error) {
	path, err := chromium()
	if err != nil {
		return nil, nil, err
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.UserDataDir(profile),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("host-resolver-rules", "MAP evil.test 127.0.0.1"),
		chromedp.Flag("force-color-profile", "srgb"), chromedp.Flag("font-render-hinting", "none"),
	)
	alloc, cancelAlloc := chromedp.NewExecAllocator(context.Background(), append(options, more...)...)
	ctx, cancel := chromedp.NewContext(alloc)
	// The first Do must carry no deadline, or the browser dies with it.
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		cancel()
		cancelAlloc()
		return nil, nil, err
	}
	return ctx, func() { cancel(); cancelAlloc() }, nil
}

func chromium() (string, error) {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			return p, nil
		}
	}
	return "", fmt.Errorf("no Chromium on this machine: go run ./cmd/dev test installs it")
}

// stepLimit is how long one action may take before the test gives up. It is a
// guard against hanging, never a measure of speed.
const stepLimit = 20 * time.Second

// tab is one page of the browser, driven by a test.
type tab struct {
	t        *testing.T
	ctx      context.Context
	mu       sync.Mutex
	problems []string
	excuses  []string
	patience time.Duration // how long a state is waited for
	heard    chan string   // sentinels seen in the console
	least    float64       // the smallest side of a target that small has seen, in pixels; 0: none yet
}

// open makes a tab of the given size in a fresh browser context.
func open(t *testing.T, width, height int64) *tab {
	t.Helper()
	return openIn(t, browser, width, height, chromedp.WithNewBrowserContext())
}

// another opens a second tab beside the first, in the same browser context.
func (p *tab) another(width, height int64) *tab {
	p.t.Helper()
	id := chromedp.FromContext(p.ctx).BrowserContextID
	return openIn(p.t, browser, width, height, chromedp.WithExistingBrowserContext(id))
}

func openIn(t *testing.T, parent context.Context, width, height int64, option chromedp.ContextOption) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(parent, option)
	t.Cleanup(cancel)
	p := &tab{t: t, ctx: ctx, patience: stepLimit, heard: make(chan string, 8)}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, height)); err != nil {
		t.Fatal(err)
	}
	p.media("light")
	p.watch()
	t.Cleanup(func() {
		p.quiet()
		if t.Failed() {
			p.dump()
		}
	})
	return p
}

func (p *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	if err := chromedp.Do(ctx, actions...); err != nil {
		p.t.Fatal(err)
	}
}

// media sets the colour scheme, with motion reduced.
func (p *tab) media(scheme string) {
	p.t.Helper()
	params := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"},
	}}
	if _, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, params); err != nil {
		p.t.Fatal(err)
	}
}

func (p *tab) visit(url string) { p.t.Helper(); p.do(chromedp.Navigate(url)) }

// eval runs JavaScript in the page and reads its value.
func eval[T any](p *tab, js string) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("evaluating %s: %v", js, err)
	}
	return v
}

// until waits for a JavaScript condition: a state, never a time. A page on its
// way to another has no answer yet and is asked again.
func (p *tab) until(js string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	var last error
	for ctx.Err() == nil {
		yes, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("!!("+js+")"))
		if err == nil && yes {
			return
		}
		last = err
		time.Sleep(15 * time.Millisecond)
	}
	p.t.Fatalf("never became true: %s (%v)", js, last)
}

// settled waits until the board has stored and drawn everything it was told, the
// panels too: one that shows a change late would take back what is filled in meanwhile.
func (p *tab) settled() {
	p.t.Helper()
	p.until(`document.documentElement.dataset.saved === "yes" && document.documentElement.dataset.painted === document.documentElement.dataset.rev && !(evenfall.stillOwed() > 0)`)
}

// press sends one key with modifiers to whatever has the focus.
func (p *tab) press(key string, mods ...chromedp.Modifier) {
	p.t.Helper()
	p.do(chromedp.KeyEvent(key, chromedp.KeyModifiers(mods...)))
}

// write types a text into whatever has the focus. Each character goes as one
// key with its text, so that a page that takes the key also keeps the text.
func (p *tab) write(text string) {
	p.t.Helper()
	for _, r := range text {
		p.keyEvent(input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyDown, Key: string(r), Text: string(r), UnmodifiedText: string(r)})
		p.keyEvent(input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyUp, Key: string(r)})
	}
}

func (p *tab) keyEvent(params input.DispatchKeyEventParams) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	if _, err := chromedp.Call(ctx, input.DispatchKeyEvent, params); err != nil {
		p.t.Fatal(err)
	}
}

func (p *tab) escape() { p.t.Helper(); p.press(kb.Escape) }

// enter presses Enter as one key with its text. Sent apart, the text would reach
// what the page has focused meanwhile, though the page took the key.
func (p *tab) enter() {
	p.t.Helper()
	key := input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyDown, Key: "Enter", Code: "Enter", WindowsVirtualKeyCode: 13, Text: "\r", UnmodifiedText: "\r"}
	p.keyEvent(key)
	key.Type, key.Text, key.UnmodifiedText = input.DispatchKeyEventTypeKeyUp, "", ""
	p.keyEvent(key)
}

// fill replaces the value of a field, as typing over it would, and leaves it.
func (p *tab) fill(selector, value string) {
	p.t.Helper()
	p.until(fmt.Sprintf("document.querySelector(%q)", selector))
	eval[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.focus(); if (e.select) e.select(); return true; })()`, selector))
	p.insert(value)
	eval[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`, selector))
}

// insert puts a text where the caret is, as pasting would.
func (p *tab) insert(text string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	if _, err := chromedp.Call(ctx, input.InsertText, input.InsertTextParams{Text: text}); err != nil {
		p.t.Fatal(err)
	}
}

// click presses a control by selector.
func (p *tab) click(selector string) {
	p.t.Helper()
	p.until(fmt.Sprintf("document.querySelector(%q)", selector))
	p.do(chromedp.Click(selector))
}

// pixels asks the board where a place in feet is on the screen.
func (p *tab) pixels(x, y float64) (float64, float64) {
	p.t.Helper()
	at := eval[[]float64](p, fmt.Sprintf("window.evenfall.pixels([%v, %v])", x, y))
	return at[0], at[1]
}

// mouse sends one pointer event at a place in feet.
func (p *tab) mouse(kind input.DispatchMouseEventType, x, y float64, mods int64) {
	p.t.Helper()
	px, py := p.pixels(x, y)
	p.mouseAt(kind, px, py, mods)
}

func (p *tab) mouseAt(kind input.DispatchMouseEventType, px, py float64, mods int64) {
	p.t.Helper()
	params := input.DispatchMouseEventParams{Type: kind, X: px, Y: py, Modifiers: mods}
	switch kind {
	case input.DispatchMouseEventTypeMousePressed:
		params.Button, params.Buttons, params.ClickCount = input.MouseButtonLeft, 1, 1
	case input.DispatchMouseEventTypeMouseReleased:
		params.Button, params.ClickCount = input.MouseButtonLeft, 1
	case input.DispatchMouseEventTypeMouseMoved:
		params.Buttons = mods >> 8 // held button, see drag
		params.Modifiers = mods & 0xff
		if params.Buttons != 0 {
			params.Button = input.MouseButtonLeft
		}
	}
	ctx, cancel := context.WithTimeout(p.ctx, p.patience)
	defer cancel()
	if _, err := chromedp.Call(ctx, input.DispatchMouseEvent, params); err != nil {
		p.t.Fatal(err)
	}
}

// The modifier bits of the protocol.
const (
	altKey   = 1
	ctrlKey  = 2
	shiftKey = 8
	held     = 1 << 8 // left button down during a move
)

// tap clicks a place on the board, in feet.
func (p *tab) tap(x, y float64, mods int64) {
	p.t.Helper()
	p.mouse(input.DispatchMouseEventTypeMouseMoved, x, y, mods)
	p.mouse(input.DispatchMouseEventTypeMousePressed, x, y, mods)
	p.mouse(input.DispatchMouseEventTypeMouseReleased, x, y, mods)
}

// drag pulls from one place to another in steps, in feet.
func (p *tab) drag(x0, y0, x1, y1 float64, mods int64) {
	p.t.Helper()
	p.mouse(input.DispatchMouseEventTypeMouseMoved, x0, y0, mods)
	p.mouse(input.DispatchMouseEventTypeMousePressed, x0, y0, mods)
	const steps = 8
	for i := 1; i <= steps; i++ {
		f := float64(i) / steps
		p.mouse(input.DispatchMouseEventTypeMouseMoved, x0+(x1-x0)*f, y0+(y1-y0)*f, mods|held)
	}
	p.mouse(input.DispatchMouseEventTypeMouseReleased, x1, y1, mods)
}

// shot keeps a picture of the page in $EVENFALL_SHOTS, when that is set.
func (p *tab) shot(name string) []byte {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	if dir := os.Getenv("EVENFALL_SHOTS"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
			p.t.Error(err)
		}
	}
	return png
}

// dump says what the page looked like when a test failed.
func (p *tab) dump() {
	if p.ctx.Err() != nil {
		return
	}
	dir := os.Getenv("EVENFALL_SHOTS")
	if dir == "" {
		dir = os.TempDir()
	}
	name := filepath.Join(dir, strings.ReplaceAll(p.t.Name(), "/", "_")+"-failed.png")
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	if png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot()); err == nil {
		if os.WriteFile(name, png, 0o644) == nil {
			p.t.Logf("picture of the failure: %s", name)
		}
	}
	if state, err := chromedp.Run(ctx, chromedp.Evaluate[string](`JSON.stringify({url: location.href, data: {...document.documentElement.dataset}, focus: document.activeElement && document.activeElement.outerHTML.slice(0, 200), status: (document.querySelector("#status") || {}).textContent})`)); err == nil {
		p.t.Logf("page: %s", state)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, m := range p.problems {
		p.t.Logf("console: %s", m)
	}
}

// axeRun runs the accessibility engine. It joins the texts of an element without
// a space, so that the zone's number and the tag in the mark of head 3-1 read
// "33-1", which no name holds. For marks on the board each text is looked for in
// the name by itself instead.
const axeRun = `(async () => {
	const found = await axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] });
	const spoken = (n) => {
		const el = document.querySelector(n.target[0]), name = el.getAttribute("aria-label").toLowerCase();
		return el.closest("#scene") && [...el.querySelectorAll("text")].every((t) => name.includes(t.textContent.toLowerCase().replace(/…$/, "")));
	};
	for (const v of found.violations) {
		if (v.id === "label-content-name-mismatch") v.nodes = v.nodes.filter((n) => !spoken(n));
	}
	return JSON.stringify(found.violations.filter((v) => v.nodes.length > 0).map((v) => ({
		id: v.id, impact: v.impact, help: v.help,
		nodes: v.nodes.slice(0, 5).map((n) => n.html.slice(0, 160) + " :: " + (n.failureSummary || "").slice(0, 300)),
	})));
})()`

// axe runs the accessibility engine on the page and fails on anything it finds.
func (p *tab) axe(label string) {
	p.t.Helper()
	engine, err := os.ReadFile("../node_modules/axe-core/axe.min.js")
	if err != nil {
		p.t.Fatalf("axe-core is installed by go run ./cmd/dev test: %v", err)
	}
	eval[bool](p, string(engine)+"; true")
	found := eval[string](p, axeRun)
	var violations []struct {
		ID, Impact, Help string
		Nodes            []string
	}
	if err := json.Unmarshal([]byte(found), &violations); err != nil {
		p.t.Fatal(err)
	}
	for _, v := range violations {
		p.t.Errorf("%s: %s (%s): %s\n  %s", label, v.ID, v.Impact, v.Help, strings.Join(v.Nodes, "\n  "))
	}
}
