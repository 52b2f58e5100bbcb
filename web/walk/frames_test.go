//go:build browser

package walk

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// recorder notes when frames come, when a pointer event was sent to the server
// as a preview, and when the map that answers it was painted.
const recorder = `(() => {
	const rec = window.recorded = { frames: [], pointer: {}, latency: [], server: [], sentAt: {}, sent: 0, on: false };
	const heard = new WeakSet();
	let moved = 0;
	addEventListener("pointermove", (e) => { moved = e.timeStamp; }, true);
	const send = WebSocket.prototype.send;
	WebSocket.prototype.send = function (data) {
		if (!heard.has(this)) {
			heard.add(this);
			this.addEventListener("message", (e) => {
				if (typeof e.data === "string") return;
				const sent = rec.sentAt[new DataView(e.data).getUint32(8, true)];
				if (rec.on && sent !== undefined) rec.server.push(performance.now() - sent);
			});
		}
		if (rec.on && typeof data === "string") {
			const seq = JSON.parse(data).seq;
			rec.pointer[seq] = moved; rec.sentAt[seq] = performance.now(); rec.sent++;
		}
		return send.call(this, data);
	};
	new MutationObserver(() => {
		const seq = document.documentElement.dataset.paintedSeq, at = rec.pointer[seq];
		if (at === undefined) return;
		delete rec.pointer[seq];
		requestAnimationFrame(() => { if (rec.on) rec.latency.push(performance.now() - at); });
	}).observe(document, { subtree: true, attributes: true, attributeFilter: ["data-painted-seq"] });
	let last = 0;
	const tick = (now) => { if (rec.on && last) rec.frames.push(now - last); last = now; requestAnimationFrame(tick); };
	requestAnimationFrame(tick);
})()`

type recorded struct {
	Frames, Latency, Server []float64
	Sent                    int
}

// TestDragFrames reports the frame interval and the time from pointer to painted
// map while one of 300 heads is dragged over 250,000 cells, plain and with the
// processor slowed six times. Times are reported, not asserted: the machine is
// shared. What must hold on any machine is asserted: every painted frame
// answers a preview, and there is never more than one under way.
func TestDragFrames(t *testing.T) {
	for _, slow := range []float64{1, 6} {
		t.Run(fmt.Sprintf("slowed %g times", slow), func(t *testing.T) { dragFrames(t, slow) })
	}
}

func dragFrames(t *testing.T, slow float64) {
	prog := startProgram(t, t.TempDir())
	p := open(t, 1280, 800)
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: recorder}); err != nil {
		t.Fatal(err)
	}
	p.visit(prog.url)
	id := p.create(parkOf300(t, p))
	p.visit(prog.url + "/plans/" + id)
	p.settled()
	cells := eval[int](p, `fetch("/api/plans/`+id+`/board").then(r => r.json()).then(b => b.frame.nx * b.frame.ny)`)
	if _, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slow}); err != nil {
		t.Fatal(err)
	}
	x, y := 47.0, 47.0
	p.mouse(input.DispatchMouseEventTypeMouseMoved, x, y, 0)
	p.mouse(input.DispatchMouseEventTypeMousePressed, x, y, 0)
	eval[bool](p, "window.recorded.on = true")
	steps := 240
	px, py := p.pixels(x, y)
	for i := range steps {
		a := 2 * math.Pi * float64(i) / 60
		p.mouseAt(input.DispatchMouseEventTypeMouseMoved, px+40*math.Sin(a), py+40*(1-math.Cos(a)), altKey|held)
	}
	eval[bool](p, "window.recorded.on = false, true")
	p.mouseAt(input.DispatchMouseEventTypeMouseReleased, px, py, altKey)
	var rec recorded
	if err := json.Unmarshal([]byte(eval[string](p, "JSON.stringify(window.recorded)")), &rec); err != nil {
		t.Fatal(err)
	}
	load, _ := os.ReadFile("/proc/loadavg")
	t.Logf("300 heads, %d cells, slowed %g times, load %s", cells, slow, strings.TrimSpace(string(load)))
	t.Logf("frame interval: p50 %.1f ms, p95 %.1f ms, worst %.1f ms over %d frames", at(rec.Frames, 50), at(rec.Frames, 95), at(rec.Frames, 100), len(rec.Frames))
	t.Logf("preview sent to answer: p50 %.1f ms, p95 %.1f ms", at(rec.Server, 50), at(rec.Server, 95))
	t.Logf("pointer to painted map: p50 %.1f ms, p95 %.1f ms, worst %.1f ms over %d previews of %d moves", at(rec.Latency, 50), at(rec.Latency, 95), at(rec.Latency, 100), len(rec.Latency), steps)
	if cells < 250_000 {
		t.Errorf("the map has %d cells: not the case that was to be measured", cells)
	}
	if len(rec.Latency) == 0 {
		t.Error("the map was never painted while the head was dragged")
	}
	if len(rec.Latency) > rec.Sent || rec.Sent > steps+1 {
		t.Errorf("%d maps painted for %d previews of %d moves", len(rec.Latency), rec.Sent, steps)
	}
}

