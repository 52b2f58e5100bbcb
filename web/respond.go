package web

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"unicode"
	"unicode/utf8"

	"github.com/a-h/templ"

	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/web/view"
)

// refusal is an answer that is not what was asked for, with its status and a
// sentence for the user.
type refusal struct {
	status   int
	sentence string
}

func (r *refusal) Error() string { return r.sentence }

func refuse(status int, format string, args ...any) error {
	return &refusal{status, fmt.Sprintf(format, args...)}
}

// The refusals that need no particulars.
var (
	errNoPage    = refuse(http.StatusNotFound, "There is nothing at this address. Go back to the list of plans.")
	errMethod    = refuse(http.StatusMethodNotAllowed, "This address does not take that kind of request.")
	errHost      = refuse(http.StatusMisdirectedRequest, "This server answers only to the address it printed when it started. Open that address.")
	errOtherSite = refuse(http.StatusForbidden, "Another site asked for this. Evenfall answers only to its own pages.")
	errEncoding  = refuse(http.StatusUnsupportedMediaType, "Compressed requests are not taken. Send it as it is.")
	errNoMatch   = refuse(http.StatusPreconditionRequired, "The request does not say which revision of the plan it changes. Send If-Match with the revision in quotes.")
)

// trouble is the JSON of an error.
type trouble struct {
	Error    string         `json:"error"` // a sentence for the user
	Rev      int64          `json:"rev,omitzero"`
	Problems []plan.Problem `json:"problems,omitempty"`
	Fault    string         `json:"fault,omitzero"` // number of the entry in the log
}

// fail answers with an error: as JSON to a program, as a page to a person.
func (s *Site) fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil && errors.Is(err, context.Canceled) {
		return // nobody is there any more
	}
	status, t := explain(err)
	if status == http.StatusInternalServerError {
		s.fault(w, r, err)
		return
	}
	if isAPI(r) {
		s.reply(w, r, status, t)
		return
	}
	s.show(w, r, status, view.ErrorPage(s.errorModel(status, t)))
}

// explain finds the status and the words for an error.
func explain(err error) (int, trouble) {
	var (
		ours     *refusal
		stale    *plan.Stale
		problems *plan.Problems
		problem  *plan.Problem
		number   *units.Refusal
		large    *http.MaxBytesError
		damaged  *plan.Damaged
	)
	t := trouble{Error: sentence(err.Error())}
	switch {
	case errors.As(err, &ours):
		return ours.status, t
	case errors.As(err, &large):
		return explain(tooLarge(large.Limit))
	case errors.Is(err, plan.ErrNotFound):
		return http.StatusNotFound, trouble{Error: sentence(plan.ErrNotFound.Error())}
	case errors.Is(err, plan.ErrNoPoint):
		return http.StatusNotFound, trouble{Error: sentence(plan.ErrNoPoint.Error())}
	case errors.Is(err, plan.ErrNothing):
		return http.StatusConflict, trouble{Error: sentence(plan.ErrNothing.Error())}
	case errors.Is(err, plan.ErrNoRoom):
		return http.StatusInsufficientStorage, trouble{Error: sentence(plan.ErrNoRoom.Error())}
	case errors.As(err, &stale):
		t.Rev = stale.Now
		return http.StatusPreconditionFailed, t
	case errors.As(err, &damaged):
		return http.StatusGone, t
	case errors.As(err, &problems):
		t.Problems = problems.List
		return http.StatusUnprocessableEntity, t
	case errors.As(err, &problem):
		t.Problems = []plan.Problem{*problem}
		return http.StatusUnprocessableEntity, t
	case errors.As(err, &number):
		return http.StatusUnprocessableEntity, t
	case errors.Is(err, context.Canceled):
		return http.StatusServiceUnavailable, trouble{Error: "Evenfall is being stopped. What was shown as saved is on disk; start it again."}
	case errors.Is(err, context.DeadlineExceeded):
		return http.StatusServiceUnavailable, trouble{Error: "This took longer than a minute and was stopped. Nothing was changed; try it on a smaller plan."}
	}
	return http.StatusInternalServerError, t
}

