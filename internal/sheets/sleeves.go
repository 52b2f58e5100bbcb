package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// sleeve is one sleeve of the list and the drawing.
type sleeve struct {
	number    int
	id        plan.ID // of the plan; "" one that is needed and not drawn
	crossings []int
	carries   string
	size      units.Inches
	from, to  orb.Point
	cover     units.Inches
	method    string
	edges     []trench.Edge // where it leaves the paving, by its ends
	areas     []plan.ID     // the paving at each of its edges
	isNew     bool
}

// sleevesOf are the sleeves of a plan, numbered: by crossing, those drawn and those
// still to be drawn, then drawn ones that nothing goes through.
func sleevesOf(p *plan.Plan, d *trench.Digs) []sleeve {
	var out []sleeve
	at := map[plan.ID]int{}
	past, _ := p.Figure(plan.SleevePast)
	for i := range d.Crossings {
		c := &d.Crossings[i]
		if !c.New && len(c.Sleeves) == 0 {
			continue // pipe that was always there
		}
		for _, id := range c.Sleeves {
			k, there := at[id]
			if !there {
				v := p.Sleeves[id]
				k = len(out)
				at[id] = k
				a, b := trench.SleeveEnds(v)
				out = append(out, sleeve{id: id, carries: v.Carries, size: v.NominalIn, isNew: v.Status.IsNew(), method: c.Method, from: a, to: b})
			}
			s := &out[k]
			s.crossings, s.cover = append(s.crossings, i), max(s.cover, c.Cover)
			for _, n := range c.Needs {
				if n.Sleeve == id {
					s.carries = n.Carries
					if s.size == 0 {
						s.size = n.Nominal
					}
				}
			}
			s.outermost(trench.PastEdges(p, s.from, s.to, c), c.Area)
		}
		aside := sideways * float64(len(c.Sleeves))
		for _, n := range c.Needs {
			if n.Sleeve == "" {
				out = append(out, needed(p, c, i, n, past/12, aside))
				aside += sideways
			}
		}
	}
	for _, id := range plan.SortedIDs(p.Sleeves) {
		if _, there := at[id]; !there && p.Sleeves[id].Status.Stands() {
			v := p.Sleeves[id]
			a, b := trench.SleeveEnds(v)
			out = append(out, sleeve{id: id, carries: "spare", size: v.NominalIn, isNew: v.Status.IsNew(), method: v.Method, from: a, to: b})
		}
	}
	slices.SortStableFunc(out, func(a, b sleeve) int { return firstCrossing(a) - firstCrossing(b) })
	for k := range out {
		out[k].number = k + 1
	}
	return out
}

func firstCrossing(s sleeve) int {
	if len(s.crossings) == 0 {
		return math.MaxInt32
	}
	return s.crossings[0]
}

// sideways is how far beside one another sleeves lie that nobody drew yet, in feet.
// Chosen.
const sideways = 0.5

// needed is a sleeve that a crossing takes and that nobody drew: along the crossing,
// past both edges, a little aside of the others.
func needed(p *plan.Plan, c *trench.Crossing, i int, n trench.Need, past, aside float64) sleeve {
	length := math.Hypot(c.To[0]-c.From[0], c.To[1]-c.From[1])
	ux, uy := 1.0, 0.0
	if length > 0 {
		ux, uy = (c.To[0]-c.From[0])/length, (c.To[1]-c.From[1])/length
	}
	s := sleeve{
		crossings: []int{i}, carries: n.Carries, size: n.Nominal, cover: c.Cover, method: c.Method, isNew: true,
		from: orb.Point{c.From[0] - uy*aside, c.From[1] + ux*aside}, to: orb.Point{c.To[0] - uy*aside, c.To[1] + ux*aside},
	}
	s.edges, s.areas = trench.PastEdges(p, s.from, s.to, c), []plan.ID{c.Area, c.Area}
	if s.edges == nil {
		s.edges = []trench.Edge{{At: s.from}, {At: s.to}}
	}
	s.from = orb.Point{s.edges[0].At[0] - ux*past, s.edges[0].At[1] - uy*past}
	s.to = orb.Point{s.edges[1].At[0] + ux*past, s.edges[1].At[1] + uy*past}
	for k, end := range [2]orb.Point{s.from, s.to} {
		s.edges[k].End, s.edges[k].Past = end, units.Feet(past)
	}
	return s
}

// outermost keeps the edges of a further paving where the sleeve leaves it later.
func (s *sleeve) outermost(edges []trench.Edge, area plan.ID) {
	if len(edges) < 2 {
		return
	}
	if s.edges == nil {
		s.edges, s.areas = edges, []plan.ID{area, area}
		return
	}
	for k, e := range edges {
		if e.Past < s.edges[k].Past {
			s.edges[k], s.areas[k] = e, area
		}
	}
}

