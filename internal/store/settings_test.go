package store

import (
	"context"
	"database/sql"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

func TestRowB14_TheSettingsAreReadBackOnEveryConnection(t *testing.T) {
	ctx := context.Background()
	s, err := Open(ctx, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	all := 0
	for name, db := range map[string]*sql.DB{"write": s.write, "read": s.read} {
		var conns []*sql.Conn
		for range db.Stats().MaxOpenConnections { // each is a connection of its own
			c, err := db.Conn(ctx)
			if err != nil {
				t.Fatal(err)
			}
			conns = append(conns, c)
		}
		all += len(conns)
		for _, c := range conns {
			for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "5000"} {
				var got string
				if err := c.QueryRowContext(ctx, "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
					t.Errorf("%s connection: %s is %q, %v; want %q", name, pragma, got, err, want)
				}
			}
			if err := c.Close(); err != nil {
				t.Fatal(err)
			}
		}
	}
	if _, err := s.read.ExecContext(ctx, "DELETE FROM plans"); err == nil {
		t.Error("a reading connection could write")
	}
	t.Logf("shown: %d connections, each with WAL, synchronous FULL, foreign keys, 5000 ms of patience", all)
}

func TestRowB14_WeakerSettingsAreRefused(t *testing.T) {
	ctx := context.Background()
	for _, weak := range []string{
		"?_journal_mode=WAL&_synchronous=NORMAL&_foreign_keys=on&_busy_timeout=5000",
		"?_journal_mode=DELETE&_synchronous=FULL&_foreign_keys=on&_busy_timeout=5000",
		"?_journal_mode=WAL&_synchronous=FULL&_busy_timeout=5000",
	} {
		db, err := sql.Open("sqlite3", "file:"+filepath.Join(t.TempDir(), "x.db")+weak)
		if err != nil {
			t.Fatal(err)
		}
		if err := readBack(ctx, db); err == nil || !strings.Contains(err.Error(), "does not take the setting") {
			t.Errorf("%s: got %v, want it refused", weak, err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Log("shown: 3 weaker settings refused")
}

func TestADeletedPlanTakesItsStepsWithIt(t *testing.T) {
	ctx := context.Background()
	s, err := Open(ctx, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	p, err := s.Create(ctx, []byte(`{"format":"evenfall-plan/1","name":"Yard"}`))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Delete(ctx, p.ID, p.Rev); err != nil {
		t.Fatal(err)
	}
	var steps int
	if err := s.read.QueryRowContext(ctx, "SELECT count(*) FROM steps").Scan(&steps); err != nil || steps != 0 {
		t.Errorf("got %d steps left, %v; want none", steps, err)
	}
}

// sqlWords tells a statement from other text.
var sqlWords = regexp.MustCompile(`(?i)^\s*(select|insert|update|delete|pragma|vacuum|create|drop|alter|with|replace)\b`)

// TestRowB11_StatementsAreConstants sees to it that every statement handed to
// the database in this package is a literal, so that no text of the user can
// become part of it: written there, or in a list or table of the package, or
// handed as a literal to the function that runs it.
func TestRowB11_StatementsAreConstants(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	w := words{t: t, set: token.NewFileSet(), runs: map[string]int{
		"Exec": 0, "ExecContext": 1, "Query": 0, "QueryContext": 1, "QueryRow": 0, "QueryRowContext": 1, "Prepare": 0, "PrepareContext": 1}}
	var parsed []*ast.File
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(w.set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		parsed = append(parsed, f)
	}
	// A function of ours with a parameter named query runs what it is given.
	for _, f := range parsed {
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok {
				at := 0
				for _, field := range fn.Type.Params.List {
					for _, name := range field.Names {
						if name.Name == "query" {
							w.runs[fn.Name.Name] = at
						}
						at++
					}
				}
			}
		}
	}
	for _, f := range parsed {
		ast.Inspect(f, w.call)
	}
	if w.checked < 15 {
		t.Errorf("only %d statements were found: this test no longer sees them", w.checked)
	}
}

// words looks at the statements of the package.
type words struct {
	t       *testing.T
	set     *token.FileSet
	runs    map[string]int // functions that run a statement, and which argument it is
	checked int
}

func (w *words) call(n ast.Node) bool {
	call, ok := n.(*ast.CallExpr)
	if !ok {
		return true
	}
	name := ""
	switch fn := call.Fun.(type) {
	case *ast.SelectorExpr:
		name = fn.Sel.Name
	case *ast.Ident:
		name = fn.Name
	}
	at, ok := w.runs[name]
	if !ok || len(call.Args) <= at {
		return true
	}
	w.checked++
	switch arg := call.Args[at].(type) {
	case *ast.SelectorExpr: // a table of literals: readBack's, verify's
		if arg.Sel.Name != "query" {
			w.t.Errorf("%s: the statement is not a literal", w.set.Position(call.Pos()))
		}
	case *ast.Ident: // a parameter, whose calls are looked at
		if arg.Name != "query" {
			w.t.Errorf("%s: the statement is not a literal", w.set.Position(call.Pos()))
		}
	default:
		w.literal(arg)
	}
	return true
}

func (w *words) literal(e ast.Expr) {
	text, ok := e.(*ast.BasicLit)
	if !ok {
		w.t.Errorf("%s: the statement is not a literal", w.set.Position(e.Pos()))
		return
	}
	if !sqlWords.MatchString(strings.Trim(text.Value, "`\"")) {
		w.t.Errorf("%s: %s is not a statement", w.set.Position(e.Pos()), text.Value)
	}
}
