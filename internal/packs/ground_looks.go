package packs

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

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
