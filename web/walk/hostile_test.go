//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"
)

// hostileNames are the names nobody should have to fear, all of which a plan
// takes.
func hostileNames(t *testing.T) []string {
	t.Helper()
	raw, err := os.ReadFile("../../testdata/bad/names.json")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	if err := json.Unmarshal(raw, &names); err != nil {
		t.Fatal(err)
	}
	if len(names) < 40 {
		t.Fatalf("%d names, want 40 or more", len(names))
	}
	return names
}

// hostilePlan has every name in every text of things there can be many of, and
// one name in the texts of the plan itself. Two areas have no heads, heads
// stand in the open, so that findings name them too.
func hostilePlan(t *testing.T, p *tab, names []string, own string) map[string]any {
	t.Helper()
	park := parkOf300(t, p)
	nozzle, body := only(park["nozzles"]), only(park["bodies"])
	all := map[string]map[string]any{}
	put := func(collection string, i int, it map[string]any) {
		if all[collection] == nil {
			all[collection] = map[string]any{}
		}
		all[collection][fmt.Sprintf("x%d", i)] = it
	}
	for i, n := range names {
		x, y := float64(i%8)*14, float64(i/8)*14
		id := fmt.Sprintf("x%d", i)
		put("areas", i, map[string]any{"name": n, "note": n, "kind": []string{"planting", "paving", "building"}[i%3], "outline": [][]float64{{x, y}, {x + 12, y}, {x + 12, y + 12}, {x, y + 12}}})
		put("barriers", i, map[string]any{"name": n, "height_ft": 5, "line": [][]float64{{x, y + 13}, {x + 12, y + 13}}})
		put("trees", i, map[string]any{"name": n, "x_ft": x + 3, "y_ft": y + 3, "trunk_in": 8})
		put("keep_dry", i, map[string]any{"name": n, "x_ft": x + 9, "y_ft": y + 3})
		put("notes", i, map[string]any{"text": n, "x_ft": x + 9, "y_ft": y + 9})
		put("zones", i, map[string]any{"name": n, "flag": n, "station": i + 1})
		put("nozzles", i, with(with(nozzle, "name", n+"."), "source", n))
		put("bodies", i, with(with(body, "name", n+"."), "source", n))
		put("heads", i, map[string]any{"tag": n, "nozzle": id, "body": id, "zone": id, "x_ft": x + 6, "y_ft": y + 6, "sweep_deg": 360})
		put("accepted", i, map[string]any{"code": "spacing-wide", "about": []string{"heads/" + id}, "reason": n + ".", "by": n, "on": "2026-02-28"})
	}
	doc := map[string]any{
		"format": "evenfall-plan/1", "name": own, "show": "us",
		"site":   map[string]any{"climate": own, "latitude_deg": 40, "longitude_deg": -90},
		"supply": map[string]any{"measured": true, "static_psi": 60, "flow_gpm": 12, "residual_psi": 50, "measured_at": own, "design_flow_reason": own, "service_material": own, "backflow": own},
	}
	for c, things := range all {
		doc[c] = things
	}
	return doc
}

func only(collection any) map[string]any {
	for _, it := range collection.(map[string]any) {
		return it.(map[string]any)
	}
	return nil
}

// with is a copy of a thing with one member set.
func with(it map[string]any, member string, value any) map[string]any {
	out := map[string]any{}
	for k, v := range it {
		out[k] = v
	}
	out[member] = value
	return out
}

// injected lists elements and attributes no page of ours has.
const injected = `JSON.stringify([...[...document.querySelectorAll("b")].filter((e) => e.textContent === "bold"), ...document.querySelectorAll("script:not([src]), iframe, object, embed, base, [onerror], [onload], [onclick], [style*='url(']:not(svg *), a[href^='javascript:'], img:not([src^='/static/'], .thumb[src^='/api/'], .paper-page > [src^='/plans/'], #underlay)")].map((e) => e.outerHTML.slice(0, 120)))`

func (p *tab) nothingInjected(where string) {
	p.t.Helper()
	if got := eval[string](p, injected); got != "[]" {
		p.t.Errorf("%s: a name became markup: %s", where, got)
	}
}

