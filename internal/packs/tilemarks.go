package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// marks are what a tile is joined to its neighbours by: a broken line where both are
// cut, with their names at its ends outside of the drawing, and on it two crosses that
// stand on the same ground on both. Crosses are taken, so that no label hides them.
func (t *tiling) marks(q *page) []drawing.Item {
	var out []drawing.Item
	row, col := q.tileAt[0], q.tileAt[1]
	k := q.enlarged()
	cut := drawing.Pen{Ink: drawing.Grey, Width: 0.7 * k, Dash: []float64{9 * k, 3 * k, 2 * k, 3 * k}}
	mid := q.view.Middle
	halfWide, halfHigh := (t.box.Max[0]-t.box.Min[0])/2/t.scale.perFoot(), (t.box.Max[1]-t.box.Min[1])/2/t.scale.perFoot()
	join := func(dRow, dCol int) {
		r, c := row+dRow, col+dCol
		if r < 0 || c < 0 || r >= t.rows || c >= t.cols {
			return
		}
		// The seam is half way between the middles of both, the crosses a third of a tile
		// to both sides.
		seam := orb.Point{mid[0] + float64(dCol)*t.step[0]/2, mid[1] - float64(dRow)*t.step[1]/2}
		along := orb.Point{0, halfHigh}
		if dRow != 0 {
			along = orb.Point{halfWide, 0}
		}
		ends := [2]orb.Point{}
		for i, share := range []float64{-1, 1} {
			ends[i] = q.view.ToPage(orb.Point{seam[0] + along[0]*share, seam[1] + along[1]*share})
			x := q.view.ToPage(orb.Point{seam[0] + along[0]*share/1.5, seam[1] + along[1]*share/1.5})
			out = append(out, cross(x, 5*k, k)...)
			q.taken = append(q.taken, orb.Bound{Min: orb.Point{x[0] - 6*k, x[1] - 6*k}, Max: orb.Point{x[0] + 6*k, x[1] + 6*k}})
		}
		out = append(out, &drawing.Line{Pen: cut, Points: ends[:]})
		out = append(out, t.names(ends, [2][2]int{{min(row, r), min(col, c)}, {max(row, r), max(col, c)}}, dRow != 0, k)...)
	}
	join(0, -1)
	join(0, 1)
	join(-1, 0)
	join(1, 0)
	out = append(out, box(drawing.Pen{Ink: drawing.Black, Width: 0.6 * k}, 0, t.box))
	return out
}

// cross is a cross in a ring.
func cross(at orb.Point, r, k float64) []drawing.Item {
	return []drawing.Item{
		&drawing.Arc{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.6 * k}, Centre: at, Radius: r * 0.6, SweepDeg: 360},
		stroke(drawing.Black, 0.6*k, at[0]-r, at[1], at[0]+r, at[1]),
		stroke(drawing.Black, 0.6*k, at[0], at[1]-r, at[0], at[1]+r),
	}
}

// names are a tick across the band at both ends of a seam, with the names of the tiles
// on its sides.
func (t *tiling) names(ends [2]orb.Point, of [2][2]int, level bool, k float64) []drawing.Item {
	var out []drawing.Item
	size, band := 7*k, tileBand*k
	a, z := tileName(of[0][0], of[0][1]), tileName(of[1][0], of[1][1])
	for i, e := range ends {
		away := float64(2*i - 1)
		if level {
			x := e[0] + away*band/2
			out = append(out, stroke(drawing.Black, 0.9*k, e[0], e[1], e[0]+away*band*0.95, e[1]),
				&drawing.Text{At: orb.Point{x, e[1] + 2.5*k}, Size: size, Bold: true, Anchor: drawing.Middle, S: a},
				&drawing.Text{At: orb.Point{x, e[1] - 7.6*k}, Size: size, Bold: true, Anchor: drawing.Middle, S: z})
			continue
		}
		y := e[1] + away*band/2 - 2.5*k
		out = append(out, stroke(drawing.Black, 0.9*k, e[0], e[1], e[0], e[1]+away*band*0.95),
			&drawing.Text{At: orb.Point{e[0] - 3*k, y}, Size: size, Bold: true, Anchor: drawing.End, S: a},
			&drawing.Text{At: orb.Point{e[0] + 3*k, y}, Size: size, Bold: true, S: z})
	}
	return out
}

// keyMap is all tiles small, this one black.
func (t *place) keyMap(in orb.Bound) {
	q, k := t.q, t.k
	of := q.tiles
	room := padded(in, 5*k, 5*k)
	w, h := room.Max[0]-room.Min[0], room.Max[1]-room.Min[1]
	// Tiles keep their shape.
	shape := (of.box.Max[0] - of.box.Min[0]) / (of.box.Max[1] - of.box.Min[1])
	high := min(h/float64(of.rows), w/float64(of.cols)/shape)
	wide := high * shape
	c := room.Center()
	x0, y1 := c[0]-wide*float64(of.cols)/2, c[1]+high*float64(of.rows)/2
	size := min(7*k, high*0.6, wide*0.4)
	for row := range of.rows {
		for col := range of.cols {
			b := orb.Bound{Min: orb.Point{x0 + wide*float64(col), y1 - high*float64(row+1)}, Max: orb.Point{x0 + wide*float64(col+1), y1 - high*float64(row)}}
			fill, ink := drawing.White, drawing.Black
			if q.tileAt == [2]int{row, col} {
				fill, ink = drawing.Black, drawing.White
			}
			q.add(box(drawing.Pen{Ink: drawing.Black, Width: 0.5 * k}, fill, b))
			if size >= 4 {
				m := b.Center()
				q.add(&drawing.Text{At: orb.Point{m[0], m[1] - size*0.36}, Size: size, Bold: true, Anchor: drawing.Middle, Ink: ink, S: tileName(row, col)})
			}
		}
	}
}
