//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// openYard opens the page of the yard of the demo, at a place of it, under fingers.
func openYard(t *testing.T, p *tab, prog *program, at string) string {
	t.Helper()
	p.visit(prog.url)
	path := eval[string](p, `document.querySelector('a[href^="/plans/"]').getAttribute("href")`)
	p.visit(prog.url + path + "/yard" + at)
	p.inYard()
	return path
}

// inYard waits until the page of the yard has stored all it was told and shows what
// follows from it.
func (p *tab) inYard() {
	p.t.Helper()
	p.until(`window.evenfall?.yard && evenfall.board.saved.state === "yes" && evenfall.yard.fresh`)
	p.frame()
}

// yardAt goes to a place of the page.
func (p *tab) yardAt(place string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(location.hash = %q, true)`, place))
	p.until(fmt.Sprintf(`location.hash.startsWith(%q)`, place))
	p.inYard()
}

// yardType types into a field of the page, key by key, and stays in it.
func (p *tab) yardType(label, text string) {
	p.t.Helper()
	field := fmt.Sprintf(`document.getElementById([...document.querySelectorAll("#yard-screen label")].find((l) => l.checkVisibility() && l.textContent.trim().startsWith(%q)).htmlFor)`, label)
	p.until(field)
	eval[bool](p, "("+field+".focus(), true)")
	p.write(text)
}

// yardPress presses a button of the page as a finger does.
func (p *tab) yardPress(text string) {
	p.t.Helper()
	p.button("#yard", text)
	p.frame()
}

func (p *tab) yardText() string {
	p.t.Helper()
	return eval[string](p, `document.querySelector("#yard-screen").innerText`)
}

// A battery that dies in the yard, with the program out of reach, takes nothing along:
// steps not stored, the figure half typed and the photograph just taken are all back.
func TestYard_NothingIsLostByADeadBattery(t *testing.T) {
	data := t.TempDir()
	prog := startProgram(t, data)
	p := open(t, 768, 1024)
	path := openYard(t, p, prog, "")
	p.visit("about:blank")

	doomed, closeIt := p.doomed(768, 1024)
	doomed.visit(prog.url + path + "/yard#start/zone/z2")
	doomed.inYard()
	prog.stop()
	doomed.yardType("At rest", "61")
	doomed.enter()
	doomed.yardType("While it runs", "3")
	eval[bool](doomed, `(async () => {
		const c = document.createElement("canvas");
		c.width = 3000; c.height = 1500;
		const file = await new Promise((r) => c.toBlob(r, "image/png"));
		return (await evenfall.post.take([file], "zones/z2")) === null;
	})()`)
	doomed.until(`evenfall.board.saved.state === "no" && !evenfall.board.saved.keeping`)
	doomed.until(`evenfall.post.waiting.length === 1`)
	doomed.crash()
	closeIt()

	again := startProgramAt(t, data, strings.TrimPrefix(prog.url, "http://"))
	p.visit(again.url + path + "/yard")
	p.until(`window.evenfall?.yard?.view && Object.keys(evenfall.board.committed.photos ?? {}).length === 1`)
	p.inYard()
	if got := eval[string](p, `JSON.stringify(Object.values(evenfall.board.committed.zones.z2.runs).map((r) => [r.static_psi, r.running_psi ?? null]))`); got != "[[61,null]]" {
		t.Errorf("the runs of zone 2 are %s", got)
	}
	if got := eval[string](p, `JSON.stringify(Object.values(evenfall.board.committed.photos).map((f) => [f.about, f.width_px, f.height_px]))`); got != `[["zones/z2",2000,1000]]` {
		t.Errorf("the photographs are %s", got)
	}
	if got := eval[string](p, `document.querySelector("#yard-back").innerText`); !strings.Contains(got, "running pressure of Zone 2") || !strings.Contains(got, "“3”") {
		t.Errorf("of what was half typed the page says %q", got)
	}
	p.button("#yard-back", "Take me there")
	p.inYard()
	field := `document.getElementById([...document.querySelectorAll("#yard-screen label")].find((l) => l.textContent.trim().startsWith("While it runs")).htmlFor)`
	if got := eval[string](p, field+".value"); got != "3" {
		t.Errorf("the field has %q in it", got)
	}
	eval[bool](p, "("+field+".focus(), true)")
	p.do(chromedp.KeyEvent("\ue010")) // End
	p.write("8")
	p.enter()
	p.inYard()
	if got := eval[float64](p, `Object.values(evenfall.board.committed.zones.z2.runs)[0].running_psi`); got != 38 {
		t.Errorf("the running pressure is %v", got)
	}
	p.visit(again.url + path + "/yard")
	p.inYard()
	if got := eval[bool](p, `document.querySelector("#yard-back") === null`); !got {
		t.Error("what was taken is said to be half typed still")
	}
}

// The board may be at work on the plan meanwhile: what is entered in the yard is made on
// top of it, and each page comes to show what the other did.
func TestYard_AndBoardAreOnePlan(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 768, 1024)
	path := openYard(t, p, prog, "#start/zone/z1")
	board := p.another(1280, 800)
	board.visit(prog.url + path)
	board.until("window.evenfall")
	board.settled()
	p.excuse("status of 412") // the step is then made on the newest revision
	eval[bool](board, `(evenfall.board.commit("Rename the plan", { ...evenfall.state.plan, name: "Corner lot, proved" }), true)`)
	board.settled()
	p.yardType("At rest", "60")
	p.enter()
	p.until(`evenfall.board.committed.name === "Corner lot, proved"`)
	p.inYard()
	if got := eval[bool](p, `document.querySelector("dialog[open]") === null`); !got {
		t.Error("the page asks which of two plans to keep")
	}
	board.until(`Object.values(evenfall.state.plan.zones.z1.runs ?? {})[0]?.static_psi === 60`)
	p.yardPress("Undo")
	p.until(`Object.keys(evenfall.board.committed.zones.z1.runs ?? {}).length === 0`)
	board.until(`Object.keys(evenfall.state.plan.zones.z1.runs ?? {}).length === 0`)
}

// While a wire is being named the page looks again what is stored, and takes nobody's
// field away.
func TestYard_AWireIsNamedWhileThePageLooksAgain(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 768, 1024)
	openYard(t, p, prog, "#wires/list")
	for _, mark := range []string{"tape 9", "tape 10"} {
		p.yardPress("Another…")
		p.inYard()
		p.write(mark)
		eval[bool](p, `evenfall.yard.refresh().then(() => true)`)
		p.inYard()
		if got := eval[string](p, `document.activeElement.value ?? "no field"`); got != mark {
			t.Fatalf("in the field that is typed into there is %q", got)
		}
		p.enter()
		p.inYard()
	}
	if got := eval[string](p, `Object.values(evenfall.board.committed.proof.wires).map((w) => w.mark).join()`); got != "tape 9,tape 10" {
		t.Errorf("the wires are %q", got)
	}
}

// Every screen can be read, reached and pressed, on a phone, a tablet either way, in the
// dark and in the sun.
func TestYard_ScreensUnderFingers(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, c := range []struct {
		name          string
		width, height int64
		look          string
	}{{"phone", 360, 740, "light"}, {"tablet", 768, 1024, "sun"}, {"on its side", 1024, 768, "dark"}} {
		t.Run(c.name, func(t *testing.T) {
			p := open(t, c.width, c.height)
			p.coarse()
			openYard(t, p, prog, "")
			if c.look == "dark" {
				p.media("dark")
			}
			if c.look == "sun" {
				p.button("header.bar", "In the sun")
			}
			for _, at := range []string{"start", "start/step/hold", "start/zone/z1", "wires/list", "wires/find", "heads", "heads/h2-8", "heads/h2-8/change", "cans/new", "old", "old/before/z1", "photos", "built"} {
				p.yardAt("#" + at)
				if wide := p.wider(); wide > 0 {
					t.Errorf("%s: the page is %d pixels wider than the window", at, wide)
				}
				for _, s := range p.small(44) {
					t.Errorf("%s: too small for a finger: %s", at, s)
				}
				p.axe(at)
			}
		})
	}
}
