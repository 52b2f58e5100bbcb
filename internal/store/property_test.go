package store_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"evenfall/internal/plan"
)

// randomPatch draws one edit of the kind a board makes.
func randomPatch(r *rand.Rand, n int) string {
	x := float64(r.IntN(9000)-3000) / 100
	head := fmt.Sprintf(`{"nozzle":"n1","body":"b1","x_ft":%v,"y_ft":%v,"start_deg":90,"sweep_deg":%d,"zone":"z1","tag":"1-%d"}`,
		x, x/2, 1+r.IntN(360), n)
	id := fmt.Sprintf("h%d", 1+r.IntN(5))
	edits := []string{
		`{"heads":{"` + id + `":` + head + `}}`,
		`{"heads":{"` + id + `":null}}`,
		`{"heads":{"h1":` + head + `,"h2":null,"h3":` + head + `}}`,
		fmt.Sprintf(`{"areas":{"a1":{"outline":[[0,0],[%v,0],[30,20,0.25],[0,20]],"holes":null}}}`, 31+x/10),
		`{"areas":{"a2":{"name":"Bed","kind":"planting","planting":"shrubs","outline":[[1,1],[4,1],[4,4]]}}}`,
		`{"areas":{"a2":null}}`,
		`{"areas":{"a1":{"outline":[[0,0],[30,20],[30,0],[0,20]]}}}`, // crosses itself: refused
		fmt.Sprintf(`{"name":"Yard \"%d\" 'x' ünï <b>"}`, n),
		`{"supply":{"kind":"well","static_psi":55}}`,
		`{"supply":null,"site":{"latitude_deg":40,"longitude_deg":-105}}`,
		`{"site":null}`,
		fmt.Sprintf(`{"notes":{"k%d":{"text":"dig here","x_ft":1,"y_ft":2}}}`, n%7),
		`{"notes":null}`,
		`{"options":{"edge_lip_ft":0.25}}`,
	}
	return edits[r.IntN(len(edits))]
}

// TestUndoAllGivesTheFirstBytesAgain makes 300 random steps with undos among
// them, starts the store anew half way, and walks all the way back and forth.
func TestUndoAllGivesTheFirstBytesAgain(t *testing.T) {
	for seed := range uint64(4) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) { walkRandomHistory(t, seed) })
	}
}

func walkRandomHistory(t *testing.T, seed uint64) {
	ctx := context.Background()
	r := rand.New(rand.NewPCG(seed, 300))
	dir := filepath.Join(t.TempDir(), "data")
	s := openIn(t, dir, newClock())
	p := create(t, s)
	docs := [][]byte{p.Doc} // docs[i] is the document after step i
	undo := func() {
		t.Helper()
		var err error
		if p, _, err = s.Undo(ctx, p.ID, p.Rev); err != nil {
			t.Fatal(err)
		}
	}
	refused := 0
	for i := range 300 {
		if i == 150 {
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			s = openIn(t, dir, newClock())
		}
		if len(docs) > 1 && r.IntN(10) == 0 {
			undo()
			docs = docs[:len(docs)-1]
			same(t, "undo", p.Doc, docs[len(docs)-1])
			continue
		}
		next, err := s.Commit(ctx, p.ID, p.Rev, plan.Patch(randomPatch(r, i)), fmt.Sprint("Step ", i))
		switch {
		case isProblem(err):
			refused++ // and nothing is changed
			continue
		case err != nil:
			t.Fatal(err)
		case next.Rev > p.Rev:
			docs = append(docs, next.Doc)
		}
		p = next
	}
	if len(docs) < 100 || refused == 0 {
		t.Errorf("got %d steps and %d refusals: the edits no longer try much", len(docs), refused)
	}
	for i := len(docs) - 2; i >= 0; i-- {
		undo()
		same(t, "undo all", p.Doc, docs[i])
	}
	for i := 1; i < len(docs); i++ {
		var err error
		if p, _, err = s.Redo(ctx, p.ID, p.Rev); err != nil {
			t.Fatal(err)
		}
		same(t, "redo all", p.Doc, docs[i])
	}
}

func same(t *testing.T, what string, got, want []byte) {
	t.Helper()
	if string(got) != string(want) {
		t.Fatalf("%s: got %s, want %s", what, got, want)
	}
}

// TestRowB11_TextsComeBackByteForByte stores names of every kind of character.
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
