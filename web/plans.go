package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"
	jsonv2 "github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"evenfall/internal/plan"
	"evenfall/internal/starts"
	"evenfall/internal/units"
)

const (
	jsonKind  = "application/json"
	patchKind = "application/merge-patch+json"
	geoKind   = "application/geo+json"
	csvKind   = "text/csv"
)

// labelHeader carries the label of a step, percent-encoded.
const labelHeader = "Evenfall-Label"

// stored is a plan as the page loads it.
type stored struct {
	Rev  int64           `json:"rev"`
	Doc  json.RawMessage `json:"doc"`
	Undo string          `json:"undo"`
	Redo string          `json:"redo"`
}

// committed is the answer to a step.
type committed struct {
	Rev  int64  `json:"rev"`
	Undo string `json:"undo"`
	Redo string `json:"redo"`
}

// walked is the answer to an undo or a redo.
type walked struct {
	stored
	Label string     `json:"label"`
	About []plan.Ref `json:"about"` // what the step touched
}

// load answers with the stored plan.
func (s *Site) load(w http.ResponseWriter, r *http.Request) {
	p, err := s.Plans.Load(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.Header().Set("ETag", tag(p.Rev))
	s.reply(w, r, http.StatusOK, stored{p.Rev, p.Doc, p.Undo, p.Redo})
}

// commit stores one step.
func (s *Site) commit(w http.ResponseWriter, r *http.Request) {
	base, err := revision(r)
	if err == nil {
		err = body(w, r, planMost, patchKind)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	label, err := url.PathUnescape(r.Header.Get(labelHeader))
	if err != nil {
		s.fail(w, r, refuse(http.StatusBadRequest, "The label of the step cannot be read: send it percent-encoded."))
		return
	}
	patch, err := io.ReadAll(r.Body)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	p, err := s.Plans.Commit(r.Context(), chi.URLParam(r, "id"), base, patch, label)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.desk.moved(p)
	w.Header().Set("ETag", tag(p.Rev))
	s.reply(w, r, http.StatusOK, committed{p.Rev, p.Undo, p.Redo})
}

func (s *Site) undo(w http.ResponseWriter, r *http.Request) { s.walk(w, r, s.Plans.Undo) }
func (s *Site) redo(w http.ResponseWriter, r *http.Request) { s.walk(w, r, s.Plans.Redo) }

// stepper is Undo or Redo of the store.
type stepper func(ctx context.Context, id string, base int64) (plan.Saved, plan.Step, error)

// walk moves a plan one step along its history.
func (s *Site) walk(w http.ResponseWriter, r *http.Request, by stepper) {
	base, err := revision(r)
	if err == nil {
		err = body(w, r, smallMost, jsonKind)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	p, step, err := by(r.Context(), chi.URLParam(r, "id"), base)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.desk.moved(p)
	refs, err := about(step.Patch)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.Header().Set("ETag", tag(p.Rev))
	s.reply(w, r, http.StatusOK, walked{stored{p.Rev, p.Doc, p.Undo, p.Redo}, step.Label, refs})
}

// newPlan is the body of a request to make a plan.
type newPlan struct {
	Name  string         `json:"name"`
	Show  units.System   `json:"show"`
	Doc   jsontext.Value `json:"doc"`   // a whole plan to start from
	Start string         `json:"start"` // or a typical yard
}

// create makes a plan, empty or from a plan file.
func (s *Site) create(w http.ResponseWriter, r *http.Request) {
	if err := body(w, r, planMost, jsonKind); err != nil {
		s.fail(w, r, err)
		return
	}
	var asked newPlan
	b, err := io.ReadAll(r.Body)
	if err == nil {
		err = readStrictly(b, &asked)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	doc, err := asked.document()
	if err != nil {
		s.fail(w, r, err)
		return
	}
	p, err := s.Plans.Create(r.Context(), doc)
	s.made(w, r, p, err)
}

// demo answers with the demo plan as it comes: one in the list, or else a new one.
func (s *Site) demo(w http.ResponseWriter, r *http.Request) {
	if err := body(w, r, smallMost, jsonKind); err != nil {
		s.fail(w, r, err)
		return
	}
	if len(s.Demo) == 0 {
		s.fail(w, r, refuse(http.StatusNotFound, "This program was built without a demo plan."))
		return
	}
	id, err := s.findDemo(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	if id != "" {
		s.reply(w, r, http.StatusOK, map[string]string{"id": id})
		return
	}
	p, err := s.Plans.Create(r.Context(), s.Demo)
	s.made(w, r, p, err)
}

// findDemo is the plan in the list that is the demo as it comes; "" when there
// is none. A damaged plan is not it.
func (s *Site) findDemo(ctx context.Context) (string, error) {
	list, err := s.Plans.List(ctx)
	if err != nil {
		return "", err
	}
	for _, l := range list {
		if s.isDemo(l.SHA256) && !l.Damaged {
			return l.ID, nil
		}
	}
	return "", nil
}

// document is what the new plan starts from. A name asked for wins over the one
// in a file.
func (n newPlan) document() ([]byte, error) {
	if n.Start != "" {
		yard, ok := starts.Find(n.Start)
		if !ok {
			return nil, refuse(http.StatusUnprocessableEntity, "There is no typical yard called %q. Choose one of those shown.", n.Start)
		}
		if strings.TrimSpace(n.Name) == "" {
			n.Name = yard.Name
		}
		return yard.Plan(n.Name, n.Show).Encode(), nil
	}
	if len(n.Doc) == 0 {
		if strings.TrimSpace(n.Name) == "" {
			return nil, refuse(http.StatusUnprocessableEntity, "Give the plan a name.")
		}
		return plan.Empty(n.Name, n.Show).Encode(), nil
	}
	p, err := plan.Decode(n.Doc)
	if err != nil {
		return nil, err
	}
	if n.Name != "" {
		p.Name = n.Name
	}
	if n.Show != "" {
		p.Show = n.Show
	}
	return p.Encode(), nil
}

// remove deletes a plan.
func (s *Site) remove(w http.ResponseWriter, r *http.Request) {
	base, err := revision(r)
	if err == nil {
		err = body(w, r, smallMost, jsonKind)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	id := chi.URLParam(r, "id")
	if err := s.Plans.Delete(r.Context(), id, base); err != nil {
		s.fail(w, r, err)
		return
	}
	s.desk.gone(id)
	w.WriteHeader(http.StatusNoContent)
}

// readStrictly reads a JSON object of a known shape.
func readStrictly(b []byte, v any) error {
	err := jsonv2.Unmarshal(b, v, jsonv2.RejectUnknownMembers(true))
	var syntax *jsontext.SyntacticError
	var meaning *jsonv2.SemanticError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &syntax):
		return refuse(http.StatusBadRequest, "The request is not JSON: it breaks off or goes wrong at byte %d.", syntax.ByteOffset)
	case errors.As(err, &meaning):
		return refuse(http.StatusBadRequest, "The request holds something not expected here, at %q. Take it out or correct it.", string(meaning.JSONPointer))
	}
	return refuse(http.StatusBadRequest, "The request cannot be read. Send it again.")
}

var ifMatch = regexp.MustCompile(`^"([0-9]{1,18})"$`)

// revision reads the revision a request says it changes. There is no way to
// change a plan without saying so.
func revision(r *http.Request) (int64, error) {
	said := r.Header.Get("If-Match")
	if said == "" || said == "*" {
		return 0, errNoMatch
	}
	m := ifMatch.FindStringSubmatch(said)
	if m == nil {
		return 0, refuse(http.StatusBadRequest, "If-Match must be one revision in quotes, such as \"3\".")
	}
	rev, err := strconv.ParseInt(m[1], 10, 64)
	if err != nil {
		return 0, refuse(http.StatusBadRequest, "If-Match must be one revision in quotes, such as \"3\".")
	}
	return rev, nil
}

// tag is the ETag of a revision.
func tag(rev int64) string { return `"` + strconv.FormatInt(rev, 10) + `"` }

// about lists the things a patch touches as far as they are in collections:
// "heads/h7". The patch has been read strictly before it was stored.
func about(p plan.Patch) ([]plan.Ref, error) {
	var members map[string]jsontext.Value
	if err := jsonv2.Unmarshal(p, &members); err != nil {
		return nil, fmt.Errorf("web: a stored patch: %w", err)
	}
	refs := []plan.Ref{}
	for _, collection := range slices.Sorted(maps.Keys(members)) {
		var things map[plan.ID]jsontext.Value
		if collection == "site" && hasMember(members[collection], "lot") {
			refs = append(refs, plan.RefToLot)
		}
		if notThings[collection] || jsonv2.Unmarshal(members[collection], &things) != nil {
			continue // a single value
		}
		for _, id := range plan.SortedIDs(things) {
			refs = append(refs, plan.RefTo(collection, id))
		}
	}
	return refs, nil
}

// hasMember reports whether a value is an object with the member.
func hasMember(v jsontext.Value, name string) bool {
	var all map[string]jsontext.Value
	if jsonv2.Unmarshal(v, &all) != nil {
		return false
	}
	_, ok := all[name]
	return ok
}

// notThings are the members of a plan that are one object, not many by id.
var notThings = map[string]bool{
	"site": true, "options": true, "supply": true, "controller": true, "watering": true, "proof": true, "underlay": true,
}

// slug makes a file name of a plan's name: letters and digits of ASCII, the
// rest dashes.
func slug(name string) string {
	var b strings.Builder
	dash := false
	for _, c := range strings.ToLower(name) {
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			b.WriteRune(c)
			dash = false
		} else if !dash && b.Len() > 0 {
			b.WriteByte('-')
			dash = true
		}
		if b.Len() >= 60 {
			break
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s
	}
	return "plan"
}
