package web

import (
	"context"
	"database/sql"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/starts"
)

func TestRowA31_PlansAreCopiedPutAwayAndBroughtBack(t *testing.T) {
	f := newFixture(t)
	f.play(t, []scenario{
		{name: "copy", method: "POST", path: "/api/plans/PLAN/copy", status: 201, header: []string{jsonType}, body: `{"name":"Next door"}`, has: []string{`{"id":"p`}},
		{name: "copy without a name", method: "POST", path: "/api/plans/PLAN/copy", status: 422, header: []string{jsonType}, body: `{"name":"  "}`, has: []string{"Give the copy a name"}},
		{name: "copy with a name that is none", method: "POST", path: "/api/plans/PLAN/copy", status: 422, header: []string{jsonType}, body: `{"name":"a\u0000b"}`},
		{name: "copy of none", method: "POST", path: "/api/plans/pnone/copy", status: 404, header: []string{jsonType}, body: `{"name":"x"}`},
		{name: "which backup holds it", method: "GET", path: "/api/plans/PLAN/backup", status: 200, has: []string{`{"at":"","as_now":false}`}},
		{name: "which backup holds none", method: "GET", path: "/api/plans/pnone/backup", status: 404},
		{name: "archive without a revision", method: "POST", path: "/api/plans/PLAN/archive", status: 428},
		{name: "archive another revision", method: "POST", path: "/api/plans/PLAN/archive", status: 412, header: []string{`If-Match: "2"`}},
		{name: "archive", method: "POST", path: "/api/plans/PLAN/archive", status: 204, header: []string{`If-Match: "1"`}},
		{name: "the list", method: "GET", path: "/", status: 200, has: []string{"data-archived", "Bring back Yard", "Next door"}},
		{name: "it still opens", method: "GET", path: "/plans/PLAN", status: 200},
		{name: "bring back", method: "POST", path: "/api/plans/PLAN/unarchive", status: 204, header: []string{`If-Match: "1"`}},
		{name: "the list again", method: "GET", path: "/", status: 200, hasNot: []string{"data-archived"}},
	})
}

func TestRowA26_APlanStartsFromATypicalYard(t *testing.T) {
	f := newFixture(t)
	list := []scenario{
		{name: "under its own name", method: "POST", path: "/api/plans", status: 201, header: []string{jsonType}, body: `{"name":"","show":"us","start":"courtyard"}`},
		{name: "no such yard", method: "POST", path: "/api/plans", status: 422, header: []string{jsonType}, body: `{"name":"x","show":"us","start":"castle"}`, has: []string{"no typical yard"}},
		{name: "no such picture", method: "GET", path: "/api/starts/castle/thumbnail", status: 404},
	}
	for _, y := range starts.All() {
		list = append(list, scenario{name: y.ID, method: "POST", path: "/api/plans", status: 201, header: []string{jsonType}, body: `{"name":"At ` + y.ID + `","show":"metric","start":"` + y.ID + `"}`},
			scenario{name: y.ID + " picture", method: "GET", path: "/api/starts/" + y.ID + "/thumbnail", status: 200, has: []string{"<svg"}, hasHeader: []string{"Content-Type: image/svg+xml"}})
	}
	f.play(t, list)
	page := f.do("GET", "/", "").Body.String()
	for _, y := range starts.All() {
		if !strings.Contains(page, "At "+y.ID) || !strings.Contains(page, y.Name) || !strings.Contains(page, "invented") {
			t.Errorf("%s is not on the page, as a start and as a plan", y.ID)
		}
	}
}

func TestRowA31_ThumbnailsAreSmallPicturesThatCanDoNothing(t *testing.T) {
	f := newFixture(t)
	path, tag := "/api/plans/"+f.plan.ID+"/thumbnail", `"`+plan.Digest(f.plan.Doc)+`"`
	w := f.do("GET", path, "")
	for name, want := range map[string]string{
		"Content-Type": "image/svg+xml", "Content-Security-Policy": "default-src 'none'; sandbox", "X-Content-Type-Options": "nosniff",
		"ETag": tag, "Cache-Control": "private, no-cache",
	} {
		if got := w.Header().Get(name); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	drawn := map[string]int{}
	d := xml.NewDecoder(w.Body)
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := tok.(type) {
		case xml.StartElement:
			drawn[e.Name.Local]++
			for _, a := range e.Attr {
				if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") || strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
					t.Errorf("%s has %s=%q", e.Name.Local, a.Name.Local, a.Value)
				}
			}
		case xml.CharData:
			t.Errorf("it holds the text %q", e)
		}
	}
	if drawn["circle"] != 4 || drawn["path"] != 3 || len(drawn) != 3 {
		t.Errorf("drawn: got %v, want 4 heads, 2 areas and the lot in one svg", drawn)
	}
	if w := f.do("GET", path, "", "If-None-Match: "+tag); w.Code != http.StatusNotModified || w.Body.Len() != 0 {
		t.Errorf("asked for again: got %d with %d bytes, want 304", w.Code, w.Body.Len())
	}
	f.step(`{"heads":{"h1":null}}`, "Delete head")
	if w := f.do("GET", path, "", "If-None-Match: "+tag); w.Code != http.StatusOK || strings.Count(w.Body.String(), "<circle") != 3 {
		t.Errorf("after a step: got %d, want the new picture", w.Code)
	}
	crowd := make([]string, 9000)
	for i := range crowd {
		crowd[i] = fmt.Sprintf(`"c%d":{"nozzle":"n1","body":"b1","x_ft":%d,"y_ft":%d,"sweep_deg":90}`, i, i%300, i/300)
	}
	f.step(`{"heads":{`+strings.Join(crowd, ",")+`}}`, "Many heads")
	if n := strings.Count(f.do("GET", path, "").Body.String(), "<circle"); n < 500 || n > 2500 {
		t.Errorf("of thousands of heads %d are drawn, want those that can be told apart", n)
	}
	empty := f.keep(string(plan.Empty("Nothing", "us").Encode()))
	if w := f.do("GET", "/api/plans/"+empty.ID+"/thumbnail", ""); w.Code != http.StatusOK || strings.Contains(w.Body.String(), "NaN") {
		t.Errorf("an empty plan: got %d %s", w.Code, w.Body)
	}
}

