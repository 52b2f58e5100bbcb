// Package internal_test holds the tests of how the house is built: who may know
// whom, and what the pure packages may not touch.
package internal_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// rule says what of ours a package may import, and why no more.
type rule struct {
	may  []string
	why  string
	pure bool // no HTTP, SQL, files, clock, log, unseeded randomness
}

var rules = map[string]rule{
	"internal/units":      {nil, "units are the words everyone else speaks; they know nobody", true},
	"internal/geom":       {nil, "plane geometry is true without sprinklers, so it can be checked against outside engines", true},
	"internal/catalog":    {[]string{"internal/units"}, "a table is looked up the same whatever plan asks", true},
	"internal/plan":       {[]string{"internal/units", "internal/geom", "internal/catalog"}, "the document is what the user drew; it computes nothing about water", true},
	"internal/coverage":   {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan"}, "coverage follows from the plan alone; later stages read it, not the reverse", true},
	"internal/hydraulics": {[]string{"internal/units"}, "friction and networks are true without plans, so they can be checked against an outside solver", true},
	"internal/pipework":   {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan"}, "what hangs on which pipe follows from the drawing alone; sizes, pressures and lists all ask it", true},
	"internal/pressure":   {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/hydraulics", "internal/pipework"}, "pressures follow from supply and pipes; coverage may be shown at them, never the reverse", true},
	"internal/pipesize":   {[]string{"internal/units", "internal/catalog", "internal/plan", "internal/hydraulics", "internal/pipework", "internal/pressure"}, "a size is proposed for what pipework and pressure found; it is called on request, by no stage", true},
	"internal/arrange":    {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/coverage"}, "a layout is judged by the water it puts down; it is called on request, by no stage", true},
	"internal/zones":      {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/coverage", "internal/hydraulics", "internal/pipework", "internal/pressure"}, "a grouping is judged by what waters alike and by what the supply can feed; it is called on request, by no stage", true},
	"internal/trench":     {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/coverage", "internal/pipework"}, "what is dug follows from where pipe and wire lie; a way is never chosen by the size of a pipe", true},
	"internal/wire":       {[]string{"internal/units", "internal/catalog", "internal/plan", "internal/trench"}, "wire lies where trenches are, and knows no water", true},
	"internal/parts":      {[]string{"internal/units", "internal/catalog", "internal/plan", "internal/coverage", "internal/pipework", "internal/trench", "internal/wire"}, "counting comes after every stage that decides what is built", true},
	"internal/design":     {[]string{"internal/units", "internal/plan", "internal/coverage", "internal/pipework", "internal/pressure", "internal/trench", "internal/wire", "internal/parts"}, "design runs the stages; it prints, serves and stores nothing", true},
	"internal/sheets":     {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/coverage", "internal/pressure", "internal/pipesize", "internal/arrange", "internal/zones", "internal/trench", "internal/wire", "internal/parts", "internal/design", "internal/stakeout", "internal/climate", "internal/watering", "internal/season", "internal/audit", "internal/proof"}, "a sheet reads results and writes to the io.Writer it is given", true},
	"internal/drawing":    {nil, "lines and letters on paper are true without plans, so that their writers can be checked by other readers", true},
	"internal/stakeout":   {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/trench"}, "a place on the ground is found by tape whatever is drawn of it", true},
	"internal/packs":      {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/coverage", "internal/pipework", "internal/pressure", "internal/zones", "internal/trench", "internal/wire", "internal/parts", "internal/design", "internal/drawing", "internal/stakeout", "internal/sheets", "internal/climate", "internal/watering", "internal/season", "internal/audit", "internal/proof"}, "a paper is composed of what stages and lists say; it works nothing out", true},
	"internal/climate":    {[]string{"internal/units", "internal/catalog"}, "weather and reference ET are true without plans, so they can be checked against published examples; catalog splits the tables that users give", true},
	"internal/planting":   {[]string{"internal/units"}, "what a plant needs is a share of reference ET, whatever the weather and wherever it stands", true},
	"internal/simplex":    {nil, "a linear program is solved whatever it is about, so that it can be checked against an outside solver", true},
	"internal/watering":   {[]string{"internal/units", "internal/climate", "internal/simplex"}, "need, soil and programs follow from figures given; where they come from is not their business", true},
	"internal/season":     {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/coverage", "internal/pressure", "internal/climate", "internal/planting", "internal/watering"}, "the program of a plan is worked out on request, by no stage", true},
	"internal/audit":      {[]string{"internal/units"}, "evenness, rate and the fit of faults follow from catches and footprints given, so that they can be checked against published audits", true},
	"internal/proof":      {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/coverage", "internal/pipework", "internal/pressure", "internal/trench", "internal/wire", "internal/stakeout", "internal/audit", "internal/planting", "internal/climate", "internal/watering", "internal/season", "internal/design"}, "what was measured is held against what the stages predict; it changes no plan, and no stage reads it", true},
	"internal/handover":   {[]string{"internal/plan"}, "a plan with its pictures as one file is packed and opened the same whoever stores it", true},
	"internal/starts":     {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan"}, "a typical yard is a plan like any other, so nothing about water is decided here", true},
	"internal/store":      {[]string{"internal/plan", "migrations"}, "the store keeps documents and history; what water does is not its business", false},
	"migrations":          {nil, "embeds SQL", false},
	"static":              {nil, "embeds built files", false},
	"testdata/plans":      {nil, "embeds the demo plan", false},
	"web/view":            {nil, "pages print ready-made strings; a page that can call a stage will", false},
	"web": {[]string{"internal/units", "internal/geom", "internal/catalog", "internal/plan", "internal/coverage", "internal/pipework", "internal/pressure", "internal/pipesize", "internal/arrange", "internal/zones", "internal/trench", "internal/wire", "internal/parts", "internal/design", "internal/sheets", "internal/drawing", "internal/packs", "internal/starts", "internal/climate", "internal/watering", "internal/season", "internal/audit", "internal/proof", "internal/handover", "web/view", "static"},
		"the web layer says what it needs of a store by an interface, so that it can be tested with any", false},
	"web/walk":     {nil, "browser tests start the program as a user does", false},
	"cmd/dev":      {nil, "the contributor's tool must run when the product does not compile", false},
	"cmd/evenfall": {[]string{"*"}, "the one place where everything is joined", false},
}

// banned are the standard packages a pure package may not import.
var banned = map[string]string{
	"net/http": "no HTTP in the core", "database/sql": "no SQL in the core",
	"os": "no files in the core: callers pass readers and writers", "os/exec": "no programs in the core",
	"log": "findings and errors are returned, not logged", "log/slog": "findings and errors are returned, not logged",
	"net": "no network in the core", "io/ioutil": "no files in the core",
	"math/rand": "randomness in the core comes from a given seed: use math/rand/v2 with rand.New",
}

// bannedCalls are single functions that make a pure package depend on its surroundings.
var bannedCalls = map[string]string{
	"time.Now": "no clock in the core", "time.Since": "no clock in the core", "time.Sleep": "no clock in the core",
	"rand.Int": "unseeded", "rand.IntN": "unseeded", "rand.Float64": "unseeded", "rand.Perm": "unseeded", "rand.Shuffle": "unseeded", "rand.N": "unseeded", "rand.NormFloat64": "unseeded",
}

type source struct {
	path, dir string
	file      *ast.File
	set       *token.FileSet
}

// sources parses every Go file of ours. It reads the files itself, so that the
// test cache sees them change.
func sources(t *testing.T) []source {
	t.Helper()
	root := ".."
	var all []source
	set := token.NewFileSet()
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == ".git") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") {
			return nil
		}
		f, err := parser.ParseFile(set, path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		all = append(all, source{path, filepath.ToSlash(rel), f, set})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestImportsRunOneWay(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range sources(t) {
		if s.dir == "internal" {
			continue // this test
		}
		r, ok := rules[s.dir]
		if !ok {
			t.Errorf("%s: package %s is not in the table of this test: give it a rule and a reason", s.path, s.dir)
			continue
		}
		seen[s.dir] = true
		if strings.HasSuffix(s.path, "_test.go") {
			continue // tests may reach down and sideways
		}
		for _, spec := range s.file.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			ours, isOurs := strings.CutPrefix(name, "evenfall/")
			switch {
			case isOurs && !slices.Contains(r.may, ours) && !slices.Contains(r.may, "*"):
				t.Errorf("%s imports %s: %s", s.path, ours, r.why)
			case r.pure && banned[name] != "":
				t.Errorf("%s imports %s: %s", s.path, name, banned[name])
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(rules)) {
		if !seen[name] {
			t.Errorf("the table names %s, which has no Go file", name)
		}
	}
}

func TestCoreIsPure(t *testing.T) {
	for _, s := range sources(t) {
		if !rules[s.dir].pure || strings.HasSuffix(s.path, "_test.go") {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok {
				if pkg, ok := sel.X.(*ast.Ident); ok {
					if why := bannedCalls[pkg.Name+"."+sel.Sel.Name]; why != "" {
						t.Errorf("%s: %s.%s: %s", s.set.Position(n.Pos()), pkg.Name, sel.Sel.Name, why)
					}
				}
			}
			return true
		})
	}
}

// One number parser: strconv.ParseFloat takes NaN, Inf, hexadecimal and
// underscores, none of which a tape measure shows.
func TestOneNumberParser(t *testing.T) {
	for _, s := range sources(t) {
		if s.dir == "internal/units" || strings.HasSuffix(s.path, "_test.go") {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok && sel.Sel.Name == "ParseFloat" {
				t.Errorf("%s: read numbers with units.ParseNumber", s.set.Position(n.Pos()))
			}
			return true
		})
	}
}

func TestPackagesSayWhatTheyAre(t *testing.T) {
	documented := map[string]bool{}
	for _, s := range sources(t) {
		if s.file.Doc != nil {
			documented[s.dir] = true
		}
	}
	for _, name := range slices.Sorted(maps.Keys(rules)) {
		if !documented[name] {
			t.Errorf("%s has no package comment", name)
		}
	}
}

// The top level is fixed, so that everyone finds everything.
func TestTopLevelIsFixed(t *testing.T) {
	want := []string{".ci", ".gitignore", "DEVELOPERS.md", "LICENSE", "README.md", "cmd", "go.mod", "go.sum", "internal", "migrations", "static", "testdata", "web"}
	entries, err := os.ReadDir("..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != ".git" && !slices.Contains(want, e.Name()) {
			t.Errorf("%s does not belong at the top level", e.Name())
		}
	}
}
