package web

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"
)

// everyRoute fills the routes of the site with values that exist, and adds some
// that do not.
func (f *fixture) everyRoute() []scenario {
	f.t.Helper()
	fill := strings.NewReplacer("{id}", f.plan.ID, "{number}", "0", "{point}", "1", "{kind}", "crew", "{page}", "1")
	names := map[string][]string{
		"/plans/{id}/files/{name}":     {"plan.json", "outlines.geojson", "parts.csv", "parts.xlsx", "prices.csv", "quote.csv", "quote.txt", "zones.csv", "heads.csv", "findings.csv", "none.csv"},
		"/static/{name}":               {"board.js", "board.css", "icon.svg", "none.js"},
		"/api/starts/{name}/thumbnail": {"small-front", "none"},
		"/schema/{name}":               {"plan.json", "report.json", "none.json"},
	}
	var list []scenario
	err := chi.Walk(f.site.router(), func(method, route string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		for _, name := range append(names[route], "x")[:max(1, len(names[route]))] {
			path := fill.Replace(strings.Replace(route, "{name}", name, 1))
			if strings.HasSuffix(route, "/rate") {
				path += "?x=1&y=1"
			}
			if strings.HasSuffix(route, "/arrange") || strings.HasSuffix(route, "/improve") {
				path += "?effort=20" // the route is what is asked about
			}
			list = append(list, scenario{method: method, path: path})
		}
		return nil
	})
	if err != nil {
		f.t.Fatal(err)
	}
	for _, path := range []string{"/none", "/api/none", "/plans", "/api/plans/none", "/plans/none", "/favicon.ico"} {
		list = append(list, scenario{method: "GET", path: path})
	}
	return list
}

func TestRowB2_OnlyOurOwnHostIsAnswered(t *testing.T) {
	f := newFixture(t)
	srv := httptest.NewServer(f.h)
	defer srv.Close()
	at := srv.Listener.Addr().String()
	_, port, err := net.SplitHostPort(at)
	if err != nil {
		t.Fatal(err)
	}
	f.site.Hosts = []string{at, "localhost:" + port, "[::1]:" + port}
	hostile := []string{
		"evil.test", "evil.test:" + port, "localhost.evil.test:" + port, "127.0.0.1.evil.test:" + port, "", "localhost", "127.0.0.1",
		"0.0.0.0:" + port, "0:" + port, "2130706433:" + port, "0x7f000001:" + port, "0177.0.0.1:" + port, "127.1:" + port, "127.0.0.2:" + port,
		"127.0.0.1.:" + port, "localhost.:" + port, "LOCALHOST:" + port, "127.0.0.1:1", "[::ffff:127.0.0.1]:" + port, "[::]:" + port,
		"::1:" + port, "user@127.0.0.1:" + port, " 127.0.0.1:" + port + ",evil.test", "127.0.0.1:" + port + "/x", "127.0.0.1:0" + port,
	}
	for _, host := range hostile {
		for _, path := range []string{"/", "/static/board.js", "/api/plans/" + f.plan.ID, "/plans/" + f.plan.ID + "/files/plan.json", "/none"} {
			status, body := raw(t, at, "GET "+path+" HTTP/1.1\r\nHost: "+host+"\r\nConnection: close\r\n\r\n")
			if status != http.StatusMisdirectedRequest && status != http.StatusBadRequest || strings.Contains(body, "Front lawn") {
				t.Errorf("Host %q, %s: got %d %.80q, want it turned away", host, path, status, body)
			}
		}
		status, _ := raw(t, at, "DELETE /api/plans/"+f.plan.ID+" HTTP/1.1\r\nHost: "+host+"\r\nIf-Match: \"1\"\r\nConnection: close\r\n\r\n")
		if status != http.StatusMisdirectedRequest && status != http.StatusBadRequest {
			t.Errorf("Host %q: a deletion got %d", host, status)
		}
	}
	for name, request := range map[string]string{
		"two Hosts":          "GET / HTTP/1.1\r\nHost: " + at + "\r\nHost: evil.test\r\nConnection: close\r\n\r\n",
		"no Host":            "GET / HTTP/1.1\r\nConnection: close\r\n\r\n",
		"host in the target": "GET http://evil.test/ HTTP/1.1\r\nHost: " + at + "\r\nConnection: close\r\n\r\n",
		"HTTP/1.0":           "GET / HTTP/1.0\r\n\r\n",
		"CONNECT":            "CONNECT evil.test:80 HTTP/1.1\r\nHost: evil.test:80\r\nConnection: close\r\n\r\n",
	} {
		if status, _ := raw(t, at, request); status != http.StatusMisdirectedRequest && status != http.StatusBadRequest {
			t.Errorf("%s: got %d, want it turned away", name, status)
		}
	}
	for _, host := range f.site.Hosts {
		if status, _ := raw(t, at, "GET / HTTP/1.1\r\nHost: "+host+"\r\nConnection: close\r\n\r\n"); status != http.StatusOK {
			t.Errorf("our own Host %q: got %d, want 200", host, status)
		}
	}
	if f.now().Rev != 1 {
		t.Error("the plan was changed")
	}
}

