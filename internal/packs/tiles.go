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

// labels places the labels of a drawing inside its view, adds them to the page after it,
// and has the sheet say how many found no room and which list has them: "C6". Whatever
// else a sheet writes into the view goes into taken.
func (b *builder) labels(q *page, v *drawing.View, wants []drawing.Want, taken []orb.Bound, lines [][2]orb.Point, list string) {
	settled := drawing.Settle(v.Box, wants, append(taken[:len(taken):len(taken)], q.taken...), lines)
	n := 0
	for i := range settled {
		q.add(settled[i].Items()...)
		if !settled[i].Placed {
			n++
		}
	}
	b.unplacedSay(q, n, list)
}

// unplacedSay has the sheet say how many labels found no room on it, and which list
// has them: "C6"; "" when none has.
func (b *builder) unplacedSay(q *page, n int, list string) {
	q.unplaced += n
	b.unplaced += n
	if list != "" {
		q.unplacedIn = list
	}
}