// Names made to break out of their place stay text in every panel of the board:
// no message box, no element, no complaint of the browser.
func TestHostileNamesStayTextOnTheBoard(t *testing.T) {
	names := hostileNames(t)
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	id := p.create(hostilePlan(t, p, names, names[0]))
	p.visit(prog.url + "/plans/" + id)
	p.onBoard()
	p.nothingInjected("board")
	if got := eval[string](p, `document.querySelector("#plan-name").textContent`); got != names[0] {
		t.Errorf("the plan is called %q, want %q", got, names[0])
	}
	for _, panel := range []string{"objects", "zones", "parts", "history"} {
		p.click("#tab-" + panel)
		p.until(fmt.Sprintf(`!document.querySelector("#%s").hidden && document.querySelector("#%s").textContent.length > 20`, panel, panel))
		eval[bool](p, fmt.Sprintf(`(document.querySelectorAll("#%s details, #side details").forEach((d) => { d.open = true; }), true)`, panel))
		p.frame()
		p.nothingInjected(panel)
	}
	p.click("#tab-objects")
	p.frame()
	shown := eval[[]string](p, `[...document.querySelectorAll('#objects tr[data-ref^="areas/"]')].map((r) => r.querySelector('[data-column="name"]').textContent)`)
	for _, n := range names {
		if n != "" && !contains(shown, n) {
			t.Errorf("%q is not in the table as it is", n)
		}
	}
	for _, c := range []string{"areas", "barriers", "trees", "keep_dry", "notes", "heads"} {
		for i, n := range names[:5] {
			eval[bool](p, fmt.Sprintf(`(evenfall.board.select(["%s/x%d"]), true)`, c, i))
			p.until(fmt.Sprintf(`document.querySelector("#selected h2").textContent.toLowerCase().includes(%q)`, strings.ToLower(n)))
			p.nothingInjected("selected of " + c)
		}
	}
	// In the words of a step, too.
	p.click("#selected button.grave")
	p.settled()
	p.click("#tab-history")
	p.until(fmt.Sprintf(`document.querySelector("#history").textContent.includes(%q)`, names[4]))
	p.nothingInjected("history")
	p.click("#plan-menu summary")
	p.click("#plan-settings")
	p.until(`document.querySelector("dialog[open]")`)
	p.nothingInjected("settings")
	p.shot("hostile")
}

func contains(all []string, one string) bool {
	for _, s := range all {
		if s == one {
			return true
		}
	}
	return false
}

// The same names as names of plans: in the list, in its questions, and in the
// title of the board.
func TestHostileNamesStayTextInTheListOfPlans(t *testing.T) {
	names := hostileNames(t)
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	p.visit(prog.url)
	ids := map[string]string{}
	for _, n := range names {
		if n == "" {
			continue // a plan has a name
		}
		doc := map[string]any{"format": "evenfall-plan/1", "name": n, "show": "us"}
		ids[n] = p.create(doc)
	}
	p.visit(prog.url)
	p.nothingInjected("list of plans")
	for n, id := range ids {
		row := fmt.Sprintf(`document.querySelector('[data-id=%q]')`, id)
		if got := eval[string](p, row+`.querySelector("h2 a").textContent`); got != n {
			t.Errorf("the plan %q is listed as %q", n, got)
		}
		if !strings.ContainsAny(n, `<>"'&{`) {
			continue
		}
		eval[bool](p, fmt.Sprintf(`(%s.querySelector("[data-act=delete]").click(), true)`, row))
		p.until(`document.querySelector("dialog[open]")`)
		p.nothingInjected("question about " + n)
		p.escape()
		p.until(`!document.querySelector("dialog[open]")`)
	}
	for _, n := range names[:6] {
		p.visit(prog.url + "/plans/" + ids[n])
		p.onBoard()
		p.nothingInjected("board of " + n)
		p.frame()
		if got, want := eval[string](p, "document.title"), n+" – Evenfall"; got != want {
			t.Errorf("the page is called %q, want %q", got, want)
		}
		p.visit(prog.url + "/plans/" + ids[n] + "/papers")
		p.papersMade()
		p.nothingInjected("papers of " + n)
		if got, want := eval[string](p, `document.querySelector("h1").textContent`), "Papers of "+n; got != want {
			t.Errorf("the papers are called %q, want %q", got, want)
		}
	}
}
