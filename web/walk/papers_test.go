//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// papersMade waits until the papers are made and their page is drawn.
func (p *tab) papersMade() {
	p.t.Helper()
	p.until(`document.documentElement.dataset.made === "yes"`)
	p.until(`((i) => i?.complete && i.naturalWidth > 0)(document.querySelector("#paper-page img"))`)
}

// packShown is what the page knows of the pack it shows.
type packShown struct {
	Pages, Sheets int
	Codes         []string
}

func (p *tab) packShown() packShown {
	p.t.Helper()
	var s packShown
	got := eval[string](p, `JSON.stringify({
		Pages: Number(document.querySelector("#page-at").textContent.match(/of (\d+)$/)[1]),
		Sheets: document.querySelectorAll("#paper-sheets li").length,
		Codes: [...document.querySelectorAll("#paper-sheets button")].map((b) => b.dataset.code),
	})`)
	if err := json.Unmarshal([]byte(got), &s); err != nil {
		p.t.Fatal(err)
	}
	return s
}

// choosePack chooses a pack as a click on its words does.
func (p *tab) choosePack(kind string) {
	p.t.Helper()
	p.until(`document.documentElement.dataset.made`) // the page listens
	eval[bool](p, fmt.Sprintf(`(document.querySelector('[name=pack][value=%s]').click(), true)`, kind))
	p.until(fmt.Sprintf(`document.querySelector("#papers-save").textContent.toLowerCase().includes(%q)`, kind))
	p.papersMade()
}

// pagesOf reads a PDF with another program: the words of each page.
func pagesOf(t *testing.T, pdf []byte) []string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "pack.pdf")
	if err := os.WriteFile(name, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext is installed by go run ./cmd/dev test: %v", err)
	}
	pages := strings.Split(string(out), "\f")
	return pages[:len(pages)-1] // each ends with a form feed
}

// sheetPicture is the sheet that the README shows.
var sheetPicture = filepath.Join("..", "..", "testdata", "pictures", "sheet.png")

