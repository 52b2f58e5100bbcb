package web

import (
	"math"
	"strings"

	"evenfall/internal/plan"
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
				Zone: z.ID, Flow: m.sys.Flow(abs(f.Flow)), Loss: m.sys.Pressure(max(f.Loss, -f.Loss)),
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
