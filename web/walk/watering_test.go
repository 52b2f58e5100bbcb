//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// wateringOpen opens the watering bench and waits for the program of the plan.
func (p *tab) wateringOpen() {
	p.t.Helper()
	p.command("plan.water")
	p.until(`document.querySelector("#water").checkVisibility()`)
	p.watered()
}

// watered waits until the program of the plan as it is stored is shown.
func (p *tab) watered() {
	p.t.Helper()
	was := p.patience
	p.patience = searchTime
	defer func() { p.patience = was }()
	p.settled()
	p.until(`((bench) => !bench.dataset.working && !bench.querySelector("[aria-busy]") && bench.querySelector(".water-verdict").checkVisibility())(document.querySelector("#water"))`)
	p.frame()
}

// wateringPart opens a part of what the program is asked for.
func (p *tab) wateringPart(key string) {
	p.t.Helper()
	part := fmt.Sprintf("#water [data-part=%s]", key)
	if !eval[bool](p, fmt.Sprintf(`document.querySelector(%q).open`, part)) {
		p.click(part + " > summary")
	}
	p.until(fmt.Sprintf(`document.querySelector(%q).open`, part))
}

// verdict is what the bench says of the program, and whether it fits.
func (p *tab) verdict() (says, fits string) {
	p.t.Helper()
	got := eval[[]string](p, `((v) => [v.textContent, v.dataset.good ?? ""])(document.querySelector("#water .water-verdict"))`)
	return got[0], got[1]
}

// keyedIn is what the bench shows as keyed in: program by program its days and starts,
// then station and minutes.
func (p *tab) keyedIn() string {
	p.t.Helper()
	return eval[string](p, `[...document.querySelectorAll("#water .water-program")].map((s) => [
		[...s.querySelectorAll("dd")].slice(0, 2).map((e) => e.textContent).join("; "),
		...[...s.querySelectorAll("tbody tr")].map((r) => r.querySelector(".figure").textContent),
	].join(" | ")).join("\n")`)
}

// climateZone chooses a zone of the public table as a person does.
func (p *tab) climateZone(zone string) {
	p.t.Helper()
	p.wateringPart("climate")
	p.choose("#water", "Need is reckoned from", "zone")
	p.choose("#water", "Zone", zone)
	p.until(fmt.Sprintf(`evenfall.state.plan.watering.et_zone === %s`, zone))
	p.watered()
}

// day allows or forbids a day of the week.
func (p *tab) day(value string, allowed bool) {
	p.t.Helper()
	box := fmt.Sprintf("#water .water-days input[value=%s]", value)
	if eval[bool](p, fmt.Sprintf(`document.querySelector(%q).checked`, box)) == allowed {
		p.t.Fatalf("%s is already as it should become", value)
	}
	p.click(box)
	p.until(fmt.Sprintf(`evenfall.state.plan.watering.days.includes(%q) === %v`, value, allowed))
}

// The demo is watered from the page: climate and soil are given, the program is seen,
// two days are forbidden, it is said why that does not fit and what would, that is taken
// as one step, and all of it is taken back.
func TestTheDemosWateringIsPlannedByPointer(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	first := eval[int](p, `evenfall.state.rev`)
	p.click("#plan-menu summary")
	p.click(`[data-runs="plan.water"]`)
	p.until(`document.querySelector("#water").checkVisibility()`)
	p.watered()
	p.axe("watering bench")
	p.shot("watering-1-opened")
	says, fits := p.verdict()
	if fits != "yes" || !strings.HasPrefix(says, "The week at peak takes") {
		t.Errorf("without a climate: %q, fits %q", says, fits)
	}
	if n := eval[int](p, `evenfall.state.rev`); n != first {
		t.Errorf("opening the bench changed the plan: revision %d after %d", n, first)
	}

	p.climateZone("14")
	p.axe("watering bench with a climate")
	p.shot("watering-2-zone")
	if now := eval[string](p, `document.querySelector("#water [data-part=climate]").innerText`); !strings.Contains(now, "zone 14 of the public table") && !strings.Contains(now, "Zone 14 of the public table") {
		t.Errorf("the climate is not named: %s", now)
	}
	if says, fits = p.verdict(); fits != "yes" || !strings.HasPrefix(says, "July takes") || !strings.Contains(says, "Monday, Wednesday and Friday") {
		t.Errorf("in zone 14: %q, fits %q", says, fits)
	}
	if months := eval[[]string](p, `[...document.querySelectorAll("#water-month option")].map((o) => o.textContent)`); len(months) != 12 || months[0] != "January" {
		t.Errorf("the months are %v", months)
	}
	july := p.keyedIn()
	if got := eval[string](p, `document.querySelector("#water-month").selectedOptions[0].textContent`); got != "July" {
		t.Errorf("the month shown first is %s, not the peak", got)
	}
	p.selectValue("#water-month", "0")
	p.frame()
	if january := p.keyedIn(); january == july || january == "" {
		t.Errorf("in January the program is %q, in July %q", january, july)
	}
	p.selectValue("#water-month", "6")
	p.frame()

	p.soilOfFrontLawn()
	p.daysForbidden(first)
}

