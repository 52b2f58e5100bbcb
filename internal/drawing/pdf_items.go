package drawing

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"strconv"

	"github.com/go-pdf/fpdf"
	"github.com/paulmach/orb"
)

// pdf is the canvas of a page. Lines are written in the file's own words, whose lengths
// and directions are those of Page; the library sets letters, pictures and layers.
type pdf struct {
	f      *fpdf.Fpdf
	high   float64 // of the page
	layers map[string]int
	images int
	buf    []byte
	style  int
	size   float64
	stale  bool // the file's font is not the library's any more
}

func (p *pdf) out(s string) { p.f.RawWriteStr(s + "\n") }

// write is out for what was put together in buf, which it keeps for the next.
func (p *pdf) write(b []byte) {
	p.buf = b
	p.out(string(b))
}

// number is a length of the file: to a thousandth of a point.
func number(b []byte, v float64) []byte {
	v = math.Round(v*1000) / 1000
	if v == 0 {
		v = 0 // no minus
	}
	return append(strconv.AppendFloat(b, v, 'f', -1, 64), ' ')
}

func numbers(b []byte, vs ...float64) []byte {
	for _, v := range vs {
		b = number(b, v)
	}
	return b
}

func colour(b []byte, k Ink) []byte {
	r, g, l, _ := k.Parts()
	return numbers(b, float64(r)/255, float64(g)/255, float64(l)/255)
}

// stroke begins lines with a pen: saved, to be restored.
func stroke(b []byte, p Pen) []byte {
	b = append(colour(append(b, "q "...), p.Ink), "RG "...)
	b = append(number(b, p.Width), "w "...)
	if len(p.Dash) == 0 {
		return append(b, "1 J\n"...)
	}
	return append(numbers(append(b, "0 J ["...), p.Dash...), "] 0 d\n"...)
}

func path(b []byte, points []orb.Point) []byte {
	for i, q := range points {
		b = numbers(b, q[0], q[1])
		if i == 0 {
			b = append(b, "m\n"...)
		} else {
			b = append(b, "l\n"...)
		}
	}
	return b
}

func (p *pdf) line(pen Pen, points []orb.Point) {
	p.write(append(path(stroke(p.buf[:0], pen), points), "S Q"...))
}

func (p *pdf) fill(k Ink, rings [][]orb.Point, _ bool) {
	b := append(colour(append(p.buf[:0], "q "...), k), "rg\n"...)
	p.write(append(closed(b, rings), "f* Q"...))
}

func (p *pdf) outline(pen Pen, rings [][]orb.Point) {
	p.write(append(closed(stroke(p.buf[:0], pen), rings), "S Q"...))
}

func closed(b []byte, rings [][]orb.Point) []byte {
	for _, r := range rings {
		b = append(path(b, r), "h\n"...)
	}
	return b
}

// arc is drawn by curves of an eighth of a circle at most, whose worst error is a
// millionth of the radius.
func (p *pdf) arc(pen Pen, fill Ink, centre orb.Point, r, fromDeg, sweepDeg float64) {
	curve := func(b []byte) []byte {
		sweep := min(max(sweepDeg, -360), 360) * math.Pi / 180
		n := max(int(math.Ceil(math.Abs(sweep)/(math.Pi/4)-1e-9)), 1)
		step := sweep / float64(n)
		k := 4.0 / 3 * math.Tan(step/4) * r
		from := fromDeg * math.Pi / 180
		sin, cos := math.Sincos(from)
		b = append(numbers(b, centre[0]+r*cos, centre[1]+r*sin), "m\n"...)
		for i := range n {
			sin2, cos2 := math.Sincos(from + step*float64(i+1))
			b = append(numbers(b, centre[0]+r*cos-k*sin, centre[1]+r*sin+k*cos,
				centre[0]+r*cos2+k*sin2, centre[1]+r*sin2-k*cos2, centre[0]+r*cos2, centre[1]+r*sin2), "c\n"...)
			sin, cos = sin2, cos2
		}
		return b
	}
	whole := math.Abs(sweepDeg) >= 360
	if fill != 0 {
		p.write(append(curve(append(colour(append(p.buf[:0], "q "...), fill), "rg\n"...)), "h f Q"...))
	}
	if pen.draws() {
		b := curve(stroke(p.buf[:0], pen))
		if whole {
			b = append(b, "h "...)
		}
		p.write(append(b, "S Q"...))
	}
}

