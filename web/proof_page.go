package web

import (
	"net/http"
	"strconv"

	"evenfall/internal/plan"
	"evenfall/web/view"
)

// yardPage is the page for the yard. Without its script it is the log as it stands, to
// be read and printed.
func (s *Site) yardPage(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m := view.YardModel{ID: q.o.id, Name: q.p.Name, Date: s.Now().Format("2 January 2006"), Rev: q.rev, Photos: yardPhotos(q.p)}
	s.show(w, r, http.StatusOK, view.Yard(m))
}

// yardPhotos are the photographs of a plan in the order they were taken.
func yardPhotos(p *plan.Plan) []view.YardPhoto {
	var list []view.YardPhoto
	for _, id := range plan.SortedIDs(p.Photos) {
		photo := p.Photos[id]
		row := view.YardPhoto{Href: "/api/pictures/" + photo.SHA256, Says: photo.Caption}
		if photo.WidthPx > 0 && photo.HeightPx > 0 {
			row.Wide, row.High = strconv.Itoa(photo.WidthPx), strconv.Itoa(photo.HeightPx)
		}
		list = append(list, row)
	}
	return list
}
