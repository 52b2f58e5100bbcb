//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// What a newcomer must see without looking for it, at the widths of a desk, a
// laptop and a tablet: the view's buttons on the board, a plan's whole name,
// the names of the tools, and findings in their own tab.
func TestRowA21_WhatANewcomerLooksForIsInSight(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, size := range []struct {
		w, h   int64
		coarse bool
		bars   float64 // most of the height that may stand above the board
	}{{1280, 800, false, 100}, {1024, 768, true, 120}, {768, 1024, true, 250}} {
		t.Run(fmt.Sprint(size.w), func(t *testing.T) {
			p := open(t, size.w, size.h)
			if size.coarse {
				p.coarse()
			}
			openDemo(t, p, prog)
			p.settled()
			for _, scheme := range []string{"light", "dark"} {
				p.media(scheme)
				p.shot(fmt.Sprintf("sight-%d-%s", size.w, scheme))
			}
			least := 32.0
			if size.coarse {
				least = 44
			}
			for _, label := range []string{"Zoom in", "Zoom out", "Whole plan"} {
				if !eval[bool](p, fmt.Sprintf("%s(%q) !== null", saying, label)) {
					t.Errorf("%s cannot be seen", label)
				}
				if s := eval[float64](p, fmt.Sprintf(`(() => { const r = document.querySelector('.board-view [title^=%q]').getBoundingClientRect(); return Math.min(r.width, r.height); })()`, label)); s < least {
					t.Errorf("%s is %.0f px, want %.0f", label, s, least)
				}
			}
			if top := eval[float64](p, `document.querySelector("#board").getBoundingClientRect().top`); top > size.bars {
				t.Errorf("bars take %.0f px above the board, want at most %.0f", top, size.bars)
			}
			if cut := eval[bool](p, `(() => { const e = document.querySelector("#plan-name"); return e.scrollHeight > e.clientHeight + 1 || e.scrollWidth > e.clientWidth + 1; })()`); cut {
				t.Error("the plan's name is cut")
			}
			if size.w != 1024 && eval[bool](p, `[...document.querySelectorAll("#tools .label")].some((e) => e.getBoundingClientRect().width < 8)`) {
				t.Error("a tool has no name")
			}
			p.click("#tab-zones")
			p.shot(fmt.Sprintf("sight-zones-%d", size.w))
			p.axe(fmt.Sprintf("at %d", size.w))
			if size.w != 1280 {
				return
			}
			if y := eval[float64](p, `document.querySelector("#findings .cause").getBoundingClientRect().top`); y > 620 {
				t.Errorf("the first finding begins at %.0f px of 800", y)
			}
			p.click("#tab-zones")
			p.click(".more > summary")
			p.until(`document.querySelector(".more table tbody tr")`)
			p.shot("sight-more")
			if room := eval[float64](p, `(() => { const s = document.querySelector("#side").getBoundingClientRect(); return s.bottom - document.querySelector(".more").getBoundingClientRect().top; })()`); room < 400 {
				t.Errorf("More opens in %.0f px", room)
			}
		})
	}
}

// While an earlier state is looked at the view can be moved, what changes the
// plan says why it cannot, and the bar leaves the board to be looked at.
func TestRowA31_AnEarlierStateCanBeLookedAtAllOver(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	changed(t, p, prog)
	p.click(`[data-key="1"]`)
	p.until(`evenfall.board.earlier`)
	if tall := eval[int](p, `document.querySelector("#look-bar").offsetHeight`); tall > 44 {
		t.Errorf("the bar is %d px high, which is more than a line", tall)
	}
	was := eval[float64](p, `evenfall.drawing.view.scale`)
	p.click(`[data-command="view.in"]`)
	p.until(fmt.Sprintf(`evenfall.drawing.view.scale > %v`, was))
	p.click(`[data-command="view.fit"]`)
	for _, id := range []string{"undo", "redo"} {
		p.frame()
		if got := eval[string](p, fmt.Sprintf(`String(document.querySelector("#%s").disabled) + document.querySelector("#%s").title`, id, id)); !strings.HasPrefix(got, "trueYou look at an earlier state") {
			t.Errorf("%s: %s", id, got)
		}
	}
	p.click(`[data-command="tool.head"]`)
	p.until(`document.querySelector("#notice").innerText.includes("You look at an earlier state. Return to the plan first.")`)
	p.shot("looking-back")
	p.media("dark")
	p.shot("looking-back-dark")
	p.media("light")
	p.click("#look-return")
	p.until(`!evenfall.board.earlier && !document.querySelector("#undo").disabled`)
}

// What lies on a locked layer says so where Delete and Lock are looked for, and
// so does what is drawn onto one.
func TestRowA15_ALockedLayerSaysWhy(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.layer("Lock", "ground")
	eval[bool](p, `(evenfall.board.select(["areas/house"]), true)`)
	p.until(`evenfall.state.selection.length === 1`)
	why := "lies on the layer Ground, which is locked"
	p.until(fmt.Sprintf(`document.querySelector(".locked-why").innerText.includes(%q)`, why))
	for _, id := range []string{"edit.delete", "edit.lock"} {
		p.until(fmt.Sprintf(`document.querySelector('.kit [data-command=%q]').title.includes(%q)`, id, why))
	}
	eval[bool](p, `(evenfall.drawing.focus(), true)`)
	p.press(kb.Delete)
	p.until(fmt.Sprintf(`document.querySelector("#notice").innerText.includes(%q)`, why))
	p.shot("locked-why")
	p.click(`[data-command="tool.rectangle"]`)
	p.tap(8, 26, 0)
	p.tap(20, 32, 0)
	p.until(`document.querySelector("#notice").innerText.includes("Ground: locked. What you drew is there")`)
	p.shot("locked-drawn")
}
