package sheets

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// depths are small lengths of digging: whole inches or centimetres.
var depths = measure{"in", "cm", 0, 0, 2.54}

// stretch is trench of one kind from one place to another, as a crew digs it in one
// go: segments end to end.
type stretch struct {
	first  int // segment
	from   orb.Point
	to     orb.Point
	line   orb.LineString // from, corners, to
	length units.Feet
	holds  string
	ground []string
	how    string
	cover  units.Inches
	width  units.Inches
	order  int // the main first, then the zones by station, wire last
}

// Trenches is the trench list for the crew, in the order of digging: from the point
// of connection along the main, then zone by zone, then wire by itself. What is there
// already is left out.
func Trenches(p *plan.Plan, d *trench.Digs) Table {
	sys := p.Show
	t := Table{Title: "Trenches", Columns: []Column{
		{"Stretch", 9}, {"From", 30}, {"To", 30}, lengths.column(sys, "Length", 10), {"How", 24},
		depths.column(sys, "Cover", 10), depths.column(sys, "Width", 10), {"In it", 48}, {"Ground", 24},
	}}
	for i, s := range stretches(p, d) {
		width := depths.cell(sys, float64(s.width))
		if s.how != digIt && s.how != digByHand {
			width = Text("")
		}
		t.Rows = append(t.Rows, []Cell{
			Count(i + 1), Text(standingPlace(p, d, s.from)), Text(standingPlace(p, d, s.to)), lengths.cell(sys, float64(s.length)), Text(s.how),
			depths.cell(sys, float64(s.cover)), width, Text(s.holds), Text(strings.Join(s.ground, ", ")),
		})
	}
	yards := fmt.Sprintf("%.1f cubic yards dug out", d.Totals.Spoil)
	if sys == units.Metric {
		yards = fmt.Sprintf("%.1f m³ dug out", d.Totals.Spoil*cubicMetres)
	}
	row := make([]Cell, len(t.Columns))
	row[0], row[3], row[7] = Text(TotalName), lengths.cell(sys, float64(d.Totals.Trench)), Text(yards)
	row[4] = Text("trench")
	caution := make([]Cell, len(t.Columns))
	caution[0], caution[7] = Text(NoteName), Text(trench.Caution)
	t.Rows = append(t.Rows, row, caution)
	return t
}

// cubicMetres are in a cubic yard.
const cubicMetres = 0.764554857984

// How a stretch is made.
const (
	digIt     = "trench"
	digByHand = "by hand, among roots"
	inHouse   = "clipped in the building"
)

// groundWords names the ground of a stretch.
var groundWords = map[trench.Ground]string{
	trench.Lawn: "lawn", trench.Bed: "bed", trench.Loose: "loose ground", trench.Roots: "roots", trench.Street: "right of way",
	trench.Paved: "paving", trench.Indoors: "building", trench.NotToDig: "not to be dug", trench.Wet: "water",
	trench.Undrawn: "ground not drawn", trench.OffLot: "off the lot",
}

// stretches joins the new segments end to end, as long as they hold the same and are
// made the same way.
func stretches(p *plan.Plan, d *trench.Digs) []stretch {
	numbers := sleeveNumbers(p, d)
	type end struct {
		at  orb.Point
		key string
	}
	open := map[end]int{}
	var out []stretch
	for i := range d.Segments {
		seg := &d.Segments[i]
		if !seg.New || len(seg.Pipes)+len(seg.Wires)+len(seg.Ways) == 0 {
			continue
		}
		s := stretch{first: i, from: seg.From, to: seg.To, line: orb.LineString{seg.From, seg.To}, length: seg.Length, cover: seg.Cover, width: seg.Width, how: digIt}
		s.holds, s.order = holds(p, d, seg)
		switch {
		case seg.Crossing >= 0:
			s.how = "under paving"
			if n := numbers[seg.Crossing]; n != "" {
				s.how = n
			}
		case seg.Ground == trench.Indoors:
			s.how = inHouse
		case seg.Ground == trench.Roots:
			s.how = digByHand
		}
		ground := groundWords[seg.Ground]
		if seg.Crossing >= 0 {
			ground = p.AreaName(d.Crossings[seg.Crossing].Area)
		}
		key := fmt.Sprintf("%s|%s|%g", s.holds, s.how, float64(s.cover))
		if k, ok := open[end{rounded(seg.From), key}]; ok {
			delete(open, end{rounded(seg.From), key})
			o := &out[k]
			o.to, o.line, o.length = seg.To, append(o.line, seg.To), o.length+seg.Length
			if !slices.Contains(o.ground, ground) {
				o.ground = append(o.ground, ground)
			}
			open[end{rounded(seg.To), key}] = k
			continue
		}
		s.ground = []string{ground}
		open[end{rounded(seg.To), key}] = len(out)
		out = append(out, s)
	}
	out = swallowed(out)
	slices.SortStableFunc(out, func(a, b stretch) int { return cmp.Compare(a.order, b.order) })
	return out
}

