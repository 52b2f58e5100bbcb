package packs

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
)

// sleeveSheet is the drawing of the sleeves in the making.
type sleeveSheet struct {
	b        *builder
	p        *plan.Plan
	d        *trench.Digs
	list     []sheets.LaidSleeve
	k        float64 // how much larger letters are than on Letter
	unplaced int
}

// sleeveCell is one part of the drawing: all sleeves, or those of one crossing.
type sleeveCell struct {
	title string
	of    []int
	all   bool
}

func (b *builder) sleeveSheet() *sleeveSheet {
	return &sleeveSheet{b: b, p: b.p, d: b.in.Design.Digs, list: sheets.LaidSleeves(b.p, b.in.Design.Digs), k: 1}
}

// SleeveDrawing writes the sleeve drawing as one SVG page, for whoever lays the paving:
// all sleeves, every crossing larger with its distances from the corners of the paving,
// and the list with its cautions. A plan without sleeves gives a page that says so.
func SleeveDrawing(w io.Writer, in Input) error {
	b, err := newBuilder(context.Background(), in, Asked{Kind: Crew, Paper: Letter})
	if err != nil {
		return err
	}
	return drawing.WriteSVG(w, b.sleeveSheet().page())
}

// Measures of the page that is by itself, points.
const (
	ownWide   = 792.0
	ownEdge   = 30.0
	ownOver   = 330.0
	ownDetail = 262.0
	ownGap    = 12.0
)

// page is the whole drawing on one page as high as it takes.
func (s *sleeveSheet) page() *drawing.Page {
	wide := ownWide - 2*ownEdge
	head := func(f *flow) {
		f.lines("Sleeves under paving: "+cmp.Or(s.p.Name, "plan without a name"), titleSize, true, 0, 0)
		f.y -= 3
		f.lines("For whoever lays the paving. Measure again on the ground before anything is poured; every distance is along the edge from the corner named.", bodySize, false, 0, 0)
		f.y -= 6
	}
	foot := func(f *flow) {
		if len(s.list) == 0 {
			f.para("No pipe or wire goes under paving, and no sleeve is drawn.")
		} else {
			table := sheets.Sleeves(s.p, s.d)
			f.table(s.b.sleeveGrid(table, s.list))
			f.table(sleeveEndsGrid(table))
		}
		f.para(sheets.EndsNote)
		f.caution(trench.Caution)
		if s.b.supply != "" {
			f.caution(s.b.supply)
		}
	}
	cells := s.cells()
	headHigh, footHigh := s.b.measured(wide, head), s.b.measured(wide, foot)
	drawn := 0.0
	if len(s.list) > 0 {
		drawn = ownOver + ownGap + float64((len(cells)+2)/3)*(ownDetail+ownGap)
	}
	q := &page{}
	q.Name, q.Width, q.Height = "Sleeves of "+s.p.Name, ownWide, math.Ceil(2*ownEdge+headHigh+drawn+footHigh)
	y := q.Height - ownEdge
	head(s.b.flowIn(q, boxOf(ownEdge, 0, ownWide-ownEdge, y)))
	y -= headHigh
	if len(s.list) > 0 {
		box := boxOf(ownEdge, y-ownOver, ownWide-ownEdge, y)
		s.cell(q.add, box, sleeveCell{title: s.signs(), all: true})
		q.add(northArrow(orb.Point{box.Max[0] - 22, box.Max[1] - 40}, float64(s.p.Site.NorthDeg))...)
		y -= ownOver + ownGap
		w := (wide - 2*ownGap) / 3
		for i, c := range cells {
			x := ownEdge + float64(i%3)*(w+ownGap)
			s.cell(q.add, boxOf(x, y-ownDetail, x+w, y), c)
			if i%3 == 2 || i == len(cells)-1 {
				y -= ownDetail + ownGap
			}
		}
	}
	foot(s.b.flowIn(q, boxOf(ownEdge, 0, ownWide-ownEdge, y)))
	return &q.Page
}

// signs say what the lines mean.
func (s *sleeveSheet) signs() string {
	words := "Thick: sleeve"
	if slices.ContainsFunc(s.list, func(v sheets.LaidSleeve) bool { return v.ID != "" && !v.New }) {
		words += ", thin: there already"
	}
	if slices.ContainsFunc(s.list, func(v sheets.LaidSleeve) bool { return v.ID == "" }) {
		words += ", dashed: needed, not drawn in the plan yet"
	}
	return words + ". Dotted: trench."
}

