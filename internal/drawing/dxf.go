package drawing

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// WriteDXF writes the ground of a view, whole and in its real size, as DXF of release
// 12 (AC1009), which every drawing program reads: in feet, or in metres when metric is
// set, which the header says. Layers keep their names as far as the release allows
// them; fills and pictures are left out, hatches are lines, what is only filled is its outline. Letters and dashes have the size they
// would have on paper at the view's scale. The error is the writer's, or says what
// cannot be drawn.
func WriteDXF(w io.Writer, v *View, metric bool) error {
	if err := check([]Item{v}, false); err != nil {
		return err
	}
	unit := 1.0
	if metric {
		unit = 0.3048 // by definition of the foot
	}
	d := &dxf{ext: orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}}
	d.on = []int{d.layer("0", false)}
	walk(d, v.Items, placing{
		at:     func(p orb.Point) orb.Point { return orb.Point{p[0] * unit, p[1] * unit} },
		radius: unit, paper: unit / v.PerFoot,
	})
	if _, err := io.WriteString(w, d.head(metric)); err != nil {
		return err
	}
	if _, err := w.Write(d.b); err != nil {
		return err
	}
	_, err := io.WriteString(w, "0\nENDSEC\n0\nEOF\n")
	return err
}

// dxf is the canvas of a drawing file: entities are gathered first, as the tables
// before them say which layers and dashes there are.
type dxf struct {
	b      []byte
	ext    orb.Bound
	layers []dxfLayer
	on     []int // the layers that are open, innermost last
	dashes [][]float64
}

type dxfLayer struct {
	name   string // as given
	valid  string
	colour int // of its first line; 0: none yet
}

func (d *dxf) words(code int, s string) {
	d.b = strconv.AppendInt(d.b, int64(code), 10)
	d.b = append(d.b, '\n')
	d.b = append(append(d.b, s...), '\n')
}

func (d *dxf) whole(code, v int) { d.words(code, strconv.Itoa(v)) }

func (d *dxf) real(code int, v float64) { d.words(code, dxfReal(v)) }

