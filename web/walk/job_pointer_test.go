//go:build browser

package walk

import (
	"bytes"
	"encoding/base64"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/xuri/excelize/v2"
)

// TestWholeJobByPointer goes from an empty plan to the parts list with the
// pointer: lawn, house, drive, twelve heads, a dry spot mended by dragging, three
// zones, the files.
func TestWholeJobByPointer(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	p.fill("#new-name", "First yard")
	p.click("#new-plan button[type=submit]")
	p.until(`location.pathname.startsWith("/plans/") && window.evenfall && document.documentElement?.dataset.saved === "yes"`)
	p.shot("walk-1-empty")
	p.axe("empty plan")

	p.click("#empty-draw")
	p.rectangle("planting", 0, 0, 45, 30)
	p.rectangle("building", 0, 30, 45, 48)
	p.rectangle("paving", 45, 0, 57, 30)
	p.settled()
	if got := eval[int](p, `Object.keys(evenfall.state.plan.areas).length`); got != 3 {
		t.Fatalf("drew 3 areas, the plan has %d", got)
	}
	p.shot("walk-2-ground")

	p.layTwelve()
	p.settled()
	p.shot("walk-3-heads")
	dry := eval[int](p, `evenfall.state.design.gaps.length`)
	before := eval[string](p, `evenfall.state.design.readings.evenness.text`)
	if dry == 0 {
		t.Fatalf("the head 8 ft off its place left no dry patch (evenness %s)", before)
	}
	p.until(`document.querySelector("#findings").textContent.includes("ry patch")`)

	// The head that stands wrong goes back to the middle of its row.
	p.click(`[data-command="tool.select"]`)
	p.drag(23, 15, 15, 15, 0)
	p.settled()
	if left := eval[int](p, `evenfall.state.design.gaps.length`); left != 0 {
		t.Errorf("after the drag %d dry patches are left", left)
	}
	after := eval[string](p, `evenfall.state.design.readings.evenness.text`)
	t.Logf("evenness %s, after dragging one head %s", before, after)
	p.shot("walk-4-mended")

	p.click("#tab-zones")
	for i, x := range []float64{-3, 8, 22} {
		p.boxSelect(x, -3, []float64{8, 22, 48}[i], 33)
		p.click("#zones .acts button")
		p.settled()
	}
	if got := eval[int](p, `Object.keys(evenfall.state.plan.zones).length`); got != 3 {
		t.Fatalf("made 3 zones, the plan has %d", got)
	}
	if loose := eval[int](p, `Object.values(evenfall.state.plan.heads).filter(h => !h.zone).length`); loose != 0 {
		t.Errorf("%d heads are in no zone", loose)
	}
	p.shot("walk-5-zones")
	p.axe("plan with zones")
	p.click("#tab-parts")
	p.shot("walk-6-parts")
	checkFiles(p, 12, 3)

	// Undo reaches back past the zones and survives a restart of the program.
	p.press("z", chromedp.ModifierCtrl)
	p.until(`Object.keys(evenfall.state.plan.zones ?? {}).length === 2`)
	p.press("z", chromedp.ModifierCtrl, chromedp.ModifierShift)
	p.until(`Object.keys(evenfall.state.plan.zones ?? {}).length === 3`)
	p.quiet()
}

// rectangle draws one from corner to corner with the rectangle tool.
func (p *tab) rectangle(kind string, x0, y0, x1, y1 float64) {
	p.t.Helper()
	p.click(`[data-command="tool.rectangle"]`)
	p.choose("#kit", "Kind", kind)
	p.show(x0-3, y0-3, x1+3, y1+3)
	p.tap(x0, y0, 0)
	p.tap(x1, y1, 0)
	p.settled()
}

// choose sets the list of a given label inside a part of the page.
func (p *tab) choose(within, label, value string) {
	p.t.Helper()
	js := fmt.Sprintf(`(() => {
		for (const l of document.querySelectorAll(%q + " label")) {
			if (!l.textContent.trim().startsWith(%q)) continue;
			const s = l.querySelector("select") || document.getElementById(l.htmlFor);
			if (!s || s.offsetParent === null) continue;
			if (![...s.options].some(o => o.value === %q)) throw new Error("no such choice: " + [...s.options].map(o => o.value));
			s.value = %q; s.dispatchEvent(new Event("change", { bubbles: true })); return true;
		}
		return false;
	})()`, within, label, value, value)
	p.until(js)
}

