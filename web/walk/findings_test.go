//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// beginnersStreet is twelve small yards by one who has never done it: some sixty
// findings of ten causes.
func beginnersStreet(t *testing.T, p *tab) map[string]any {
	t.Helper()
	var catalog struct {
		Nozzles, Bodies []json.RawMessage
	}
	if err := json.Unmarshal([]byte(p.fetch("/api/catalog")), &catalog); err != nil {
		t.Fatal(err)
	}
	nozzleID, nozzle := row(t, catalog.Nozzles, "spray-15-q")
	bodyID, body := row(t, catalog.Bodies, "body-4")
	areas, heads, zones, trees, heights := map[string]any{}, map[string]any{}, map[string]any{}, map[string]any{}, map[string]any{}
	box := func(x0, y0, x1, y1 float64) [][]float64 { return [][]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} }
	for i := range 12 {
		x, y := float64(i%4)*50, float64(i/4)*40
		n := i + 1
		areas[fmt.Sprintf("lawn%02d", n)] = map[string]any{"name": fmt.Sprintf("Lawn %d", n), "kind": "planting", "outline": box(x, y, x+30, y+15)}
		areas[fmt.Sprintf("bed%02d", n)] = map[string]any{"name": fmt.Sprintf("Bed %d", n), "kind": "planting", "planting": "flowers", "outline": box(x, y+18, x+20, y+26)}
		zones[fmt.Sprintf("z%02d", n)] = map[string]any{"name": fmt.Sprintf("Yard %d", n), "station": n, "pressure_psi": 45}
		trees[fmt.Sprintf("t%02d", n)] = map[string]any{"name": fmt.Sprintf("Tree %d", n), "x_ft": x + 6, "y_ft": y + 5, "trunk_in": 4, "root_zone_ft": 3}
		for k, c := range [][3]float64{{0.4, 0.4, 0}, {29.6, 0.4, 90}, {29.6, 14.6, 180}, {0.4, 14.6, 270}} {
			heads[fmt.Sprintf("h%02d-%d", n, k+1)] = map[string]any{
				"tag": fmt.Sprintf("%d-%d", n, k+1), "nozzle": nozzleID, "body": bodyID, "zone": fmt.Sprintf("z%02d", n),
				"x_ft": x + c[0], "y_ft": y + c[1], "start_deg": c[2], "sweep_deg": 90,
			}
		}
	}
	for i, c := range [][3]float64{{0, 0, 0}, {200, 0, 0}, {0, 120, 12}, {200, 120, 12}} {
		heights[fmt.Sprintf("e%d", i)] = map[string]any{"x_ft": c[0], "y_ft": c[1], "z_ft": c[2], "status": "existing"}
	}
	zones["spare"] = map[string]any{"name": "Later"}
	areas["hedge"] = map[string]any{"name": "Hedge", "kind": "planting", "planting": "shrubs", "watering": "point", "outline": box(-6, 0, -2, 100)}
	return map[string]any{
		"format": "evenfall-plan/1", "name": "Beginner's street", "show": "us",
		"areas": areas, "zones": zones, "heads": heads, "trees": trees, "elevations": heights,
		"nozzles": map[string]any{nozzleID: nozzle}, "bodies": map[string]any{bodyID: body},
		"supply":     map[string]any{"measured": true, "flow_gpm": 14, "static_psi": 90},
		"controller": map[string]any{"stations": 12},
	}
}

// openStreet opens the beginner's street.
func (p *tab) openStreet(t *testing.T, prog *program) {
	t.Helper()
	p.visit(prog.url)
	p.visit(prog.url + "/plans/" + p.create(beginnersStreet(t, p)))
	p.settled()
	p.until(`document.querySelectorAll("#findings > .causes > .cause").length > 0`)
}

