package web

import (
	"net/http"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/web/view"
)

// sleevesPage shows the sleeve drawing with its list, to be printed for whoever lays
// the paving.
func (s *Site) sleevesPage(w http.ResponseWriter, r *http.Request) {
	o, saved, p, err := s.opening(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m := view.SleevesModel{ID: saved.ID, Name: p.Name}
	err = s.run(r.Context(), o, p, func(pic picture) error {
		t := sheets.Sleeves(p, pic.design.Digs)
		for _, c := range t.Columns {
			m.Columns = append(m.Columns, c.Name)
		}
		for _, row := range t.Rows {
			cells := make([]string, len(row))
			for i, c := range row {
				cells[i] = c.String()
			}
			if cells[0] == sheets.NoteName { // notes stand under the table here
				for _, c := range cells[1:] {
					if c != "" {
						m.Notes = append(m.Notes, c)
					}
				}
				continue
			}
			m.Rows = append(m.Rows, cells)
		}
		if note := sheets.SupplyNote(p, &pic.design.Pressure.Supply); note != "" {
			m.Notes = append(m.Notes, note)
		}
		return nil
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m.Says = "Drawing of the paving with " + plan.Plural(len(m.Rows), "sleeve", "sleeves") + " to scale; the list below says where each lies."
	s.show(w, r, http.StatusOK, view.Sleeves(m))
}
