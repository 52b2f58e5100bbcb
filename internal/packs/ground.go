package packs

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// ground draws what is there before the system: areas by kind, the lot, barriers,
// trees, places to keep dry.
func (c *chart) ground() {
	for _, id := range c.areasInOrder() {
		a := c.p.Areas[id]
		var rings [][]orb.Point
		for _, o := range append([]geom.Outline{a.Outline}, a.Holes...) {
			r := o.Ring()
			rings = append(rings, r)
			c.line(r...)
		}
		s := areaSign(a)
		c.use(s)
		c.put(areaLooks[s].layer, c.area(s, a.Status, rings)...)
		c.areaName(id, a, rings)
	}
	if lot := c.p.Site.Lot; len(lot) > 0 {
		r := lot.Ring()
		c.use(signLot)
		c.line(r...)
		c.put(layerLot, c.lot(r))
	}
	for _, id := range plan.SortedIDs(c.p.Barriers) {
		w := c.p.Barriers[id]
		pts := []orb.Point(w.Line.Points())
		c.use(barrierSign(w.Kind))
		c.useRemoval(w.Status)
		c.line(pts...)
		c.put(layerBarriers, c.barrier(w.Kind, w.Status, pts)...)
	}
	for _, id := range plan.SortedIDs(c.p.Trees) {
		t := c.p.Trees[id]
		at := orb.Point{float64(t.X), float64(t.Y)}
		c.use(signTree)
		c.useRemoval(t.Status)
		c.put(layerTrees, c.tree(at, float64(t.TrunkIn)/24, float64(t.RootZoneFt), t.Status)...)
		if t.RootZoneFt > 0 {
			c.use(signRoots)
		}
		c.take(at, max(2.2*c.k, float64(t.TrunkIn)/24*c.perFoot))
		c.name(t.Name, at, 3*c.k)
	}
	for _, id := range plan.SortedIDs(c.p.KeepDry) {
		k := c.p.KeepDry[id]
		at := orb.Point{float64(k.X), float64(k.Y)}
		c.use(signDry)
		c.useRemoval(k.Status)
		c.put(layerTrees, c.dry(at, float64(k.Radius()))...)
		c.name(k.Name, at, float64(k.Radius())*c.perFoot)
	}
}

// useRemoval notes that something of the ground goes. What is there already is not
// told apart: most of the ground is.
func (c *chart) useRemoval(s plan.Status) {
	if s == plan.Remove {
		c.use(signRemove)
	}
}

// heights draws the spot heights.
func (c *chart) heights() {
	for _, id := range plan.SortedIDs(c.p.Elevations) {
		e := c.p.Elevations[id]
		if !e.Status.Stands() {
			continue
		}
		at := orb.Point{float64(e.X), float64(e.Y)}
		c.use(signHeight)
		c.put(layerTrees, c.height(at)...)
		c.take(at, 2*c.k)
		c.labels = append(c.labels, label{about: at, without: true, want: drawing.Want{
			Text: drawing.Text{S: c.p.Show.Length(e.Z), Size: 5.6 * c.k, Ink: drawing.Grey, Halo: true}, Clear: 2 * c.k, Priority: 1,
		}})
	}
}

// areasInOrder are the areas as they lie over one another: the stronger kind last,
// and of one kind the smaller (plan.Area).
func (c *chart) areasInOrder() []plan.ID {
	ids := plan.SortedIDs(c.p.Areas)
	rank := func(a plan.Area) int {
		if s := a.Kind.Strength(); s >= 0 {
			return s
		}
		return math.MaxInt
	}
	slices.SortStableFunc(ids, func(x, y plan.ID) int {
		a, b := c.p.Areas[x], c.p.Areas[y]
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(b.Outline.Area(), a.Outline.Area()))
	})
	return ids
}

// areaName wants the name of an area inside it, and that it goes. Where the area is too
// narrow for it the name is set smaller, or cut short, as on the board.
func (c *chart) areaName(id plan.ID, a plan.Area, rings [][]orb.Point) {
	poly := orb.Polygon{}
	for _, r := range rings {
		poly = append(poly, orb.Ring(r))
	}
	if a.Kind == plan.NoDig && a.Status.Stands() { // never left out: it may be what a shovel must not meet
		c.labels = append(c.labels, label{about: geom.InsidePoint(poly), within: rings, of: plan.RefTo("areas", id), want: drawing.Want{
			Text: drawing.Text{S: clipped(c.p.AreaName(id)), Size: 6 * c.k, Italic: true, Halo: true}, On: true, Leader: c.leader(), Priority: 7,
		}})
		return
	}
	b := poly.Bound()
	text, ok := c.fittingName(c.p.AreaName(id), (b.Max[0]-b.Min[0])*c.perFoot)
	if !ok {
		return
	}
	if a.Status == plan.Remove {
		text.S += " (goes)"
		c.use(signRemove)
	}
	c.labels = append(c.labels, label{about: geom.InsidePoint(poly), within: rings, without: true, of: plan.RefTo("areas", id), want: drawing.Want{
		Text: text, On: true, Priority: 2,
	}})
}