// causes are the lines of the causes in sight, with a + where they stand open.
func (p *tab) causes() []string {
	p.t.Helper()
	return eval[[]string](p, `[...document.querySelectorAll("#findings > .causes > .cause")].map(c => {
		const head = c.querySelector(".cause-head");
		return (head.getAttribute("aria-expanded") === "true" ? "+ " : "") + head.textContent; })`)
}

// pressText presses the first button in sight within the findings whose text begins so.
func (p *tab) pressText(within, text string) {
	p.t.Helper()
	find := fmt.Sprintf(`[...document.querySelectorAll(%q)].find(b => b.offsetParent && b.textContent.trim().startsWith(%q))`, within+" button, "+within+" summary", text)
	p.until(find)
	eval[bool](p, "(e => (e.focus(), e.click(), true))("+find+")")
}

// dialogFill types into a field of the dialog, found by the beginning of its label.
func (p *tab) dialogFill(label, value string) {
	p.t.Helper()
	p.fieldFill("dialog[open]", label, value)
}

// fieldFill types into a field by the beginning of its label, and stays in it.
func (p *tab) fieldFill(within, label, value string) {
	p.t.Helper()
	at := fmt.Sprintf(`[...document.querySelectorAll("%s .field")].find((f) => f.querySelector("label").textContent.startsWith(%q))`, within, label)
	p.until(at)
	eval[bool](p, fmt.Sprintf(`(() => { const e = (%s).querySelector("input, textarea"); e.focus(); e.select(); return true; })()`, at))
	p.insert(value)
}

// Sixty findings are six lines at first, the worst first; the rest waits behind
// one line that counts it by rank.
func TestRowA28_SixtyFindingsAreReadCalmly(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.openStreet(t, prog)
	if n := eval[int](p, `evenfall.state.design.findings.length`); n < 60 {
		t.Fatalf("the street has %d findings, want 60 or more", n)
	}
	p.shot("findings-60-light")
	first := p.causes()
	if len(first) != 6 || !strings.HasPrefix(first[0], "Stop") {
		t.Fatalf("at first sight: %q", first)
	}
	for _, line := range first {
		if strings.HasPrefix(line, "+ ") {
			t.Errorf("a cause of many cases stands open at first: %q", line)
		}
	}
	if high := eval[float64](p, `document.querySelector(".more-causes").getBoundingClientRect().bottom - document.querySelector(".filter").getBoundingClientRect().top`); high > 420 {
		t.Errorf("the first sight is %.0f px high", high)
	}
	p.axe("findings at first sight")

	// The rest by one press; the focus goes to the first of it.
	if text := eval[string](p, `document.querySelector(".more-causes").textContent`); !strings.Contains(text, "more causes: ") || !strings.Contains(text, " note") {
		t.Errorf("the rest is told as %q", text)
	}
	p.pressText("#findings", "Show ")
	p.until(`evenfall.state.selection.length > 0`) // Show is also what leads to a place
	p.click(".more-causes")
	p.until(`document.querySelectorAll("#findings > .causes > .cause").length > 7`)
	if !eval[bool](p, `document.activeElement === document.querySelectorAll(".cause-head")[6]`) {
		t.Error("the focus is not on the first cause that was waiting")
	}
	p.axe("all causes")

	// By rank.
	p.pressText(".filter", "Mend ")
	p.until(`[...document.querySelectorAll("#findings > .causes > .cause")].every(c => c.dataset.rank === "mend")`)
	p.pressText(".filter", "All ")
	p.until(`document.querySelectorAll("#findings > .causes > .cause").length > 7`)
	p.media("dark")
	p.shot("findings-60-dark")
	p.axe("findings in the dark")
}

