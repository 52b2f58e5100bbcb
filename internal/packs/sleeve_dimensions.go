package packs

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/sheets"
)

// farCorner is how far from its corner a sleeve may leave its paving for the distance to
// be drawn, in feet; it is written beside the place where it is farther. Chosen: past it
// the sleeves themselves get too small to be told apart.
const farCorner = 25.0

// sleeveDimension is a distance along an edge, drawn beside it.
type sleeveDimension struct {
	from, to orb.Point // on the edge, of the page
	a, b     orb.Point // of its line
	want     int
}

// labelled writes numbers, corners, names and distances, each clear of the others.
func (s *sleeveSheet) labelled(add func(...drawing.Item), v *drawing.View, c sleeveCell) {
	k := s.k
	var wants []drawing.Want
	var lines [][2]orb.Point
	leader := drawing.Pen{Ink: drawing.Black, Width: 0.5 * k}
	for i := range s.list {
		l := &s.list[i]
		if !c.all && !slices.Contains(c.of, i) {
			continue
		}
		a, b := v.ToPage(l.From), v.ToPage(l.To)
		lines = append(lines, [2]orb.Point{a, b})
		wants = append(wants, drawing.Want{
			Text:  drawing.Text{S: fmt.Sprintf("sleeve %d", l.Number), Size: 8 * k, Bold: true, Halo: true},
			About: orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}, Clear: 3 * k, Leader: leader, Priority: 6,
		})
	}
	var dims []sleeveDimension
	if !c.all {
		wants = append(wants, s.cornerWants(add, v, c, leader)...)
		dims, wants = s.dimensions(v, c, wants)
		for _, d := range dims {
			lines = append(lines, [2]orb.Point{d.a, d.b})
		}
	}
	for _, id := range s.paving() {
		a := s.p.Areas[id]
		at := v.ToPage(geom.InsidePoint(orb.Polygon{a.Outline.Ring()}))
		if !v.Box.Contains(at) {
			continue
		}
		var ring []orb.Point
		for _, q := range a.Outline.Ring() {
			ring = append(ring, v.ToPage(q))
			if n := len(ring); n > 1 {
				lines = append(lines, [2]orb.Point{ring[n-2], ring[n-1]})
			}
		}
		wants = append(wants, drawing.Want{
			Text:  drawing.Text{S: s.p.AreaName(id), Size: 7.5 * k, Italic: true, Halo: true},
			About: at, On: true, Within: [][]orb.Point{ring}, Leader: leader, Priority: 1,
		})
	}
	settled := drawing.Settle(v.Box, wants, nil, lines)
	for _, d := range dims {
		if !settled[d.want].Placed {
			continue
		}
		thin := drawing.Pen{Ink: drawing.Black, Width: 0.5 * k}
		add(&drawing.Line{Pen: thin, Points: []orb.Point{d.from, d.a}}, &drawing.Line{Pen: thin, Points: []orb.Point{d.to, d.b}}, &drawing.Line{Pen: thin, Points: []orb.Point{d.a, d.b}})
		for _, q := range []orb.Point{d.a, d.b} {
			add(&drawing.Line{Pen: drawing.Pen{Ink: drawing.Black, Width: 1 * k}, Points: []orb.Point{{q[0] - 2*k, q[1] - 2*k}, {q[0] + 2*k, q[1] + 2*k}}})
		}
	}
	for i := range settled {
		if !settled[i].Placed {
			s.unplaced++
			continue
		}
		add(settled[i].Items()...)
	}
}

// cornerWants draw the corners that some sleeves are measured from and want their names.
func (s *sleeveSheet) cornerWants(add func(...drawing.Item), v *drawing.View, c sleeveCell, leader drawing.Pen) []drawing.Want {
	var out []drawing.Want
	var drawn []string
	for _, i := range c.of {
		for _, e := range s.list[i].Ends {
			if e.Corner == "" || slices.Contains(drawn, e.Corner) || !v.Box.Contains(v.ToPage(e.CornerAt)) {
				continue
			}
			drawn = append(drawn, e.Corner)
			at := v.ToPage(e.CornerAt)
			add(&drawing.Arc{Fill: drawing.Black, Centre: at, Radius: 2 * s.k, SweepDeg: 360})
			out = append(out, drawing.Want{Text: drawing.Text{S: e.Corner, Size: 8.5 * s.k, Bold: true, Halo: true}, About: at, Clear: 3 * s.k, Leader: leader, Priority: 5})
		}
	}
	return out
}

// dimensions are the distances of some sleeves from their corners, beside the edge, the
// shorter ones inside the longer. What goes out of the box, or is too short to be drawn,
// stands in the list alone.
func (s *sleeveSheet) dimensions(v *drawing.View, c sleeveCell, wants []drawing.Want) ([]sleeveDimension, []drawing.Want) {
	off := map[dimensionSide]float64{}
	var ends []sheets.LaidEnd
	for _, i := range c.of {
		for _, e := range s.list[i].Ends {
			switch {
			case e.Corner == "":
			case !e.Straight || e.Along > farCorner:
				wants = append(wants, drawing.Want{
					Text:  drawing.Text{S: s.p.Show.Length(e.Along) + " from " + e.Corner, Size: 7 * s.k, Halo: true},
					About: v.ToPage(e.At), Clear: 3 * s.k, Leader: drawing.Pen{Ink: drawing.Grey, Width: 0.4 * s.k}, Priority: 4,
				})
			case float64(e.Along)*v.PerFoot >= 3*s.k:
				ends = append(ends, e)
			}
		}
	}
	slices.SortStableFunc(ends, func(a, b sheets.LaidEnd) int { return cmp.Compare(a.Along, b.Along) })
	var out []sleeveDimension
	for _, e := range ends {
		from := dimensionSide{e.Corner, e.Side}
		off[from] += s.step(e.Out)
		d := sleeveDimension{from: v.ToPage(e.CornerAt), to: v.ToPage(e.At), want: len(wants)}
		d.a = orb.Point{d.from[0] + e.Out[0]*off[from], d.from[1] + e.Out[1]*off[from]}
		d.b = orb.Point{d.to[0] + e.Out[0]*off[from], d.to[1] + e.Out[1]*off[from]}
		if !v.Box.Contains(d.a) || !v.Box.Contains(d.b) {
			s.unplaced++
			continue
		}
		out = append(out, d)
		mid := orb.Point{(d.a[0] + d.b[0]) / 2, (d.a[1] + d.b[1]) / 2}
		wants = append(wants, drawing.Want{
			Text: drawing.Text{S: s.p.Show.Length(e.Along), Size: 7 * s.k, Halo: true}, About: mid, On: true, Clear: 1, Leader: drawing.Pen{Ink: drawing.Grey, Width: 0.4 * s.k}, Priority: 4,
		})
	}
	return out, wants
}
