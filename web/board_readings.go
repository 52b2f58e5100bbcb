package web

import (
	"fmt"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// Ranks of the layout uniformity (distribution uniformity of the low quarter in
// calm air with ideal nozzles). Chosen: a regular layout at its stated spacing
// comes out at 0.85 and above, and stretching it to 1.4 throws at 0.58.
const (
	evenGood = 0.80
	evenFair = 0.65
)

// readings are the figures always in view. Where several areas or zones have
// one, the worst speaks: the good ones need no eye on them.
func (m *maker) readings() Readings {
	return Readings{Evenness: m.evenness(), Driest: m.driest(), Rate: m.rate(), Flow: m.flow()}
}

func (m *maker) evenness() Reading {
	a := m.r.LeastEven()
	if a == nil {
		return Reading{Label: m.nextStep()}
	}
	what := "Layout uniformity, calm air, ideal nozzles"
	if m.running != nil {
		what = "Layout uniformity at the pressures the heads really have"
	}
	label := m.ofLeastEven(what)
	return Reading{Text: m.sys.Percent(a.DU), Label: label, Rank: rankOf(a.DU)}
}

// nextStep is what is to be drawn before there is an evenness.
func (m *maker) nextStep() string {
	names := make([]string, len(m.r.Areas))
	for i, a := range m.r.Areas {
		names[i] = m.p.AreaName(a.ID)
	}
	where := plan.Several(names)
	switch {
	case len(names) == 0 && m.anyPlanting():
		return "No planting area is watered overhead"
	case len(names) == 0:
		return "Draw a planting area, then set heads on it"
	case len(m.r.Heads) > 0:
		return "No water reaches " + where + ": set heads there"
	}
	return "Set heads on " + where
}

func (m *maker) anyPlanting() bool {
	for _, a := range m.p.Areas {
		if a.Kind == plan.Planting && a.Status.Stands() {
			return true
		}
	}
	return false
}

// ofLeastEven says of a figure that it is the least even area's, where there are
// several.
func (m *maker) ofLeastEven(what string) string {
	if a := m.r.LeastEven(); a != nil && len(m.r.Areas) > 1 {
		return what + ": " + m.p.AreaName(a.ID) + ", the least even area"
	}
	return what
}

func rankOf(du units.Ratio) string {
	switch {
	case du >= evenGood:
		return good
	case du >= evenFair:
		return "fair"
	}
	return "poor"
}

// driest is the largest gap, or with none the driest place of the least even
// area.
func (m *maker) driest() Reading {
	if len(m.r.Gaps) > 0 {
		g := m.r.Gaps[0]
		largest := ""
		if n := len(m.r.Gaps); n > 1 {
			largest = fmt.Sprintf(", the largest of %d patches", n)
		}
		return Reading{
			Text: fmt.Sprintf("%s, %s: %s dry%s", m.p.AreaName(g.Area), m.p.Whereabouts(g.At), m.sys.Area(g.AreaSqFt), largest),
			Rank: "poor",
			At:   &g.At,
		}
	}
	a := m.r.LeastEven()
	if a == nil || a.Driest == nil {
		return Reading{}
	}
	return Reading{
		Text: fmt.Sprintf("%s, %s: %s of the mean", m.p.AreaName(a.ID), m.p.Whereabouts(*a.Driest), m.sys.Percent(a.Driest2)),
		At:   a.Driest,
	}
}

// rate is the mean rate, from the slowest watered area to the fastest.
func (m *maker) rate() Reading {
	slow, fast := m.r.SlowestAndFastest()
	if slow == nil {
		return Reading{}
	}
	least, most := m.sys.Rate(slow.Mean), m.sys.Rate(fast.Mean)
	if least == most {
		return Reading{Text: least, Label: "Mean precipitation rate"}
	}
	return Reading{
		Text:  least + " to " + most,
		Label: fmt.Sprintf("Mean precipitation rate, %s to %s", m.p.AreaName(slow.ID), m.p.AreaName(fast.ID)),
	}
}

// flow is the thirstiest zone against the supply. What is worked out on request
// tells none: the board's stays.
func (m *maker) flow() Reading {
	if m.d == nil {
		return Reading{}
	}
	flow, label := m.r.FlowGPM, "All heads together; none is in a zone yet"
	if z := m.r.Thirstiest(); z != nil {
		flow, label = z.FlowGPM, m.p.ZoneName(z.ID)
	}
	limit := m.d.Pressure.Supply.DesignGPM
	known := "to plan on (measured)" // which may be less than was measured
	switch {
	case m.d.Pressure.Supply.Assumed:
		known = "assumed"
	case m.d.Pressure.Supply.Binding == pressure.Override:
		known = "to plan on (chosen)"
	}
	r := Reading{Text: m.ofFlow(flow, limit) + " " + known, Label: plan.Capital(label), Rank: good}
	if limit == 0 {
		r.Text = m.sys.Flow(flow) + ", and the supply lacks the pressure wanted"
	}
	if flow > limit {
		r.Rank = "poor"
	}
	return r
}

// ofFlow is one flow out of another, the unit said once: "12.8 of 10.0 gpm".
func (m *maker) ofFlow(part, whole units.GPM) string {
	p, w := m.sys.Flow(part), m.sys.Flow(whole)
	if i := strings.LastIndexByte(p, ' '); i > 0 && strings.HasSuffix(w, p[i:]) {
		p = p[:i]
	}
	return p + " of " + w
}

// more are the rest of the figures, of the least even area and of all water.
func (m *maker) more() []LabelledText {
	list := []LabelledText{}
	if a := m.r.LeastEven(); a != nil {
		at := ", " + m.p.AreaName(a.ID)
		list = append(list,
			LabelledText{"CU" + at, m.sys.Percent(a.CU)},
			LabelledText{"Scheduling coefficient" + at, fmt.Sprintf("%.2f", a.SC)},
			LabelledText{"Driest 2 % over the mean" + at, m.sys.Percent(a.Driest2)},
			LabelledText{"Under half the mean" + at, m.sys.Percent(a.DryShare)},
			LabelledText{"Over one and a half times the mean" + at, m.sys.Percent(a.WetShare)},
			LabelledText{"Reached by two heads" + at, m.sys.Percent(a.TwoHeads)},
			LabelledText{"Layout uniformity with the edge lip" + at, m.sys.Percent(a.WithLip.DU)},
		)
	}
	if m.r.FlowGPM > 0 {
		list = append(list,
			LabelledText{"Water of all heads", m.sys.Flow(m.r.FlowGPM)},
			LabelledText{"On planting", m.sys.Flow(m.r.OnTargetGPM)},
			LabelledText{"Stopped by walls, fences and trunks", m.sys.Flow(m.r.StoppedGPM)},
		)
	}
	return append(list,
		LabelledText{"Edge lip left out", m.sys.Inches(m.r.LipFt.Inches()) + ", along walls " + m.sys.Inches(m.r.WallLipFt.Inches())},
		LabelledText{"Cell of the map", m.sys.Length(m.r.CellFt)},
	)
}

// lip says what strip along edges the figures leave out, which the map shows; ""
// when they leave none.
func (m *maker) lip() string {
	if m.r.LipFt <= 0 {
		return ""
	}
	return m.sys.Inches(m.r.LipFt.Inches()) + " lip not counted"
}
