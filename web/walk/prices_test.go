//go:build browser

package walk

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// priceList is the price list of the plan on the page, a price in every line, as a
// user's spreadsheet would save it.
func (p *tab) priceList() [][]string {
	p.t.Helper()
	text := strings.TrimPrefix(p.fetch(eval[string](p, "location.pathname")+"/files/prices.csv"), "\ufeff")
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		p.t.Fatal(err)
	}
	for i := range rows[1:] {
		if rows[i+1][1] != "" { // the last line is a note
			rows[i+1][2] = fmt.Sprintf("%d.50", i%7+1)
		}
	}
	return rows
}

// choosePrices hands a price list to the open dialog.
func (p *tab) choosePrices(rows [][]string) {
	p.t.Helper()
	path := filepath.Join(p.t.TempDir(), "prices.csv")
	f, err := os.Create(path)
	if err != nil {
		p.t.Fatal(err)
	}
	if err := csv.NewWriter(f).WriteAll(rows); err != nil {
		p.t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		p.t.Fatal(err)
	}
	p.do(chromedp.SetUploadFiles("#prices-file", []string{path}))
}

// takePrices brings a price for every part of the plan.
func (p *tab) takePrices() {
	p.t.Helper()
	eval[bool](p, `evenfall.drawing.commands.run("plan.prices", () => {}) ?? true`)
	p.until(`document.querySelector("#prices-file")`)
	p.choosePrices(p.priceList())
	p.until(`document.querySelector('dialog[open] button[value="take"]:not(:disabled)')`)
	p.click(`dialog[open] button[value="take"]`)
	p.until(`evenfall.state.design.costs.sum !== ""`)
	p.settled()
}

// A price list with a line at fault: the fault is told by its row, nothing is taken
// until that is asked for, then all in one step that undo takes back; the total is
// seen on the board and on the quote.
func TestPricesAreBroughtShownTakenAndUndone(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.click("#tab-parts")
	p.until(`document.querySelector("#parts .parts-says").textContent.startsWith("Nothing has a price yet")`)
	p.frame()
	p.axe("parts without prices")
	p.shot("parts-1-bare")
	list := p.priceList()
	spoilt := append([][]string{}, list...)
	spoilt[3] = append([]string{}, list[3]...)
	spoilt[3][2] = "two"
	spoilt = append(spoilt, []string{"Garden gnome", "each", "12", "", "", ""})
	rev := eval[int](p, `evenfall.state.rev`)
	p.pressText("#parts", "Bring prices…")
	p.until(`document.querySelector("#prices-file")`)
	p.shot("parts-2-asked")
	p.choosePrices(spoilt)
	p.until(`document.querySelector("dialog[open] .price-faults li")`)
	if said := eval[string](p, `document.querySelector("dialog[open] .price-faults li").textContent`); !strings.HasPrefix(said, "Row 4, price: ") {
		t.Errorf("the fault is told as %q", said)
	}
	if !eval[bool](p, `document.querySelector("dialog[open]").innerText.includes("Not on the list of this plan")`) {
		t.Error("a price for something else is not said to be so")
	}
	p.axe("a price list with a fault")
	p.shot("parts-3-fault")
	p.escape()
	p.until(`!document.querySelector("dialog[open]")`)
	if now := eval[int](p, `evenfall.state.rev`); now != rev || eval[bool](p, `evenfall.state.plan.prices !== undefined`) {
		t.Fatal("prices were taken though they were only looked at")
	}
	p.pressText("#parts", "Bring prices…")
	p.until(`document.querySelector("#prices-file")`)
	p.choosePrices(list)
	p.until(`document.querySelector('dialog[open] button[value="take"]:not(:disabled)')`)
	p.frame()
	p.shot("parts-4-shown")
	p.pressText("dialog[open]", "Take these prices")
	p.until(`evenfall.state.design.costs.sum !== ""`)
	p.settled()
	if now := eval[int](p, `evenfall.state.rev`); now != rev+1 {
		t.Errorf("revision %d after %d: not one step", now, rev)
	}
	sum := eval[string](p, `evenfall.state.design.costs.sum`)
	if says := eval[string](p, `document.querySelector("#parts .parts-says").textContent`); says != "The parts come to "+sum+"." {
		t.Errorf("the list says %q, the sum is %q", says, sum)
	}
	// The lists add up to the total, as they stand on the page.
	if off := eval[float64](p, `(() => { const sums = [...document.querySelectorAll("#parts .parts-zone > summary .figure")].map((e) => Number(e.textContent));
		return Math.abs(sums.slice(0, -1).reduce((a, b) => a + b, 0) - sums.at(-1)); })()`); !(off < 0.005) {
		t.Errorf("the lists are %v off the total", off)
	}
	p.axe("parts with prices")
	p.shot("parts-5-priced")
	// On paper every list is open.
	if _, text := p.paper("parts-priced"); !strings.Contains(text, "Station 3: Side lawn") || strings.Count(text, "1.50 each") < 5 || !strings.Contains(text, "Counted here:") {
		t.Error("the print does not have every list with its prices")
	}
	p.visit(prog.url + eval[string](p, `location.pathname`) + "/quote")
	p.until(`document.querySelector(".quote-total")`)
	if total := eval[string](p, `document.querySelector(".quote-total .figure").textContent`); total != sum {
		t.Errorf("the quote comes to %q, the parts to %q", total, sum)
	}
	p.axe("quote")
	p.shot("quote-1-screen")
	p.click(`a[href$="#rates"]`)
	p.onBoard()
	p.until(`document.querySelector("dialog.rates[open]")`)
	p.shot("quote-2-rates")
	p.closeDialog()
	p.click("#undo")
	p.until(`evenfall.state.plan.prices === undefined && evenfall.state.design.costs.sum === ""`)
}

