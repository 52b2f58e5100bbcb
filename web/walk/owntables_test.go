//go:build browser

package walk

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// A user's table of pipe: saved from the plan, spoilt, refused by row and column,
// mended, and added as one step that undo takes back.
func TestRowA28_OwnPipeTableIsRefusedByItsRowOrAddedWhole(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	table := string(p.fetchBytes(eval[string](p, "location.pathname") + "/files/pipe-table.csv"))
	if !strings.Contains(table, "\npvc-sch40,Schedule 40 PVC,pvc,150,") {
		t.Fatalf("the table of pipe is\n%.400s", table)
	}
	ours := strings.ReplaceAll(strings.ReplaceAll(table, "pvc-sch40,", "our-40,"), "Schedule 40 PVC", "Our schedule 40")
	spoilt := strings.Replace(ours, ",1.029,", ",10.29,", 1)
	file := func(name, text string) {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		p.do(chromedp.SetUploadFiles("#table-file", []string{path}))
	}
	p.click("#plan-menu summary")
	p.click("#nozzles-import")
	p.until(`document.querySelector("#table-kind")`)
	eval[bool](p, `(() => { const s = document.querySelector("#table-kind"); s.value = "pipes"; s.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	file("spoilt.csv", spoilt)
	p.until(`document.querySelector("dialog[open] li")?.textContent.includes("wider inside (10.29 in)")`)
	if said := eval[string](p, `document.querySelector("dialog[open] li").textContent`); !strings.HasPrefix(said, "Row ") || !strings.Contains(said, "inside_in: ") {
		t.Errorf("the fault is told as %q", said)
	}
	if !eval[bool](p, `document.querySelector('dialog[open] button[value="add"]').disabled`) {
		t.Error("a spoilt table can be added")
	}
	p.axe("a table refused")
	file("ours.csv", ours)
	p.until(`[...document.querySelectorAll("dialog[open] tbody th")].some((th) => th.textContent === "Our schedule 40")`)
	p.shot("own-table-of-pipe")
	before := eval[int](p, `Object.keys(evenfall.state.plan.pipe_classes).length`)
	p.click(`dialog[open] button[value="add"]`)
	p.until(`evenfall.state.plan.pipe_classes["our-40"]?.sizes.length === 8`)
	p.settled()
	p.click("#undo")
	p.until(`evenfall.state.plan.pipe_classes["our-40"] === undefined`)
	if got := eval[int](p, `Object.keys(evenfall.state.plan.pipe_classes).length`); got != before {
		t.Errorf("after undo %d classes, before %d", got, before)
	}
}