// keepSheet makes the picture of one sheet for the README, when asked to.
func keepSheet(t *testing.T, p *tab, pdf []byte, code string) {
	t.Helper()
	if os.Getenv("EVENFALL_PICTURE") == "" {
		return
	}
	p.click(fmt.Sprintf("[data-code=%q]", code))
	p.papersMade()
	page := eval[string](p, `document.querySelector("#page-at").textContent.match(/page (\d+) of/)[1]`)
	name := filepath.Join(t.TempDir(), "pack.pdf")
	if err := os.WriteFile(name, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	to := strings.TrimSuffix(sheetPicture, ".png")
	if out, err := exec.Command("pdftoppm", "-png", "-singlefile", "-r", "120", "-f", page, "-l", page, name, to).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
}

// From the demo plan on the board to the three packs on disk: every sheet is there and
// named, the crew finds every head, and what the page showed is what was saved.
func TestFromTheDemoToTheSavedPacks(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	tags := strings.Split(eval[string](p, `Object.values(evenfall.state.plan.heads).filter((h) => h.status !== "existing").map((h) => h.tag).join(" ")`), " ")
	p.click("#export summary")
	p.button("#export", "Papers to build from")
	p.papersMade()
	p.axe("papers")
	p.shot("papers")
	// Every other file that the page offers is there, and is what its name says.
	files := eval[string](p, `Promise.all([...document.querySelectorAll(".papers-files a, .papers-links a")].map((a) => fetch(a.href).then(async (r) => ({
		name: a.pathname.split("/").at(-1), ok: r.ok && (await r.blob()).size > 60, kind: r.headers.get("Content-Type"),
	})))).then((all) => all.filter((f) => !f.ok).map((f) => f.name + " " + f.kind).join() || all.map((f) => f.name).join(" "))`)
	for _, want := range []string{"plan.dxf", "layout.svg", "system.geojson", "outlines.geojson", "trenches.csv", "sleeves.svg", "office.pdf"} {
		if !strings.Contains(files, want) {
			t.Errorf("of the files offered there is %q, and not %s", files, want)
		}
	}
	dir := p.downloads()
	for _, c := range []struct {
		kind  string
		codes string
		says  []string
	}{
		{"crew", "C1 C2 C3 C4 C5 C6 C7 C8 C9 C10", append([]string{"Corner lot", "100 %"}, tags...)},
		{"owner", "O1 O2 O3 O4 O5 O6 O7 O8 O9 O10", []string{"Corner lot", "Program card", "Winter card", "Terminal map", "Record drawing"}},
		{"office", "F1 F2 F3 F4 F5", []string{"Corner lot", "Coverage", "Parts"}},
	} {
		p.choosePack(c.kind)
		shown := p.packShown()
		if got := strings.Join(shown.Codes, " "); got != c.codes {
			t.Errorf("%s: the sheets are %s, want %s", c.kind, got, c.codes)
		}
		p.click("#papers-save")
		pdf := p.downloaded(dir, "-"+c.kind+".pdf")
		if got := eval[string](p, `document.querySelector("#papers-saved").innerText`); !strings.Contains(got, "demo-"+c.kind+".pdf") || !strings.Contains(got, "100 %") {
			t.Errorf("%s: what is said of the file saved is %q", c.kind, got)
		}
		if c.kind == "crew" {
			keepSheet(t, p, pdf, "C3")
		}
		pages := pagesOf(t, pdf)
		if len(pages) != shown.Pages {
			t.Errorf("%s: %d pages saved, %d shown", c.kind, len(pages), shown.Pages)
		}
		all := strings.Join(pages, "\n")
		for _, code := range shown.Codes {
			title := eval[string](p, fmt.Sprintf(`document.querySelector('[data-code=%q] b').textContent.replace(/, \d+ pages$/, "")`, code))
			if !strings.Contains(all, strings.TrimPrefix(title, code+" ")) || !strings.Contains(all, code) {
				t.Errorf("%s: no saved page is called %q", c.kind, title)
			}
		}
		for _, want := range c.says {
			if !strings.Contains(all, want) {
				t.Errorf("%s: the saved pack does not say %q", c.kind, want)
			}
		}
		t.Logf("shown: %s pack of %d sheets on %d pages saved by the browser and read by pdftotext", c.kind, shown.Sheets, len(pages))
	}
}

// Every page of a pack can be looked at, by the list of sheets, by the buttons and by
// its words; at its real size a page is as large as it is printed.
func TestPapersAreLookedAtPageByPage(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	p.visit(prog.url + path + "/papers?paper=letter&date=2026-05-01")
	p.papersMade()
	shown := p.packShown()
	for n := 1; n <= shown.Pages; n++ {
		p.until(fmt.Sprintf(`document.querySelector("#page-at").textContent.endsWith("page %d of %d")`, n, shown.Pages))
		p.papersMade()
		if got := eval[string](p, `document.querySelector("#page-after").getAttribute("aria-disabled") ?? ""`); (got == "true") != (n == shown.Pages) {
			t.Errorf("page %d of %d: there is no next: %q", n, shown.Pages, got)
		}
		p.shot(fmt.Sprintf("papers-crew-%02d", n))
		p.click("#page-after")
	}
	p.click(`[data-code="C5"]`)
	p.until(`document.querySelector("#page-at").textContent.startsWith("C5 Stake-out")`)
	if got := eval[string](p, `document.querySelector('[aria-current="true"]').dataset.code`); got != "C5" {
		t.Errorf("the sheet shown is C5, and the list marks %s", got)
	}
	p.click("#page-words summary")
	p.until(`document.querySelector("#page-words pre").textContent.includes("Stake-out")`)
	p.papersMade()
	p.axe("papers with words")
	p.click(`[data-code="C3"]`)
	p.papersMade()
	// The page shown stays in sight beside the list of sheets, and is seen whole if asked for.
	eval[bool](p, `(document.querySelector("#page-words").open = false, document.querySelector('[data-code="C10"]').scrollIntoView({ block: "end" }), true)`)
	p.selectValue("#page-size", "whole")
	p.frame()
	if got := eval[string](p, `((b) => b.top >= 0 && b.bottom <= innerHeight && b.height > innerHeight / 2 ? "" : JSON.stringify(b))(document.querySelector("#paper-page img").getBoundingClientRect())`); got != "" {
		t.Errorf("with the list's end in view the page is at %s", got)
	}
	p.shot("papers-beside")
	p.selectValue("#page-size", "real")
	wide := eval[[]float64](p, `((b) => [b.width, b.height])(document.querySelector("#paper-page img").getBoundingClientRect())`)
	if wide[0] != 1056 || wide[1] != 816 { // 11 × 8.5 in
		t.Errorf("at its real size the page is %v pixels", wide)
	}
	if over := p.wider(); over > 0 {
		t.Errorf("at its real size the page makes the window scroll by %d px", over)
	}
	// The paper stays white in the dark.
	p.media("dark")
	p.frame()
	if got := eval[string](p, `getComputedStyle(document.querySelector("#paper-page")).backgroundColor`); got != "rgb(255, 255, 255)" {
		t.Errorf("in the dark the paper is %s", got)
	}
	p.axe("papers in the dark")
	p.shot("papers-dark")
}

// Choices stay: the paper in the browser, all of them in the address.
func TestChoicesOfPapersStay(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	p.visit(prog.url + path + "/papers")
	p.papersMade()
	p.selectValue("#paper", "arch_d")
	p.papersMade()
	p.selectValue("#scale", "120")
	p.papersMade()
	p.choosePack("owner")
	if got := eval[string](p, "location.search"); got != "?pack=owner&paper=arch_d&scale=120" {
		t.Errorf("the address asks for %s", got)
	}
	save := eval[string](p, `document.querySelector("#papers-save").getAttribute("href")`)
	if !strings.Contains(save, "/packs/owner.pdf?paper=arch_d&scale=120&date=20") {
		t.Errorf("what would be saved is %s", save)
	}
	p.visit(prog.url + path + "/papers")
	p.papersMade()
	if got := eval[string](p, `[document.querySelector("#paper").value, document.querySelector("#scale").value, document.querySelector("[name=pack]:checked").value].join()`); got != "arch_d,0,crew" {
		t.Errorf("the page begins anew with %s", got)
	}
}

// selectValue chooses a line of a list.
func (p *tab) selectValue(selector, value string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`((e) => { e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true })); return e.value === %q; })(document.querySelector(%q))`, value, value, selector))
}