// length is of the sleeve itself.
func (s *sleeve) length() units.Feet {
	return units.Feet(math.Hypot(s.to[0]-s.from[0], s.to[1]-s.from[1]))
}

// sleeveNumbers says for each crossing which sleeves are its: "sleeve 2", "sleeves 2
// and 3".
func sleeveNumbers(p *plan.Plan, d *trench.Digs) map[int]string {
	by := map[int][]string{}
	for _, s := range sleevesOf(p, d) {
		for _, c := range s.crossings {
			by[c] = append(by[c], fmt.Sprint(s.number))
		}
	}
	out := map[int]string{}
	for c, n := range by {
		out[c] = plan.Choose(len(n), "sleeve ", "sleeves ") + plan.Series(n)
	}
	return out
}

// under names the paving a sleeve lies under.
func (s *sleeve) under(p *plan.Plan, d *trench.Digs) string {
	var names []string
	for _, c := range s.crossings {
		if name := p.AreaName(d.Crossings[c].Area); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return "nothing goes through it"
	}
	return plan.Series(names)
}

// through says what goes through a sleeve.
func (s *sleeve) through(p *plan.Plan, d *trench.Digs) string {
	if s.carries == "spare" {
		return "spare"
	}
	var parts []string
	for _, c := range s.crossings {
		x := &d.Crossings[c]
		if s.carries == "wire" {
			if len(x.Ways) > 0 {
				parts = append(parts, "wire "+wiredTo(wayEnds(p, d, x.Ways)))
			} else {
				parts = append(parts, "wire")
			}
			continue
		}
		for _, id := range x.Pipes {
			what := "main"
			if z := p.Pipes[id].Zone; z != "" {
				what = "lateral of " + p.ZoneName(z)
			}
			if size := p.Pipes[id].NominalIn; size > 0 {
				what = p.Show.PipeSize(size) + " " + what
			}
			parts = append(parts, what)
		}
	}
	slices.Sort(parts)
	return strings.Join(slices.Compact(parts), "; ")
}

// methodWords says how a sleeve is got under its paving.
func methodWords(m string) string {
	switch m {
	case "before_paving":
		return "laid before the paving"
	case "water_bore":
		return "bored with water"
	case "saw_cut":
		return "in a saw cut"
	case "other_bore":
		return "bored by who does it for a living"
	}
	return "not chosen"
}

// laidBy says whose work a sleeve is.
func (s *sleeve) laidBy() string {
	switch {
	case s.id != "" && !s.isNew:
		return "there already"
	case s.method == "before_paving":
		return "whoever lays the paving"
	case s.method == "saw_cut":
		return "crew; paving mended after"
	case s.method == "other_bore":
		return "boring contractor"
	case s.method == "water_bore":
		return "crew"
	}
	return "to be settled"
}

// standing says whether a sleeve is drawn, there, or still lacks.
func (s *sleeve) standing() string {
	switch {
	case s.id == "":
		return "not drawn yet"
	case s.isNew:
		return "new"
	}
	return "existing"
}

// EndsNote stands under every list of sleeves.
const EndsNote = "Tape both ends shut, and mark where they lie before the paving or the soil covers them."

// Sleeves is the sleeve list: place, size, depth and how each is laid. Places are
// measured along the edge of the paving from one of its corners; the drawing has the
// corners' names.
func Sleeves(p *plan.Plan, d *trench.Digs) Table {
	sys := p.Show
	t := Table{Title: "Sleeves", Columns: []Column{
		{"Sleeve", 8}, {"Under", 24}, {"For", 40}, {"Size", 12}, lengths.column(sys, "Length", 10), depths.column(sys, "Cover", 10),
		{"How", 26}, {"By", 24}, {"One end", 52}, {"Other end", 52}, {"Status", 14},
	}}
	list := sleevesOf(p, d)
	corners := cornersOf(p, list)
	for k := range list {
		s := &list[k]
		size := "by its pipe, not sized yet"
		if s.size > 0 {
			size = sys.PipeSize(s.size)
		}
		t.Rows = append(t.Rows, []Cell{
			Count(s.number), Text(s.under(p, d)), Text(s.through(p, d)), Text(size), lengths.cell(sys, float64(s.length())),
			depths.cell(sys, float64(s.cover)), Text(methodWords(s.method)), Text(s.laidBy()),
			Text(corners.place(p, s, 0)), Text(corners.place(p, s, 1)), Text(s.standing()),
		})
	}
	for _, note := range []string{EndsNote, trench.Caution} {
		row := make([]Cell, len(t.Columns))
		row[0], row[2] = Text(NoteName), Text(note)
		t.Rows = append(t.Rows, row)
	}
	return t
}