// Spade is the length of trench below which a stretch is none by itself. Chosen: less
// than a spade is wide.
const Spade units.Feet = 0.25

// swallowed puts what is too short to be dug by itself, as where pipes that share a
// trench part side by side, into the longest stretch of its kind that it touches.
func swallowed(all []stretch) []stretch {
	const touch = 2 * float64(Spade)
	short := func(s stretch) bool { return s.length < Spade && (s.how == digIt || s.how == digByHand) }
	near := func(q orb.Point, o stretch) bool {
		d, _, _ := geom.DistanceToEdge(q, o.line)
		return d <= touch
	}
	out := make([]stretch, 0, len(all))
	var rest []stretch
	for _, s := range all {
		if short(s) {
			rest = append(rest, s)
		} else {
			out = append(out, s)
		}
	}
	whole := len(out)
	for _, s := range rest {
		into := -1
		for k, o := range out[:whole] {
			if o.how == s.how && (near(s.from, o) || near(s.to, o)) && (into < 0 || o.length > out[into].length) {
				into = k
			}
		}
		if into < 0 {
			out = append(out, s)
			continue
		}
		out[into].length += s.length
	}
	return out
}

// rounded is a place to a quarter of an inch, so that ends that meet are one.
func rounded(at orb.Point) orb.Point {
	return orb.Point{math.Round(at[0] * 48), math.Round(at[1] * 48)}
}

// holds says what lies in a segment, and where among the others it is dug.
func holds(p *plan.Plan, d *trench.Digs, seg *trench.Segment) (words string, order int) {
	const last = 1 << 20
	var parts []string
	order = last
	for _, id := range seg.Pipes {
		v := p.Pipes[id]
		size := ""
		if v.NominalIn > 0 {
			size = p.Show.PipeSize(v.NominalIn) + " "
		}
		what := size + "main"
		station := 0
		if v.Zone != "" {
			what = size + "lateral of " + p.ZoneName(v.Zone)
			station = cmp.Or(p.Zones[v.Zone].Station, last/2)
		}
		order = min(order, station)
		if !slices.Contains(parts, what) {
			parts = append(parts, what)
		}
	}
	slices.Sort(parts)
	if n := len(seg.Ways); n > 0 {
		parts = append(parts, "wire "+wiredTo(p, d, seg.Ways))
	} else if len(seg.Wires) > 0 {
		parts = append(parts, "wire")
	}
	return strings.Join(parts, "; "), order
}

// wiredTo says what wire leads to: "to stations 1, 2 and 6", "to the rain sensor".
func wiredTo(p *plan.Plan, d *trench.Digs, ways []int) string {
	var stations, others []string
	for _, i := range ways {
		collection, id := d.Ways[i].To.Split()
		switch {
		case collection == "zones" && p.Zones[id].Station > 0:
			stations = append(stations, fmt.Sprint(p.Zones[id].Station))
		case collection == "zones":
			others = append(others, p.ZoneName(id))
		case collection == "sensors":
			others = append(others, "the "+p.Sensors[id].Kind+" sensor")
		default:
			others = append(others, "the master valve")
		}
	}
	if len(stations) > 0 {
		others = append([]string{plan.Choose(len(stations), "station ", "stations ") + plan.Series(stations)}, others...)
	}
	return "to " + plan.Series(others)
}

// standingPlace says where a place is: at what stands there, else from the nearest
// head.
func standingPlace(p *plan.Plan, d *trench.Digs, at orb.Point) string {
	const here = 0.1 // feet
	near := func(x, y units.Feet) bool { return math.Hypot(float64(x)-at[0], float64(y)-at[1]) <= here }
	for _, id := range plan.SortedIDs(p.Nodes) {
		n := p.Nodes[id]
		if !n.Status.Stands() || !near(n.X, n.Y) {
			continue
		}
		switch n.Kind {
		case "connection":
			return "point of connection"
		case "backflow":
			return "backflow device"
		case "valve":
			return "valve of " + p.ZoneName(n.Zone)
		case "head":
			return p.HeadName(n.Head)
		}
		if branches(p, id) {
			return "branch, " + p.Whereabouts(at)
		}
	}
	if c := p.Controller.At; c != nil && near(c.X, c.Y) {
		return "controller"
	}
	for _, id := range plan.SortedIDs(p.Boxes) {
		if b := p.Boxes[id]; b.Status.Stands() && near(b.X, b.Y) {
			return cmp.Or(b.Name, "splice box")
		}
	}
	for _, c := range d.Crossings {
		for _, e := range [2]orb.Point{c.From, c.To} {
			if math.Hypot(e[0]-at[0], e[1]-at[1]) <= 2*here {
				return "edge of " + p.AreaName(c.Area) + ", " + p.Whereabouts(at)
			}
		}
	}
	return p.Whereabouts(at)
}

// branches reports whether more than two standing pipes end at a node.
func branches(p *plan.Plan, node plan.ID) bool {
	n := 0
	for _, v := range p.Pipes {
		if v.Status.Stands() && (v.From == node || v.To == node) {
			n++
		}
	}
	return n > 2
}