// cells are the crossings drawn larger.
func (s *sleeveSheet) cells() []sleeveCell {
	var out []sleeveCell
	at := map[int]int{}
	for i := range s.list {
		v := &s.list[i]
		if v.Crossing < 0 || len(v.Ends) == 0 {
			continue
		}
		k, there := at[v.Crossing]
		if !there {
			k = len(out)
			at[v.Crossing] = k
			out = append(out, sleeveCell{})
		}
		out[k].of = append(out[k].of, i)
	}
	for k := range out {
		var numbers []string
		for _, i := range out[k].of {
			numbers = append(numbers, itoa(s.list[i].Number))
		}
		out[k].title = plan.Choose(len(numbers), "Sleeve ", "Sleeves ") + plan.Series(numbers) + " under " + s.list[out[k].of[0]].Under
	}
	return out
}

func boxOf(x0, y0, x1, y1 float64) orb.Bound {
	return orb.Bound{Min: orb.Point{x0, y0}, Max: orb.Point{x1, y1}}
}

// northArrow points to true north on a page whose top is the plan's own north.
func northArrow(c orb.Point, northDeg float64) []drawing.Item {
	sin, cos := math.Sincos((90 + northDeg) * math.Pi / 180)
	at := func(along, aside float64) orb.Point {
		return orb.Point{c[0] + along*cos - aside*sin, c[1] + along*sin + aside*cos}
	}
	return []drawing.Item{
		&drawing.Area{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.7}, Fill: drawing.Black, Rings: [][]orb.Point{{at(14, 0), at(-10, 6), at(-6, 0), at(-10, -6)}}},
		&drawing.Text{At: orb.Point{c[0], c[1] - 24}, Size: 8, Bold: true, Anchor: drawing.Middle, S: "N"},
	}
}

// cell draws one part in a box with its title over it and its scale under it.
func (s *sleeveSheet) cell(add func(...drawing.Item), box orb.Bound, c sleeveCell) (*drawing.View, Scale) {
	k := s.k
	size := 9 * k
	add(&drawing.Text{At: orb.Point{box.Min[0], box.Max[1] - size}, Size: size, Bold: !c.all, S: cut(c.title, size, !c.all, box.Max[0]-box.Min[0])})
	in := boxOf(box.Min[0], box.Min[1]+12*k, box.Max[0], box.Max[1]-size*1.5)
	bound := s.bounds(c)
	across, up := s.room(c)
	across, up = min(across, (in.Max[0]-in.Min[0])*0.32), min(up, (in.Max[1]-in.Min[1])*0.32)
	at, _ := scaleThatFits(s.b.sys, bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1], in.Max[0]-in.Min[0]-2*across, in.Max[1]-in.Min[1]-2*up)
	v := &drawing.View{Box: in, Middle: bound.Center(), PerFoot: at.perFoot()}
	v.Items = s.ground(v, c)
	add(v)
	s.labelled(add, v, c)
	add(
		&drawing.Area{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.6}, Rings: [][]orb.Point{{in.Min, {in.Max[0], in.Min[1]}, in.Max, {in.Min[0], in.Max[1]}}}},
		&drawing.Text{At: orb.Point{box.Max[0], box.Min[1] + 2*k}, Size: 7.5 * k, Anchor: drawing.End, Ink: drawing.Grey, S: at.Name},
	)
	return v, at
}

// room is what is kept free beside what is to be seen, at the sides and over and under
// it: for the distances that stand there one beside the other.
func (s *sleeveSheet) room(c sleeveCell) (across, up float64) {
	const name = 26.0
	if c.all {
		return name * s.k, name * s.k
	}
	times := map[dimensionSide]int{}
	across, up = name*s.k, name*s.k
	for _, i := range c.of {
		for _, e := range s.list[i].Ends {
			if e.Along > farCorner {
				continue
			}
			side := dimensionSide{e.Corner, e.Side}
			times[side]++
			off := float64(times[side])*s.step(e.Out) + 4*s.k
			across = max(across, off*math.Abs(e.Out[0])+name*s.k*math.Abs(e.Out[0]))
			up = max(up, off*math.Abs(e.Out[1])+8*s.k*math.Abs(e.Out[1]))
		}
	}
	return across, up
}

