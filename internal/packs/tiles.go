package packs

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/units"
)

// planSheet is a drawing of ground as a sheet asks planPages for it.
type planSheet struct {
	bounds orb.Bound // feet: all that is to be seen, with nothing added about it
	aside  float64   // points kept free at the right of every page for legend and notes; 0: none
	// fill draws one page: ground into v.Items (feet, cut off at v.Box), labels and
	// leaders onto q (points) after q.add(v). The legend goes into q.aside.
	fill func(q *page, v *drawing.View) error
}

// Measures of tiles on paper: chosen.
const (
	planPad    = 16.0 // of paper about what is drawn, for labels at its edge
	tileBand   = 15.0 // about a tile, for the marks that it is joined by
	tileShared = 45.0 // that neighbours both show at least, points: over half an inch
	tilesMost  = 60   // pages of one drawing
)

// tiling is how ground is spread over pages: rows by letter from the north, columns
// by number from the west.
type tiling struct {
	scale      Scale
	rows, cols int
	box        orb.Bound // of every page
	first      orb.Point // feet: the middle of the north-west tile
	step       orb.Point // feet from a tile to the next, east and south
	says       string    // why it is not the scale that was asked; "": it is
}

// planPages makes the pages of a drawing of ground: one at the scale asked, or at the
// largest that fits, or tiles that overlap with matching marks and a key map. fill is
// called once a page.
func (b *builder) planPages(s planSheet) error {
	first := b.drawingPage()
	box := first.room
	if s.aside > 0 {
		box.Max[0] -= s.aside + 8
	}
	t := b.tilingOf(s.bounds, box, first.enlarged())
	if b.fits == nil {
		b.fits = b.fitsOf(s.bounds, box, first.enlarged())
	}
	for row := range t.rows {
		for col := range t.cols {
			if err := b.ctx.Err(); err != nil {
				return err
			}
			q := first
			if row+col > 0 {
				q = b.drawingPage()
			}
			if s.aside > 0 {
				q.aside = orb.Bound{Min: orb.Point{q.room.Max[0] - s.aside, q.room.Min[1]}, Max: q.room.Max}
			}
			v := &drawing.View{Box: t.box, PerFoot: t.scale.perFoot(),
				Middle: orb.Point{t.first[0] + float64(col)*t.step[0], t.first[1] - float64(row)*t.step[1]}}
			q.scale, q.view, q.says = t.scale.Name, v, t.says
			var marks []drawing.Item
			if t.rows*t.cols > 1 {
				q.tiles, q.tileAt = t, [2]int{row, col}
				q.tile = fmt.Sprintf("tile %s of %d", tileName(row, col), t.rows*t.cols)
				marks = t.marks(q)
			}
			if err := s.fill(q, v); err != nil {
				return err
			}
			q.add(marks...)
			b.tell(b.now.title, float64(row*t.cols+col+1)/float64(t.rows*t.cols))
		}
	}
	return nil
}

// tilingOf spreads ground over pages that have a box of so many points for it.
func (b *builder) tilingOf(of, box orb.Bound, k float64) *tiling {
	w, h := of.Max[0]-of.Min[0], of.Max[1]-of.Min[1]
	if !(w >= 0 && h >= 0 && w+h > 0) { // nothing is drawn: a small yard about the origin, or about a point
		at := orb.Point{}
		if w == 0 && h == 0 {
			at = of.Min
		}
		of = orb.Bound{Min: orb.Point{at[0] - 30, at[1] - 20}, Max: orb.Point{at[0] + 30, at[1] + 20}}
		w, h = 60, 40
	}
	t := &tiling{box: box, rows: 1, cols: 1, first: of.Center()}
	pad := 2 * planPad * k
	roomWide, roomHigh := box.Max[0]-box.Min[0]-pad, box.Max[1]-box.Min[1]-pad
	if b.asked.Scale == 0 {
		t.scale = scaleThatHolds(b.sys, w, h, roomWide, roomHigh)
		return t
	}
	t.scale, _ = ScaleOf(b.sys, b.asked.Scale)
	asked := t.scale
	if w*asked.perFoot() <= roomWide && h*asked.perFoot() <= roomHigh {
		return t
	}
	band := tileBand * k
	tile := orb.Bound{Min: orb.Point{box.Min[0] + band, box.Min[1] + band}, Max: orb.Point{box.Max[0] - band, box.Max[1] - band}}
	wide, high := tile.Max[0]-tile.Min[0], tile.Max[1]-tile.Min[1]
	if n := tilesFor(w*asked.perFoot()+pad, wide) * tilesFor(h*asked.perFoot()+pad, high); n > tilesMost {
		t.scale = scaleThatHolds(b.sys, w, h, roomWide, roomHigh)
		for _, s := range Scales(b.sys) { // the largest that takes few enough
			if tilesFor(w*s.perFoot()+pad, wide)*tilesFor(h*s.perFoot()+pad, high) <= tilesMost {
				if s.To < t.scale.To {
					t.scale = s
				}
				break
			}
		}
		t.says = fmt.Sprintf("At %s this drawing would take %.0f pages: it is drawn at %s.", asked.Name, n, t.scale.Name)
	}
	f := t.scale.perFoot()
	if w*f <= roomWide && h*f <= roomHigh {
		return t
	}
	t.box = tile
	t.cols, t.rows = int(tilesFor(w*f+pad, wide)), int(tilesFor(h*f+pad, high))
	if t.cols > 1 {
		t.step[0] = (w*f + pad - wide) / float64(t.cols-1) / f
		t.first[0] = of.Min[0] + (wide-pad)/2/f
	}
	if t.rows > 1 {
		t.step[1] = (h*f + pad - high) / float64(t.rows-1) / f
		t.first[1] = of.Max[1] - (high-pad)/2/f
	}
	return t
}

// tilesFor is how many tiles so wide cover a width, each sharing tileShared with the next.
func tilesFor(width, tile float64) float64 {
	return max(1, math.Ceil((width-tileShared-1e-6)/(tile-tileShared)))
}

// scaleThatHolds is the largest scale at which ground fits one sheet; past the smallest
// that is offered, rounder and rounder ones.
func scaleThatHolds(sys units.System, wide, high, roomWide, roomHigh float64) Scale {
	s, fits := scaleThatFits(sys, wide, high, roomWide, roomHigh)
	for n := 1.0; !fits && n < 1e12; n *= 10 {
		for _, m := range []float64{2.5, 5, 10} {
			if sys == units.Metric {
				s = Scale{To: int(2000 * n * m), Name: fmt.Sprintf("1:%.0f", 2000*n*m)}
			} else {
				s = Scale{To: int(12 * 200 * n * m), Name: fmt.Sprintf("1 in = %.0f ft", 200*n*m)}
			}
			if fits = wide*s.perFoot() <= roomWide && high*s.perFoot() <= roomHigh; fits {
				break
			}
		}
	}
	return s
}

// tileName names a tile by its row, A from the north, and its column, 1 from the west.
func tileName(row, col int) string {
	name := string(rune('A' + row%26))
	if row >= 26 {
		name = string(rune('A'+row/26-1)) + name
	}
	return name + itoa(col+1)
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
