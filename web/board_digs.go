package web

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// DigsView is what is dug for the pipes and wires of a plan. It is only made for a
// page that shows it.
type DigsView struct {
	Says   string         `json:"says"`
	Totals []LabelledText `json:"totals"`
	// Stretches are by their ends, so that a drag sends those it changed.
	Stretches map[string]StretchView `json:"stretches"`
	// List is the trench list as the crew's paper has it, by the number of the row.
	List      map[string]TrenchRow `json:"list"`
	Short     string               `json:"short"` // what the list leaves out, in words; "" nothing
	Crossings []CrossingView       `json:"crossings"`
	Boxes     []BoxView            `json:"boxes"`
	Wire      WireView             `json:"wire"`
	Caution   string               `json:"caution"`
}

// StretchView is one straight stretch of a trench, or of what lies otherwise, as it is
// drawn.
type StretchView struct {
	Line   [2]orb.Point `json:"line"`
	Ground string       `json:"ground"` // trench.Ground
	WideFt float64      `json:"wide_ft"`
	About  []plan.Ref   `json:"about"` // what lies in it
	Main   bool         `json:"main"`  // a pipe always under pressure is among it
	Dug    bool         `json:"dug"`   // new trench; else there already, in a sleeve or in a building
}

// TrenchRow is what is dug in one go, in the words of the crew's list.
type TrenchRow struct {
	From   string       `json:"from"`
	To     string       `json:"to"`
	Way    string       `json:"way"`
	Length string       `json:"length"`
	Cover  string       `json:"cover"`
	Depth  string       `json:"depth"`
	Holds  string       `json:"holds"`
	Ground string       `json:"ground"`
	About  []plan.Ref   `json:"about"`
	Line   [2]orb.Point `json:"line"` // about its middle
}

// CrossingView is one way under paving.
type CrossingView struct {
	Ends    [2]orb.Point `json:"ends"`
	Where   string       `json:"where"`
	Length  string       `json:"length"`
	Cover   string       `json:"cover"`
	Method  string       `json:"method"`
	Holds   string       `json:"holds"`
	About   []plan.Ref   `json:"about"`
	Needs   []NeedView   `json:"needs"`
	New     bool         `json:"new"`
	Longest bool         `json:"longest"` // of those that are new
}

// NeedView is one sleeve of a crossing.
type NeedView struct {
	Says   string   `json:"says"`   // "2 in sleeve for pipe"
	Why    string   `json:"why"`    // its size
	Sleeve plan.Ref `json:"sleeve"` // the drawn one; "" none is
}

// BoxView is one box in the ground.
type BoxView struct {
	At    orb.Point  `json:"at"`
	Words string     `json:"words"`
	Holds string     `json:"holds"`
	About []plan.Ref `json:"about"`
	New   bool       `json:"new"`
}

// groundNames are the grounds as a list has them.
var groundNames = map[trench.Ground]string{
	trench.Lawn: "lawn", trench.Bed: "bed", trench.Loose: "loose ground", trench.Roots: "among roots", trench.Street: "street",
	trench.Paved: "under paving", trench.Indoors: "in a building", trench.NotToDig: "ground not to be dug", trench.Wet: "water",
	trench.Undrawn: "ground not drawn", trench.OffLot: "off the lot",
}

// groundOrder is the order of the grounds in sums.
var groundOrder = []trench.Ground{
	trench.Lawn, trench.Bed, trench.Loose, trench.Undrawn, trench.Roots, trench.Street, trench.Paved, trench.Wet, trench.NotToDig, trench.OffLot,
}

// methodNames are the ways to put a sleeve under paving.
var methodNames = map[string]string{
	"before_paving": "laid before the paving", "water_bore": "bored with water", "saw_cut": "paving cut and mended", "other_bore": "bored otherwise",
}

var boxNames = map[trench.BoxKind]string{
	trench.RoundBox: "round valve box", trench.StandardBox: "standard valve box", trench.JumboBox: "jumbo valve box", trench.SpliceBox: "splice box",
}

// digs puts what is dug into words.
func (m *maker) digs() *DigsView {
	d := m.d.Digs
	v := &DigsView{
		Stretches: make(map[string]StretchView, len(d.Segments)), Crossings: []CrossingView{}, Boxes: []BoxView{},
		Wire: m.wire(), Caution: trench.Caution,
	}
	for i := range d.Segments {
		s := &d.Segments[i]
		v.Stretches[stretchKey(s)] = m.stretch(s)
	}
	m.trenchList(v)
	longest := longestBore(d)
	for i := range d.Crossings {
		v.Crossings = append(v.Crossings, m.crossing(&d.Crossings[i], i == longest))
	}
	for i := range d.Boxes {
		v.Boxes = append(v.Boxes, m.box(&d.Boxes[i]))
	}
	v.Says, v.Totals = m.digsSays(longest), m.digsTotals()
	return v
}

