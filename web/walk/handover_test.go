//go:build browser

package walk

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// One person saves everything in one file; the next chooses it on a list of plans of
// another machine, and has the plan with its records. What is no such file is refused
// under the field, and what is missing of it is told before the plan is opened.
func TestAPlanIsHandedOverAndOpened(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	step := func(patch string) {
		t.Helper()
		eval[bool](p, `(async () => {
			const { rev } = await (await fetch("/api`+path+`")).json();
			const answer = await fetch("/api`+path+`", { method: "PATCH", headers: { "Content-Type": "application/merge-patch+json", "If-Match": JSON.stringify(String(rev)) }, body: `+"`"+patch+"`"+` });
			if (!answer.ok) throw new Error(await answer.text());
			return true;
		})()`)
	}
	step(`{"proof":{"wires":{"w1":{"order":1,"mark":"red","terminal":3}}}}`)
	whole := p.fetchBytes(path + "/handover")
	step(`{"photos":{"f1":{"sha256":"` + strings.Repeat("ab", 32) + `","caption":"box"}}}`)
	lacking := p.fetchBytes(path + "/handover")

	other := startProgram(t, t.TempDir())
	q := open(t, 768, 1024)
	q.excuse("status of 422") // what is no such file is refused
	q.visit(other.url)
	choose := func(name string, b []byte) {
		t.Helper()
		at := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(at, b, 0o600); err != nil {
			t.Fatal(err)
		}
		q.do(chromedp.SetUploadFiles("#handover-file", []string{at}))
		q.click("#import-handover button")
	}
	said := `document.querySelector("#handover-file-error")?.textContent`
	q.click("#import-handover button")
	q.until(said + `.includes("No file is chosen")`)
	choose("notes.zip", []byte("no archive"))
	q.until(said + `.includes("no ZIP file")`)
	q.axe("a file refused")

	choose("handed.zip", lacking)
	q.until(`document.querySelector("#notice a")`)
	if says := eval[string](q, `document.querySelector("#notice").textContent`); !strings.Contains(says, "1 picture of the plan is not in the file") {
		t.Errorf("what is missing is told as %q", says)
	}
	q.axe("a plan opened in part")
	q.shot("handed-over-in-part")
	q.click("#notice a")
	q.until("window.evenfall")

	q.visit("about:blank")
	q.visit(other.url)
	choose("handed.zip", whole)
	q.until("window.evenfall")
	q.settled()
	if mark := eval[string](q, `evenfall.state.plan.proof.wires.w1.mark`); mark != "red" {
		t.Errorf("the wire came as %q", mark)
	}
	if n := eval[int](q, `Object.keys(evenfall.state.plan.heads).length`); n != 48 {
		t.Errorf("%d heads came", n)
	}
}
