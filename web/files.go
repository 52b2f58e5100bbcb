package web

import (
	"bytes"
	"context"
	"net/http"
	"path"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"

	"evenfall/internal/design"
	"evenfall/internal/packs"
	"evenfall/internal/plan"
)

// fileKinds are the kinds of the files a plan is handed out as.
var fileKinds = map[string]string{
	".json":    jsonKind,
	".geojson": geoKind,
	".csv":     "text/csv; charset=utf-8",
	".txt":     "text/plain; charset=utf-8",
	".svg":     "image/svg+xml",
	".pdf":     "application/pdf",
	".dxf":     "image/vnd.dxf",
	".ics":     "text/calendar; charset=utf-8",
	".xlsx":    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}

// file hands out one of the files of packs.Files, to be saved. A pack of sheets has
// a way of its own (packFile), with its paper and scale.
func (s *Site) file(w http.ResponseWriter, r *http.Request) {
	f, known := packs.FileOf(chi.URLParam(r, "name"))
	if !known || f.Pack != "" {
		s.fail(w, r, errNoPage)
		return
	}
	o, saved, p, err := s.opening(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	b, in := saved.Doc, packs.Input{Plan: p}
	if f.Program { // beside the plan's engine, as it takes longer than a picture
		err = s.within(r.Context(), computeMost, []chan struct{}{o.estimating, s.long}, func(ctx context.Context) (err error) {
			in, err = s.wateredInTime(ctx, question{o, saved.Rev, p}, in, nil)
			return err
		})
	}
	if f.Name != "plan.json" && err == nil {
		err = s.run(r.Context(), o, p, func(pic picture) error {
			var text bytes.Buffer
			in.Design = pic.design
			err := f.Write(r.Context(), &text, in, packs.Asked{Begins: s.Now().Format(time.DateOnly)}, nil)
			b = text.Bytes()
			return err
		})
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.attach(w, r, slug(p.Name)+"-"+f.Name, b)
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
