package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/coder/websocket"
)

// sharedPlan is the plan every user draws in: what each was told is stored.
type sharedPlan struct {
	id    string
	mu    sync.Mutex
	rev   int64 // the highest acknowledged
	steps []histLine
}

// ownPlan is a plan of one user alone, so that its history is known exactly.
type ownPlan struct {
	id     string
	rev    int64
	line   []string // labels of the steps in force
	undone []string // those taken back, the next to come again last
	doc    []byte   // as it was at rev when it was last seen; nil: not seen
}

// soakUser does at random what a user does.
type soakUser struct {
	*soaking
	n        int
	client   *soakClient
	pick     *rand.Rand
	plans    []*ownPlan
	pictures map[string][]byte // by checksum, as uploaded
	made     int               // things and steps, to name them apart
}

// deed is one thing a user does, as often as its weight says.
type deed struct {
	name   string
	weight int
	do     func(u *soakUser, p *ownPlan)
}

var deeds = []deed{
	{"heads moved", 30, (*soakUser).move},
	{"things drawn", 16, (*soakUser).draw},
	{"things erased", 10, (*soakUser).erase},
	{"steps undone", 9, (*soakUser).undo},
	{"steps redone", 6, (*soakUser).redo},
	{"steps in the shared plan", 10, (*soakUser).drawShared},
	{"drags on the live channel", 5, (*soakUser).drag},
	{"plans loaded and compared", 6, (*soakUser).compare},
	{"lists and files exported", 4, (*soakUser).export},
	{"histories read", 2, (*soakUser).readHistory},
	{"states gone back to", 2, (*soakUser).goBack},
	{"states kept by name", 2, (*soakUser).keepPoint},
	{"plans copied", 1, (*soakUser).copy},
	{"plans deleted", 1, (*soakUser).remove},
	{"plans put away and brought back", 2, (*soakUser).putAway},
	{"pictures uploaded", 1, (*soakUser).upload},
}

// live does one deed after the other until the soak is over.
func (u *soakUser) live() {
	total := 0
	for _, d := range deeds {
		total += d.weight
	}
	for !u.over.Load() {
		u.gate.RLock()
		if len(u.plans) == 0 {
			u.begin()
		} else {
			u.one(u.pick.IntN(total))
		}
		u.gate.RUnlock()
		time.Sleep(time.Duration(u.pick.IntN(10)) * time.Millisecond)
	}
}

func (u *soakUser) one(at int) {
	for _, d := range deeds {
		if at -= d.weight; at < 0 {
			d.do(u, u.plans[u.pick.IntN(len(u.plans))])
			return
		}
	}
}

// begin makes the user's first plan.
func (u *soakUser) begin() {
	if id, err := u.client.make(fmt.Sprintf("Yard of user %d", u.n), u.demo); err == nil {
		u.plans = append(u.plans, &ownPlan{id: id, rev: 1})
		u.count("plans made")
	} else {
		u.pause()
	}
}

// pause waits a little for a program that is being started again.
func (u *soakUser) pause() { time.Sleep(time.Duration(10+u.pick.IntN(40)) * time.Millisecond) }

// change sends a request that makes a step and keeps the model of the plan's
// history. An answer that did not come leaves it open whether the step was
// stored: the revision tells, once the program is back.
func (u *soakUser) change(p *ownPlan, what string, send func() said, applied func(h held)) {
	a := send()
	switch {
	case a.ok():
		h, err := a.held()
		if err != nil {
			u.fault("%s: an answer that cannot be read: %s", what, a.body)
			return
		}
		if h.Rev == p.rev {
			return // it changed nothing
		}
		if h.Rev != p.rev+1 {
			u.fault("%s: plan %s went from revision %d to %d", what, p.id, p.rev, h.Rev)
		}
		p.rev, p.doc = h.Rev, h.Doc
		applied(h)
		u.count(what)
	case a.status == 0 || a.status == http.StatusServiceUnavailable:
		u.reconcile(p, what, applied)
	case a.status == http.StatusConflict: // nothing to undo or redo
	default:
		u.fault("%s: %d %.300s", what, a.status, a.body)
	}
}

// reconcile finds out whether a step whose answer was lost is stored.
func (u *soakUser) reconcile(p *ownPlan, what string, applied func(h held)) {
	h, ok := u.load(p.id)
	if !ok {
		return
	}
	switch h.Rev {
	case p.rev:
		u.count("answers lost, the step not stored")
	case p.rev + 1:
		p.rev, p.doc = h.Rev, h.Doc
		applied(h)
		u.count("answers lost, the step stored")
	default:
		u.fault("%s: plan %s is at revision %d; %d was acknowledged", what, p.id, h.Rev, p.rev)
		p.rev, p.doc = h.Rev, h.Doc
	}
}

// load asks for a plan until the program answers.
func (u *soakUser) load(id string) (h held, ok bool) {
	for tries := 0; tries < 2000; tries++ {
		a := u.client.get("/api/plans/" + id)
		if a.ok() {
			h, err := a.held()
			if err != nil {
				u.fault("plan %s: an answer that cannot be read", id)
			}
			return h, err == nil
		}
		if a.status != 0 && a.status != http.StatusServiceUnavailable {
			u.fault("plan %s: %d %.300s", id, a.status, a.body)
			return held{}, false
		}
		u.pause()
	}
	u.fault("plan %s: the program did not come back", id)
	return held{}, false
}

