package internal_test

import (
	"maps"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// wanted are the modules asked for directly, and why: those linked into the
// program, and those only tests and the contributor's tool use.
var wanted = map[string]struct {
	why     string
	program bool
}{
	"github.com/a-h/templ":                 {"pages are Go that escapes what it prints", true},
	"github.com/arran4/golang-ical":        {"programs as calendars, whose lines are folded and escaped as the standard asks", true},
	"github.com/coder/websocket":           {"the live channel", true},
	"github.com/go-chi/chi/v5":             {"routes with names in them, on net/http's own types", true},
	"github.com/go-json-experiment/json":   {"strict JSON: no unknown or repeated members, until it is in Go itself", true},
	"github.com/go-pdf/fpdf":               {"papers as PDF: letters embedded, layers, bookmarks", true},
	"github.com/gofrs/flock":               {"a lock the system frees when the program is killed, on every system", true},
	"github.com/google/jsonschema-go":      {"the published schema is held to the documents", false},
	"github.com/mattn/go-sqlite3":          {"SQLite", true},
	"github.com/pressly/goose/v3":          {"changes of the schema in order", true},
	"github.com/xuri/excelize/v2":          {"lists as XLSX", true},
	"github.com/chromedp/cdproto":          {"browser tests", false},
	"github.com/chromedp/chromedp":         {"browser tests", false},
	"github.com/evanw/esbuild":             {"bundles the board, without Node", false},
	"github.com/google/go-cmp":             {"differences in tests", false},
	"github.com/paulmach/orb":              {"reads and writes geodata in its standard form", true},
	"github.com/peterstace/simplefeatures": {"areas cut by and joined with areas", true},
	"golang.org/x/image":                   {"the letters papers are set in, and how wide they are", true},
	"golang.org/x/net":                     {"a most of connections at a time; reads pages in tests", true},
	"pgregory.net/rapid":                   {"random histories in tests", false},
}

var required = regexp.MustCompile(`(?m)^\s*(?:require )?([\w./-]+\.[\w./-]+) v\S+$`)

// TestRowB31_EveryDirectDependencyHasAReason holds the list to go.mod, and to what
// is linked into the program.
func TestRowB31_EveryDirectDependencyHasAReason(t *testing.T) {
	mod, err := os.ReadFile("../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	asked := map[string]bool{}
	for _, m := range required.FindAllStringSubmatch(string(mod), -1) {
		asked[m[1]] = true
	}
	for _, name := range slices.Sorted(maps.Keys(asked)) {
		if wanted[name].why == "" {
			t.Errorf("%s is in go.mod without a reason here", name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(wanted)) {
		if !asked[name] {
			t.Errorf("%s has a reason here and is not in go.mod", name)
		}
	}
	out, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", "evenfall/cmd/evenfall").Output()
	if err != nil {
		t.Fatal(err)
	}
	linked := map[string]bool{}
	for _, name := range strings.Fields(string(out)) {
		linked[name] = true
	}
	program := 0
	for name, w := range wanted {
		if linked[name] != w.program {
			t.Errorf("%s: linked into the program: %v, said here: %v", name, linked[name], w.program)
		}
		if w.program {
			program++
		}
	}
	t.Logf("shown: %d modules asked for directly by the program, %d in all linked into it", program, len(linked)-1)
}