// raw sends a request as it stands and returns status and body.
func raw(t *testing.T, at, request string) (int, string) {
	t.Helper()
	c, err := net.Dial("tcp", at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if _, err := io.WriteString(c, request); err != nil {
		t.Fatal(err)
	}
	resp, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatalf("%q: %v", request, err)
	}
	defer resp.Body.Close()
	b, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, string(b)
}

func TestRowB2_TheHostIsAskedOnEveryRoute(t *testing.T) {
	f := newFixture(t)
	for _, sc := range f.everyRoute() {
		if w := f.do(sc.method, sc.path, "", "Host: evil.test"); w.Code != http.StatusMisdirectedRequest {
			t.Errorf("%s %s under another Host: got %d, want 421", sc.method, sc.path, w.Code)
		}
	}
}

func TestRowB3_OtherSitesAreTurnedAway(t *testing.T) {
	f := newFixture(t)
	step := `{"name":"Stolen"}`
	with := func(header ...string) []string { return append([]string{patchType, `If-Match: "1"`}, header...) }
	var list []scenario
	for _, c := range []struct{ name, line string }{
		{"from another site", "Sec-Fetch-Site: cross-site"},
		{"from a neighbour of the site", "Sec-Fetch-Site: same-site"},
		{"from another port", "Origin: http://127.0.0.1:9999"},
		{"from another origin", "Origin: http://evil.test"},
		{"from a look-alike", "Origin: http://127.0.0.1:8740.evil.test"},
		{"from a file", "Origin: null"},
		{"from the same host by TLS", "Origin: https://127.0.0.1:8740"},
		{"from a path", "Origin: http://127.0.0.1:8740/x"},
	} {
		list = append(list,
			scenario{name: "step " + c.name, method: "PATCH", path: "/api/plans/PLAN", status: 403, header: with(c.line), body: step},
			scenario{name: "delete " + c.name, method: "DELETE", path: "/api/plans/PLAN", status: 403, header: with(c.line)},
			scenario{name: "make " + c.name, method: "POST", path: "/api/plans", status: 403, header: []string{jsonType, c.line}, body: `{"name":"x"}`},
		)
		list = append(list,
			scenario{name: "read " + c.name, method: "GET", path: "/api/plans/PLAN", status: 403, header: []string{c.line}, hasNot: []string{"Front lawn"}},
			scenario{name: "head " + c.name, method: "HEAD", path: "/api/plans/PLAN/board", status: 403, header: []string{c.line}},
			scenario{name: "file " + c.name, method: "GET", path: "/plans/PLAN/files/plan.json", status: 403, header: []string{c.line}, hasNot: []string{"Front lawn"}},
		)
	}
	list = append(list,
		scenario{name: "a link from elsewhere may open a page", method: "GET", path: "/plans/PLAN", status: 200, header: []string{"Sec-Fetch-Site: cross-site"}, hasNot: []string{"Front lawn"}},
		scenario{name: "our own page reads", method: "GET", path: "/api/plans/PLAN", status: 200, header: []string{"Sec-Fetch-Site: same-origin", "Origin: http://127.0.0.1:8740"}},
		scenario{name: "typed into the address bar", method: "GET", path: "/plans/PLAN/files/plan.json", status: 200, header: []string{"Sec-Fetch-Site: none"}},
		scenario{name: "our own page writes", method: "PATCH", path: "/api/plans/PLAN", status: 200, header: with("Sec-Fetch-Site: same-origin", "Origin: http://127.0.0.1:8740"), body: `{"name":"Ours"}`},
	)
	f.play(t, list)
	if got := f.now().Rev; got != 2 {
		t.Errorf("revision: got %d, want 2", got)
	}
}

func TestRowB3_WritesNeedAKindOtherSitesCannotSend(t *testing.T) {
	f := newFixture(t)
	var list []scenario
	for _, kind := range []string{"", "text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/plain; application/json", "application/xml", "json"} {
		header := []string{`If-Match: "1"`}
		if kind != "" {
			header = append(header, "Content-Type: "+kind)
		}
		for _, sc := range []scenario{
			{method: "PATCH", path: "/api/plans/PLAN", body: `{"name":"x"}`},
			{method: "POST", path: "/api/plans", body: `{"name":"x"}`},
			{method: "POST", path: "/api/plans/PLAN/undo", body: `{}`},
			{method: "POST", path: "/api/plans/PLAN/redo", body: `{}`},
			{method: "DELETE", path: "/api/plans/PLAN", body: `{}`},
			{method: "POST", path: "/api/catalog/preview", body: "name\n"},
			{method: "POST", path: "/api/import/geojson", body: `{}`},
		} {
			sc.name = fmt.Sprintf("%s %s as %q", sc.method, sc.path, kind)
			sc.header, sc.status = header, http.StatusUnsupportedMediaType
			list = append(list, sc)
		}
	}
	f.play(t, list)
}

