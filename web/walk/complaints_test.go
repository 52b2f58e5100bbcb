//go:build browser

package walk

import (
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// tellRefusals has the page say what its content policy refused, whatever the
// browser itself makes of it.
const tellRefusals = `addEventListener("securitypolicyviolation", (e) => console.error("refused by the content policy: " + e.violatedDirective + " " + e.blockedURI + " " + e.sample))`

// sentinel begins a console text by which a test knows it has heard all before it.
const sentinel = "all heard "

// watch keeps what the browser complains about: exceptions, refused content,
// failed loads, and message boxes, of which the pages have none.
func (p *tab) watch() {
	p.t.Helper()
	params := page.AddScriptToEvaluateOnNewDocumentParams{Source: tellRefusals}
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, params); err != nil {
		p.t.Fatal(err)
	}
	console := chromedp.Console(p.ctx)
	boxes := chromedp.Events(p.ctx, page.JavascriptDialogOpening)
	go func() {
		for m, err := range console {
			if err != nil {
				return
			}
			p.hear(string(m.Type), m.Text)
		}
	}()
	go func() {
		for box, err := range boxes {
			if err != nil {
				return
			}
			if box.Type != page.DialogTypeBeforeunload {
				p.complain(fmt.Sprintf("message box %s: %s", box.Type, box.Message))
			}
			if _, err := chromedp.Call(p.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true}); err != nil {
				return
			}
		}
	}()
}

func (p *tab) hear(kind, text string) {
	if strings.HasPrefix(text, sentinel) {
		p.heard <- text
		return
	}
	switch kind {
	case "error", "warning", "assert", string(chromedp.ConsoleException):
		p.complain(kind + ": " + text)
	}
}

func (p *tab) complain(text string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.problems = append(p.problems, text)
}

// excuse lets the browser complain in texts that contain one of these: for
// tests that provoke it, such as by stopping the program.
func (p *tab) excuse(texts ...string) { p.excuses = append(p.excuses, texts...) }

// What the browser says when a test provokes it.
const (
	toldNotFound = "status of 404"
	toldStale    = "status of 412"
	toldAway     = "net::ERR_"
	toldNoSocket = "WebSocket connection to"
)

var sentinels atomic.Int64

// quiet fails the test if the browser complained without an excuse. It runs at
// the end of every tab.
func (p *tab) quiet() {
	p.t.Helper()
	p.hearAll()
	p.mu.Lock()
	defer p.mu.Unlock()
next:
	for _, text := range p.problems {
		for _, e := range p.excuses {
			if strings.Contains(text, e) {
				continue next
			}
		}
		p.t.Errorf("the browser complained: %s", text)
	}
}

// hearAll waits until everything the page has said so far was heard.
func (p *tab) hearAll() {
	p.t.Helper()
	mark := fmt.Sprint(sentinel, sentinels.Add(1))
	if _, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool](fmt.Sprintf("(console.debug(%q), true)", mark))); err != nil {
		p.t.Errorf("the page cannot be asked any more: %v", err)
		return
	}
	for {
		select {
		case text := <-p.heard:
			if text == mark {
				return
			}
		case <-time.After(stepLimit):
			p.t.Error("the console was not heard to the end")
			return
		}
	}
}