// counting counts what is asked of a store.
type counting struct {
	Plans
	lists, loads int
}

func (c *counting) List(ctx context.Context) ([]plan.Listed, error) {
	c.lists++
	return c.Plans.List(ctx)
}

func (c *counting) Load(ctx context.Context, id string) (plan.Saved, error) {
	c.loads++
	return c.Plans.Load(ctx, id)
}

func TestRowA31_AThousandPlansAreListedByOneQuestion(t *testing.T) {
	var asked *counting
	f := newFixtureWith(t, func(o *Options) {
		asked = &counting{Plans: o.Plans}
		o.Plans = asked
	})
	for i := range 999 {
		f.keep(string(plan.Empty(fmt.Sprintf("Plan %d", i), "us").Encode()))
	}
	page := f.do("GET", "/", "").Body.String()
	if asked.lists != 1 || asked.loads != 0 {
		t.Errorf("asked: got %d lists and %d documents, want 1 and 0", asked.lists, asked.loads)
	}
	rows, hidden := strings.Count(page, `class="plan-row"`), strings.Count(page, `class="plan-row" hidden`)
	if rows != 1000 || rows-hidden != 24 {
		t.Errorf("rows: got %d, %d shown; want 1000 with 24 shown", rows, rows-hidden)
	}
	if lazy := strings.Count(page, `loading="lazy"`); lazy < 1000 {
		t.Errorf("%d pictures wait until they are looked at, want all", lazy)
	}
	if len(page) > 2_500_000 {
		t.Errorf("the page has %d bytes, want under 2.5 million", len(page))
	}
}

func TestRowB17_ADamagedPlanSaysWhatIsLeftAndIsBroughtBack(t *testing.T) {
	f := newFixture(t)
	f.step(`{"heads":{"h1":{"x_ft":1}}}`, "Move head 1-1")
	db, err := sql.Open("sqlite3", f.store.File())
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rot := func(statement string) {
		t.Helper()
		if _, err := db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	rot("UPDATE plans SET doc = CAST(replace(CAST(doc AS TEXT), 'lawn', 'lown') AS BLOB)")
	f.play(t, []scenario{
		{name: "its data", method: "GET", path: "/api/plans/PLAN", status: 410, has: []string{"was left as it is"}},
		{name: "its page", method: "GET", path: "/plans/PLAN", status: 410,
			has:    []string{"“Yard” is damaged", "after step 1, “Move head 1-1”", "nothing is missing", "Bring it back as a new plan", "UTC</time>", f.store.Dir()},
			hasNot: []string{"cannot be rebuilt", "lown"}},
		{name: "the list", method: "GET", path: "/", status: 200, has: []string{"damaged: open it", "Delete Yard"}, hasNot: []string{"Copy as a start: Yard"}},
		{name: "its picture", method: "GET", path: "/api/plans/PLAN/thumbnail", status: 410},
		{name: "bring it back", method: "POST", path: "/api/plans/PLAN/recover", status: 201, header: []string{jsonType}, body: "{}", has: []string{`{"id":"p`}},
		{name: "the list again", method: "GET", path: "/", status: 200, has: []string{"Yard (recovered)", "damaged: open it"}},
	})
	rot("UPDATE steps SET at = '2026-0x' WHERE pos = 1")
	f.play(t, []scenario{
		{name: "its time is rotten too", method: "GET", path: "/plans/PLAN", status: 410,
			has: []string{"after step 1, “Move head 1-1”", "time unknown", "nothing is missing"}, hasNot: []string{"0001"}},
		{name: "its history", method: "GET", path: "/api/plans/PLAN/history", status: 200, has: []string{`"label":"Move head 1-1","at":"time unknown"`}},
	})
	rot("UPDATE steps SET patch = CAST('{}' AS BLOB) WHERE pos = 1")
	f.play(t, []scenario{{name: "a patch is damaged too", method: "GET", path: "/plans/PLAN", status: 410,
		has: []string{"after step 0, “Plan made”", "1 later step cannot be rebuilt"}, hasNot: []string{"nothing is missing"}}})
	rot("UPDATE points SET doc = CAST('x' AS BLOB)")
	f.play(t, []scenario{
		{name: "nothing is whole", method: "GET", path: "/plans/PLAN", status: 410, has: []string{"This plan is damaged", "No earlier state", "backups"}, hasNot: []string{"Bring it back"}},
		{name: "bring back nothing", method: "POST", path: "/api/plans/PLAN/recover", status: 410, header: []string{jsonType}, body: "{}", has: []string{"no earlier state"}},
	})
}
