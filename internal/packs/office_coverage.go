package packs

import (
	"context"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/drawing"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// coverageSheet is the map of the water with its legend and readings, then the figures
// by area, the field estimate and what they rest on.
func (b *builder) coverageSheet() error {
	asked, err := b.estimated()
	if err != nil {
		return err
	}
	m, err := waterOf(b.ctx, b.p)
	if err != nil {
		return err
	}
	var rest []part
	if len(b.p.Areas)+len(b.p.Heads) > 0 {
		if rest, err = b.waterPages(m, asked); err != nil {
			return err
		}
	}
	b.coverageFigures(asked, rest)
	return nil
}

// estimateShare is how much of the work of the sheet the field estimate and the windy
// day are, as its progress is told.
const estimateShare = 0.9

// estimated is what is worked out on request: the field estimate by the usual draws
// and seed (design.Ask has the same), and the windy day.
func (b *builder) estimated() (design.Asked, error) {
	draws := b.asked.Draws
	if draws == 0 {
		draws = coverage.UsualDraws
	}
	a := design.Asked{Estimate: design.FieldEstimate{Seed: coverage.UsualSeed}}
	if draws > 0 && len(b.p.Heads) > 0 {
		areas, err := coverage.FieldEstimate(b.ctx, b.p, coverage.UsualSeed, draws, func(done, total int) {
			b.tell(fmt.Sprintf("Field estimate: %d of %d installations", done, total), estimateShare*float64(done)/float64(total+1))
		})
		if err != nil {
			return a, err
		}
		a.Estimate.Draws, a.Estimate.Areas = draws, areas
	}
	b.tell("Windy day", estimateShare*float64(draws)/float64(draws+1))
	windy, err := windyDay(b.ctx, b.p)
	if err != nil {
		return a, err
	}
	a.Windy = windy
	b.tell(b.now.title, estimateShare)
	return a, nil
}

func windyDay(ctx context.Context, p *plan.Plan) (*design.WindyDay, error) {
	w := coverage.WindOf(p)
	pic, err := coverage.Windy(ctx, p, w, nil)
	if err != nil {
		return nil, err
	}
	return design.InWind(w, pic.Result), nil
}

// watered is the ground the map is drawn of: what plans show, and wherever water falls.
func (b *builder) watered(m *waterMap) orb.Bound {
	out := shownOf(b.in)
	if wet := m.wet(); !wet.Empty() {
		out = out.Union(m.bound(wet))
	}
	return out
}

// waterPages draws the map. What of legend and readings finds no room beside it is
// returned.
func (b *builder) waterPages(m *waterMap, asked design.Asked) (rest []part, err error) {
	k := letterScale(b.drawn)
	var c *chart
	var dry []drawing.Item
	err = b.planPages(planSheet{bounds: b.watered(m), aside: asideWide(k), fill: func(q *page, v *drawing.View) error {
		if c == nil {
			c = newChart(b.in, v.PerFoot, k)
			c.ground()
			c.heads(true)
			dry = b.dryPlaces(c)
			rest = c.fitting(q.aside, func(c *chart, wide float64) []part {
				return []part{c.waterLegend(wide), b.waterReadings(c, asked, wide), {c.title("Signs", wide), c.legend(wide)}}
			})
		}
		v.Items = append(v.Items, c.waterItems(m, v, dry)...)
		q.add(v)
		first := len(q.Items)
		b.settle(c, q, v, "")
		q.add(m.numbers(v, k, append(c.roomTaken(v, q.Items[first:]), q.taken...))...)
		rest = rest[c.beside(q, b.now.code, rest):]
		return b.ctx.Err()
	}})
	return rest, err
}

// waterItems are ground, map and what stands in it, the lowest first.
func (c *chart) waterItems(m *waterMap, v *drawing.View, dry []drawing.Item) []drawing.Item {
	under := []string{layerGround, layerPlanting, layerPaving, layerBuilding, layerNoDig}
	water := &drawing.Layer{Name: layerWater}
	if img := m.image(m.shown(orb.Bound{Min: v.ToGround(v.Box.Min), Max: v.ToGround(v.Box.Max)})); img != nil {
		water.Items = append(water.Items, img)
	}
	water.Items = append(append(water.Items, m.stripes(v)...), m.hatch(v)...)
	water.Items = append(water.Items, c.edgesOver()...)
	water.Items = append(water.Items, dry...)
	var out []drawing.Item
	laid := false
	for _, item := range inSight(c.items(), v) {
		if l, ok := item.(*drawing.Layer); ok && !laid && !slices.Contains(under, l.Name) {
			out, laid = append(out, water), true
		}
		out = append(out, item)
	}
	if !laid {
		out = append(out, water)
	}
	return out
}

// edgesOver are the edges of all areas, over the map.
func (c *chart) edgesOver() []drawing.Item {
	var out []drawing.Item
	for _, id := range c.areasInOrder() {
		a := c.p.Areas[id]
		pen := areaLooks[areaSign(a)].edge
		pen.Width *= c.k
		var rings [][]orb.Point
		for _, o := range append([]geom.Outline{a.Outline}, a.Holes...) {
			rings = append(rings, o.Ring())
		}
		out = append(out, &drawing.Area{Pen: pen, Rings: rings})
	}
	return out
}

// mostDry is how many dry places are drawn and listed by themselves. Chosen.
const mostDry = 24

// dryPen is the line round a dry place.
var dryPen = drawing.Pen{Ink: drawing.Black, Width: 1.1, Dash: []float64{2.2, 1.6}}

// dryPlaces outlines the largest dry places and has their names put by them.
func (b *builder) dryPlaces(c *chart) []drawing.Item {
	var out []drawing.Item
	for i, g := range b.in.Design.Coverage.Gaps {
		if i == mostDry {
			break
		}
		for _, poly := range g.Outline {
			rings := make([][]orb.Point, len(poly))
			for k, r := range poly {
				rings[k] = r
			}
			out = append(out, &drawing.Area{Pen: dryPen, Rings: rings})
		}
		c.labels = append(c.labels, label{about: g.At, want: drawing.Want{
			Text: drawing.Text{S: dryName(i), Size: 7 * c.k, Bold: true, Halo: true}, On: true, Leader: c.leader(), Priority: 8,
		}})
	}
	return out
}

func dryName(i int) string { return "D" + itoa(i+1) }

// roomTaken is what marks and letters take of a page.
func (c *chart) roomTaken(v *drawing.View, items []drawing.Item) []orb.Bound {
	var out []orb.Bound
	for _, t := range c.taken {
		at := v.ToPage(t.at)
		out = append(out, orb.Bound{Min: orb.Point{at[0] - t.half, at[1] - t.half}, Max: orb.Point{at[0] + t.half, at[1] + t.half}})
	}
	var walk func([]drawing.Item)
	walk = func(items []drawing.Item) {
		for _, item := range items {
			switch it := item.(type) {
			case *drawing.Layer:
				walk(it.Items)
			case *drawing.Text:
				corners := it.Corners(it.At)
				out = append(out, orb.MultiPoint(corners[:]).Bound())
			}
		}
	}
	walk(items)
	return out
}

// waterReadings are the figures of the whole plan beside its map.
func (b *builder) waterReadings(c *chart, asked design.Asked, wide float64) part {
	out := part{title: c.title("Readings", wide)}
	rows := sheets.Readings(b.p, b.in.Design, asked)
	if rows == nil {
		out.blocks = append(out.blocks, c.block(sheets.NothingWatered, wide, nil))
	}
	for _, r := range rows {
		if r[0] == "" {
			out.blocks = append(out.blocks, c.block(plan.Capital(r[1])+".", wide, nil))
			continue
		}
		out.blocks = append(out.blocks, c.headed(r[0], plan.Capital(r[1])+".", wide, nil))
	}
	return out
}
