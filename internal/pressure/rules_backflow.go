package pressure

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// pushers are what can push water back through a backflow device, in words.
var pushers = map[string]string{
	"pump":          "a booster pump",
	"second_source": "a second source of water",
}

// Unfit says why the backflow device of a plan is of a kind that does not guard
// against what stands after it; "" where it does, where its kind is not known, or
// where nobody drinks the water. A breaker stops back-siphonage only, and only a
// reduced-pressure device is for water that something is put into: International
// Plumbing Code 608, from memory.
func Unfit(p *plan.Plan) string {
	_, d, known := p.BackflowDevice()
	s := p.Supply
	if !known || !s.Kind.Drunk() || !s.Status.Stands() || d.Backflow == catalog.ReducedPressure {
		return ""
	}
	name, by := catalog.NameIn(p.Show, d.Name), pushers[s.PushBack]
	pushed := by != "" && d.Backflow != catalog.DoubleCheck
	switch {
	case s.Injection && pushed:
		return fmt.Sprintf("Fertilizer or other chemicals are put into the water and %s can push it back; the backflow device (%s) is not made to keep that out of the drinking water.", by, name)
	case s.Injection:
		return fmt.Sprintf("Fertilizer or other chemicals are put into the water, and the backflow device (%s) is not made to keep them out of the drinking water.", name)
	case pushed:
		return fmt.Sprintf("The backflow device (%s) stops water that is sucked back, and %s after it can push water back.", name, by)
	}
	return ""
}

// unfit finds a device that does not guard against what stands after it, or one
// known in words only where the kind matters.
func (w *water) unfit() []plan.Finding {
	text := Unfit(w.p)
	if text != "" {
		return []plan.Finding{w.looking(plan.Found(plan.BackflowUnfit, text, "supply"))}
	}
	s := w.p.Supply
	named := s.Backflow != "" || s.BackflowAt != nil // one that is not named at all is told of by plan.NoBackflow
	if _, _, known := w.p.BackflowDevice(); known || !named || !s.Kind.Drunk() || !s.Status.Stands() || !s.Injection && s.PushBack == "" {
		return nil
	}
	what := pushers[s.PushBack] + " can push the yard's water back"
	if s.Injection {
		what = "fertilizer or other chemicals are put into the water"
	}
	f := plan.Found(plan.BackflowUnfit, fmt.Sprintf("In this plan %s, and the backflow device is not one chosen by its kind.", what), "supply").Ranked(plan.Mend)
	f.Title = "Kind of the backflow device not known"
	f.Do = "Choose a reduced-pressure device on the page Water supply. Ask your purveyor before buying; local code and a licensed tester decide."
	return []plan.Finding{w.looking(f)}
}

// taps finds water for drinking or hoses that is taken off the yard's pipes. What is
// drawn from a pond was never for drinking.
func (w *water) taps() []plan.Finding {
	s := w.p.Supply
	if !s.TapsAfter || !s.Status.Stands() || s.Kind == plan.Pond {
		return nil
	}
	f := plan.Found(plan.TapsAfterDevice, "Taps for drinking or hoses are taken off after the backflow device, where the water is no longer safe to drink.", "supply")
	switch {
	case s.Kind == plan.Reclaimed:
		f.Sentence, f.Rank = "Taps for drinking or hoses are taken off a system of reclaimed water, which nobody may drink.", plan.Stop
		f.Do = "Take them off the drinking water, away from this system; local code decides."
	case s.Injection:
		f.Sentence, f.Rank = "Taps for drinking or hoses are taken off after the backflow device, where fertilizer or other chemicals are put into the water.", plan.Stop
	}
	return []plan.Finding{w.looking(f)}
}
