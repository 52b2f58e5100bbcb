package web

import (
	"math"
	"strconv"

	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

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

// tickText prints a round figure of an axis.
func tickText(v float64) string { return strconv.FormatFloat(v, 'f', -1, 32) }
