//go:build browser

package walk

import (
	"fmt"
	"strings"
	"testing"

	"evenfall/internal/catalog"
)

// rotorRow is a lawn of four rotors in a row behind one valve on half-inch pipe:
// the far ones starve.
func rotorRow(t *testing.T) map[string]any {
	t.Helper()
	nozzle, ok := catalog.FindNozzle("rotor-30-3")
	body, known := catalog.FindBody("body-rotor-4")
	class, made := catalog.FindPipeClass("pvc-sch40")
	if !ok || !known || !made {
		t.Fatal("the catalogue has not the rows of this walk")
	}
	at := func(x, y float64) map[string]any { return map[string]any{"x_ft": x, "y_ft": y} }
	heads := map[string]any{}
	nodes := map[string]any{"c": with(at(2, 2), "kind", "connection"), "v": with(with(at(8, 2), "kind", "valve"), "zone", "z1")}
	pipe := func(from, to, zone string, size float64) map[string]any {
		m := map[string]any{"from": from, "to": to, "class": "pvc-sch40", "nominal_in": size}
		if zone != "" {
			m["zone"] = zone
		}
		return m
	}
	pipes := map[string]any{"m": pipe("c", "v", "", 1)}
	before := "v"
	for i, x := range []float64{30, 60, 90, 119} {
		head, node := fmt.Sprintf("h%d", i+1), fmt.Sprintf("n%d", i+1)
		heads[head] = with(with(with(with(with(at(x, 1), "nozzle", "rotor-30-3"), "body", "body-rotor-4"), "sweep_deg", 180), "zone", "z1"), "tag", fmt.Sprintf("1-%d", i+1))
		nodes[node] = with(with(at(x, 1), "kind", "head"), "head", head)
		pipes[fmt.Sprintf("p%d", i+1)] = pipe(before, node, "z1", 0.5)
		before = node
	}
	return map[string]any{
		"format": "evenfall-plan/1", "name": "Row of rotors", "show": "us",
		"areas":  map[string]any{"lawn": map[string]any{"name": "Lawn", "kind": "planting", "outline": [][]float64{{0, 0}, {120, 0}, {120, 30}, {0, 30}}}},
		"supply": map[string]any{"measured": true, "static_psi": 50, "measured_at": "7 pm in July", "flow_gpm": 20, "residual_psi": 44, "meter_in": 1, "connection": at(2, 2)},
		"zones":  map[string]any{"z1": map[string]any{"name": "Lawn", "station": 1, "valve_at": at(8, 2)}},
		"heads":  heads, "nodes": nodes, "pipes": pipes,
		"nozzles": map[string]any{"rotor-30-3": nozzle}, "bodies": map[string]any{"body-rotor-4": body}, "pipe_classes": map[string]any{"pvc-sch40": class},
	}
}

