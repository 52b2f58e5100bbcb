package web

import (
	"bytes"
	"context"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/drawing"
	"evenfall/internal/packs"
)

// The steps of making papers, as a page shows them, and their shares.
const (
	reckoning      = "Reckoning the plan"
	reckoningShare = 0.1
	programming    = "Working out the watering program"
	programShare   = 0.5 // of a pack that is made from it
)

// paperKey is what tells one pack of a plan from another.
type paperKey struct {
	rev   int64
	asked packs.Asked
}

// papers is the pack that was made last for an open plan. It is kept while the plan is
// on the desk, so that turning its pages and saving it do not compose it again.
type papers struct {
	key  paperKey
	made *packs.Made
}

// paperMade is the pack of a key, if it is the last one made; nil otherwise.
func (o *opened) paperMade(key paperKey) *packs.Made {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.papers.made == nil || o.papers.key != key {
		return nil
	}
	return o.papers.made
}

func (o *opened) keepPapers(key paperKey, made *packs.Made) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.papers = papers{key, made}
}

// paperQuestion is one request for a pack of the stored plan.
type paperQuestion struct {
	question
	key paperKey
}

// file is the name that the pack is saved under.
func (q *paperQuestion) file() string {
	return slug(q.p.Name) + "-" + string(q.key.asked.Kind) + ".pdf"
}

// paperQuestion reads which pack is asked for, on what paper, at what scale and of what
// date. A request that names a revision gets the papers of that one or none: of an
// earlier one they can be had as long as they are kept.
func (s *Site) paperQuestion(r *http.Request) (paperQuestion, error) {
	kind := packs.Kind(chi.URLParam(r, "kind"))
	if kind.Title() == "" {
		return paperQuestion{}, refuse(http.StatusNotFound, "No pack is named “%s”; there are crew, owner and office.", clipped(string(kind)))
	}
	o, saved, p, err := s.opening(r)
	if err != nil {
		return paperQuestion{}, err
	}
	asked := packs.Asked{Kind: kind}
	get := r.URL.Query().Get
	if asked.Paper, err = paperAsked(get("paper"), p.Show); err != nil {
		return paperQuestion{}, err
	}
	if asked.Scale, err = scaleAsked(get("scale"), p.Show); err != nil {
		return paperQuestion{}, err
	}
	if asked.Date, err = dateAsked(get("date")); err != nil {
		return paperQuestion{}, err
	}
	rev := saved.Rev
	if of := get("rev"); of != "" {
		if rev, err = strconv.ParseInt(of, 10, 64); err != nil {
			return paperQuestion{}, refuse(http.StatusBadRequest, "A revision of a plan is a number such as 12, and the request says “%s”.", clipped(of))
		}
	}
	asked.Revision = strconv.FormatInt(rev, 10)
	q := paperQuestion{question{o, saved.Rev, p}, paperKey{rev, asked}}
	if rev != saved.Rev && o.paperMade(q.key) == nil {
		return paperQuestion{}, errPapersGone
	}
	return q, nil
}

// errPapersGone says that papers of an earlier revision are not kept any more.
var errPapersGone = refuse(http.StatusPreconditionFailed, "The plan has changed since these papers were made. Make them anew.")

// pack is the pack of a question, made now unless it was the last one made.
func (s *Site) pack(ctx context.Context, q paperQuestion, g *stages) (*packs.Made, error) {
	if made := q.o.paperMade(q.key); made != nil {
		return made, nil
	}
	if q.key.rev != q.rev { // it was kept a moment ago
		return nil, errPapersGone
	}
	g.tell(reckoning, 0)
	var d *design.Design
	err := s.run(ctx, q.o, q.p, func(pic picture) error {
		d = pic.design // shared by then, and changed by nobody
		return nil
	})
	if err != nil {
		return nil, err
	}
	in, done := packs.Input{Plan: q.p, Design: d, Photo: s.pictureAtHand(ctx)}, reckoningShare
	if q.key.asked.Kind.ReadsProgram() {
		in, err = s.wateredInTime(ctx, q.question, in, func(part, of int) {
			g.tell(programming, reckoningShare+programShare*float64(part)/float64(max(of, 1)))
		})
		if err != nil {
			return nil, err
		}
		done += programShare
	}
	made, err := packs.Make(ctx, in, q.key.asked, func(step string, share float64) {
		g.tell(step, done+(1-done)*share)
	})
	if err != nil {
		return nil, err
	}
	q.o.keepPapers(q.key, made)
	return made, nil
}

