package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"sync"
	"time"

	"github.com/coder/websocket"
	"github.com/go-chi/chi/v5"
	jsonv2 "github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"evenfall/internal/plan"
)

const (
	previewMost = 1 << 20          // bytes of one message from the page
	writeMost   = 30 * time.Second // a page that takes a message no faster is gone
)

// preview is what the page shows of a gesture: a patch on the stored document of
// a revision. The empty patch asks for the stored plan itself.
type preview struct {
	Rev   int64          `json:"rev"`
	Seq   uint32         `json:"seq"`
	Patch jsontext.Value `json:"patch"`
	As    string         `json:"as"`   // what the map is to be of: "" the drawing, "running"
	Digs  bool           `json:"digs"` // the page shows what is dug
}

// viewer is one live channel. Its reader puts previews in a slot that holds one,
// the newest; its worker takes them out, computes and writes. While the worker
// writes to a slow page the slot is overwritten, so such a page loses frames and
// costs no memory.
type viewer struct {
	site *Site
	o    *opened
	conn *websocket.Conn
	slot chan preview
	news chan struct{} // the stored plan changed

	mu     sync.Mutex
	cancel context.CancelFunc // stops the computation under way
	spared bool               // the one under way may not be stopped

	shown shown // what the page has been sent
}

// live opens the channel of one board.
func (s *Site) live(w http.ResponseWriter, r *http.Request) {
	id := chi.URLParam(r, "id")
	if _, err := s.Plans.Load(r.Context(), id); err != nil {
		s.fail(w, r, err)
		return
	}
	s.viewers.Add(1) // before the connection leaves the server's own count
	defer s.viewers.Done()
	// The gate has checked Host and Origin; Accept checks them against each other.
	conn, err := websocket.Accept(w, r, nil)
	if err != nil {
		return // Accept has answered
	}
	conn.SetReadLimit(previewMost)
	v := &viewer{site: s, o: s.desk.take(id, s.Now()), conn: conn, slot: make(chan preview, 1), news: make(chan struct{}, 1)}
	v.o.watch(v)
	defer v.o.unwatch(v, s.Now)
	v.tell()

	ctx, cancel := context.WithCancel(context.WithoutCancel(r.Context()))
	go func() {
		defer cancel()
		v.read(ctx)
	}()
	v.work(ctx)
	cancel()
	conn.CloseNow() // it is closed either way
}

func (o *opened) watch(v *viewer) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.viewers[v] = true
}

func (o *opened) unwatch(v *viewer, now func() time.Time) {
	o.mu.Lock()
	defer o.mu.Unlock()
	delete(o.viewers, v)
	o.used = now()
}

// tell wakes the worker to say which revision is stored.
func (v *viewer) tell() {
	select {
	case v.news <- struct{}{}:
	default: // it will see the newest anyway
	}
}

// read takes previews from the page until it goes away.
func (v *viewer) read(ctx context.Context) {
	for {
		kind, b, err := v.conn.Read(ctx)
		if err != nil {
			return
		}
		p, err := readPreview(b)
		if kind != websocket.MessageText || err != nil {
			v.conn.Close(websocket.StatusUnsupportedData, "not a preview") // the reading ends here
			return
		}
		v.put(p)
	}
}

// readPreview reads one message from the page.
func readPreview(b []byte) (p preview, err error) {
	err = jsonv2.Unmarshal(b, &p, jsonv2.RejectUnknownMembers(true))
	return p, err
}

// put stops the computation a preview makes out of date and leaves the preview
// for the worker, in place of one not taken yet. Every second computation is
// left to finish, so that previews coming faster than they can be computed
// cannot starve the picture.
func (v *viewer) put(p preview) {
	v.mu.Lock()
	if v.cancel != nil && !v.spared {
		v.cancel()
	}
	v.mu.Unlock()
	select {
	case <-v.slot:
	default:
	}
	v.slot <- p // only the reader puts, so there is room
}

// work answers previews and passes on news until the channel or the server ends.
func (v *viewer) work(ctx context.Context) {
	spare := false
	for {
		select {
		case <-ctx.Done():
			return
		case <-v.site.life.Done():
			v.say(ctx, map[string]any{"bye": true})
			v.conn.Close(websocket.StatusGoingAway, "the server stops") // nothing is left to do
			return
		case <-v.news:
			v.passOn(ctx)
		case p := <-v.slot:
			err := v.answer(ctx, p, spare)
			spare = errors.Is(err, context.Canceled)
			if err != nil && !spare {
				v.say(ctx, map[string]any{"error": previewError(err), "seq": p.Seq})
			}
		}
	}
}

// passOn says which revision is stored, or that there is no plan any more.
func (v *viewer) passOn(ctx context.Context) {
	saved, err := v.o.stored(ctx, v.site.Plans)
	if err != nil {
		v.say(ctx, map[string]any{"error": previewError(err)})
		return
	}
	v.say(ctx, map[string]any{"rev": saved.Rev})
}

// previewError is the sentence for a preview that shows nothing.
func previewError(err error) string {
	status, t := explain(err)
	if status == http.StatusInternalServerError {
		return "The map could not be computed for this change. The plan itself is safe."
	}
	return t.Error
}

// answer computes a preview and sends its frame. What is computed is sent even
// if a newer preview is waiting: the next frame builds on it, and a write cut
// short would end the channel.
func (v *viewer) answer(ctx context.Context, p preview, spare bool) error {
	computing, cancel := context.WithCancel(ctx)
	defer cancel()
	v.begin(cancel, spare)
	frame, err := v.compute(computing, p)
	v.begin(nil, false)
	if err != nil {
		return err
	}
	return v.send(ctx, websocket.MessageBinary, frame)
}

// compute makes the frame of a preview. A preview on a revision that is not the
// stored one gets the stored plan: the page is about to follow, and its patch
// was made on something else.
func (v *viewer) compute(ctx context.Context, p preview) ([]byte, error) {
	saved, err := v.o.stored(ctx, v.site.Plans)
	if err != nil {
		return nil, err
	}
	patch := plan.Patch(p.Patch)
	if p.Rev != saved.Rev || len(patch) == 0 {
		patch = plan.Patch("{}")
	}
	next, err := plan.Preview(saved.Doc, patch)
	if err != nil {
		return nil, err
	}
	v.o.touch(v.site.Now())
	var frame []byte
	err = v.site.runAs(ctx, v.o, next, p.As, func(pic picture) error {
		pic.digs = p.Digs
		frame, err = v.shown.next(pic, saved.Rev, p.Seq)
		return err
	})
	return frame, err
}

// begin notes the computation under way; nil when there is none.
func (v *viewer) begin(cancel context.CancelFunc, spare bool) {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.cancel, v.spared = cancel, spare
}

// say sends a small message; if it cannot be sent the channel ends by itself.
func (v *viewer) say(ctx context.Context, message map[string]any) {
	b, err := json.Marshal(message)
	if err != nil {
		panic(err)
	}
	if err := v.send(ctx, websocket.MessageText, b); err != nil {
		v.site.Log.Debug("live message not taken", "plan", v.o.id, "error", err)
	}
}

func (v *viewer) send(ctx context.Context, kind websocket.MessageType, b []byte) error {
	ctx, cancel := context.WithTimeout(ctx, writeMost)
	defer cancel()
	return v.conn.Write(ctx, kind, b)
}
