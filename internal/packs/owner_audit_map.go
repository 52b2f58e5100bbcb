package packs

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/proof"
)

// Measures of the two maps of an audit, points: chosen for two beside one another on Letter.
const (
	auditMost   = 300.0 // high
	auditCell   = 2.5   // of the pictures
	auditDisc   = 6.2   // of a can, where cans stand far enough apart
	auditDot    = 2.0   // of a can, where they do not
	auditAround = 6.0   // feet about a can that are its, where no area is named
)

// auditMaps draws what was caught beside what was predicted at the same cans, each place
// in the colour of its nearest can.
func (b *builder) auditMaps(f *flow, a *proof.Audited) {
	ground, ok := b.auditGround(a)
	if !ok {
		return
	}
	const apart = 12.0
	wide := (f.wide() - apart) / 2
	w, h := ground.Max[0]-ground.Min[0], ground.Max[1]-ground.Min[1]
	perFoot := min((wide-16)/w, (auditMost-16)/h)
	high := h*perFoot + 16
	f.keep(high + 46)
	top := f.y - 14
	for i, m := range []struct {
		title string
		of    canSays
	}{
		{"Caught", func(c *proof.CanRead) (*int, string) { return c.MeasuredByte, c.Percent }},
		{"Predicted at the same cans", func(c *proof.CanRead) (*int, string) { return c.ExpectedByte, c.ExpectedPercent }},
	} {
		x := f.x0 + float64(i)*(wide+apart)
		v := &drawing.View{Box: orb.Bound{Min: orb.Point{x, top - high}, Max: orb.Point{x + wide, top}}, Middle: ground.Center(), PerFoot: perFoot}
		f.add(&drawing.Text{At: orb.Point{x, top + 5}, Size: bodySize, Bold: true, S: m.title})
		b.auditMap(f, a, v, m.of)
		f.add(box(drawing.Pen{Ink: drawing.Black, Width: 0.7}, 0, v.Box))
	}
	f.y = top - high - 5
	c := newChart(b.in, 1, 1)
	f.add(c.ramp(orb.Bound{Min: orb.Point{f.x0, f.y - 10}, Max: orb.Point{f.x1, f.y}}, f.wide()))
	f.y -= 20
	figures := "The figure in a can is that percentage, the one beside it the can's number."
	if canRadius(a, perFoot) < auditDisc {
		figures = "The figure beside a can is its number; its percentage stands in the list."
	}
	f.note("Each place has the colour of the can nearest to it, in percent of the mean of all cans: dark brown is driest, dark teal wettest. " + figures + " Brackets stand about a head to look at.")
}

// auditGround is the ground that the maps of an audit show: its area, and all its cans.
func (b *builder) auditGround(a *proof.Audited) (orb.Bound, bool) {
	var out orb.Bound
	some := false
	for i := range a.Cans {
		at := canAt(&a.Cans[i])
		if !some {
			out, some = at.Bound(), true
		}
		out = out.Extend(at)
	}
	if area, ok := b.p.Areas[a.Area]; ok && some {
		out = out.Union(area.Outline.Bound())
	}
	const least = 6.0 // feet, so that one can has ground about it
	c := out.Center()
	w, h := max(out.Max[0]-out.Min[0], least)/2, max(out.Max[1]-out.Min[1], least)/2
	return orb.Bound{Min: orb.Point{c[0] - w, c[1] - h}, Max: orb.Point{c[0] + w, c[1] + h}}, some
}

func canAt(c *proof.CanRead) orb.Point { return orb.Point{float64(c.X), float64(c.Y)} }

// canSays is what a map says of a can: its byte on the scale of the map, nil none, and the
// percentage in words, which goes on where the colours end.
type canSays func(*proof.CanRead) (*int, string)

// signless is a percentage without its sign.
func signless(percent string) string { return strings.TrimSuffix(percent, " %") }

