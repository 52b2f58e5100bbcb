package drawing

import (
	"encoding/base64"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// WriteSVG writes a page as SVG of its true size, in millimetres where the paper has
// whole ones, else in inches: the same lines, letters and
// layers as the PDF. It uses no styles, no scripts, no names that must be unique and
// nothing by address, so that it may stand in any page. Letters are held to the
// widths that the sheet was made with, whatever font is there. The error is the
// writer's, or says what on the page cannot be drawn.
func WriteSVG(w io.Writer, q *Page) error {
	if err := q.check(); err != nil {
		return err
	}
	s := &svg{high: q.Height}
	s.add(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="`)
	per, unit := 72.0, "in"
	if wholeMM(q.Width) && wholeMM(q.Height) {
		per, unit = 72/25.4, "mm"
	}
	s.number(q.Width / per)
	s.add(unit + `" height="`)
	s.number(q.Height / per)
	s.add(unit + `" viewBox="0 0 `)
	s.number(q.Width)
	s.add(" ")
	s.number(q.Height)
	s.add(`" fill="none" stroke-linecap="round" stroke-linejoin="round" font-family="Go, 'Liberation Sans', Helvetica, Arial, sans-serif">` + "\n<title>")
	s.words(Printable(q.Name))
	s.add("</title>\n" + `<rect width="100%" height="100%" fill="#ffffff"/>` + "\n")
	walk(s, q.Items, onPaper())
	s.add("</svg>\n")
	_, err := w.Write(s.b)
	return err
}

// wholeMM reports whether a side of paper is made by the millimetre.
func wholeMM(points float64) bool {
	mm := points * 25.4 / 72
	return math.Abs(mm-math.Round(mm)) < 1e-6
}

// svg is the canvas of a page, its y downward.
type svg struct {
	b    []byte
	high float64
}

func (s *svg) add(t string) { s.b = append(s.b, t...) }

func (s *svg) number(v float64) {
	v = math.Round(v*1000)/1000 + 0
	s.b = strconv.AppendFloat(s.b, v, 'f', -1, 64)
}

func (s *svg) attribute(name string, v float64) {
	s.add(" " + name + `="`)
	s.number(v)
	s.add(`"`)
}

func (s *svg) ink(name string, k Ink) {
	const digits = "0123456789abcdef"
	r, g, b, _ := k.Parts()
	s.add(" " + name + `="#`)
	for _, v := range [3]uint8{r, g, b} {
		s.b = append(s.b, digits[v>>4], digits[v&15])
	}
	s.add(`"`)
}

// escapes are the letters that mean something in XML.
var escapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

func (s *svg) words(t string) { s.add(escapes.Replace(t)) }

func (s *svg) stroke(p Pen) {
	s.ink("stroke", p.Ink)
	s.attribute("stroke-width", p.Width)
	if len(p.Dash) == 0 {
		return
	}
	s.add(` stroke-linecap="butt" stroke-dasharray="`)
	for i, v := range p.Dash {
		if i > 0 {
			s.add(" ")
		}
		s.number(v)
	}
	s.add(`"`)
}

func (s *svg) place(letter byte, p orb.Point) {
	s.b = append(s.b, letter)
	s.number(p[0])
	s.add(" ")
	s.number(s.high - p[1])
}

func (s *svg) path(points []orb.Point) {
	for i, p := range points {
		s.place("ML"[min(i, 1)], p)
	}
}

func (s *svg) line(p Pen, points []orb.Point) {
	s.add("<path")
	s.stroke(p)
	s.add(` d="`)
	s.path(points)
	s.add("\"/>\n")
}

func (s *svg) fill(k Ink, rings [][]orb.Point, _ bool) {
	s.add("<path")
	s.ink("fill", k)
	s.add(` fill-rule="evenodd"`)
	s.rings(rings)
}

func (s *svg) outline(p Pen, rings [][]orb.Point) {
	s.add("<path")
	s.stroke(p)
	s.rings(rings)
}

func (s *svg) rings(rings [][]orb.Point) {
	s.add(` d="`)
	for _, r := range rings {
		s.path(r)
		s.add("Z")
	}
	s.add("\"/>\n")
}

func (s *svg) arc(p Pen, fill Ink, centre orb.Point, r, fromDeg, sweepDeg float64) {
	whole := math.Abs(sweepDeg) >= 360
	if fill == 0 && !p.draws() {
		return
	}
	if whole {
		s.add("<circle")
		s.attribute("cx", centre[0])
		s.attribute("cy", s.high-centre[1])
		s.attribute("r", r)
	} else {
		s.add("<path")
	}
	if fill != 0 {
		s.ink("fill", fill)
	}
	if p.draws() {
		s.stroke(p)
	}
	if !whole {
		on := func(deg float64) orb.Point {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			return orb.Point{centre[0] + r*cos, centre[1] + r*sin}
		}
		s.add(` d="`)
		s.place('M', on(fromDeg))
		// Two halves, as ends that meet nearly would leave the way round unsaid.
		for _, share := range [2]float64{0.5, 1} {
			s.add("A")
			s.number(r)
			s.add(" ")
			s.number(r)
			s.add(" 0 0 ")
			s.add(map[bool]string{true: "0", false: "1"}[sweepDeg > 0])
			s.place(' ', on(fromDeg+share*sweepDeg))
		}
		s.add(`"`)
	}
	s.add("/>\n")
}

func (s *svg) text(t *Text) {
	s.add("<text")
	s.attribute("x", t.At[0])
	s.attribute("y", s.high-t.At[1])
	s.attribute("font-size", t.Size)
	s.ink("fill", t.Ink)
	switch {
	case t.Bold:
		s.add(` font-weight="bold"`)
	case t.Italic:
		s.add(` font-style="italic"`)
	}
	switch t.Anchor {
	case Middle:
		s.add(` text-anchor="middle"`)
	case End:
		s.add(` text-anchor="end"`)
	}
	if t.TurnDeg != 0 {
		s.add(` transform="rotate(`)
		s.number(-t.TurnDeg)
		s.add(" ")
		s.number(t.At[0])
		s.add(" ")
		s.number(s.high - t.At[1])
		s.add(`)"`)
	}
	if t.Halo {
		s.add(` stroke="#ffffff" paint-order="stroke"`)
		s.attribute("stroke-width", haloWidth(t.Size))
	}
	if w := t.Width(); w > 0 {
		s.attribute("textLength", w)
		s.add(` lengthAdjust="spacingAndGlyphs"`)
	}
	s.add(` xml:space="preserve">`)
	s.words(t.S)
	s.add("</text>\n")
}

// image stands in the drawing itself, each cell with hard edges.
func (s *svg) image(m *Image) {
	s.add("<image")
	s.attribute("x", m.Box.Min[0])
	s.attribute("y", s.high-m.Box.Max[1])
	s.attribute("width", m.Box.Max[0]-m.Box.Min[0])
	s.attribute("height", m.Box.Max[1]-m.Box.Min[1])
	s.add(` preserveAspectRatio="none" image-rendering="pixelated" xlink:href="data:image/png;base64,`)
	s.b = base64.StdEncoding.AppendEncode(s.b, m.png())
	s.add("\"/>\n")
}

func (s *svg) openLayer(name string) {
	s.add(`<g data-layer="`)
	s.words(Printable(name))
	s.add("\">\n")
}

func (s *svg) closeLayer() { s.add("</g>\n") }

// clip is a drawing of its own in the drawing, which cuts off what goes past it.
func (s *svg) clip(box orb.Bound) {
	x, y, w, h := box.Min[0], s.high-box.Max[1], box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
	s.add("<svg")
	s.attribute("x", x)
	s.attribute("y", y)
	s.attribute("width", w)
	s.attribute("height", h)
	s.add(` overflow="hidden" viewBox="`)
	for i, v := range [4]float64{x, y, w, h} {
		if i > 0 {
			s.add(" ")
		}
		s.number(v)
	}
	s.add("\">\n")
}

func (s *svg) unclip() { s.add("</svg>\n") }
