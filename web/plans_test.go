package web

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

func TestAPlanIsMadeChangedTakenBackAndDeleted(t *testing.T) {
	newFixture(t).play(t, []scenario{
		{name: "load", method: "GET", path: "/api/plans/PLAN", status: 200,
			has: []string{`"rev":1`, `"doc":{"format":"evenfall-plan/1","name":"Yard"`, `"undo":""`, `"redo":""`}, hasHeader: []string{`ETag: "1"`, "Content-Type: application/json; charset=utf-8", "Cache-Control: no-store"}},
		{name: "a step", method: "PATCH", path: "/api/plans/PLAN", status: 200,
			header: []string{patchType, `If-Match: "1"`, "Evenfall-Label: Move%20head%201-1%20%E2%86%92"}, body: `{"heads":{"h1":{"x_ft":1}},"zones":{"z1":{"name":"Front lawn"}}}`,
			has: []string{`"rev":2`, `"undo":"Move head 1-1 →"`, `"redo":""`}, hasHeader: []string{`ETag: "2"`}},
		{name: "only the head", method: "HEAD", path: "/api/plans/PLAN", status: 200, hasNot: []string{"rev"}, hasHeader: []string{`ETag: "2"`}},
		{name: "history", method: "GET", path: "/api/plans/PLAN/history", status: 200,
			has: []string{`{"steps":[{"rev":1,"label":"Plan made"`, `{"rev":2,"label":"Move head 1-1 →"`, `"undone":false`}, hasNot: []string{`"undone":true`}},
		{name: "undo", method: "POST", path: "/api/plans/PLAN/undo", status: 200,
			header: []string{`If-Match: "2"`, jsonType}, body: "{}",
			has: []string{`"rev":3`, `"label":"Move head 1-1 →"`, `"about":["heads/h1","zones/z1"]`, `"undo":""`, `"redo":"Move head 1-1 →"`, `"doc":{`}, hasHeader: []string{`ETag: "3"`}},
		{name: "history after undo", method: "GET", path: "/api/plans/PLAN/history", status: 200, has: []string{`"undone":true`}},
		{name: "nothing more to undo", method: "POST", path: "/api/plans/PLAN/undo", status: 409,
			header: []string{`If-Match: "3"`}, has: []string{"nothing to take back"}},
		{name: "redo without a body", method: "POST", path: "/api/plans/PLAN/redo", status: 200,
			header: []string{`If-Match: "3"`}, has: []string{`"rev":4`, `"x_ft":1`}},
		{name: "rename", method: "PATCH", path: "/api/plans/PLAN", status: 200,
			header: []string{patchType, `If-Match: "4"`, "Evenfall-Label: Rename"}, body: `{"name":"Back yard"}`, has: []string{`"rev":5`}},
		{name: "the list", method: "GET", path: "/", status: 200, has: []string{"Back yard", "2 areas", "4 heads", "1 zone", "1,575"}},
		{name: "delete", method: "DELETE", path: "/api/plans/PLAN", status: 204, header: []string{`If-Match: "5"`, jsonType}},
		{name: "gone", method: "GET", path: "/api/plans/PLAN", status: 404, has: []string{"no such plan"}},
		{name: "its page", method: "GET", path: "/plans/PLAN", status: 404, has: []string{"<!doctype html>", "no such plan"}},
		{name: "its board", method: "GET", path: "/api/plans/PLAN/board", status: 404},
	})
}

func TestRowB22_ChangesMustSayWhichRevisionTheyChange(t *testing.T) {
	f := newFixture(t)
	moved := `{"heads":{"h1":{"x_ft":1}}}`
	f.play(t, []scenario{
		{name: "patch without a revision", method: "PATCH", path: "/api/plans/PLAN", status: 428, header: []string{patchType}, body: moved, has: []string{"which revision"}},
		{name: "delete without a revision", method: "DELETE", path: "/api/plans/PLAN", status: 428},
		{name: "undo without a revision", method: "POST", path: "/api/plans/PLAN/undo", status: 428},
		{name: "redo without a revision", method: "POST", path: "/api/plans/PLAN/redo", status: 428},
		{name: "any revision will not do", method: "PATCH", path: "/api/plans/PLAN", status: 428, header: []string{patchType, "If-Match: *"}, body: moved},
		{name: "a weak tag", method: "PATCH", path: "/api/plans/PLAN", status: 400, header: []string{patchType, `If-Match: W/"1"`}, body: moved},
		{name: "two tags", method: "PATCH", path: "/api/plans/PLAN", status: 400, header: []string{patchType, `If-Match: "1", "2"`}, body: moved},
		{name: "no quotes", method: "PATCH", path: "/api/plans/PLAN", status: 400, header: []string{patchType, `If-Match: 1`}, body: moved},
		{name: "a revision to come", method: "PATCH", path: "/api/plans/PLAN", status: 412, header: []string{patchType, `If-Match: "2"`}, body: moved, has: []string{`"rev":1`}},
	})
	if got := f.now(); got.Rev != 1 {
		t.Errorf("revision: got %d, want 1", got.Rev)
	}
}