// trenchList puts the crew's list into the view.
func (m *maker) trenchList(v *DigsView) {
	g := sheets.DiggingOf(m.p, m.d.Digs)
	v.List = make(map[string]TrenchRow, len(g.Stretches))
	rows := sheets.TrenchSheet(m.p, g).Rows
	for i := range g.Stretches {
		s := &g.Stretches[i]
		word := func(k int) string { return rows[i][k].String() }
		row := TrenchRow{From: word(1), To: word(2), Way: word(3), Length: word(4), Holds: word(7), Ground: word(8)}
		if word(5) != "" {
			row.Cover = m.sys.NominalInches(s.Cover)
		}
		if word(6) != "" {
			row.Depth = m.sys.NominalInches(s.Depth)
		}
		var pipes, wires []plan.ID
		for _, k := range s.Of {
			pipes, wires = append(pipes, m.d.Digs.Segments[k].Pipes...), append(wires, m.d.Digs.Segments[k].Wires...)
		}
		slices.Sort(pipes)
		slices.Sort(wires)
		row.About = m.aboutDug(slices.Compact(pipes), slices.Compact(wires))
		mid := m.d.Digs.Segments[s.Of[len(s.Of)/2]]
		row.Line = [2]orb.Point{hundredth(mid.From), hundredth(mid.To)}
		v.List[word(0)] = row
	}
	if g.Short.Pieces > 0 {
		v.Short = plan.Capital(g.Short.Says(m.sys)) + ", " + m.sys.Length(g.Short.Length) + " in the sums."
	}
}

// hundredth is a place to a hundredth of a foot: it is only drawn.
func hundredth(p orb.Point) orb.Point {
	return orb.Point{math.Round(100*p[0]) / 100, math.Round(100*p[1]) / 100}
}

// stretchKey names a stretch by its ends, to a hundredth of a foot.
func stretchKey(s *trench.Segment) string {
	return fmt.Sprintf("%.2f,%.2f,%.2f,%.2f,%s", s.From[0], s.From[1], s.To[0], s.To[1], s.Ground)
}

func (m *maker) stretch(s *trench.Segment) StretchView {
	return StretchView{
		Line: [2]orb.Point{hundredth(s.From), hundredth(s.To)}, Ground: string(s.Ground), WideFt: float64(s.Width) / 12,
		About: m.aboutDug(s.Pipes, s.Wires), Main: s.Main, Dug: s.Dug,
	}
}

// holds is what lies together: "main, pipe of zones 2 and 3, wire to 4 valves".
func (m *maker) holds(pipes, wires []plan.ID, ways []int) string {
	var words, zones []string
	main := 0
	var of []plan.ID
	for _, id := range pipes {
		switch zone := m.p.Pipes[id].Zone; {
		case zone == "":
			main++
		case !slices.Contains(of, zone):
			of = append(of, zone)
		}
	}
	if main > 0 {
		words = append(words, "main")
	}
	slices.SortFunc(of, func(a, b plan.ID) int {
		return cmp.Or(cmp.Compare(m.p.Zones[a].Station, m.p.Zones[b].Station), cmp.Compare(a, b))
	})
	for _, zone := range of {
		zones = append(zones, m.zoneMark(zone))
	}
	if len(zones) > 0 {
		words = append(words, "pipe of "+plan.Choose(len(zones), "zone ", "zones ")+plan.Series(zones))
	}
	if led := m.ledTo(ways); led != "" {
		words = append(words, "wire to "+led)
	} else if len(wires) > 0 {
		words = append(words, "wire run")
	}
	return strings.Join(words, ", ")
}

// ledTo counts what the wires lead to: "4 valves and a sensor".
func (m *maker) ledTo(ways []int) string {
	valves, sensors := 0, 0
	for _, i := range ways {
		if c, _ := m.d.Digs.Ways[i].To.Split(); c == "sensors" {
			sensors++
		} else {
			valves++
		}
	}
	var words []string
	if valves > 0 {
		words = append(words, plan.Plural(valves, "valve", "valves"))
	}
	if sensors > 0 {
		words = append(words, plan.Plural(sensors, "sensor", "sensors"))
	}
	return plan.Series(words)
}

func (m *maker) aboutDug(pipes, wires []plan.ID) []plan.Ref {
	about := make([]plan.Ref, 0, len(pipes)+len(wires))
	for _, id := range pipes {
		about = append(about, plan.RefTo("pipes", id))
	}
	for _, id := range wires {
		about = append(about, plan.RefTo("wires", id))
	}
	return about
}

