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
	for name, db := range map[string]*sql.DB{"write": s.write, "read": s.read} {
		var conns []*sql.Conn
		for range db.Stats().MaxOpenConnections { // each is a connection of its own
			c, err := db.Conn(ctx)
			if err != nil {
				t.Fatal(err)
			}
			conns = append(conns, c)
		}
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
// the database in this package is one literal, so that no text of the user can
// become part of it.
func TestRowB11_StatementsAreConstants(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	statements := map[string]int{"Exec": 0, "ExecContext": 1, "Query": 0, "QueryContext": 1, "QueryRow": 0, "QueryRowContext": 1, "Prepare": 0, "PrepareContext": 1}
	checked := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			sel, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			at, ok := statements[sel.Sel.Name]
			if !ok || len(call.Args) <= at {
				return true
			}
			checked++
			switch arg := call.Args[at].(type) {
			case *ast.BasicLit:
				if !sqlWords.MatchString(strings.Trim(arg.Value, "`\"")) {
					t.Errorf("%s: %s is not a statement", set.Position(call.Pos()), arg.Value)
				}
			case *ast.SelectorExpr: // readBack's table of literals
				if arg.Sel.Name != "query" {
					t.Errorf("%s: the statement is not a literal", set.Position(call.Pos()))
				}
			default:
				t.Errorf("%s: the statement is not a literal", set.Position(call.Pos()))
			}
			return true
		})
	}
	if checked < 15 {
		t.Errorf("only %d statements were found: this test no longer sees them", checked)
	}
}