// On half-inch pipe the far rotor starves: it is marked, told in the table, and
// with the zones running map and readings are worse than drawn, and say which
// they are. Sized up, both change at once, and the mark goes. The pipes show
// their velocity and pressure, the budget adds up and leads to the worst head.
func TestRunningZonesShowAStarvedHeadAndItsCure(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.excuse(toldReadback)
	p.visit(prog.url)
	p.visit(prog.url + "/plans/" + p.create(rotorRow(t)))
	p.onBoard()
	p.click(`[data-command="view.fit"]`)
	p.until(`evenfall.state.design && evenfall.state.design.pressures[0].solved`)
	drawn := eval[string](p, evenness)
	// Over the ring that a starved stream leaves, near the far head.
	calm := p.colourAt(117, 12)

	p.click(`input[value="running"]`)
	p.until(`document.documentElement.dataset.shows === "running"`)
	if got := p.shows(); got != "running | Running | Running | running" {
		t.Errorf("it shows %q", got)
	}
	p.until(`document.querySelectorAll(".mark-starved").length > 0`)
	p.frame()
	starved, says := eval[string](p, evenness), eval[string](p, `document.querySelector(".says").textContent`)
	if starved == drawn || !strings.Contains(says, "water in a ring") {
		t.Errorf("evenness is %s as drawn and %s running; it says %q", drawn, starved, says)
	}
	label := eval[string](p, `document.querySelector("#readings .evenness .hint").textContent`)
	if !strings.Contains(label, "at the pressures the heads really have") {
		t.Errorf("the readings do not say which: %q", label)
	}
	short := p.colourAt(117, 12)
	if short == calm {
		t.Error("the map by the starved head is as drawn")
	}
	name := eval[string](p, `document.querySelector('#scene [data-ref="heads/h4"]').getAttribute("aria-label")`)
	if !strings.Contains(name, "too little pressure") {
		t.Errorf("the starved head is called %q", name)
	}
	p.shot("running-starved")
	p.axe("the zones running")

	// Colours of the pipes: velocity, then pressure.
	p.click(`input[value="velocity"]`)
	p.until(`document.querySelectorAll(".flow-line").length === 5`)
	p.shot("running-velocity")
	p.media("dark")
	p.frame()
	p.shot("running-velocity-dark")
	p.axe("pipes by velocity, dark")
	p.media("light")
	p.click(`input[name="pipes-by"][value="pressure"]`)
	p.until(`document.querySelector(".flows").dataset.by === "pressure"`)
	p.shot("running-pressure")
	p.media("dark")
	p.frame()
	p.shot("running-pressure-dark")
	p.media("light")

	// The budget, by the command's name, adds up as it is printed.
	eval[bool](p, `(evenfall.drawing.commands.run("plan.budget", () => {}), true)`)
	p.until(`!document.querySelector("#pressure").hidden && document.querySelectorAll(".budget tbody tr").length > 3`)
	p.click(".budget tbody tr:last-child summary")
	p.frame()
	if said := eval[string](p, `document.querySelector(".budget tbody").textContent`); !strings.Contains(said, "Zone valve (default)") || strings.Contains(said, "Main (default)") {
		t.Errorf("the budget does not mark its defaults: %q", said)
	}
	p.shot("budget")
	p.axe("the pressure budget")
	sum := eval[[]float64](p, `(() => {
		const rows = [...document.querySelectorAll(".budget tbody tr")].map((r) => [...r.querySelectorAll("td")].map((c) => c.textContent));
		const n = (t) => (t.startsWith("gains") ? -1 : 1) * Number(t.replace(/[^0-9.]/g, "") || 0);
		return [n(rows[0][1]) - rows.slice(1).reduce((s, r) => s + n(r[0]), 0), n(rows.at(-1)[1])].map((x) => Math.round(x * 10) / 10);
	})()`)
	if sum[0] != sum[1] {
		t.Errorf("the column leads to %g psi, the last row says %g", sum[0], sum[1])
	}
	p.media("dark")
	p.frame()
	p.shot("budget-dark")
	p.axe("the pressure budget, dark")
	p.media("light")
	p.click(`#pressure .acts button`)
	p.until(`[...evenfall.board.selection].join() === "heads/h4"`)
	p.click("#tab-objects")
	p.until(`[...document.querySelectorAll("#objects [role=row], #objects tr")].some((r) => r.textContent.includes("1-4") && r.textContent.includes("Too little pressure"))`)
	p.shot("running-table")
	p.click("#tab-objects")

	// Sized up, all four laterals at once, by the field of their size.
	eval[bool](p, `(evenfall.board.select(["pipes/p1", "pipes/p2", "pipes/p3", "pipes/p4"]), true)`)
	p.until(`document.querySelector("#selected h2").textContent === "4 pipes"`)
	eval[bool](p, `(() => {
		const label = [...document.querySelectorAll("#selected label")].find((l) => l.textContent.trim() === "Size");
		const field = label.control ?? label.querySelector("select, input");
		field.value = [...field.options].find((o) => o.textContent === "1-1/4 in").value;
		field.dispatchEvent(new Event("change", { bubbles: true }));
		return true;
	})()`)
	p.until(`document.querySelectorAll(".mark-starved").length === 0 && evenfall.state.design.as === "running" && evenfall.state.design.heads.h4.state !== "starved"`)
	p.settled()
	p.frame()
	if fed := eval[string](p, evenness); fed == starved {
		t.Errorf("evenness is %s starved and %s fed", starved, fed)
	}
	if fed := p.colourAt(117, 12); fed == short {
		t.Error("the map by the far head did not change with the size of its pipe")
	}
	p.shot("running-fed")

	p.click(`input[value="drawn"]`)
	p.until(`document.documentElement.dataset.shows === "drawn"`)
	if got := eval[string](p, evenness); got != drawn {
		t.Errorf("as drawn again evenness is %s, was %s", got, drawn)
	}
}
