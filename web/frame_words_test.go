package web

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"evenfall/internal/plan"
)

// Dragging a head with its pipes, a page is told what follows from it alone: the
// words of the demo are 136 KB, and went whole with every preview before.
func TestADragTellsOnlyTheWordsThatChanged(t *testing.T) {
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	f := newFixture(t)
	f.plan = f.keep(string(doc))
	at, _ := f.serving()
	p, c := &page{t: t}, f.dial(at)
	send(t, c, f.plan.Rev, 1, `{}`)
	p.take(c)
	whole := p.told
	node, head := pipedHead(t, f.plan.Doc)
	most := 0
	for i := range 8 {
		x := 40 + float64(i)/4
		patch := fmt.Sprintf(`{"heads":{%q:{"x_ft":%v}},"nodes":{%q:{"x_ft":%v}}}`, head, x, node, x)
		send(t, c, f.plan.Rev, uint32(i)+2, patch)
		p.take(c)
		p.check(f.plan.Doc, patch)
		if i > 0 { // the first takes the head far away
			most = max(most, p.told)
		}
	}
	t.Logf("the board is told in %d bytes, a drag of a head in %d at the most", whole, most)
	if most*8 > whole {
		t.Errorf("a drag tells %d bytes of the board's %d", most, whole)
	}
	send(t, c, f.plan.Rev, 20, `{}`)
	p.take(c)
	p.check(f.plan.Doc, `{}`)
}

// pipedHead is a head of a plan that a pipe ends at, after its node.
func pipedHead(t *testing.T, doc []byte) (node, head plan.ID) {
	t.Helper()
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	for id, n := range p.Nodes {
		if n.Head != "" && (node == "" || id < node) {
			node, head = id, n.Head
		}
	}
	if node == "" {
		t.Fatal("no head has a pipe")
	}
	return node, head
}

func TestWordsSince(t *testing.T) {
	for _, c := range []struct{ old, now, want string }{
		{``, `{"a":1}`, `{"a":1}`},
		{`{"a":1}`, `{"a":1}`, `{}`},
		{`{"a":1,"b":"x"}`, `{"a":2,"b":"x"}`, `{"a":2}`},
		{`{"a":{"x":1,"y":2}}`, `{"a":{"y":3,"z":{"k":4}}}`, `{"a":{"x":null,"y":3,"z":{"k":4}}}`},
		{`{"a":[{"x":1},{"x":2}]}`, `{"a":[{"x":1},{"x":3}]}`, `{"a":{"1":{"x":3}}}`},
		{`{"a":[{"x":1},{"x":2}]}`, `{"a":[{"x":1}]}`, `{"a":[{"x":1}]}`},
		{`{"a":[]}`, `{"a":[{"x":1}]}`, `{"a":[{"x":1}]}`},
		{`{"a":[1,2]}`, `{"a":[1,3]}`, `{"a":[1,3]}`},
		{`{"a":[[1,2],[3,4]]}`, `{"a":[[1,2],[3,5]]}`, `{"a":[[1,2],[3,5]]}`},
		{`{"a":[1]}`, `{"a":[]}`, `{"a":[]}`},
		{`{"a":{"x":1}}`, `{"a":"none"}`, `{"a":"none"}`},
	} {
		got, err := wordsSince([]byte(c.old), []byte(c.now))
		if c.old == "" {
			got, err = wordsSince(nil, []byte(c.now))
		}
		if err != nil || string(got) != c.want {
			t.Errorf("from %s to %s: got %s, %v; want %s", c.old, c.now, got, err, c.want)
		}
	}
}

// A change says with null that a member is gone: the words themselves have none.
func TestNoWordIsNull(t *testing.T) {
	for _, name := range []string{"../testdata/plans/demo.json", "../testdata/plans/format-1.json", ""} {
		doc := []byte(`{"format":"evenfall-plan/1"}`)
		if name != "" {
			var err error
			if doc, err = os.ReadFile(name); err != nil {
				t.Fatal(err)
			}
		}
		f := newFixture(t)
		f.plan = f.keep(string(doc))
		w := f.do("GET", "/api/plans/"+f.plan.ID+"/board", "")
		if w.Code != 200 || bytes.Contains(w.Body.Bytes(), []byte("null")) {
			t.Errorf("%q: %d with null in %s", name, w.Code, w.Body)
		}
	}
}
