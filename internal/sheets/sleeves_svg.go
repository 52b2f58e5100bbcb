package sheets

import (
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// picture is a drawing in the making: marks in the order they are drawn. Places are
// in the picture's own units, 96 to an inch of paper, x right and y down. There is no
// style in it but plain attributes, so that it may be shown where styles are barred.
type picture struct {
	width, height float64
	title, tells  string
	body          strings.Builder
}

// coordinate prints a place to a hundredth, so that the same drawing is the same text.
func coordinate(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func escaped(s string) string {
	var b strings.Builder
	// Writing to a strings.Builder does not fail.
	_ = xml.EscapeText(&b, []byte(strings.ToValidUTF8(s, "\uFFFD")))
	return quotes.Replace(b.String())
}

// quotes stand as they are where they cannot end an attribute.
var quotes = strings.NewReplacer("&#39;", "'", "&#34;", `"`)

// path draws rings closed or a line open.
func (c *picture) path(look string, closed bool, lines ...[]orb.Point) {
	var d strings.Builder
	for _, l := range lines {
		for i, at := range l {
			d.WriteString([]string{"L", "M"}[b2i(i == 0)] + coordinate(at[0]) + " " + coordinate(at[1]))
		}
		if closed {
			d.WriteString("Z")
		}
	}
	fmt.Fprintf(&c.body, "<path d=\"%s\" %s/>\n", d.String(), look)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (c *picture) line(look string, a, b orb.Point) { c.path(look, false, []orb.Point{a, b}) }

func (c *picture) circle(look string, at orb.Point, r float64) {
	fmt.Fprintf(&c.body, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\" %s/>\n", coordinate(at[0]), coordinate(at[1]), coordinate(r), look)
}

// text writes a line with its baseline at a place; anchor is start, middle or end.
// White is laid round the letters, so that lines do not run through them.
func (c *picture) text(at orb.Point, size float64, anchor, look, s string) {
	fmt.Fprintf(&c.body, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\" stroke=\"#fff\" stroke-width=\"3\" paint-order=\"stroke\" %s>%s</text>\n",
		coordinate(at[0]), coordinate(at[1]), coordinate(size), anchor, look, escaped(s))
}

// write writes the picture as one SVG file.
func (c *picture) write(w io.Writer) error {
	_, err := fmt.Fprintf(w, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%[1]s" height="%[2]s" viewBox="0 0 %[1]s %[2]s" role="img" aria-labelledby="t d" font-family="Helvetica, Arial, sans-serif" fill="#111">
<title id="t">%[3]s</title>
<desc id="d">%[4]s</desc>
<rect width="%[1]s" height="%[2]s" fill="#fff"/>
%[5]s</svg>
`, coordinate(c.width), coordinate(c.height), escaped(c.title), escaped(c.tells), c.body.String())
	if err != nil {
		return fmt.Errorf("sheets: writing %q: %w", c.title, err)
	}
	return nil
}
