package packs

import (
	"cmp"
	"context"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
)

// sleeveSheet is the drawing of the sleeves in the making.
type sleeveSheet struct {
	b        *builder
	p        *plan.Plan
	d        *trench.Digs
	list     []sheets.LaidSleeve
	k        float64 // how much larger letters are than on Letter
	unplaced int
}

// sleeveCell is one part of the drawing: all sleeves, or those of one crossing.
type sleeveCell struct {
	title string
	of    []int
	all   bool
}

func (b *builder) sleeveSheet() *sleeveSheet {
	return &sleeveSheet{b: b, p: b.p, d: b.in.Design.Digs, list: sheets.LaidSleeves(b.p, b.in.Design.Digs), k: 1}
}

// sleeveDrawing writes the sleeve drawing as one SVG page, for whoever lays the paving:
// all sleeves, every crossing larger with its distances from the corners of the paving,
// and the list with its cautions. A plan without sleeves gives a page that says so.
func sleeveDrawing(w io.Writer, in Input) error {
	b, err := newBuilder(context.Background(), in, Asked{Kind: Crew, Paper: Letter})
	if err != nil {
		return err
	}
	return drawing.WriteSVG(w, b.sleeveSheet().page())
}

// Measures of the page that is by itself, points.
const (
	ownWide   = 792.0
	ownEdge   = 30.0
	ownOver   = 330.0
	ownDetail = 262.0
	ownGap    = 12.0
)

// page is the whole drawing on one page as high as it takes.
func (s *sleeveSheet) page() *drawing.Page {
	wide := ownWide - 2*ownEdge
	head := func(f *flow) {
		f.lines("Sleeves under paving: "+cmp.Or(s.p.Name, "plan without a name"), titleSize, true, 0, 0)
		f.y -= 3
		f.lines("For whoever lays the paving. Measure again on the ground before anything is poured; every distance is along the edge from the corner named.", bodySize, false, 0, 0)
		f.y -= 6
	}
	foot := func(f *flow) {
		if len(s.list) == 0 {
			f.para("No pipe or wire goes under paving, and no sleeve is drawn.")
		} else {
			table := sheets.Sleeves(s.p, s.d)
			f.table(s.b.sleeveGrid(table, s.list))
			f.table(sleeveEndsGrid(table))
		}
		f.para(sheets.EndsNote)
		f.caution(trench.Caution)
		if s.b.supply != "" {
			f.caution(s.b.supply)
		}
	}
	cells := s.cells()
	headHigh, footHigh := s.b.measured(wide, head), s.b.measured(wide, foot)
	drawn := 0.0
	if len(s.list) > 0 {
		drawn = ownOver + ownGap + float64((len(cells)+2)/3)*(ownDetail+ownGap)
	}
	q := &page{}
	q.Name, q.Width, q.Height = "Sleeves of "+s.p.Name, ownWide, math.Ceil(2*ownEdge+headHigh+drawn+footHigh)
	y := q.Height - ownEdge
	head(s.b.flowIn(q, boxOf(ownEdge, 0, ownWide-ownEdge, y)))
	y -= headHigh
	if len(s.list) > 0 {
		box := boxOf(ownEdge, y-ownOver, ownWide-ownEdge, y)
		s.cell(q.add, box, sleeveCell{title: s.signs(), all: true})
		q.add(northArrow(orb.Point{box.Max[0] - 22, box.Max[1] - 40}, float64(s.p.Site.NorthDeg))...)
		y -= ownOver + ownGap
		w := (wide - 2*ownGap) / 3
		for i, c := range cells {
			x := ownEdge + float64(i%3)*(w+ownGap)
			s.cell(q.add, boxOf(x, y-ownDetail, x+w, y), c)
			if i%3 == 2 || i == len(cells)-1 {
				y -= ownDetail + ownGap
			}
		}
	}
	foot(s.b.flowIn(q, boxOf(ownEdge, 0, ownWide-ownEdge, y)))
	return &q.Page
}

// signs say what the lines mean.
func (s *sleeveSheet) signs() string {
	words := "Thick: sleeve"
	if slices.ContainsFunc(s.list, func(v sheets.LaidSleeve) bool { return v.ID != "" && !v.New }) {
		words += ", thin: there already"
	}
	if slices.ContainsFunc(s.list, func(v sheets.LaidSleeve) bool { return v.ID == "" }) {
		words += ", dashed: needed, not drawn in the plan yet"
	}
	return words + ". Dotted: trench."
}

// cells are the crossings drawn larger.
func (s *sleeveSheet) cells() []sleeveCell {
	var out []sleeveCell
	at := map[int]int{}
	for i := range s.list {
		v := &s.list[i]
		if v.Crossing < 0 || len(v.Ends) == 0 {
			continue
		}
		k, there := at[v.Crossing]
		if !there {
			k = len(out)
			at[v.Crossing] = k
			out = append(out, sleeveCell{})
		}
		out[k].of = append(out[k].of, i)
	}
	for k := range out {
		var numbers []string
		for _, i := range out[k].of {
			numbers = append(numbers, itoa(s.list[i].Number))
		}
		out[k].title = plan.Choose(len(numbers), "Sleeve ", "Sleeves ") + plan.Series(numbers) + " under " + s.list[out[k].of[0]].Under
	}
	return out
}

func boxOf(x0, y0, x1, y1 float64) orb.Bound {
	return orb.Bound{Min: orb.Point{x0, y0}, Max: orb.Point{x1, y1}}
}

// northArrow points to true north on a page whose top is the plan's own north.
func northArrow(c orb.Point, northDeg float64) []drawing.Item {
	sin, cos := math.Sincos((90 + northDeg) * math.Pi / 180)
	at := func(along, aside float64) orb.Point {
		return orb.Point{c[0] + along*cos - aside*sin, c[1] + along*sin + aside*cos}
	}
	return []drawing.Item{
		&drawing.Area{Pen: drawing.Pen{Ink: drawing.Black, Width: 0.7}, Fill: drawing.Black, Rings: [][]orb.Point{{at(14, 0), at(-10, 6), at(-6, 0), at(-10, -6)}}},
		&drawing.Text{At: orb.Point{c[0], c[1] - 24}, Size: 8, Bold: true, Anchor: drawing.Middle, S: "N"},
	}
}
