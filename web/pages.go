package web

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"path"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"evenfall/internal/plan"
	"evenfall/internal/starts"
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
		m.Plans = append(m.Plans, s.planRow(l))
	}
	for _, y := range starts.All() {
		m.Starts = append(m.Starts, view.StartRow{ID: y.ID, Name: y.Name, About: y.About})
	}
	s.show(w, r, http.StatusOK, view.Plans(m))
}

// planRow describes a plan in the list. A damaged plan is listed as such, so
// that it does not hide the others.
func (s *Site) planRow(l plan.Listed) view.PlanRow {
	row := view.PlanRow{
		ID: l.ID, Name: l.Name, Rev: l.Rev, Damaged: l.Damaged, Archived: !l.Archived.IsZero(), Demo: s.isDemo(l.SHA256),
		Changed: clock(l.Changed), ChangedAt: rfc(l.Changed),
	}
	switch {
	case l.Damaged:
		row.Contents = "damaged: open it to see what can be brought back"
	case !l.Counted:
		row.Contents = "cannot be read: open it to see why"
	default:
		row.Contents = contents(l.Contents)
	}
	if l.Contents.LotFt2 > 0 && l.Counted {
		row.Size = l.Contents.Show.Area(l.Contents.LotFt2)
	}
	return row
}

// clock writes a time for a page whose script has not run: the script puts it
// into the reader's own zone.
func clock(t time.Time) string {
	if t.IsZero() {
		return noTime
	}
	return t.UTC().Format("2 Jan 2006, 15:04 UTC")
}

// contents says what is in a plan.
func contents(c plan.Contents) string {
	if c.Areas == 0 && c.Heads == 0 {
		return "nothing drawn yet"
	}
	return plan.Series([]string{
		plan.Plural(c.Areas, "area", "areas"),
		plan.Plural(c.Heads, "head", "heads"),
		plan.Plural(c.Zones, "zone", "zones"),
	})
}

// isDemo reports whether a document, of which this is the checksum, is the demo
// as it comes.
func (s *Site) isDemo(sum string) bool { return s.demoSum != "" && sum == s.demoSum }

// boardPage is the page of one plan. All it shows comes by the JSON interface.
func (s *Site) boardPage(w http.ResponseWriter, r *http.Request) {
	saved, err := s.Plans.Load(r.Context(), chi.URLParam(r, "id"))
	var damage *plan.Damaged
	if errors.As(err, &damage) {
		s.damagedPage(w, r, damage)
		return
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	p, err := plan.Decode(saved.Doc)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.show(w, r, http.StatusOK, view.Board(view.BoardModel{ID: saved.ID, Name: p.Name, Rev: saved.Rev, Demo: s.isDemo(plan.Digest(saved.Doc))}))
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
