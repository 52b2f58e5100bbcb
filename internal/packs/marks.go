package packs

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// zoneShape is the shape of the marks of one zone, in units that make all shapes
// about as large: the circle has a radius of 9. They are those of the board
// (web/editor/scene/marks.ts), which a test holds them to.
type zoneShape struct {
	name    string
	sides   int     // of a regular polygon; 0: a circle, or a path
	turnDeg float64 // of its first corner, y down
	r       float64
	path    string // M, L, Q, half circles A, Z; y down
}

// zoneShapes are the shapes in the order that zones take them.
var zoneShapes = []zoneShape{
	{name: "circle", r: 9},
	{name: "square", sides: 4, turnDeg: 45, r: 11.5},
	{name: "diamond", sides: 4, r: 11.5},
	{name: "hexagon", sides: 6, r: 10},
	{name: "triangle", sides: 3, turnDeg: -90, r: 13},
	{name: "pentagon", sides: 5, turnDeg: -90, r: 10.8},
	{name: "shield", path: "M-8.5 -8L8.5 -8L8.5 1Q8.5 8 0 10.5Q-8.5 8 -8.5 1Z"},
	{name: "drop", path: "M0 -12Q9 -2 8 3A8 8 0 1 1 -8 3Q-9 -2 0 -12Z"},
}

// zoneInks are the colours of zones on light paper: --zone-1 to --zone-8 of the page.
var zoneInks = []drawing.Ink{
	drawing.RGB(0x914103), drawing.RGB(0x00568f), drawing.RGB(0x0d7759), drawing.RGB(0x8a2f6b),
	drawing.RGB(0x7a7230), drawing.RGB(0x423899), drawing.RGB(0x91091b), drawing.RGB(0x354142),
}

// outline is the shape as a ring about 0, 0 with y up; nil: a circle.
func (s zoneShape) outline() []orb.Point {
	if s.path != "" {
		return pathRing(s.path)
	}
	var out []orb.Point
	for i := range s.sides {
		sin, cos := math.Sincos((s.turnDeg + 360*float64(i)/float64(s.sides)) * math.Pi / 180)
		out = append(out, orb.Point{s.r * cos, -s.r * sin})
	}
	return out
}

// pathRing are the places along a closed path of M, L, Q, A (half circles, clockwise
// on the screen) and Z, turned to y up.
func pathRing(d string) []orb.Point {
	const steps = 12
	var out []orb.Point
	var at orb.Point
	for i := 0; i < len(d); {
		command := d[i]
		end := i + 1
		for end < len(d) && !strings.ContainsRune("MLQAZ", rune(d[end])) {
			end++
		}
		var n []float64
		for _, s := range strings.Fields(d[i+1 : end]) {
			v, _ := units.ParseNumber(s) // of the table above
			n = append(n, v)
		}
		i = end
		if len(n) < 2 {
			continue
		}
		to := orb.Point{n[len(n)-2], n[len(n)-1]}
		switch command {
		case 'Q':
			for k := 1; k < steps; k++ {
				t := float64(k) / steps
				a, b, c := (1-t)*(1-t), 2*t*(1-t), t*t
				out = append(out, orb.Point{a*at[0] + b*n[0] + c*to[0], a*at[1] + b*n[1] + c*to[1]})
			}
		case 'A':
			mid := orb.Point{(at[0] + to[0]) / 2, (at[1] + to[1]) / 2}
			for k := 1; k < steps; k++ {
				sin, cos := math.Sincos(math.Pi * float64(k) / steps)
				x, y := at[0]-mid[0], at[1]-mid[1]
				out = append(out, orb.Point{mid[0] + x*cos - y*sin, mid[1] + x*sin + y*cos})
			}
		}
		out = append(out, to)
		at = to
	}
	for k := range out {
		out[k][1] = -out[k][1]
	}
	return out
}

// zonesInOrder are the zones in the order they take shapes and colours: by station,
// those without one last and by name. The board has the same (zoning.ts).
func zonesInOrder(p *plan.Plan) []plan.ID {
	ids := plan.SortedIDs(p.Zones)
	slices.SortStableFunc(ids, func(a, b plan.ID) int {
		x, y := p.Zones[a], p.Zones[b]
		return cmp.Or(
			cmp.Compare(cmp.Or(x.Station, math.MaxInt), cmp.Or(y.Station, math.MaxInt)),
			cmp.Compare(plan.NaturalKey(x.Name), plan.NaturalKey(y.Name)),
		)
	})
	return ids
}

// zoneMark is which shape, colour and number a zone has.
type zoneMark struct {
	at     int // in zonesInOrder
	number string
}

// zoneMarks are the marks of all zones.
func zoneMarks(p *plan.Plan) map[plan.ID]zoneMark {
	out := map[plan.ID]zoneMark{}
	for i, id := range zonesInOrder(p) {
		out[id] = zoneMark{i, strconv.Itoa(cmp.Or(p.Zones[id].Station, i+1))}
	}
	return out
}

