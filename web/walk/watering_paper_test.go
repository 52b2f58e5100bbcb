//go:build browser

package walk

import (
	"regexp"
	"strings"
	"testing"
)

// The program comes on paper twice: as the card for the controller's door in the owner's
// pack, and as its own page printed. Both say what the bench says to key in, and are light.
func TestTheProgramIsPrinted(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	p.wateringOpen()
	p.climateZone("14")
	stations := eval[[][]string](p, `[...document.querySelectorAll("#water .water-program tbody tr")].map((r) => [evenfall.state.plan.zones[Object.keys(evenfall.state.plan.zones).find((z) => String(evenfall.state.plan.zones[z].station) === r.querySelector("th").textContent.slice(-1))].name, r.querySelector(".figure").textContent])`)
	starts := eval[string](p, `document.querySelectorAll("#water .water-program dd")[1].textContent`)
	if len(stations) != 6 || !regexp.MustCompile(`\d\d:\d\d`).MatchString(starts) {
		t.Fatalf("the bench shows %v, starts %q", stations, starts)
	}
	// saysAll holds a text of a page to the bench.
	saysAll := func(on, text string) {
		t.Helper()
		flat := strings.Join(strings.Fields(text), " ")
		for _, s := range stations {
			row := regexp.MustCompile(regexp.QuoteMeta(s[0]) + `\D{0,40}\b` + s[1] + `\b`)
			if !row.MatchString(flat) {
				t.Errorf("%s: %s is not keyed in for %s minutes", on, s[0], s[1])
			}
		}
		for _, at := range regexp.MustCompile(`\d\d:\d\d`).FindAllString(starts, -1) {
			if !strings.Contains(flat, at) {
				t.Errorf("%s: no start at %s", on, at)
			}
		}
	}

	dir := p.downloads()
	p.click(`#water a[href="` + path + `/papers?pack=owner"]`)
	p.papersMade()
	p.click(`[data-code="O3"]`)
	p.papersMade()
	p.axe("the card among the papers")
	p.shot("watering-card")
	p.click("#papers-save")
	card := cardIn(t, p.downloaded(dir, "-owner.pdf"))
	saysAll("the door card", card)
	for _, want := range []string{"Program card", "July", "Jan", "Dec"} {
		if !strings.Contains(card, want) {
			t.Errorf("the door card does not say %q", want)
		}
	}
	if strings.Contains(card, "does not fit") {
		t.Error("a program that fits is said not to")
	}

	p.visit(prog.url + path + "/program")
	p.until(`document.querySelector("body.program")`)
	p.media("dark")
	p.printing("print")
	for selector, hidden := range map[string]bool{"#print-sheet": true, ".program-nav": true, ".downloads": true, ".program-card": false, ".program-verdict": false, ".soil-chart": false} {
		if got := !eval[bool](p, `[...document.querySelectorAll("`+selector+`")].some((e) => e.checkVisibility())`); got != hidden {
			t.Errorf("%s is hidden in print: %v", selector, got)
		}
	}
	if light := p.lightness("body"); light < 0.9 {
		t.Errorf("in the dark the print is not light: %.2f", light)
	}
	pages, text := p.paper("program-page")
	p.printing("")
	saysAll("the printed page", text)
	for _, want := range []string{"Watering program of Corner lot", "It fits", "Soil water by area", "What each area needs and gets"} {
		if !strings.Contains(text, want) {
			t.Errorf("the printed page does not say %q", want)
		}
	}
	// With two days left it does not fit: the card says so, why, and what would help.
	p.visit(prog.url + path)
	p.onBoard()
	p.wateringOpen()
	p.day("wed", false)
	p.watered()
	why := eval[string](p, `document.querySelector("#water .water-notfit li").textContent`)
	card = cardIn(t, p.fetchBytes(path+"/packs/owner.pdf"))
	for _, want := range []string{why, "does not fit", "One more day"} {
		if !strings.Contains(strings.Join(strings.Fields(card), " "), want) {
			t.Errorf("the card of a program that does not fit says no %q:\n%s", want, card)
		}
	}
	t.Logf("shown: the card says six stations and their starts as the bench does, and so do %d printed pages of the program", len(pages))
}

// cardIn is the text of the door card in an owner's pack.
func cardIn(t *testing.T, pack []byte) string {
	t.Helper()
	card := ""
	for _, page := range pagesOf(t, pack) {
		if regexp.MustCompile(`\bO3\b`).MatchString(page) {
			card += page
		}
	}
	return card
}
