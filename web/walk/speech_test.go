//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
)

// spoken is what a screen reader is told of one element. It is read with a type
// of its own: the browser sends properties newer than the generated types.
type spoken struct {
	Ignored bool `json:"ignored"`
	Role    said `json:"role"`
	Name    said `json:"name"`
}

type said struct {
	Value any `json:"value"`
}

// spokenNames are the names in the accessibility tree of the page, by role.
func (p *tab) spokenNames() map[string][]string {
	p.t.Helper()
	type tree struct {
		Nodes []spoken `json:"nodes"`
	}
	command := cdp.Command[accessibility.GetFullAXTreeParams, tree]{Method: "Accessibility.getFullAXTree"}
	got, err := chromedp.Call(p.ctx, command, accessibility.GetFullAXTreeParams{})
	if err != nil {
		p.t.Fatal(err)
	}
	names := map[string][]string{}
	for _, n := range got.Nodes {
		if name, ok := n.Name.Value.(string); ok && !n.Ignored {
			role := fmt.Sprint(n.Role.Value)
			names[role] = append(names[role], name)
		}
	}
	return names
}

// onBoard are the things of a plan that stand on the board, with the name each
// was given.
func onBoard(t *testing.T, raw []byte) map[string]string {
	t.Helper()
	type thing struct{ Name, Tag, Text string }
	var doc struct {
		Areas, Barriers, Trees, Heads, Notes map[string]thing
		KeepDry                              map[string]thing `json:"keep_dry"`
	}
	if err := json.Unmarshal(raw, &doc); err != nil {
		t.Fatal(err)
	}
	named := map[string]string{}
	for c, all := range map[string]map[string]thing{
		"areas": doc.Areas, "barriers": doc.Barriers, "trees": doc.Trees,
		"heads": doc.Heads, "notes": doc.Notes, "keep_dry": doc.KeepDry,
	} {
		for id, it := range all {
			named[c+"/"+id] = it.Name + it.Tag + it.Text
		}
	}
	return named
}

// Everything on the board has a name a screen reader can say, and is a row of
// the table of things.
func TestEveryThingIsNamedAndListed(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	path := openDemo(t, p, prog)
	named := onBoard(t, p.fetchBytes(path+"/files/plan.json"))
	if len(named) < 40 {
		t.Fatalf("the demo has only %d things: not the case that was to be looked at", len(named))
	}
	buttons := map[string]bool{}
	for role, names := range p.spokenNames() {
		for _, name := range names {
			if strings.Contains(strings.ToLower(role), "button") {
				buttons[name] = true
			}
		}
	}
	for ref, name := range named {
		label := eval[string](p, fmt.Sprintf(`document.querySelector('#scene [data-ref=%q]')?.getAttribute("aria-label") ?? ""`, ref))
		if label == "" || !strings.Contains(strings.ToLower(label), strings.ToLower(name)) {
			t.Errorf("%s, named %q, is called %q on the board", ref, name, label)
		}
		if !buttons[label] {
			t.Errorf("%s is not in the accessibility tree as %q", ref, label)
		}
	}
	if names := p.spokenNames()["application"]; len(names) != 1 || names[0] != "Board" {
		t.Errorf("the board is called %q", names)
	}

	p.click("#tab-objects")
	p.until(`document.querySelectorAll("#objects tbody tr").length > 0`)
	rows := eval[[]string](p, `[...document.querySelectorAll("#objects tbody tr")].map((r) => r.dataset.ref)`)
	listed := map[string]bool{}
	for _, r := range rows {
		listed[r] = true
	}
	for ref := range named {
		if !listed[ref] {
			t.Errorf("%s is no row of the table of things", ref)
		}
	}
	t.Logf("%d things on the board, %d rows, %d buttons in the accessibility tree", len(named), len(rows), len(buttons))
}

// What stands in a mark is said once, by the name of the head, and not again as
// loose figures beside it.
func TestMarksAreNotReadTwice(t *testing.T) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	openDemo(t, p, prog)
	p.click(`[data-command="view.in"]`)
	p.until(`getComputedStyle(document.querySelector("#scene .tag")).display !== "none"`)
	p.settled()
	p.axe("board close up")
	for role, names := range p.spokenNames() {
		for _, n := range names {
			if n == "2-7" || n == "2-8" {
				t.Errorf("the tag %s is read by itself, as %s", n, role)
			}
		}
	}
}
