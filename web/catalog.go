package web

import (
	"bytes"
	"net/http"

	"evenfall/internal/catalog"
)

// catalog answers with the built-in tables, which the page copies rows from, and
// with what their rows are called in metric plans.
func (s *Site) catalog(w http.ResponseWriter, r *http.Request) {
	s.reply(w, r, http.StatusOK, map[string]any{
		"nozzles": catalog.Nozzles(), "bodies": catalog.Bodies(), "metric_names": catalog.MetricNames(),
		"pipe_classes": catalog.PipeClasses(), "devices": catalog.Devices(), "backflow": backflowKinds(),
	})
}

// previewCatalog reads a user's table of nozzles, pipe or devices and answers with
// its rows and what is wrong with it. Nothing is kept: the page adds the rows to a
// plan.
func (s *Site) previewCatalog(w http.ResponseWriter, r *http.Request) {
	b, err := sent(w, r, csvMost, csvKind)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	switch of := r.URL.Query().Get("of"); of {
	case "", "nozzles":
		replyRows(s, w, r, catalog.ReadNozzles(bytes.NewReader(b)))
	case "pipes":
		replyRows(s, w, r, catalog.ReadPipes(bytes.NewReader(b)))
	case "devices":
		replyRows(s, w, r, catalog.ReadDevices(bytes.NewReader(b)))
	default:
		s.fail(w, r, refuse(http.StatusBadRequest, "A table of %q was sent; send one of nozzles, pipes or devices.", of))
	}
}

func replyRows[T any](s *Site, w http.ResponseWriter, r *http.Request, read *catalog.ImportOf[T]) {
	s.reply(w, r, http.StatusOK, map[string]any{"rows": orEmpty(read.Rows), "errors": orEmpty(read.Errors)})
}