// font sets the letters outside of anything saved and restored, as the library tells
// the file of a change alone.
func (p *pdf) font(style int, size float64) {
	if !p.stale && style == p.style && size == p.size {
		return
	}
	if p.stale {
		p.f.SetFont(family, styles[style], size+1)
	}
	p.f.SetFont(family, styles[style], size)
	p.style, p.size, p.stale = style, size, false
}

func (t *Text) style() int {
	switch {
	case t.Bold:
		return 1
	case t.Italic:
		return 2
	}
	return 0
}

func (p *pdf) text(t *Text) {
	p.font(t.style(), t.Size)
	sin, cos := math.Sincos(t.TurnDeg * math.Pi / 180)
	x := 0.0
	switch t.Anchor {
	case Middle:
		x = -t.Width() / 2
	case End:
		x = -t.Width()
	}
	b := append(colour(append(p.buf[:0], "q "...), t.Ink), "rg "...)
	for _, v := range [4]float64{cos, sin, -sin, cos} {
		b = append(strconv.AppendFloat(b, math.Round(v*1e6)/1e6+0, 'f', -1, 64), ' ')
	}
	b = append(numbers(b, t.At[0]+x*cos, t.At[1]+x*sin), "cm"...)
	p.write(b)
	if t.Halo {
		// Marked as no content, so that letters are read once (ISO 32000-1, 14.8.2.2).
		p.write(append(number([]byte("/Artifact BMC q 1 1 1 RG 1 J 1 j 1 Tr "), haloWidth(t.Size)), 'w'))
		p.f.Text(0, p.high, t.S)
		p.out("Q EMC")
	}
	p.f.Text(0, p.high, t.S)
	p.out("Q")
}

// haloWidth is how wide the white round letters is, both sides together. Chosen.
func haloWidth(size float64) float64 { return max(1.6, size*0.28) }

func (p *pdf) image(m *Image) {
	p.images++
	name := fmt.Sprintf("picture %d", p.images)
	opt := fpdf.ImageOptions{ImageType: "PNG"}
	p.f.RegisterImageOptionsReader(name, opt, bytes.NewReader(m.png()))
	p.f.ImageOptions(name, m.Box.Min[0], p.high-m.Box.Max[1], m.Box.Max[0]-m.Box.Min[0], m.Box.Max[1]-m.Box.Min[1], false, opt, 0, "")
}

// png is a picture as a file of its inks.
func (m *Image) png() []byte {
	palette := make(color.Palette, len(m.Inks))
	for i, k := range m.Inks {
		r, g, b, draws := k.Parts()
		palette[i] = color.NRGBA{r, g, b, 255}
		if !draws {
			palette[i] = color.NRGBA{255, 255, 255, 0}
		}
	}
	img := &image.Paletted{Pix: m.Cells, Stride: m.Columns, Rect: image.Rect(0, 0, m.Columns, m.Rows), Palette: palette}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(err) // the buffer takes all, and check saw the inks
	}
	return b.Bytes()
}

func (p *pdf) openLayer(name string) {
	id, ok := p.layers[name]
	if !ok {
		id = p.f.AddLayer(Printable(name), true)
		p.layers[name] = id
	}
	p.out(fmt.Sprintf("/OC /OC%d BDC", id))
}

func (p *pdf) closeLayer() { p.out("EMC") }

func (p *pdf) clip(box orb.Bound) {
	p.write(append(numbers([]byte("q "), box.Min[0], box.Min[1], box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]), "re W n"...))
}

func (p *pdf) unclip() {
	p.out("Q")
	p.stale = true
}
