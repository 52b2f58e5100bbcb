package packs

import (
	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// inSight are the items of a chart that touch what a view shows, so that a page of a
// large plan holds no more than its own ground. The view cuts off what goes past it.
func inSight(items []drawing.Item, v *drawing.View) []drawing.Item {
	const about = 12.0 // points, for pens and marks
	a, b := v.ToGround(v.Box.Min), v.ToGround(v.Box.Max)
	more := about / v.PerFoot
	seen := orb.Bound{Min: orb.Point{a[0] - more, a[1] - more}, Max: orb.Point{b[0] + more, b[1] + more}}
	var keep func([]drawing.Item) []drawing.Item
	keep = func(items []drawing.Item) []drawing.Item {
		var out []drawing.Item
		for _, i := range items {
			if l, ok := i.(*drawing.Layer); ok {
				if in := keep(l.Items); len(in) > 0 {
					out = append(out, &drawing.Layer{Name: l.Name, Items: in})
				}
			} else if touches(i, seen) {
				out = append(out, i)
			}
		}
		return out
	}
	return keep(items)
}

// touches reports whether an item may be seen within a bound of the ground.
func touches(i drawing.Item, seen orb.Bound) bool {
	switch i := i.(type) {
	case *drawing.Line:
		return len(i.Points) > 0 && orb.MultiPoint(i.Points).Bound().Intersects(seen)
	case *drawing.Area:
		for _, r := range i.Rings {
			if len(r) > 0 && orb.MultiPoint(r).Bound().Intersects(seen) {
				return true
			}
		}
		return false
	case *drawing.Arc:
		r := i.Radius
		if i.OnPaper {
			r = 0
		}
		return orb.Bound{Min: orb.Point{i.Centre[0] - r, i.Centre[1] - r}, Max: orb.Point{i.Centre[0] + r, i.Centre[1] + r}}.Intersects(seen)
	case *drawing.Text:
		return seen.Contains(i.At)
	}
	return true
}
