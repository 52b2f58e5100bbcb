package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// chartPerFoot is the scale that the whole system is drawn to for DXF: 1 in to 10 ft,
// which gives letters and marks their size in feet.
const chartPerFoot = 7.2

// chartOf is the whole system on layers, in feet of the ground, for plan.dxf and
// layout.svg: buildings, paving, planting, lot, heads with their throw, main and
// laterals, sleeves, wire, valves, and the words. Everything lies where it is measured;
// words stand where there is room.
func chartOf(in Input) *drawing.View {
	c := newChart(in, chartPerFoot, 1)
	c.ground()
	c.heights()
	c.throws()
	c.sleeves()
	c.pipes(false)
	c.sizes()
	c.supply()
	c.controls()
	c.spliceBoxes()
	c.valves(false)
	c.heads(true)
	const about = 60.0 // points
	ground := shownOf(in)
	w, h := (ground.Max[0]-ground.Min[0])*chartPerFoot+2*about, (ground.Max[1]-ground.Min[1])*chartPerFoot+2*about
	v := &drawing.View{Box: orb.Bound{Max: orb.Point{w, h}}, Middle: ground.Center(), PerFoot: chartPerFoot}
	set, _ := c.settled(v, nil)
	for i := range set {
		if set[i].Placed {
			c.put(layerText, inGround(v, set[i].Items())...)
		}
	}
	v.Items = c.items()
	return v
}

// inGround moves lines and words of the page to where they are on the ground.
func inGround(v *drawing.View, items []drawing.Item) []drawing.Item {
	for _, i := range items {
		switch i := i.(type) {
		case *drawing.Text:
			i.At = v.ToGround(i.At)
		case *drawing.Arc:
			i.Centre, i.OnPaper = v.ToGround(i.Centre), true
		case *drawing.Line:
			for k := range i.Points {
				i.Points[k] = v.ToGround(i.Points[k])
			}
		}
	}
	return items
}

// layoutPage is the whole system on one page as large as it needs, for layout.svg.
func layoutPage(in Input) *drawing.Page {
	v := chartOf(in)
	return &drawing.Page{Name: in.Plan.Name, Width: v.Box.Max[0], Height: v.Box.Max[1], Items: []drawing.Item{v}}
}