// Everything by keyboard: from the board to a saved pack, with the pages turned.
func TestPapersByKeyboardAlone(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.commands()
	p.write("papers")
	p.until(`document.querySelector("dialog[open] [role=option]")?.textContent.includes("Papers")`)
	p.enter()
	p.papersMade()
	reach := func(js string) {
		t.Helper()
		for range 60 {
			if eval[bool](p, js) {
				return
			}
			p.press(kb.Tab)
		}
		t.Fatalf("60 times Tab do not lead to %s", js)
	}
	reach(`document.activeElement.name === "pack"`)
	p.press(kb.ArrowDown)
	p.until(`document.querySelector("[name=pack]:checked").value === "owner"`)
	p.papersMade()
	reach(`document.activeElement.id === "papers-save"`)
	dir := p.downloads()
	p.enter()
	if pages := pagesOf(t, p.downloaded(dir, "-owner.pdf")); len(pages) < 5 {
		t.Errorf("%d pages saved", len(pages))
	}
	reach(`document.activeElement.id === "paper-page"`)
	at := func(want string) {
		t.Helper()
		p.until(fmt.Sprintf(`document.querySelector("#page-at").textContent.includes(%q)`, want))
	}
	p.press(kb.PageDown)
	at("page 2 of")
	p.press(kb.End)
	at("O10 ")
	p.press(kb.PageUp)
	p.press(kb.Home)
	at("page 1 of")
	if got := eval[string](p, "document.activeElement.id"); got != "paper-page" {
		t.Errorf("turning pages took the focus to %q", got)
	}
}

// A pack that takes long says how far it is and is called off, with what to do next; the
// page then makes another.
func TestALongPackIsCalledOff(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	id := p.create(field(t, p, 2000))
	p.visit(prog.url + "/plans/" + id + "/papers?pack=office")
	p.until(`document.querySelector("#papers-work").checkVisibility()`)
	p.until(`Number(document.querySelector("#papers-work progress").value) > 0 && document.querySelector("#papers-work .hint").textContent !== ""`)
	p.axe("papers being made")
	p.shot("papers-making")
	p.click("#papers-stop")
	p.until(`document.querySelector("#papers-error").textContent === "Making the papers was called off."`)
	p.until(`!document.querySelector("#papers-work").checkVisibility() && document.querySelector("#papers-make").checkVisibility()`)
	p.axe("papers called off")
	p.click("#papers-make")
	p.until(`document.querySelector("#papers-work").checkVisibility()`)
	p.escape()
	p.until(`document.querySelector("#papers-error").textContent === "Making the papers was called off."`)
}

// Whoever changes the plan in another tab makes the papers old: the page says so and
// makes them anew.
func TestPapersSayThatThePlanHasChanged(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	board := open(t, 1280, 800)
	path := openDemo(t, board, prog)
	p := board.another(1280, 800)
	p.visit(prog.url + path + "/papers")
	p.papersMade()
	if eval[bool](p, `document.querySelector("#notice").checkVisibility()`) {
		t.Error("papers just made are called old")
	}
	board.drag(56, 24, 44, 24, 0)
	board.settled()
	p.until(`document.querySelector("#notice").textContent.includes("The plan has changed since these papers were made.")`)
	p.axe("papers of before")
	p.shot("papers-stale")
	// What is kept can still be looked at.
	p.click("#page-after")
	p.papersMade()
	p.button("#notice", "Make them anew")
	p.until(`!document.querySelector("#notice").checkVisibility() && document.querySelector("#papers-says").textContent.includes("revision 2")`)
	p.papersMade()
	// Saving what has become old makes it anew first.
	board.press("z", chromedp.ModifierCtrl)
	board.settled()
	p.until(`document.querySelector("#notice").checkVisibility()`)
	dir := p.downloads()
	p.click("#papers-save")
	pages := pagesOf(t, p.downloaded(dir, "-crew.pdf"))
	if !strings.Contains(strings.Join(pages, "\n"), "evision 3") {
		t.Error("what was saved is not of revision 3")
	}
	board.visit("about:blank")
	p.visit("about:blank")
}

