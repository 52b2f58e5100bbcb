package web

import (
	"bytes"
	"net/http"
	"path"
	"slices"
	"strconv"

	"github.com/go-chi/chi/v5"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// fileKinds are the kinds of the files a plan is handed out as.
var fileKinds = map[string]string{
	".json":    jsonKind,
	".geojson": geoKind,
	".csv":     "text/csv; charset=utf-8",
	".txt":     "text/plain; charset=utf-8",
	".svg":     "image/svg+xml",
	".xlsx":    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}

// file hands out the stored plan, or a list that follows from it, to be saved.
func (s *Site) file(w http.ResponseWriter, r *http.Request) {
	name := chi.URLParam(r, "name")
	table := tables[name]
	known := name == "plan.json" || name == "outlines.geojson" || table != nil || slices.Contains(sheets.Files, name)
	if !known {
		s.fail(w, r, errNoPage)
		return
	}
	o, saved, p, err := s.opening(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	var b []byte
	switch {
	case name == "plan.json":
		b = saved.Doc
	case name == "outlines.geojson":
		b, err = plan.ToGeoJSON(p)
	case table != nil:
		var list bytes.Buffer
		err = table(&list, p)
		b = list.Bytes()
	default:
		err = s.run(r.Context(), o, p, func(pic picture) error {
			var list bytes.Buffer
			err := sheets.WriteFile(&list, name, p, pic.design)
			b = list.Bytes()
			return err
		})
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.attach(w, r, slug(p.Name)+"-"+name, b)
}

// attach sends bytes as a file to be saved, and harmless if it is opened.
func (s *Site) attach(w http.ResponseWriter, r *http.Request, name string, b []byte) {
	h := w.Header()
	h.Set("Content-Security-Policy", filePolicy)
	h.Set("Content-Type", fileKinds[path.Ext(name)])
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	h.Set("Content-Length", strconv.Itoa(len(b)))
	s.write(w, r, b)
}

// schema hands out the description of a format.
func (s *Site) schema(w http.ResponseWriter, r *http.Request) {
	b, ok := schemas[chi.URLParam(r, "name")]
	if !ok {
		s.fail(w, r, errNoPage)
		return
	}
	w.Header().Set("Content-Type", "application/schema+json")
	s.write(w, r, b())
}

// schemas are the published descriptions of our formats, by file name.
var schemas = map[string]func() []byte{
	"plan.json":   plan.Schema,
	"report.json": design.Schema,
}
