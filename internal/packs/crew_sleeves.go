package packs

import (
	"strings"

	"github.com/paulmach/orb"

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
	ends := sleeveEndsGrid(table)
	beside := b.besideSleeves(s, ends)
	if beside != nil {
		f.para("Where their ends are stands beside their drawing, on the next page.")
	} else {
		f.section("Where the ends of sleeves are")
		f.table(ends)
	}
	f.bullets(sheets.EndsNote,
		"Lay or bore a sleeve before its trench is dug on to it, and look through it before pipe is pushed in.",
		"Paving that is to be laid waits for its sleeves: whoever lays it gets the drawing first.")
	f.caution("Bores and saw cuts go where lines may be: locate first, dig down to see every line that is crossed, and cut dry dust away from lungs. Under a street, or past what is drilled by hand, it is licensed work with a permit.")
	return b.sleevePages(s, beside)
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

// sleeveGap is between the cells of a page of sleeves, three across and two down.
const sleeveGap = 12.0

func sleeveCellSize(room orb.Bound) (wide, high float64) {
	return (room.Max[0] - room.Min[0] - 2*sleeveGap) / 3, (room.Max[1] - room.Min[1] - sleeveGap) / 2
}

// besideSleeves is where the ends of sleeves are as words for the last cell of their
// pages; nothing where none is free or the words have no room in it.
func (b *builder) besideSleeves(s *sleeveSheet, ends grid) []block {
	cells := len(s.cells())
	if cells == 0 || (2+cells)%6 == 0 {
		return nil
	}
	like := &page{across: true}
	like.Width, like.Height = b.drawn.Height, b.drawn.Width
	wide, high := sleeveCellSize(b.frameRoom(like))
	c := &chart{k: like.enlarged()}
	out := []block{c.title("Where the ends of sleeves are", wide)}
	sum := out[0].high()
	for _, row := range ends.Rows {
		out = append(out, c.tagged(row[0], row[1]+". Other end: "+row[2]+".", wide))
		sum += out[len(out)-1].high()
	}
	if sum > high {
		return nil
	}
	return out
}

// sleevePages draw the sleeves: all of them on the first page, every crossing larger
// after it, and words in the last cell if there are any.
func (b *builder) sleevePages(s *sleeveSheet, words []block) error {
	q := b.drawingPage()
	k := q.enlarged()
	s.k = k
	room := q.room
	const gap = sleeveGap
	all := s.cells()
	cellWide, cellHigh := sleeveCellSize(room)
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
	x, y := room.Min[0]+float64(place%3)*(cellWide+gap), room.Max[1]-float64(place/3)*(cellHigh+gap)
	for _, k := range words {
		k.draw(q, x, y)
		y -= k.high()
	}
	b.unplacedSay(q, s.unplaced, "C7")
	return nil
}
