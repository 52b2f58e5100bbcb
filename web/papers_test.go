package web

import (
	"bufio"
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/packs"
	"evenfall/internal/plan"
)

func demoDoc(t testing.TB) string {
	t.Helper()
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	return string(doc)
}

// The page offers packs, papers and scales of the plan's own units, says what is missing
// yet, and lists the other files with what each is for.
func TestThePapersPageOffersWhatCanBeMade(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(demoDoc(t))
	w := f.do("GET", "/plans/"+f.plan.ID+"/papers", "")
	body := w.Body.String()
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, body)
	}
	for _, has := range []string{
		"Crew pack", "Owner&#39;s book", "Office pack", `<option value="letter" selected>`, `value="arch_d"`, "1 in = 20 ft", `value="240"`,
		`href="/plans/` + f.plan.ID + `/packs/crew.pdf"`, `/files/trenches.csv`, "The sleeve list: place, size, depth",
	} {
		if !strings.Contains(strings.ToLower(body), strings.ToLower(has)) {
			t.Errorf("the page has no %q", has)
		}
	}
	if strings.Contains(body, "Not on them yet") {
		t.Error("of the demo, which lacks nothing, it says what is missing")
	}
	f.plan = f.keep(`{"format":"evenfall-plan/1","name":"Bare","show":"metric"}`)
	w = f.do("GET", "/plans/"+f.plan.ID+"/papers", "")
	body = w.Body.String()
	for _, has := range []string{`<option value="a4" selected>`, "1:200", "No head is drawn", "The water supply is not measured", "297 mm"} {
		if w.Code != http.StatusOK || !strings.Contains(body, has) {
			t.Errorf("%d: the page of a bare plan has no %q", w.Code, has)
		}
	}
	if strings.Contains(body, "outlines.geojson") {
		t.Error("a plan at no place on earth is offered outlines for a map")
	}
	if w := f.do("GET", "/plans/nowhere/papers", ""); w.Code != http.StatusNotFound {
		t.Errorf("the papers of no plan: %d", w.Code)
	}
}

// A pack is a file to be saved that does nothing when it is opened; the same question
// has the same bytes, from the kept pack and from one made anew.
func TestPacksAreHandedOutAsFiles(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(demoDoc(t))
	for _, kind := range []packs.Kind{packs.Crew, packs.Owner, packs.Office} {
		path := "/plans/" + f.plan.ID + "/packs/" + string(kind) + ".pdf?paper=tabloid&scale=240&date=2026-05-01"
		w := f.do("GET", path, "")
		h := w.Header()
		if w.Code != http.StatusOK || h.Get("Content-Type") != "application/pdf" || !bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")) {
			t.Fatalf("%s: %d %s", kind, w.Code, h.Get("Content-Type"))
		}
		name := slug("Corner lot") // how the demo's name begins
		if got := h.Get("Content-Disposition"); !strings.HasPrefix(got, `attachment; filename="`+name) || !strings.HasSuffix(got, "-"+string(kind)+`.pdf"`) {
			t.Errorf("%s: it is called %s", kind, got)
		}
		if got := h.Get("Content-Security-Policy"); got != filePolicy {
			t.Errorf("%s: its policy is %q", kind, got)
		}
		if got := h.Get("Content-Length"); got != fmt.Sprint(w.Body.Len()) {
			t.Errorf("%s: it says to be %s bytes long and has %d", kind, got, w.Body.Len())
		}
		again := f.do("GET", path, "")
		f.site.desk.gone(f.plan.ID) // nothing is kept any more
		anew := f.do("GET", path, "")
		if !bytes.Equal(w.Body.Bytes(), again.Body.Bytes()) || !bytes.Equal(w.Body.Bytes(), anew.Body.Bytes()) {
			t.Errorf("%s: the same question has other bytes the second or third time", kind)
		}
	}
}

// The owner's book has the photographs of the plan in it, as they were taken, and its pages
// show them.
func TestTheOwnersBookHasThePhotographs(t *testing.T) {
	f := photographed(t)
	photo := jpegOf(t, 40, 30)
	w := f.do("GET", "/plans/"+f.plan.ID+"/packs/owner.pdf?date=2026-05-01", "")
	if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), photo) {
		t.Errorf("%d: the book of %d bytes has no photograph", w.Code, w.Body.Len())
	}
	shown := false
	for page := 1; page < 60 && !shown; page++ {
		w := f.do("GET", fmt.Sprintf("/plans/%s/packs/owner/pages/%d.svg?date=2026-05-01", f.plan.ID, page), "")
		if w.Code != http.StatusOK {
			break
		}
		shown = strings.Contains(w.Body.String(), base64.StdEncoding.EncodeToString([]byte(photo)))
	}
	if !shown {
		t.Error("no page of it shows the photograph")
	}
}

