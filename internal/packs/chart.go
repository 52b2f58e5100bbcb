package packs

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/design"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// Layers of a drawing of ground, as PDF and DXF name them.
const (
	layerGround   = "GROUND"
	layerPlanting = "PLANTING"
	layerPaving   = "PAVING"
	layerBuilding = "BUILDING"
	layerNoDig    = "NO_DIG"
	layerLot      = "LOT"
	layerBarriers = "BARRIERS"
	layerTrees    = "TREES"
	layerThrow    = "THROW"
	layerTrench   = "TRENCH"
	layerSleeves  = "SLEEVES"
	layerLateral  = "PIPE_LATERAL"
	layerMain     = "PIPE_MAIN"
	layerWire     = "WIRE"
	layerHeads    = "HEADS"
	layerValves   = "VALVES"
	layerSupply   = "SUPPLY"
	layerControl  = "CONTROL"
	layerFixed    = "FIXED_POINTS"
	layerMeasured = "MEASURED"
	layerFlags    = "FLAGS"
	layerText     = "TEXT"
)

// layerOrder is what lies over what, the lowest first.
var layerOrder = []string{
	layerGround, layerPlanting, layerPaving, layerBuilding, layerNoDig, layerWater, layerThrow, layerLot, layerTrees, layerBarriers, layerTrench,
	layerSleeves, layerLateral, layerMain, layerWire, layerMeasured, layerFixed, layerFlags, layerValves, layerHeads, layerSupply, layerControl, layerText,
}

// chart is ground and what stands in it, drawn for one scale: layers of items in feet,
// the signs that were used, and the labels that want a place.
type chart struct {
	p       *plan.Plan
	d       *design.Design
	zones   map[plan.ID]zoneMark
	perFoot float64 // points of paper to a foot
	k       float64 // how much larger than on Letter marks and letters are
	layers  map[string]*drawing.Layer
	used    map[sign]bool
	labels  []label
	taken   []mark
	edges   [][2]orb.Point // feet: what letters had better not lie on
}

// label is a name that wants a place on the chart.
type label struct {
	want    drawing.Want // its places in feet
	within  [][]orb.Point
	along   []orb.Point
	about   orb.Point
	of      plan.Ref
	badge   string // a letter to be set white on a black disc where the want stands
	without bool   // that it finds no place is no loss: what it says is said elsewhere on the sheet
}

// mark is room of the paper that a mark takes, whatever the scale.
type mark struct {
	at   orb.Point // feet
	half float64   // points
}

// newChart is an empty chart for a scale.
func newChart(in Input, perFoot, k float64) *chart {
	return &chart{
		p: in.Plan, d: in.Design, zones: zoneMarks(in.Plan), perFoot: perFoot, k: k,
		layers: map[string]*drawing.Layer{}, used: map[sign]bool{},
	}
}

// pt is so many points of paper as feet of ground.
func (c *chart) pt(points float64) float64 { return points / c.perFoot }

func (c *chart) put(layer string, items ...drawing.Item) {
	l := c.layers[layer]
	if l == nil {
		l = &drawing.Layer{Name: layer}
		c.layers[layer] = l
	}
	l.Items = append(l.Items, items...)
}

// items are the layers that hold something, the lowest first.
func (c *chart) items() []drawing.Item {
	var out []drawing.Item
	for _, name := range layerOrder {
		if l := c.layers[name]; l != nil && len(l.Items) > 0 {
			out = append(out, l)
		}
	}
	return out
}

func (c *chart) use(signs ...sign) {
	for _, s := range signs {
		c.used[s] = true
	}
}

// useStatus notes that a thing is drawn as there already, or as going.
func (c *chart) useStatus(s plan.Status) {
	switch {
	case s == plan.Remove:
		c.use(signRemove)
	case !s.IsNew():
		c.use(signExisting)
	}
}

func (c *chart) take(at orb.Point, half float64) { c.taken = append(c.taken, mark{at, half}) }

// line notes edges that letters had better not lie on.
func (c *chart) line(pts ...orb.Point) {
	for i := 1; i < len(pts); i++ {
		c.edges = append(c.edges, [2]orb.Point{pts[i-1], pts[i]})
	}
}

