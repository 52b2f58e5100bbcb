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
