package web

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// payloads are names that would do harm on a page that trusts them, or in a
// spreadsheet.
var payloads = []string{
	`<script>alert(1)</script>`, `<ScRiPt src=//evil.test/x.js></sCrIpT>`, `"><script>alert(1)</script>`, `'><img src=x onerror=alert(1)>`,
	`<img src=x onerror=alert(1)>`, `<svg onload=alert(1)>`, `<svg/onload=alert(1)//`, `<body onload=alert(1)>`, `<iframe src="javascript:alert(1)">`,
	`<a href="javascript:alert(1)">x</a>`, `javascript:alert(1)`, `<math><mi//xlink:href="data:x,<script>alert(1)</script>">`, `</title><script>alert(1)</script>`,
	`</textarea><script>alert(1)</script>`, `</script><script>alert(1)</script>`, `<!--<script>alert(1)//-->`, `<![CDATA[<script>alert(1)</script>]]>`,
	`" onmouseover="alert(1)`, `' onfocus='alert(1)' autofocus='`, `" style="background:url(javascript:alert(1))`, `<style>@import'//evil.test'</style>`,
	`<link rel=stylesheet href=//evil.test>`, `<meta http-equiv=refresh content="0;url=//evil.test">`, `<base href=//evil.test>`, `<form action=//evil.test><input>`,
	`<details open ontoggle=alert(1)>`, `<video><source onerror=alert(1)>`, `<object data=javascript:alert(1)>`, `<embed src=javascript:alert(1)>`,
	`{{constructor.constructor('alert(1)')()}}`, `${alert(1)}`, `%3Cscript%3Ealert(1)%3C/script%3E`, `&lt;script&gt;alert(1)&lt;/script&gt;`, `\u003cscript\u003e`,
	`＜script＞alert(1)＜/script＞`, `<scr<script>ipt>alert(1)</scr</script>ipt>`, "<img src=`x` onerror=alert(1)>", `a"b'c<d>e&f`,
	`=HYPERLINK("http://evil.test","x")`, `+1+cmd|' /C calc'!A0`, `-2+3+cmd|' /C calc'!A0`, `@SUM(1+1)*cmd|' /C calc'!A0`, `=1+1`, `'=1+1`,
}

