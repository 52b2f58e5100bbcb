package packs

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// spotlight is a place that is shown larger.
type spotlight struct {
	at   orb.Point
	name string
}

// enlargedTo is the scale of places shown larger: 1 in to 5 ft, or 1 to 50.
func enlargedTo(sys units.System) Scale {
	s, _ := ScaleOf(sys, map[bool]int{true: 50, false: 60}[sys == units.Metric])
	return s
}

// Room of a place shown larger, on Letter: chosen, for 16 by 12 ft of ground.
const (
	spotWide = 232.0
	spotHigh = 180.0
)

// crowded are the places of the pipe plan where much stands close together: the boxes
// of valves, and the backflow device where it is not with them.
func (c *chart) crowded() []spotlight {
	const near = 5.0 // feet, chosen: shown together
	var out []spotlight
	add := func(at orb.Point, name string) {
		for i := range out {
			o := &out[i]
			if math.Hypot(o.at[0]-at[0], o.at[1]-at[1]) <= near {
				o.at = orb.Point{(o.at[0] + at[0]) / 2, (o.at[1] + at[1]) / 2}
				o.name += ", " + name
				return
			}
		}
		out = append(out, spotlight{at, name})
	}
	if len(c.p.Pipes) == 0 {
		return nil
	}
	if s := c.p.Supply.BackflowAt; s != nil {
		add(spotAt(*s), "backflow device")
	}
	for i := range c.d.Digs.Boxes {
		x := &c.d.Digs.Boxes[i]
		if x.Kind == trench.SpliceBox || len(x.Zones) == 0 {
			continue
		}
		tags := ""
		for _, id := range x.Zones {
			tags += " " + c.valveTag(id)
		}
		add(x.At, "box"+tags)
	}
	return out
}

// enlarged shows the crowded places of a sheet larger, several to a page, where the
// plan itself is drawn smaller than that. Parts of the sheet that found no room beside
// it go under them where that has room, which is told: placed.
func (b *builder) enlarged(s groundSheet, plan *chart, k float64, placed bool, parts func(wide, k float64) []part) (bool, error) {
	to := enlargedTo(b.sys)
	spots := s.enlarge(plan)
	if len(spots) == 0 || plan.perFoot >= to.perFoot()*0.7 {
		return placed, nil
	}
	c := newChart(b.in, to.perFoot(), k)
	s.draw(c)
	const between, titled = 10.0, 16.0
	var q *page
	var room orb.Bound
	var columns, rows int
	n := 0
	for i, spot := range spots {
		if q == nil || n == columns*rows {
			q = b.drawingPage()
			q.scale = to.Name
			room = q.room
			all, high := room.Max[0]-room.Min[0], room.Max[1]-room.Min[1]
			columns = max(1, int((all+between)/(spotWide*k+between)))
			rows = max(1, int((high+between)/((spotHigh+titled)*k+between)))
			columns = min(columns, len(spots)-i)
			rows = min(rows, (len(spots)-i+columns-1)/columns)
			n = 0
			if free := high - float64(rows)*((spotHigh+titled)*k+between); !placed && i+columns*rows >= len(spots) {
				wide := (all - 2*columnsApart) / 3
				for _, share := range setSmaller {
					under := parts(wide, share)
					var tall float64
					if tall, placed = columnsHigh(under, wide, all, free); placed {
						foot := orb.Bound{Min: room.Min, Max: orb.Point{room.Max[0], room.Min[1] + tall}}
						inColumns(under, wide, func() (*page, orb.Bound) { return q, foot })
						room.Min[1] += tall + between
						break
					}
				}
			}
		}
		w := (room.Max[0]-room.Min[0]+between)/float64(columns) - between
		h := (room.Max[1]-room.Min[1]+between)/float64(rows) - between
		x := room.Min[0] + float64(n%columns)*(w+between)
		y := room.Max[1] - float64(n/columns)*(h+between)
		q.add(&drawing.Text{At: orb.Point{x, y - 10*k}, Size: 8.5 * k, Bold: true, S: cut("Larger: "+spot.name, 8.5*k, true, w)})
		box := orb.Bound{Min: orb.Point{x, y - h}, Max: orb.Point{x + w, y - titled*k}}
		v := &drawing.View{Box: box, Middle: c.middle(spot.at, box), PerFoot: c.perFoot}
		q.view = v
		v.Items = inSight(c.items(), v)
		q.add(v)
		b.settle(c, q, v, s.list)
		q.add(&drawing.Area{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.8}, Rings: [][]orb.Point{{
			box.Min, {box.Max[0], box.Min[1]}, box.Max, {box.Min[0], box.Max[1]},
		}}})
		n++
		if err := b.ctx.Err(); err != nil {
			return placed, err
		}
	}
	return placed, nil
}

// middle is what a view of a crowded place looks at: the middle of what is labelled
// within its reach, so far that the place itself stays in the middle half of the view.
func (c *chart) middle(at orb.Point, box orb.Bound) orb.Point {
	half := orb.Point{(box.Max[0] - box.Min[0]) / 2 / c.perFoot, (box.Max[1] - box.Min[1]) / 2 / c.perFoot}
	seen := orb.Bound{Min: at, Max: at}
	for _, l := range c.labels {
		if math.Abs(l.about[0]-at[0]) <= 1.3*half[0] && math.Abs(l.about[1]-at[1]) <= 1.3*half[1] {
			seen = seen.Extend(l.about)
		}
	}
	out := seen.Center()
	for i := range out {
		out[i] = min(max(out[i], at[i]-half[i]/2), at[i]+half[i]/2)
	}
	return out
}