// auditMap draws one map: ground, colours, heads and cans.
func (b *builder) auditMap(f *flow, a *proof.Audited, v *drawing.View, of canSays) {
	c := newChart(b.in, v.PerFoot, 1)
	c.ground()
	c.labels = nil
	if img := b.nearestCans(a, v, of); img != nil {
		c.put(layerWater, img)
		c.put(layerWater, c.edgesOver()...)
	}
	c.heads(false)
	radius := canRadius(a, v.PerFoot)
	for i := range a.Cans {
		can := &a.Cans[i]
		at := canAt(can)
		fill, words := drawing.White, ""
		if k, percent := of(can); k != nil && !can.Out {
			words = signless(percent)
			if radius < auditDisc {
				fill, words = mapInks()[byte(*k)], ""
			}
		}
		c.put(layerText, &drawing.Arc{Centre: at, Radius: radius, SweepDeg: 360, OnPaper: true, Pen: drawing.Pen{Ink: drawing.Black, Width: 0.6}, Fill: fill})
		if can.Out {
			c.put(layerText, c.cross(at, radius*0.7)...)
		}
		if words != "" {
			const size = 5.4
			c.put(layerText, &drawing.Text{At: orb.Point{at[0], at[1] - c.pt(size*0.36)}, Size: size, Bold: true, Anchor: drawing.Middle, S: words})
		}
		c.take(at, radius)
		c.labels = append(c.labels, label{about: at, without: true, want: drawing.Want{
			Text: drawing.Text{S: itoa(can.Number), Size: 5, Halo: true}, Clear: radius + 0.5, Priority: 4,
		}})
	}
	for _, h := range a.Faults {
		if at, there := b.p.Heads[h.Head]; there {
			c.put(layerText, c.brackets(orb.Point{float64(at.X), float64(at.Y)})...)
		}
	}
	for _, h := range a.Heads {
		at, there := b.p.Heads[h.Head]
		if there && h.Tag != "" {
			c.labels = append(c.labels, label{about: orb.Point{float64(at.X), float64(at.Y)}, without: true, want: drawing.Want{
				Text: drawing.Text{S: h.Tag, Size: 5.4, Italic: !h.Fault, Bold: h.Fault, Halo: true}, Clear: markSize * 1.1, Leader: c.leader(), Priority: 3,
			}})
		}
	}
	v.Items = inSight(c.items(), v)
	f.add(v)
	set, _ := c.settled(v, nil)
	layer := &drawing.Layer{Name: layerText}
	for i := range set {
		if set[i].Placed {
			layer.Items = append(layer.Items, set[i].Items()...)
		}
	}
	if len(layer.Items) > 0 {
		f.add(layer)
	}
}

// canRadius is how large cans are drawn, points: with their figures in them where they
// stand far enough apart.
func canRadius(a *proof.Audited, perFoot float64) float64 {
	for i := range a.Cans {
		p := canAt(&a.Cans[i])
		for k := range i {
			if q := canAt(&a.Cans[k]); math.Hypot(p[0]-q[0], p[1]-q[1])*perFoot < 2*auditDisc+6 {
				return auditDot
			}
		}
	}
	return auditDisc
}

// nearestCans is a picture of the audit's area, each cell in the colour of the can
// nearest to it; nil where no can has one.
func (b *builder) nearestCans(a *proof.Audited, v *drawing.View, of canSays) *drawing.Image {
	type can struct {
		at    orb.Point
		shown byte
	}
	var cans []can
	for i := range a.Cans {
		if k, _ := of(&a.Cans[i]); k != nil && !a.Cans[i].Out {
			cans = append(cans, can{canAt(&a.Cans[i]), byte(*k)})
		}
	}
	area, named := b.p.Areas[a.Area]
	ground := orb.Bound{Min: v.ToGround(v.Box.Min), Max: v.ToGround(v.Box.Max)}
	if len(cans) == 0 {
		return nil
	}
	var poly orb.Polygon
	if named {
		for _, o := range append([]geom.Outline{area.Outline}, area.Holes...) {
			poly = append(poly, o.Ring())
		}
		ground = orb.Bound{
			Min: orb.Point{max(ground.Min[0], poly.Bound().Min[0]), max(ground.Min[1], poly.Bound().Min[1])},
			Max: orb.Point{min(ground.Max[0], poly.Bound().Max[0]), min(ground.Max[1], poly.Bound().Max[1])},
		}
	}
	cell := auditCell / v.PerFoot
	m := &drawing.Image{Box: ground, Inks: mapInks()}
	m.Columns = max(1, int(math.Ceil((ground.Max[0]-ground.Min[0])/cell)))
	m.Rows = max(1, int(math.Ceil((ground.Max[1]-ground.Min[1])/cell)))
	wide, high := (ground.Max[0]-ground.Min[0])/float64(m.Columns), (ground.Max[1]-ground.Min[1])/float64(m.Rows)
	for y := range m.Rows {
		for x := range m.Columns {
			at := orb.Point{ground.Min[0] + (float64(x)+0.5)*wide, ground.Max[1] - (float64(y)+0.5)*high}
			near, best := byte(0), math.Inf(1)
			for _, k := range cans {
				if d := math.Hypot(k.at[0]-at[0], k.at[1]-at[1]); d < best {
					near, best = k.shown, d
				}
			}
			if named && !geom.PolygonContains(poly, at) || !named && best > auditAround {
				near = 0
			}
			m.Cells = append(m.Cells, near)
		}
	}
	return m
}
