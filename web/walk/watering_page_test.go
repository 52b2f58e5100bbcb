//go:build browser

package walk

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// scripts switches the scripts of pages on or off, as a user may.
func (p *tab) scripts(on bool) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, stepLimit)
	defer cancel()
	params := emulation.SetScriptExecutionDisabledParams{Value: !on}
	if _, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, params); err != nil {
		p.t.Fatal(err)
	}
}

// wateredDemo gives the demo a climate and the days it is watered on, and answers where
// it is.
func wateredDemo(t *testing.T, p *tab, prog *program, zone int, days string) string {
	t.Helper()
	path := openDemo(t, p, prog)
	eval[bool](p, fmt.Sprintf(`evenfall.board.commit("Climate and days", { ...evenfall.state.plan, watering: { ...evenfall.state.plan.watering, et_zone: %d, days: %q.split(" ") } }).then(() => true)`, zone, days))
	p.settled()
	return path
}

// The page of the program works without a script: months are links, every chain opens,
// what does not fit is said, and its files are there.
func TestTheProgramsPageNeedsNoScript(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := wateredDemo(t, p, prog, 14, "mon thu")
	p.scripts(false)
	p.visit(prog.url + path + "/program")
	p.until(`document.querySelector("body.program")`)
	if eval[bool](p, `!!window.evenfall`) {
		t.Error("scripts run")
	}
	says := eval[string](p, `document.querySelector(".program-verdict").innerText`)
	for _, want := range []string{"It does not fit", "Why not", "h 00 min are allowed", "The soil of Front lawn lasts", "What would make it fit", "One more day"} {
		if !strings.Contains(says, want) {
			t.Errorf("the verdict does not say %q: %s", want, says)
		}
	}
	p.shot("program-no-script")
	if at := eval[string](p, `document.querySelector(".program-nav [aria-current]").textContent`); at != "July" {
		t.Errorf("the page opens with %s", at)
	}
	july := eval[string](p, `document.querySelector(".program-cards").innerText`)
	eval[bool](p, `document.querySelector('.program-nav a[href$="?month=april"]').click() ?? true`)
	p.until(`location.search === "?month=april" && document.querySelector(".program-nav [aria-current]")?.textContent === "April"`)
	if april := eval[string](p, `document.querySelector(".program-cards").innerText`); april == july {
		t.Errorf("April is keyed in as July: %s", april)
	}
	first := `[...document.querySelectorAll(".program-chain")].find((d) => d.querySelector("summary").textContent.startsWith("Station 1"))`
	eval[bool](p, first+`.querySelector("summary").click() ?? true`)
	p.until(first + `.open`)
	if chain := eval[string](p, first+`.innerText`); !strings.Contains(chain, "Reference ET of April") || !strings.Contains(chain, "Zone 14 of the public table") {
		t.Errorf("the chain of April: %s", chain)
	}
	p.shot("program-april-chain")
	p.scripts(true)
	p.visit(prog.url + path + "/program")
	links := eval[[]string](p, `[...document.querySelectorAll(".downloads a")].map((a) => a.getAttribute("href"))`)
	for _, end := range []string{"program.csv", "program.ics", "owner.pdf"} {
		found := ""
		for _, l := range links {
			if strings.HasSuffix(l, end) {
				found = l
			}
		}
		if found == "" {
			t.Errorf("of the files there is no %s: %v", end, links)
			continue
		}
		if b := p.fetchBytes(found); len(b) < 500 {
			t.Errorf("%s has %d bytes", end, len(b))
		}
	}
	csv := p.fetch(path + "/files/program.csv")
	if !strings.Contains(csv, "Front lawn, west") {
		t.Errorf("program.csv does not name the first station: %.300s", csv)
	}
	if ics := p.fetch(path + "/files/program.ics"); !strings.HasPrefix(ics, "BEGIN:VCALENDAR") || !strings.Contains(ics, "RRULE") {
		t.Errorf("program.ics is no calendar of weekly rules: %.300s", ics)
	}
}

// textsCross lists texts of one picture that lie on each other, or leave it.
const textsCross = `[...document.querySelectorAll("svg.soil-chart")].filter((s) => s.checkVisibility()).flatMap((s) => {
	const of = s.getBoundingClientRect(), all = [...s.querySelectorAll("text")].map((e) => [e.textContent, e.getBoundingClientRect()]).filter(([t]) => t);
	const out = all.filter(([, b]) => b.left < of.left - 1 || b.right > of.right + 1 || b.top < of.top - 1 || b.bottom > of.bottom + 1).map(([t]) => s.getAttribute("aria-label").slice(0, 40) + ": " + t + " leaves the picture");
	all.forEach(([t, a], i) => all.slice(i + 1).forEach(([u, b]) => {
		if (Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 2) out.push(s.getAttribute("aria-label").slice(0, 40) + ": " + t + " lies on " + u);
	}));
	return out;
}).slice(0, 8).join("\n")`

// fits measures what is shown: nothing is wider than the window, no word is cut, no text
// of a picture lies on another.
func (p *tab) fits(name string) {
	p.t.Helper()
	p.frame()
	if over := p.wider(); over > 0 {
		p.t.Errorf("%s is %d px wider than the window", name, over)
	}
	if got := eval[string](p, cut); got != "" {
		p.t.Errorf("%s: words are cut:\n%s", name, got)
	}
	if got := eval[string](p, textsCross); got != "" {
		p.t.Errorf("%s: in pictures:\n%s", name, got)
	}
}

// Page and bench of the watering program fit a telephone, the dark, and text twice as
// large: nothing scrolls sideways but tables by themselves, nothing is cut or overlaid.
func TestTheWateringProgramFitsNarrowAndLarge(t *testing.T) {
	for _, c := range []struct {
		name          string
		width, height int64
		text          int64 // usual size of text, in pixels
		scheme        string
	}{
		{"360 px", 360, 740, 16, "light"}, {"360 px, dark", 360, 740, 16, "dark"},
		{"text of 200 %", 1280, 800, 32, "light"}, {"zoomed to 200 %, dark", 640, 400, 16, "dark"},
	} {
		t.Run(c.name, func(t *testing.T) {
			prog := startProgram(t, t.TempDir())
			p := open(t, c.width, c.height)
			p.textSize(c.text)
			p.media(c.scheme)
			path := wateredDemo(t, p, prog, 14, "mon thu")
			p.wateringOpen()
			for _, key := range []string{"climate", "plants", "controller"} {
				p.wateringPart(key)
			}
			eval[bool](p, `(document.querySelectorAll("#water details").forEach((d) => { d.open = true; }), true)`)
			p.fits("bench")
			p.axe("watering bench, " + c.name)
			p.shot("watering-bench-" + c.name)
			p.visit(prog.url + path + "/program")
			p.until(`document.querySelector("body.program")`)
			eval[bool](p, `(document.querySelectorAll("details").forEach((d) => { d.open = true; }), true)`)
			p.fits("page of the program")
			if got := eval[string](p, hiddenFocus); got != "" {
				t.Errorf("page of the program: hidden when focused:\n%s", got)
			}
			p.axe("page of the program, " + c.name)
			p.shot("program-" + c.name)
			for i, part := range []string{".program-cards", ".program-year", ".program-chain", ".soil"} {
				eval[bool](p, fmt.Sprintf(`(document.querySelector(%q).scrollIntoView(), true)`, part))
				p.shot(fmt.Sprintf("program-%s-%d", c.name, i+1))
			}
		})
	}
}
