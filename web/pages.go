package web

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"path"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/static"
	"evenfall/web/view"
)

// plansPage is the first page: the list of plans and ways to a new one.
func (s *Site) plansPage(w http.ResponseWriter, r *http.Request) {
	list, err := s.Plans.List(r.Context())
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m := view.PlansModel{DataPath: s.Data, Version: s.Version}
	for _, l := range list {
		row, err := s.planRow(r.Context(), l)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		m.Plans = append(m.Plans, row)
	}
	s.show(w, r, http.StatusOK, view.Plans(m))
}

// planRow describes a plan in the list. A damaged plan is listed as such, so
// that it does not hide the others.
func (s *Site) planRow(ctx context.Context, l plan.Listed) (view.PlanRow, error) {
	row := view.PlanRow{
		ID: l.ID, Name: l.Name, Rev: l.Rev,
		Changed:   l.Changed.Local().Format("2 Jan 2006, 15:04"),
		ChangedAt: l.Changed.UTC().Format(time.RFC3339),
	}
	saved, err := s.Plans.Load(ctx, l.ID)
	var damaged *plan.Damaged
	switch {
	case errors.As(err, &damaged):
		row.Contents = "damaged: " + damaged.Reason
		return row, nil
	case err != nil:
		return row, err
	}
	p, err := plan.Decode(saved.Doc)
	if err != nil {
		row.Contents = sentence(err.Error())
		return row, nil
	}
	row.Contents = contents(p)
	row.Size = ground(p)
	row.Demo = s.isDemo(saved.Doc)
	return row, nil
}

// contents says what is in a plan.
func contents(p *plan.Plan) string {
	if len(p.Areas) == 0 && len(p.Heads) == 0 {
		return "nothing drawn yet"
	}
	return plan.Series([]string{
		plan.Plural(len(p.Areas), "area", "areas"),
		plan.Plural(len(p.Heads), "head", "heads"),
		plan.Plural(len(p.Zones), "zone", "zones"),
	})
}

// ground is the size of the lot; "" when it is not drawn.
func ground(p *plan.Plan) string {
	if len(p.Site.Lot) > 0 {
		if polygon, err := geom.Polygon(p.Site.Lot, nil); err == nil {
			return p.Show.Area(units.SqFeet(geom.Area(orb.MultiPolygon{polygon})))
		}
	}
	return ""
}

// isDemo reports whether a document is the demo as it comes.
func (s *Site) isDemo(doc []byte) bool { return len(s.Demo) > 0 && bytes.Equal(doc, s.Demo) }

// boardPage is the page of one plan. All it shows comes by the JSON interface.
func (s *Site) boardPage(w http.ResponseWriter, r *http.Request) {
	saved, err := s.Plans.Load(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	p, err := plan.Decode(saved.Doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.show(w, r, http.StatusOK, view.Board(view.BoardModel{ID: saved.ID, Name: p.Name, Rev: saved.Rev, Demo: s.isDemo(saved.Doc)}))
}

// helpPage says how the board is used.
func (s *Site) helpPage(w http.ResponseWriter, r *http.Request) {
	s.show(w, r, http.StatusOK, view.Help(view.HelpModel{DataPath: s.Data, Version: s.Version}))
}

// staticKinds are the kinds of file that are built in.
var staticKinds = map[string]string{
	".js":    "text/javascript; charset=utf-8",
	".css":   "text/css; charset=utf-8",
	".svg":   "image/svg+xml",
	".woff2": "font/woff2",
}

// static hands out a file built into the program. The name is looked up as it
// stands; it never becomes a path on the disk.
func (s *Site) static(w http.ResponseWriter, r *http.Request) {
	name := chi.URLParam(r, "name")
	kind, ok := staticKinds[path.Ext(name)]
	if !ok || strings.ContainsAny(name, `/\`) {
		s.fail(w, r, errNoPage)
		return
	}
	b, err := static.Files.ReadFile(name)
	if err != nil {
		s.fail(w, r, errNoPage)
		return
	}
	sum := sha256.Sum256(b)
	etag := `"` + hex.EncodeToString(sum[:8]) + `"`
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Cache-Control", "no-cache") // asked for again each time, sent only when it changed
	h.Set("ETag", etag)
	if r.Header.Get("If-None-Match") == etag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	s.write(w, r, b)
}
