package web

import (
	"fmt"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
)

// SupplyView is the supply page: how well the supply is known, what may be drawn
// from it and why, and the picture of both.
type SupplyView struct {
	Known    string       `json:"known"`           // assumed | rough | measured
	Mark     string       `json:"mark"`            // the same as it stands on every print
	Print    string       `json:"print,omitempty"` // what every print says of it; "" where there is nothing to say
	Says     string       `json:"says"`            // what the mark means and what to do next
	Design   string       `json:"design"`
	Flow     float64      `json:"design_flow"` // the same for drawing, in gpm
	SetBy    string       `json:"set_by"`      // what decided the design flow, in words
	Static   string       `json:"static"`      // "" when none is known
	Reading  string       `json:"reading"`
	Limits   []LimitView  `json:"limits"`
	Flows    *AxisView    `json:"flows,omitempty"` // of the bars; none without a limit
	Curve    *CurveView   `json:"curve,omitempty"` // none while no curve is known
	Needs    string       `json:"needs,omitempty"` // why there is no curve
	Backflow BackflowView `json:"backflow"`
	Freeze   FreezeView   `json:"freeze"`
	Devices  []DeviceView `json:"devices"`
}

// LimitView is one limit of the flow. Flow is for drawing.
type LimitView struct {
	Code    string  `json:"code"`
	Title   string  `json:"title"`
	Flow    float64 `json:"flow"`
	Text    string  `json:"text"`
	Says    string  `json:"says"`
	Rule    string  `json:"rule"`
	Source  string  `json:"source"`
	Missing string  `json:"missing,omitempty"`
	Sets    bool    `json:"sets"`  // it decides the design flow
	Least   bool    `json:"least"` // of all that are known
}

// DeviceView is one device in the pipe with what it takes: at the design flow, a
// zone's valve at that of its zone, a swing joint at one head's.
type DeviceView struct {
	Role   string  `json:"role"` // the member of the supply that names it, or zone_valve
	ID     plan.ID `json:"id"`
	Takes  string  `json:"takes"`
	Beyond bool    `json:"beyond"` // past the last point of its curve
}

// supplyMark is how well the supply is known.
func supplyMark(s *pressure.Supply) (known, mark string) {
	switch {
	case s.Rough:
		return "rough", "Rough"
	case s.Assumed:
		return "assumed", "Assumed"
	}
	return "measured", "Measured"
}

// supplySays is what a mark means, and what to do next.
func (m *maker) supplySays(known string, r *pressure.Supply) string {
	s := m.p.Supply
	pumped := s.Kind == plan.Well || s.Kind == plan.Pond
	switch {
	case known == "rough":
		return "A timed container tells a flow at no pressure: one rough point of the curve. Measure the pressure left while water runs before anything is bought."
	case known != "assumed":
		return ""
	case s.Measured && pumped && len(s.Pump) == 0:
		return "The pump’s curve is not known, so the flow to plan on is an assumption, and every print says so. Enter the points of its curve."
	case s.Measured && r.StaticPSI > 0 && s.FlowGPM == 0:
		return fmt.Sprintf("The pressure at rest is known (%s), a flow is not: the flow to plan on is an assumption, and every print says so. Measure a flow together with the pressure left while it runs.", m.sys.Pressure(r.StaticPSI))
	case s.Measured && r.StaticPSI == 0 && s.FlowGPM > 0 && s.ResidualPSI > 0:
		return fmt.Sprintf("One flow is known (%s with %s left), the pressure at rest is not, so that nothing is read between: the flow to plan on is an assumption, and every print says so. Measure the pressure at rest.", m.sys.Flow(s.FlowGPM), m.sys.Pressure(s.ResidualPSI))
	}
	return "Nothing is marked as measured yet, so this supply is an assumption, and every print says so. Measure the pressure at rest, and the flow together with the pressure left while it runs."
}

