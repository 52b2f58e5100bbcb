package internal_test

import (
	"go/ast"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// read are the kinds of foreign text and bytes the program reads, and the fuzz
// targets that read them. A new reader gets a line and a target.
var read = map[string][]string{
	"plan files and patches":       {"internal/plan FuzzDecode", "internal/plan FuzzApply"},
	"geodata":                      {"internal/plan FuzzGeoJSON"},
	"nozzle tables as CSV":         {"internal/catalog FuzzReadNozzles"},
	"tables of pipe and devices":   {"internal/catalog FuzzReadPipes", "internal/catalog FuzzReadDevices"},
	"linear programs":              {"internal/simplex FuzzSolve", "internal/watering FuzzYear"},
	"weather":                      {"internal/climate FuzzWeather", "internal/season FuzzKeepWeather", "web FuzzWeather"},
	"plans handed over":            {"internal/handover FuzzOpen"},
	"records of wires":             {"internal/proof FuzzWires"},
	"zones as run, heads as found": {"internal/proof FuzzStartUp", "internal/proof FuzzRetrofit"},
	"price lists":                  {"internal/parts FuzzReadPrices"},
	"drawn pipes, and networks":    {"internal/pipework FuzzOf", "internal/hydraulics FuzzNetwork", "internal/hydraulics FuzzPoints", "internal/pipesize FuzzCheapest", "internal/pipesize FuzzPropose", "internal/pressure FuzzCompute", "internal/parts FuzzLists"},
	"numbers with units":           {"internal/units FuzzParseNumber", "internal/units FuzzParseLength", "internal/units FuzzParseFlow", "internal/units FuzzParsePressure", "internal/units FuzzParseAngle", "internal/units FuzzWaterReaders"},
	"plans to be watered":          {"cmd/evenfall FuzzWater"},
	"plans to be proved":           {"cmd/evenfall FuzzProof"},
	"what is asked for":            {"internal/arrange FuzzAsked", "internal/arrange FuzzProposers", "internal/arrange FuzzKeepOff", "internal/zones FuzzAsked", "internal/zones FuzzPropose", "internal/trench FuzzRoutes"},
	"audits, and ground for cans":  {"internal/proof FuzzAudit", "internal/proof FuzzCans", "internal/proof FuzzCatches"},
	"yards to be set out by tape":  {"internal/stakeout FuzzOf"},
	"catches of an audit":          {"internal/audit FuzzFigures", "internal/audit FuzzFit"},
	"outlines":                     {"internal/geom FuzzOutline", "internal/geom FuzzBooleans", "internal/geom FuzzOffset"},
	"draw lists, and papers":       {"internal/drawing FuzzPhoto", "internal/drawing FuzzWriters", "internal/packs FuzzPacks"},
	"requests":                     {"web FuzzRouter"},
	"messages of the live channel": {"web FuzzPreview"},
	"data files, also older ones":  {"internal/store FuzzDatabase"},
	"backups":                      {"internal/store FuzzRestore"},
}

// TestRowB30_EveryReaderIsFuzzedFromSeeds finds the fuzz targets in the source.
// Each starts from seeds that are committed: given in the code or as files.
func TestRowB30_EveryReaderIsFuzzedFromSeeds(t *testing.T) {
	found := map[string]bool{} // whether it has seeds
	for _, s := range sources(t) {
		if !strings.HasSuffix(s.path, "_test.go") {
			continue
		}
		for _, d := range s.file.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || !strings.HasPrefix(fn.Name.Name, "Fuzz") || fn.Recv != nil {
				continue
			}
			files, err := os.ReadDir(filepath.Join("..", s.dir, "testdata", "fuzz", fn.Name.Name))
			if err != nil && !os.IsNotExist(err) {
				t.Fatal(err)
			}
			found[s.dir+" "+fn.Name.Name] = len(files) > 0 || seeded(fn)
		}
	}
	if len(found) < 8 {
		t.Errorf("%d fuzz targets, want eight at least", len(found))
	}
	listed := map[string]bool{}
	for what, targets := range read {
		for _, name := range targets {
			listed[name] = true
			if seeds, ok := found[name]; !ok || !seeds {
				t.Errorf("%s: target %s is there: %v, has seeds: %v", what, name, ok, seeds)
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(found)) {
		if !listed[name] {
			t.Errorf("%s is not in the list of this test: say what it reads", name)
		}
	}
	t.Logf("shown: %d fuzz targets for %d kinds of foreign text", len(found), len(read))
}

// seeded reports whether a fuzz target gives seeds, itself or by a function it
// hands its F to.
func seeded(fn *ast.FuncDecl) bool {
	yes := false
	ast.Inspect(fn.Body, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		if sel, ok := call.Fun.(*ast.SelectorExpr); ok && sel.Sel.Name == "Add" {
			yes = true
		}
		if name, ok := call.Fun.(*ast.Ident); ok && strings.Contains(strings.ToLower(name.Name), "seed") {
			yes = true
		}
		return true
	})
	return yes
}