// naming puts a payload wherever a plan takes a name.
func naming(t *testing.T, s string) string {
	t.Helper()
	b, err := json.Marshal(map[string]any{
		"name":    s,
		"areas":   map[string]any{"a1": map[string]any{"name": s}, "a2": map[string]any{"name": s, "note": s}},
		"zones":   map[string]any{"z1": map[string]any{"name": s, "flag": s}},
		"heads":   map[string]any{"h1": map[string]any{"tag": s}},
		"nozzles": map[string]any{"n1": map[string]any{"name": s, "source": s}},
		"bodies":  map[string]any{"b1": map[string]any{"name": s}},
		"notes":   map[string]any{"k1": map[string]any{"text": s, "x_ft": 1, "y_ft": 1}},
	})
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestRowB6_NamesAreOnlyEverText(t *testing.T) {
	if len(payloads) < 40 {
		t.Fatalf("only %d payloads", len(payloads))
	}
	for _, s := range payloads {
		t.Run(s, func(t *testing.T) {
			f := newFixture(t)
			if w := f.do("PATCH", "/api/plans/"+f.plan.ID, naming(t, s), patchType, `If-Match: "1"`, "Evenfall-Label: "+pathEscape(s)); w.Code != http.StatusOK {
				t.Fatalf("naming: got %d %s", w.Code, w.Body)
			}
			for _, path := range []string{"/", "/plans/" + f.plan.ID, "/plans/" + pathEscape(s), "/" + pathEscape(s)} {
				checkMarkup(t, path, f.do("GET", path, "").Body.String())
			}
			for _, path := range []string{"", "/board", "/history"} {
				checkData(t, f.do("GET", "/api/plans/"+f.plan.ID+path, ""))
			}
			for _, name := range []string{"parts.csv", "zones.csv", "heads.csv", "findings.csv"} {
				checkCSV(t, f.do("GET", "/plans/"+f.plan.ID+"/files/"+name, ""))
			}
			checkWorkbook(t, f.do("GET", "/plans/"+f.plan.ID+"/files/parts.xlsx", ""))
			checkAttached(t, f.do("GET", "/plans/"+f.plan.ID+"/files/plan.json", ""))
		})
	}
}

func pathEscape(s string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	for i := range len(s) {
		b.WriteByte('%')
		b.WriteByte(hex[s[i]>>4])
		b.WriteByte(hex[s[i]&15])
	}
	return b.String()
}

// checkMarkup reads a page as a browser does and fails if anything in it could
// have come from a name.
func checkMarkup(t *testing.T, path, page string) {
	t.Helper()
	scripts := 0
	for z := html.NewTokenizer(strings.NewReader(page)); ; {
		switch z.Next() {
		case html.ErrorToken:
			if !errors.Is(z.Err(), io.EOF) {
				t.Errorf("%s: %v", path, z.Err())
			}
			if scripts != 1 {
				t.Errorf("%s has %d scripts, want one", path, scripts)
			}
			return
		case html.StartTagToken, html.SelfClosingTagToken:
			tag := z.Token()
			if tag.Data == "script" {
				scripts++
			}
			if foreign[tag.Data] {
				t.Errorf("%s has a %s", path, tag.Data)
			}
			for _, a := range tag.Attr {
				address := a.Key == "src" || a.Key == "href" || a.Key == "action"
				if strings.HasPrefix(a.Key, "on") || a.Key == "style" || address && !strings.HasPrefix(a.Val, "/") && !strings.HasPrefix(a.Val, "#") || strings.HasPrefix(a.Val, "//") {
					t.Errorf("%s: %s has %s=%q", path, tag.Data, a.Key, a.Val)
				}
			}
		default: // text and ends of elements do nothing
		}
	}
}

// foreign are elements our pages do not have.
var foreign = map[string]bool{"iframe": true, "object": true, "embed": true, "base": true, "style": true, "math": true, "video": true, "source": true}

// checkData fails unless the answer is JSON that cannot be taken for a page.
func checkData(t *testing.T, w *httptest.ResponseRecorder) {
	t.Helper()
	if got := w.Header().Get("Content-Type"); got != "application/json; charset=utf-8" {
		t.Errorf("kind of data: got %q", got)
	}
	if w.Header().Get("X-Content-Type-Options") != "nosniff" {
		t.Error("data may be sniffed")
	}
}

func checkAttached(t *testing.T, w *httptest.ResponseRecorder) {
	t.Helper()
	said := w.Header().Get("Content-Disposition")
	if !strings.HasPrefix(said, `attachment; filename="`) || strings.Count(said, `"`) != 2 || strings.ContainsAny(said, "<>&%\r\n\\/") {
		t.Errorf("disposition: got %q", said)
	}
	if got := w.Header().Get("Content-Security-Policy"); got != filePolicy {
		t.Errorf("policy of a file: got %q", got)
	}
}

// checkCSV fails if a spreadsheet would take a cell for a formula.
func checkCSV(t *testing.T, w *httptest.ResponseRecorder) {
	t.Helper()
	checkAttached(t, w)
	rows, err := csv.NewReader(w.Body).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if cell != "" && strings.ContainsRune("=+@\t\r", rune(cell[0])) || strings.HasPrefix(cell, "-") && strings.ContainsAny(cell, "|=(") {
				t.Errorf("a cell begins as a formula: %q", cell)
			}
		}
	}
}

// checkWorkbook fails if the workbook holds a formula or a link.
func checkWorkbook(t *testing.T, w *httptest.ResponseRecorder) {
	t.Helper()
	checkAttached(t, w)
	b := w.Body.Bytes()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range z.File {
		if !strings.Contains(file.Name, "worksheets/") {
			continue
		}
		r, err := file.Open()
		if err != nil {
			t.Fatal(err)
		}
		sheet, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		for _, mark := range []string{"<f>", "<f ", "<hyperlink"} {
			if bytes.Contains(sheet, []byte(mark)) {
				t.Errorf("%s holds %s", file.Name, mark)
			}
		}
	}
}

func TestTextsWithNULAreRefused(t *testing.T) {
	newFixture(t).play(t, []scenario{
		{name: "name", method: "PATCH", path: "/api/plans/PLAN", status: 422, header: []string{patchType, `If-Match: "1"`}, body: `{"name":"a\u0000b"}`},
		{name: "new plan", method: "POST", path: "/api/plans", status: 422, header: []string{jsonType}, body: `{"name":"a\u0000b"}`},
		{name: "id", method: "GET", path: "/api/plans/%00", status: 404},
	})
}

func TestSlugsAreSafeFileNames(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"Corner lot", "corner-lot"}, {"", "plan"}, {"../../etc/passwd", "etc-passwd"}, {"Ünï", "n"}, {"---", "plan"}, {"a\"b\r\nc", "a-b-c"},
		{strings.Repeat("ab ", 50), strings.TrimSuffix(strings.Repeat("ab-", 20), "-")}, {"CON", "con"},
	} {
		if got := slug(c.name); got != c.want {
			t.Errorf("slug of %q: got %q, want %q", c.name, got, c.want)
		}
	}
}
