package web

import (
	"math"
	"strconv"
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

// AxisView is one axis of a picture: where it ends, in gpm or psi, and its marks
// at round figures of the plan's units.
type AxisView struct {
	Most  float64    `json:"most"`
	Title string     `json:"title"`
	Ticks []TickView `json:"ticks"`
}

// TickView is one mark of an axis.
type TickView struct {
	At   float64 `json:"at"`
	Text string  `json:"text"`
}

// CurveView is the pressure left at the connection by flow. Pairs are gpm and psi.
type CurveView struct {
	Flow     AxisView         `json:"flow"`
	Pressure AxisView         `json:"pressure"`
	Design   float64          `json:"design"` // the design flow
	Points   [][2]float64     `json:"points"`
	Measured [][2]float64     `json:"measured"`
	Ends     string           `json:"ends"` // how far it is known
	Zones    []CurveZoneView  `json:"zones"`
	Rows     []CurvePointView `json:"rows"`
}

// CurveZoneView is what one zone asks of the supply. PSI is left out where the
// curve is not known.
type CurveZoneView struct {
	ID   plan.ID  `json:"id"`
	Mark string   `json:"mark"` // short, as it stands in the picture: its station
	Name string   `json:"name"`
	Flow float64  `json:"flow"`
	PSI  *float64 `json:"psi,omitempty"`
	Text string   `json:"text"` // "12.0 gpm at 55.9 psi", or that it is beyond
	Over bool     `json:"over"` // above the design flow or beyond the curve
}

// CurvePointView is one row of the table beside the picture.
type CurvePointView struct {
	Flow     string `json:"flow"`
	Pressure string `json:"pressure"`
	What     string `json:"what"`
}

// DeviceView is one device of the supply with what it takes at the design flow.
type DeviceView struct {
	Role   string  `json:"role"` // the member of the supply that names it
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

// What the marks mean, and what to do next.
var supplySays = map[string]string{
	"assumed":  "Nothing was measured yet, so this supply is an assumption, and every print says so. Measure the pressure at rest, and the flow together with the pressure left while it runs.",
	"rough":    "A timed container tells a flow at no pressure: one rough point of the curve. Measure the pressure left while water runs before anything is bought.",
	"measured": "",
}

func (m *maker) supply(r *pressure.Supply) *SupplyView {
	known, mark := supplyMark(r)
	v := &SupplyView{
		Known: known, Mark: mark, Says: supplySays[known], Print: sheets.SupplyNote(m.p, r),
		Design: m.sys.Flow(r.DesignGPM), Flow: float64(r.DesignGPM), SetBy: m.setBy(r),
		Reading: r.StaticSays, Limits: m.limits(r), Curve: m.curve(r),
		Backflow: m.backflow(), Freeze: freezeView(m.p.Supply.Freeze), Devices: m.devices(r.DesignGPM),
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

func (m *maker) curve(r *pressure.Supply) *CurveView {
	if len(r.Curve) < 2 {
		return nil
	}
	last := r.Curve[len(r.Curve)-1]
	v := &CurveView{
		Design: float64(r.DesignGPM), Points: pairs(r.Curve), Measured: pairs(r.Measured),
		Ends: "Known as far as " + m.sys.Flow(last.Flow) + "; nothing is said beyond.",
	}
	most, high := last.Flow, units.PSI(0)
	for _, c := range r.Curve {
		high = max(high, c.PSI)
	}
	for _, c := range r.Measured {
		flow := m.sys.Flow(c.Flow)
		if c.Flow == 0 {
			flow = "none"
		}
		v.Rows = append(v.Rows, CurvePointView{flow, m.sys.Pressure(c.PSI), measuredWord(r, c)})
	}
	if psi, ok := curveAt(r.Curve, r.DesignGPM); ok {
		v.Rows = append(v.Rows, CurvePointView{m.sys.Flow(r.DesignGPM), m.sys.Pressure(psi), "At the design flow"})
	}
	for _, z := range m.r.Zones {
		if z.FlowGPM <= 0 {
			continue
		}
		most = max(most, z.FlowGPM)
		view := CurveZoneView{ID: z.ID, Name: plan.Capital(m.p.ZoneName(z.ID)), Mark: m.zoneMark(z.ID), Flow: float64(z.FlowGPM), Over: z.FlowGPM > r.DesignGPM+1e-9}
		row := CurvePointView{Flow: m.sys.Flow(z.FlowGPM), What: view.Name}
		if psi, ok := curveAt(r.Curve, z.FlowGPM); ok {
			at := float64(psi)
			view.PSI = &at
			row.Pressure = m.sys.Pressure(psi)
			view.Text = row.Flow + " at " + row.Pressure
		} else {
			view.Over = true
			row.Pressure = "beyond what is known"
			view.Text = row.Flow + ", beyond what is known of the supply"
		}
		v.Zones, v.Rows = append(v.Zones, view), append(v.Rows, row)
	}
	v.Flow, v.Pressure = m.flowAxis(most), m.pressureAxis(high)
	v.Zones = orEmpty(v.Zones)
	return v
}

// zoneMark is a zone's mark in a picture.
func (m *maker) zoneMark(id plan.ID) string {
	if n := m.p.Zones[id].Station; n > 0 {
		return strconv.Itoa(n)
	}
	return string(id)
}

// measuredWord says what a point of the curve is.
func measuredWord(r *pressure.Supply, c pressure.CurvePoint) string {
	switch {
	case c.Flow == 0:
		return "Pressure at rest"
	case r.Assumed:
		return "Assumed"
	case c.PSI == 0:
		return "Timed container, rough"
	}
	return "Measured"
}

func pairs(list []pressure.CurvePoint) [][2]float64 {
	out := make([][2]float64, len(list))
	for i, c := range list {
		out[i] = [2]float64{float64(c.Flow), float64(c.PSI)}
	}
	return out
}

// curveAt reads a curve between its points; false beyond its ends.
func curveAt(curve []pressure.CurvePoint, q units.GPM) (units.PSI, bool) {
	for i := 1; i < len(curve); i++ {
		a, b := curve[i-1], curve[i]
		if q < a.Flow || q > b.Flow {
			continue
		}
		if b.Flow == a.Flow {
			return b.PSI, true
		}
		share := float64((q - a.Flow) / (b.Flow - a.Flow))
		return a.PSI + units.PSI(share*float64(b.PSI-a.PSI)), true
	}
	return 0, false
}

func (m *maker) flowAxis(most units.GPM) AxisView {
	one, title := 1.0, "Flow, gpm"
	if m.sys == units.Metric {
		one, title = 1/units.LitresPerGallon, "Flow, L/min"
	}
	return axis(float64(most), one, title)
}

func (m *maker) pressureAxis(most units.PSI) AxisView {
	one, title := 1.0, "Pressure left, psi"
	if m.sys == units.Metric {
		one, title = 1/units.BarPerPSI, "Pressure left, bar"
	}
	return axis(float64(most), one, title)
}

// axis runs from 0 to the round figure past most, with four to eight marks; one
// is how much of our unit one of the shown unit is.
func axis(most, one float64, title string) AxisView {
	shown := most / one
	if shown <= 0 {
		shown = 1
	}
	step := math.Pow(10, math.Floor(math.Log10(shown/4)))
	for _, k := range []float64{1, 2, 5, 10} {
		if shown/(k*step) <= 8 {
			step *= k
			break
		}
	}
	n := int(math.Ceil(shown/step - 1e-9))
	v := AxisView{Most: float64(n) * step * one, Title: title}
	for i := 0; i <= n; i++ {
		v.Ticks = append(v.Ticks, TickView{float64(i) * step * one, tickText(float64(i) * step)})
	}
	return v
}

// devices are what stands in the way of all the water, with what each takes. A
// swing joint passes one head's water only.
func (m *maker) devices(q units.GPM) []DeviceView {
	s := m.p.Supply
	views := []DeviceView{}
	for _, d := range []struct {
		role string
		id   plan.ID
	}{{"meter", s.Meter}, {"isolation", s.Isolation}, {"filter", s.Filter}, {"master_valve", s.MasterValve}, {"backflow_device", s.BackflowDevice}} {
		row, ok := m.p.Device(d.id)
		if !ok {
			continue
		}
		loss, known := row.LossAt(q)
		views = append(views, DeviceView{Role: d.role, ID: d.id, Takes: m.sys.Pressure(loss) + " at " + m.sys.Flow(q), Beyond: !known})
	}
	return views
}

// backflowKind is the kind of the plan's backflow device; "" when none is chosen.
func backflowKind(p *plan.Plan) catalog.BackflowKind {
	_, d, _ := p.BackflowDevice()
	return d.Backflow
}