// fault answers an error nobody foresaw. The log gets the error under a number;
// the user gets the number and is told what is safe.
func (s *Site) fault(w http.ResponseWriter, r *http.Request, err error) {
	var b [4]byte
	if _, rerr := rand.Read(b[:]); rerr != nil {
		s.Log.Error("random", "error", rerr)
	}
	number := hex.EncodeToString(b[:])
	s.Log.Error("fault", "number", number, "method", r.Method, "path", r.URL.Path, "error", err)
	t := trouble{
		Error: "Evenfall met a fault of its own (number " + number + " in its log). Your data is safe: every change that was shown as saved is on disk. Load the page again.",
		Fault: number,
	}
	if isAPI(r) {
		s.reply(w, r, http.StatusInternalServerError, t)
		return
	}
	s.show(w, r, http.StatusInternalServerError, view.ErrorPage(view.ErrorModel{
		Status: http.StatusInternalServerError,
		Title:  "A fault in Evenfall",
		What:   "Evenfall met a fault of its own while making this page. It is number " + number + " in the log.",
		Next:   "Load the page again. If it happens again, start Evenfall again.",
		Safe:   "Your data is safe: every change that was shown as saved is on disk in " + s.Data + ".",
	}))
}

// titles head the error pages.
var titles = map[int]string{
	http.StatusNotFound:             "This is not here",
	http.StatusGone:                 "This plan is damaged",
	http.StatusMisdirectedRequest:   "Wrong address",
	http.StatusForbidden:            "Not from here",
	http.StatusUnprocessableEntity:  "This cannot be read",
	http.StatusServiceUnavailable:   "This took too long",
	http.StatusInsufficientStorage:  "The disk is full",
	http.StatusMethodNotAllowed:     "This cannot be asked here",
	http.StatusUnsupportedMediaType: "This is not taken",
}

func (s *Site) errorModel(status int, t trouble) view.ErrorModel {
	m := view.ErrorModel{Status: status, Title: titles[status], What: t.Error}
	if m.Title == "" {
		m.Title = "This did not work"
	}
	if status != http.StatusMisdirectedRequest && status != http.StatusForbidden {
		m.Next = "Go back to the list of plans."
		m.Safe = "Your plans are in " + s.Data + "."
	}
	return m
}

// reply writes a value as JSON.
func (s *Site) reply(w http.ResponseWriter, r *http.Request, status int, v any) {
	b, err := json.Marshal(v)
	if err != nil {
		if _, again := v.(trouble); again {
			panic(err)
		}
		s.fault(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(b)))
	w.WriteHeader(status)
	s.write(w, r, b)
}

// show renders a page, wholly before anything is sent.
func (s *Site) show(w http.ResponseWriter, r *http.Request, status int, page templ.Component) {
	var b bytes.Buffer
	if err := page.Render(r.Context(), &b); err != nil {
		s.Log.Error("render", "path", r.URL.Path, "error", err)
		http.Error(w, "This page could not be made. Your data is safe; load the page again.", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	s.write(w, r, b.Bytes())
}

// write sends an answer; a reader that went away is noted and no more.
func (s *Site) write(w http.ResponseWriter, r *http.Request, b []byte) {
	if r.Method == http.MethodHead {
		return
	}
	if _, err := w.Write(b); err != nil {
		s.Log.Debug("answer not taken", "path", r.URL.Path, "error", err)
	}
}

// sentence makes an error's text a sentence: capital first, full stop last.
func sentence(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	s = string(unicode.ToUpper(first)) + s[size:]
	if last := s[len(s)-1]; last != '.' && last != '?' && last != '!' {
		s += "."
	}
	return s
}