// settle finds places for the labels of what the view shows and draws them on the
// page. What finds none is told of with the lists that have it, of a crew's sheet, and
// else with the one named.
func (b *builder) settle(c *chart, q *page, v *drawing.View, where string) {
	set, of := c.settled(v, q.taken)
	var lost []label
	layer := &drawing.Layer{Name: layerText}
	for i, s := range set {
		if s.Placed {
			layer.Items = append(layer.Items, s.Items()...)
		} else {
			lost = append(lost, of[i])
		}
	}
	q.add(layer)
	if len(lost) > 0 {
		b.unplacedSay(q, len(lost), listsOf(lost, where))
	}
}

// listsOf are the crew's lists that have what labels would say; where: that of what is
// in none of them. A sheet that names no list has none; the record drawing has its own.
func listsOf(lost []label, where string) string {
	if where == "" || where == recordCode {
		return where
	}
	by := map[string]string{"heads": "C6", "pipes": "C7", "trench": "C7", "sleeves": "C7", "zones": "C8"}
	var lists []string
	for _, l := range lost {
		collection, _ := l.of.Split()
		lists = append(lists, cmp.Or(by[collection], where))
	}
	slices.Sort(lists)
	return plan.Series(slices.Compact(lists))
}

// settled are the labels of what a view shows, and what each is of. Labels that may be
// left out without loss and found no place are not among them.
func (c *chart) settled(v *drawing.View, also []orb.Bound) ([]drawing.Settled, []label) {
	taken := append([]orb.Bound{}, also...)
	for _, m := range c.taken {
		if at := v.ToPage(m.at); near(v.Box, at, m.half) {
			taken = append(taken, orb.Bound{Min: orb.Point{at[0] - m.half, at[1] - m.half}, Max: orb.Point{at[0] + m.half, at[1] + m.half}})
		}
	}
	var lines [][2]orb.Point
	for _, e := range c.edges {
		a, b := v.ToPage(e[0]), v.ToPage(e[1])
		if (orb.MultiPoint{a, b}).Bound().Intersects(v.Box) {
			lines = append(lines, [2]orb.Point{a, b})
		}
	}
	var wants []drawing.Want
	var of []label
	for _, l := range c.labels {
		w := l.want
		w.About, w.Along = v.ToPage(l.about), onPage(v, l.along)
		if len(w.Along) == 2 { // what is seen of a pipe has its label in the middle of that
			a, b, some := clippedTo(v.Box.Pad(-4*c.k), w.Along[0], w.Along[1])
			if !some || (a != w.Along[0] || b != w.Along[1]) && math.Hypot(b[0]-a[0], b[1]-a[1]) < 1.2*w.Text.Width() {
				continue
			}
			w.Along, w.About = []orb.Point{a, b}, orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		}
		if !v.Box.Contains(w.About) {
			continue
		}
		for _, ring := range l.within {
			w.Within = append(w.Within, onPage(v, ring))
		}
		wants, of = append(wants, w), append(of, l)
	}
	all := drawing.Settle(v.Box, wants, taken, lines)
	out, kept := all[:0], of[:0]
	for i, s := range all {
		if of[i].badge != "" {
			c.disc(&s, of[i].badge)
		}
		if s.Placed || !of[i].without {
			out, kept = append(out, s), append(kept, of[i])
		}
	}
	return out, kept
}

// clippedTo is the part of a straight line inside a box, and whether there is any.
func clippedTo(box orb.Bound, a, b orb.Point) (orb.Point, orb.Point, bool) {
	t0, t1, some := drawing.Clipped([2]orb.Point{a, b}, box)
	at := func(t float64) orb.Point { return orb.Point{a[0] + (b[0]-a[0])*t, a[1] + (b[1]-a[1])*t} }
	from, to := a, b
	if some && t0 > 0 {
		from = at(t0)
	}
	if some && t1 < 1 {
		to = at(t1)
	}
	return from, to, some
}

func onPage(v *drawing.View, pts []orb.Point) []orb.Point {
	var out []orb.Point
	for _, p := range pts {
		out = append(out, v.ToPage(p))
	}
	return out
}

// near reports whether a place with room about it touches a box.
func near(box orb.Bound, at orb.Point, half float64) bool {
	return at[0]+half >= box.Min[0] && at[0]-half <= box.Max[0] && at[1]+half >= box.Min[1] && at[1]-half <= box.Max[1]
}