func TestRowB3_ReadingNeverWrites(t *testing.T) {
	f := newFixture(t)
	before, err := f.store.List(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for _, sc := range f.everyRoute() {
		if sc.method != "GET" {
			continue
		}
		for _, method := range []string{"GET", "HEAD"} {
			f.do(method, sc.path, "", `If-Match: "1"`, jsonType)
		}
		read++
	}
	if read < 20 {
		t.Errorf("only %d routes were read", read)
	}
	after, err := f.store.List(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if fmt.Sprint(before) != fmt.Sprint(after) {
		t.Errorf("the plans changed: got %v, want %v", after, before)
	}
	if steps, err := f.store.History(t.Context(), f.plan.ID); err != nil || len(steps) != 1 {
		t.Errorf("history: got %d steps, %v; want 1", len(steps), err)
	}
}

func TestRowB5_EveryAnswerCarriesTheHeaders(t *testing.T) {
	f := newFixture(t)
	want := map[string]string{
		"Content-Security-Policy":      contentPolicy,
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "no-referrer",
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"X-Frame-Options":              "DENY",
	}
	check := func(what string, w *httptest.ResponseRecorder) {
		t.Helper()
		for name, value := range want {
			got := w.Header().Get(name)
			if name == "Content-Security-Policy" && got == filePolicy && (strings.Contains(what, "/files/") || strings.Contains(what, "/packs/") || strings.HasSuffix(what, "/thumbnail") || strings.HasSuffix(what, "/handover")) {
				continue // stricter still
			}
			if got != value {
				t.Errorf("%s: %s is %q, want %q", what, name, got, value)
			}
		}
		for name := range w.Header() {
			if strings.HasPrefix(name, "Access-Control-") || name == "Set-Cookie" || name == "Server" {
				t.Errorf("%s: has the header %s", what, name)
			}
		}
	}
	for _, sc := range f.everyRoute() {
		check(sc.method+" "+sc.path, f.do(sc.method, sc.path, ""))
	}
	check("other Host", f.do("GET", "/", "", "Host: evil.test"))
	check("other site", f.do("GET", "/api/catalog", "", "Sec-Fetch-Site: cross-site"))
	check("other method", f.do("PUT", "/api/plans/"+f.plan.ID, "{}", jsonType))
	check("asked about from elsewhere", f.do("OPTIONS", "/api/plans", "", "Origin: http://evil.test", "Access-Control-Request-Method: POST"))
	for _, word := range []string{"unsafe-inline", "unsafe-eval", "http:", "https:", "*"} {
		if strings.Contains(contentPolicy, word) {
			t.Errorf("the content policy allows %s", word)
		}
	}
}

// TestPagesHoldNothingInline sees to it that the pages need nothing the policy
// forbids.
func TestRowB5_PagesHoldNothingInline(t *testing.T) {
	f := newFixture(t)
	for _, path := range []string{"/", "/help", "/plans/" + f.plan.ID, "/plans/" + f.plan.ID + "/yard", "/none"} {
		body := f.do("GET", path, "").Body.String()
		for _, inline := range []string{"<style", " style=", "<script>", "javascript:", " onclick=", " onload=", "http://", "https://"} {
			if strings.Contains(strings.ReplaceAll(body, "http://www.w3.org/", ""), inline) {
				t.Errorf("%s holds %q", path, inline)
			}
		}
	}
}

func TestRowB9_CompressedRequestsAreNotTaken(t *testing.T) {
	f := newFixture(t)
	f.play(t, []scenario{
		{name: "gzip", method: "PATCH", path: "/api/plans/PLAN", status: 415, header: []string{patchType, `If-Match: "1"`, "Content-Encoding: gzip"}, body: "\x1f\x8b"},
		{name: "identity", method: "PATCH", path: "/api/plans/PLAN", status: 415, header: []string{patchType, `If-Match: "1"`, "Content-Encoding: identity"}, body: "{}"},
	})
}

func TestRowB9_JSONBombsAreRefused(t *testing.T) {
	f := newFixture(t)
	deep := strings.Repeat(`{"a":`, 5000) + "1" + strings.Repeat("}", 5000)
	header := []string{patchType, `If-Match: "1"`}
	f.play(t, []scenario{
		{name: "deep patch", method: "PATCH", path: "/api/plans/PLAN", status: 422, header: header, body: deep},
		{name: "deep plan", method: "POST", path: "/api/plans", status: 422, header: []string{jsonType}, body: `{"doc":` + deep + `}`},
		{name: "deep outlines", method: "POST", path: "/api/import/geojson", status: 422, header: []string{"Content-Type: application/geo+json"}, body: strings.Repeat("[", 100000)},
		{name: "deep request", method: "POST", path: "/api/plans", status: 400, header: []string{jsonType}, body: strings.Repeat(`{"doc":`, 20000)},
		{name: "a member twice", method: "PATCH", path: "/api/plans/PLAN", status: 422, header: header, body: `{"heads":{"h1":{"x_ft":1,"x_ft":2}}}`},
		{name: "a very long text", method: "PATCH", path: "/api/plans/PLAN", status: 422, header: header, body: `{"name":"` + strings.Repeat("x", 3000) + `"}`},
		{name: "too many things", method: "PATCH", path: "/api/plans/PLAN", status: 422, header: header, body: manyNotes(50_001)},
	})
}

func manyNotes(n int) string {
	var b strings.Builder
	b.WriteString(`{"notes":{`)
	for i := range n {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, `"n%d":{"text":"x","x_ft":1,"y_ft":1}`, i)
	}
	b.WriteString("}}")
	return b.String()
}

func TestRowB8_BodiesOverTheLimitAreRefused(t *testing.T) {
	f := newFixture(t)
	for _, c := range []struct {
		method, path string
		most         int
		header       []string
	}{
		{"PATCH", "/api/plans/PLAN", planMost, []string{patchType, `If-Match: "1"`}},
		{"POST", "/api/plans", planMost, []string{jsonType}},
		{"POST", "/api/plans/PLAN/undo", smallMost, []string{jsonType, `If-Match: "1"`}},
		{"POST", "/api/catalog/preview", csvMost, []string{"Content-Type: text/csv"}},
		{"POST", "/api/import/geojson", geoJSONMost, []string{"Content-Type: application/geo+json"}},
	} {
		path := strings.ReplaceAll(c.path, "PLAN", f.plan.ID)
		w := f.do(c.method, path, strings.Repeat(" ", c.most+1), c.header...)
		if w.Code != http.StatusRequestEntityTooLarge {
			t.Errorf("%s %s with one byte too many: got %d, want 413", c.method, c.path, w.Code)
		}
		if w := f.do(c.method, path, strings.Repeat(" ", c.most), c.header...); w.Code == http.StatusRequestEntityTooLarge {
			t.Errorf("%s %s at the limit: got 413", c.method, c.path)
		}
		if w := f.undeclared(c.method, path, c.most+1, c.header); c.path != "/api/plans/PLAN/undo" && w.Code != http.StatusRequestEntityTooLarge {
			t.Errorf("%s %s with one byte too many and no length said: got %d, want 413", c.method, c.path, w.Code)
		}
	}
}

// undeclared sends n spaces without saying how many.
func (f *fixture) undeclared(method, path string, n int, header []string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, "http://"+testHost+path, io.LimitReader(spaces{}, int64(n)))
	r.ContentLength = -1
	for _, line := range header {
		name, value, _ := strings.Cut(line, ": ")
		r.Header.Set(name, value)
	}
	w := httptest.NewRecorder()
	f.h.ServeHTTP(w, r)
	return w
}

