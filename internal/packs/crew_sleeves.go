package packs

import (
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// sleeves is the list of sleeves, and their drawing on sheets of its own.
func (b *builder) sleeves(f *flow) error {
	s := b.sleeveSheet()
	f.section("Sleeves")
	if len(s.list) == 0 {
		f.para("No pipe or wire goes under paving, and no sleeve is drawn.")
		return nil
	}
	f.para("Numbers are those of the plans. K corners are corners of paving, on the drawing of the sleeves: each sleeve leaves its paving so far along the edge from the corner named. Tie-in flags S1a and S1b of the stake-out stand at a sleeve's two ends.")
	table := sheets.Sleeves(b.p, b.in.Design.Digs)
	f.table(b.sleeveGrid(table, s.list))
	f.section("Where the ends of sleeves are")
	f.table(sleeveEndsGrid(table))
	f.bullets(sheets.EndsNote,
		"Lay or bore a sleeve before its trench is dug on to it, and look through it before pipe is pushed in.",
		"Paving that is to be laid waits for its sleeves: whoever lays it gets the drawing first.")
	f.caution("Bores and saw cuts go where lines may be: locate first, dig down to see every line that is crossed, and cut dry dust away from lungs. Under a street, or past what is drilled by hand, it is licensed work with a permit.")
	return b.sleevePages(s)
}

// sleeveGrid is what each sleeve is, as it is printed.
func (b *builder) sleeveGrid(t sheets.Table, list []sheets.LaidSleeve) grid {
	var columns []string
	length := -1
	for _, c := range t.Columns {
		if c.Name == "One end" || c.Name == "Other end" || c.Name == "Status" {
			continue
		}
		if strings.HasPrefix(c.Name, "Length") {
			length = len(columns)
		}
		columns = append(columns, c.Name)
	}
	g := gridOf(t, columns...)
	g.Note = ""
	g.Ticks = true
	if length >= 0 { // by the tape
		g.Head[length] = "Length"
		for i := range list {
			g.Rows[i][length] = b.sys.Length(list[i].Length())
		}
	}
	return g
}

// sleeveEndsGrid is where each sleeve leaves its paving.
func sleeveEndsGrid(t sheets.Table) grid {
	g := gridOf(t, "Sleeve", "One end", "Other end")
	g.Note = ""
	g.Shares = []float64{9, 46, 46}
	return g
}

// sleevePages draw the sleeves: all of them on the first page, every crossing larger
// after it.
func (b *builder) sleevePages(s *sleeveSheet) error {
	q := b.drawingPage()
	k := q.enlarged()
	s.k = k
	room := q.room
	const gap = 12.0
	all := s.cells()
	w, h := room.Max[0]-room.Min[0], room.Max[1]-room.Min[1]
	cellWide, cellHigh := (w-2*gap)/3, (h-gap)/2
	over := boxOf(room.Min[0], room.Max[1]-cellHigh, room.Min[0]+2*cellWide+gap, room.Max[1])
	if len(all) == 0 {
		over = room
	}
	v, at := s.cell(q.add, over, sleeveCell{title: plan.Capital(plan.Plural(len(s.list), "sleeve", "sleeves")) + " under paving", all: true})
	q.view, q.scale = v, at.Name
	place := 2 // of the six on a page, by rows; the first two are taken
	for i, c := range all {
		if place > 5 {
			if err := b.ctx.Err(); err != nil {
				return err
			}
			b.unplacedSay(q, s.unplaced, "C7")
			s.unplaced = 0
			b.tell("Sleeves", float64(i)/float64(len(all)))
			q, place = b.drawingPage(), 0
			q.scale = "as under each"
		}
		x, y := room.Min[0]+float64(place%3)*(cellWide+gap), room.Max[1]-float64(place/3)*(cellHigh+gap)
		s.cell(q.add, boxOf(x, y-cellHigh, x+cellWide, y), c)
		place++
	}
	b.unplacedSay(q, s.unplaced, "C7")
	return nil
}
