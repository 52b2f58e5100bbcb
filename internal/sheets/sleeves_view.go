package sheets

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// view is the ground drawn at one scale in one part of the sheet.
type view struct {
	*sleeveSheet
	box    orb.Bound // of the picture
	middle orb.Point // of the box, in feet
	scale  float64   // of the picture to a foot
	labels labels
}

func (s *sleeveSheet) view(box orb.Bound, middle orb.Point, scale float64) *view {
	return &view{s, box, middle, scale, labels{inside: box}}
}

// at is a place of the plan in the picture.
func (v *view) at(q orb.Point) orb.Point {
	c := v.box.Center()
	return orb.Point{c[0] + (q[0]-v.middle[0])*v.scale, c[1] - (q[1]-v.middle[1])*v.scale}
}

func (v *view) ring(o geom.Outline) []orb.Point {
	r := o.Ring()
	out := make([]orb.Point, 0, len(r))
	for _, q := range r[:max(len(r)-1, 0)] {
		out = append(out, v.at(q))
	}
	return out
}

// seen reports whether any of some ground may be in the view.
func (v *view) seen(b orb.Bound) bool {
	x, y := v.at(b.Min), v.at(b.Max)
	return v.box.Intersects(orb.Bound{Min: orb.Point{x[0], y[1]}, Max: orb.Point{y[0], x[1]}})
}

// ground draws the paving, and of the rest what helps to find one's way: buildings,
// the property line and the trenches.
func (v *view) ground() {
	v.views++
	fmt.Fprintf(&v.pic.body, "<clipPath id=\"v%d\"><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/></clipPath>\n<g clip-path=\"url(#v%d)\">\n",
		v.views, coordinate(v.box.Min[0]), coordinate(v.box.Min[1]), coordinate(v.box.Max[0]-v.box.Min[0]), coordinate(v.box.Max[1]-v.box.Min[1]), v.views)
	draw := func(look string, a plan.Area) {
		if !v.seen(a.Outline.Bound()) {
			return
		}
		rings := [][]orb.Point{v.ring(a.Outline)}
		for _, h := range a.Holes {
			rings = append(rings, v.ring(h))
		}
		v.pic.path(look+` fill-rule="evenodd"`, true, rings...)
	}
	for _, id := range v.areas() {
		draw(lookPaving, v.p.Areas[id])
	}
	for _, id := range plan.SortedIDs(v.p.Areas) {
		if a := v.p.Areas[id]; a.Kind == plan.Building && a.Status.Stands() {
			draw(lookHouse, a)
		}
	}
	if len(v.p.Site.Lot) > 2 {
		v.pic.path(lookLot, true, v.ring(v.p.Site.Lot))
	}
	for i := range v.d.Segments {
		if seg := &v.d.Segments[i]; seg.New && seg.Crossing < 0 && v.seen(orb.MultiPoint{seg.From, seg.To}.Bound()) {
			v.pic.line(lookTrench, v.at(seg.From), v.at(seg.To))
		}
	}
	v.pic.body.WriteString("</g>\n")
}

func (v *view) frame() {
	a, b := v.box.Min, v.box.Max
	v.pic.path(lookRule, true, []orb.Point{a, {b[0], a[1]}, b, {a[0], b[1]}})
}

// sleeves draws some sleeves, each with its number beside its middle.
func (v *view) sleeves(of []int, off float64) {
	for _, k := range of {
		s := &v.list[k]
		look := lookSleeve
		switch {
		case s.id == "":
			look = lookLacking
		case !s.isNew:
			look = lookOld
		}
		v.pic.line(look, v.at(s.from), v.at(s.to))
		for _, e := range s.edges {
			v.pic.circle(`fill="#fff" stroke="#111" stroke-width="1"`, v.at(e.At), 2.5)
		}
	}
	// The numbers come after all lines, each clear of the others.
	for _, k := range of {
		s := &v.list[k]
		a, b := v.at(s.from), v.at(s.to)
		mid := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		name := fmt.Sprint(s.number)
		place, ok := v.labels.set(17, name+" ", around(mid, off, 240)...)
		if !ok {
			continue // the table has it
		}
		v.pic.line(lookThin, mid, place)
		v.pic.circle(`fill="#fff" stroke="#0b4f8a" stroke-width="1.5"`, place, 9)
		v.pic.text(baseline(place, letters), letters, "middle", `font-weight="bold"`, name)
	}
}

// corners draws the corners that some sleeves are measured from, with their letters.
func (v *view) corners(of []int) {
	drawn := map[int]bool{}
	for _, k := range of {
		for end := range v.list[k].edges {
			m := v.sleeveSheet.corners.of[[2]int{v.list[k].number, end}]
			if m.corner < 0 || drawn[m.corner] {
				continue
			}
			drawn[m.corner] = true
			c := v.sleeveSheet.corners.all[m.corner]
			at := v.at(c.at)
			v.pic.circle(`fill="#111"`, at, 3)
			if place, ok := v.labels.set(13, c.letter, around(at, 11, 60)...); ok {
				v.pic.text(baseline(place, 13), 13, "middle", `font-weight="bold"`, c.letter)
			}
		}
	}
}

// dimension is a distance to be drawn.
type dimension struct {
	measured
	at orb.Point // where the sleeve leaves the paving
}