// All of it by keyboard: the list is gone through, a line opened and shown, a price
// given and taken out, rates set with a machine, and the quote printed with them.
func TestPricesAndQuoteByKeyboard(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1024, 768)
	openDemo(t, p, prog)
	eval[bool](p, `evenfall.drawing.commands.run("plan.parts", () => {}) ?? true`)
	p.until(`document.activeElement.id === "tab-parts" && !document.querySelector("#parts").hidden`)
	p.frame()
	// From list to list by the arrows, opened by Enter.
	eval[bool](p, `(document.querySelector("#parts .parts-zone summary").focus(), true)`)
	p.press(kb.ArrowDown)
	p.until(`document.activeElement.innerText.includes("Main")`)
	p.enter()
	p.until(`document.activeElement.parentElement.open`)
	p.press(kb.Tab) // the price of its first line
	p.until(`document.activeElement.innerText.startsWith("Price…")`)
	p.enter()
	p.until(`document.querySelector("dialog[open]") && document.activeElement.matches("dialog input")`)
	item := eval[string](p, `document.querySelector("dialog[open] h2").textContent.replace("Price of ", "")`)
	p.write("two")
	p.enter()
	p.until(`document.querySelector("dialog[open] .error:not([hidden])")`)
	p.shot("price-one-fault")
	eval[bool](p, `(document.activeElement.select(), true)`)
	p.write("3.25")
	p.enter()
	p.until(`!document.querySelector("dialog[open]")`)
	p.settled()
	if got := eval[string](p, `Object.values(evenfall.state.plan.prices).map((v) => v.item + " " + v.each).join()`); got != item+" 3.25" {
		t.Errorf("the price is kept as %q", got)
	}
	p.frame()
	p.shot("parts-6-one-price")
	eval[bool](p, `evenfall.drawing.commands.run("plan.rates", () => {}) ?? true`)
	p.until(`document.querySelector("dialog.rates[open]") && document.activeElement.matches("dialog input")`)
	p.write("4")
	p.press(kb.Tab)
	p.press(kb.Tab)
	p.write("12.50")
	eval[bool](p, `(document.querySelector("dialog[open] tfoot input").focus(), true)`)
	for i, words := range []string{"Trencher", "2", "95"} {
		if i > 0 {
			p.press(kb.Tab)
		}
		p.write(words)
	}
	p.axe("rates of the quote")
	p.shot("rates-typed")
	p.pressText("dialog[open]", "Keep") // a machine that was typed and not added is not lost
	p.until(`!document.querySelector("dialog[open]")`)
	p.settled()
	if got := eval[string](p, `JSON.stringify(evenfall.state.plan.quote)`); got != `{"per_head":12.5,"per_trench_ft":4,"rentals":{"rental-1":{"days":2,"each":95,"what":"Trencher"}}}` &&
		got != `{"per_trench_ft":4,"per_head":12.5,"rentals":{"rental-1":{"what":"Trencher","days":2,"each":95}}}` {
		t.Errorf("the rates are kept as %s", got)
	}
	p.visit(prog.url + eval[string](p, `location.pathname`) + "/quote")
	p.until(`document.querySelector(".quote-total")`)
	for _, words := range []string{"Trencher", "190.00", "Heads, set", "not the whole", "Not in it"} {
		if !eval[bool](p, fmt.Sprintf(`document.querySelector("main").innerText.includes(%q)`, words)) {
			t.Errorf("the quote does not say %q", words)
		}
	}
	p.axe("quote with rates")
	p.shot("quote-3-1024")
	_, text := p.paper("quote-paper")
	for _, words := range []string{"Trencher", "Total", "permits, fees", "Station 1: Front lawn, west"} {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(words)) {
			t.Errorf("the print does not say %q", words)
		}
	}
	for _, words := range []string{"Bring prices", "Lists to save", "Back to the board"} {
		if strings.Contains(text, words) {
			t.Errorf("the print has %q on it", words)
		}
	}
	eval[bool](p, `(window.print = () => { document.body.dataset.printed = "yes"; }, document.querySelector("#print-sheet").focus(), true)`)
	p.enter()
	p.until(`document.body.dataset.printed === "yes"`)
}

// The plan is compared with how it was, in parts and in money, from the page.
func TestPartsAreComparedWithAnEarlierState(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.takePrices()
	eval[bool](p, `(evenfall.board.select(["heads/h2-8"]), evenfall.drawing.commands.run("edit.delete", () => {}), true)`)
	p.until(`evenfall.state.plan.heads["h2-8"] === undefined`)
	p.settled()
	p.command("plan.compare")
	p.until(`document.querySelector("dialog[open] [role=status] .compare-table")`)
	said := eval[string](p, `document.querySelector("dialog[open] [role=status]").innerText`)
	for _, words := range []string{"less", "Swing joint", "Quote, with work"} {
		if !strings.Contains(said, words) {
			t.Errorf("the comparison does not say %q: %s", words, said)
		}
	}
	p.axe("parts compared")
	p.shot("compare-parts-1280")
}
