//go:build browser

package walk

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// cardOf is the card of an area on the watering bench.
func cardOf(area string) string {
	return fmt.Sprintf(`[...document.querySelectorAll("#water .water-area")].find((e) => e.querySelector("h4").textContent === %q)`, area)
}

// aWeek is how many minutes a station is keyed in for in all programs of a week: its
// minutes by its starts and days.
func (p *tab) aWeek(station string) int {
	p.t.Helper()
	n := 0
	for _, line := range eval[[][]string](p, fmt.Sprintf(`[...document.querySelectorAll("#water .water-program")].flatMap((s) => {
		const facts = [...s.querySelectorAll("dd")].map((e) => e.textContent);
		return [...s.querySelectorAll("tbody tr")].filter((r) => r.querySelector("th").textContent.endsWith(%q)).map((r) => [facts[0], facts[1], r.querySelector(".figure").textContent]);
	})`, station)) {
		many := func(s string) int { return strings.Count(s, ",") + strings.Count(s, " and ") + 1 }
		minutes, err := strconv.Atoi(line[2])
		if err != nil {
			p.t.Fatalf("station %s is keyed in for %q minutes", station, line[2])
		}
		n += many(line[0]) * many(line[1]) * minutes
	}
	return n
}

// The flower bed lies amid the throw of the lawn: what the lawn brings is counted, its own
// valve gives only the rest. Switched off, its valve gives all; between the two by the
// height of its plants. The other cure, turning arcs off it, is sought and answers.
func TestWaterOfOtherZonesOnTheBed(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.wateringOpen()
	bed := cardOf("Island bed")
	counted := p.aWeek("6")
	if says := eval[string](p, bed+`.innerText`); !strings.Contains(says, "Other zones bring") || strings.Contains(says, "not counted") {
		t.Errorf("of the bed it is said: %s", says)
	}
	eval[bool](p, `((c) => (c.querySelector("details").open = true, c.scrollIntoView(), true))(`+bed+`)`)
	p.frame()
	p.axe("card of the bed")
	p.shot("watering-bed-counted")
	toggle := func() {
		t.Helper()
		eval[bool](p, bed+`.querySelector("input[type=checkbox]").click() ?? true`)
	}

	toggle()
	p.until(`evenfall.state.plan.areas.island.own_zones_only === true`)
	p.watered()
	alone := p.aWeek("6")
	if alone <= counted {
		t.Errorf("with what other zones bring the station of the bed runs %d minutes a week, without %d", counted, alone)
	}
	if says := eval[string](p, bed+`.innerText`); !strings.Contains(says, "It is not counted.") {
		t.Errorf("switched off, of the bed it is said: %s", says)
	}
	p.shot("watering-bed-alone")
	toggle()
	p.until(`!evenfall.state.plan.areas.island.own_zones_only`)
	p.watered()
	if again := p.aWeek("6"); again != counted {
		t.Errorf("counted again it runs %d minutes, at first %d", again, counted)
	}

	// Plants as high as a hip catch a part of it.
	eval[bool](p, `((f) => (f.focus(), f.select(), true))(`+bed+`.querySelector("input[type=text]"))`)
	p.write("30")
	p.press(kb.Tab)
	p.until(`evenfall.state.plan.areas.island.plant_height_in === 30`)
	p.watered()
	faded := p.aWeek("6")
	if faded <= counted || faded > alone {
		t.Errorf("with plants 30 in high it runs %d minutes, between %d and %d", faded, counted, alone)
	}
	if says := eval[string](p, bed+`.innerText`); !strings.Contains(says, "is counted, as its plants stand high") {
		t.Errorf("with high plants it is said: %s", says)
	}
	t.Logf("shown: station 6 runs %d minutes a week with all that other zones bring, %d with plants 30 in high, %d without", counted, faded, alone)

	rev := eval[int](p, `evenfall.state.rev`)
	eval[bool](p, bed+`.querySelector("details").open = true`)
	eval[bool](p, `(b => (b.focus(), b.click(), true))([...`+bed+`.querySelectorAll("button")].find((b) => b.textContent.startsWith("Turn arcs off")))`)
	p.found("#water")
	p.until(bed + `.querySelector(".water-turn").innerText.length > 20`)
	eval[bool](p, `(`+bed+`.querySelector(".water-turn").scrollIntoView(), true)`)
	p.frame()
	p.axe("arcs turned off the bed")
	p.shot("watering-bed-turned")
	if now := eval[int](p, `evenfall.state.rev`); now != rev {
		t.Errorf("seeking changed the plan: revision %d after %d", now, rev)
	}
	take := `[...` + bed + `.querySelectorAll(".water-turn button")].find((b) => b.checkVisibility() && b.textContent === "Turn them")`
	if eval[bool](p, `!!(`+take+`)`) {
		heads := eval[string](p, `JSON.stringify(evenfall.state.plan.heads)`)
		eval[bool](p, `(`+take+`).click() ?? true`)
		p.until(fmt.Sprintf(`evenfall.state.rev === %d`, rev+1))
		p.watered()
		if now := eval[string](p, `JSON.stringify(evenfall.state.plan.heads)`); now == heads {
			t.Error("no head was turned")
		}
		p.click("#undo")
		p.settled()
		return
	}
	p.button("#water .water-turn", "Close")
	p.until(`evenfall.drawing.toolName === "select"`)
}