// step sends a patch as a step of its own label.
func (u *soakUser) step(p *ownPlan, what, patch string) {
	u.made++
	label := fmt.Sprintf("User %d, step %d", u.n, u.made)
	u.change(p, what, func() said {
		return u.client.ask("PATCH", "/api/plans/"+p.id, "application/merge-patch+json", []byte(patch), p.rev, label)
	}, func(held) { p.line, p.undone = append(p.line, label), nil })
}

func (u *soakUser) move(p *ownPlan) {
	u.step(p, "heads moved", fmt.Sprintf(`{"heads":{"h2-8":{"x_ft":%.2f,"y_ft":%.2f}}}`, 30+u.pick.Float64()*30, 5+u.pick.Float64()*25))
}

func (u *soakUser) draw(p *ownPlan) {
	u.made++
	x, y := u.pick.Float64()*90, u.pick.Float64()*60
	u.step(p, "things drawn", fmt.Sprintf(`{"trees":{"s%d":{"x_ft":%.2f,"y_ft":%.2f,"trunk_in":6}},"notes":{"s%d":{"text":"note %d","x_ft":%.2f,"y_ft":%.2f}}}`,
		u.made%60, x, y, u.made%60, u.made, x, y))
}

func (u *soakUser) erase(p *ownPlan) {
	n := max(0, u.made-u.pick.IntN(10)) % 60 // something lately drawn, most likely
	u.step(p, "things erased", fmt.Sprintf(`{"trees":{"s%d":null},"notes":{"s%d":null}}`, n, n))
}

func (u *soakUser) undo(p *ownPlan) {
	u.change(p, "steps undone", func() said { return u.client.post("/api/plans/"+p.id+"/undo", p.rev, struct{}{}) }, func(held) {
		if len(p.line) == 0 {
			u.fault("plan %s took back a step it never had", p.id)
			return
		}
		last := len(p.line) - 1
		p.line, p.undone = p.line[:last], append(p.undone, p.line[last])
	})
}

func (u *soakUser) redo(p *ownPlan) {
	u.change(p, "steps redone", func() said { return u.client.post("/api/plans/"+p.id+"/redo", p.rev, struct{}{}) }, func(held) {
		if len(p.undone) == 0 {
			u.fault("plan %s did a step again it never had", p.id)
			return
		}
		last := len(p.undone) - 1
		p.line, p.undone = append(p.line, p.undone[last]), p.undone[:last]
	})
}

// goBack makes a step that brings back an earlier state; its label is the
// program's.
func (u *soakUser) goBack(p *ownPlan) {
	if len(p.line) < 3 {
		return
	}
	to := u.pick.IntN(len(p.line))
	u.change(p, "states gone back to", func() said {
		return u.client.post("/api/plans/"+p.id+"/back", p.rev, map[string]int{"step": to})
	}, func(h held) { p.line, p.undone = append(p.line, h.Undo), nil })
}

func (u *soakUser) keepPoint(p *ownPlan) {
	u.made++
	u.expect("states kept by name", u.client.post("/api/plans/"+p.id+"/points", p.rev, map[string]any{"step": len(p.line), "name": fmt.Sprint("Kept ", u.made)}))
}

// expect counts an answer, and notes one that is neither good nor missing.
func (u *soakUser) expect(what string, a said) bool {
	switch {
	case a.ok():
		u.count(what)
		return true
	case a.status == 0 || a.status == http.StatusServiceUnavailable:
		u.pause()
	default:
		u.fault("%s: %d %.300s", what, a.status, a.body)
	}
	return false
}

// compare loads a plan and holds it against what is known of it.
func (u *soakUser) compare(p *ownPlan) {
	h, ok := u.load(p.id)
	if !ok {
		return
	}
	u.count("plans loaded and compared")
	if h.Rev != p.rev {
		u.fault("plan %s is at revision %d; %d was acknowledged", p.id, h.Rev, p.rev)
	} else if p.doc != nil && !bytes.Equal(p.doc, h.Doc) {
		u.fault("plan %s at revision %d is not what it was", p.id, p.rev)
	}
	p.rev, p.doc = h.Rev, h.Doc
}

