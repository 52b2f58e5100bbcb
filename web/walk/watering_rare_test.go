//go:build browser

package walk

import (
	"strings"

	"github.com/chromedp/chromedp"
)

// rareWatering are the states of the watering program that take trouble to reach.
func rareWatering(p *tab, prog *program, look look) {
	path := openDemo(p.t, p, prog)
	p.wateringOpen()
	p.climateZone("14")
	p.day("wed", false)
	p.day("fri", false)
	p.watered()
	eval[bool](p, `(document.querySelector("#water .bench-body").scrollTop = 0, true)`)
	look("water-not-fit")
	eval[bool](p, `(document.querySelector("#water .water-eases").scrollIntoView(), true)`)
	look("water-eases")
	rows := strings.Split(weatherByMonth, "\n")
	rows[3] = strings.Replace(rows[3], "47,26", "27,46", 1)
	p.chooseWeather(strings.Join(rows, "\n"))
	p.until(`document.querySelector("dialog[open] .price-faults li")`)
	look("weather-faults")
	p.do(chromedp.Click("dialog[open] summary"))
	look("weather-columns")
	p.closeDialog()
	p.choose("#water", "Need is reckoned from", "temperatures")
	p.pressText("#water", "Type temperatures and rain")
	p.until(`document.querySelectorAll("dialog[open] tbody tr").length === 12`)
	look("climate-months")
	p.closeDialog()
	bed := cardOf("Island bed")
	eval[bool](p, `((c) => (c.querySelectorAll("details").forEach((d) => { d.open = true; }), [...c.querySelectorAll("button")].find((b) => b.textContent.startsWith("Turn arcs off")).click(), true))(`+bed+`)`)
	p.found("#water")
	p.until(bed + `.querySelector(".water-turn").innerText.length > 20`)
	eval[bool](p, `(`+bed+`.querySelector(".water-turn").scrollIntoView(), true)`)
	look("water-turned")
	p.visit(prog.url + path + "/program?month=may")
	p.until(`document.querySelector("body.program")`)
	eval[bool](p, `(document.querySelectorAll("details").forEach((d) => { d.open = true; }), true)`)
	look("program-not-fit")
	p.visit(prog.url)
	p.visit(prog.url + "/plans/" + p.create(map[string]any{"format": "evenfall-plan/1", "name": "Bare", "show": "metric"}) + "/program")
	look("program-none")
	// Temperatures tell nothing without the latitude.
	p.visit(prog.url + path)
	p.onBoard()
	eval[bool](p, `(async () => {
		const plan = structuredClone(evenfall.board.committed);
		delete plan.site.latitude_deg;
		Object.assign(plan.watering, { high_f: Array(12).fill(80), low_f: Array(12).fill(60) });
		delete plan.watering.et_zone;
		await evenfall.board.commit("Temperatures alone", plan); return true; })()`)
	p.wateringOpen()
	look("water-none")
	p.visit(prog.url + path + "/program")
	look("program-why-none")
	p.visit(prog.url + path)
	p.onBoard()
	p.wateringOpen()
	p.excuse(toldAway, toldNoSocket)
	prog.stop()
	p.until(`document.body.dataset.away === ""`)
	look("water-away")
}