// What cannot be asked is refused in a sentence that says what could be.
func TestPapersThatCannotBeAreRefused(t *testing.T) {
	f := newFixture(t)
	at := "/plans/PLAN/packs/crew.pdf"
	refused := func(name, path string, status int, has ...string) scenario {
		return scenario{name: name, method: "GET", path: path, status: status, has: has}
	}
	f.play(t, []scenario{
		refused("a paper there is not", at+"?paper=napkin", 400, "No paper is named “napkin”; there are letter, tabloid, arch_d, a4 and a3."),
		refused("a scale there is not", at+"?scale=7", 400, "No scale is named “7”; there are fit, the largest that goes on one sheet", "240 (1 in = 20 ft)"),
		refused("a scale that is no number", at+"?scale=1e9", 400, "No scale is named “1e9”"),
		refused("a scale beyond all numbers", at+"?scale="+strings.Repeat("9", 400), 400, "No scale is named “9999"),
		refused("a date of another form", at+"?date=05/01/2026", 400, "The date to print is written as 2026-05-01"),
		refused("a day there is not", at+"?date=2026-02-30", 400, "The date to print is written as 2026-05-01"),
		refused("a date of long ago", at+"?date=0001-01-01", 400, "The date to print is written as 2026-05-01"),
		refused("a revision that is none", at+"?rev=new", 400, "A revision of a plan is a number such as 12"),
		refused("a revision that is not stored", at+"?rev=7", 412, "The plan has changed since these papers were made."),
		refused("a pack there is not", "/plans/PLAN/packs/cook.pdf", 404, "No pack is named “cook”; there are crew, owner and office."),
		refused("no plan", "/plans/none/packs/crew.pdf", 404),
		refused("markup", at+"?paper=<script>alert(1)</script>", 400, "“&lt;script&gt;"),
		refused("page 0", "/plans/PLAN/packs/crew/pages/0.svg", 400, "Pages are counted from 1"),
		refused("no number", "/plans/PLAN/packs/crew/pages/x.svg", 400, "Pages are counted from 1"),
		refused("a page past the last", "/plans/PLAN/packs/crew/pages/999.svg", 404, "there is no page 999"),
		refused("a page of no pack", "/plans/PLAN/packs/cook/pages/1.txt", 404, "No pack is named"),
		{name: "a metric scale of a plan in feet", method: "GET", path: at + "?scale=250", status: 200},
		{name: "fit", method: "GET", path: at + "?scale=fit", status: 200},
		{name: "in JSON", method: "GET", path: "/api/plans/PLAN/packs/crew?paper=napkin", header: []string{asLines}, status: 400, has: []string{`"error":"No paper is named “napkin”`}},
		{name: "from another site", method: "GET", path: at, header: []string{"Sec-Fetch-Site: cross-site"}, status: 403},
	})
}

