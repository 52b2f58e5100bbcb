package packs

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/drawing"
)

// waterLegend says what the map shows: the ramp of its colours with the shares of the
// mean, a number for each class, so that it reads without colour, and the hatch.
func (c *chart) waterLegend(wide float64) part {
	out := part{title: c.title("Water on the ground", wide)}
	out.blocks = append(out.blocks,
		c.block("Rate as a share of the mean of its own area:", wide, nil),
		block{size: asideSize * c.k, sample: func(box orb.Bound) drawing.Item { return c.ramp(box, wide) }})
	for i, k := range mapClasses() {
		b := c.block(k.words, wide, func(box orb.Bound) drawing.Item { return c.classSample(k, box) })
		if i == 0 {
			b.over = 7 * c.k // of the shares under the ramp
		}
		out.blocks = append(out.blocks, b)
	}
	out.blocks = append(out.blocks,
		c.block("Light stripes: more than 120 % of the mean. Ground too small for its number has none.", wide, nil),
		c.block("water off its target, the darker the more", wide, straySample))
	if len(c.d.Coverage.Gaps) > 0 {
		out.blocks = append(out.blocks, c.block(fmt.Sprintf("dry place of %s or more, listed after the map", c.p.Show.Area(coverage.LeastGap)), wide, drySample))
	}
	return out
}

// classSample is a class by its colour and number.
func (c *chart) classSample(k mapClass, of orb.Bound) drawing.Item {
	middle := of.Center()
	share := (k.from + min(k.below, 2)) / 2
	out := &drawing.Layer{Items: []drawing.Item{box(drawing.Pen{Ink: drawing.Black, Width: 0.4}, mapInk(share), of)}}
	if k.number > unnumbered {
		out.Items = append(out.Items, &drawing.Area{Hatch: &drawing.Hatch{Pen: wetStripe, Deg: -45, Every: wetEvery}, Rings: box(drawing.Pen{}, 0, of).Rings})
	}
	if k.number != unnumbered {
		size := numberSize * c.k
		out.Items = append(out.Items, &drawing.Text{At: orb.Point{middle[0], middle[1] - 0.36*size}, Size: size, Bold: true, Anchor: drawing.Middle, Halo: true, S: itoa(k.number)})
	}
	return out
}

// drySample is the line round a dry place on its colour.
func drySample(of orb.Bound) drawing.Item { return box(dryPen, mapInk(0.25), of) }

// straySample is the hatch over water off its target, from little to much.
func straySample(of orb.Bound) drawing.Item {
	out := &drawing.Layer{}
	n := strayClasses - 1
	wide := (of.Max[0] - of.Min[0]) / float64(n)
	for i := range n {
		b := strayMiddle(i)
		x := of.Min[0] + wide*float64(i)
		out.Items = append(out.Items, &drawing.Area{
			Fill: mapInks()[b], Rings: box(drawing.Pen{}, 0, orb.Bound{Min: orb.Point{x, of.Min[1]}, Max: orb.Point{x + wide, of.Max[1]}}).Rings,
		}, &drawing.Area{
			Hatch: &drawing.Hatch{Pen: drawing.Pen{Ink: overWhite(strayInk, strayAlpha(b)), Width: strayWide}, Deg: 45, Every: strayEvery},
			Rings: box(drawing.Pen{}, 0, orb.Bound{Min: orb.Point{x, of.Min[1]}, Max: orb.Point{x + wide, of.Max[1]}}).Rings,
		})
	}
	return out
}

// rampAt are the shares of the mean written under the ramp.
var rampAt = []int{0, 50, 80, 100, 120, 150, 200}

// ramp is the colours of the map from no water to twice the mean, each byte of it a
// column, with shares under it.
func (c *chart) ramp(of orb.Bound, wide float64) drawing.Item {
	high := (of.Max[1] - of.Min[1]) * 0.7
	bar := orb.Bound{Min: orb.Point{of.Min[0] + 6*c.k, of.Max[1] - high}, Max: orb.Point{of.Min[0] + wide - 8*c.k, of.Max[1]}}
	cells := make([]byte, 200)
	for i := range cells {
		cells[i] = byte(i + 1)
	}
	out := &drawing.Layer{Items: []drawing.Item{
		&drawing.Image{Box: bar, Columns: len(cells), Rows: 1, Inks: mapInks(), Cells: cells},
		box(drawing.Pen{Ink: drawing.Black, Width: 0.5}, 0, bar),
	}}
	for i, percent := range rampAt {
		words := itoa(percent)
		if i == len(rampAt)-1 {
			words += " %"
		}
		x := bar.Min[0] + (bar.Max[0]-bar.Min[0])*float64(percent)/200
		out.Items = append(out.Items,
			&drawing.Line{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.5}, Points: []orb.Point{{x, bar.Min[1]}, {x, bar.Min[1] - 2*c.k}}},
			&drawing.Text{At: orb.Point{x, bar.Min[1] - 7.6*c.k}, Size: 5.6 * c.k, Anchor: drawing.Middle, S: words})
	}
	return out
}
