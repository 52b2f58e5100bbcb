//go:build browser

package walk

import (
	"database/sql"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	_ "github.com/mattn/go-sqlite3" // to damage a plan behind the program's back
)

// zone moves the reader to a time zone.
func (p *tab) zone(name string) {
	p.t.Helper()
	if _, err := chromedp.Call(p.ctx, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: name}); err != nil {
		p.t.Fatal(err)
	}
}

// changed makes a plan with some steps and opens it on the board.
func changed(t *testing.T, p *tab, prog *program) string {
	t.Helper()
	p.visit(prog.url)
	id := p.create(map[string]any{"format": "evenfall-plan/1", "name": "Elm Street", "show": "us",
		"areas": map[string]any{"a1": map[string]any{"name": "Lawn", "kind": "planting", "outline": [][]float64{{0, 0}, {40, 0}, {40, 30}, {0, 30}}}}})
	p.visit(prog.url + "/plans/" + id)
	p.onBoard()
	for i, name := range []string{"Front lawn", "Big lawn", "Last lawn"} {
		eval[bool](p, fmt.Sprintf(`(async () => { const plan = structuredClone(evenfall.board.committed); plan.areas.a1.name = %q;
			plan.areas.b%d = { name: "Bed", kind: "planting", planting: "shrubs", outline: [[50, %d], [60, %d], [60, %d]] };
			await evenfall.board.commit("Call it " + %q, plan); return true; })()`, name, i, i*10, i*10, i*10+8, name))
	}
	p.settled()
	p.openTable("tab-history")
	p.until(`document.querySelectorAll("#history .past-steps li").length === 4`)
	return id
}

func TestRowA31_AnEarlierStateIsLookedAtAndGoneBackToByKeys(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	changed(t, p, prog)
	p.axe("history")
	p.shot("history-1280")
	text := eval[string](p, `document.querySelector("#history").innerText`)
	for _, want := range []string{"Today", "Call it Front lawn", "Plan made", "2 areas", "now", "None has a name yet"} {
		if !strings.Contains(text, want) {
			t.Errorf("the history does not tell %q: %s", want, text)
		}
	}
	// The steps are one stop of the Tab key, and the arrow keys go along them.
	eval[bool](p, `(document.querySelector("#history .past-steps [tabindex='0']").focus(), true)`)
	p.press(kb.ArrowDown)
	p.press(kb.ArrowDown)
	if on := eval[string](p, `document.activeElement.textContent`); on != "Call it Front lawn" {
		t.Fatalf("two down from the newest is %q", on)
	}
	p.enter()
	p.until(`evenfall.board.earlier && document.activeElement.id === "look-return"`)
	if got := eval[string](p, `evenfall.state.plan.areas.a1.name + " " + Object.keys(evenfall.state.plan.areas).length`); got != "Front lawn 2" {
		t.Errorf("on the board: %q, want the lawn as it was then", got)
	}
	p.until(`document.querySelector("#live").textContent.includes("You look at the plan as it was")`)
	p.axe("an earlier state")
	p.shot("history-looking-1280")
	p.media("dark")
	p.shot("history-looking-dark-1280")
	p.media("light")
	rev := eval[int](p, `evenfall.state.rev`)
	// Nothing can be changed meanwhile.
	eval[bool](p, `(async () => { await evenfall.board.commit("x", { ...evenfall.board.plan, name: "y" }); return true; })()`)
	p.press("z", chromedp.ModifierCtrl)
	if now := eval[int](p, `evenfall.state.rev`); now != rev || !eval[bool](p, `evenfall.state.saved.state === "yes"`) {
		t.Errorf("revision: got %d, want %d", now, rev)
	}
	p.escape()
	p.until(`!evenfall.board.earlier && evenfall.state.plan.areas.a1.name === "Last lawn"`)
	p.frame()
	if on := eval[string](p, `document.activeElement.textContent`); on != "Call it Front lawn" {
		t.Errorf("after returning the focus is on %q", on)
	}
	p.enter()
	p.until(`evenfall.board.earlier`)
	eval[bool](p, `(document.querySelector("#go-back").focus(), true)`)
	p.enter()
	p.until(`!evenfall.board.earlier && evenfall.state.plan.areas.a1.name === "Front lawn"`)
	p.settled()
	p.until(`document.querySelectorAll("#history .past-steps li").length === 5`)
	text = eval[string](p, `document.querySelector("#history").innerText`)
	for _, want := range []string{"Go back to “Call it Front lawn”", "Call it Last lawn", "Kept by itself (1)"} {
		if !strings.Contains(text, want) {
			t.Errorf("after going back the history does not tell %q: %s", want, text)
		}
	}
	p.click("#undo")
	p.until(`evenfall.state.plan.areas.a1.name === "Last lawn"`)
	p.settled()
}

