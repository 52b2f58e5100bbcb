package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// planSheet is a drawing of ground as a sheet asks planPages for it.
type planSheet struct {
	bounds orb.Bound // feet: all that is to be seen, with nothing added about it
	aside  float64   // points kept free at the right of the first page for legend and notes; 0: none
	// fill draws one page: ground into v.Items (feet, cut off at v.Box), labels and
	// leaders onto q (points) after q.add(v). The legend goes into q.aside.
	fill func(q *page, v *drawing.View) error
}

// planPages makes the pages of a drawing of ground: one at the scale asked, or at the
// largest that fits, or tiles that overlap with matching marks and a key map. fill is
// called once a page, with q.aside empty where there is none.
func (b *builder) planPages(s planSheet) error {
	q := b.drawingPage()
	box := q.room
	if s.aside > 0 {
		q.aside = orb.Bound{Min: orb.Point{box.Max[0] - s.aside, box.Min[1]}, Max: box.Max}
		box.Max[0] -= s.aside + 8
	}
	w, h := s.bounds.Max[0]-s.bounds.Min[0], s.bounds.Max[1]-s.bounds.Min[1]
	at, _ := scaleThatFits(b.sys, w, h, box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])
	q.scale = at.Name
	v := &drawing.View{Box: box, Middle: s.bounds.Center(), PerFoot: at.perFoot()}
	q.view = v
	return s.fill(q, v)
}

// unplacedSay has the sheet say how many labels found no room on it and where they are
// to be found: "the nozzle setting list, C6".
func (b *builder) unplacedSay(q *page, n int, where string) {
	q.unplaced += n
	if where != "" {
		q.unplacedIn = where
	}
	b.unplaced += n
}