func TestRowB22_TwoTabs(t *testing.T) {
	f := newFixture(t)
	f.play(t, []scenario{
		{name: "tab one moves head 1", method: "PATCH", path: "/api/plans/PLAN", status: 200,
			header: []string{patchType, `If-Match: "1"`, "Evenfall-Label: one"}, body: `{"heads":{"h1":{"x_ft":1}}}`, has: []string{`"rev":2`}},
		{name: "tab two, not knowing, moves head 2", method: "PATCH", path: "/api/plans/PLAN", status: 412,
			header: []string{patchType, `If-Match: "1"`, "Evenfall-Label: two"}, body: `{"heads":{"h2":{"x_ft":2}}}`, has: []string{`"rev":2`, "changed meanwhile"}},
		{name: "tab two undoes, not knowing", method: "POST", path: "/api/plans/PLAN/undo", status: 412, header: []string{`If-Match: "1"`}},
		{name: "tab two deletes, not knowing", method: "DELETE", path: "/api/plans/PLAN", status: 412, header: []string{`If-Match: "1"`}},
		{name: "tab two loads", method: "GET", path: "/api/plans/PLAN", status: 200, has: []string{`"rev":2`}},
		{name: "and moves head 2", method: "PATCH", path: "/api/plans/PLAN", status: 200,
			header: []string{patchType, `If-Match: "2"`, "Evenfall-Label: two"}, body: `{"heads":{"h2":{"x_ft":2}}}`, has: []string{`"rev":3`}},
		{name: "tab one undoes what tab two did", method: "POST", path: "/api/plans/PLAN/undo", status: 200,
			header: []string{`If-Match: "3"`}, has: []string{`"label":"two"`, `"undo":"one"`}},
		{name: "a step sent again after a lost answer", method: "PATCH", path: "/api/plans/PLAN", status: 200,
			header: []string{patchType, `If-Match: "4"`, "Evenfall-Label: three"}, body: `{"heads":{"h3":{"x_ft":14}}}`, has: []string{`"rev":5`}},
		{name: "is not made twice", method: "PATCH", path: "/api/plans/PLAN", status: 200,
			header: []string{patchType, `If-Match: "4"`, "Evenfall-Label: three"}, body: `{"heads":{"h3":{"x_ft":14}}}`, has: []string{`"rev":5`}},
	})
	steps, err := f.store.History(context.Background(), f.plan.ID)
	if err != nil || len(steps) != 3 {
		t.Errorf("history: got %d steps, %v; want the making and two steps", len(steps), err)
	}
}

func TestRefusedDocumentsSayWhatAndWhere(t *testing.T) {
	step := func(name, patch string, has ...string) scenario {
		return scenario{name: name, method: "PATCH", path: "/api/plans/PLAN", status: 422,
			header: []string{patchType, `If-Match: "1"`}, body: patch, has: append(has, `"problems":[{"pointer":`, `"sentence":"`)}
	}
	make_ := func(name, body string, status int, has ...string) scenario {
		return scenario{name: name, method: "POST", path: "/api/plans", status: status, header: []string{jsonType}, body: body, has: has}
	}
	f := newFixture(t)
	f.play(t, []scenario{
		step("unknown member", `{"heads":{"h1":{"colour":"red"}}}`, "colour"),
		step("crossing outline", `{"areas":{"a1":{"outline":[[0,0],[10,10],[10,0],[0,10]]}}}`, "/areas/a1/outline"),
		step("dangling zone", `{"heads":{"h1":{"zone":"z9"}}}`, "/heads/h1/zone"),
		step("member twice", `{"name":"a","name":"b"}`),
		step("not JSON", `{"name"`),
		step("an array", `[]`),
		make_("an empty plan", `{"name":"Side yard","show":"metric"}`, 201, `{"id":"p`),
		make_("from a file", `{"doc":`+yard+`}`, 201),
		make_("from a file, with a name", `{"name":"Copy","show":"us","doc":`+yard+`}`, 201),
		make_("no name", `{"name":"","show":"us"}`, 422, "Give the plan a name"),
		make_("unknown system", `{"name":"x","show":"furlongs"}`, 422, "/show"),
		make_("unknown member of the request", `{"name":"x","color":1}`, 400, "color"),
		make_("file of another format", `{"doc":{"format":"other/1","name":"x"}}`, 422),
		make_("not JSON", `hello`, 400),
	})
	if f.now().Rev != 1 {
		t.Error("a refused step changed the plan")
	}
}

