package web

import (
	"math"
	"net/http"
	"strconv"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// FigureGroup is the figures of one matter, as a page edits them.
type FigureGroup struct {
	ID   string       `json:"id"`
	Name string       `json:"name"`
	Rows []FigureView `json:"rows"`
}

// FigureView is one figure that trenches, wire or parts are reckoned with.
type FigureView struct {
	ID     plan.ID `json:"id"`
	Words  string  `json:"words"`
	Unit   string  `json:"unit"`  // as plan.FigureRow has it
	Value  string  `json:"value"` // as it is now, with its unit
	Usual  string  `json:"usual"` // likewise
	In     string  `json:"in"`    // what it is typed in, in the plan's units; "" a plain number
	Most   float64 `json:"most"`  // in the row's own unit
	Source string  `json:"source"`
	Edited bool    `json:"edited"`
}

// groupNames are the groups of figures in the order they are shown.
var groupNames = []struct{ id, name string }{
	{"digging", "What digging costs"}, {"depth", "Depths and widths"}, {"sleeve", "Sleeves"}, {"wire", "Wire"}, {"parts", "Parts and allowances"},
	{"plants", "What plants need"}, {"soil", "What soil holds and takes in"},
}

// figures answers with the figures that the stored plan is reckoned with.
func (s *Site) figures(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, map[string]any{"rev": q.rev, "groups": figureGroups(q.p)})
}

func figureGroups(p *plan.Plan) []FigureGroup {
	groups := make([]FigureGroup, 0, len(groupNames))
	for _, g := range groupNames {
		group := FigureGroup{ID: g.id, Name: g.name}
		for _, row := range plan.FigureRows() {
			if row.Group == g.id {
				group.Rows = append(group.Rows, figureView(p, row))
			}
		}
		groups = append(groups, group)
	}
	return groups
}

func figureView(p *plan.Plan, row plan.FigureRow) FigureView {
	value, _ := p.Figure(row.ID)
	_, edited := p.Options.Figures[row.ID]
	times, unit := figureUnit(p.Show, row.Unit)
	text := func(v float64) string {
		s := strconv.FormatFloat(math.Round(v*times*1e4)/1e4, 'f', -1, 64)
		if unit != "" {
			s += " " + unit
		}
		return s
	}
	return FigureView{
		ID: row.ID, Words: row.Words, Unit: row.Unit, Value: text(value), Usual: text(row.Usual), In: unit, Most: row.Most,
		Source: row.Source, Edited: edited,
	}
}

// figureUnit is what a figure is multiplied by to be shown, and the unit it then has.
func figureUnit(show units.System, unit string) (times float64, in string) {
	switch {
	case unit == "share":
		return 100, "%"
	case unit == "each":
		return 1, ""
	case unit == "ft" && show == units.Metric:
		return units.MetresPerFoot, "m"
	case unit == "in" && show == units.Metric:
		return 100 * units.MetresPerFoot / 12, "cm"
	}
	return 1, unit
}
