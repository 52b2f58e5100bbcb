package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/season"
)

// WhatIf is a plan under other circumstances than the drawing's: map and readings
// together, with the assumption that both rest on.
type WhatIf struct {
	Kind     string    `json:"kind"` // field | windy
	Rev      int64     `json:"rev"`  // of the stored plan it was made from
	Says     string    `json:"says"` // the assumption, in a sentence
	Frame    FrameView `json:"frame"`
	Readings Readings  `json:"readings"`
	Gaps     []GapView `json:"gaps"`
	Cells    []byte    `json:"cells"` // of the map, southernmost row first
}

// asked is what was last worked out on request for one open plan. It is kept for
// one revision, so that going back and forth costs nothing.
type asked struct {
	rev       int64
	installed *coverage.Installed
	windy     *coverage.Picture
	program   *season.Program
	proof     *ProofView
	audit     *AuditView // the one asked for last
}

// recall is what is kept for a revision.
func (o *opened) recall(rev int64) asked {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.asked.rev != rev {
		return asked{rev: rev}
	}
	return o.asked
}

// remember keeps what was worked out for a revision, unless a newer one is stored.
func (o *opened) remember(a asked) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if a.rev != o.saved.Rev {
		return
	}
	if o.asked.rev == a.rev {
		if a.installed == nil {
			a.installed = o.asked.installed
		}
		if a.windy == nil {
			a.windy = o.asked.windy
		}
		if a.program == nil {
			a.program = o.asked.program
		}
		if a.proof == nil {
			a.proof = o.asked.proof
		}
		if a.audit == nil {
			a.audit = o.asked.audit
		}
	}
	o.asked = a
}

// question is one request for what takes long, about the stored plan.
type question struct {
	o   *opened
	rev int64
	p   *plan.Plan
}

// question reads a request; a page that names the revision it shows is told when
// another is stored.
func (s *Site) question(r *http.Request) (question, error) {
	o, saved, p, err := s.opening(r)
	if err != nil {
		return question{}, err
	}
	if asked := r.URL.Query().Get("rev"); asked != "" && asked != strconv.FormatInt(saved.Rev, 10) {
		return question{}, &plan.Stale{Now: saved.Rev}
	}
	return question{o, saved.Rev, p}, nil
}

// estimates are the field estimates of the areas, if they are worked out already.
func (q question) estimates() []coverage.Estimate {
	if a := q.o.recall(q.rev); a.installed != nil {
		return a.installed.Areas
	}
	return nil
}

func (q question) installed(ctx context.Context, tell coverage.Progress) (*coverage.Installed, error) {
	a := q.o.recall(q.rev)
	if a.installed != nil {
		return a.installed, nil
	}
	in, err := coverage.Install(ctx, q.p, coverage.UsualSeed, coverage.UsualDraws, tell)
	if err != nil {
		return nil, err
	}
	a.installed = in
	q.o.remember(a)
	return in, nil
}

func (q question) windy(ctx context.Context, tell coverage.Progress) (*coverage.Picture, error) {
	a := q.o.recall(q.rev)
	if a.windy != nil {
		return a.windy, nil
	}
	w, err := coverage.Windy(ctx, q.p, coverage.WindOf(q.p), tell)
	if err != nil {
		return nil, err
	}
	a.windy = w
	q.o.remember(a)
	return w, nil
}

// The steps of the jobs, as a page shows them.
const (
	settingOut = "Setting the heads out by hand, time after time"
	blowing    = "Letting the wind blow, head after head"
	windowing  = "Looking for the driest windows"
)

// field answers with the map of a typical installation and its readings.
func (s *Site) field(w http.ResponseWriter, r *http.Request) {
	s.whatIf(w, r, func(ctx context.Context, q question, g *stages) (*WhatIf, error) {
		in, err := q.installed(ctx, g.stage(settingOut, 1))
		if err != nil {
			return nil, err
		}
		m := maker{p: q.p, r: in.Typical.Result, sys: q.p.Show}
		v := m.whatIf("field", q.rev, in.Typical)
		if e := in.LeastEven(); e != nil {
			v.Says = m.fieldSays(in.Draws, e)
			v.Readings.Evenness = m.fieldEvenness(in, e)
		}
		return v, nil
	})
}