type spaces struct{}

func (spaces) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = ' '
	}
	return len(b), nil
}

func TestStaticFilesAreLookedUpAsTheyStand(t *testing.T) {
	f := newFixture(t)
	for _, path := range []string{
		"/static/..%2fsite.go", "/static/../site.go", "/static/%2e%2e/site.go", "/static/..%5csite.go", "/static/%2fetc%2fpasswd", "/static//etc/passwd",
		"/static/static.go", "/static/.", "/static/..", "/static/", "/static", "/static/board.js%00.css", "/static/board.js/", "/static/%252e%252e%252fsite.go",
		"/static/C:%5cboard.js", "/static/board.JS", "/static/board.js.map",
	} {
		if w := f.do("GET", path, ""); w.Code != http.StatusNotFound {
			t.Errorf("%s: got %d, want 404", path, w.Code)
		}
	}
	w := f.do("GET", "/static/board.js", "")
	if w.Code != 200 || w.Header().Get("Content-Type") != "text/javascript; charset=utf-8" || w.Body.Len() == 0 {
		t.Errorf("board.js: got %d, %q, %d bytes", w.Code, w.Header().Get("Content-Type"), w.Body.Len())
	}
	if w := f.do("GET", "/static/board.js", "", "If-None-Match: "+w.Header().Get("ETag")); w.Code != http.StatusNotModified {
		t.Errorf("board.js again: got %d, want 304", w.Code)
	}
}
