package wire

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// leastSlack is the shortest loop at a splice, in inches (common practice: 24 to 36).
const leastSlack = 24

// Check holds the wiring against the rules of the trade. digs are those it was
// reckoned along.
func Check(p *plan.Plan, digs *trench.Digs, w *Wiring) []plan.Finding {
	var found []plan.Finding
	found = append(found, w.unboxed(p)...)
	found = append(found, w.short(p)...)
	return append(found, w.thin(p, digs)...)
}

// unboxed finds splices that no box holds: of a cable that parts in a trench, and of
// valves in no box.
func (w *Wiring) unboxed(p *plan.Plan) []plan.Finding {
	var found []plan.Finding
	var places []string
	var about []plan.Ref
	var first orb.Point
	joints := 0
	for _, u := range w.Unboxed {
		if !u.Fork {
			text := fmt.Sprintf("The wires of %s are spliced where no box stands.", valveOf(p, u.Serves[0]))
			f := plan.Found(plan.SpliceUnboxed, text, u.Serves...)
			f.Do = "Draw a box over it, and splice the wires there."
			found = append(found, f.Looking(u.At))
			continue
		}
		if len(places) == 0 {
			first = u.At
		}
		places, about, joints = append(places, p.Whereabouts(u.At)), append(about, u.Serves...), joints+u.Joints
	}
	if len(places) == 0 {
		return found
	}
	text := fmt.Sprintf("The cable to %s parts where no box stands, %s: %s would lie in the soil.", w.names(p, about), plan.Several(places), plan.Plural(joints, "splice", "splices"))
	return append(found, plan.Found(plan.SpliceUnboxed, text, about...).Looking(first).Measured("splices", float64(joints)))
}

// end is where the wire of a thing ends, for looking at.
func (w *Wiring) end(p *plan.Plan, digs *trench.Digs, to plan.Ref) orb.Point {
	i := slices.IndexFunc(digs.Ways, func(way trench.Way) bool { return way.To == to })
	if walk := digs.Ways[i].Segments; len(walk) > 0 {
		return exits(digs.Segments, walk, controllerAt(p))[len(walk)-1]
	}
	return controllerAt(p)
}

// short finds loops at splices too short to work on.
func (w *Wiring) short(p *plan.Plan) []plan.Finding {
	slack, _ := p.Figure(plan.WireSlack)
	if slack >= leastSlack || len(w.Lines) == 0 {
		return nil
	}
	text := fmt.Sprintf("The plan leaves %s of slack at each splice, where %s are the least.", p.Show.Inches(units.Inches(slack)), p.Show.Inches(leastSlack))
	f := plan.Found(plan.SlackShort, text, "controller").Measured("slack_in", slack)
	return []plan.Finding{f.Looking(controllerAt(p))}
}

// thin finds valves that get too few volts to open surely, the worst of them told.
func (w *Wiring) thin(p *plan.Plan, digs *trench.Digs) []plan.Finding {
	c := currentOf(p)
	var about []plan.Ref
	var worst *Run
	for i, r := range w.Runs {
		if !r.New || !r.Known || r.Volts >= c.least {
			continue
		}
		about = append(about, r.To)
		if worst == nil || r.Volts < worst.Volts {
			worst = &w.Runs[i]
		}
	}
	if worst == nil {
		return nil
	}
	text := fmt.Sprintf("%s gets %.1f V as it opens through %s of %s and a common of %s, where %s V are the least", plan.Capital(valveOf(p, worst.To)),
		worst.Volts, length(p.Show, worst.Length), GaugeName(p.Show, worst.Hot), GaugeName(p.Show, worst.Common), figure(c.least, 2))
	if n := len(about) - 1; n > 0 {
		text += fmt.Sprintf("; so %s %s", plan.Choose(n, "does", "do"), plan.Plural(n, "other valve", "other valves"))
	}
	f := plan.Found(plan.WireThin, text+".", about...).Looking(w.end(p, digs, worst.To)).
		Measured("volts", worst.Volts).Measured("run_ft", float64(worst.Length)).Measured("most_ft", float64(worst.Most))
	f.Do = w.cure(p, digs)
	return []plan.Finding{f}
}

// cure is what would be thick enough.
func (w *Wiring) cure(p *plan.Plan, digs *trench.Digs) string {
	open := *p
	open.Wiring.HotAWG, open.Wiring.CommonAWG = 0, 0
	free := Of(&open, digs)
	thickestHot := thinnest
	for _, r := range free.Runs {
		if r.New && r.Known && r.Volts < currentOf(p).least {
			return "No wire sold for valves does: put the controller nearer, or a second one near the far valves, or ask a supplier about decoders on two wires."
		}
		if r.New && r.Known {
			thickestHot = min(thickestHot, r.Hot)
		}
	}
	return fmt.Sprintf("A common of %s with wires to the valves of %s at the farthest would do: take these, or leave both sizes open.", GaugeName(p.Show, free.Common), GaugeName(p.Show, thickestHot))
}

// valveOf is a valve as a sentence names it.
func valveOf(p *plan.Plan, to plan.Ref) string {
	if to == master {
		return Named(p, to)
	}
	return "the valve of " + Named(p, to)
}
