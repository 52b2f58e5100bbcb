package web

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/handover"
	"evenfall/internal/plan"
)

// photographed is the yard with a photograph of a head and a picture under it.
func photographed(t *testing.T) *fixture {
	t.Helper()
	f := newFixture(t)
	_, photo, _ := f.send(jpegKind, jpegOf(t, 40, 30))
	_, under, _ := f.send(pngKind, pngOf(t, 60, 50))
	f.patches(`{"photos":{"f1":{"sha256":"` + photo + `","width_px":40,"height_px":30,"on":"2026-05-30","about":"heads/h2","caption":"Cracked riser"}},
		"underlay":{"sha256":"` + under + `","x_ft":0,"y_ft":0,"ft_per_px":0.1,"opacity":0.5}}`)
	return f
}

// patches makes a step of the yard.
func (f *fixture) patches(patch string) {
	f.t.Helper()
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, patch, patchType, "If-Match: "+tag(f.now().Rev)); w.Code != http.StatusOK {
		f.t.Fatalf("%s: %d %s", patch, w.Code, w.Body)
	}
}

// opens sends a file that was handed over.
func (f *fixture) opens(file string, header ...string) (code int, id, says string, notes []string) {
	f.t.Helper()
	if len(header) == 0 {
		header = []string{"Content-Type: " + zipKind}
	}
	w := f.do("POST", handoverPath, file, header...)
	var answer struct {
		ID, Error string
		Notes     []string
	}
	if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil {
		f.t.Fatalf("%d %s: %v", w.Code, w.Body, err)
	}
	return w.Code, answer.ID, answer.Error, answer.Notes
}