// dimensions draws the distance of some sleeves from their corners beside the edge, the
// shorter ones inside the longer. What finds no room stands in the table alone.
func (v *view) dimensions(of []int) {
	var all []dimension
	for _, k := range of {
		s := &v.list[k]
		for end, e := range s.edges {
			m := v.sleeveSheet.corners.of[[2]int{s.number, end}]
			if m.corner >= 0 && m.straight && float64(m.along)*v.scale >= 4 {
				all = append(all, dimension{m, e.At})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b dimension) int { return cmp.Compare(a.along, b.along) })
	type side struct {
		corner int
		edge   string
	}
	off := map[side]float64{}
	for _, m := range all {
		from := side{m.corner, m.edge}
		// Beside an edge that goes up the sheet the words lie across.
		step := beside + 24*math.Abs(m.out[0])
		next := max(off[from]+step, beside+4)
		a, b := v.at(v.sleeveSheet.corners.all[m.corner].at), v.at(m.at)
		ox, oy := m.out[0]*next, -m.out[1]*next
		c, e := orb.Point{a[0] + ox, a[1] + oy}, orb.Point{b[0] + ox, b[1] + oy}
		words := v.p.Show.Length(m.along)
		place, ok := v.labels.set(letters, words, alongDimension(c, e, m.out)...)
		if !ok {
			continue
		}
		off[from] = next
		v.pic.line(lookThin, a, c)
		v.pic.line(lookThin, b, e)
		v.pic.line(lookThin, c, e)
		v.tick(c)
		v.tick(e)
		v.pic.text(baseline(place, letters), letters, "middle", "", words)
	}
}

// tick is the stroke at the end of a dimension.
func (v *view) tick(at orb.Point) {
	v.pic.line(`fill="none" stroke="#111" stroke-width="1.5"`, orb.Point{at[0] - 3, at[1] + 3}, orb.Point{at[0] + 3, at[1] - 3})
}

// alongDimension are places for the words of a dimension: on its line, from the middle
// to its ends; where that is too short past its ends, then farther out.
func alongDimension(a, b, out orb.Point) []orb.Point {
	var places []orb.Point
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	ux, uy := (b[0]-a[0])/length, (b[1]-a[1])/length
	if length*math.Abs(ux) > 40 || length*math.Abs(uy) > 16 {
		for _, f := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
			places = append(places, orb.Point{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])})
		}
	}
	past := 26*math.Abs(ux) + 12*math.Abs(uy)
	for _, f := range []float64{past, past + 8, past + 16} {
		places = append(places, orb.Point{b[0] + f*ux, b[1] + f*uy}, orb.Point{a[0] - f*ux, a[1] - f*uy})
	}
	for _, f := range []float64{12, 20, 30} {
		mid := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		places = append(places, orb.Point{mid[0] + f*out[0]*2, mid[1] - f*out[1]})
	}
	return places
}

// names writes the names of the paving and of buildings where there is room.
func (v *view) names() {
	paving := v.areas()
	for _, id := range plan.SortedIDs(v.p.Areas) {
		a := v.p.Areas[id]
		if !a.Status.Stands() || a.Kind != plan.Building && !slices.Contains(paving, id) {
			continue
		}
		at := v.at(geom.InsidePoint(orb.Polygon{a.Outline.Ring()}))
		if !v.labels.inside.Contains(at) {
			continue
		}
		name := v.p.AreaName(id)
		if place, ok := v.labels.set(letters, name, append(v.wholly(a, name), append([]orb.Point{at}, around(at, 10, 90)...)...)...); ok {
			v.pic.text(baseline(place, letters), letters, "middle", `font-style="italic"`, name)
		}
	}
}

// wholly are places where a text lies inside an area whole, as far as its corners tell,
// those nearest to the middle first.
func (v *view) wholly(a plan.Area, text string) []orb.Point {
	const steps = 12
	shape := orb.Polygon{a.Outline.Ring()}
	b := shape.Bound()
	var out []orb.Point
	for row := range steps {
		for column := range steps {
			q := orb.Point{b.Min[0] + (b.Max[0]-b.Min[0])*(float64(column)+0.5)/steps, b.Min[1] + (b.Max[1]-b.Min[1])*(float64(row)+0.5)/steps}
			mid := v.at(q)
			room := textBox(mid, letters, text)
			wide, high := (room.Max[0]-mid[0])/v.scale, (room.Max[1]-mid[1])/v.scale
			in := true
			for _, c := range [4]orb.Point{{-wide, -high}, {wide, -high}, {wide, high}, {-wide, high}} {
				in = in && geom.PolygonContains(shape, orb.Point{q[0] + c[0], q[1] + c[1]})
			}
			if in {
				out = append(out, mid)
			}
		}
	}
	from := v.at(geom.InsidePoint(shape))
	far := func(q orb.Point) float64 { return math.Hypot(q[0]-from[0], q[1]-from[1]) }
	slices.SortStableFunc(out, func(a, b orb.Point) int { return cmp.Compare(far(a), far(b)) })
	return out
}

// scaleBar draws a bar of two steps of at least so long each.
func (v *view) scaleBar(at orb.Point, least float64) {
	foot, unit := 1.0, "ft"
	if v.p.Show == units.Metric {
		foot, unit = 1/units.MetresPerFoot, "m"
	}
	step := 0.5
	for _, n := range []float64{0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if step = n; n*foot*v.scale >= least {
			break
		}
	}
	w := step * foot * v.scale
	for k, fill := range []string{"#111", "#fff"} {
		x := at[0] + float64(k)*w
		v.pic.path(fmt.Sprintf(`fill="%s" stroke="#111" stroke-width="1"`, fill), true, []orb.Point{{x, at[1]}, {x + w, at[1]}, {x + w, at[1] + 6}, {x, at[1] + 6}})
	}
	for k := range 3 {
		label := fmt.Sprintf("%g", step*float64(k))
		anchor := "middle"
		if k == 2 {
			label, anchor = label+" "+unit, "start"
		}
		v.pic.text(orb.Point{at[0] + float64(k)*w, at[1] + 19}, letters, anchor, "", label)
	}
}