// dxfReal keeps a billionth of a unit, so that places come back as they were.
func dxfReal(v float64) string {
	s := strconv.FormatFloat(math.Round(v*1e9)/1e9+0, 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

func (d *dxf) point(code int, p orb.Point) {
	d.real(code, p[0])
	d.real(code+10, p[1])
	d.ext = d.ext.Extend(p)
}

// start begins an entity on the layer that is open, in its pen.
func (d *dxf) start(kind string, k Ink, dash []float64) {
	d.words(0, kind)
	l := &d.layers[d.on[len(d.on)-1]]
	d.words(8, l.valid)
	if len(dash) > 0 {
		d.words(6, dashName(d.dash(dash)))
	}
	c := nearestColour(k)
	if l.colour == 0 {
		l.colour = c
	}
	if c != l.colour {
		d.whole(62, c)
	}
}

func dashName(i int) string { return fmt.Sprintf("DASH%d", i+1) }

func (d *dxf) dash(pattern []float64) int {
	if len(pattern)%2 == 1 { // an odd one runs on with lines and gaps changed about
		pattern = append(append([]float64{}, pattern...), pattern...)
	}
	key := fmt.Sprint(pattern)
	for i, p := range d.dashes {
		if fmt.Sprint(p) == key {
			return i
		}
	}
	d.dashes = append(d.dashes, pattern)
	return len(d.dashes) - 1
}

func (d *dxf) line(p Pen, points []orb.Point) { d.path(p, points, false) }

func (d *dxf) path(p Pen, points []orb.Point, closed bool) {
	switch {
	case len(points) < 2:
		return
	case len(points) == 2:
		d.start("LINE", p.Ink, p.Dash)
		d.point(10, points[0])
		d.point(11, points[1])
		return
	}
	d.start("POLYLINE", p.Ink, p.Dash)
	d.whole(66, 1)
	d.real(10, 0)
	d.real(20, 0)
	d.whole(70, map[bool]int{true: 1}[closed])
	layer := d.layers[d.on[len(d.on)-1]].valid
	for _, q := range points {
		d.words(0, "VERTEX")
		d.words(8, layer)
		d.point(10, q)
	}
	d.words(0, "SEQEND")
	d.words(8, layer)
}

// fill is left out where a line says what it is; what is filled alone is drawn as its
// outline, unless it is white, which covers and shows nothing.
func (d *dxf) fill(k Ink, rings [][]orb.Point, alone bool) {
	if alone && k != White {
		d.outline(Pen{Ink: k}, rings)
	}
}

func (d *dxf) outline(p Pen, rings [][]orb.Point) {
	for _, r := range rings {
		d.path(p, r, true)
	}
}

func (d *dxf) arc(p Pen, fill Ink, centre orb.Point, r, fromDeg, sweepDeg float64) {
	if !p.draws() {
		p = Pen{Ink: fill}
		if fill == 0 || fill == White {
			return
		}
	}
	if r <= 0 || sweepDeg == 0 {
		return
	}
	whole := math.Abs(sweepDeg) >= 360
	d.start(map[bool]string{true: "CIRCLE", false: "ARC"}[whole], p.Ink, p.Dash)
	extent := d.ext.Union(arcBound(centre, r, fromDeg, sweepDeg))
	d.point(10, centre)
	d.ext = extent
	d.real(40, r)
	if whole {
		return
	}
	if sweepDeg < 0 {
		fromDeg, sweepDeg = fromDeg+sweepDeg, -sweepDeg
	}
	d.real(50, turn(fromDeg))
	d.real(51, turn(fromDeg+sweepDeg))
}

// turn is an angle in [0, 360).
func turn(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// arcBound is the box about an arc.
func arcBound(centre orb.Point, r, fromDeg, sweepDeg float64) orb.Bound {
	if sweepDeg < 0 {
		fromDeg, sweepDeg = fromDeg+sweepDeg, -sweepDeg
	}
	sweepDeg = min(sweepDeg, 360)
	degs := []float64{fromDeg, fromDeg + sweepDeg}
	for q := math.Ceil(fromDeg / 90); q*90 <= fromDeg+sweepDeg; q++ {
		degs = append(degs, q*90)
	}
	var points orb.MultiPoint
	for _, deg := range degs {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		points = append(points, orb.Point{centre[0] + r*cos, centre[1] + r*sin})
	}
	return points.Bound()
}

// capital is the height of a capital as a share of the letters' size: of the library's
// fonts, from their tables.
const capital = 0.73

func (d *dxf) text(t *Text) {
	if t.Size <= 0 {
		return
	}
	d.start("TEXT", t.Ink, nil)
	for _, c := range t.Corners(t.At) {
		d.ext = d.ext.Extend(c)
	}
	d.point(10, t.At)
	d.real(40, t.Size*capital)
	d.words(1, dxfText(t.S))
	if t.TurnDeg != 0 {
		d.real(50, turn(t.TurnDeg))
	}
	if t.Anchor != Start {
		d.whole(72, int(t.Anchor)) // 1 middle, 2 end, of the baseline
		d.point(11, t.At)
	}
}

// dxfText writes letters as the release has them: those past ASCII by their number,
// and what would be read as a sign of control so that it is not.
func dxfText(s string) string {
	var b strings.Builder
	last := ' '
	for i, r := range s {
		switch {
		case r == '%' && last == '%':
			b.WriteString(" %") // two on end are a sign of control
		case r == '^':
			b.WriteString("^ ")
		case r > '~', r == '\\' && strings.HasPrefix(s[i:], `\U+`), r == '\\' && strings.HasPrefix(s[i:], `\M+`):
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteRune(r)
		}
		last = r
	}
	return b.String()
}

// The release has no pictures.
func (d *dxf) image(*Image) {}

func (d *dxf) openLayer(name string) { d.on = append(d.on, d.layer(name, true)) }

func (d *dxf) closeLayer() { d.on = d.on[:len(d.on)-1] }

// A view's box is paper, which the drawing has none of; and check has no view in one.
func (d *dxf) clip(orb.Bound) {}
func (d *dxf) unclip()        {}

// layer is which layer has a name. The release has capitals, digits, $ - and _ in names
// of 31 letters at most.
func (d *dxf) layer(name string, own bool) int {
	for i, l := range d.layers {
		if l.name == name && (i > 0) == own {
			return i
		}
	}
	valid := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '$', r == '-', r == '_':
			return r
		}
		return '_'
	}, name)
	valid = valid[:min(len(valid), 31)]
	if valid == "" {
		valid = "LAYER"
	}
	stem := valid[:min(len(valid), 26)]
	for n := 2; d.taken(valid); n++ {
		valid = fmt.Sprintf("%s_%d", stem, n)
	}
	d.layers = append(d.layers, dxfLayer{name: name, valid: valid})
	return len(d.layers) - 1
}

func (d *dxf) taken(valid string) bool {
	for _, l := range d.layers {
		if l.valid == valid {
			return true
		}
	}
	return false
}
