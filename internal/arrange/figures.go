package arrange

import (
	"fmt"
	"math"
	"strconv"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Column is a measure by which layouts are compared, in the order shown.
type Column struct {
	ID    string
	Label string
	Most  bool // more is better
	// Short heads a narrow column.
	Short string
}

// Columns are the measures in the order shown.
func Columns() []Column {
	return []Column{
		{"heads", "Heads", false, "Heads"},
		{"evenness", "Layout uniformity, calm air, ideal nozzles", true, "Drawn"},
		{"field", "Field estimate, the mean", true, "Field"},
		{"field_low", "Field estimate, 1 in 10 comes out under", true, "1 in 10"},
		{"driest", "Driest 2 % over the mean", true, "Driest"},
		{"past", "Past the edge, of the flow", false, "Past"},
		{"hard", "Of that on paving, buildings and off the lot", false, "Hard"},
		{"flow", "Flow", false, "Flow"},
		{"settings", "Different settings", false, "Settings"},
		{"minutes", "Minutes a week at peak, about", false, "Minutes"},
	}
}

// Figure is one measure in words, with what it is sorted by.
type Figure struct {
	Text string
	Sort float64
}

// Figures are the measures by column, in the plan's units.
func (m *Measures) Figures(p *plan.Plan) []Figure {
	sys := p.Show
	percent := func(r units.Ratio) Figure { return Figure{sys.Percent(r), float64(r)} }
	small := func(r units.Ratio) Figure { return Figure{SmallShare(sys, r), float64(r)} }
	count := func(n int) Figure { return Figure{strconv.Itoa(n), float64(n)} }
	return []Figure{
		count(m.Heads), percent(m.DU), percent(m.FieldMean), percent(m.FieldP10), percent(m.Driest2),
		small(m.PastEdge), small(m.HardShare(p)),
		{sys.Flow(m.Flow), float64(m.Flow)}, count(m.Settings), {Minutes(m.Minutes), m.Minutes},
	}
}

// HardShare is the share of the flow that falls on what must stay dry: paving,
// buildings, right of way, water, and off the lot where there is a property line.
func (m *Measures) HardShare(p *plan.Plan) units.Ratio {
	sum := units.Ratio(0)
	for _, s := range m.Past {
		if s.hard(p) {
			sum += s.Share
		}
	}
	return sum
}

func (s *Past) hard(p *plan.Plan) bool {
	switch s.Kind {
	case plan.Paving, plan.Building, plan.RightOfWay, plan.Water:
		return true
	}
	return s.Surface == coverage.Band || s.Surface == coverage.Outside && len(p.Site.Lot) > 2
}

// told is the least share of the flow that is told by surface. Chosen: less is the
// rim of a few throws.
const told = 0.0005

// PastTold is the water past the edge that is told by surface, most first.
func (m *Measures) PastTold() []Past {
	var out []Past
	for _, s := range m.Past {
		if s.Share >= told {
			out = append(out, s)
		}
	}
	return out
}

// SmallShare prints a share with a decimal where a whole percent would hide it:
// 12 %, 0.4 %.
func SmallShare(sys units.System, r units.Ratio) string {
	if r < 0.0995 {
		return fmt.Sprintf("%.1f %%", 100*float64(r))
	}
	return sys.Percent(r)
}

// Minutes prints a time of minutes, which no estimate knows closer than to a whole
// one: 38 min.
func Minutes(m float64) string {
	return strconv.FormatFloat(max(math.Ceil(m-1e-9), 0), 'f', 0, 64) + " min"
}

// Says tells a head of a layout in words: its nozzle, arc and throw.
func (h *Placed) Says(p *plan.Plan) string {
	name := string(h.Nozzle)
	if n, ok := nozzleRow(p, h.Nozzle); ok {
		name = catalog.NameIn(p.Show, n.Name)
	}
	s := name + ": "
	if h.Sweep > 0 {
		s += p.Show.Angle(h.Sweep) + " "
	}
	s += "at " + p.Show.Length(h.Throw)
	if h.Turned {
		s += ", turned down"
	}
	if h.Stays {
		s += "; it stays"
	}
	return s
}

// FamilyWord is a family in words, for several heads: "stream nozzles".
func FamilyWord(f catalog.Family) string { return familyWord(f) }
