//go:build browser

package walk

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// Cans are offered and let go or taken, what they caught is typed from can to can or
// pasted, and what they come to is taken into the watering program, by keys alone where
// it is typed; a can is set by hand, dragged, and the audit deleted and brought back.
func TestE20_AnAuditOnTheBench(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.auditOffered()
	p.escape()
	p.until(`document.querySelector("#audit").hidden`)
	if left := eval[string](p, `JSON.stringify([evenfall.state.plan.proof ?? null, evenfall.board.layers.shows("cans"), evenfall.board.drafting])`); left != `[null,false,false]` {
		t.Errorf("an offer that was let go left %s", left)
	}
	p.auditOffered()
	p.auditRead()

	eval[bool](p, `(document.querySelectorAll("#audit .can-table tbody input[type=text]")[1].focus(), true)`)
	p.write("21 ml")
	p.press(kb.Enter)
	p.write("lots")
	p.press(kb.Enter)
	p.settled()
	typed := eval[string](p, `(() => { const c = evenfall.state.plan.proof.audits[evenfall.board.layers.audit].cans; return [c.c2.catch_ml, c.c3.catch_ml, document.activeElement.getAttribute("aria-label"), document.activeElement.closest(".field").querySelector(".error").textContent].join("; "); })()`)
	if typed != "21; 26; Can 3 caught; “lots” is not a unit of catch. Write ml or fl oz." {
		t.Errorf("typed from can to can: %s", typed)
	}
	p.press(kb.Escape)
	p.until(`!document.querySelector("#audit .audit-answer").classList.contains("stale")`)
	p.axe("audit")
	p.button("#audit", "Take it into")
	p.until(`evenfall.state.plan.zones.z4.audited_du > 0.3`)
	p.settled()
	p.command("edit.undo")
	p.settled()

	p.button("#audit", "Delete audit")
	p.until(`Object.keys(evenfall.state.plan.proof?.audits ?? {}).length === 0`)
	p.settled()
	p.command("edit.undo")
	p.until(`document.querySelectorAll("#audit .can-table tbody tr").length === 24`)
	p.command("proof.cans")
	p.tap(95, 97, 0)
	p.settled()
	p.command("tool.select")
	p.drag(95, 97, 98, 97, 0)
	p.settled()
	if at := eval[string](p, `JSON.stringify([evenfall.state.plan.proof.audits[evenfall.board.layers.audit].cans.c25, [...evenfall.state.selection].length])`); !strings.Contains(at, `"x_ft":98,"y_ft":97`) || !strings.HasSuffix(at, ",1]") {
		t.Errorf("a can set by hand and dragged: %s", at)
	}
}

// A head is recorded where it went, by one click, and stands there, with its pipe.
func TestE17_AHeadIsRecordedWhereItWent(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	eval[bool](p, `(evenfall.board.select(["heads/h1-4"]), evenfall.drawing.looking.fitThings(["heads/h1-3", "heads/h1-4"]), true)`)
	p.until(`!document.querySelector("#selected").hidden`)
	p.button("#selected", "Record where it went")
	p.tap(20, 44, 0)
	p.settled()
	got := eval[string](p, `(() => { const h = evenfall.state.plan.heads["h1-4"]; return [Math.round(h.x_ft), Math.round(h.y_ft), h.built.was.x_ft, h.built.was.y_ft].join(" "); })()`)
	if got != "20 44 18 45.6" {
		t.Errorf("the head stands at and was drawn at %s", got)
	}
	p.until(`document.querySelector("#selected .in-ground").innerText.includes("Drawn at 18' 0")`)
	if off := eval[float64](p, `(() => { const q = evenfall.state.plan, h = q.heads["h1-4"]; const n = Object.values(q.nodes).find((n) => n.head === "h1-4"); return n ? Math.hypot(n.x_ft - h.x_ft, n.y_ft - h.y_ft) : 99; })()`); off > 1e-6 {
		t.Errorf("its pipe ends %g ft from it", off)
	}
}