// windy answers with the map of a windy day and its readings.
func (s *Site) windy(w http.ResponseWriter, r *http.Request) {
	s.whatIf(w, r, func(ctx context.Context, q question, g *stages) (*WhatIf, error) {
		pic, err := q.windy(ctx, g.stage(blowing, 1))
		if err != nil {
			return nil, err
		}
		m := maker{p: q.p, r: pic.Result, sys: q.p.Show}
		v := m.whatIf("windy", q.rev, pic)
		v.Says = m.windSays()
		v.Readings.Evenness.Label = m.ofLeastEven("Uniformity in a wind of " + m.windWords())
		return v, nil
	})
}

func (s *Site) whatIf(w http.ResponseWriter, r *http.Request, work func(context.Context, question, *stages) (*WhatIf, error)) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) { return work(ctx, q, g) })
}

// whatIf puts a picture into words.
func (m *maker) whatIf(kind string, rev int64, pic *coverage.Picture) *WhatIf {
	g := pic.Frame()
	return &WhatIf{
		Kind: kind, Rev: rev, Frame: FrameView{g.Origin[0], g.Origin[1], g.Cell, g.NX, g.NY},
		Readings: m.readings(), Gaps: m.gaps(), Cells: pic.Cells(),
	}
}

// fieldSays is what the map of a typical installation rests on.
func (m *maker) fieldSays(draws int, e *coverage.Estimate) string {
	says := fmt.Sprintf("Heads set by hand, off by %s, %s of throw and flow and %s of arc; typical of %d installations",
		m.sys.Inches(coverage.StrayPlace.Inches()), m.sys.Percent(coverage.StrayThrow), m.sys.Angle(coverage.StrayArc), draws)
	if e.P10 < 0.005 {
		return says + "." // nothing comes out under 0 %
	}
	return says + ", 1 in 10 comes out under " + m.sys.Percent(e.P10) + "."
}

func (m *maker) fieldEvenness(in *coverage.Installed, e *coverage.Estimate) Reading {
	label := fmt.Sprintf("Field estimate, the mean of %d installations", in.Draws)
	if len(in.Areas) > 1 {
		label += ": " + m.p.AreaName(e.ID) + ", the least even area"
	}
	return Reading{Text: m.sys.Percent(e.Mean), Label: label, Rank: rankOf(e.Mean)}
}

// windSays is what the map of a windy day rests on.
func (m *maker) windSays() string {
	wind := coverage.WindOf(m.p)
	if wind.Speed == 0 {
		return "No wind: give the plan one in its settings."
	}
	return fmt.Sprintf("%s: the water lands about %s of its distance further downwind. That is an assumption, not a measurement.",
		plan.Capital(m.windWords()), m.sys.Percent(wind.Drift()))
}

// windWords is the plan's wind: "8 mph from the west".
func (m *maker) windWords() string {
	speed, _ := m.p.Site.Wind()
	return m.sys.Speed(speed) + " from " + m.p.Site.WindFrom()
}

// estimate answers with the figures of both circumstances by area, and with the
// scheduling coefficient by size of window.
func (s *Site) estimate(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		in, err := q.installed(ctx, g.stage(settingOut, 0.7))
		if err != nil {
			return nil, err
		}
		pic, err := q.windy(ctx, g.stage(blowing, 0.2))
		if err != nil {
			return nil, err
		}
		g.tell(windowing, g.done)
		windows, err := coverage.SchedulingCoefficients(ctx, q.p)
		if err != nil {
			return nil, err
		}
		day := design.InWind(coverage.WindOf(q.p), pic.Result)
		return map[string]any{
			"rev": q.rev, "areas": estimateViews(q.p, in.Areas, day), "wind": (&maker{p: q.p, sys: q.p.Show}).windWords(),
			"scheduling": windowsViews(q.p, windows),
		}, nil
	})
}

// errNotWorkedOut says that a place was asked about before its map was there.
var errNotWorkedOut = refuse(http.StatusConflict, "This has not been worked out for the plan as it is stored. Choose it on the board first.")

// asWorkedOut is the picture that a place is asked about: "field" or "windy".
func (q question) asWorkedOut(kind string) (*coverage.Picture, error) {
	a := q.o.recall(q.rev)
	switch {
	case kind == "field" && a.installed != nil:
		return a.installed.Typical, nil
	case kind == "windy" && a.windy != nil:
		return a.windy, nil
	}
	return nil, errNotWorkedOut
}