// drawShared makes a step in the plan all users share; another may be first.
func (u *soakUser) drawShared(*ownPlan) {
	s := u.shared
	h, ok := u.load(s.id)
	if !ok {
		return
	}
	u.made++
	label := fmt.Sprintf("User %d, shared step %d", u.n, u.made)
	patch := fmt.Sprintf(`{"notes":{"u%d":{"text":"step %d","x_ft":%d,"y_ft":1}}}`, u.n, u.made, u.n)
	a := u.client.ask("PATCH", "/api/plans/"+s.id, "application/merge-patch+json", []byte(patch), h.Rev, label)
	if a.status == http.StatusPreconditionFailed {
		u.count("steps another user was before")
		return
	}
	if !u.expect("steps in the shared plan", a) {
		return
	}
	now, err := a.held()
	if err != nil {
		u.fault("the shared plan: an answer that cannot be read")
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.steps = append(s.steps, histLine{Rev: now.Rev, Label: label})
	s.rev = max(s.rev, now.Rev)
}

// drag shows a gesture on the live channel and waits for a picture of it.
func (u *soakUser) drag(p *ownPlan) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	conn, _, err := websocket.Dial(ctx, strings.Replace(u.client.url, "http", "ws", 1)+"/api/plans/"+p.id+"/live", nil)
	if err != nil {
		u.pause()
		return
	}
	defer conn.CloseNow()
	conn.SetReadLimit(64 << 20)
	for seq := range 6 {
		body := fmt.Sprintf(`{"rev":%d,"seq":%d,"patch":{"heads":{"h2-8":{"x_ft":%d}}}}`, p.rev, seq+1, 40+seq)
		if conn.Write(ctx, websocket.MessageText, []byte(body)) != nil {
			return // the program was ended
		}
	}
	for {
		kind, _, err := conn.Read(ctx)
		if err != nil {
			return
		}
		if kind == websocket.MessageBinary {
			u.count("drags on the live channel")
			conn.Close(websocket.StatusNormalClosure, "")
			return
		}
	}
}

var exported = []string{"files/plan.json", "files/parts.csv", "files/parts.xlsx", "files/zones.csv", "files/heads.csv", "files/findings.csv", ""}

func (u *soakUser) export(p *ownPlan) {
	path := "/plans/" + p.id + "/" + exported[u.pick.IntN(len(exported))]
	u.expect("lists and files exported", u.client.get(strings.TrimSuffix(path, "/")))
}

func (u *soakUser) readHistory(p *ownPlan) {
	u.expect("histories read", u.client.get("/api/plans/"+p.id+"/history"))
}

// copy makes a plan of a plan; what its history is, the copy says itself.
func (u *soakUser) copy(p *ownPlan) {
	if len(u.plans) >= 4 {
		return
	}
	a := u.client.post("/api/plans/"+p.id+"/copy", 0, map[string]string{"name": fmt.Sprintf("Copy by user %d", u.n)})
	if !u.expect("plans copied", a) {
		return
	}
	h, err := a.held()
	if err != nil {
		u.fault("a copy: an answer that cannot be read")
		return
	}
	now, ok := u.load(h.ID)
	if !ok {
		return
	}
	lines, err := u.client.history(h.ID)
	if err != nil {
		u.pause()
		return // the program was ended meanwhile; the copy is nobody's then
	}
	c := &ownPlan{id: h.ID, rev: now.Rev, doc: now.Doc}
	for _, l := range lines[min(1, len(lines)):] {
		c.line = append(c.line, l.Label)
	}
	u.plans = append(u.plans, c)
}

// remove deletes a copy.
func (u *soakUser) remove(p *ownPlan) {
	if len(u.plans) < 3 || p == u.plans[0] {
		return
	}
	a := u.client.ask("DELETE", "/api/plans/"+p.id, "application/json", []byte("{}"), p.rev, "")
	for a.status == 0 { // was it deleted? asking again tells
		u.pause()
		a = u.client.ask("DELETE", "/api/plans/"+p.id, "application/json", []byte("{}"), p.rev, "")
	}
	if a.ok() || a.status == http.StatusNotFound {
		u.count("plans deleted")
		u.plans = slices.DeleteFunc(u.plans, func(o *ownPlan) bool { return o == p })
		return
	}
	u.expect("plans deleted", a)
}

func (u *soakUser) putAway(p *ownPlan) {
	for _, path := range []string{"/archive", "/unarchive"} {
		if !u.expect("plans put away and brought back", u.client.post("/api/plans/"+p.id+path, p.rev, struct{}{})) {
			return
		}
	}
}

// upload sends a small picture and lays it under the plan.
func (u *soakUser) upload(p *ownPlan) {
	pic := image.NewGray(image.Rect(0, 0, 64, 48))
	for x := range 64 {
		for y := range 48 {
			pic.Set(x, y, color.Gray{uint8(u.pick.IntN(256))})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, pic); err != nil {
		panic(err) // a picture of our own making
	}
	a := u.client.ask("POST", "/api/plans/"+p.id+"/picture", "image/png", b.Bytes(), 0, "")
	if !u.expect("pictures uploaded", a) {
		return
	}
	var kept struct{ SHA256 string }
	if err := json.Unmarshal(a.body, &kept); err != nil {
		u.fault("a picture: an answer that cannot be read")
		return
	}
	if u.pictures == nil {
		u.pictures = map[string][]byte{}
	}
	shown := u.client.get("/api/pictures/" + kept.SHA256)
	if !shown.ok() {
		u.expect("pictures shown", shown)
		return
	}
	u.pictures[kept.SHA256] = shown.body
	u.step(p, "pictures laid under a plan", fmt.Sprintf(`{"underlay":{"sha256":%q,"ft_per_px":0.5,"x_ft":0,"y_ft":0}}`, kept.SHA256))
}