func (m *maker) supply(r *pressure.Supply) *SupplyView {
	known, mark := supplyMark(r)
	v := &SupplyView{
		Known: known, Mark: mark, Says: m.supplySays(known, r), Print: sheets.SupplyNote(m.p, r),
		Design: m.sys.Flow(r.DesignGPM), Flow: float64(r.DesignGPM), SetBy: m.setBy(r),
		Reading: r.StaticSays, Limits: m.limits(r), Curve: m.curve(r),
		Backflow: m.backflow(), Freeze: freezeView(m.p.Supply.Freeze, backflowKind(m.p)), Devices: m.devices(r.DesignGPM),
	}
	if r.StaticPSI > 0 {
		v.Static = m.sys.Pressure(r.StaticPSI)
	}
	if most := greatest(r); most > 0 {
		a := m.flowAxis(most)
		v.Flows = &a
	}
	if v.Curve == nil {
		v.Needs = "There is no curve yet. It takes the pressure at rest, and one flow with the pressure left while it runs."
	}
	return v
}

// greatest is the greatest flow that the bars show.
func greatest(r *pressure.Supply) units.GPM {
	most := units.GPM(0)
	for _, l := range r.Limits {
		most = max(most, l.Flow)
	}
	return most
}

// setBy says what decided the design flow.
func (m *maker) setBy(r *pressure.Supply) string {
	if r.Override != "" {
		return "Chosen by you: " + strings.TrimRight(r.Override, ".") + "."
	}
	if r.Binding == "override" {
		return "Chosen by you, with no reason kept."
	}
	for _, l := range r.Limits {
		if l.Code == r.Binding {
			return "Set by “" + l.Title + "”."
		}
	}
	if r.Assumed {
		return "Assumed until you measure."
	}
	return ""
}

func (m *maker) limits(r *pressure.Supply) []LimitView {
	views := make([]LimitView, 0, len(r.Limits))
	least := leastLimit(r)
	for i, l := range r.Limits {
		v := LimitView{
			Code: l.Code, Title: l.Title, Flow: float64(l.Flow), Says: l.Says, Rule: l.Rule, Source: l.Source,
			Missing: l.Missing, Sets: l.Code == r.Binding && l.Missing == "", Least: i == least,
		}
		if l.Missing == "" {
			v.Text = m.sys.Flow(l.Flow)
		}
		views = append(views, v)
	}
	return views
}

// leastLimit is the index of the least of the limits that are known; -1 where
// none is.
func leastLimit(r *pressure.Supply) int {
	least := -1
	for i, l := range r.Limits {
		if l.Missing == "" && (least < 0 || l.Flow < r.Limits[least].Flow) {
			least = i
		}
	}
	return least
}

// devices are what stands in the water's way, with what each takes; the usual ones
// where the plan names none.
func (m *maker) devices(q units.GPM) []DeviceView {
	s := m.p.Supply
	views := []DeviceView{}
	add := func(role string, id plan.ID, q units.GPM) {
		if row, ok := m.p.Device(id); ok {
			loss, known := row.LossAt(q)
			views = append(views, DeviceView{Role: role, ID: id, Takes: m.sys.Pressure(loss) + " at " + m.sys.Flow(q), Beyond: !known})
		}
	}
	meter, _, _ := m.p.Meter()
	add("meter", meter, q)
	add("isolation", s.Isolation, q)
	add("filter", s.Filter, q)
	add("master_valve", s.MasterValve, q)
	add("backflow_device", s.BackflowDevice, q)
	most := map[plan.ID]units.GPM{} // by joint
	for _, h := range m.r.Heads {
		joint, _ := m.p.SwingJoint(m.p.Heads[h.ID].Body)
		most[joint] = max(most[joint], h.FlowGPM)
	}
	for _, id := range plan.SortedIDs(most) {
		if most[id] > 0 {
			add("swing_joint", id, most[id])
		}
	}
	clear(most) // by valve
	for _, z := range m.r.Zones {
		id, _ := m.p.ZoneValve(z.ID)
		most[id] = max(most[id], z.FlowGPM)
	}
	for _, id := range plan.SortedIDs(most) {
		add("zone_valve", id, most[id])
	}
	return views
}

// backflowKind is the kind of the plan's backflow device; "" when none is chosen.
func backflowKind(p *plan.Plan) catalog.BackflowKind {
	_, d, _ := p.BackflowDevice()
	return d.Backflow
}