func (m *maker) crossing(c *trench.Crossing, longest bool) CrossingView {
	v := CrossingView{
		Ends: [2]orb.Point{hundredth(c.From), hundredth(c.To)}, Where: plan.Capital(m.p.AreaName(c.Area)), Length: m.sys.Length(c.Length),
		Method: plan.Capital(methodNames[c.Method]), Holds: m.holds(c.Pipes, nil, c.Ways),
		About: m.aboutDug(c.Pipes, nil), Needs: []NeedView{}, New: c.New, Longest: longest,
	}
	for _, id := range c.Sleeves {
		v.About = append(v.About, plan.RefTo("sleeves", id))
	}
	if c.Cover > 0 {
		v.Cover = m.sys.NominalInches(c.Cover)
	}
	for _, n := range c.Needs {
		v.Needs = append(v.Needs, m.need(n))
	}
	return v
}

func (m *maker) need(n trench.Need) NeedView {
	says := "sleeve"
	switch n.Carries {
	case "spare":
		says = "spare sleeve"
	case "pipe", "wire":
		says = "sleeve for " + n.Carries
	}
	if n.Nominal > 0 {
		says = m.sys.PipeSize(n.Nominal) + " " + says
	}
	v := NeedView{Says: says, Why: n.Why}
	if n.Sleeve != "" {
		v.Sleeve = plan.RefTo("sleeves", n.Sleeve)
	}
	return v
}

func (m *maker) box(b *trench.Box) BoxView {
	v := BoxView{At: hundredth(b.At), Words: plan.Capital(boxNames[b.Kind]), About: []plan.Ref{}, New: b.New}
	var zones []string
	for _, id := range b.Zones {
		zones = append(zones, m.zoneMark(id))
		v.About = append(v.About, plan.RefTo("valves", id))
	}
	var words []string
	if len(zones) > 0 {
		words = append(words, plan.Choose(len(zones), "valve of zone ", "valves of zones ")+plan.Series(zones))
	}
	if b.Master {
		words = append(words, "the master valve")
	}
	if b.Drawn != "" {
		v.About = append(v.About, plan.RefTo("boxes", b.Drawn))
		words = append(words, "splices")
	}
	v.Holds = plan.Capital(plan.Series(words))
	return v
}

// longestBore is the longest new crossing; -1 without any.
func longestBore(d *trench.Digs) int {
	at := -1
	for i := range d.Crossings {
		if d.Crossings[i].New && (at < 0 || d.Crossings[i].Length > d.Crossings[at].Length) {
			at = i
		}
	}
	return at
}

// digsSays is the whole of it in a sentence.
func (m *maker) digsSays(longest int) string {
	d := m.d.Digs
	if len(d.Segments) == 0 {
		return "Nothing is to be dug yet: no pipe and no wire run is drawn."
	}
	crossings, boxes := 0, 0
	for i := range d.Crossings {
		if d.Crossings[i].New {
			crossings++
		}
	}
	for i := range d.Boxes {
		if d.Boxes[i].New {
			boxes++
		}
	}
	words := []string{m.feet(d.Totals.Trench) + " of trench"}
	if crossings > 0 {
		words = append(words, fmt.Sprintf("%s of paving, the longest %s", plan.Plural(crossings, "crossing", "crossings"), m.sys.Length(d.Crossings[longest].Length)))
	}
	if boxes > 0 {
		words = append(words, plan.Plural(boxes, "box", "boxes"))
	}
	return plan.Capital(plan.Series(words)) + "."
}

// digsTotals are the sums: trench by ground, sleeves, soil.
func (m *maker) digsTotals() []LabelledText {
	t := &m.d.Digs.Totals
	rows := []LabelledText{}
	for _, g := range groundOrder {
		if l := t.By[g]; l > 0 {
			rows = append(rows, LabelledText{"Trench, " + groundNames[g], m.feet(l)})
		}
	}
	if t.Sleeved > 0 {
		rows = append(rows, LabelledText{"Under paving", m.feet(t.Sleeved)})
	}
	if t.Spoil > 0 {
		rows = append(rows, LabelledText{"Soil dug out, about", m.soil(t.Spoil)})
	}
	return rows
}

// feet prints the length of a trench: whole feet, or metres to the tenth.
func (m *maker) feet(l units.Feet) string {
	if m.sys == units.Metric {
		return fmt.Sprintf("%.1f m", l.Metres())
	}
	return fmt.Sprintf("%.0f ft", float64(l))
}

// soil prints a volume given in cubic yards.
func (m *maker) soil(yards float64) string {
	if m.sys == units.Metric {
		const perYard = 27 * units.MetresPerFoot * units.MetresPerFoot * units.MetresPerFoot
		return fmt.Sprintf("%.1f m³", yards*perYard)
	}
	return fmt.Sprintf("%.1f cu yd", yards)
}
