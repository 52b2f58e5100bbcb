package web

import (
	"fmt"
	"math"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// PipeView is what passes one pipe. What the pipe is, the page knows from the plan.
type PipeView struct {
	Zone plan.ID   `json:"zone"` // "" for the main
	Runs []PipeRun `json:"runs"` // of a lateral one, of the main one for each zone that is solved, by station
}

// PipeRun is what passes a pipe while one zone runs.
type PipeRun struct {
	Zone     plan.ID `json:"zone"`
	Flow     string  `json:"flow"`
	Velocity string  `json:"velocity"`
	Loss     string  `json:"loss"`
	Pressure string  `json:"pressure"` // left at its far end
	Forward  bool    `json:"forward"`  // from the pipe's from to its to
	Rank     string  `json:"rank"`     // good | mend: too fast
	Most     bool    `json:"most"`     // the greatest flow of all its runs
	// The steps of the colours, counted from 0; see PipeKeys.
	VelocityStep int `json:"velocity_step"`
	PressureStep int `json:"pressure_step"`
}

// PipeKeys says what the steps of the colours mean, from the first on.
type PipeKeys struct {
	Velocity []string `json:"velocity"`
	Pressure []string `json:"pressure"`
}

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

// From these on a step of the colours begins. The last of the velocities is what
// pipe of plastic is kept under (common practice); the pressures are where
// sprays, streams and rotors are at home.
var (
	velocitySteps = []units.FeetPerSecond{2.5, 4, fastest}
	pressureSteps = []units.PSI{20, 30, 40, 55}
)

const fastest units.FeetPerSecond = 5

func stepOf[T ~float64](steps []T, v T) int {
	n := 0
	for n < len(steps) && v >= steps[n] {
		n++
	}
	return n
}

func (m *maker) pipeKeys() PipeKeys {
	return PipeKeys{keysOf(velocitySteps, m.sys.Velocity), keysOf(pressureSteps, m.sys.Pressure)}
}

// keysOf prints the steps, the unit said once: under 20, 20–30, 30–40, 40+ psi.
func keysOf[T any](steps []T, print func(T) string) []string {
	number := func(v T) string {
		text, _, _ := strings.Cut(print(v), " ")
		return strings.TrimSuffix(text, ".0")
	}
	list := []string{"under " + number(steps[0])}
	for i, s := range steps {
		if i+1 < len(steps) {
			list = append(list, number(s)+"–"+number(steps[i+1]))
		} else {
			_, unit, _ := strings.Cut(print(s), " ")
			list = append(list, number(s)+"+ "+unit)
		}
	}
	return list
}

// pipes tells every pipe by id.
func (m *maker) pipes() map[plan.ID]PipeView {
	views := map[plan.ID]PipeView{}
	for id, pipe := range m.d.Pipework.Pipes {
		views[id] = PipeView{Zone: pipe.Zone, Runs: []PipeRun{}}
	}
	most := map[plan.ID]units.GPM{}
	for _, z := range m.d.Pressure.Zones {
		for _, f := range z.Pipes {
			v, ok := views[f.Pipe]
			if !ok {
				continue
			}
			far := min(f.From, f.To)
			if f.Flow < 0 {
				far = f.From
			} else if f.Flow > 0 {
				far = f.To
			}
			r := PipeRun{
				Zone: z.ID, Flow: m.sys.Flow(abs(f.Flow)), Loss: m.sys.Pressure(f.Loss),
				Velocity: m.sys.Velocity(f.Velocity), Pressure: m.sys.Pressure(far), Forward: f.Flow >= 0, Rank: good,
				VelocityStep: stepOf(velocitySteps, f.Velocity), PressureStep: stepOf(pressureSteps, far),
			}
			if f.TooFast {
				r.Rank = string(plan.Mend)
			}
			if len(v.Runs) == 0 || abs(f.Flow) > most[f.Pipe] {
				for i := range v.Runs {
					v.Runs[i].Most = false
				}
				r.Most, most[f.Pipe] = true, abs(f.Flow)
			}
			v.Runs = append(v.Runs, r)
			views[f.Pipe] = v
		}
	}
	return views
}

func abs(q units.GPM) units.GPM { return units.GPM(math.Abs(float64(q))) }

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
	}
}

// budget puts the rows into words. A loss is the difference of the two pressures
// as they are printed, so that the column adds up in any units.
func (m *maker) budget(steps []pressure.Step) (list []BudgetStep, lost string) {
	list = make([]BudgetStep, 0, len(steps))
	for i, s := range steps {
		v := BudgetStep{
			Code: s.Code, Name: s.Name, Left: m.sys.Pressure(s.Left), Says: s.Says, Rule: s.Rule, Source: s.Source, Unsure: s.Unsure,
			About: orEmpty(s.About), Along: m.p.About(s.Along), AlongFt: float64(s.Along), LeftPSI: float64(s.Left),
		}
		if i > 0 {
			loss := m.asPrinted(steps[i-1].Left) - m.asPrinted(s.Left)
			v.Loss, v.Gains = m.sys.Pressure(max(loss, -loss)), m.sys.Pressure(loss) != m.sys.Pressure(0) && loss < 0
		}
		list = append(list, v)
	}
	if n := len(steps); n > 1 {
		lost = m.sys.Pressure(m.asPrinted(steps[0].Left) - m.asPrinted(steps[n-1].Left))
	}
	return list, lost
}

// asPrinted is a pressure rounded as it is printed.
func (m *maker) asPrinted(p units.PSI) units.PSI {
	if m.sys == units.Metric {
		return units.PSI(math.Round(p.Bar()*100) / 100 / units.BarPerPSI)
	}
	return units.PSI(math.Round(float64(p)*10) / 10)
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
