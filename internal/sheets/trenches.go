package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// depths are small lengths of digging: whole inches or centimetres.
var depths = measure{"in", "cm", 0, 0, 2.54}

// Trenches is the trench list for the crew, in the order of digging: from the point
// of connection along the main, then zone by zone, then wire by itself. What is there
// already is left out. Points have the names of the drawing, so that the list alone says
// what is joined to what.
func Trenches(p *plan.Plan, d *trench.Digs) Table {
	sys, g := p.Show, DiggingOf(p, d)
	say := hundredths(sys)
	t := Table{Title: "Trenches", Columns: []Column{
		{"Stretch", 9}, {"From", 30}, {"To", 30}, {"On the way", 36}, lengths.column(sys, "Length", 10), {"How", 24},
		depths.column(sys, "Cover", 10), depths.column(sys, "Depth", 10), depths.column(sys, "Width", 10), {"In it", 48}, {"Ground", 24},
	}}
	for i := range g.Stretches {
		s := &g.Stretches[i]
		deep, wide := Text(""), Text("")
		if s.IsDug() {
			deep, wide = depths.cell(sys, float64(s.Depth)), depths.cell(sys, float64(s.Width))
		}
		t.Rows = append(t.Rows, []Cell{
			Count(s.Number), Text(g.Called(s.Stops[0].Point)), Text(g.Called(s.Stops[len(s.Stops)-1].Point)), Text(g.onTheWay(say, s)),
			lengths.cell(sys, float64(s.Length)), Text(s.How), depths.cell(sys, float64(s.Cover)), deep, wide,
			Text(lainWords(s.Lies, inFull)), Text(groundLengths(say, s.Grounds)),
		})
	}
	line := func(of map[int]Cell) {
		row := make([]Cell, len(t.Columns))
		for i := range row {
			row[i] = of[i]
		}
		t.Rows = append(t.Rows, row)
	}
	if g.Short.Pieces > 0 {
		line(map[int]Cell{
			0: Text(ShortName), 1: Text(g.Short.Says(sys)), 4: lengths.cell(sys, float64(g.Short.Length)),
			9: Text(g.Short.lies(say, inFull)), 10: Text(groundLengths(say, g.Short.Grounds)),
		})
	}
	line(map[int]Cell{0: Text(TotalName), 4: lengths.cell(sys, float64(d.Totals.Trench)), 5: Text("trench"), 9: Text(SpoilWords(sys, d.Totals.Spoil))})
	line(map[int]Cell{0: Text(NoteName), 9: Text(trench.Caution)})
	return t
}

// TrenchSheet is the same list as a crew reads it on paper: lengths by the tape, what
// is dug and what is under paving in one column, points by their names alone. What
// stands at those whose name does not say it is said in a list of points.
func TrenchSheet(p *plan.Plan, g *Digging) Table {
	sys := p.Show
	say := sys.Length
	t := Table{Title: "Trenches", Columns: []Column{{"No.", 4}, {"From", 10}, {"To", 10}, {"On the way", 24}, {"Length", 10}, depths.column(sys, "Cover", 7), depths.column(sys, "Depth", 7), {"In it", 34}, {"Ground", 20}}}
	for i := range g.Stretches {
		s := &g.Stretches[i]
		deep, cover, ground := Text(""), depths.cell(sys, float64(s.Cover)), groundLengths(say, s.Grounds)
		switch {
		case s.IsDug():
			deep = depths.cell(sys, float64(s.Depth))
		case s.Cover == 0:
			cover = Text("")
		}
		if s.How != digIt {
			ground += " (" + s.How + ")"
		}
		t.Rows = append(t.Rows, []Cell{
			Count(s.Number), Text(g.Points[s.Stops[0].Point].Name), Text(g.Points[s.Stops[len(s.Stops)-1].Point].Name), Text(g.onTheWay(say, s)),
			Text(say(s.Length)), cover, deep, Text(lainWords(s.Lies, inShort)), Text(ground),
		})
	}
	return t
}

// ShortSheet is what of a trench list is in the sums alone, in one row: how much, what
// lies in it, and in what ground. It has no row where there is none.
func ShortSheet(p *plan.Plan, g *Digging) Table {
	t := Table{Title: "Short pieces", Columns: []Column{{"Short pieces", 40}, {"Length", 10}, {"In them", 60}, {"Ground", 30}}}
	if g.Short.Pieces > 0 {
		say := p.Show.Length
		t.Rows = append(t.Rows, []Cell{Text(g.Short.Says(p.Show)), Text(say(g.Short.Length)), Text(g.Short.lies(say, inShort)), Text(groundLengths(say, g.Short.Grounds))})
	}
	return t
}

// Says is what the short pieces are.
func (s *Short) Says(sys units.System) string {
	return plan.Plural(s.Pieces, "piece", "pieces") + " shorter than " + sys.Length(Spade) + ", where pipes of one trench part: nothing to dig by " + plan.Choose(s.Pieces, "itself", "themselves")
}

func (s *Short) lies(say func(units.Feet) string, what func(Lain) string) string {
	var lies []string
	for _, l := range s.Lies {
		lies = append(lies, what(Lain{What: l.What, Short: l.Short})+" "+say(l.Length))
	}
	return strings.Join(lies, "; ")
}

