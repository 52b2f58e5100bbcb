package sheets

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

const (
	sheetWide       = 1056.0 // 11 in
	sheetEdge       = 36.0
	mapTop          = 84.0
	overviewHighest = 420.0
	overviewRoom    = 36.0 // about the ground, for what is written beside it
	detailHigh      = 230.0
	detailRoom      = 70.0
	letters         = 11.0 // size of what is written
	beside          = 15.0 // from an edge to its first dimension, and from one to the next
)

// How things are drawn: black and grey on white, as it goes to the concrete crew.
const (
	lookPaving  = `fill="#e9e9e6" stroke="#111" stroke-width="1.5"`
	lookHouse   = `fill="#fff" stroke="#777" stroke-width="1"`
	lookLot     = `fill="none" stroke="#777" stroke-width="1" stroke-dasharray="10 4 2 4"`
	lookTrench  = `fill="none" stroke="#777" stroke-width="1" stroke-dasharray="3 3"`
	lookSleeve  = `fill="none" stroke="#0b4f8a" stroke-width="4"`
	lookOld     = `fill="none" stroke="#0b4f8a" stroke-width="2"`
	lookLacking = `fill="none" stroke="#a3260c" stroke-width="4" stroke-dasharray="8 3"`
	lookThin    = `fill="none" stroke="#111" stroke-width="0.75"`
	lookRule    = `fill="none" stroke="#999" stroke-width="0.75"`
)

// SleeveDrawing draws the sleeves for whoever lays the paving: the paving outlined
// with each sleeve numbered, then every crossing larger with its distances from the
// corners of the paving, scales, north, caution and a table. The same plan gives the
// same bytes. A plan without sleeves gives a sheet that says so. A note, as on the
// supply, stands at its foot.
func SleeveDrawing(w io.Writer, p *plan.Plan, d *trench.Digs, note string) error {
	s := sleeveSheet{p: p, d: d, list: sleevesOf(p, d), notes: []string{EndsNote, trench.Caution}}
	if note != "" {
		s.notes = append(s.notes, note)
	}
	s.corners = cornersOf(p, s.list)
	s.pic = picture{width: sheetWide, title: "Sleeves of " + p.Name}
	s.pic.tells = fmt.Sprintf("%s under paving, drawn to scale, with a table below.", plan.Plural(len(s.list), "sleeve", "sleeves"))
	s.heading()
	bottom := mapTop + 20
	if len(s.list) == 0 {
		s.pic.text(orb.Point{sheetEdge, mapTop}, 14, "start", "", "No pipe or wire goes under paving, and no sleeve is drawn.")
	} else {
		bottom = s.details(s.overview())
	}
	s.pic.height = s.table(bottom) + sheetEdge
	return s.pic.write(w)
}

// sleeveSheet is one drawing in the making.
type sleeveSheet struct {
	p       *plan.Plan
	d       *trench.Digs
	list    []sleeve
	corners corners
	pic     picture
	views   int
	notes   []string // at the foot
}

func (s *sleeveSheet) heading() {
	s.pic.text(orb.Point{sheetEdge, 48}, 20, "start", `font-weight="bold"`, "Sleeves under paving: "+s.p.Name)
	s.pic.text(orb.Point{sheetEdge, 68}, 12, "start", "", "For whoever lays the paving. Measure again on the ground before anything is poured; every distance is along the edge from the corner named.")
}