// A bare plan has papers too, and the page says what is missing on them.
func TestABarePlanHasPapers(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	id := p.create(map[string]any{"format": "evenfall-plan/1", "name": "Bare", "show": "us"})
	p.visit(prog.url + "/plans/" + id + "/papers")
	p.papersMade()
	if got := eval[string](p, `document.querySelector("main").innerText`); !strings.Contains(got, "No head is drawn") {
		t.Errorf("the page does not say what is missing: %.400s", got)
	}
	for _, kind := range []string{"owner", "office", "crew"} {
		p.choosePack(kind)
		for range p.packShown().Pages {
			p.papersMade()
			p.click("#page-after")
		}
	}
	p.axe("papers of a bare plan")
	p.shot("papers-bare")
}

// A plan all of whose names are such as nobody should have to fear: its packs are read by
// another program, every name stays words, and no page becomes anything else.
func TestHostileNamesStayWordsInSavedPacks(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	names := hostileNames(t)
	own := "<script>alert(1)</script>"
	id := p.create(hostilePlan(t, p, names, own))
	for _, kind := range []string{"crew", "owner", "office"} {
		p.visit(prog.url + "/plans/" + id + "/papers?pack=" + kind)
		p.papersMade()
		p.nothingInjected(kind + " papers")
		eval[bool](p, `(document.querySelector("#page-words").open = true)`)
		p.until(`document.querySelector("#page-words pre").textContent.includes("alert(1)")`)
		p.nothingInjected("words of " + kind)
		all := strings.Join(pagesOf(t, p.fetchBytes("/plans/"+id+"/packs/"+kind+".pdf")), "\n")
		if !strings.Contains(all, own) {
			t.Errorf("the %s pack does not name the plan %q", kind, own)
		}
	}
	t.Logf("shown: %d names in 3 packs", len(names))
}

// The page on a window of 320 pixels, and with text twice as large: nothing is cut,
// nothing scrolls sideways, what is pressed is large enough.
func TestPapersNarrowAndLarge(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	for _, c := range []struct {
		name          string
		width, height int64
		text          int64
		coarse        bool
		limit         int
	}{{"320", 320, 640, 16, true, 44}, {"large", 1280, 800, 32, false, 24}, {"1280", 1280, 800, 16, false, 24}} {
		t.Run(c.name, func(t *testing.T) {
			p := open(t, c.width, c.height)
			p.textSize(c.text)
			if c.coarse {
				p.coarse()
			}
			path := openDemo(t, p, prog)
			// The menu that leads here has all it holds in the window, or under its own bar.
			p.click("#export summary")
			p.frame()
			if got := eval[string](p, `((b) => b.left < 0 || b.top < 0 || b.right > innerWidth + 0.5 || b.bottom > innerHeight ? JSON.stringify(b) : "")(document.querySelector("#export ul").getBoundingClientRect())`); got != "" {
				t.Errorf("the menu goes past the window: %s", got)
			}
			p.visit(prog.url + path + "/papers")
			p.papersMade()
			p.frame()
			if over := p.wider(); over > 0 {
				t.Errorf("the page is %d px wider than the window", over)
			}
			if got := eval[string](p, cut); got != "" {
				t.Errorf("words are cut:\n%s", got)
			}
			for _, e := range p.small(c.limit) {
				t.Error(e)
			}
			if got := eval[string](p, hiddenFocus); got != "" {
				t.Errorf("hidden when focused:\n%s", got)
			}
			p.axe("papers " + c.name)
			p.shot("papers-" + c.name)
			// A sheet that is chosen comes into view.
			p.click(`[data-code="C3"]`)
			p.papersMade()
			if at := eval[float64](p, `document.querySelector("#paper-page").getBoundingClientRect().top / innerHeight`); at > 0.7 {
				t.Errorf("the page shown begins at %.2f of the window's height", at)
			}
			p.shot("papers-page-" + c.name)
		})
	}
}

// With a mouse: the real size is dragged about by the wheel, and the list of sheets is
// pressed where it stands.
func TestPapersByPointer(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	p.visit(prog.url + path + "/papers")
	p.papersMade()
	at := eval[[]float64](p, `((b) => { b.scrollIntoView({ block: "center" }); const r = b.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })(document.querySelector('[data-code="C3"]'))`)
	p.mouseAt(input.DispatchMouseEventTypeMousePressed, at[0], at[1], 0)
	p.mouseAt(input.DispatchMouseEventTypeMouseReleased, at[0], at[1], 0)
	p.until(`document.querySelector("#page-at").textContent.startsWith("C3 Layout plan")`)
}