func (m zoneMark) shape() zoneShape  { return zoneShapes[m.at%len(zoneShapes)] }
func (m zoneMark) ink() drawing.Ink  { return zoneInks[m.at%len(zoneInks)] }
func (m zoneMark) pale() drawing.Ink { return paler(m.ink(), 0.55) }

// paler is a colour with so much white in it.
func paler(k drawing.Ink, white float64) drawing.Ink {
	r, g, b, _ := k.Parts()
	mix := func(v uint8) uint32 { return uint32(math.Round(float64(v) + (255-float64(v))*white)) }
	return drawing.RGB(mix(r)<<16 | mix(g)<<8 | mix(b))
}

// markSize is half of a mark of a head, in points on Letter. Chosen.
const markSize = 4.4

// zoneOutline draws the shape of a zone about a place, size points from its middle
// to the rim of its circle.
func (c *chart) zoneOutline(at orb.Point, m zoneMark, size float64, pen drawing.Pen, fill drawing.Ink) drawing.Item {
	s := m.shape()
	ring := s.outline()
	if ring == nil {
		return &drawing.Arc{Centre: at, Radius: size, SweepDeg: 360, OnPaper: true, Pen: pen, Fill: fill}
	}
	return &drawing.Area{Pen: pen, Fill: fill, Rings: [][]orb.Point{c.about(at, size/9, ring...)}}
}

// about are places about a place, in points of paper times k.
func (c *chart) about(at orb.Point, k float64, pts ...orb.Point) []orb.Point {
	out := make([]orb.Point, len(pts))
	for i, q := range pts {
		out[i] = orb.Point{at[0] + c.pt(q[0]*k), at[1] + c.pt(q[1]*k)}
	}
	return out
}

// headMark draws a head: outside the shape of its zone, a ring without one, and
// inside the sign of its family.
func (c *chart) headMark(at orb.Point, m zoneMark, zoned bool, family catalog.Family, status plan.Status) []drawing.Item {
	size := markSize * c.k
	ink := drawing.Black
	if zoned {
		ink = m.ink()
	}
	pen := c.penOf(status, ink, 1.2)
	var out []drawing.Item
	if zoned {
		out = append(out, c.zoneOutline(at, m, size, pen, drawing.White))
	} else {
		out = append(out, &drawing.Arc{Centre: at, Radius: size * 0.8, SweepDeg: 360, OnPaper: true, Pen: pen, Fill: drawing.White})
	}
	out = append(out, c.familySign(at, family, pen)...)
	if status == plan.Remove {
		out = append(out, c.cross(at, size*1.35)...)
	}
	return out
}

// familySign is what tells families of nozzles apart: a dot of a spray, three rays of
// turning streams, a ring of a rotor, a bar of a strip.
func (c *chart) familySign(at orb.Point, family catalog.Family, pen drawing.Pen) []drawing.Item {
	pen = drawing.Pen{Ink: pen.Ink, Width: 0.9 * c.k}
	line := func(k float64, pts ...orb.Point) drawing.Item {
		return &drawing.Line{Pen: pen, Points: c.about(at, k*c.k, pts...)}
	}
	switch family {
	case catalog.Spray:
		return []drawing.Item{&drawing.Arc{Centre: at, Radius: 1.3 * c.k, SweepDeg: 360, OnPaper: true, Fill: pen.Ink}}
	case catalog.Stream:
		return []drawing.Item{
			line(2.3, orb.Point{}, orb.Point{0, 1}), line(2.3, orb.Point{}, orb.Point{-0.866, -0.5}), line(2.3, orb.Point{}, orb.Point{0.866, -0.5}),
		}
	case catalog.Rotor:
		return []drawing.Item{&drawing.Arc{Centre: at, Radius: 1.6 * c.k, SweepDeg: 360, OnPaper: true, Pen: pen}}
	case catalog.Strip:
		pen.Width = 1.5 * c.k
		return []drawing.Item{line(2.2, orb.Point{-1, 0}, orb.Point{1, 0})}
	}
	return nil
}

// penOf is how a thing is drawn by its status: strong when it is new, thin and grey
// when it is there already or goes.
func (c *chart) penOf(s plan.Status, ink drawing.Ink, width float64) drawing.Pen {
	if s.IsNew() {
		return drawing.Pen{Ink: ink, Width: width * c.k}
	}
	return drawing.Pen{Ink: drawing.Grey, Width: 0.55 * c.k}
}

// cross strikes out what is to be removed.
func (c *chart) cross(at orb.Point, size float64) []drawing.Item {
	pen := drawing.Pen{Ink: drawing.Black, Width: 0.9 * c.k}
	return []drawing.Item{
		&drawing.Line{Pen: pen, Points: c.about(at, size, orb.Point{-1, -1}, orb.Point{1, 1})},
		&drawing.Line{Pen: pen, Points: c.about(at, size, orb.Point{-1, 1}, orb.Point{1, -1})},
	}
}