// One file takes the whole plan to another machine: document, records, pictures and the
// owner's papers; and the same file again is another plan.
func TestAPlanHandedOverIsOpenedElsewhere(t *testing.T) {
	f := photographed(t)
	f.patches(`{"proof":{"started_up":"2026-05-30","wires":{"w1":{"order":1,"mark":"red","terminal":1}}}}`)
	w := f.do("GET", "/plans/"+f.plan.ID+"/handover", "")
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != zipKind {
		t.Fatalf("%d %s", w.Code, w.Header())
	}
	checkAttached(t, w)
	file := w.Body.String()
	z, err := zip.NewReader(strings.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range z.File {
		names = append(names, e.Name)
	}
	book := slices.IndexFunc(z.File, func(e *zip.File) bool { return strings.HasSuffix(e.Name, "-owner.pdf") })
	if book < 0 || !slices.Contains(names, "plan.json") || len(names) != 5 {
		t.Fatalf("it holds %v", names)
	}
	r, err := z.File[book].Open()
	if err != nil {
		t.Fatal(err)
	}
	if b, err := io.ReadAll(r); err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
		t.Errorf("the owner's book begins %.10q, %v", b, err)
	}
	if h := f.do("HEAD", "/plans/"+f.plan.ID+"/handover", ""); h.Code != http.StatusOK || h.Body.Len() != 0 {
		t.Errorf("HEAD: %d, %d bytes", h.Code, h.Body.Len())
	}

	other := newFixture(t)
	code, id, says, notes := other.opens(file)
	if code != http.StatusCreated || len(notes) != 0 {
		t.Fatalf("%d %s %v", code, says, notes)
	}
	got, err := other.store.Load(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if string(got.Doc) != string(f.now().Doc) {
		t.Errorf("the plan came as\n%s\nwas\n%s", got.Doc, f.now().Doc)
	}
	p, err := plan.Decode(got.Doc)
	if err != nil {
		t.Fatal(err)
	}
	for _, sum := range p.Pictures() {
		a, b := f.do("GET", "/api/pictures/"+sum, ""), other.do("GET", "/api/pictures/"+sum, "")
		if b.Code != http.StatusOK || a.Body.String() != b.Body.String() || a.Header().Get("Content-Type") != b.Header().Get("Content-Type") {
			t.Errorf("picture %s: %d", sum, b.Code)
		}
	}
	if _, again, _, _ := other.opens(file); again == id || again == "" {
		t.Errorf("opened again it is plan %s", again)
	}
}

// A picture that is gone does not keep a plan from being handed over, and is told where
// the file is opened.
func TestAPlanIsHandedOverWithoutAPictureThatIsGone(t *testing.T) {
	f := newFixture(t)
	f.patches(`{"photos":{"f1":{"sha256":"` + strings.Repeat("ab", 32) + `"}}}`)
	w := f.do("GET", "/plans/"+f.plan.ID+"/handover", "")
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	code, _, _, notes := f.opens(w.Body.String())
	if code != http.StatusCreated || len(notes) != 1 || !strings.Contains(notes[0], "1 picture of the plan is not in the file") {
		t.Errorf("%d %v", code, notes)
	}
}

// zipOf is an archive of entries, names and contents in turn.
func zipOf(t *testing.T, entries ...string) string {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(entries); i += 2 {
		w, err := z.Create(entries[i])
		if err == nil {
			_, err = io.WriteString(w, entries[i+1])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// What is no such file, or a hostile one, is refused in a sentence, and no plan is made.
func TestWhatWasNotHandedOverIsRefused(t *testing.T) {
	f := newFixture(t)
	before, err := f.store.List(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	many := make([]string, 0, 2*(handover.MaxEntries+1))
	for range handover.MaxEntries + 1 {
		many = append(many, "x", "")
	}
	for _, c := range []struct {
		name, file string
		header     []string
		code       int
		says       string
	}{
		{"nothing", "", nil, 422, "no ZIP file"},
		{"words", "a plan", nil, 422, "no ZIP file"},
		{"a plan file", yard, nil, 422, "no ZIP file"},
		{"no plan in it", zipOf(t, "READ ME.txt", "hello"), nil, 422, "plan.json is missing"},
		{"two plans", zipOf(t, "plan.json", yard, "plan.json", yard), nil, 422, "two plans"},
		{"a plan of another sort", zipOf(t, "plan.json", `{"format":"other"}`), nil, 422, ""},
		{"a bomb", zipOf(t, "plan.json", strings.Repeat(" ", 40<<20)), nil, 422, "larger than Evenfall takes"},
		{"too many entries", zipOf(t, many...), nil, 422, "the most is"},
		{"as a form", zipOf(t, "plan.json", yard), []string{"Content-Type: multipart/form-data; boundary=x"}, 415, zipKind},
		{"from another site", zipOf(t, "plan.json", yard), []string{"Content-Type: " + zipKind, "Sec-Fetch-Site: cross-site"}, 403, "Another site"},
	} {
		code, id, says, _ := f.opens(c.file, append([]string(nil), c.header...)...)
		if code != c.code || id != "" || says == "" || !strings.Contains(says, c.says) {
			t.Errorf("%s: %d %q, want %d with %q", c.name, code, says, c.code, c.says)
		}
	}
	// One that says it is too large is not read at all.
	r := httptest.NewRequestWithContext(t.Context(), "POST", "http://"+testHost+handoverPath, strings.NewReader("PK"))
	r.Header.Set("Content-Type", zipKind)
	r.ContentLength = handoverMost + 1
	w := httptest.NewRecorder()
	f.h.ServeHTTP(w, r)
	if w.Code != http.StatusRequestEntityTooLarge || !strings.Contains(w.Body.String(), "1024 MiB") {
		t.Errorf("too large: %d %s", w.Code, w.Body)
	}
	if after, err := f.store.List(t.Context()); err != nil || len(after) != len(before) {
		t.Errorf("%d plans became %d, %v", len(before), len(after), err)
	}
}

// A picture in the file is looked at as one that is sent by itself: what is not taken is
// left out, told, and the plan is opened all the same.
func TestPicturesOfAHandedOverFileAreLookedAt(t *testing.T) {
	f := newFixture(t)
	for name, c := range map[string]struct{ ending, body, says string }{
		"of another checksum": {".png", "", "not the one the plan names"},
		"no picture":          {".png", svgPicture, "not of the kind"},
		"of another kind":     {".png", jpegOf(t, 8, 8), "not of the kind"},
		"cut off":             {".png", pngOf(t, 40, 40)[:80], "not whole"},
		"far too large":       {".png", headOnly(20_000, 20_000), "20000 × 20000"},
	} {
		t.Run(name, func(t *testing.T) {
			sum := plan.Digest([]byte(c.body))
			body := c.body
			if body == "" {
				body = pngOf(t, 8, 8)
			}
			p, err := plan.Decode([]byte(yard))
			if err != nil {
				t.Fatal(err)
			}
			p.Photos = map[plan.ID]plan.Photo{"f1": {SHA256: sum}}
			code, id, says, notes := f.opens(zipOf(t, "plan.json", string(p.Encode()), "pictures/"+sum+c.ending, body))
			if code != http.StatusCreated || id == "" || len(notes) != 1 || !strings.Contains(notes[0], c.says) {
				t.Errorf("%d %s %q, want %q", code, says, notes, c.says)
			}
			if w := f.do("GET", "/api/pictures/"+sum, ""); w.Code != http.StatusNotFound {
				t.Errorf("the picture was kept: %d", w.Code)
			}
		})
	}
}

// What is handed over ends before it fills the disk, and says why.
func TestAFileHandedOverIsBounded(t *testing.T) {
	p, err := plan.Decode([]byte(yard))
	if err != nil {
		t.Fatal(err)
	}
	body := jpegOf(t, 400, 400)
	p.Photos = map[plan.ID]plan.Photo{"f1": {SHA256: plan.Digest([]byte(body))}}
	at := func(string) (string, []byte, error) { return jpegKind, []byte(body), nil }
	var whole bytes.Buffer
	if _, err := handover.Write(t.Context(), &bounded{&whole, handoverMost}, p, at, nil); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		most int
		want error
	}{{whole.Len(), nil}, {whole.Len() - 1, errHandoverLarge}, {100, errHandoverLarge}} {
		var b bytes.Buffer
		if _, err := handover.Write(t.Context(), &bounded{&b, int64(c.most)}, p, at, nil); !errors.Is(err, c.want) || b.Len() > c.most {
			t.Errorf("of %d bytes at the most %d are written: %v", c.most, b.Len(), err)
		}
	}
	if status, says := explain(errHandoverLarge); status != http.StatusUnprocessableEntity || !strings.HasPrefix(says.Error, "The pictures of this plan") {
		t.Errorf("%d %q", status, says.Error)
	}
}