// soilOfFrontLawn makes the soil of the front lawn sand and back: what its need and its
// interval are reckoned from follows.
func (p *tab) soilOfFrontLawn() {
	p.t.Helper()
	t := p.t
	card := cardOf("Front lawn")
	lasts := func() string {
		return eval[string](p, `[...(`+card+`).querySelectorAll(".facts dd")].map((e) => e.textContent).join(" | ")`)
	}
	clay := lasts()
	// Its name shows it on the board; its soil is in its card.
	eval[bool](p, `((`+card+`).querySelector("h4 button").click(), true)`)
	p.until(`[...evenfall.state.selection].join() === "areas/front-lawn"`)
	eval[bool](p, `((c) => ([...c.querySelectorAll("details")].find((d) => d.textContent.startsWith("Its plants and soil")).open = true, c.scrollIntoView(), true))(`+card+`)`)
	p.frame()
	p.axe("plants and soil of an area on the bench")
	p.shot("watering-3-soil")
	soil := eval[string](p, `[...(`+card+`).querySelectorAll("label")].find((l) => l.textContent.startsWith("Soil") && l.checkVisibility()).htmlFor`)
	p.selectValue("#"+soil, "sand")
	p.until(`evenfall.state.plan.areas["front-lawn"].soil === "sand"`)
	p.watered()
	if sand := lasts(); sand == clay {
		t.Errorf("on sand the front lawn is told %q, as on clay loam", sand)
	}
	if says, fits := p.verdict(); fits != "no" {
		t.Errorf("three days a week serve a lawn on sand at peak: %q", says)
	}
	p.click("#undo")
	p.until(`evenfall.state.plan.areas["front-lawn"].soil === "clay_loam"`)
	p.watered()
	if again := lasts(); again != clay {
		t.Errorf("after undo the front lawn is told %q, was %q", again, clay)
	}
}

// daysForbidden leaves one day of three, has it said why that does not serve, and takes
// what would.
func (p *tab) daysForbidden(first int) {
	p.t.Helper()
	t := p.t
	fitted := p.keyedIn()
	p.day("wed", false)
	p.watered()
	says, fits := p.verdict()
	if fits != "no" || !strings.Contains(says, "does not fit") {
		t.Errorf("on two days: %q, fits %q", says, fits)
	}
	p.day("fri", false)
	p.watered()
	if says, fits = p.verdict(); fits != "no" {
		t.Errorf("on one day: %q, fits %q", says, fits)
	}
	why := eval[string](p, `document.querySelector("#water .water-notfit").innerText`)
	for _, want := range []string{"Why", "h 00 min are allowed", "The soil of Back lawn lasts", "more", "What would help"} {
		if !strings.Contains(why, want) {
			t.Errorf("why it does not fit says no %q: %s", want, why)
		}
	}
	eval[bool](p, `(document.querySelector("#water .bench-body").scrollTop = 0, true)`)
	p.axe("what does not fit")
	p.shot("watering-4-one-day")
	if got := eval[string](p, `document.querySelector("#live").textContent`); !strings.Contains(got, "does not fit") {
		t.Errorf("it is not said aloud that it does not fit: %q", got)
	}

	p.day("thu", true)
	p.watered()
	if _, fits = p.verdict(); fits != "no" {
		t.Error("Monday and Thursday serve zone 14 at peak")
	}
	p.shot("watering-5-two-days")
	rev := eval[int](p, `evenfall.state.rev`)
	ease := `document.querySelector('#water .water-eases li[data-good=yes] button')`
	p.until(ease)
	label := eval[string](p, ease+`.getAttribute("aria-label")`)
	eval[bool](p, `(`+ease+`.focus(), `+ease+`.click(), true)`)
	p.until(fmt.Sprintf(`evenfall.state.rev === %d`, rev+1))
	p.watered()
	if says, fits = p.verdict(); fits != "yes" {
		t.Errorf("after %q: %q", label, says)
	}
	if at := eval[string](p, `document.activeElement.className`); !strings.Contains(at, "water-verdict") {
		t.Errorf("with the button gone the focus is on %q, not on the verdict", at)
	}
	p.shot("watering-6-eased")
	step := eval[string](p, `fetch("/api/plans/" + evenfall.board.id + "/history").then((r) => r.json()).then((h) => h.steps.at(-1)?.label ?? "")`)
	if !strings.HasSuffix(label, step) || step == "" {
		t.Errorf("the step is called %q, the button %q", step, label)
	}
	days := eval[[]string](p, `evenfall.state.plan.watering.days`)
	if slices.Sort(days); len(days) != 3 {
		t.Errorf("after %q the days are %v", label, days)
	}

	for range 4 { // the ease, Thursday, Friday, Wednesday
		p.click("#undo")
		p.settled()
	}
	p.until(`evenfall.state.plan.watering.days.join() === "mon,wed,fri"`)
	p.watered()
	if got := p.keyedIn(); got != fitted {
		t.Errorf("taken back, the program is %q, was %q", got, fitted)
	}
	p.click("#undo") // the zone
	p.until(`evenfall.state.plan.watering.et_zone === undefined`)
	p.watered()
	if says, _ := p.verdict(); !strings.HasPrefix(says, "The week at peak takes") {
		t.Errorf("with no climate again: %q", says)
	}
	p.pressText("#water", "Close")
	p.until(`!document.querySelector("#water").checkVisibility()`)
	if got := eval[int](p, `Object.keys(evenfall.state.plan.watering).length`); got != 4 {
		b, _ := json.Marshal(eval[map[string]any](p, `evenfall.state.plan.watering`))
		t.Errorf("after all is taken back watering is %s, first revision %d", b, first)
	}
}