// SpoilWords is a volume of soil given in cubic yards.
func SpoilWords(sys units.System, yards float64) string {
	if sys == units.Metric {
		return fmt.Sprintf("%.1f m³ dug out", yards*cubicMetres)
	}
	return fmt.Sprintf("%.1f cubic yards dug out", yards)
}

// ShortName stands before what is in the sums alone.
const ShortName = "Short"

// TrenchPoints says where each numbered point of the trench list is.
func TrenchPoints(p *plan.Plan, d *trench.Digs) Table {
	sys := p.Show
	t := Table{Title: "Trench points", Columns: []Column{{"Point", 10}, {"Where", 48}, lengths.column(sys, "East", 10), lengths.column(sys, "North", 10)}}
	for _, v := range DiggingOf(p, d).Points {
		t.Rows = append(t.Rows, []Cell{Text(v.Name), Text(v.Where), lengths.cell(sys, v.At[0]), lengths.cell(sys, v.At[1])})
	}
	return t
}

// Called is a point with what stands there: "T4: branch, 6 ft north-west of head 2-6".
func (g *Digging) Called(point int) string {
	v := &g.Points[point]
	if v.Where == v.Name {
		return v.Name
	}
	return v.Name + ": " + v.Where
}

// onTheWay names the points that a stretch comes past, each with how far it is from
// the first.
func (g *Digging) onTheWay(say func(units.Feet) string, s *Stretch) string {
	var words []string
	for _, stop := range s.Stops[1 : len(s.Stops)-1] {
		words = append(words, g.Points[stop.Point].Name+" at "+say(stop.At))
	}
	return strings.Join(words, "; ")
}

// groundLengths names the grounds of a stretch, with how much of each where there are
// several.
func groundLengths(say func(units.Feet) string, all []GroundLength) string {
	var words []string
	for _, g := range all {
		if len(all) == 1 {
			return g.Name
		}
		words = append(words, g.Name+" "+say(g.Length))
	}
	return strings.Join(words, ", ")
}

// hundredths says a length as the columns of lists have it.
func hundredths(sys units.System) func(units.Feet) string {
	unit := " ft"
	if sys == units.Metric {
		unit = " m"
	}
	return func(l units.Feet) string { return lengths.cell(sys, float64(l)).String() + unit }
}

// cubicMetres are in a cubic yard.
const cubicMetres = 0.764554857984

// liesIn says what lies in a segment, and where among the others it is dug.
func liesIn(p *plan.Plan, d *trench.Digs, seg *trench.Segment) (lies []Lain, order int) {
	const last = 1 << 20
	order = last
	for _, id := range seg.Pipes {
		v := p.Pipes[id]
		size := ""
		if v.NominalIn > 0 {
			size = p.Show.PipeSize(v.NominalIn) + " "
		}
		what := size + "main"
		short := what
		station := 0
		if v.Zone != "" {
			what = size + "lateral of " + p.ZoneName(v.Zone)
			short, station = what, last/2
			if n := p.Zones[v.Zone].Station; n > 0 {
				short, station = fmt.Sprintf("%slateral %d", size, n), n
			}
		}
		order = min(order, station)
		if k := slices.IndexFunc(lies, func(l Lain) bool { return l.What == what }); k >= 0 {
			lies[k].Times++
			continue
		}
		lies = append(lies, Lain{what, short, 1})
	}
	slices.SortFunc(lies, func(a, b Lain) int { return cmp.Compare(a.What, b.What) })
	if len(seg.Ways) > 0 {
		stations, others := wayEnds(p, d, seg.Ways)
		lies = append(lies, Lain{"wire " + wiredTo(stations, others), "wire " + strings.Join(append(stations, others...), ", "), 1})
	} else if len(seg.Wires) > 0 {
		lies = append(lies, Lain{"wire", "wire", 1})
	}
	return lies, order
}

// lainWords lists what lies together: "1-1/4 in main; 2 × 3/4 in lateral of zone 2".
func lainWords(lies []Lain, what func(Lain) string) string {
	var words []string
	for _, l := range lies {
		if l.Times > 1 {
			words = append(words, fmt.Sprintf("%d × %s", l.Times, what(l)))
			continue
		}
		words = append(words, what(l))
	}
	return strings.Join(words, "; ")
}

// inFull and inShort are what lies somewhere in words.
func inFull(l Lain) string  { return l.What }
func inShort(l Lain) string { return l.Short }

// wayEnds are what wire leads to: numbers of stations, and other things by name.
func wayEnds(p *plan.Plan, d *trench.Digs, ways []int) (stations, others []string) {
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
	return stations, others
}

// wiredTo says what wire leads to: "to stations 1, 2 and 6", "to the rain sensor".
func wiredTo(stations, others []string) string {
	if len(stations) > 0 {
		others = append([]string{plan.Choose(len(stations), "station ", "stations ") + plan.Series(stations)}, others...)
	}
	return "to " + plan.Series(others)
}

// GroundName is a ground as lists name it.
type GroundName struct {
	Ground trench.Ground
	Name   string
}

// Grounds are the grounds in the order of sums.
func Grounds() []GroundName {
	var out []GroundName
	for _, g := range []trench.Ground{
		trench.Lawn, trench.Bed, trench.Loose, trench.Undrawn, trench.Roots, trench.Street, trench.Paved, trench.Wet, trench.NotToDig, trench.OffLot,
	} {
		out = append(out, GroundName{g, groundWords[g]})
	}
	return out
}
