package drawing

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// Dump writes what a page shows as lines of text to be compared: one thing a line, in
// the order drawn, places in points of the page to a hundredth.
func Dump(w io.Writer, q *Page) error {
	if err := q.check(); err != nil {
		return err
	}
	d := &dump{}
	fmt.Fprintf(&d.b, "page %s, %s by %s\n", strconv.Quote(q.Name), round(q.Width), round(q.Height))
	walk(d, q.Items, onPaper())
	_, err := io.WriteString(w, d.b.String())
	return err
}

// dump is the canvas of a page as text.
type dump struct {
	b  strings.Builder
	in int
}

// round is a length to a hundredth.
func round(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64)
}

func (d *dump) say(what string, parts ...string) {
	d.b.WriteString(strings.Repeat("  ", d.in) + what)
	for _, p := range parts {
		if p != "" {
			d.b.WriteString(" " + p)
		}
	}
	d.b.WriteString("\n")
}

func places(points ...orb.Point) string {
	var out []string
	for _, p := range points {
		out = append(out, round(p[0])+","+round(p[1]))
	}
	return strings.Join(out, " ")
}

func (k Ink) String() string { return fmt.Sprintf("#%06x", uint32(k)&0xffffff) }

func (p Pen) String() string {
	if !p.draws() {
		return ""
	}
	s := fmt.Sprintf("pen %s %s", p.Ink, round(p.Width))
	for i, v := range p.Dash {
		s += map[bool]string{true: " dash ", false: "-"}[i == 0] + round(v)
	}
	return s
}

func (d *dump) line(p Pen, points []orb.Point) { d.say("line", p.String()+":", places(points...)) }

func (d *dump) fill(k Ink, rings [][]orb.Point, _ bool) { d.rings("fill "+k.String(), rings) }

func (d *dump) outline(p Pen, rings [][]orb.Point) { d.rings("outline "+p.String(), rings) }

func (d *dump) rings(what string, rings [][]orb.Point) {
	var out []string
	for _, r := range rings {
		out = append(out, places(r...))
	}
	d.say(what+":", strings.Join(out, " / "))
}

func (d *dump) arc(p Pen, fill Ink, centre orb.Point, r, fromDeg, sweepDeg float64) {
	filled := ""
	if fill != 0 {
		filled = "fill " + fill.String()
	}
	d.say("arc", p.String(), filled, "about", places(centre), "radius", round(r), "from", round(fromDeg), "over", round(sweepDeg))
}

func (d *dump) text(t *Text) {
	how := [3]string{"", "bold", "italic"}[t.style()]
	where := [3]string{"", "middle", "end"}[t.Anchor]
	turned, halo := "", ""
	if t.TurnDeg != 0 {
		turned = "turned " + round(t.TurnDeg)
	}
	if t.Halo {
		halo = "halo"
	}
	d.say("text", places(t.At), round(t.Size), how, where, turned, halo, t.Ink.String(), strconv.Quote(t.S))
}

func (d *dump) image(m *Image) {
	d.say("picture", places(m.Box.Min, m.Box.Max), fmt.Sprintf("%d × %d of %v: %x", m.Columns, m.Rows, m.Inks, m.Cells))
}

func (d *dump) openLayer(name string) { d.say("layer", strconv.Quote(name)); d.in++ }
func (d *dump) closeLayer()           { d.in-- }
func (d *dump) clip(box orb.Bound)    { d.say("view", places(box.Min, box.Max)); d.in++ }
func (d *dump) unclip()               { d.in-- }
