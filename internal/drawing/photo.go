package drawing

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image/color"
	"image/jpeg"

	"github.com/go-pdf/fpdf"
	"github.com/paulmach/orb"
)

// Photo is a photograph, drawn as its file has it: no pixel of it is made anew.
type Photo struct {
	Box  orb.Bound // is filled whole; PhotoSize tells its shape
	JPEG []byte
}

func (*Photo) item() {}

// PhotoSize is how many pixels a photograph is wide and high. The error says why a file
// cannot be drawn: it is no JPEG, or one of inks for a press.
func PhotoSize(file []byte) (wide, high int, err error) {
	c, err := jpeg.DecodeConfig(bytes.NewReader(file))
	switch {
	case err != nil:
		return 0, 0, fmt.Errorf("it is no photograph that can be drawn: %w", err)
	case c.Width < 1 || c.Height < 1:
		return 0, 0, fmt.Errorf("it is a photograph of %d × %d pixels", c.Width, c.Height)
	case c.ColorModel == color.CMYKModel:
		return 0, 0, fmt.Errorf("it is a photograph in the four inks of a press")
	}
	return c.Width, c.Height, nil
}

func (m *Photo) check() error {
	if _, _, err := PhotoSize(m.JPEG); err != nil {
		return err
	}
	return drawable("a photograph", 0, nil, []orb.Point{m.Box.Min, m.Box.Max})
}

func (p *pdf) photo(m *Photo) {
	p.images++
	name := fmt.Sprintf("picture %d", p.images)
	opt := fpdf.ImageOptions{ImageType: "JPG"}
	p.f.RegisterImageOptionsReader(name, opt, bytes.NewReader(m.JPEG))
	p.f.ImageOptions(name, m.Box.Min[0], p.high-m.Box.Max[1], m.Box.Max[0]-m.Box.Min[0], m.Box.Max[1]-m.Box.Min[1], false, opt, 0, "")
}

// photo stands in the drawing itself.
func (s *svg) photo(m *Photo) {
	s.add("<image")
	s.attribute("x", m.Box.Min[0])
	s.attribute("y", s.high-m.Box.Max[1])
	s.attribute("width", m.Box.Max[0]-m.Box.Min[0])
	s.attribute("height", m.Box.Max[1]-m.Box.Min[1])
	s.add(` preserveAspectRatio="none" xlink:href="data:image/jpeg;base64,`)
	s.b = base64.StdEncoding.AppendEncode(s.b, m.JPEG)
	s.add("\"/>\n")
}

func (d *dump) photo(m *Photo) {
	d.say("photograph", places(m.Box.Min, m.Box.Max), fmt.Sprintf("%d bytes", len(m.JPEG)))
}

// photo: a drawing in layers has lines alone.
func (d *dxf) photo(*Photo) {}
