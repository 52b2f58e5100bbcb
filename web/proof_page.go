package web

import (
	"cmp"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"evenfall/internal/plan"
	"evenfall/web/view"
)

// yardPage is the page for the yard. Without its script, and where only the log is asked
// for, it is the log as it stands, to be read and printed.
func (s *Site) yardPage(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	v, err := s.proven(r.Context(), q)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m := view.YardModel{
		ID: q.o.id, Name: q.p.Name, Date: s.Now().Format("2 January 2006"), Rev: q.rev, Empty: nothingToProve(q.p),
		LogOnly: r.URL.Query().Get("show") == "log",
		Parts:   yardLog(q.p, v), Photos: yardPhotos(q.p),
	}
	s.show(w, r, http.StatusOK, view.Yard(m))
}

// nothingToProve says why a plan has little to start up or to set; "" where it has.
func nothingToProve(p *plan.Plan) string {
	switch {
	case len(p.Heads) == 0 && len(p.Zones) == 0:
		return "No head and no zone is drawn yet: draw the system on the board first, as it is or as it will be. Wires can be found and photographs kept without."
	case len(p.Heads) == 0:
		return "No head is drawn yet: there is no nozzle to set and nothing to catch."
	case len(p.Zones) == 0:
		return "No zone is drawn yet: there is nothing to run by hand. Put the heads in zones on the board first."
	}
	return ""
}

// yardPhotos are the photographs of a plan, the last taken first.
func yardPhotos(p *plan.Plan) []view.YardPhoto {
	ids := plan.SortedIDs(p.Photos)
	slices.SortStableFunc(ids, func(a, b plan.ID) int { return cmp.Compare(p.Photos[b].On, p.Photos[a].On) })
	list := make([]view.YardPhoto, 0, len(ids))
	for _, id := range ids {
		photo := p.Photos[id]
		row := view.YardPhoto{Href: "/api/pictures/" + photo.SHA256, Says: photoSays(p, photo)}
		if photo.WidthPx > 0 && photo.HeightPx > 0 {
			row.Wide, row.High = strconv.Itoa(photo.WidthPx), strconv.Itoa(photo.HeightPx)
		}
		list = append(list, row)
	}
	return list
}

// photoSays is what a photograph shows: its caption, the thing it is of, its date.
func photoSays(p *plan.Plan, photo plan.Photo) string {
	var parts []string
	if photo.Caption != "" {
		parts = append(parts, photo.Caption)
	}
	if photo.About != "" {
		parts = append(parts, p.Label(photo.About))
	}
	if photo.On != "" {
		parts = append(parts, photo.On)
	}
	if len(parts) == 0 {
		return "Photograph"
	}
	return plan.Capital(strings.Join(parts, ", "))
}
