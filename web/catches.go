package web

import (
	"bytes"
	"encoding/json"
	"net/http"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// CatchesRead is what came of reading a file of catches into an audit: the value of POST
// /api/plans/{id}/catches?audit=ID.
type CatchesRead struct {
	Rev    int64           `json:"rev"`
	Says   string          `json:"says"`
	Errors []CatchesError  `json:"errors"` // while there are any, there is no patch
	Notes  []string        `json:"notes"`
	Patch  json.RawMessage `json:"patch,omitempty"`
	Label  string          `json:"label"`
}

// CatchesError is a mistake of the file.
type CatchesError struct {
	Line     int    `json:"line"` // 0: the whole file
	Sentence string `json:"sentence"`
}

// readCatches reads a file of catches for the stored plan and answers with the step that
// writes them. Nothing is kept: the page that takes it makes the step.
func (s *Site) readCatches(w http.ResponseWriter, r *http.Request) {
	b, err := sent(w, r, catalog.MaxTableBytes, csvKind)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	read, err := proof.ReadCatches(q.p, plan.ID(r.URL.Query().Get("audit")), bytes.NewReader(b))
	if err != nil {
		s.fail(w, r, refuse(http.StatusUnprocessableEntity, "%s", sentence(err.Error())))
		return
	}
	v := &CatchesRead{Rev: q.rev, Says: read.Says, Errors: []CatchesError{}, Notes: orEmpty(read.Notes), Patch: patchOf(read.Patch), Label: read.Label}
	for _, e := range read.Errors {
		says := sentence(e.Sentence)
		if e.Column != "" {
			says = "Column " + e.Column + ": " + says
		}
		v.Errors = append(v.Errors, CatchesError{e.Line, says})
	}
	s.reply(w, r, http.StatusOK, v)
}