// A page that asks for a pack is told how far it is and then what it holds; every page
// of it is there as the picture that is printed and as words.
func TestPacksAreToldOfAndShownPageByPage(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(demoDoc(t))
	for _, kind := range []string{"crew", "owner", "office"} {
		w := f.do("GET", "/api/plans/"+f.plan.ID+"/packs/"+kind+"?paper=letter&date=2026-05-01", "", asLines)
		list := linesOf(t, w.Body.String())
		share := -1.0
		for _, l := range list[:len(list)-1] {
			if l.Step == "" || !(l.Share > share && l.Share <= 1) {
				t.Errorf("%s: after a share of %g comes %+v", kind, share, l)
			}
			share = l.Share
		}
		var v PackView
		if err := json.Unmarshal(list[len(list)-1].Value, &v); err != nil {
			t.Fatalf("%s: %v in %s", kind, err, w.Body)
		}
		next := 1
		for _, sheet := range v.Sheets {
			if sheet.First != next || sheet.Pages < 1 || sheet.Code == "" || sheet.Title == "" || sheet.Holds == "" {
				t.Errorf("%s: sheet %+v, want it to begin with page %d", kind, sheet, next)
			}
			next = sheet.First + sheet.Pages
		}
		if v.Rev != 1 || v.Pack != kind || len(v.Pages) != next-1 || len(v.Sheets) < 5 {
			t.Fatalf("%s: %+v", kind, v)
		}
		for i, page := range v.Pages {
			at := fmt.Sprintf("/plans/%s/packs/%s/pages/%d", f.plan.ID, kind, i+1)
			svg := f.do("GET", at+".svg?paper=letter&date=2026-05-01&rev=1", "")
			if svg.Code != http.StatusOK || svg.Header().Get("Content-Type") != "image/svg+xml" || !strings.Contains(svg.Header().Get("Content-Security-Policy"), "sandbox") {
				t.Fatalf("%s page %d: %d %v", kind, i+1, svg.Code, svg.Header())
			}
			wellFormed(t, svg.Body.Bytes())
			words := f.do("GET", at+".txt?paper=letter&date=2026-05-01&rev=1", "").Body.String()
			if !strings.Contains(words, "Corner lot") || !strings.Contains(words, v.sheetOf(i+1).Title) {
				t.Errorf("%s page %d, %s, says %q", kind, i+1, page.Name, words)
			}
		}
	}
}

// sheetOf is the sheet that a page, counted from 1, is of.
func (v *PackView) sheetOf(page int) PackSheet {
	for _, s := range v.Sheets {
		if page >= s.First && page < s.First+s.Pages {
			return s
		}
	}
	return PackSheet{}
}

func wellFormed(t *testing.T, b []byte) {
	t.Helper()
	read := xml.NewDecoder(bytes.NewReader(b))
	for {
		if _, err := read.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatalf("%v in %.200s", err, b)
		}
	}
}

// The pack that was made last is kept for its pages and its file, under the whole
// question; after a change of the plan its pages can still be looked at, and another
// question makes it anew.
func TestTheLastPackIsKept(t *testing.T) {
	f := newFixture(t)
	o := f.site.desk.take(f.plan.ID, f.site.Now())
	ask := func(path string, status int) *packs.Made {
		t.Helper()
		if w := f.do("GET", "/plans/"+f.plan.ID+"/packs/"+path, ""); w.Code != status {
			t.Fatalf("%s: %d %s", path, w.Code, w.Body)
		}
		return o.papers.made
	}
	first := ask("owner/pages/1.svg?paper=a4", 200)
	if first == nil || ask("owner/pages/2.svg?paper=a4", 200) != first || ask("owner.pdf?paper=a4&rev=1", 200) != first {
		t.Error("the same pack was made again")
	}
	if ask("owner.pdf?paper=a3", 200) == first {
		t.Error("a pack on other paper was not made")
	}
	kept := ask("crew/pages/1.svg", 200)
	f.play(t, []scenario{{name: "a step", method: "PATCH", path: "/api/plans/PLAN", body: `{"name":"Another"}`, header: []string{patchType, `If-Match: "1"`}, status: 200}})
	if ask("crew/pages/1.svg?rev=1", 200) != kept {
		t.Error("pages of what is kept were not shown")
	}
	ask("crew.pdf?rev=1&paper=a3", 412)
	if ask("crew.pdf", 200) == kept {
		t.Error("the papers of the plan before were taken for those of the plan")
	}
	ask("crew/pages/1.svg?rev=1", 412)
}