// dimensionSide is a side of a corner that distances stand at.
type dimensionSide struct{ corner, side string }

// step is how far the next distance stands off: beside an edge that goes up the page
// the words lie across.
func (s *sleeveSheet) step(out orb.Point) float64 { return (12 + 14*math.Abs(out[0])) * s.k }

// bounds are what is to be seen in a part.
func (s *sleeveSheet) bounds(c sleeveCell) orb.Bound {
	first := true
	var out orb.Bound
	see := func(q orb.Point) {
		if first {
			out, first = q.Bound(), false
		}
		out = out.Extend(q)
	}
	for i := range s.list {
		v := &s.list[i]
		if !c.all && !slices.Contains(c.of, i) {
			continue
		}
		see(v.From)
		see(v.To)
		for _, e := range v.Ends {
			if c.all {
				b := s.p.Areas[v.Paving].Outline.Bound()
				see(b.Min)
				see(b.Max)
			} else if e.Corner != "" && e.Along <= farCorner {
				see(e.CornerAt)
			}
		}
	}
	return out
}

// ground draws paving and, to find one's way by, buildings, lot, trench, and the sleeves.
func (s *sleeveSheet) ground(v *drawing.View, c sleeveCell) []drawing.Item {
	var out []drawing.Item
	rings := func(o geom.Outline, holes []geom.Outline) [][]orb.Point {
		all := [][]orb.Point{o.Ring()}
		for _, h := range holes {
			all = append(all, h.Ring())
		}
		return all
	}
	seen := orb.MultiPoint{v.ToGround(v.Box.Min), v.ToGround(v.Box.Max)}.Bound()
	paving := s.paving()
	for _, id := range plan.SortedIDs(s.p.Areas) {
		a := s.p.Areas[id]
		if !a.Status.Stands() || !seen.Intersects(a.Outline.Bound()) {
			continue
		}
		switch {
		case slices.Contains(paving, id):
			out = append(out, &drawing.Area{Pen: drawing.Pen{Ink: drawing.Black, Width: 1 * s.k}, Fill: drawing.RGB(0xe9e9e6), Rings: rings(a.Outline, a.Holes)})
		case a.Kind == plan.Building:
			out = append(out, &drawing.Area{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.8 * s.k}, Fill: drawing.White, Rings: rings(a.Outline, a.Holes)})
		}
	}
	if len(s.p.Site.Lot) > 2 {
		out = append(out, &drawing.Area{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.8 * s.k, Dash: []float64{8, 3, 2, 3}}, Rings: rings(s.p.Site.Lot, nil)})
	}
	for i := range s.d.Segments {
		if seg := &s.d.Segments[i]; seg.New && seg.Crossing < 0 && seen.Intersects(orb.MultiPoint{seg.From, seg.To}.Bound()) {
			out = append(out, &drawing.Line{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.8 * s.k, Dash: []float64{1.5, 2.5}}, Points: []orb.Point{seg.From, seg.To}})
		}
	}
	for i := range s.list {
		l := &s.list[i]
		pen := drawing.Pen{Ink: drawing.Black, Width: 2.6 * s.k}
		switch {
		case !c.all && !slices.Contains(c.of, i):
			pen.Ink, pen.Width = drawing.Pale, 1.2*s.k
		case l.ID == "":
			pen.Dash = []float64{6, 2.5}
		case !l.New:
			pen.Width = 1.2 * s.k
		}
		out = append(out, &drawing.Line{Pen: pen, Points: []orb.Point{l.From, l.To}})
		for _, e := range l.Ends {
			out = append(out, &drawing.Arc{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.7 * s.k}, Fill: drawing.White, Centre: e.At, Radius: 1.8 * s.k, SweepDeg: 360, OnPaper: true})
		}
	}
	return out
}

// paving are the areas that sleeves go under.
func (s *sleeveSheet) paving() []plan.ID {
	var out []plan.ID
	for i := range s.list {
		for _, c := range s.d.Crossings {
			if slices.Contains(c.Sleeves, s.list[i].ID) && s.list[i].ID != "" {
				out = append(out, c.Area)
			}
		}
		if s.list[i].Paving != "" {
			out = append(out, s.list[i].Paving)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

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
