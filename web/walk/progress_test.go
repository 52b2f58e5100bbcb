//go:build browser

package walk

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// hugePlan is a lawn with 10,000 heads on it, as JSON.
const hugePlan = `(() => {
	const heads = {};
	for (let i = 0; i < 10000; i++) heads["h" + i] = { tag: "1-" + (i + 1), nozzle: "n1", body: "b1", x_ft: 5 * (i % 100), y_ft: 5 * Math.floor(i / 100), sweep_deg: 360, zone: "z1" };
	return {
		format: "evenfall-plan/1", name: "Huge", show: "us",
		areas: { a1: { name: "Lawn", kind: "planting", outline: [[0, 0], [500, 0], [500, 500], [0, 500]] } },
		zones: { z1: { name: "All", station: 1 } }, heads,
		nozzles: { n1: { name: "Spray", family: "spray", generic: true, source: "made up", arc_least_deg: 1, arc_most_deg: 360, flow_follows_arc: true, trajectory_deg: 25, profile: { kind: "linear" }, turn_down: { usual_share: 0.75, least_share: 0.6, flow_power: 1 }, best_psi: 30, rows: [{ pressure_psi: 30, throw_ft: 8, flow_gpm: 1 }], thread: "spray" } },
		bodies: { b1: { name: "Body", generic: true, source: "made up", height_in: 4, check_valve: false, takes: "spray", inlet_in: 0.5 } },
	};
})()`

// openHuge opens a plan of 10,000 heads.
func openHuge(t *testing.T, p *tab, prog *program) string {
	t.Helper()
	p.visit(prog.url)
	id := eval[string](p, `fetch("/api/plans", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ name: "Huge", show: "us", doc: `+hugePlan+` }) }).then((r) => r.json()).then((s) => s.id)`)
	p.patience *= 3 // a guard only: the machine may be shared
	p.visit(prog.url + "/plans/" + id)
	p.until("window.evenfall")
	p.settled()
	return "/plans/" + id
}

// axeOf runs the accessibility engine on one part of the page: on the whole, 10,000
// heads would keep it for minutes.
func (p *tab) axeOf(selector string) {
	p.t.Helper()
	engine, err := os.ReadFile("../node_modules/axe-core/axe.min.js")
	if err != nil {
		p.t.Fatalf("axe-core is installed by go run ./cmd/dev test: %v", err)
	}
	eval[bool](p, string(engine)+"; true")
	if found := eval[string](p, fmt.Sprintf(`axe.run(%q).then((r) => r.violations.map((v) => v.id + ": " + v.nodes[0].html).join("; "))`, selector)); found != "" {
		p.t.Errorf("%s: %s", selector, found)
	}
}

// On 10,000 heads the field takes long enough to be followed: a bar with the step
// in words and its share comes, the board is drawn on meanwhile, and Cancel and
// Escape call it off: nothing of it is shown and the plan is as it was.
func TestRowA25_LongWorkIsFollowedAndCalledOff(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openHuge(t, p, prog)
	p.excuse(toldAway) // a request that is called off
	before := eval[string](p, `JSON.stringify(evenfall.state.plan.heads.h5050)`)
	chosen := func() string {
		return eval[string](p, `document.querySelector("input[name=circumstance]:checked").value`)
	}

	p.click(`input[value="field"]`)
	p.until(`document.body.dataset.busy === ""`)
	p.until(`document.querySelector(".long-work progress") && !document.querySelector(".work-bar").hidden && document.querySelector(".long-work progress").value > 0`)
	if text := eval[string](p, `document.querySelector(".long-work").innerText`); !strings.Contains(text, "Working out the plan in the field") || !strings.Contains(text, "Setting the heads out by hand") || !strings.Contains(text, " %") {
		t.Errorf("the bar says %q", text)
	}
	p.shot("work-bar")
	p.axeOf(".long-work")

	// The board is live: a preview is computed and painted beside the work.
	seq := eval[int](p, `+document.documentElement.dataset.paintedSeq`)
	eval[bool](p, `(evenfall.board.channel.show(evenfall.state.rev, { heads: { h5050: { x_ft: 251 } } }), true)`)
	p.until(fmt.Sprintf(`+document.documentElement.dataset.paintedSeq > %d`, seq))
	if n := eval[int](p, `+document.documentElement.dataset.working`); n != 1 {
		t.Errorf("when the preview is painted %d works are under way: the test says nothing", n)
	}
	eval[bool](p, `(evenfall.board.channel.show(evenfall.state.rev, {}), true)`)

	p.click(".long-work button")
	p.until(`document.documentElement.dataset.working === "0" && document.querySelector(".long-work").hidden`)
	p.frame()
	if got := chosen(); got != "drawn" || eval[string](p, `document.documentElement.dataset.shows`) != "drawn" {
		t.Errorf("after Cancel the switch stands at %s", got)
	}
	if text := eval[string](p, `document.querySelector("#notice, .notice").textContent`); !strings.Contains(text, "called off") {
		t.Errorf("after Cancel it says %q", text)
	}

	// Escape, from the switch and from the board.
	for _, focus := range []string{`input[value="windy"]`, "#scene"} {
		p.click(`input[value="field"]`)
		p.until(`document.body.dataset.busy === ""`)
		eval[bool](p, fmt.Sprintf(`(document.querySelector(%q).focus(), true)`, focus))
		p.press(kb.Escape)
		p.until(`document.documentElement.dataset.working === "0"`)
		if got := chosen(); got != "drawn" {
			t.Errorf("after Escape on %s the switch stands at %s", focus, got)
		}
	}
	if after := eval[string](p, `JSON.stringify(evenfall.state.plan.heads.h5050)`); after != before || eval[int](p, `evenfall.state.rev`) != 1 {
		t.Errorf("the plan was changed: %s, before %s", after, before)
	}
	if stored := eval[int](p, fmt.Sprintf(`fetch("/api%s").then((r) => r.json()).then((s) => s.rev)`, path)); stored != 1 {
		t.Errorf("the stored plan is at revision %d", stored)
	}
	t.Log("shown: 10,000 heads, called off 3 times, plan at revision 1")
}
