package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"evenfall/internal/coverage"
)

// lines is the kind of an answer that says how far it is: JSON, one value a line.
const lines = "application/x-ndjson"

// jobMost is how long a job may take. It can be called off at any time and holds
// nobody up, so that it may take longer than what a page waits for.
const jobMost = 15 * time.Minute

// Jobs is how many long computations are asked for and not ended yet. A job
// whose page has gone away or called it off ends soon.
func (s *Site) Jobs() int { return int(s.jobs.Load()) }

// stages are the parts of one job, told as shares of the whole.
type stages struct {
	tell   func(step string, share float64)
	better func(make func() any)
	done   float64 // share of the stages before
}

// stage is the progress of a stage that takes a share of the job.
func (g *stages) stage(step string, share float64) coverage.Progress {
	from := g.done
	g.done += share
	return func(done, total int) { g.tell(step, from+share*float64(done)/float64(max(total, 1))) }
}

// best tells what the answer would be by now, which is made only if it is sent: at
// once the first time, then so seldom that the search is hardly slower for it. What
// could not be sent yet is sent with a later step, unless a better one is there by
// then.
func (g *stages) best(make func() any) { g.better(make) }

// job computes what takes too long for the drag path, and answers with it. It
// runs beside the plan's engine, one at a time for each plan, and on no core
// that pictures are computed on. A page that takes lines is told how far it is:
//
//	{"step":"Setting it out, 12 of 40","share":0.3}
//	{"best":…}
//	{"value":…} or {"error":"…","status":503}, the last
//
// Best is what the value would be if the work ended there, whole in itself: each
// takes the place of the one before, and a page that calls the work off keeps the
// last. Only searches tell any, by stages.best. Any other page gets the value
// alone. The work ends with the request.
func (s *Site) job(w http.ResponseWriter, r *http.Request, o *opened, work func(context.Context, *stages) (any, error)) {
	s.jobs.Add(1)
	defer s.jobs.Add(-1)
	told := &telling{s: s, w: w, r: r, last: -1, lines: strings.Contains(r.Header.Get("Accept"), lines)}
	// The whole request is here. Were its time to run out while the job is under
	// way, that would be taken for a page that has gone away.
	told.control(func(c *http.ResponseController) error { return c.SetReadDeadline(time.Time{}) })
	var value any
	err := s.within(r.Context(), jobMost, []chan struct{}{o.estimating, s.long}, func(ctx context.Context) (err error) {
		value, err = work(ctx, &stages{tell: told.step, better: told.better})
		return err
	})
	told.end(value, err)
}

// telling writes the answer of a job.
type telling struct {
	s     *Site
	w     http.ResponseWriter
	r     *http.Request
	lines bool
	last  int  // what was told last, in half percents
	begun bool // something is sent

	best func() any // not sent yet
	rest time.Time  // none is sent before
}

// The least time between two answers on the way, so that a page can follow, and
// how much longer that is than it takes to make and send one.
const (
	bestEvery = 200 * time.Millisecond
	bestPart  = 10
)

// better tells an answer on the way. It is called from the work's own goroutine.
func (t *telling) better(make func() any) {
	if !t.lines {
		return
	}
	t.best = make
	t.sendBest()
}

func (t *telling) sendBest() {
	begun := time.Now()
	if t.best == nil || begun.Before(t.rest) {
		return
	}
	t.line(map[string]any{"best": t.best()})
	t.best = nil
	now := time.Now()
	t.rest = now.Add(max(bestEvery, bestPart*now.Sub(begun)))
}

// step tells how far the job is, at most once for each half percent.
func (t *telling) step(step string, share float64) {
	t.sendBest()
	at := int(200 * share)
	if !t.lines || at <= t.last {
		return
	}
	t.last = at
	t.line(map[string]any{"step": step, "share": float64(at) / 200})
}

func (t *telling) end(value any, err error) {
	t.control(func(c *http.ResponseController) error { return c.SetWriteDeadline(time.Now().Add(writeTime)) })
	switch {
	case !t.lines && err != nil:
		t.s.fail(t.w, t.r, err)
	case !t.lines:
		t.s.reply(t.w, t.r, http.StatusOK, value)
	case err == nil:
		t.line(map[string]any{"value": value})
	case t.r.Context().Err() != nil && errors.Is(err, context.Canceled): // nobody is there any more
	case !t.begun: // nothing is sent yet: the answer may have a status of its own
		t.s.fail(t.w, t.r, err)
	default:
		status, said := explain(err)
		if status == http.StatusInternalServerError {
			t.s.Log.Error("job", "path", t.r.URL.Path, "error", err)
			said.Error = "Evenfall met a fault of its own while working this out. Your data is safe; try again."
		}
		t.line(map[string]any{"error": said.Error, "status": status})
	}
}

func (t *telling) line(v map[string]any) {
	b, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("web: a line of a job: %v", err))
	}
	if !t.begun {
		t.w.Header().Set("Content-Type", lines+"; charset=utf-8")
	}
	t.begun = true
	t.control(func(c *http.ResponseController) error { return c.SetWriteDeadline(time.Now().Add(writeTime)) })
	t.s.write(t.w, t.r, append(b, '\n'))
	t.control((*http.ResponseController).Flush)
}

// control does something to the connection; if that is gone, the writing will
// tell.
func (t *telling) control(do func(*http.ResponseController) error) {
	if err := do(http.NewResponseController(t.w)); err != nil && !errors.Is(err, http.ErrNotSupported) {
		t.s.Log.Debug("job not listened to", "path", t.r.URL.Path, "error", err)
	}
}