func TestTheDemoIsMarkedUntilItIsChanged(t *testing.T) {
	p, err := plan.Decode([]byte(yard))
	if err != nil {
		t.Fatal(err)
	}
	f := newFixtureWith(t, func(o *Options) { o.Demo = p.Encode() })
	if !f.site.isDemo(plan.Digest(f.now().Doc)) {
		t.Error("the demo as stored is not known")
	}
	w := f.do("PATCH", "/api/plans/"+f.plan.ID, `{"name":"Mine"}`, patchType, `If-Match: "1"`)
	if w.Code != http.StatusOK || f.site.isDemo(plan.Digest(f.now().Doc)) {
		t.Error("a changed demo still counts as the demo")
	}
}

func TestAboutNamesTheThingsOfAPatch(t *testing.T) {
	for _, c := range []struct{ patch, want string }{
		{`{}`, ``},
		{`{"name":"x","site":{"north_deg":3},"supply":null}`, ``},
		{`{"heads":{"h2":null,"h1":{"x_ft":1}},"areas":{"a1":{"holes":null}}}`, `areas/a1 heads/h1 heads/h2`},
		{`{"heads":null}`, ``},
		{`{"site":{"lot":[[0,0],[9,0],[9,9]]}}`, `site/lot`},
		{`{"site":{"lot":null}}`, `site/lot`},
		{`{"accepted":{"f1":{"code":"dry-patch"}}}`, `accepted/f1`},
	} {
		refs, err := about(plan.Patch(c.patch))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, r := range refs {
			got = append(got, string(r))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("about %s: got %q, want %q", c.patch, s, c.want)
		}
	}
}

func TestEveryErrorIsASentence(t *testing.T) {
	f := newFixture(t)
	for _, path := range []string{"/api/none", "/api/plans/none", "/schema/none"} {
		w := f.do("GET", path, "")
		var got struct{ Error string }
		if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		if !strings.HasSuffix(got.Error, ".") || strings.ToUpper(got.Error[:1]) != got.Error[:1] {
			t.Errorf("%s: %q is not a sentence", path, got.Error)
		}
	}
}

// Opening the demo finds the one in the list; when it was changed or deleted, a
// fresh one is made.
func TestOpeningTheDemo(t *testing.T) {
	f := newFixture(t)
	f.site.Demo, f.site.demoSum = f.plan.Doc, plan.Digest(f.plan.Doc)
	open := func(status int) string {
		t.Helper()
		w := f.do("POST", "/api/demo", "{}", jsonType)
		var got struct{ ID string }
		if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != status {
			t.Fatalf("got %d, %s, want %d", w.Code, w.Body, status)
		}
		return got.ID
	}
	if id := open(200); id != f.plan.ID {
		t.Errorf("got plan %q, want %q of the list", id, f.plan.ID)
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, `{"name":"Mine now"}`, patchType, `If-Match: "1"`); w.Code != 200 {
		t.Fatal(w.Body)
	}
	fresh := open(201)
	if again := open(200); fresh == f.plan.ID || again != fresh {
		t.Errorf("got plans %q and %q once the first was changed", fresh, again)
	}
}

func TestThereMayBeNoDemo(t *testing.T) {
	f := newFixture(t)
	f.play(t, []scenario{
		{name: "none", method: "POST", path: "/api/demo", header: []string{jsonType}, body: "{}", status: 404, has: []string{"demo plan"}},
		{name: "of another site", method: "POST", path: "/api/demo", body: "{}", status: 415},
	})
}