// areas are the paving that sleeves go under.
func (s *sleeveSheet) areas() []plan.ID {
	var out []plan.ID
	for _, v := range s.list {
		for _, c := range v.crossings {
			out = append(out, s.d.Crossings[c].Area)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// overview draws all of the paving with the sleeves numbered, and gives where it ends.
func (s *sleeveSheet) overview() float64 {
	b := orb.Bound{Min: s.list[0].from, Max: s.list[0].from}
	for _, v := range s.list {
		b = b.Extend(v.from).Extend(v.to)
	}
	for _, id := range s.areas() {
		b = b.Union(s.p.Areas[id].Outline.Bound())
	}
	wide, high := max(b.Max[0]-b.Min[0], 10), max(b.Max[1]-b.Min[1], 10)
	scale := min((sheetWide-2*sheetEdge-2*overviewRoom)/wide, (overviewHighest-2*overviewRoom)/high, 30)
	box := orb.Bound{Min: orb.Point{sheetEdge, mapTop}, Max: orb.Point{sheetWide - sheetEdge, mapTop + max(high*scale+2*overviewRoom, 120)}}
	v := s.view(box, b.Center(), scale)
	v.ground()
	all := make([]int, len(s.list))
	for k := range all {
		all[k] = k
	}
	v.sleeves(all, 22)
	v.names()
	v.frame()
	s.north(orb.Point{box.Max[0] - 24, box.Min[1] + 30})
	s.legend(box.Max[1] + 46)
	v.scaleBar(orb.Point{box.Min[0] + 10, box.Max[1] + 8}, 60)
	return box.Max[1] + 58
}

// details draws the sleeves of each crossing larger, with their distances, and gives
// where the last ends.
func (s *sleeveSheet) details(top float64) float64 {
	const gap = 16.0
	wide := (sheetWide - 2*sheetEdge - 2*gap) / 3
	column := 0
	for i := range s.d.Crossings {
		var of []int
		var numbers []string
		for k, v := range s.list {
			if firstCrossing(v) == i && len(v.edges) > 0 {
				of, numbers = append(of, k), append(numbers, fmt.Sprint(v.number))
			}
		}
		if len(of) == 0 {
			continue
		}
		x := sheetEdge + float64(column)*(wide+gap)
		name := plan.Choose(len(of), "Sleeve ", "Sleeves ") + plan.Series(numbers) + " under " + s.list[of[0]].under(s.p, s.d)
		s.pic.text(orb.Point{x, top + 14}, 12, "start", `font-weight="bold"`, shortened(name, int(wide/(12*0.56))))
		s.detail(orb.Bound{Min: orb.Point{x, top + 22}, Max: orb.Point{x + wide, top + 22 + detailHigh}}, of)
		if column = (column + 1) % 3; column == 0 {
			top += detailHigh + 62
		}
	}
	if column > 0 {
		top += detailHigh + 62
	}
	return top
}

// detail draws some sleeves with the corners they are measured from.
func (s *sleeveSheet) detail(box orb.Bound, of []int) {
	b := orb.Bound{Min: s.list[of[0]].from, Max: s.list[of[0]].from}
	for _, k := range of {
		v := &s.list[k]
		b = b.Extend(v.from).Extend(v.to)
		for end := range v.edges {
			if m := s.corners.of[[2]int{v.number, end}]; m.corner >= 0 {
				b = b.Extend(s.corners.all[m.corner].at)
			}
		}
	}
	wide, high := max(b.Max[0]-b.Min[0], 1), max(b.Max[1]-b.Min[1], 1)
	scale := min((box.Max[0]-box.Min[0]-2*detailRoom)/wide, (box.Max[1]-box.Min[1]-2*detailRoom)/high, 40)
	v := s.view(box, b.Center(), scale)
	v.ground()
	v.corners(of)
	v.dimensions(of)
	v.sleeves(of, 20)
	v.frame()
	v.scaleBar(orb.Point{box.Min[0] + 4, box.Max[1] + 6}, 40)
}

// shortened is a text of at most so many letters.
func shortened(text string, most int) string {
	if r := []rune(text); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return text
}

// legend says what the lines mean.
func (s *sleeveSheet) legend(y float64) {
	words := "Blue: sleeve to lay."
	if slices.ContainsFunc(s.list, func(v sleeve) bool { return v.id != "" && !v.isNew }) {
		words += " Thin blue: there already."
	}
	if slices.ContainsFunc(s.list, func(v sleeve) bool { return v.id == "" }) {
		words += " Dashed red: needed, not drawn in the plan yet."
	}
	s.pic.text(orb.Point{sheetEdge, y}, letters, "start", "", words+" Dashed grey: trench. Dash and dot: property line.")
}

// north draws the arrow: up the sheet is the plan's own north, and true north may lie
// askew to it.
func (s *sleeveSheet) north(at orb.Point) {
	sin, cos := math.Sincos((90 + float64(s.p.Site.NorthDeg)) * math.Pi / 180)
	tip, tail := orb.Point{at[0] + 16*cos, at[1] - 16*sin}, orb.Point{at[0] - 14*cos, at[1] + 14*sin}
	s.pic.line(`fill="none" stroke="#111" stroke-width="1.5"`, tail, tip)
	s.pic.path(`fill="#111"`, true, []orb.Point{tip, {tip[0] - 9*cos - 5*sin, tip[1] + 9*sin - 5*cos}, {tip[0] - 9*cos + 5*sin, tip[1] + 9*sin + 5*cos}})
	s.pic.text(orb.Point{at[0] - 14, at[1] + 4}, 13, "middle", `font-weight="bold"`, "N")
}

// table writes the table of the sleeves with the cautions, and gives where it ends.
func (s *sleeveSheet) table(top float64) float64 {
	y := top
	columns := []struct {
		x    float64
		name string
	}{{0, "No."}, {34, "Under"}, {200, "For"}, {520, "Size"}, {610, "Length"}, {700, "Cover"}, {770, "How"}}
	put := func(x float64, look, text string) {
		s.pic.text(orb.Point{sheetEdge + x, y}, letters, "start", look, text)
	}
	if len(s.list) > 0 {
		y += 14
		for _, c := range columns {
			put(c.x, `font-weight="bold"`, c.name)
		}
		y += 5
		s.pic.line(lookThin, orb.Point{sheetEdge, y}, orb.Point{sheetWide - sheetEdge, y})
	}
	for k := range s.list {
		v := &s.list[k]
		size := "by its pipe"
		if v.size > 0 {
			size = s.p.Show.PipeSize(v.size)
		}
		cells := []string{fmt.Sprint(v.number), v.under(s.p, s.d), v.through(s.p, s.d), size, s.p.Show.Length(v.length()), s.p.Show.Depth(v.cover), methodWords(v.method)}
		if st := v.standing(); st != "new" {
			cells[6] += ", " + st
		}
		y += 15
		rows := make([][]string, len(columns))
		most := 1
		for i, c := range columns {
			room := sheetWide - 2*sheetEdge - c.x
			if i+1 < len(columns) {
				room = columns[i+1].x - c.x - 8
			}
			rows[i] = wrapped(cells[i], int(room/(letters*0.55)))
			most = max(most, len(rows[i]))
		}
		for line := range most {
			for i, c := range columns {
				if line < len(rows[i]) {
					put(c.x, "", rows[i][line])
				}
			}
			if line+1 < most {
				y += 13
			}
		}
		for end, word := range []string{"one end: ", "other end: "} {
			y += 13
			put(34, `fill="#444"`, word+s.corners.place(s.p, v, end))
		}
		y += 5
		s.pic.line(lookRule, orb.Point{sheetEdge, y}, orb.Point{sheetWide - sheetEdge, y})
	}
	y += 6
	for _, note := range s.notes {
		for _, l := range wrapped(note, 150) {
			y += 15
			s.pic.text(orb.Point{sheetEdge, y}, 12, "start", `font-weight="bold"`, l)
		}
	}
	return y
}

// wrapped breaks a text between words into lines of at most so many letters.
func wrapped(text string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) <= most:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	return append(lines, line)
}