// wateredInTime is watered, for which half of the time there is may be used: without its
// program a pack is better than none.
func (s *Site) wateredInTime(ctx context.Context, q question, in packs.Input, tell coverage.Progress) (packs.Input, error) {
	some, cancel := ctx, context.CancelFunc(func() {})
	if until, ok := ctx.Deadline(); ok {
		some, cancel = context.WithTimeout(ctx, time.Until(until)/2)
	}
	defer cancel()
	out, err := s.watered(some, q, in, tell)
	if err != nil && ctx.Err() == nil && some.Err() != nil {
		in.NoProgram = "It takes longer than papers wait for. Work it out on the plan's page first."
		return in, nil
	}
	return out, err
}

// madeNow is a pack for an answer that is wanted whole, without lines on the way.
func (s *Site) madeNow(ctx context.Context, q paperQuestion) (made *packs.Made, err error) {
	if made := q.o.paperMade(q.key); made != nil {
		return made, nil
	}
	err = s.within(ctx, computeMost, []chan struct{}{q.o.estimating, s.long}, func(ctx context.Context) error {
		made, err = s.pack(ctx, q, &stages{tell: func(string, float64) {}})
		return err
	})
	return made, err
}

// packFile hands out a pack as PDF, to be saved and printed.
func (s *Site) packFile(w http.ResponseWriter, r *http.Request) {
	q, err := s.paperQuestion(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	made, err := s.madeNow(r.Context(), q)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	var b bytes.Buffer
	err = s.within(r.Context(), computeMost, []chan struct{}{s.cores}, func(context.Context) error {
		return drawing.WritePDF(&b, made.Document, q.key.asked.Date)
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.attach(w, r, q.file(), b.Bytes())
}

// packPage shows one page of a pack as it is printed.
func (s *Site) packPage(w http.ResponseWriter, r *http.Request) {
	page, made, err := s.pageAsked(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	var b bytes.Buffer
	if err := drawing.WriteSVG(&b, &made.Document.Pages[page]); err != nil {
		s.fail(w, r, err)
		return
	}
	s.look(w, r, ".svg", b.Bytes())
}

// look sends what may be looked at by itself, and does nothing then.
func (s *Site) look(w http.ResponseWriter, r *http.Request, kind string, b []byte) {
	h := w.Header()
	h.Set("Content-Security-Policy", filePolicy)
	h.Set("Content-Type", fileKinds[kind])
	h.Set("Content-Length", strconv.Itoa(len(b)))
	s.write(w, r, b)
}

func (s *Site) pageAsked(r *http.Request) (int, *packs.Made, error) {
	q, err := s.paperQuestion(r)
	if err != nil {
		return 0, nil, err
	}
	n, err := strconv.Atoi(chi.URLParam(r, "page"))
	if err != nil || n < 1 {
		return 0, nil, refuse(http.StatusBadRequest, "Pages are counted from 1, and the request asks for page “%s”.", clipped(chi.URLParam(r, "page")))
	}
	made, err := s.madeNow(r.Context(), q)
	if err != nil {
		return 0, nil, err
	}
	if most := len(made.Document.Pages); n > most {
		return 0, nil, refuse(http.StatusNotFound, "The pack has %d pages; there is no page %d.", most, n)
	}
	return n - 1, made, nil
}

// packWords are the words of one page in lines, for who reads with the ears or
// searches: what the picture shows is in them too, as far as it has words.
func (s *Site) packWords(w http.ResponseWriter, r *http.Request) {
	page, made, err := s.pageAsked(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.look(w, r, ".txt", []byte(strings.Join(drawing.Words(&made.Document.Pages[page]), "\n")+"\n"))
}

// packView answers with what a pack holds, once it is made, telling how far it is.
func (s *Site) packView(w http.ResponseWriter, r *http.Request) {
	q, err := s.paperQuestion(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		made, err := s.pack(ctx, q, g)
		if err != nil {
			return nil, err
		}
		return packWordsOf(q, made), nil
	})
}
