package store_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// randomPatch draws one edit of the kind a board makes.
func randomPatch(t *rapid.T, n int) string {
	id := rapid.SampledFrom([]string{"h1", "h2", "h3", "h4", "h5"}).Draw(t, "head")
	x := rapid.Float64Range(-30, 60).Draw(t, "x")
	head := fmt.Sprintf(`{"nozzle":"n1","body":"b1","x_ft":%v,"y_ft":%v,"start_deg":90,"sweep_deg":%v,"zone":"z1","tag":"1-%d"}`,
		x, x/2, rapid.IntRange(1, 360).Draw(t, "sweep"), n)
	return rapid.SampledFrom([]string{
		`{"heads":{"` + id + `":` + head + `}}`,
		`{"heads":{"` + id + `":null}}`,
		`{"heads":{"h1":` + head + `,"h2":null,"h3":` + head + `}}`,
		fmt.Sprintf(`{"areas":{"a1":{"outline":[[0,0],[%v,0],[30,20,0.25],[0,20]],"holes":null}}}`, 31+x/10),
		`{"areas":{"a2":{"name":"Bed","kind":"planting","planting":"shrubs","outline":[[1,1],[4,1],[4,4]]}}}`,
		`{"areas":{"a2":null}}`,
		fmt.Sprintf(`{"name":"Yard \"%d\" 'x' ünï <b>"}`, n),
		`{"supply":{"kind":"well","static_psi":55}}`,
		`{"supply":null,"site":{"latitude_deg":40,"longitude_deg":-105}}`,
		`{"site":null}`,
		fmt.Sprintf(`{"notes":{"k%d":{"text":"dig here","x_ft":1,"y_ft":2}}}`, n%7),
		`{"notes":null}`,
		`{"options":{"edge_lip_ft":0.25}}`,
	}).Draw(t, "patch")
}

// TestUndoAllGivesTheFirstBytesAgain makes 300 random steps with undos among
// them, starts the store anew half way, and walks all the way back and forth.
func TestUndoAllGivesTheFirstBytesAgain(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		ctx := context.Background()
		dir := filepath.Join(t.TempDir(), "data")
		c := newClock()
		s := mustOpen(rt, dir, c)
		defer func() { must(rt, s.Close()) }()
		p, err := s.Create(ctx, []byte(yard))
		must(rt, err)
		docs := [][]byte{p.Doc} // docs[i] is the document after step i
		for i := range 300 {
			if i == 150 {
				must(rt, s.Close())
				s = mustOpen(rt, dir, c)
			}
			if len(docs) > 1 && rapid.IntRange(0, 9).Draw(rt, "undo") == 0 {
				p, _, err = s.Undo(ctx, p.ID, p.Rev)
				must(rt, err)
				docs = docs[:len(docs)-1]
				same(rt, "undo", p.Doc, docs[len(docs)-1])
				continue
			}
			before := p
			p, err = s.Commit(ctx, p.ID, p.Rev, plan.Patch(randomPatch(rt, i)), fmt.Sprint("Step ", i))
			if err != nil { // a refused edit changes nothing
				if !isProblem(err) {
					rt.Fatal(err)
				}
				p = before
				continue
			}
			if p.Rev > before.Rev {
				docs = append(docs, p.Doc)
			}
		}
		for i := len(docs) - 2; i >= 0; i-- {
			p, _, err = s.Undo(ctx, p.ID, p.Rev)
			must(rt, err)
			same(rt, "undo all", p.Doc, docs[i])
		}
		for i := 1; i < len(docs); i++ {
			p, _, err = s.Redo(ctx, p.ID, p.Rev)
			must(rt, err)
			same(rt, "redo all", p.Doc, docs[i])
		}
	})
}

func mustOpen(t *rapid.T, dir string, c *clock) *store.Store {
	s, err := store.Open(context.Background(), dir, store.WithClock(c.now))
	must(t, err)
	return s
}

func must(t *rapid.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func same(t *rapid.T, what string, got, want []byte) {
	t.Helper()
	if string(got) != string(want) {
		t.Fatalf("%s: got %s, want %s", what, got, want)
	}
}

// TestTextsComeBackByteForByte stores names of every kind of character.
func TestRowB11_TextsComeBackByteForByte(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	made := create(t, s)
	long := make([]byte, 0, 2000)
	pick := rand.New(rand.NewPCG(1, 2))
	for len(long) < 2000 {
		long = append(long, "'\";-%_\\`()x"[pick.IntN(11)])
	}
	for _, name := range []string{
		`'; DROP TABLE plans; --`, `" OR 1=1 --`, `%_\`, `Robert'); DELETE FROM steps;`, "`backtick`",
		"ü 你好 🌱", string(long), `{"nested":"json"}`, `\u0000 as written`, "<script>alert(1)</script>",
	} {
		patch, err := json.Marshal(map[string]any{"notes": map[string]any{"k1": map[string]any{"text": name, "x_ft": 1, "y_ft": 1}}})
		if err != nil {
			t.Fatal(err)
		}
		now, err := s.Load(ctx, made.ID)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Commit(ctx, made.ID, now.Rev, patch, name); err != nil {
			t.Errorf("%.20s: %v", name, err)
			continue
		}
		now, err = s.Load(ctx, made.ID)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Decode(now.Doc)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Notes["k1"].Text; got != name {
			t.Errorf("text: got %q, want %q", got, name)
		}
	}
	if _, err := s.Load(ctx, `p' OR '1'='1`); err == nil {
		t.Error("an id with quotes found a plan")
	}
}
