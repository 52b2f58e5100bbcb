//go:build browser

package walk

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// provedYard gives the demo what was found in its ground (testdata/proved.patch.json) and
// a photograph, opens its page in the yard, and says where the plan is.
func provedYard(t *testing.T, p *tab, prog *program) string {
	t.Helper()
	patch, err := os.ReadFile(filepath.Join("..", "..", "testdata", "proved.patch.json"))
	if err != nil {
		t.Fatal(err)
	}
	p.visit(prog.url)
	path := eval[string](p, `document.querySelector('a[href^="/plans/"]').getAttribute("href")`)
	eval[bool](p, fmt.Sprintf(`(async () => {
		const { rev } = await (await fetch("/api%s")).json();
		const answer = await fetch("/api%s", { method: "PATCH", headers: { "Content-Type": "application/merge-patch+json", "If-Match": JSON.stringify(String(rev)) }, body: %q });
		if (!answer.ok) throw new Error(await answer.text());
		return true;
	})()`, path, path, patch))
	p.visit(prog.url + path + "/yard#heads/h3-5")
	p.inYard()
	p.do(chromedp.SetUploadFiles("#yard-screen .yard-photo-input", []string{pictureFile(t)}))
	p.until(`evenfall.post.waiting.length === 0 && document.querySelector("#yard-screen .yard-strip img")?.complete`)
	p.inYard()
	return path
}

// provedPlaces are the screens of a yard of which much is known, with what each shows once
// the server has told all of it.
var provedPlaces = []struct{ at, shows string }{
	{"start/step/shut", ".yard-was-done"},
	{"start/step/hold", ".yard-verdict"},
	{"start/zone/z1", ".yard-expected dt"},
	{"wires/list", ".yard-wire-card"},
	{"wires/find", "table tbody tr"},
	{"heads/h3-5", ".yard-strip img"},
	{"heads/h1-1/change", ".yard-picture svg"},
	{"cans/a1/setup", ".yard-fields"},
	{"cans/a1/c3", ".yard-huge input"},
	{"cans/a1/result", ".yard-pair svg"},
	{"old", ".yard-one"},
	{"photos", ".yard-photo-row img"},
	{"built", ".yard-one"},
}

// Whatever was found, every screen fits a phone, can be read in each look, is large enough
// for a finger, and no focus is under something else.
func TestYard_FullOfRecords(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	path := provedYard(t, open(t, 768, 1024), prog)
	for _, c := range []struct {
		name          string
		width, height int64
		text          int64
		look          string
	}{
		{"a narrow phone", 320, 640, 16, "sun"}, {"large text", 768, 1024, 32, "light"},
		{"a tablet", 768, 1024, 16, "dark"}, {"forced colours", 1024, 768, 16, "forced"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := open(t, c.width, c.height)
			p.coarse()
			p.textSize(c.text)
			switch c.look {
			case "dark":
				p.media("dark")
			case "forced":
				p.features("forced-colors: active", "prefers-color-scheme: dark", "prefers-reduced-motion: reduce")
			}
			p.visit(prog.url + path + "/yard")
			p.inYard()
			if c.look == "sun" {
				p.button("header.bar", "In the sun")
			}
			for _, s := range provedPlaces {
				p.yardAt("#" + s.at)
				p.until(fmt.Sprintf(`document.querySelector("#yard-screen %s")`, s.shows))
				eval[bool](p, `(document.querySelectorAll("#yard-screen details").forEach((d) => { d.open = true; }), true)`)
				p.frame()
				if over := p.wider(); over > 0 {
					t.Errorf("%s is %d px wider than the window", s.at, over)
				}
				if got := eval[string](p, cut); got != "" {
					t.Errorf("%s: words are cut:\n%s", s.at, got)
				}
				for _, e := range p.small(44) {
					t.Errorf("%s: too small for a finger: %s", s.at, e)
				}
				if c.look == "sun" || c.look == "dark" {
					if got := eval[string](p, hiddenFocus); got != "" {
						t.Errorf("%s: hidden when focused:\n%s", s.at, got)
					}
				}
				if c.look == "forced" {
					p.told(s.at)
				} else {
					p.axe(s.at)
				}
				p.shot(fmt.Sprintf("yard-full-%s-%s", strings.ReplaceAll(s.at, "/", "-"), strings.ReplaceAll(c.name, " ", "-")))
			}
		})
	}
}

// told checks that what is on looks on where the system forces its few colours: the
// accessibility engine reads the colours that were asked for, not those that are forced.
func (p *tab) told(at string) {
	p.t.Helper()
	alike := eval[string](p, `["aria-pressed", "aria-selected"].flatMap((a) => {
		const [on, off] = ["true", "false"].map((v) => [...document.querySelectorAll("#yard [" + a + "=" + v + "]")].find((e) => e.checkVisibility() && e !== document.activeElement));
		if (!on || !off) return [];
		const [x, y] = [on, off].map((e) => ((s) => s.outlineStyle + s.outlineColor)(getComputedStyle(e)));
		return x === y ? [on.outerHTML.slice(0, 100)] : [];
	}).join("\n")`)
	if alike != "" {
		p.t.Errorf("%s: looks as if it were not:\n%s", at, alike)
	}
}