// show zooms out until a piece of ground is in view.
func (p *tab) show(x0, y0, x1, y1 float64) {
	p.t.Helper()
	for range 12 {
		inside := eval[bool](p, fmt.Sprintf(`(() => {
			const b = document.querySelector("#board").getBoundingClientRect();
			return [[%v, %v], [%v, %v]].map(evenfall.pixels).every(([x, y]) => x > b.left + 4 && x < b.right - 4 && y > b.top + 4 && y < b.bottom - 4);
		})()`, x0, y0, x1, y1))
		if inside {
			return
		}
		p.click(`[data-command="view.out"]`)
	}
	p.t.Fatalf("cannot bring %v, %v to %v, %v into view", x0, y0, x1, y1)
}

// layTwelve sets twelve 15 ft sprays in a grid of three rows, one of them 8 ft
// too far east.
func (p *tab) layTwelve() {
	p.t.Helper()
	p.click(`[data-command="tool.head"]`)
	p.choose("#kit", "Nozzle", "spray-15-adj")
	for _, y := range []float64{0.4, 15, 29} {
		for _, x := range []float64{0.4, 15, 30, 44.6} {
			if x == 15 && y == 15 {
				x = 23
			}
			p.tap(x, y, altKey)
		}
	}
	p.escape()
}

func (p *tab) boxSelect(x0, y0, x1, y1 float64) {
	p.t.Helper()
	p.click(`[data-command="tool.select"]`)
	p.show(x0, y0, x1, y1)
	p.drag(x0, y0, x1, y1, 0)
}

// checkFiles reads the exported lists back and holds them against the plan.
func checkFiles(p *tab, heads, zones int) {
	p.t.Helper()
	base := eval[string](p, "location.pathname") + "/files/"
	sums := map[string]int{}
	for _, r := range readCSV(p.t, p.fetch(base+"parts.csv")) {
		if r["Zone"] == "Total" {
			n, err := strconv.Atoi(r["Count"])
			if err != nil {
				p.t.Fatalf("parts.csv counts %q: %v", r["Count"], err)
			}
			sums[r["Part"]] += n
		}
	}
	for part, want := range map[string]int{"Body": heads, "Nozzle": heads, "Swing joint": heads, "Flag": heads, "Valve": zones} {
		if sums[part] != want {
			p.t.Errorf("parts.csv totals %d of %s, want %d", sums[part], part, want)
		}
	}
	if rows := readCSV(p.t, p.fetch(base+"zones.csv")); len(rows) != zones {
		p.t.Errorf("zones.csv has %d zones, want %d", len(rows), zones)
	}
	if rows := readCSV(p.t, p.fetch(base+"heads.csv")); len(rows) != heads {
		p.t.Errorf("heads.csv has %d heads, want %d", len(rows), heads)
	}
	checkWorkbook(p, base+"parts.xlsx", heads)
}

// checkWorkbook opens the workbook and adds up the bodies of its totals.
func checkWorkbook(p *tab, path string, heads int) {
	p.t.Helper()
	packed := eval[string](p, fmt.Sprintf(`fetch(%q).then(r => r.arrayBuffer()).then(b => btoa(String.fromCharCode(...new Uint8Array(b))))`, path))
	raw, err := base64.StdEncoding.DecodeString(packed)
	if err != nil {
		p.t.Fatal(err)
	}
	book, err := excelize.OpenReader(bytes.NewReader(raw))
	if err != nil {
		p.t.Fatal(err)
	}
	defer book.Close()
	bodies := 0
	for _, sheet := range book.GetSheetList() {
		rows, err := book.GetRows(sheet)
		if err != nil {
			p.t.Fatal(err)
		}
		bodies += bodiesInTotal(p.t, rows)
	}
	if bodies != heads {
		p.t.Errorf("parts.xlsx totals %d bodies, want %d", bodies, heads)
	}
}

// bodiesInTotal adds up the rows "Total … Body … n" of one sheet.
func bodiesInTotal(t *testing.T, rows [][]string) int {
	t.Helper()
	sum := 0
	for _, r := range rows {
		if !slices.Contains(r, "Total") || !slices.Contains(r, "Body") {
			continue
		}
		for _, cell := range r {
			if n, err := strconv.Atoi(cell); err == nil {
				sum += n
				break
			}
		}
	}
	return sum
}

// readCSV reads a list with a header into one map a row.
func readCSV(t *testing.T, text string) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) == 0 {
		t.Fatal("the list is empty")
	}
	var rows []map[string]string
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, cell := range record {
			row[all[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}
