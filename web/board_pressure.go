package web

import (
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/pressure"
)

// PressureView is one zone running by itself.
type PressureView struct {
	Zone    plan.ID      `json:"zone"`
	Name    string       `json:"name"`
	Station int          `json:"station"`
	Solved  bool         `json:"solved"`
	Says    string       `json:"says"` // why it is not, or what it comes to
	Flow    string       `json:"flow"`
	Spread  string       `json:"spread"` // between its heads, over the nominal pressure
	Worst   plan.ID      `json:"worst,omitempty"`
	At      string       `json:"worst_name,omitempty"`
	Left    string       `json:"worst_left,omitempty"` // at that head's nozzle
	Lost    string       `json:"lost,omitempty"`       // from street to nozzle
	Need    string       `json:"need,omitempty"`       // the least of its nozzle's table
	NeedPSI float64      `json:"need_psi,omitempty"`
	Rank    string       `json:"rank"`    // good | mend
	Trouble []plan.ID    `json:"trouble"` // heads with too little or too much
	Budget  []BudgetStep `json:"budget"`  // of the worst head, from the street on
}

// BudgetStep is one row of a pressure budget.
type BudgetStep struct {
	Code    string     `json:"code"`
	Name    string     `json:"name"`
	Left    string     `json:"left"`
	Loss    string     `json:"loss"` // the difference of the two pressures as printed; "" on the first row
	Gains   bool       `json:"gains,omitempty"`
	Says    string     `json:"says"`
	Rule    string     `json:"rule"`
	Source  string     `json:"source"`
	Unsure  bool       `json:"unsure,omitempty"` // by a default to replace
	About   []plan.Ref `json:"about"`
	Along   string     `json:"along"`
	AlongFt float64    `json:"along_ft"`
	LeftPSI float64    `json:"left_psi"`
}

// pressures tells every zone that stands, by station.
func (m *maker) pressures() []PressureView {
	views := make([]PressureView, 0, len(m.d.Pressure.Zones))
	for _, z := range m.d.Pressure.Zones {
		v := PressureView{
			Zone: z.ID, Name: m.p.Zones[z.ID].Name, Station: m.p.Zones[z.ID].Station, Solved: z.Solved, Says: z.Says,
			Rank: good, Trouble: []plan.ID{}, Budget: []BudgetStep{},
		}
		if z.Solved {
			m.solved(z, &v)
		}
		views = append(views, v)
	}
	return views
}

func (m *maker) solved(z pressure.Zone, v *PressureView) {
	v.Flow, v.Spread = m.sys.Flow(z.Flow), m.sys.Percent(z.Spread)
	v.Budget, v.Lost = m.budget(z.Budget)
	for _, h := range z.Heads {
		if h.State != good {
			v.Trouble = append(v.Trouble, h.ID)
			v.Rank = string(plan.Mend)
		}
		if h.ID == z.Worst {
			v.Worst, v.At, v.Left = h.ID, plan.Capital(m.p.HeadName(h.ID)), m.sys.Pressure(h.Nozzle)
		}
	}
	if rows := m.p.Nozzles[m.p.Heads[z.Worst].Nozzle].Rows; len(rows) > 0 {
		v.Need, v.NeedPSI = m.sys.Pressure(rows[0].Pressure), float64(rows[0].Pressure)
	}
	if v.Says == "" && v.Worst != "" {
		v.Says = fmt.Sprintf("%s has the least to spare: %s at its nozzle, whose table begins at %s.", v.At, v.Left, v.Need)
		if w, ok := pressure.PlannedAt(m.p, z.Worst); ok && m.sys.Pressure(w.Nozzle) != v.Need {
			v.Says = fmt.Sprintf("%s has the least to spare: %s at its nozzle, planned for %s; its table begins at %s.", v.At, v.Left, m.sys.Pressure(w.Nozzle), v.Need)
		}
	}
}

// budget puts the rows into words. Their pressures are rounded as they are printed
// and a loss is the difference of two, so that the column adds up in any units.
func (m *maker) budget(steps []pressure.Step) (list []BudgetStep, lost string) {
	list = make([]BudgetStep, 0, len(steps))
	for i, s := range steps {
		v := BudgetStep{
			Code: s.Code, Name: s.Name, Left: m.sys.Pressure(s.Left), Says: s.Says, Rule: s.Rule, Source: s.Source, Unsure: s.Unsure,
			About: orEmpty(s.About), Along: m.p.About(s.Along), AlongFt: float64(s.Along), LeftPSI: float64(s.Left),
		}
		if i > 0 {
			v.Loss, v.Gains = m.sys.Pressure(max(s.Loss, -s.Loss)), m.sys.Pressure(s.Loss) != m.sys.Pressure(0) && s.Loss < 0
		}
		list = append(list, v)
	}
	if n := len(steps); n > 1 {
		lost = m.sys.Pressure(steps[0].Left - steps[n-1].Left)
	}
	return list, lost
}

// headRuns is what heads really get, by head.
func (m *maker) headRuns() map[plan.ID]pressure.Head {
	by := map[plan.ID]pressure.Head{}
	for _, z := range m.d.Pressure.Zones {
		if z.Solved {
			for _, h := range z.Heads {
				by[h.ID] = h
			}
		}
	}
	return by
}

// runs adds to a head what it really gets.
func (m *maker) runs(v *HeadView, h pressure.Head) {
	v.State = h.State
	v.Running = fmt.Sprintf("%s at the nozzle, %s", m.sys.Pressure(h.Nozzle), m.sys.Flow(h.Flow))
	rows := m.p.Nozzles[m.p.Heads[h.ID].Nozzle].Rows
	if len(rows) == 0 {
		return
	}
	switch least, most := m.sys.Pressure(rows[0].Pressure), m.sys.Pressure(rows[len(rows)-1].Pressure); h.State {
	case "starved":
		v.Trouble = "too little pressure: its nozzle’s table begins at " + least
	case "low":
		v.Trouble = "little pressure: its nozzle is best at " + m.sys.Pressure(m.p.Nozzles[m.p.Heads[h.ID].Nozzle].BestPSI)
	case "high":
		v.Trouble = "too much pressure: its nozzle’s table ends at " + most
	}
}

// runningSays is what the map of the running zones rests on: short, for it stands
// beside the switch. Why a zone is not worked out is told with its pressures.
func (m *maker) runningSays() string {
	solved := 0
	for _, z := range m.d.Pressure.Zones {
		if z.Solved {
			solved++
		}
	}
	if solved == 0 {
		return "No zone can be worked out yet, so it is as planned; the table Pressure says why."
	}
	says := "Real pressures, each zone running by itself."
	if n := len(m.d.Pressure.Zones) - solved; n > 0 {
		says += fmt.Sprintf(" %d not worked out: as planned.", n)
	}
	if n := len(m.running.Given.Under(m.p)); n > 0 {
		says += fmt.Sprintf(" %d %s: short throw, water in a ring.", n, plan.Choose(n, "head starves", "heads starve"))
	}
	if n := len(m.running.Given.Over(m.p)); n > 0 {
		says += fmt.Sprintf(" %d %s.", n, plan.Choose(n, "head mists", "heads mist"))
	}
	return says
}