// Whatever can be pressed or typed into has a name that can be said, the fields of each
// wire are of a wire that is named, and what the server makes of a run is said once it is
// there.
func TestYard_IsSpoken(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 768, 1024)
	provedYard(t, p, prog)
	n := 0
	for _, s := range provedPlaces {
		p.yardAt("#" + s.at)
		p.until(fmt.Sprintf(`document.querySelector("#yard-screen %s")`, s.shows))
		names := p.spokenNames()
		for _, role := range []string{"button", "textbox", "combobox", "tab", "link", "group", "image"} {
			for _, name := range names[role] {
				n++
				if strings.TrimSpace(name) == "" && role != "group" {
					t.Errorf("%s: a %s has no name", s.at, role)
				}
			}
		}
		if s.at == "wires/list" {
			marks := eval[[]string](p, `Object.values(evenfall.yard.plan.proof.wires).map((w) => w.mark)`)
			groups := strings.ToLower(strings.Join(names["group"], "\n"))
			for _, mark := range marks {
				if !strings.Contains(groups, strings.ToLower(mark)) {
					t.Errorf("no group is called for the wire %s: %q", mark, names["group"])
				}
			}
		}
	}
	if n < 200 {
		t.Errorf("only %d names were read: not the case that was to be looked at", n)
	}
	p.yardAt("#start/zone/z1")
	if !eval[bool](p, `!!document.querySelector("#yard-screen .yard-verdict").closest("[role=status]")`) {
		t.Error("what the server makes of a run is not said")
	}
	t.Logf("%d names on %d screens", n, len(provedPlaces))
}

// A zone is run and a can is read by keys alone: to the zone by the list of all, from
// figure to figure by Enter, to the cans by the arrows on the tabs; each is said, and
// undone by keys as well.
func TestYard_ARunAndACanByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openYard(t, p, prog, "")
	onField := func(label string) {
		t.Helper()
		p.until(fmt.Sprintf(`document.activeElement.labels?.[0]?.textContent.trim().startsWith(%q)`, label))
	}
	p.tabUntil(`document.activeElement.textContent === "All steps and zones"`, 30)
	p.enter()
	p.tabUntil(`document.activeElement.textContent.startsWith("Zone 1, ") || document.activeElement.textContent.startsWith("✓Zone 1, ")`, 30)
	p.enter()
	p.until(`evenfall.yard.place.item === "zone/z1"`)
	p.inYard()
	if got := eval[string](p, `document.activeElement.textContent`); !strings.HasPrefix(got, "Zone 1, ") {
		t.Errorf("gone to zone 1, the focus is on %q", got)
	}
	p.tabUntil(`!!document.activeElement.labels?.[0]?.textContent.startsWith("At rest")`, 10)
	p.write("lots")
	p.enter()
	p.until(`document.activeElement.getAttribute("aria-invalid") === "true"`)
	said := eval[string](p, `document.getElementById(document.activeElement.getAttribute("aria-describedby")).textContent`)
	if !strings.Contains(said, "“lots”") {
		t.Errorf("of a pressure that is none the field says %q", said)
	}
	p.press(kb.Escape)
	p.press("a", chromedp.ModifierCtrl)
	p.write("62")
	p.enter()
	onField("While it runs")
	p.write("40")
	p.enter()
	onField("Flow, as read")
	p.write("7.8")
	p.enter()
	p.inYard()
	onField("It counted") // what the server made of it has not taken the focus
	if got := eval[string](p, `document.querySelector("#yard-screen .yard-verdict").textContent`); !strings.HasPrefix(got, "7.8") || !strings.Contains(got, "as predicted") {
		t.Errorf("of a run as predicted the page says %q", got)
	}
	p.until(`document.querySelector("#live").textContent.includes("low of Zone 1")`)

	p.tabUntil(`document.activeElement.matches(".yard-undo")`, 40)
	p.press(" ")
	p.until(`Object.values(evenfall.yard.plan.zones.z1.runs)[0].flow_gpm === undefined`)
	p.inYard()

	for range 60 {
		if eval[bool](p, `document.activeElement.matches("[role=tab]")`) {
			break
		}
		p.press(kb.Tab, chromedp.ModifierShift)
	}
	for range 3 {
		p.press(kb.ArrowRight)
	}
	p.until(`document.activeElement.id === "yard-tab-cans" && evenfall.yard.place.item === "new"`)
	p.tabUntil(`document.activeElement.matches(".yard-main") && document.activeElement.textContent === "Show where"`, 30)
	p.enter()
	p.until(`document.querySelector(".yard-main").textContent.startsWith("Set out")`)
	p.tabUntil(`document.activeElement.matches(".yard-main")`, 30)
	p.enter()
	p.until(`evenfall.yard.place.item.endsWith("/setup")`)
	p.inYard()
	p.tabUntil(`!!document.activeElement.labels?.[0]?.textContent.startsWith("Opening of a can")`, 30)
	p.write("16")
	p.enter()
	p.inYard()
	p.tabUntil(`document.activeElement.matches(".yard-main") && document.activeElement.textContent === "Read the cans"`, 40)
	p.enter()
	onField("It caught")
	p.write("23")
	p.enter()
	p.until(`document.querySelector("#yard-screen .yard-title").textContent === "Can 2"`)
	onField("It caught")
	p.inYard()
	if got := eval[float64](p, `Object.values(evenfall.yard.plan.proof.audits)[0].cans.c1.catch_ml`); got != 23 {
		t.Errorf("can 1 caught %v", got)
	}
	p.axe("a can by keys")
}
