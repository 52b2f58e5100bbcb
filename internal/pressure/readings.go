package pressure

import (
	"cmp"
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// What is assumed of a supply that nobody measured (plan.Empty): common practice.
const (
	assumedFlow units.GPM = 10
	assumedPSI  units.PSI = 45
)

// readings is what the plan knows of its supply, put in order.
type readings struct {
	static     units.PSI // the lowest; 0: not known
	staticSays string
	drop       units.PSI // from static to residual when measured
	flow       units.GPM // with its residual
	residual   units.PSI
	open       units.GPM // into an open container, at no pressure
}

func readSupply(p *plan.Plan) readings {
	s := p.Supply
	r := readings{}
	r.static, r.staticSays = lowestStatic(p)
	if s.TimedGal > 0 && s.TimedS > 0 {
		r.open = units.GPM(float64(s.TimedGal) * 60 / float64(s.TimedS))
	}
	switch {
	case s.FlowGPM > 0 && s.ResidualPSI > 0:
		r.flow, r.residual = s.FlowGPM, s.ResidualPSI
	case s.FlowGPM > 0 && r.open == 0:
		r.open = s.FlowGPM // a flow without its pressure is no more than a container's
	}
	if r.flow > 0 && r.static > 0 {
		then := cmp.Or(s.StaticPSI, r.static) // the static of the day the flow was measured on
		r.drop = max(then-r.residual, 0)
	}
	return r
}

// lowestStatic is the least of the readings with nothing running: the system is
// designed on the worst hour of the year.
func lowestStatic(p *plan.Plan) (least units.PSI, says string) {
	s := p.Supply
	different := map[units.PSI]bool{}
	if s.StaticPSI > 0 {
		least, says = s.StaticPSI, s.MeasuredAt
		different[s.StaticPSI] = true
	}
	for _, id := range plan.SortedIDs(s.Statics) {
		if r := s.Statics[id]; r.PSI > 0 {
			if least == 0 || r.PSI < least {
				least, says = r.PSI, when(r)
			}
			different[r.PSI] = true
		}
	}
	if least == 0 {
		return 0, "not measured"
	}
	text := p.Show.Pressure(least)
	if says != "" {
		text += ", " + says
	}
	if len(different) > 1 {
		text += fmt.Sprintf(", the lowest of %d readings", len(different))
	}
	return least, text
}

var months = [...]string{"", "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// when says the hour and month of a reading, and where it was taken.
func when(r plan.StaticReading) string {
	text := ""
	if r.Hour != nil {
		text = clock(*r.Hour)
	}
	if r.Month > 0 && r.Month < len(months) {
		if text != "" {
			text += " "
		}
		text += "in " + months[r.Month]
	}
	if r.Where != "" {
		if text != "" {
			text += ", "
		}
		text += r.Where
	}
	return text
}

func clock(hour int) string {
	switch {
	case hour == 0:
		return "midnight"
	case hour == 12:
		return "noon"
	case hour > 12:
		return fmt.Sprintf("%d pm", hour-12)
	}
	return fmt.Sprintf("%d am", hour)
}