// Show goes through the places of a cause one after the other, and says which.
func TestRowA28_ShowGoesThroughThePlacesOfACause(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.openStreet(t, prog)
	cause := `[...document.querySelectorAll("#findings > .causes > .cause")].find(c => c.textContent.includes("too far apart"))`
	show := "(" + cause + ").querySelector('.cause-line .link')"
	seen := map[string]bool{}
	for i := range 3 {
		if text := eval[string](p, show+".textContent"); text != fmt.Sprintf("Show %d/12", i+1) {
			t.Errorf("the button says %q before press %d", text, i+1)
		}
		eval[bool](p, show+".focus(), true")
		p.enter()
		p.until(fmt.Sprintf(`document.querySelector("#live").textContent.includes("%d of 12. Stop")`, i+1))
		seen[eval[string](p, `[...evenfall.state.selection].sort().join(" ")`)] = true
		p.until(`evenfall.state.selection.length > 0 && document.activeElement === ` + show)
	}
	if len(seen) != 3 {
		t.Errorf("three presses showed %d places", len(seen))
	}
}

// A whole cause is accepted with one reason and a name, stays accepted over a
// reload, comes back by Open again, and every step
// can be undone.
func TestRowA28_AcceptedWithAReasonUntilItGrows(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.openStreet(t, prog)
	total := eval[int](p, `evenfall.state.design.findings.length`)
	p.pressText("#findings > .causes", "Mend Something stands in the throw")
	p.pressText("#findings > .causes", "Accept all 12")
	p.until(`document.querySelector("dialog[open]")`)
	p.shot("findings-accept")
	p.axe("the dialog that asks for the reason")
	p.pressText("dialog[open]", "Accept")
	p.until(`document.querySelector("dialog .error:not([hidden])").textContent.includes("The reason is empty")`)
	p.fill("dialog textarea", "Young trees, to be moved in autumn")
	p.fill("dialog input[type=text]", "Ada")
	p.pressText("dialog[open]", "Accept")
	p.until(`!document.querySelector("dialog[open]")`)
	p.settled()
	p.until(`document.querySelector("#findings > .accepted > summary").textContent === "Accepted 12"`)
	if !eval[bool](p, `document.querySelector("#findings").contains(document.activeElement)`) {
		t.Errorf("the focus is on %s", eval[string](p, `document.activeElement.outerHTML.slice(0, 80)`))
	}
	if n := eval[int](p, `evenfall.state.design.findings.length`); n != total {
		t.Errorf("%d findings after accepting, %d before", n, total)
	}

	p.visit(eval[string](p, "location.href"))
	p.settled()
	p.until(`document.querySelector("#findings > .accepted > summary").textContent === "Accepted 12"`)
	p.pressText("#findings", "Accepted 12")
	p.until(`document.querySelector("#findings > .accepted").textContent.includes("by Ada: Young trees, to be moved in autumn")`)
	p.shot("findings-accepted")

	// Open again, by keyboard alone.
	eval[bool](p, `document.querySelector("#findings > .accepted > summary").focus(), true`)
	p.tabToText("Open again", 6)
	p.enter()
	p.until(`document.querySelector("#findings > .accepted > summary").textContent === "Accepted 11"`)
	if !eval[bool](p, `document.querySelector("#findings").contains(document.activeElement)`) {
		t.Error("the focus left the findings when a row went")
	}
	p.settled()
	for range 2 { // opened again, accepted
		eval[bool](p, `document.querySelector("#undo").click(), true`)
		p.settled()
	}
	p.until(`document.querySelector("#findings > .accepted").hidden`)
}

