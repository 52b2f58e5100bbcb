package web

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"github.com/coder/websocket"

	"evenfall/internal/design"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// dial opens the live channel of the yard as its page does.
func (f *fixture) dial(at string) *websocket.Conn {
	f.t.Helper()
	c, resp, err := websocket.Dial(f.t.Context(), "ws://"+at+"/api/plans/"+f.plan.ID+"/live",
		&websocket.DialOptions{HTTPHeader: http.Header{"Origin": {"http://" + at}, "Sec-Fetch-Site": {"same-origin"}}})
	if err != nil {
		f.t.Fatal(err)
	}
	if resp.Body != nil {
		resp.Body.Close()
	}
	c.SetReadLimit(64 << 20)
	f.t.Cleanup(func() { c.CloseNow() }) // it may be closed already
	return c
}

func readText(t *testing.T, c *websocket.Conn) string {
	t.Helper()
	kind, b, err := c.Read(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if kind != websocket.MessageText {
		t.Fatalf("got a frame of %d bytes, want a text", len(b))
	}
	return string(b)
}

func send(t *testing.T, c *websocket.Conn, rev int64, seq uint32, patch string) {
	t.Helper()
	if err := c.Write(t.Context(), websocket.MessageText, fmt.Appendf(nil, `{"rev":%d,"seq":%d,"patch":%s}`, rev, seq, patch)); err != nil {
		t.Fatal(err)
	}
}

// page is what a page does with frames: it keeps the map and the words.
type page struct {
	t     *testing.T
	frame FrameView
	cells []byte
	words any // JSON of board
	board Board
	area  int // cells of the last rectangle
	told  int // bytes of the last words
}

// take reads messages until a frame comes and applies it.
func (p *page) take(c *websocket.Conn) {
	p.t.Helper()
	for {
		kind, b, err := c.Read(p.t.Context())
		if err != nil {
			p.t.Fatal(err)
		}
		if kind == websocket.MessageBinary {
			p.apply(b)
			return
		}
		if strings.Contains(string(b), "error") {
			p.t.Fatalf("got %s, want a frame", b)
		}
	}
}

func (p *page) apply(b []byte) {
	p.t.Helper()
	u16 := func(at int) int { return int(binary.LittleEndian.Uint16(b[at:])) }
	u32 := func(at int) int { return int(binary.LittleEndian.Uint32(b[at:])) }
	if string(b[:4]) != "EVF1" {
		p.t.Fatalf("frame begins with %q", b[:4])
	}
	x, y, w, h, words := u16(12), u16(14), u16(16), u16(18), u32(20)
	if len(b) != frameHead+words+w*h {
		p.t.Fatalf("frame of %d bytes, its header says %d", len(b), frameHead+words+w*h)
	}
	p.reword(b[frameHead : frameHead+words])
	if int(p.board.Rev) != u32(4) || int(p.board.Seq) != u32(8) {
		p.t.Errorf("words are of %d, %d; header of %d, %d", p.board.Rev, p.board.Seq, u32(4), u32(8))
	}
	g := p.board.Frame
	if p.frame != g {
		if x != 0 || y != 0 || w != g.NX || h != g.NY {
			p.t.Fatalf("another frame came with a part of the map: %d %d %d %d of %+v", x, y, w, h, g)
		}
		p.frame, p.cells = g, make([]byte, g.NX*g.NY)
	}
	for row := range h {
		copy(p.cells[(y+row)*g.NX+x:][:w], b[frameHead+words+row*w:])
	}
	p.area, p.told = w*h, words
}

// reword makes the change of a frame to the words.
func (p *page) reword(change []byte) {
	p.t.Helper()
	var c any
	if err := json.Unmarshal(change, &c); err != nil {
		p.t.Fatal(err)
	}
	p.words = reworded(p.words, c)
	b, err := json.Marshal(p.words)
	if err != nil {
		p.t.Fatal(err)
	}
	p.board = Board{}
	if err := json.Unmarshal(b, &p.board); err != nil {
		p.t.Fatal(err)
	}
}

// reworded is what the page makes of words and their change (merge.ts).
func reworded(words, change any) any {
	c, ok := change.(map[string]any)
	if !ok {
		return change
	}
	switch w := words.(type) {
	case map[string]any:
		for name, v := range c {
			if v == nil {
				delete(w, name)
			} else {
				w[name] = reworded(w[name], v)
			}
		}
		return w
	case []any:
		for place, v := range c {
			i, err := strconv.Atoi(place)
			if err != nil || i >= len(w) {
				panic("a change of no entry of the list: " + place)
			}
			w[i] = reworded(w[i], v)
		}
		return w
	}
	return change
}

// fresh is the map of a document reckoned from nothing.
func fresh(t *testing.T, doc []byte, patch string) (picture, []byte) {
	t.Helper()
	p, err := plan.Preview(doc, plan.Patch(patch))
	if err != nil {
		t.Fatal(err)
	}
	var e design.Engine
	d, err := e.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	pic := picture{plan: p, design: d, field: e.Field(), frame: e.Field().Frame()}
	return pic, pic.field.Cells(geom.Cells{X1: pic.frame.NX, Y1: pic.frame.NY})
}

// check compares what a page shows with a document reckoned from nothing.
func (p *page) check(doc []byte, patch string) {
	p.t.Helper()
	pic, cells := fresh(p.t, doc, patch)
	if !bytes.Equal(p.cells, cells) {
		p.t.Fatalf("the map differs from a fresh one after %s", patch)
	}
	want, err := json.Marshal(newBoard(pic, p.board.Rev))
	if err != nil {
		p.t.Fatal(err)
	}
	p.board.Seq = 0
	got, err := json.Marshal(p.board)
	if err != nil {
		p.t.Fatal(err)
	}
	if string(got) != string(want) {
		p.t.Fatalf("the words differ from fresh ones after %s:\n%s\n%s", patch, got, want)
	}
}

func TestFramesAddUpToTheWholeMap(t *testing.T) {
	f := newFixture(t)
	at, _ := f.serving()
	one, two := &page{t: t}, &page{t: t}
	c1, c2 := f.dial(at), f.dial(at)
	r := rand.New(rand.NewPCG(1, 1))
	for seq := range uint32(40) {
		patch := fmt.Sprintf(`{"heads":{"h%d":{"x_ft":%v,"sweep_deg":%d}}}`, 1+r.IntN(4), float64(r.IntN(60))/4, 30+r.IntN(300))
		switch r.IntN(6) {
		case 0:
			patch = `{}`
		case 1:
			patch = fmt.Sprintf(`{"heads":{"h9":{"nozzle":"n1","body":"b1","x_ft":%d,"y_ft":7,"sweep_deg":360}}}`, 5+r.IntN(60))
		case 2:
			patch = fmt.Sprintf(`{"areas":{"a1":{"outline":[[0,0],[15,0],[%d,15],[0,15]]}}}`, 8+r.IntN(7))
		}
		send(t, c1, 1, seq+1, patch)
		one.take(c1)
		one.check(f.plan.Doc, patch)
		if seq%3 == 0 { // the other page looks at the plan itself, with the same engine
			send(t, c2, 1, seq+1, `{}`)
			two.take(c2)
			two.check(f.plan.Doc, `{}`)
		}
	}
}

func TestADraggedHeadSendsOnlyWhatChanged(t *testing.T) {
	f := newFixture(t)
	at, _ := f.serving()
	c, p := f.dial(at), &page{t: t}
	send(t, c, 1, 1, `{}`)
	p.take(c)
	whole := p.area
	if whole == 0 || whole != p.frame.NX*p.frame.NY {
		t.Fatalf("the first frame has %d of %d cells", whole, p.frame.NX*p.frame.NY)
	}
	send(t, c, 1, 2, `{}`)
	if p.take(c); p.area != 0 {
		t.Errorf("the same plan again sent %d cells", p.area)
	}
	send(t, c, 1, 3, `{"heads":{"h1":{"tag":"9-9"}}}`)
	if p.take(c); p.area != 0 {
		t.Errorf("another tag sent %d cells", p.area)
	}
	if p.board.Heads["h1"].Flow == "" {
		t.Errorf("no figures for the head: %+v", p.board.Heads)
	}
	if f.now().Rev != 1 {
		t.Error("a preview was stored")
	}
}

func TestTheChannelTellsOfSteps(t *testing.T) {
	f := newFixture(t)
	at, _ := f.serving()
	c := f.dial(at)
	if got := readText(t, c); got != `{"rev":1}` {
		t.Fatalf("on opening: got %s", got)
	}
	step := func(want int, method, path, body string, header ...string) {
		t.Helper()
		f.site.Hosts = append(f.site.Hosts, testHost)
		if w := f.do(method, "/api/plans/"+f.plan.ID+path, body, header...); w.Code != want {
			t.Fatalf("%s %s: got %d %s", method, path, w.Code, w.Body)
		}
	}
	step(200, "PATCH", "", `{"heads":{"h1":{"x_ft":1}}}`, patchType, `If-Match: "1"`)
	if got := readText(t, c); got != `{"rev":2}` {
		t.Errorf("after a step: got %s", got)
	}
	step(200, "POST", "/undo", "", `If-Match: "2"`)
	if got := readText(t, c); got != `{"rev":3}` {
		t.Errorf("after an undo: got %s", got)
	}
	// A preview on what is no longer there is answered with the stored plan.
	send(t, c, 1, 7, `{"heads":{"h1":{"x_ft":5}}}`)
	p := &page{t: t}
	p.take(c)
	if p.board.Rev != 3 || p.board.Seq != 7 {
		t.Errorf("a stale preview: got a frame of %d, %d; want 3, 7", p.board.Rev, p.board.Seq)
	}
	p.check(f.now().Doc, `{}`)
	step(204, "DELETE", "", "", `If-Match: "3"`)
	if got := readText(t, c); !strings.Contains(got, "no such plan") {
		t.Errorf("after the deletion: got %s", got)
	}
	send(t, c, 3, 8, `{}`)
	if got := readText(t, c); !strings.Contains(got, "no such plan") || !strings.Contains(got, `"seq":8`) {
		t.Errorf("a preview of a deleted plan: got %s", got)
	}
}

func TestAPreviewThatCannotBeShownSaysWhy(t *testing.T) {
	f := newFixture(t)
	at, _ := f.serving()
	c := f.dial(at)
	readText(t, c)
	for i, patch := range []string{
		`{"areas":{"a1":{"outline":[[0,0],[15,15],[15,0],[0,15]]}}}`, `{"heads":{"h1":{"x_ft":1e999}}}`, `{"heads":{"h1":{"x_ft":"NaN"}}}`, `{"colour":1}`, `[]`, `7`,
	} {
		send(t, c, 1, uint32(i+1), patch)
		var got struct {
			Error string
			Seq   int
		}
		if err := json.Unmarshal([]byte(readText(t, c)), &got); err != nil {
			t.Fatal(err)
		}
		if got.Seq != i+1 || !strings.HasSuffix(got.Error, ".") {
			t.Errorf("%s: got %+v", patch, got)
		}
	}
	send(t, c, 1, 9, `{}`)
	p := &page{t: t}
	p.take(c) // and the channel goes on
	p.check(f.plan.Doc, `{}`)
}

// TestAFloodOfPreviewsEndsWithTheNewest sends faster than can be computed. Every
// frame that comes is in order, the last is the newest, and fewer frames than
// previews are computed.
func TestAFloodOfPreviewsEndsWithTheNewest(t *testing.T) {
	f := newFixture(t)
	at, _ := f.serving()
	c, p := f.dial(at), &page{t: t}
	const previews = 500
	go func() {
		for seq := range previews {
			b := fmt.Appendf(nil, `{"rev":1,"seq":%d,"patch":{"heads":{"h1":{"x_ft":%v}}}}`, seq+1, float64(seq)/100)
			if c.Write(context.Background(), websocket.MessageText, b) != nil {
				return
			}
		}
	}()
	last, frames := uint32(0), 0
	for last < previews {
		p.take(c)
		if p.board.Seq <= last {
			t.Fatalf("frame %d after %d", p.board.Seq, last)
		}
		last = p.board.Seq
		frames++
	}
	p.check(f.plan.Doc, fmt.Sprintf(`{"heads":{"h1":{"x_ft":%v}}}`, float64(previews-1)/100))
	t.Logf("%d frames for %d previews", frames, previews)
}

// TestTheSlotHoldsOnePreview shows that a worker that is held up costs no
// memory: the slot never holds more than the newest.
func TestTheSlotHoldsOnePreview(t *testing.T) {
	v := &viewer{slot: make(chan preview, 1)}
	for seq := range uint32(10_000) {
		v.put(preview{Seq: seq})
	}
	if got := (<-v.slot).Seq; got != 9_999 {
		t.Errorf("the slot holds %d, want the newest", got)
	}
	stopped := 0
	v.begin(func() { stopped++ }, false)
	v.put(preview{})
	v.begin(func() { stopped += 100 }, true)
	v.put(preview{})
	if stopped != 1 {
		t.Errorf("stopped: got %d, want the first computation and not the spared one", stopped)
	}
}

func TestRowB2_TheChannelOpensOnlyForOurPage(t *testing.T) {
	f := newFixture(t)
	at, _ := f.serving()
	for _, c := range []struct {
		name   string
		header http.Header
		host   string
		want   int
	}{
		{"another site", http.Header{"Origin": {"http://evil.test"}}, "", 403},
		{"another port", http.Header{"Origin": {"http://127.0.0.1:1"}}, "", 403},
		{"no origin a page could have", http.Header{"Origin": {"null"}}, "", 403},
		{"by fetch metadata", http.Header{"Sec-Fetch-Site": {"cross-site"}}, "", 403},
		{"rebound name", http.Header{"Origin": {"http://evil.test"}}, "evil.test", 421},
	} {
		conn, resp, err := websocket.Dial(t.Context(), "ws://"+at+"/api/plans/"+f.plan.ID+"/live", &websocket.DialOptions{HTTPHeader: c.header, Host: c.host})
		if err == nil {
			conn.CloseNow() // it should not be open at all
			t.Errorf("%s: it opened", c.name)
			continue
		}
		if resp == nil || resp.StatusCode != c.want {
			t.Errorf("%s: got %v, want %d", c.name, err, c.want)
		}
	}
	if w := f.do("GET", "/api/plans/"+f.plan.ID+"/live", "", "Host: "+at); w.Code != http.StatusUpgradeRequired {
		t.Errorf("without an upgrade: got %d, want 426", w.Code)
	}
	if w := f.do("GET", "/api/plans/none/live", "", "Host: "+at); w.Code != http.StatusNotFound {
		t.Errorf("of no plan: got %d, want 404", w.Code)
	}
}

func TestRowB8_AMessageOverTheLimitEndsTheChannel(t *testing.T) {
	f := newFixture(t)
	at, _ := f.serving()
	for name, message := range map[string]string{
		"too long":   `{"rev":1,"seq":1,"patch":{"name":"` + strings.Repeat("x", previewMost) + `"}}`,
		"not JSON":   `hello`,
		"other JSON": `{"rev":1,"seq":1,"patch":{},"more":1}`,
		"seq of -1":  `{"rev":1,"seq":-1,"patch":{}}`,
	} {
		c := f.dial(at)
		readText(t, c)
		if err := c.Write(t.Context(), websocket.MessageText, []byte(message)); err != nil {
			continue // closed while it was sent
		}
		if _, _, err := c.Read(t.Context()); websocket.CloseStatus(err) < 0 {
			t.Errorf("%s: got %v, want the channel closed", name, err)
		}
	}
}

func TestDiffersIsTheSmallestRectangle(t *testing.T) {
	a := make([]byte, 6*5)
	for _, c := range []struct {
		name string
		at   []int
		want area
	}{
		{"none", nil, area{}},
		{"one", []int{8}, area{2, 1, 1, 1}},
		{"two corners", []int{0, 29}, area{0, 0, 6, 5}},
		{"a row", []int{12, 14, 17}, area{0, 2, 6, 1}},
		{"a column", []int{3, 27}, area{3, 0, 1, 5}},
	} {
		b := bytes.Clone(a)
		for _, i := range c.at {
			b[i] = 1
		}
		if got := differs(a, b, 6); got != c.want {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
	if got := differs(nil, nil, 0); got != (area{}) {
		t.Errorf("an empty map: got %+v", got)
	}
}