// at is a percentile.
func at(values []float64, percent int) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(values))
	return s[min(len(s)*percent/100, len(s)-1)]
}

// create stores a plan and returns its id.
func (p *tab) create(doc map[string]any) string {
	p.t.Helper()
	body, err := json.Marshal(map[string]any{"name": doc["name"], "show": "us", "doc": doc})
	if err != nil {
		p.t.Fatal(err)
	}
	return eval[string](p, fmt.Sprintf(`fetch("/api/plans", {method: "POST", headers: {"Content-Type": "application/json"}, body: %q}).then(async r => {
		const answer = await r.json(); if (!r.ok) throw new Error(JSON.stringify(answer)); return answer.id; })`, body))
}

// parkOf300 is a square lawn of 94 ft with 300 stream heads on it and one more
// in the middle that nothing stands close to, so that it can be taken hold of.
func parkOf300(t *testing.T, p *tab) map[string]any {
	t.Helper()
	nozzleID, nozzle := fromCatalogue(t, p, "nozzles", "stream-16-360")
	bodyID, body := fromCatalogue(t, p, "bodies", "body-4")
	heads := map[string]any{"middle": map[string]any{"nozzle": nozzleID, "body": bodyID, "x_ft": 47, "y_ft": 47, "sweep_deg": 360}}
	for i := 0; len(heads) < 300; i++ {
		x, y := 1+float64(i%18)*5.4, 1+float64(i/18)*5.4
		if math.Hypot(x-47, y-47) < 6 {
			continue
		}
		heads[fmt.Sprintf("h%d", i)] = map[string]any{"nozzle": nozzleID, "body": bodyID, "x_ft": x, "y_ft": y, "sweep_deg": 360}
	}
	return map[string]any{
		"format": "evenfall-plan/1", "name": "Park of 300", "show": "us",
		"areas":   map[string]any{"lawn": map[string]any{"name": "Lawn", "kind": "planting", "outline": [][]float64{{0, 0}, {94, 0}, {94, 94}, {0, 94}}}},
		"nozzles": map[string]any{nozzleID: nozzle}, "bodies": map[string]any{bodyID: body}, "heads": heads,
	}
}

// fromCatalogue finds a nozzle or a body of the built-in catalogue.
func fromCatalogue(t *testing.T, p *tab, list, prefix string) (string, map[string]any) {
	t.Helper()
	var catalog map[string]json.RawMessage
	var rows []json.RawMessage
	err := json.Unmarshal([]byte(p.fetch("/api/catalog")), &catalog)
	if err == nil {
		err = json.Unmarshal(catalog[list], &rows)
	}
	if err != nil {
		t.Fatal(err)
	}
	return row(t, rows, prefix)
}

// row finds the first entry of a catalogue list whose id begins so, and the entry
// without its id, as a plan keeps it.
func row(t *testing.T, list []json.RawMessage, prefix string) (string, map[string]any) {
	t.Helper()
	for _, raw := range list {
		var entry map[string]any
		if err := json.Unmarshal(raw, &entry); err != nil {
			t.Fatal(err)
		}
		id := entry["id"].(string)
		if strings.HasPrefix(id, prefix) {
			delete(entry, "id")
			return id, entry
		}
	}
	t.Fatalf("the catalogue has nothing named %s…", prefix)
	return "", nil
}