// A pack that is being made ends when its page calls it off.
func TestAPackThatIsCalledOffEnds(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(park(5000))
	srv := httptest.NewServer(f.h)
	defer srv.Close()
	f.site.Hosts = append(f.site.Hosts, srv.Listener.Addr().String())
	ctx, callOff := context.WithCancel(t.Context())
	r, err := http.NewRequestWithContext(ctx, "GET", srv.URL+"/api/plans/"+f.plan.ID+"/packs/office", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Accept", lines)
	answer, err := srv.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	first, err := bufio.NewReader(answer.Body).ReadString('\n')
	if err != nil || !strings.Contains(first, reckoning) || f.site.Jobs() != 1 {
		t.Fatalf("%q, %v; %d jobs", first, err, f.site.Jobs())
	}
	callOff()
	ends(t, f.site)
	o := f.site.desk.take(f.plan.ID, f.site.Now())
	if o.papers.made != nil {
		t.Error("what was called off was kept")
	}
}

// Names nobody should have to fear stay words in every pack, as picture, as words and
// on the page.
func TestHostileNamesStayWordsOnPapers(t *testing.T) {
	raw, err := os.ReadFile("../testdata/bad/names.json")
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
	f := newFixture(t)
	areas, zones, heads := map[string]any{}, map[string]any{}, map[string]any{}
	for i, n := range names {
		x, y := float64(i%8)*14, float64(i/8)*14
		id := fmt.Sprintf("x%d", i)
		areas[id] = map[string]any{"name": n, "note": n, "kind": "planting", "outline": [][]float64{{x, y}, {x + 12, y}, {x + 12, y + 12}, {x, y + 12}}}
		zones[id] = map[string]any{"name": n, "flag": n, "station": i + 1}
		heads[id] = map[string]any{"tag": n, "nozzle": "n1", "body": "b1", "zone": id, "x_ft": x + 6, "y_ft": y + 6, "sweep_deg": 360}
	}
	var doc map[string]any
	if err := json.Unmarshal([]byte(yard), &doc); err != nil {
		t.Fatal(err)
	}
	doc["areas"], doc["zones"], doc["heads"] = areas, zones, heads
	doc["name"] = names[0]
	for _, n := range names {
		if strings.Contains(n, "<script") {
			doc["name"] = n
		}
	}
	b, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := plan.Decode(b); err != nil {
		t.Fatal(err)
	}
	f.plan = f.keep(string(b))
	page := f.do("GET", "/plans/"+f.plan.ID+"/papers", "").Body.String()
	pages := 0
	for _, kind := range []string{"crew", "owner"} {
		pdf := f.do("GET", "/plans/"+f.plan.ID+"/packs/"+kind+".pdf", "")
		if name := pdf.Header().Get("Content-Disposition"); pdf.Code != http.StatusOK || strings.ContainsAny(strings.TrimPrefix(name, `attachment; filename="`), "<>\\/\r\n") {
			t.Errorf("%s: %d, called %s", kind, pdf.Code, name)
		}
		for n := 1; ; n++ {
			svg := f.do("GET", fmt.Sprintf("/plans/%s/packs/%s/pages/%d.svg", f.plan.ID, kind, n), "")
			if svg.Code == http.StatusNotFound {
				break
			}
			pages++
			wellFormed(t, svg.Body.Bytes())
			for _, bad := range []string{"<script", "<img", "<b>", "javascript:", " onload="} {
				if strings.Contains(strings.ToLower(unquoted(svg.Body.String())), bad) {
					t.Errorf("%s page %d holds %q as markup", kind, n, bad)
				}
			}
		}
	}
	for _, bad := range []string{"<script>alert", "<img src=x"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	t.Logf("shown: %d names on %d pages stay words", len(names), pages)
}

// unquoted is markup without its words: tags with their attributes alone.
func unquoted(s string) string {
	var out strings.Builder
	in := false
	for _, r := range s {
		switch {
		case r == '<':
			in = true
			out.WriteRune(r)
		case r == '>':
			in = false
			out.WriteRune(r)
		case in:
			out.WriteRune(r)
		}
	}
	return out.String()
}

// A pack on paper of two sizes says which pages go on which, as a window for printing
// takes them; one on paper of one size says nothing, however its pages stand.
func TestMixedPaperIsToldByPages(t *testing.T) {
	t.Parallel()
	const wide, high = 11 * 72, 8.5 * 72
	upright, across, large := drawing.Page{Width: high, Height: wide}, drawing.Page{Width: wide, Height: high}, drawing.Page{Width: 36 * 72, Height: 24 * 72}
	for _, c := range []struct {
		pages []drawing.Page
		want  string
	}{
		{nil, ""},
		{[]drawing.Page{upright, across, upright}, ""},
		{[]drawing.Page{large}, ""},
		{
			[]drawing.Page{upright, upright, large, upright, large, large},
			"It is printed in parts, one for each paper: pages 1-2, 4 on Letter; pages 3, 5-6 on ARCH D.",
		},
		{[]drawing.Page{large, upright}, "It is printed in parts, one for each paper: page 2 on Letter; page 1 on ARCH D."},
	} {
		if got := mixedPaper(c.pages); got != c.want {
			t.Errorf("%d pages: %q, want %q", len(c.pages), got, c.want)
		}
	}
}
