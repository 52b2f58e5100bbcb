package internal_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// blaming are the words no sentence for the user may hold: they blame, or say
// nothing about what to do.
var blaming = regexp.MustCompile(`(?i)\b(invalid|illegal|oops|failed to parse|something went wrong|unexpected error)\b`)

// spoken are the places whose strings the user may read.
var spoken = []string{
	"cmd/evenfall", "internal/arrange", "internal/audit", "internal/catalog", "internal/climate", "internal/coverage", "internal/design", "internal/hydraulics", "internal/packs", "internal/parts", "internal/plan", "internal/planting", "internal/proof",
	"internal/sheets", "internal/stakeout", "internal/store", "internal/trench", "internal/units", "internal/wire", "internal/zones", "web",
}

// notSpoken are strings that hold such a word and are never read: names the
// standards give, and the words of the flag package that are replaced.
var notSpoken = map[string][]string{
	"":                        {"aria-invalid"},
	"cmd/evenfall/command.go": {"invalid boolean value", "invalid value"},
}

func TestRowA28_SentencesBlameNobody(t *testing.T) {
	root := ".."
	seen := map[string]int{}
	for _, place := range spoken {
		err := filepath.WalkDir(filepath.Join(root, place), func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			name, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			if d.IsDir() {
				if d.Name() == "node_modules" || name == filepath.Join("web", "walk") {
					return filepath.SkipDir
				}
				return nil
			}
			if !d.Type().IsRegular() { // a link to what npm brought
				return nil
			}
			b, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			for _, s := range stringsOf(t, name, b) {
				seen[filepath.Ext(name)]++
				if word := blames(filepath.ToSlash(name), s.text); word != "" {
					t.Errorf("%s:%d: %q: say what is wrong, where, and what to do, not %q", name, s.line, s.text, word)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, kind := range []string{".go", ".ts", ".templ"} {
		if seen[kind] < 100 {
			t.Errorf("only %d strings were found in %s files", seen[kind], kind)
		}
	}
}

func TestBlamingWordsAreFound(t *testing.T) {
	for text, want := range map[string]string{
		"Invalid length": "Invalid", "Oops!": "Oops", "aria-invalid": "", "invalidate": "", "12 ft is longer than the lot.": "",
	} {
		if got := blames("web/x.ts", text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
	ts := "// `oops` in \"quotes\"\nconst a = \"one\";\nconst b = `two ${a}\nthree`;\n"
	want := []said{{1, "`oops`"}, {1, `"quotes"`}, {2, `"one"`}, {3, "`two ${a}\nthree`"}}
	if got := stringsOf(t, "x.ts", []byte(ts)); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	code := "package x\n\n// oops\nvar a = `raw` + \"in\\tquotes\"\n"
	want = []said{{4, "raw"}, {4, "in\tquotes"}}
	if got := stringsOf(t, "x.go", []byte(code)); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// blames is the first word of a text that blames; "" without any.
func blames(name, text string) string {
	for _, known := range append(slices.Clone(notSpoken[""]), notSpoken[name]...) {
		text = strings.ReplaceAll(text, known, "")
	}
	return blaming.FindString(text)
}

// said is a string of a source file.
type said struct {
	line int
	text string
}

func (s said) String() string { return fmt.Sprintf("%d: %s", s.line, s.text) }

// stringsOf lists the strings of a source file that is no test; of a template,
// its lines.
func stringsOf(t *testing.T, name string, b []byte) []said {
	t.Helper()
	switch {
	case strings.HasSuffix(name, "_test.go"), strings.HasSuffix(name, "_templ.go"), strings.HasSuffix(name, ".test.ts"):
		return nil
	case strings.HasSuffix(name, ".go"):
		return goStrings(t, name, b)
	case strings.HasSuffix(name, ".ts"):
		return quotedParts(string(b))
	case strings.HasSuffix(name, ".templ"):
		var list []said
		for i, line := range strings.Split(string(b), "\n") {
			list = append(list, said{i + 1, line})
		}
		return list
	}
	return nil
}

func goStrings(t *testing.T, name string, b []byte) []said {
	t.Helper()
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, name, b, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	var list []said
	ast.Inspect(file, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			text, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, said{files.Position(lit.Pos()).Line, text})
		}
		return true
	})
	return list
}

// quotes are the strings of TypeScript: the formatter leaves no other quotes.
// Quotes in comments come along, which does no harm.
var quotes = regexp.MustCompile("\"(?:[^\"\\\\\n]|\\\\.)*\"|`(?:[^`\\\\]|\\\\.)*`")

func quotedParts(text string) []said {
	var list []said
	for _, at := range quotes.FindAllStringIndex(text, -1) {
		list = append(list, said{1 + strings.Count(text[:at[0]], "\n"), text[at[0]:at[1]]})
	}
	return list
}