// What has no place leads to the field that mends it, in the settings or on the
// Supply page.
func TestRowA28_FindingsWithoutAPlaceLeadToTheSettings(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.openStreet(t, prog)
	p.click(".more-causes")
	cause := func(title string) string {
		return fmt.Sprintf(`[...document.querySelectorAll("#findings > .causes > .cause")].find(c => c.textContent.includes(%q))`, title)
	}
	follow := func(title string) {
		t.Helper()
		p.until(cause(title))
		eval[bool](p, "("+cause(title)+").querySelector('.cause-line .link').click(), true")
	}
	follow("Utility lines not marked yet")
	p.until(`document.querySelector("dialog[open] legend") && [...document.querySelectorAll("dialog[open] legend")].some(l => l.textContent === "Before digging")`)
	p.until(`document.activeElement.labels[0].textContent.startsWith("Marks asked for on")`) // where it is mended
	p.shot("findings-settings")
	p.axe("the plan's settings")
	p.dialogFill("Marks asked for on", "in May")
	p.pressText("dialog[open]", "Keep")
	p.until(`document.querySelector("dialog .error:not([hidden])").textContent.includes("2026-05-31")`)
	p.dialogFill("Marks asked for on", "2026-05-11")
	p.pressText("dialog[open]", "Keep")
	p.until(`!document.querySelector("dialog[open]")`)
	p.settled()
	p.until(`!(` + cause("Utility lines not marked yet") + `)`)

	follow("No backflow device named")
	p.until(`!document.querySelector("#supply").hidden && document.activeElement === ` + supplyField("Backflow device"))
	p.chooseSupply("Backflow device", "backflow-pvb-1")
	p.settled()
	p.click("#supply-back")
	p.until(`document.querySelector("#supply").hidden && !(` + cause("No backflow device named") + `)`)
}

// Everything is reached and worked by keys: the filter, a cause, its cases.
func TestRowA20_FindingsByKeyboardAlone(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.openStreet(t, prog)
	eval[bool](p, `document.querySelector("#tab-findings").focus(), true`)
	p.tabUntil(`document.activeElement.textContent.startsWith("Mend ") && document.activeElement.matches(".filter button")`, 12)
	p.press(" ")
	p.until(`document.activeElement.getAttribute("aria-pressed") === "true"`)
	p.tabUntil(`document.activeElement.classList.contains("cause-head")`, 6)
	p.enter()
	p.until(`document.activeElement.getAttribute("aria-expanded") === "true"`)
	p.tabToText("Accept…", 8)
	p.enter()
	p.until(`document.querySelector("dialog[open]")`)
	p.escape()
	p.until(`!document.querySelector("dialog[open]") && document.activeElement.textContent === "Accept…"`)
	p.tabUntil(`document.activeElement.textContent.startsWith("Show the other ")`, 16)
	p.enter()
	p.until(`document.activeElement.closest(".cases > li") === document.activeElement.closest(".cases").children[3]`)
	p.press(kb.Tab)
	p.until(`document.activeElement.textContent === "Accept…"`)
}

// On paper every finding is there, open or shut on the page, and the accepted
// with their reason; the page's own list stays out.
func TestRowA24_FindingsOnPaper(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.openStreet(t, prog)
	p.pressText("#findings > .causes", "Mend Something stands in the throw")
	p.pressText("#findings > .causes", "Accept all 12")
	p.until(`document.querySelector("dialog[open]")`)
	p.fill("dialog textarea", "Young trees")
	p.pressText("dialog[open]", "Accept")
	p.settled()
	p.until(`document.querySelector("#findings > .accepted > summary").textContent === "Accepted 12"`)
	_, text := p.paper("findings")
	if dir := os.Getenv("EVENFALL_SHOTS"); dir != "" {
		_ = os.WriteFile(filepath.Join(dir, "findings-paper.txt"), []byte(text), 0o644)
	}
	flat := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{"Before digging have every utility line marked", "Open ", "Accepted 12", "Young trees", "Do: Move the heads closer", "Lawn 12", "Bed 12", "Low heads need check valves"} {
		if !strings.Contains(flat, want) {
			t.Errorf("the paper does not say %q", want)
		}
	}
	if n, want := strings.Count(flat, "Young trees"), 12; n != want {
		t.Errorf("the reason is printed %d times, want %d", n, want)
	}
	for _, bad := range []string{"more causes", "Accept all"} {
		if strings.Contains(flat, bad) {
			t.Errorf("the paper says %q, which is for work", bad)
		}
	}
}