func TestRowA31_AStateIsKeptUnderAName(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	changed(t, p, prog)
	p.click("#keep-point")
	p.until(`document.querySelector("#point-name")`)
	p.axe("name of a state")
	p.write("As agreed")
	p.enter()
	p.until(`document.querySelector(".past-points").innerText.includes("As agreed")`)
	p.click(`[data-key="0"]`) // the making
	p.until(`evenfall.board.earlier`)
	p.click("#look-bar button:nth-child(2)")
	p.until(`document.querySelector("#point-name")`)
	p.write("The bare lawn")
	p.enter()
	p.until(`document.querySelector(".past-points").innerText.includes("The bare lawn")`)
	p.click("#look-return")
	p.until(`!evenfall.board.earlier`)
	p.shot("history-points-1280")
	p.axe("kept states")
	p.click(`[aria-label="Remove The bare lawn"]`)
	p.until(`!document.querySelector(".past-points").innerText.includes("The bare lawn")`)
	// Another tab goes back to it.
	q := p.another(768, 1000)
	q.visit(eval[string](p, "location.href"))
	q.onBoard()
	q.openTable("tab-history")
	q.until(`document.querySelector(".past-points")?.innerText.includes("As agreed")`)
	eval[bool](q, `(document.querySelector("#drawer").scrollIntoView({ block: "end" }), true)`)
	q.shot("history-768")
	q.axe("history at 768")
}

func TestRowB27_TimesAreThoseOfTheReadersZone(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.zone("Asia/Kathmandu")
	changed(t, p, prog)
	same := eval[bool](p, `(() => { const el = document.querySelector("#history .past-steps time");
		return el.textContent === new Intl.DateTimeFormat(undefined, { timeZone: "Asia/Kathmandu", timeStyle: "short" }).format(new Date(el.dateTime)) && el.dateTime.endsWith("Z"); })()`)
	if !same {
		t.Error("the history does not show the time of the reader's zone")
	}
	p.visit(prog.url)
	p.until(`document.querySelector("#found")?.textContent`)
	if got := eval[string](p, `document.querySelector(".plan-row time").textContent`); strings.Contains(got, "UTC") || got == "" {
		t.Errorf("the list shows %q, want the reader's own time", got)
	}
}

func TestRowB17_ADamagedPlanIsBroughtBackFromItsPage(t *testing.T) {
	dir := t.TempDir()
	prog := startProgram(t, dir)
	p := open(t, 1280, 800)
	id := changed(t, p, prog)
	p.visit("about:blank")
	db, err := sql.Open("sqlite3", filepath.Join(dir, "evenfall.db"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("UPDATE plans SET doc = CAST(replace(CAST(doc AS TEXT), 'Last', 'Lost') AS BLOB) WHERE id = ?", id); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	prog.stop()
	prog = startProgram(t, dir)
	p.visit(prog.url)
	p.until(`document.body.innerText.includes("damaged: open it")`)
	p.shot("plans-damaged-1280")
	p.axe("list with a damaged plan")
	p.excuse("410") // the answer is the page
	p.visit(prog.url + "/plans/" + id)
	p.until(`document.querySelector("#recover button")`)
	p.axe("a damaged plan")
	p.shot("damaged-1280")
	p.media("dark")
	p.shot("damaged-dark-1280")
	p.click("#recover button")
	p.until(`window.evenfall && evenfall.state.plan.name === "Elm Street (recovered)"`)
	if got := eval[string](p, `evenfall.state.plan.areas.a1.name`); got != "Last lawn" {
		t.Errorf("recovered: got %q, want the last step's", got)
	}
}