// shortName is how many letters a name may have to stand over the edge of its area.
const shortName = 16

// fittingName is a name as it fits so many points, and whether it does at all.
func (c *chart) fittingName(name string, room float64) (drawing.Text, bool) {
	name = drawing.Printable(name)
	letters := []rune(name)
	for _, size := range []float64{7, 6} {
		t := drawing.Text{S: name, Size: size * c.k, Italic: true, Halo: true}
		if t.Width() <= room || size == 6 && len(letters) <= shortName && room > 6*c.k {
			return t, true
		}
	}
	for _, most := range []int{32, 24, 16, 12, 7} {
		if most >= len(letters) {
			continue
		}
		t := drawing.Text{S: strings.TrimSpace(string(letters[:most-1])) + "…", Size: 6 * c.k, Italic: true, Halo: true}
		if t.Width() <= room {
			return t, true
		}
	}
	return drawing.Text{}, false
}

// name wants the name of a thing beside it.
func (c *chart) name(s string, at orb.Point, clear float64) {
	if s == "" {
		return
	}
	c.labels = append(c.labels, label{about: at, without: true, want: drawing.Want{
		Text: drawing.Text{S: clipped(s), Size: 6 * c.k, Italic: true, Halo: true}, Clear: clear, Priority: 1,
	}})
}

// clipped is a name no longer than a drawing has room for. The lists have it whole.
func clipped(s string) string {
	const most = 32
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// areaLook is how a kind of ground is drawn. Fills are white or nearly so: what tells
// kinds apart is the hatch, which a printer without colours keeps.
type areaLook struct {
	layer string
	fill  drawing.Ink
	edge  drawing.Pen
	hatch []drawing.Hatch
}

var (
	edgeThin = drawing.Pen{Ink: drawing.RGB(0x333333), Width: 0.6}
	edgeHard = drawing.Pen{Ink: drawing.Black, Width: 1.1}
	lightInk = drawing.RGB(0x9a9a9a)
)

// areaLooks are the looks by sign.
var areaLooks = map[sign]areaLook{
	signLawn: {layerPlanting, drawing.White, edgeThin, nil},
	signBed: {layerPlanting, drawing.White, edgeThin, []drawing.Hatch{
		{Pen: drawing.Pen{Ink: lightInk, Width: 0.7, Dash: []float64{0.7, 5.3}}, Deg: 30, Every: 4.5},
	}},
	signOtherwise: {layerPlanting, drawing.White, edgeThin, []drawing.Hatch{
		{Pen: drawing.Pen{Ink: lightInk, Width: 0.5, Dash: []float64{2.5, 3.5}}, Deg: 90, Every: 5},
	}},
	signPaving: {layerPaving, drawing.RGB(0xececea), edgeThin, nil},
	signLoose: {layerGround, drawing.White, edgeThin, []drawing.Hatch{
		{Pen: drawing.Pen{Ink: lightInk, Width: 0.9, Dash: []float64{0.9, 2.1}}, Deg: 63, Every: 3},
	}},
	signBuilding: {layerBuilding, drawing.White, edgeHard, []drawing.Hatch{
		{Pen: drawing.Pen{Ink: lightInk, Width: 0.4}, Deg: 45, Every: 5},
	}},
	signWater: {layerGround, drawing.White, edgeThin, []drawing.Hatch{
		{Pen: drawing.Pen{Ink: lightInk, Width: 0.6, Dash: []float64{7, 3}}, Deg: 0, Every: 3.5},
	}},
	signStreet: {layerGround, drawing.White, edgeThin, []drawing.Hatch{
		{Pen: drawing.Pen{Ink: lightInk, Width: 0.4, Dash: []float64{5, 4}}, Deg: -45, Every: 7},
	}},
	signNoDig: {layerNoDig, 0, drawing.Pen{Ink: drawing.Black, Width: 0.9, Dash: []float64{3, 2}}, []drawing.Hatch{
		{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.5}, Deg: 45, Every: 6},
		{Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.5}, Deg: -45, Every: 6},
	}},
}

// areaSign is the sign of an area.
func areaSign(a plan.Area) sign {
	switch a.Kind {
	case plan.Building:
		return signBuilding
	case plan.Paving:
		return signPaving
	case plan.Ground:
		return signLoose
	case plan.RightOfWay:
		return signStreet
	case plan.NoDig:
		return signNoDig
	case plan.Water:
		return signWater
	}
	switch {
	case a.WateredBy() != plan.Overhead:
		return signOtherwise
	case a.Cover() != plan.Turf:
		return signBed
	}
	return signLawn
}

// area draws ground in its look.
func (c *chart) area(s sign, status plan.Status, rings [][]orb.Point) []drawing.Item {
	look := areaLooks[s]
	edge := look.edge
	edge.Width *= c.k
	if status == plan.Remove {
		edge.Dash = []float64{5, 3}
	}
	var out []drawing.Item
	if _, _, _, filled := look.fill.Parts(); filled {
		out = append(out, &drawing.Area{Fill: look.fill, Rings: rings})
	}
	for _, h := range look.hatch {
		h.Every *= c.k
		out = append(out, &drawing.Area{Hatch: &h, Rings: rings})
	}
	return append(out, &drawing.Area{Pen: edge, Rings: rings})
}

// lot draws the property line: dash and dot.
func (c *chart) lot(ring []orb.Point) drawing.Item {
	return &drawing.Area{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.9 * c.k, Dash: []float64{9, 2.5, 1.5, 2.5}}, Rings: [][]orb.Point{ring}}
}

func barrierSign(k plan.BarrierKind) sign {
	switch k {
	case plan.Wall:
		return signWall
	case plan.Hedge:
		return signHedge
	}
	return signFence
}

// barrier draws a wall as a thick line, a fence as a line with strokes across, a hedge
// as a row of dots.
func (c *chart) barrier(kind plan.BarrierKind, status plan.Status, pts []orb.Point) []drawing.Item {
	var out []drawing.Item
	switch kind {
	case plan.Wall:
		out = append(out, &drawing.Line{Pen: drawing.Pen{Ink: drawing.Black, Width: 2 * c.k}, Points: pts})
	case plan.Hedge:
		out = append(out, &drawing.Line{Pen: drawing.Pen{Ink: lightInk, Width: 2.6 * c.k, Dash: []float64{2.6, 1.8}}, Points: pts})
	default:
		out = append(out, &drawing.Line{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.7 * c.k}, Points: pts})
		tick := drawing.Pen{Ink: drawing.Black, Width: 0.6 * c.k}
		for _, s := range along(pts, c.pt(16*c.k)) {
			x, y := c.pt(1.8*c.k)*s.dir[0], c.pt(1.8*c.k)*s.dir[1]
			out = append(out, &drawing.Line{Pen: tick, Points: []orb.Point{{s.at[0] - y, s.at[1] + x}, {s.at[0] + y, s.at[1] - x}}})
		}
	}
	if status == plan.Remove {
		for _, s := range along(pts, c.pt(30*c.k)) {
			out = append(out, c.cross(s.at, 3*c.k)...)
		}
	}
	return out
}

// step is a place along a line with its direction.
type step struct {
	at, dir orb.Point
}

// along are places along a line, so far apart, the first half as far from its start.
// A line is never cut into more than a few thousand.
func along(pts []orb.Point, every float64) []step {
	const most = 4000
	total := 0.0
	for i := 1; i < len(pts); i++ {
		total += math.Hypot(pts[i][0]-pts[i-1][0], pts[i][1]-pts[i-1][1])
	}
	if every = max(every, total/most); !(every > 0) {
		return nil
	}
	var out []step
	next, past := every/2, 0.0
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		if l == 0 {
			continue
		}
		dir := orb.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
		for ; next <= past+l; next += every {
			t := next - past
			out = append(out, step{orb.Point{a[0] + dir[0]*t, a[1] + dir[1]*t}, dir})
		}
		past += l
	}
	return out
}

// tree draws a trunk of a radius in feet with its root zone.
func (c *chart) tree(at orb.Point, trunk, roots float64, status plan.Status) []drawing.Item {
	out := []drawing.Item{&drawing.Arc{Centre: at, Radius: max(trunk, c.pt(1.8*c.k)), SweepDeg: 360, Fill: drawing.RGB(0x444444)}}
	if roots > 0 {
		out = append(out, &drawing.Arc{Centre: at, Radius: roots, SweepDeg: 360, Pen: drawing.Pen{Ink: drawing.Grey, Width: 0.5 * c.k, Dash: []float64{1, 2}}})
	}
	if status == plan.Remove {
		out = append(out, c.cross(at, 4*c.k)...)
	}
	return out
}

// dry draws a place to keep dry: a circle with a stroke through it.
func (c *chart) dry(at orb.Point, radius float64) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Black, Width: 0.7 * c.k}
	d := radius * math.Sqrt2 / 2
	return []drawing.Item{
		&drawing.Arc{Centre: at, Radius: radius, SweepDeg: 360, Pen: pen},
		&drawing.Line{Pen: pen, Points: []orb.Point{{at[0] - d, at[1] - d}, {at[0] + d, at[1] + d}}},
	}
}

// height draws the mark of a spot height.
func (c *chart) height(at orb.Point) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Grey, Width: 0.6 * c.k}
	return []drawing.Item{
		&drawing.Line{Pen: pen, Points: c.about(at, 1.7*c.k, orb.Point{-1, 0}, orb.Point{1, 0})},
		&drawing.Line{Pen: pen, Points: c.about(at, 1.7*c.k, orb.Point{0, -1}, orb.Point{0, 1})},
	}
}
